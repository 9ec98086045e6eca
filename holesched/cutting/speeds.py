"""Which cutting speed and feed a table gives for a tool in a sub-group, with the row's own source."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from holesched.cutting.lookup import between, rows_by, tap_surface
from holesched.notes import Cite, Standing
from holesched.tables import cite_of, table
from holesched.tooling.model import StepKind, Tool
from holesched.units import MM_PER_INCH

HARD_COATINGS = ("TiN", "TiCN", "TiAlN", "CrN")
POWDER_METAL = ("PM-HSS", "HSS-E-PM", "HSS-PM")

# Where a table has no row for the tool: the columns to fall back to, and the share of their low speed to start with.
_STAND_INS: Mapping[str, tuple[tuple[str, float], ...]] = {
    "HSS": (("HSS-Co", 0.7), ("carbide", 0.25)),
    "HSS-Co": (("carbide", 0.3),),
    "carbide": (("HSS-Co", 1.0), ("HSS", 1.0), ("coated", 1.0), ("plain", 1.0), ("thread mill", 0.15)),
    "plain": (("coated", 0.7), ("carbide", 0.3), ("thread mill", 0.1)),
    "coated": (("plain", 1.0), ("carbide", 0.4), ("thread mill", 0.1)),
    "forming": (("plain", 1.0), ("coated", 0.7), ("carbide", 0.3), ("thread mill", 0.1)),
}


@dataclass(frozen=True, slots=True)
class Speeds:
    """Cutting speed of one tool in one sub-group, m/min; `stand_in` tells whose figures were taken where it has none."""

    low: float
    start: float
    high: float
    tool: str
    cite: Cite
    stand_in: str = ""


@dataclass(frozen=True, slots=True)
class OperationData:
    """An operation beside the drill's: factors on the drill's speed, its feed, dwell, way out and holes per tool."""

    operation: str
    speed: tuple[float, float, float]
    feed: str
    dwell_s: float
    way_out: str
    life: float
    cite: Cite


def drill_column(tool: Tool) -> str:
    """Which column of the drilling speeds a tool belongs to: "HSS", "HSS-Co" (also coated HSS, and HSS-E) or "carbide"."""
    if tool.material == "carbide":
        return "carbide"
    return "HSS" if tool.material == "HSS" and tool.treatment not in HARD_COATINGS else "HSS-Co"


def tap_column(tool: Tool, subgroup: str) -> str:
    """Which column of the tapping speeds a tap belongs to: "forming", "carbide", "coated" or "plain"."""
    if tool.flute_form == "forming":
        return "forming"
    if tool.material == "carbide":
        return "carbide"
    return tap_surface(tool.treatment, subgroup).runs_as


def drill_speeds(tool: Tool, subgroup: str) -> Speeds:
    """Drilling speed; operations beside drilling are parts of it. Raises KeyError for a sub-group without any row."""
    return _speeds("cutting_drill_speeds.csv", drill_column(tool), subgroup)


def tap_speeds(tool: Tool, subgroup: str) -> Speeds:
    """Tapping speed; where in its range to start depends on how far the tap is from the column's own (see the table)."""
    column = tap_column(tool, subgroup)
    start = tap_surface(tool.treatment, subgroup).start if column in ("coated", "plain") else ""
    return _tap_speeds(column, start, tool.material, subgroup)


@cache
def _tap_speeds(column: str, wanted: str, material: str, subgroup: str) -> Speeds:
    found = _speeds("cutting_tap_speeds.csv", column, subgroup)
    if found.stand_in:
        return found
    if wanted:
        start = found.low if wanted == "low" else found.high
    elif found.tool == "plain":
        start = found.low if material == "HSS" else found.high if material in POWDER_METAL else found.start
    elif found.tool == "coated" and material not in POWDER_METAL:
        start = found.low
    else:
        start = found.start
    return Speeds(found.low, start, found.high, found.tool, found.cite)


@cache
def operation_speeds(kind: StepKind, column: str, subgroup: str) -> Speeds:
    """Speed of an operation as its share of drilling with a tool of that column. Raises KeyError as `drill_speeds` does."""
    base, (low, start, high) = _speeds("cutting_drill_speeds.csv", column, subgroup), operation(kind, column).speed
    return Speeds(base.low * low, base.start * start, base.high * high, base.tool, base.cite, base.stand_in)


def thread_mill_speeds(subgroup: str) -> Speeds | None:
    """Cutting speed of a carbide thread mill; None where it is not used."""
    return _speed_rows("cutting_tap_speeds.csv").get((subgroup, "thread mill"))


@cache
def _speeds(name: str, column: str, subgroup: str) -> Speeds:
    rows = _speed_rows(name)
    row = rows.get((subgroup, column))
    if row is not None:
        return row
    if column == "HSS-Co" and (subgroup, "HSS") in rows:
        return rows[subgroup, "HSS"]
    for other, share in _STAND_INS[column]:
        row = rows.get((subgroup, other))
        if row is not None:
            low = row.low * share
            return Speeds(low * 0.8, low, low, other, row.cite, f"{other} at {share * 100:.0f} % of its low speed")
    raise KeyError(subgroup)


@cache
def _speed_rows(name: str) -> Mapping[tuple[str, str], Speeds]:
    source = table(name)
    rows = {}
    for row in source.rows:
        low, high = float(row["low"]), float(row["high"])
        cite = Cite(row["source"], standing=Standing(row["standing"]))
        rows[row["subgroup"], row["tool"]] = Speeds(low, (low + high) / 2, high, row["tool"], cite)
    return rows


@cache
def operation(kind: StepKind, column: str) -> OperationData:
    """How an operation differs from drilling with a tool of that column."""
    source = table("cutting_operations.csv")
    row = next(r for r in source.rows if r["operation"] == kind.value and r["tool"] in ("any", column))
    factors = (float(row["speed_low"]), float(row["speed_start"]), float(row["speed_high"]))
    cite = source.cite(f"operations, {kind.value}")
    return OperationData(kind.value, factors, row["feed"], float(row["dwell_s"]), row["out"], float(row["life"]), cite)


def hss_feed_mm_per_rev(diameter_mm: float) -> float:
    """Feed of an HSS drill before the sub-group's factor, mm/rev: on the printed bands, below 1/8 in in proportion."""
    inches = diameter_mm / MM_PER_INCH
    curve = _feed_curve()
    feed = curve[1][1] * inches / curve[1][0] if inches < curve[1][0] else between(curve, inches)
    return feed * MM_PER_INCH


def least_feed_mm_per_rev(diameter_mm: float) -> float:
    """What an HSS drill is fed at least in a material that hardens where it is rubbed, mm/rev: the printed low end."""
    inches = diameter_mm / MM_PER_INCH
    rows = table("cutting_drill_feeds.csv").rows
    if inches < float(rows[0]["to_in"]):
        return hss_feed_mm_per_rev(diameter_mm) * float(rows[0]["least"]) / float(rows[0]["feed_high"])
    return next(float(row["least"]) for row in reversed(rows) if inches >= float(row["from_in"])) * MM_PER_INCH


def drill_feed_mm_per_rev(
    diameter_mm: float, column: str, subgroup: str, *, hardens: bool = False
) -> tuple[float, str, tuple[Cite, ...]]:
    """Feed of a drill, mm/rev, how it was found, and where it comes from. `hardens`: the material hardens where it is
    rubbed, and a drill of high-speed steel is not fed under the low end of the printed band."""
    factors = table("cutting_feed_factors.csv")
    if column == "carbide":
        row = rows_by("cutting_feed_factors.csv", "subgroup")[subgroup]
        share, cap = float(row["carbide"]), float(row["cap"])
        feed = min(diameter_mm * share, cap)
        how = f"carbide drill of {diameter_mm:.4g} mm in {subgroup}: {share:g} of the diameter"
        return feed, how + (f", at most {cap:g} mm/rev" if feed == cap else ""), (factors.cite(),)
    base, factor = hss_feed_mm_per_rev(diameter_mm), hss_feed_factor(subgroup)
    how = f"{column} drill of {diameter_mm:.4g} mm: {base:.3f} mm/rev"
    cite = cite_of("cutting_drill_feeds.csv")
    if factor == 1:
        return base, how, (cite,)
    how += f", x{factor:g} in {subgroup}"
    least = least_feed_mm_per_rev(diameter_mm)
    if hardens and base * factor < least:
        return least, f"{how}, but no less than {least:.3f} mm/rev: a thinner chip rubs and hardens the wall", (cite,)
    return base * factor, how, (cite, factors.cite())


@cache
def hss_feed_factor(subgroup: str) -> float:
    """The sub-group's factor on feed, 1 for plain steel."""
    return float(rows_by("cutting_feed_factors.csv", "subgroup")[subgroup]["hss"])


@cache
def feed_points(text: str) -> tuple[tuple[float, float], ...]:
    """A feed cell such as "6:0.08|20:0.15" as (diameter mm, feed mm/rev) points."""
    pairs = [point.split(":") for point in text.split("|")]
    return tuple((float(diameter), float(feed)) for diameter, feed in pairs)


@cache
def _feed_curve() -> tuple[tuple[float, float], ...]:
    rows = table("cutting_drill_feeds.csv").rows
    first = (float(rows[0]["from_in"]), float(rows[0]["feed_low"]))
    return (first, *((float(row["to_in"]), float(row["feed_high"])) for row in rows))
