"""The tap's own tolerance: ISO 2857 class for metric threads, H limit of ASME B94.9 for unified ones."""

from __future__ import annotations

import re
from collections.abc import Mapping

from holesched.notes import Cite, Reason, Rejected, Standing
from holesched.standards.threads.base import ThreadGeometry
from holesched.tables import table
from holesched.units import MM_PER_INCH

H_STEP_MM = 0.0005 * MM_PER_INCH
"""One H limit is 0.0005 inch over the basic pitch diameter. Machinery's Handbook, 31st edition, p. 972, tap marking."""
HANDBOOK_MARKING = Cite("Machinery's Handbook", "31st edition", "p. 972, tap marking")
UPPER_HALF = "upper half of the class"
ONE_LARGER = "one step larger"
_METRIC = ("M", "MF", "MJ", "STI-M")


def tap_limit(geometry: ThreadGeometry, where: str) -> tuple[str, Reason]:
    """The limit to ask for, and why; `where` is the rules' verdict on the tap limit.

    An H limit never reaches beyond the class's own pitch-diameter tolerance: the figure of the table is checked against it.
    The upper half is one step up where the starting limit ends in the lower half of that tolerance.
    """
    if geometry.spec.series in _METRIC:
        return _metric(geometry, where)
    if geometry.spec.series.startswith("UN") or geometry.spec.series.startswith("STI-UN"):
        return _unified(geometry, where)
    because = "this thread has no classes of tap to choose from"
    return "standard", Reason("tap limit: standard", because, "TAP-LIMIT-ONLY-ONE", (_by_memory(),))


def h_limit_mm(number: int) -> tuple[float, float]:
    """Lower and upper limit of an H tap's pitch diameter over basic, in mm. Machinery's Handbook 31, p. 972."""
    return (number - 1) * H_STEP_MM, number * H_STEP_MM


def _cite(row: Mapping[str, str]) -> Cite:
    return Cite(row["source"], standing=Standing(row["standing"]))


def _by_memory() -> Cite:
    return table("tap_limits.csv").cite()


def _metric(geometry: ThreadGeometry, where: str) -> tuple[str, Reason]:
    found = re.match(r"\d+[HG]", geometry.spec.thread_class)
    pitch_class = found.group() if found else geometry.spec.thread_class
    row = next(
        (row for row in table("tap_limits.csv").rows if row["system"] == "metric" and row["class"] == pitch_class), None
    )
    if row is None:
        because = f"no tap class is tabulated for {geometry.spec.thread_class}: order the tap by the thread's own class"
        return geometry.spec.thread_class, Reason(
            f"tap limit: {geometry.spec.thread_class}", because, "TAP-LIMIT-BY-CLASS", (_by_memory(),)
        )
    column = {UPPER_HALF: "upper_half", ONE_LARGER: "one_larger"}.get(where, "limit")
    because = f"a thread of class {pitch_class} takes this tap"
    rejected = tuple(
        Rejected(row[other], "TAP-LIMIT-ISO", f"that is {name}")
        for other, name in (("limit", "the plain class"), ("upper_half", UPPER_HALF), ("one_larger", ONE_LARGER))
        if other != column and row[other] != row[column]
    )
    return row[column], Reason(f"tap limit: {row[column]}", because, "TAP-LIMIT-ISO", (_cite(row),), rejected)


def _unified(geometry: ThreadGeometry, where: str) -> tuple[str, Reason]:
    tolerance_mm = (geometry.pitch.max_mm or geometry.pitch.min_mm) - geometry.pitch.min_mm
    most = int(tolerance_mm / H_STEP_MM + 1e-6)
    row = _inch_row(geometry)
    if row is not None:
        start, rule, cite = int(row["limit"][1:]), "TAP-LIMIT-H", _cite(row)
        because = f"the starting limit for class {geometry.spec.thread_class} in this size"
    else:
        start, rule = max(1, int(tolerance_mm / 2 / H_STEP_MM)), "TAP-LIMIT-H-HALF"
        cite = Cite("half of the pitch-diameter tolerance", standing=Standing.CALCULATED)
        because = f"no starting limit is tabulated; half of the class's tolerance of {tolerance_mm:.3f} mm"
    low_in_its_half = where == UPPER_HALF and h_limit_mm(start)[1] < tolerance_mm / 2
    number = start + (1 if where == ONE_LARGER or low_in_its_half else 0)
    number = max(1, min(number, most)) if most else number
    if number > start:
        because = f"{because}, one step up: {where}"
    upper_mm = h_limit_mm(number)[1]
    because = f"{because}; its {upper_mm:.4f} mm over basic lie inside the thread's {tolerance_mm:.4f} mm"
    rejected = tuple(
        Rejected(f"H{other}", rule, "one step tighter, worn out sooner" if other < number else "one step looser")
        for other in (number - 1, number + 1)
        if other > 0
    )
    return f"H{number}", Reason(f"tap limit: H{number}", because, rule, (cite, HANDBOOK_MARKING), rejected)


def _inch_row(geometry: ThreadGeometry) -> Mapping[str, str] | None:
    """The first row of the table that covers the thread; class 1B takes the tap of 2B."""
    wanted = {"1B": "2B"}.get(geometry.spec.thread_class, geometry.spec.thread_class)
    system = "sti" if geometry.spec.series.startswith("STI") else "unified"
    major_in = geometry.spec.nominal.mm / MM_PER_INCH
    tpi = geometry.spec.tpi or MM_PER_INCH / geometry.spec.pitch_mm
    for row in table("tap_limits.csv").rows:
        if row["system"] != system or row["class"] != wanted:
            continue
        if not float(row["major_from_in"]) <= major_in <= float(row["major_to_in"]):
            continue
        if float(row["tpi_from"] or 0) <= tpi <= float(row["tpi_to"] or "inf"):
            return row
    return None
