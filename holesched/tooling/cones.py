"""Cones in thin parts: a countersink whose tip goes past the far face, and a cone so deep that a knife edge is left."""

from __future__ import annotations

from collections.abc import Sequence

from holesched.callouts.model import Side
from holesched.notes import COMMON_PRACTICE, Note, Severity
from holesched.tooling.depth import point_length_mm
from holesched.tooling.model import CONES, OPENING, StepKind, ToolStep
from holesched.tooling.pilots import is_finished

NEARLY_MM = 0.5
"""A spot into solid metal that ends this near to the far face pushes it out. Common practice, no source."""
EDGE_MM = 0.1
"""Less cylinder than this under a countersink is a knife edge. Common practice, no source."""


def cone_notes(steps: Sequence[ToolStep], thickness_mm: float | None) -> list[Note]:
    """What to watch where a cone's tip passes the far face or its burr falls into a finished bore, and the question where no
    cylinder is left under the cones."""
    burrs = [note for step in steps if (note := _burr_note(step, steps)) is not None]
    if thickness_mm is None:
        return burrs
    cones = [part for step in steps for part in step.parts if part.kind in CONES]
    pointed = [step for step in steps if step.kind in CONES]  # the shoulder of a step drill has no point of its own
    notes = [note for step in pointed if (note := _tip_note(step, thickness_mm)) is not None]
    notes += [note for step in pointed if (note := _bottom_note(step, steps)) is not None]
    depths = [(step, depth) for step in cones if (depth := cone_depth_mm(step, steps)) is not None]
    deep_mm = sum(
        max((depth for step, depth in depths if (step.side is Side.FAR) is far), default=0.0) for far in (False, True)
    )
    if depths and deep_mm > thickness_mm - EDGE_MM:
        deepest, _ = max(depths, key=lambda found: found[1])
        notes.append(_knife_edge(deepest, deep_mm, thickness_mm))
    return notes + burrs


def cone_depth_mm(step: ToolStep, steps: Sequence[ToolStep]) -> float | None:
    """How deep below its face a cone's surface ends on the wall of the hole: start + (rim - hole) / 2 / tan(angle / 2).

    Geometry. None for a cone that is no wider than the hole, or without a hole.
    """
    angle = step.tool.point_angle_deg or 90.0
    holes = (other.diameter_mm for other in steps if other.kind in OPENING and other.diameter_mm < step.diameter_mm)
    hole_mm = max(holes, default=0.0)
    return step.start_mm + point_length_mm(step.diameter_mm - hole_mm, angle) if hole_mm else None


def _tip_note(step: ToolStep, thickness_mm: float) -> Note | None:
    if step.tool.cuts_back or step.tip_mm is None or step.tip_mm <= thickness_mm:
        return None
    past_mm = step.tip_mm - thickness_mm
    message = f"{step.tool.called}: its tip goes {past_mm:.1f} mm past the far face of the part, {thickness_mm:g} mm thick."
    return Note("CONE-THROUGH", Severity.WATCH, message, "Keep table and parallels clear under the hole.")


def _bottom_note(step: ToolStep, steps: Sequence[ToolStep]) -> Note | None:
    """What to watch where a countersink's point would be deeper than the blind hole that it goes into, were it sharp."""
    holes = [other for other in steps if other.kind in OPENING and other.diameter_mm < step.diameter_mm]
    if step.kind is not StepKind.COUNTERSINK or step.tip_mm is None or not holes or any(hole.through for hole in holes):
        return None
    bottom_mm = max((hole.tip_mm for hole in holes if hole.tip_mm is not None), default=None)
    if bottom_mm is None or step.tip_mm <= bottom_mm - NEARLY_MM:
        return None
    message = f"{step.tool.called}: a sharp point would be {step.tip_mm:.1f} mm deep, the hole ends at {bottom_mm:.1f} mm."
    suggestion = "Use one whose end is flat and clear of the bottom, or cut the chamfer on a circle with a smaller one."
    return Note("CONE-BOTTOM", Severity.WATCH, message, suggestion)


def _burr_note(step: ToolStep, steps: Sequence[ToolStep]) -> Note | None:
    """What to watch where a countersink of the far side follows what finishes the hole: a boring bar, for bored from
    the far side the hole would lose its place; a reamer where a back chamfer tool goes through its hole."""
    if step.kind is not StepKind.COUNTERSINK or step.side is not Side.FAR:
        return None
    before = steps[: steps.index(step)]
    made = next(
        (each for each in before if is_finished(each) and each.through and each.diameter_mm < step.diameter_mm), None
    )
    if made is None:
        return None
    message = (
        f"{step.tool.called}: its chips and burr, from the far side, fall into the hole that {made.tool.called} finished."
    )
    return Note(
        "CONE-BURR", Severity.WATCH, message, "Deburr the hole after it, and gauge it only then.", cite=COMMON_PRACTICE
    )


def _knife_edge(step: ToolStep, deep_mm: float, thickness_mm: float) -> Note:
    what = f"Ø{step.diameter_mm:.4g} mm of the {step.tool.called}"
    message = (
        f"The cone {what} is {deep_mm:.2f} mm deep in a part of {thickness_mm:g} mm: it leaves a knife edge, no hole wall."
    )
    suggestion = "Ask for a smaller countersink, a flatter head or a thicker part."
    if step.step is None:  # the shop's own chamfer, which it may make smaller
        return Note("CONE-KNIFE-EDGE", Severity.WATCH, message, "Make the chamfer smaller: the drawing asks for none.")
    return Note("COUNTERSINK-KNIFE-EDGE", Severity.ASK, message, suggestion, "Planned as written.")
