"""Whether a tapped thread is long enough for its screw: only where the shop names the screws' strength."""

from __future__ import annotations

from holesched.notes import Note, Severity
from holesched.resolve.model import ResolvedStep
from holesched.standards.materials import Material
from holesched.standards.strength import Engagement, needed_engagement
from holesched.standards.threads.base import ThreadGeometry

ENTRY_P = 1.0
"""What the entry chamfer takes off the bearing thread, in pitches. Common practice, no source."""


def needed_for(geometry: ThreadGeometry, grade: str, material: Material) -> Engagement | None:
    """The length of engagement a screw of that grade needs in the workpiece.

    None without a grade, for a thread whose screw is not known here, a grade not made in that size, or a workpiece without
    a strength.
    """
    if not grade or material.tensile_mpa is None:
        return None
    try:
        return needed_engagement(geometry, grade, material.tensile_mpa)
    except (ValueError, KeyError):
        return None


def short_thread_note(step: ResolvedStep, floor_mm: float, material: Material, grade: str) -> Note | None:
    """The warning when the thread strips before its screw breaks; None when it is long enough or nothing is known."""
    if step.thread is None or step.depth_mm is None:
        return None
    needed = needed_for(step.thread, grade, material)
    bearing_mm = step.depth_mm - floor_mm - ENTRY_P * step.thread.spec.pitch_mm
    if needed is None or bearing_mm >= needed.least_mm:
        return None
    message = (
        f"{step.thread.spec.designation}: {max(bearing_mm, 0):.1f} mm of thread bear, less the entry; a screw of {grade} "
        f"takes {needed.least_mm:.1f} mm in {material.name} to break before the {needed.governed_by} strips."
    )
    suggestion = "Ask for a longer thread, a wire insert or a weaker screw; the designer decides, this is for static load."
    return Note("THREAD-SHORT-FOR-SCREW", Severity.WATCH, message, suggestion, cite=needed.cite)
