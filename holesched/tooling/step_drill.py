"""Two concentric steps in one stroke: a step drill proposed, by the rules, for what separate tools are planned for."""

from __future__ import annotations

from collections.abc import Sequence

from holesched.notes import Note, Severity
from holesched.tooling.model import StepKind, ToolStep
from holesched.tooling.rules import decide
from holesched.tooling.setting import Setting

STEP_DRILL = "step drill"
LARGEST_RATIO = 2.0
"""A second diameter larger than this leaves the first too weak. Common practice, no source."""
_SECOND = (StepKind.COUNTERBORE, StepKind.COUNTERSINK)


def step_drill_notes(steps: Sequence[ToolStep], setting: Setting) -> list[Note]:
    """The proposal for a drilled hole and the counterbore or countersink of the drawing over it, from one face."""
    pairs = [(first, second) for second in steps if (first := _drill_under(second, steps)) is not None]
    verdict = decide("stepped hole", setting.case, frozenset(), setting.book) if pairs else None
    if verdict is None or verdict.value != STEP_DRILL:
        return []
    notes = []
    for first, second in pairs:
        end = "flat step" if second.kind is StepKind.COUNTERBORE else f"{second.tool.point_angle_deg or 90:g} degree step"
        where = "through" if first.through else f"{first.depth_mm or 0:g} mm deep"
        message = (
            f"{verdict.reason.because[:1].upper()}{verdict.reason.because[1:]}: {first.tool.size} {where} and "
            f"Ø{second.diameter_mm:.4g} mm, {end}."
        )
        suggestion = "A special tool: ask for its price and delivery; planned with separate tools meanwhile."
        notes.append(Note("HOLE-STEP-DRILL", Severity.TOLD, message, suggestion, cite=verdict.reason.cites[0]))
    return notes


def _drill_under(second: ToolStep, steps: Sequence[ToolStep]) -> ToolStep | None:
    """The largest drill that a second step of the drawing lies over, if one tool may have both diameters."""
    if second.kind not in _SECOND or second.step is None or second.start_mm > 0:
        return None
    under = [
        step
        for step in steps
        if step.kind is StepKind.DRILL
        and step.step is not None
        and step.side is second.side
        and step.diameter_mm < second.diameter_mm <= LARGEST_RATIO * step.diameter_mm
    ]
    return max(under, key=lambda step: step.diameter_mm, default=None)
