"""Threads longer than anyone needs: what the surplus costs in each hole."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache
from math import ceil, floor

from holesched.cutting.model import CutStep
from holesched.cutting.remedies import LESS_THREAD
from holesched.notes import Cite, Note, Severity
from holesched.standards.materials import Material
from holesched.tables import table
from holesched.tooling.engagement import ENTRY_P, needed_for
from holesched.tooling.model import StepKind, ToolStep

LEAST_ASKED_D = 1.5
"""Less than so many diameters of thread is not asked for. Common practice, no source."""
Timed = Callable[[ToolStep, tuple[ToolStep, ...]], float]
"""Minutes of a step in one hole, after the steps before it."""


@dataclass(frozen=True, slots=True)
class Usual:
    """How long threads usually are in a workpiece, over their diameter, and from where it is asked whether less will do."""

    low: float
    high: float
    ask_over: float
    what: str
    cite: Cite


def usual_length(material: Material) -> Usual:
    """The row of thread_engagement.csv for a workpiece; steel's for one that no row names. Common practice, no source."""
    return _usual(material.group, material.subgroup)


@cache
def _usual(group: str, subgroup: str) -> Usual:
    source = table("thread_engagement.csv")
    rows = {row["material"]: row for row in source.rows}
    row = rows.get(subgroup) or rows.get(group) or rows["P"]
    return Usual(float(row["usual_from"]), float(row["usual_to"]), float(row["ask_over"]), row["because"], source.cite())


def deep_thread_notes(cuts: Sequence[CutStep], material: Material, grade: str, timed: Timed) -> list[Note]:
    """For every blind thread that is longer than asked about: how long is usual, and the time that less would save. Nothing
    where that is less than a second, or where less thread is among the remedies for a tap near to breaking."""
    found = (_deep(cut, cuts, material, grade, timed) for cut in cuts if cut.step.finishes_thread)
    return [note for note in found if note is not None]


def _deep(cut: CutStep, cuts: Sequence[CutStep], material: Material, grade: str, timed: Timed) -> Note | None:
    step = cut.step
    thread = step.step.thread if step.step else None
    if thread is None or step.through or step.depth_mm is None or thread.taper:
        return None
    usual, nominal_mm = usual_length(material), thread.spec.nominal.mm
    length_mm = step.depth_mm - step.start_mm
    needed = needed_for(thread, grade, material)
    needed_mm = needed.least_mm + ENTRY_P * thread.spec.pitch_mm if needed else 0.0
    if length_mm <= max(usual.ask_over * nominal_mm, needed_mm) + 1e-6:
        return None
    if cut.risk is not None and any(remedy.startswith(LESS_THREAD) for remedy in cut.risk.remedies):
        return None
    enough_mm = max(LEAST_ASKED_D * nominal_mm, usual.high * nominal_mm, ceil(10 * needed_mm) / 10)
    seconds = floor(60 * _saved_min(step, cuts, length_mm - enough_mm, timed))
    if seconds < 1:
        return None
    common = f"{usual.low:g} D" if usual.low == usual.high else f"{usual.low:g} to {usual.high:g} D"
    screw = f", and a screw of {grade} takes {needed.least_mm:.1f} mm" if needed else ""
    message = (
        f"{thread.spec.designation}: {length_mm:g} mm of full thread are {length_mm / nominal_mm:.3g} D: more than "
        f"{usual.ask_over:g} D cost torque and add no strength; in {usual.what} {common} are usual{screw}."
    )
    suggestion = f"{LESS_THREAD} {enough_mm:.3g} mm are enough: at least {seconds} s less in each hole."
    return Note("THREAD-LONG", Severity.WATCH, message, suggestion, cite=usual.cite)


def _saved_min(step: ToolStep, cuts: Sequence[CutStep], less_mm: float, timed: Timed) -> float:
    """What the thread's own drill and tap save when both go less deep; the drill's pecks are left as they are."""
    saved = 0.0
    before: tuple[ToolStep, ...] = ()
    for cut in cuts:
        mine = cut.step.step is step.step and (cut.step.kind is StepKind.DRILL or cut.step is step)
        if mine and not cut.step.through:
            saved += cut.time_min - timed(_shorter(cut.step, less_mm), before)
        before = (*before, cut.step)
    return max(saved, 0.0)


def _shorter(step: ToolStep, less_mm: float) -> ToolStep:
    def less(value: float | None) -> float | None:
        return None if value is None else value - less_mm

    return replace(step, depth_mm=less(step.depth_mm), tip_mm=less(step.tip_mm), travel_mm=less(step.travel_mm))
