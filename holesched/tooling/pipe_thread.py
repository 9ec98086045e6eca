"""Pipe threads that are proved by a taper gauge: how deep they are tapped and drilled, and the hole reamed 1:16 before them.

A taper thread's depth is its size, so it is tapped to the depth of its gauge whatever the drawing says of the depth, and the
drawing is asked where it says something else.
"""

from __future__ import annotations

from dataclasses import replace

from holesched.notes import Note, Reason, Severity
from holesched.resolve.model import ResolvedStep
from holesched.standards import drill_sizes
from holesched.standards.sizes import Size
from holesched.standards.threads.base import ThreadGeometry
from holesched.standards.threads.pipe_depths import (
    TAPER_REAMED,
    PipeDepths,
    PipeDrill,
    face_minor_mm,
    pipe_depths,
    pipe_drill,
)
from holesched.tooling.case import HoleCase
from holesched.tooling.cutters import flutes
from holesched.tooling.model import TAPER_REAMER, StepKind, Tool
from holesched.tooling.rules import decide
from holesched.tooling.setting import Setting
from holesched.tooling.work import Work

REAMED = "taper reamed 1:16"
"""The rules' verdict for a hole that is reamed before the taper tap."""
AGREES_TURNS = 2.0
"""A written depth this near to the full thread, in turns, means the same thread. Common practice, no source."""
STOP_BY_GAUGE = "stop by gauge, not by dial"
MILL_BY_GAUGE = "mill by gauge: open the radius offset until the plug enters so far"
NOT_TAPPED_THROUGH, NOT_MILLED_THROUGH = "the thread is not tapped through", "the thread is not milled through"
LEAD_MM = 1.5
"""Bevel at the end of a taper reamer. Common practice, no source."""


def by_gauge(step: ResolvedStep, geometry: ThreadGeometry, setting: Setting) -> tuple[ResolvedStep, tuple[Note, ...]]:
    """A taper thread's step with the depth of its full thread, and what is to be watched and asked.

    Any other step comes back as it is, a parallel pipe thread with the word that a taper gauge proves it.
    """
    depths = pipe_depths(geometry.spec)
    if depths is None:
        return step, ()
    name = geometry.spec.designation
    if not geometry.taper:
        message = f"{name}: parallel, but proved by the {depths.gauge}."
        return step, (Note("PIPE-GAUGE", Severity.TOLD, message, cite=depths.cites[0]),)
    notes = [_stop_by_gauge(step, depths, name, setting.thickness_mm)]
    full_mm, thickness_mm = depths.full_thread_mm, setting.thickness_mm
    if thickness_mm is not None and thickness_mm < full_mm - 1e-6:
        message = f"{name} needs {full_mm:.1f} mm of full thread; the part is {thickness_mm:g} mm thick."
        suggestion = "Ask for a thicker boss, a smaller pipe size, or a parallel thread with a sealing face."
        notes.append(Note("PIPE-PART-THIN", Severity.ASK, message, suggestion, "Tapped through the part, by gauge."))
        return replace(step, through=True, depth_mm=thickness_mm), tuple(notes)
    if step.through:
        return replace(step, through=False, depth_mm=full_mm), tuple(notes)
    written_mm = step.depth_mm or 0.0
    if abs(written_mm - full_mm) > AGREES_TURNS * geometry.spec.pitch_mm:
        turns = abs(written_mm - full_mm) / geometry.spec.pitch_mm
        message = (
            f"{name} is written {written_mm:.4g} mm deep; its full thread is {full_mm:.1f} mm, {turns:.1f} turns "
            f"{'less' if written_mm > full_mm else 'more'}. A taper thread's depth is its size."
        )
        suggestion = f"Leave the depth out, or write full thread {full_mm:.1f} mm; say if {written_mm:.4g} mm is the hole."
        assumed = f"Tapped to {full_mm:.1f} mm, by gauge."
        notes.append(Note("PIPE-DEPTH-DIFFERS", Severity.ASK, message, suggestion, assumed, cite=depths.cites[0]))
    return replace(step, depth_mm=full_mm), tuple(notes)


def _stop_by_gauge(step: ResolvedStep, depths: PipeDepths, name: str, thickness_mm: float | None) -> Note:
    """What the person at the machine must know of every taper thread."""
    message = (
        f"{name}: {STOP_BY_GAUGE}. Full thread {depths.full_thread_mm:.1f} mm; the plug enters "
        f"{depths.gauge_plane_mm:.2f} mm by hand, give or take {depths.either_way_mm:.2f} mm"
    )
    if step.through and (thickness_mm is None or thickness_mm > depths.full_thread_mm):
        message += f"; the hole is drilled through, {NOT_TAPPED_THROUGH}"
    return Note("PIPE-STOP-BY-GAUGE", Severity.WATCH, f"{message}.", f"Gauge: {depths.gauge}.", cite=depths.cites[0])


def milled_to_gauge(note: Note) -> Note:
    """The same for a thread that is milled: its size is made by the radius of the path, not by how deep a tap goes."""
    message = note.message.replace(STOP_BY_GAUGE, MILL_BY_GAUGE).replace(NOT_TAPPED_THROUGH, NOT_MILLED_THROUGH)
    return replace(note, message=message)


def least_drilled_mm(geometry: ThreadGeometry) -> float:
    """The least depth a hole for this thread is drilled, mm; 0 where no pipe standard sets one, or for a parallel thread."""
    depths = pipe_depths(geometry.spec) if geometry.taper else None
    return depths.drill_least_mm if depths is not None else 0.0


def reamed_hole(case: HoleCase, geometry: ThreadGeometry, setting: Setting) -> tuple[Size, Reason, Reason] | None:
    """The drill before a 1:16 taper reamer, why it is that one and why the hole is reamed; None where it is not."""
    if not geometry.taper:
        return None
    verdict = decide("taper pipe hole", case, frozenset(), setting.book)
    found: PipeDrill | None = pipe_drill(geometry.spec, TAPER_REAMED) if verdict.value == REAMED else None
    if found is None:
        return None
    size = drill_sizes.by_label(found.drill.label) or drill_sizes.nearest(found.drill.mm)
    because = "before the taper reamer, which opens the hole 1:16; the minor diameter changes along the hole"
    return size, Reason(f"tap drill: {size.named}", because, "TAP-DRILL-TAPER-REAMED", (found.cite,)), verdict.reason


def reamer_work(step: ResolvedStep, geometry: ThreadGeometry, why: Reason, setting: Setting) -> Work:
    """The 1:16 taper reamer: as deep as the full thread, to the minor diameter at the face."""
    spec = geometry.spec
    material = decide("reamer material", setting.case.by_holes(), frozenset(), setting.book)
    face_mm = face_minor_mm(spec)
    tool = Tool(
        kind=StepKind.REAM,
        diameter_mm=round(face_mm, 3),
        size=f"{spec.nominal.label} {spec.series}",
        material=material.value,
        flutes=flutes("reamer", face_mm, setting.group),
        name=TAPER_REAMER,
    )
    at_face = Reason(
        f"taper reamer: to Ø{face_mm:.2f} mm at the face",
        "the minor diameter at the face; the taper runs in from there",
        "PIPE-TAPER-REAMER",
        geometry.cites,
    )
    return Work(
        kind=StepKind.REAM,
        tool=tool,
        step=step,
        diameter_mm=round(face_mm, 3),
        depth_mm=step.depth_mm,
        lead_mm=LEAD_MM,
        side=step.side,
        reasons=(why, at_face, material.reason),
    )
