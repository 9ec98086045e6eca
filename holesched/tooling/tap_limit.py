"""The tap's own tolerance: ISO 2857 class for metric threads, H limit of ASME B94.9 for unified ones.

The class that goes with the thread's is taken first; where a coating to come has moved the thread's limits away from it, the
next one that cuts inside them.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from math import ceil

from holesched.notes import Cite, Note, Reason, Rejected, Severity, Standing
from holesched.standards.threads import geometry as as_drawn
from holesched.standards.threads.base import ThreadGeometry
from holesched.tables import cite_of, table
from holesched.tooling.tap_classes import CLOSE_MM, H_STEP_MM, TapClass, h_limit_mm, inside, iso_classes, permitted_mm
from holesched.units import MM_PER_INCH

HANDBOOK_MARKING = Cite("Machinery's Handbook", "31st edition", "p. 972, tap marking")
UPPER_HALF = "upper half of the class"
ONE_LARGER = "one step larger"
OVERSIZE_STEP_MM = 0.005
"""Oversizes of special taps are ordered in such steps. Common practice, no source."""
_X = "X)"
"""Ends the names of taps that lie above a class's plain zone: ISO 2 (6HX)."""
_METRIC = ("M", "MF", "MJ", "STI-M")


def tap_limit(geometry: ThreadGeometry, where: str) -> tuple[str, Reason, Note | None]:
    """The limit to ask for, why, and what is open; `where` is the rules' verdict on the tap limit.

    The tap's limits must lie inside the thread's, which a coating to come may have moved. The upper half is one H step up
    where the starting limit ends in the lower half of the tolerance.
    """
    if geometry.spec.series in _METRIC:
        return _metric(geometry, where)
    if geometry.spec.series.startswith("UN") or geometry.spec.series.startswith("STI-UN"):
        return _unified(geometry, where)
    because = "this thread has no classes of tap to choose from"
    reason = Reason("tap limit: standard", because, "TAP-LIMIT-ONLY-ONE", (_by_memory(),))
    return "standard", reason, None if geometry.taper else _over_basic(geometry)


def _over_basic(geometry: ThreadGeometry) -> Note | None:
    """What to see to where a coating to come asks for a larger tap, and there is but one. The limits as drawn may lie a
    rounding of their standard over basic, or an allowance: that is what the tap is made for."""
    if geometry.pitch.min_mm <= as_drawn(geometry.spec).pitch.min_mm + CLOSE_MM:
        return None
    least_mm, _ = permitted_mm(geometry)
    message = (
        f"{geometry.spec.designation}: before its coating the pitch diameter must be {_thread_span(geometry)}, at least "
        f"{least_mm:.3f} mm over basic; no class of tap for this thread has figures here."
    )
    suggestion = "Ask the tap's maker for its pitch diameter, or order one that much larger; or mask the thread."
    return Note("TAP-LIMIT-TO-ORDER", Severity.WATCH, message, suggestion)


def _cite(row: Mapping[str, str]) -> Cite:
    return Cite(row["source"], standing=Standing(row["standing"]))


def _by_memory() -> Cite:
    return cite_of("tap_limits.csv")


@cache
def _metric_rows() -> dict[str, Mapping[str, str]]:
    return {row["class"]: row for row in table("tap_limits.csv").rows if row["system"] == "metric"}


def _metric(geometry: ThreadGeometry, where: str) -> tuple[str, Reason, Note | None]:
    found = re.match(r"\d+[HG]", geometry.spec.thread_class)
    pitch_class = found.group() if found else geometry.spec.thread_class
    row = _metric_rows().get(pitch_class)
    if row is None:
        because = f"no tap class is tabulated for {geometry.spec.thread_class}: order the tap by the thread's own class"
        decision = f"tap limit: {geometry.spec.thread_class}"
        return geometry.spec.thread_class, Reason(decision, because, "TAP-LIMIT-BY-CLASS", (_by_memory(),)), None
    column = {UPPER_HALF: "upper_half", ONE_LARGER: "one_larger"}.get(where, "limit")
    classes = iso_classes(geometry)
    plain = _class_of(row[column], classes)
    if plain is not None and not inside(plain.low_mm, plain.high_mm, geometry):
        return _stepped_up(geometry, row["limit"], plain, classes)
    because = f"the tap for a thread of class {pitch_class}"
    rejected = tuple(
        Rejected(row[other], "TAP-LIMIT-ISO", f"that is {name}")
        for other, name in (("limit", "the plain class"), ("upper_half", UPPER_HALF), ("one_larger", ONE_LARGER))
        if other != column and row[other] != row[column]
    )
    cite = plain.cite if plain is not None and not row[column].endswith(_X) else _cite(row)
    reason = Reason(f"tap limit: {row[column]}", because, "TAP-LIMIT-ISO", (cite,), rejected)
    uncounted = not classes and pitch_class.endswith("H")
    return row[column], reason, _over_basic(geometry) if uncounted else None


def _class_of(limit: str, classes: tuple[TapClass, ...]) -> TapClass | None:
    """The class a limit names ("ISO 2 (6HX)" is of ISO 2)."""
    name = limit.partition(" (")[0]
    return next((each for each in classes if each.name == name), None)


def _thread_span(geometry: ThreadGeometry) -> str:
    high = geometry.pitch.max_mm
    low = geometry.pitch.min_mm
    return f"{low:.3f} mm and more" if high is None else f"{low:.3f} to {high:.3f} mm"


def _stepped_up(
    geometry: ThreadGeometry, usual: str, plain: TapClass, classes: tuple[TapClass, ...]
) -> tuple[str, Reason, Note | None]:
    """The next class that cuts inside the thread's limits, else one made larger to order, else a question."""
    basic = geometry.basic_pitch_mm
    rejected = (Rejected(usual, "TAP-LIMIT-STEPPED", f"its {basic + plain.low_mm:.3f} to {basic + plain.high_mm:.3f} mm "
                         f"leave the limits that the thread has here, {_thread_span(geometry)}"),)  # fmt: skip
    fitting = next((each for each in classes if inside(each.low_mm, each.high_mm, geometry)), None)
    if fitting is not None:
        cuts = f"{basic + fitting.low_mm:.3f} to {basic + fitting.high_mm:.3f} mm"
        because = f"cuts {cuts}, inside the {_thread_span(geometry)} that the thread has here"
        name = next((text for text in _named(fitting.name)), fitting.name)
        return name, Reason(f"tap limit: {name}", because, "TAP-LIMIT-STEPPED", (fitting.cite,), rejected), None
    least, most = permitted_mm(geometry)
    shift = max(0.0, ceil((least - plain.low_mm) / OVERSIZE_STEP_MM - CLOSE_MM) * OVERSIZE_STEP_MM)
    name = f"{usual} + {shift:.3f} mm"
    designation = geometry.spec.designation
    if plain.high_mm + shift <= most + CLOSE_MM:
        because = f"no class cuts inside {_thread_span(geometry)}; a tap of {usual} made {shift:.3f} mm larger does"
        message = f"{designation}: a tap {shift:.3f} mm over {usual} is needed: made to order."
        note = Note("TAP-LIMIT-TO-ORDER", Severity.WATCH, message, "Order it in time, or ask for a wider class or masking.")
        return name, Reason(f"tap limit: {name}", because, "TAP-LIMIT-TO-ORDER", (plain.cite,), rejected), note
    return _none(geometry, usual, name, rejected)


def _named(name: str) -> list[str]:
    """The trade's usual name of a class: ISO 3 (6G)."""
    return [row["limit"] for row in table("tap_limits.csv").rows if row["limit"].startswith(f"{name} (6")]


def _none(
    geometry: ThreadGeometry, usual: str, name: str, rejected: tuple[Rejected, ...]
) -> tuple[str, Reason, Note | None]:
    message = (
        f"{geometry.spec.designation}: no tap cuts between the {_thread_span(geometry)} that are left for its pitch "
        "diameter: a tap's own tolerance is wider."
    )
    suggestion = "Mask the thread or tap it after the coating, allow a wider class, or hold the coating closer."
    note = Note("TAP-LIMIT-NONE", Severity.ASK, message, suggestion, f"Planned with {name}.")
    because = f"the nearest to {_thread_span(geometry)}; no tap stays inside"
    return name, Reason(f"tap limit: {name}", because, "TAP-LIMIT-NONE", (_by_memory(),), rejected), note


def _unified(geometry: ThreadGeometry, where: str) -> tuple[str, Reason, Note | None]:
    least_mm, most_mm = permitted_mm(geometry)
    if most_mm == float("inf"):
        most_mm = 0.0
    tolerance_mm = most_mm - least_mm
    most = int(most_mm / H_STEP_MM + 1e-6)
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
    needed = ceil(least_mm / H_STEP_MM - 1e-6) + 1
    if number < needed:
        because = f"{because}, but it must cut at least {least_mm:.4f} mm over basic here: H{number} would not"
        number, rule = needed, "TAP-LIMIT-STEPPED"
    rejected = tuple(
        Rejected(f"H{other}", rule, _other_step(other, number, needed)) for other in (number - 1, number + 1) if other > 0
    )
    if most and number > most:
        return _none(geometry, f"H{start}", f"H{number}", rejected)
    upper_mm = h_limit_mm(number)[1]
    inside_of = f"the thread's {most_mm:.4f} mm" if least_mm < CLOSE_MM else f"{least_mm:.4f} to {most_mm:.4f} mm"
    because = f"{because}; its {upper_mm:.4f} mm over basic lie inside {inside_of}"
    return f"H{number}", Reason(f"tap limit: H{number}", because, rule, (cite, HANDBOOK_MARKING), rejected), None


def _other_step(other: int, number: int, needed: int) -> str:
    if other < needed:
        return "cuts under the limits that the thread has here"
    return "one step tighter, worn out sooner" if other < number else "one step looser"


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
