"""Rows of the cutting tables by name, with their sources; tables keep their own units."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from holesched.notes import Cite, Standing
from holesched.standards.materials import Material
from holesched.tables import cite_of, table

CALCULATED = Cite("", standing=Standing.CALCULATED)


@dataclass(frozen=True, slots=True)
class Subgroup:
    """What is common to a sub-group; `reference_hb` is the hardness its speeds hold for, `runs_dry` whether they hold
    without a jet of coolant too."""

    key: str
    title: str
    hardness_family: str
    reference_hb: float
    kd: str
    runs_dry: bool


@dataclass(frozen=True, slots=True)
class Factor:
    """One named correction: factors on speed and feed (or one value), and its reason as printed."""

    speed: float
    feed: float
    because: str


@cache
def subgroup_data(key: str) -> Subgroup:
    """The row of a sub-group. Raises KeyError when there is none."""
    for row in table("cutting_subgroups.csv").rows:
        if row["subgroup"] == key:
            hb, dry = float(row["reference_hb"]), row["runs_dry"] == "yes"
            return Subgroup(key, row["title"], row["hardness_family"], hb, row["kd"], dry)
    raise KeyError(key)


def hardness_factor(subgroup: str, hb: float) -> float:
    """How a hardness changes its sub-group's speed: relative speed at it over that at the reference."""
    data = subgroup_data(subgroup)
    if data.hardness_family == "none":
        return 1.0
    points = curve("cutting_hardness.csv", "hb", "relative", data.hardness_family)
    return between(points, hb) / between(points, data.reference_hb)


def material_factor_kd(material: Material) -> tuple[float, Cite]:
    """The handbook's work material factor Kd, by hardness for steels."""
    kd = subgroup_data(material.subgroup).kd
    if kd == "by hardness":
        points = curve("cutting_kd_steel.csv", "hb", "kd")
        return between(points, material.middle_hb), cite_of("cutting_kd_steel.csv")
    source = table("cutting_subgroups.csv")
    return float(kd), Cite(source.provenance["kd_source"], standing=Standing.FROM_MEMORY)


@cache
def depth_factors() -> tuple[tuple[tuple[float, float], ...], tuple[tuple[float, float], ...]]:
    """(depth over diameter, factor) curves for speed and for feed of deep drilled holes."""
    rows = table("cutting_depth.csv").rows
    speed = tuple((float(row["ratio"]), float(row["speed"])) for row in rows)
    return speed, tuple((float(row["ratio"]), float(row["feed"])) for row in rows)


@cache
def factor(name: str) -> Factor:
    """A named correction of speed and feed."""
    row = rows_by("cutting_factors.csv", "factor")[name]
    return Factor(float(row["speed"]), float(row["feed"]), row["because"])


@cache
def tap_load(name: str) -> tuple[float, str]:
    """A named value of the tap load model and its reason."""
    row = rows_by("cutting_tap_load.csv", "name")[name]
    return float(row["value"]), row["because"]


@dataclass(frozen=True, slots=True)
class Surface:
    """What a tap's treatment makes of it: the column of the tapping speeds, whether to start "low" or "high" in its range
    ("" as that table says), the factor on its holes, and why."""

    runs_as: str
    start: str
    life: float
    because: str


@cache
def tap_surface(treatment: str, subgroup: str) -> Surface:
    """How a treatment does in a sub-group, of a tap of high-speed steel that cuts; one without a row as an uncoated tap."""
    for row in table("cutting_tap_treatments.csv").rows:
        named, where = row["treatment"].split("|"), row["subgroups"].split("|")
        if (treatment in named or named == [""]) and (subgroup in where or where == [""]):
            return Surface(row["runs_as"], row["start"], float(row["life"]), row["because"])
    raise KeyError(treatment)


@cache
def life_factor(name: str) -> Factor:
    """A named correction of holes per tap, in `speed`."""
    row = rows_by("cutting_life_factors.csv", "factor")[name]
    return Factor(float(row["life"]), 1.0, row["because"])


@cache
def life_holes(subgroup: str, column: str) -> tuple[float, float] | None:
    """Holes per tool, low and high: column "tap", "forming", "hss" or "carbide"; minutes of a milling "edge". None where the
    tool is not used."""
    row = rows_by("cutting_tool_life.csv", "subgroup")[subgroup]
    low, high = row[f"{column}_low"], row[f"{column}_high"]
    return (float(low), float(high)) if low and high else None


def between(points: tuple[tuple[float, float], ...], x: float) -> float:
    """The value at x on straight lines between points (rising x), held at both ends."""
    if x <= points[0][0]:
        return points[0][1]
    for (x0, y0), (x1, y1) in pairwise(points):
        if x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return points[-1][1]


@cache
def curve(name: str, x: str, y: str, family: str = "") -> tuple[tuple[float, float], ...]:
    """Two columns of a table as rising points, of one family or of all rows."""
    return tuple((float(row[x]), float(row[y])) for row in table(name).rows if not family or row["family"] == family)


def figure(value: float) -> str:
    """A number as a sentence needs it: two digits below 10, whole above."""
    return f"{value:.2g}" if value < 9.95 else f"{value:.0f}"


@cache
def rows_by(name: str, column: str) -> Mapping[str, Mapping[str, str]]:
    """A table's rows by one of its columns."""
    return {row[column]: row for row in table(name).rows}
