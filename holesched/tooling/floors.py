"""The floor of a blind bored hole: where the point of the drill before it leaves a cone, the reader is told."""

from __future__ import annotations

from collections.abc import Sequence

from holesched.notes import COMMON_PRACTICE, Note, Severity
from holesched.tooling.model import StepKind, ToolStep

SEEN_MM = 0.05
"""A cone that is less deep than this under the floor is none."""


def floor_notes(steps: Sequence[ToolStep]) -> list[Note]:
    """What to watch where a bored hole keeps a drill's cone in its floor: whether it does hangs on the machine, which mills
    the hole or drills it. Where the drawing calls for a flat bottom none is left; under a reamer a cone is usual."""
    notes = []
    for step in steps:
        drill = _cone_under(step, steps)
        if drill is not None:
            message = (
                f"The floor of Ø{step.diameter_mm:.4g} mm, {step.depth_mm:g} mm deep, keeps the cone of the "
                f"{drill.tool.called}: its tip is at {drill.tip_mm:.2f} mm."
            )
            hint = "If something is seated on it, have FLAT BOTTOM written there."
            notes.append(Note("HOLE-FLOOR-CONE", Severity.WATCH, message, hint, cite=COMMON_PRACTICE))
    return notes


def _cone_under(step: ToolStep, steps: Sequence[ToolStep]) -> ToolStep | None:
    """The drill of the same hole whose tip goes deepest under a bored floor; None where none does, or a thread follows."""
    made = step.step
    if step.kind is not StepKind.BORE or step.through or step.depth_mm is None or made is None or made.thread is not None:
        return None
    if abs(step.diameter_mm - made.diameter.mm) > 1e-6:  # an earlier pass
        return None
    of_hole = (other for other in steps if other.kind is StepKind.DRILL and other.step == made)
    pointed = [drill for drill in of_hole if (drill.tip_mm or 0.0) > step.depth_mm + SEEN_MM and not drill.tool.flat_ended]
    return max(pointed, key=lambda drill: drill.tip_mm or 0.0, default=None)
