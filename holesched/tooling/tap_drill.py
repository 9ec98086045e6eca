"""The drill before the tap: of all sizes of the trade those whose hole stays inside the limits, then the best of them.

A hole is as large as its drill and the drill's own oversize, which hangs on the drill's material and not on the thread. A
drill is legal when neither the drill itself is under the smallest nor the expected hole over the largest minor diameter; it
is safe when even the worst hole it usually cuts stays inside.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache

from holesched.notes import Cite, Note, Reason, Rejected, Severity, Standing
from holesched.shop.model import Shop
from holesched.standards import drill_sizes, thread_percent, thread_window
from holesched.standards.drill_sizes import Oversize
from holesched.standards.sizes import Limits, Size
from holesched.standards.threads.base import ThreadGeometry
from holesched.standards.threads.npt import DRYSEAL
from holesched.tables import table
from holesched.tooling.model import TapDrillFit

STANDARD_TABLE = "standard table"
LARGEST = "largest inside the limits"
LARGEST_ODD = "largest of all sizes inside the limits"
"""Odd: a size between those usually kept, of metric drills or, for an inch thread, metric ones beside inch ones."""
FORMED = "formed"
"""For a forming tap the hole is held closer, and an odd size is no luxury."""
SMALLEST = "smallest inside the limits"
METRIC_FIRST = (("metric",), ("metric-intermediate",), ("inch",))
INCH_FIRST = (("inch",), ("metric",), ("metric-intermediate",))
SHOWN_BEYOND_MM = 0.1
"""How far outside the window a drill may lie and still be listed among the rejected."""


_ANY_SHOP = Shop()


@dataclass(frozen=True, slots=True)
class _Candidate:
    """One drill with what it makes: its series' place in the order of preference, oversize, and what speaks against it."""

    size: Size
    place: int
    over: Oversize
    window: tuple[float, float]
    second_choice: bool
    in_crib: bool

    @property
    def hole_mm(self) -> float:
        return self.size.mm + self.over.expected_mm

    @property
    def worst_mm(self) -> float:
        return self.size.mm + self.over.worst_mm

    @property
    def legal(self) -> bool:
        return self.size.mm >= self.window[0] - 1e-9 and self.hole_mm <= self.window[1] + 1e-9

    @property
    def safe(self) -> bool:
        return self.legal and self.worst_mm <= self.window[1] + 1e-9


def preferred_series(geometry: ThreadGeometry) -> tuple[tuple[str, ...], ...]:
    """Drill series in the order they are tried: metric sizes first for metric and ISO pipe threads, else inch sizes."""
    metric = geometry.spec.tpi is None or geometry.spec.series in ("G", "Rp", "Rc")
    return METRIC_FIRST if metric else INCH_FIRST


def hole_window(geometry: ThreadGeometry, forming: bool = False) -> tuple[float, float]:
    """Smallest and largest hole before the tap, in mm: the minor-diameter limits, or what a forming tap needs."""
    if forming:
        window = thread_window.forming_window(geometry)
        return window.low_mm, window.high_mm
    return geometry.minor.min_mm, geometry.minor.max_mm or geometry.basic_major_mm


def percent_of_thread(geometry: ThreadGeometry, hole_mm: float, forming: bool = False) -> float:
    """Percentage of thread a hole leaves, 60 degree threads by the handbook's formula, others of the basic thread height."""
    if forming:
        return thread_percent.forming_percent(geometry.basic_major_mm, hole_mm, geometry.spec.pitch_mm)
    if geometry.profile in ("60deg", "J"):
        return thread_percent.cut_percent(geometry.basic_major_mm, hole_mm, geometry.spec.pitch_mm)
    return 100 * (geometry.basic_major_mm - hole_mm) / (geometry.basic_major_mm - geometry.basic_minor_mm)


def fit_of(
    geometry: ThreadGeometry, size: Size, drill_material: str, forming: bool = False, shop: Shop = _ANY_SHOP
) -> TapDrillFit:
    """How a drill sits in the window."""
    return sized_fit(geometry, size.mm + shop.oversize(size.mm, drill_material).expected_mm, forming)


def sized_fit(geometry: ThreadGeometry, hole_mm: float, forming: bool = False) -> TapDrillFit:
    """How a hole that is milled, bored or reamed to a size sits in the window: as large as it is set."""
    low, high = hole_window(geometry, forming)
    ends = (percent_of_thread(geometry, low, forming), percent_of_thread(geometry, high, forming))
    return TapDrillFit(hole_mm, (low, high), percent_of_thread(geometry, hole_mm, forming), ends)


def middle_of(geometry: ThreadGeometry, forming: bool = False) -> Size:
    """The size that a hole is set to where no drill decides on it: the middle of its limits, to 0.01 mm."""
    middle_mm = round(sum(hole_window(geometry, forming)) / 2, 2)
    return Size(middle_mm, f"{middle_mm:g}")


@cache
def _charts() -> dict[str, tuple[Size, Cite]]:
    found: dict[str, tuple[Size, Cite]] = {}
    for row in table("thread_pipe_drills.csv").rows:
        size = drill_sizes.by_label(row["drill"]) or Size(float(row["diameter_mm"]), row["drill"])
        if row["method"] == "straight":
            found[f"{row['thread']} {row['size']}"] = (size, Cite(row["source"], standing=Standing(row["standing"])))
    for row in table("tap_drills.csv").rows:
        size_of_row = drill_sizes.by_label(row["drill"])
        if size_of_row is not None:
            found[row["thread"]] = (size_of_row, Cite(row["source"], standing=Standing(row["standing"])))
    return found


def chart_drill(geometry: ThreadGeometry) -> tuple[Size, Cite] | None:
    """The drill of the trade's charts for this thread, with its source; None when no chart here lists it."""
    spec = geometry.spec
    names = [spec.name, f"{spec.series} {spec.nominal.label}"]
    if spec.tpi is not None and spec.series.startswith("UN") and "J" not in spec.series:
        names.append(f"{spec.nominal.label}-{spec.tpi:g}")
    if spec.series in DRYSEAL:
        names.append(f"NPT {spec.nominal.label}")
    return next((_charts()[name] for name in names if name in _charts()), None)


def choose_tap_drill(
    geometry: ThreadGeometry,
    drill_material: str,
    preferred: Sequence[Sequence[str]] | None = None,
    shop: Shop = _ANY_SHOP,
    *,
    aim: str = STANDARD_TABLE,
    forming: bool = False,
) -> tuple[Size, TapDrillFit, Reason] | Note:
    """The drill for a thread, how it sits in the limits and why, or the question to ask when no drill is legal.

    `preferred` names drill series in order of preference, `shop` has its crib (empty: anything may be bought) and
    says how far its drills cut over their size, `aim` is the rules' verdict on where in the window the hole should lie.
    """
    series = tuple(map(tuple, preferred)) if preferred is not None else preferred_series(geometry)
    return _chosen(geometry, drill_material, series, shop, aim, forming)


@lru_cache(maxsize=1024)
def _chosen(
    geometry: ThreadGeometry,
    drill_material: str,
    preferred: tuple[tuple[str, ...], ...],
    shop: Shop,
    aim: str,
    forming: bool,
) -> tuple[Size, TapDrillFit, Reason] | Note:
    """The same for every hole with this thread, however deep."""
    if geometry.taper:
        return _by_chart_only(geometry, drill_material, shop)
    candidates = _candidates(geometry, drill_material, preferred, shop, forming)
    legal = [candidate for candidate in candidates if candidate.legal]
    if not legal:
        return _nothing_legal(geometry, drill_material, candidates, forming)
    chart = None if forming else chart_drill(geometry)
    aim = STANDARD_TABLE if forming else aim
    target_mm = _target_mm(geometry, chart, forming)
    legal.sort(key=lambda candidate: _order(candidate, target_mm, FORMED if forming else aim))
    best = legal[0]
    largest = min(legal, key=lambda candidate: _order(candidate, target_mm, LARGEST_ODD))
    fit = replace(fit_of(geometry, best.size, drill_material, forming, shop), largest=(largest.size, largest.hole_mm))
    rejected = tuple(
        _against(candidate, best, drill_material, target_mm, aim, shop) for candidate in candidates if candidate is not best
    )
    cites = thread_window.forming_window(geometry).cites if forming else geometry.cites
    on_chart = chart is not None and chart[0].mm == best.size.mm
    if chart is not None and on_chart:
        cites = (*cites, chart[1])
    because = f"{_hole(best)} inside {fit.window_mm[0]:.3f} to {fit.window_mm[1]:.3f} mm: {fit.percent:.0f} % of thread"
    because = f"{because}; {_why(best, legal, aim, on_chart)}"
    rule = "TAP-DRILL-FORMING" if forming else "TAP-DRILL-WINDOW"
    reason = Reason(f"tap drill: {best.size.named}", because, rule, (*cites, best.over.cite), rejected)
    return best.size, fit, reason


def check_tap_drill(
    geometry: ThreadGeometry, size: Size, drill_material: str, forming: bool = False, shop: Shop = _ANY_SHOP
) -> tuple[TapDrillFit, Reason, Note | None]:
    """A drill that the callout states: how it sits, that it was stated, and the question when its hole lies outside."""
    fit = fit_of(geometry, size, drill_material, forming, shop)
    other = choose_tap_drill(geometry, drill_material, shop=shop, forming=forming)
    fit = fit if isinstance(other, Note) else replace(fit, largest=other[1].largest)
    low, high = fit.window_mm
    over = shop.oversize(size.mm, drill_material)
    reason = Reason(
        f"tap drill: {size.named}", "the callout states its drill", "TAP-DRILL-STATED", (*geometry.cites, over.cite)
    )
    if geometry.taper or (size.mm >= low - 1e-9 and fit.hole_mm <= high + 1e-9):
        return fit, reason, None
    what = "under the smallest" if size.mm < low else "over the largest"
    suggestion = f"Drill {other[0].named} for {geometry.spec.designation}." if not isinstance(other, Note) else ""
    message = (
        f"The stated drill {size.named} makes a hole of about {fit.hole_mm:.3f} mm, {what} minor diameter of "
        f"{geometry.spec.designation} ({low:.3f} to {high:.3f} mm)."
    )
    note = Note("TAP-DRILL-STATED-OUTSIDE", Severity.ASK, message, suggestion, f"Drilled {size.named} as stated.")
    return fit, reason, note


def _candidates(
    geometry: ThreadGeometry,
    drill_material: str,
    preferred: Sequence[Sequence[str]],
    shop: Shop,
    forming: bool,
) -> list[_Candidate]:
    low, high = hole_window(geometry, forming)
    owned = _owned(shop, drill_material)
    first_choice = _first_choice()
    found: dict[float, _Candidate] = {}
    for place, names in enumerate(preferred):
        for size in drill_sizes.in_window(low - SHOWN_BEYOND_MM, high, drill_sizes.series(*names)):
            candidate = _Candidate(
                size=size,
                place=place,
                over=shop.oversize(size.mm, drill_material),
                window=(low, high),
                second_choice="metric" in names and size.mm not in first_choice,
                in_crib=not owned or any(abs(size.mm - mm) < 0.002 for mm in owned),
            )
            found.setdefault(size.mm, candidate)
    return sorted(found.values(), key=lambda candidate: candidate.size.mm)


@cache
def _first_choice() -> frozenset[float]:
    return frozenset(size.mm for size in drill_sizes.series("metric-preferred"))


def _owned(shop: Shop, drill_material: str) -> tuple[float, ...]:
    mine = [tool for tool in shop.crib if tool.kind == "drill" and tool.material in ("", drill_material)]
    sizes = (drill_sizes.by_label(tool.size) for tool in mine)
    return tuple(size.mm for size in sizes if size is not None)


def _target_mm(geometry: ThreadGeometry, chart: tuple[Size, Cite] | None, forming: bool) -> float:
    """The size to come near to: the chart's drill, else D - P (77 % of thread), which is the charts' own pattern."""
    if forming:
        return thread_window.forming_window(geometry).target_mm
    if chart is not None:
        return chart[0].mm
    if geometry.profile == "60deg" and not geometry.spec.series.startswith("STI"):
        return geometry.basic_major_mm - geometry.spec.pitch_mm
    return geometry.minor.min_mm + 0.4 * ((geometry.minor.max_mm or geometry.minor.min_mm) - geometry.minor.min_mm)


def _order(candidate: _Candidate, target_mm: float, aim: str) -> tuple[bool, int, bool, bool, float, float]:
    """Best first: in the crib, of the preferred series, safe, then by the aim."""
    if aim in (STANDARD_TABLE, FORMED):
        return (
            not candidate.in_crib,
            candidate.place if aim == STANDARD_TABLE else max(candidate.place, 1),
            not candidate.safe,
            False,
            round(abs(candidate.size.mm - target_mm), 6),
            candidate.size.mm,
        )
    sign = 1 if aim == SMALLEST else -1
    if aim == LARGEST_ODD:
        return (not candidate.in_crib, max(candidate.place, 1), not candidate.safe, False, sign * candidate.size.mm, 0.0)
    return (
        not candidate.in_crib,
        candidate.place,
        not candidate.safe,
        candidate.second_choice,
        sign * candidate.size.mm,
        0.0,
    )


def _hole(candidate: _Candidate) -> str:
    return f"drills about {candidate.hole_mm:.3f} mm, at worst {candidate.worst_mm:.3f} mm,"


def _why(best: _Candidate, legal: Sequence[_Candidate], aim: str, on_chart: bool) -> str:
    if len(legal) == 1:
        return "the only drill whose hole stays inside"
    if aim == STANDARD_TABLE:
        return "the drill of the standard table" if on_chart else "the nearest to the usual one whose hole stays inside"
    return f"the {aim.partition(' ')[0]}{'' if aim == LARGEST_ODD else ' usual'} size whose hole stays inside"


def _against(
    candidate: _Candidate, best: _Candidate, drill_material: str, target_mm: float, aim: str, shop: Shop
) -> Rejected:
    """Why one drill lost."""
    low, high = candidate.window
    if candidate.size.mm < low - 1e-9:
        return Rejected(candidate.size.named, "TAP-DRILL-SMALL", f"under the smallest minor diameter {low:.3f} mm")
    if not candidate.legal:
        because = f"with the oversize of {drill_material} its hole is {candidate.hole_mm:.3f} mm, over {high:.3f} mm"
        carbide = shop.oversize(candidate.size.mm, "carbide")
        if drill_material != "carbide" and candidate.size.mm + carbide.worst_mm <= high:
            because = f"{because}; legal in carbide ({candidate.size.mm + carbide.expected_mm:.3f} mm)"
        return Rejected(candidate.size.named, "TAP-DRILL-OVERSIZE", because)
    if not candidate.in_crib and best.in_crib:
        return Rejected(candidate.size.named, "TAP-DRILL-CRIB", "not in the crib")
    if candidate.place > max(best.place, 1 if aim == LARGEST_ODD else 0):
        return Rejected(candidate.size.named, "TAP-DRILL-SERIES", "inside, but of a series kept less for this thread")
    if best.safe and not candidate.safe:
        because = f"inside as expected, but at worst {candidate.worst_mm:.3f} mm, over {high:.3f} mm"
        return Rejected(candidate.size.named, "TAP-DRILL-WORST", because)
    if aim == STANDARD_TABLE:
        return Rejected(candidate.size.named, "TAP-DRILL-AIM", f"inside, but further from {target_mm:.3f} mm")
    return Rejected(candidate.size.named, "TAP-DRILL-AIM", f"inside, but not the {aim.partition(' ')[0]} size")


def _by_chart_only(geometry: ThreadGeometry, drill_material: str, shop: Shop) -> tuple[Size, TapDrillFit, Reason] | Note:
    """A taper thread's straight hole: the chart's drill, since the minor diameter changes along the hole."""
    chart = chart_drill(geometry)
    if chart is None:
        message = f"No chart here gives the drill for {geometry.spec.designation}."
        return Note("TAP-DRILL-NONE", Severity.ASK, message, "State the drill in the callout.")
    size, cite = chart
    because = "the chart's drill for a straight hole before the taper tap; the minor diameter changes along the hole"
    reason = Reason(f"tap drill: {size.named}", because, "TAP-DRILL-CHART", (cite,))
    return size, fit_of(geometry, size, drill_material, shop=shop), reason


def _nothing_legal(geometry: ThreadGeometry, drill_material: str, candidates: Sequence[_Candidate], forming: bool) -> Note:
    limits = Limits(*hole_window(geometry, forming))
    near = min(candidates, key=lambda candidate: abs(candidate.hole_mm - (limits.max_mm or 0)), default=None)
    nearest = f" The nearest, {near.size.named}, makes about {near.hole_mm:.3f} mm." if near is not None else ""
    message = (
        f"No standard drill of {drill_material} makes a hole inside the minor diameter of {geometry.spec.designation} "
        f"({limits.min_mm:.3f} to {limits.max_mm:.3f} mm).{nearest}"
    )
    return Note("TAP-DRILL-NONE", Severity.ASK, message, "Ream or bore the hole, or allow a wider class.")
