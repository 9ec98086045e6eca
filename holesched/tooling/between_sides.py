"""What is left between blind holes, threads or seats that are made from both faces of the part, on one axis. Lengths mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from holesched.callouts.model import Kind, Side
from holesched.notes import Note, Severity
from holesched.resolve.model import ResolvedStep
from holesched.tooling.depth import CLOSE_MM
from holesched.tooling.model import CONES, OPENING, DepthBudget, ToolStep
from holesched.tooling.setting import Setting

OTHER_SIDE = "tip from the other side"
"""What lies beyond a wall that is left between two tools."""


def reaches_mm(steps: Sequence[ToolStep]) -> tuple[float, float]:
    """How deep the blind tools come from the near and from the far face, each from its own: 0 where none does.

    The tip counts; around a hole that goes through, the floors, since the points lie in the hole. Cones are looked at by
    themselves.
    """
    parts = [part for step in steps for part in step.parts if part.kind not in CONES and not part.tool.cuts_back]
    floors = any(part.through and part.kind in OPENING for part in parts)
    blind = [(part.side, part.depth_mm if floors else part.tip_mm) for part in parts if not part.through]
    near, far = (max((deep for at, deep in blind if at is side and deep), default=0.0) for side in (Side.NEAR, Side.FAR))
    return near, far


def between_note(drawn: Sequence[ResolvedStep], reach_mm: tuple[float, float], setting: Setting) -> Note | None:
    """The question where tools from the two faces meet, or leave less wall between them than the shop asks.

    `reach_mm` is how deep the tools come from each. None where the depths written already meet: that is asked about the
    callout itself.
    """
    thickness_mm, wall_mm = setting.thickness_mm, setting.shop.preferences.wall_warning_mm
    near_mm, far_mm = reach_mm
    if thickness_mm is None or not near_mm or not far_mm or _written_mm(drawn) >= thickness_mm - CLOSE_MM:
        return None
    left_mm = thickness_mm - near_mm - far_mm
    if left_mm >= wall_mm - CLOSE_MM:
        return None
    reach = f"{near_mm:.2f} mm from the near and {far_mm:.2f} mm from the far side, {near_mm + far_mm:.2f} mm together"
    suggestion = f"Make them together {wall_mm - left_mm:.1f} mm shallower, or"
    assumed = "Planned from each side to the depth shown."
    if left_mm <= 0:
        message = f"What is made from the two sides meets: the tools come {reach} in {thickness_mm:g} mm."
        return Note("DEPTH-SIDES-MEET", Severity.ASK, message, f"{suggestion} write THRU.", assumed)
    message = (
        f"Only {left_mm:.2f} mm of wall are left between what is made from the two sides, {reach}; the shop asks "
        f"{wall_mm:g} mm."
    )
    return Note("WALL-BETWEEN-THIN", Severity.ASK, message, f"{suggestion} confirm the wall.", assumed)


def wall_between(budget: DepthBudget, side: Side, reach_mm: tuple[float, float], steps: Sequence[ToolStep]) -> DepthBudget:
    """The budget of a blind thread with the wall to what comes from the other face, not to the face itself."""
    near_mm, far_mm = reach_mm
    other_mm = near_mm if side is Side.FAR else far_mm
    if budget.wall_left_mm is None or not other_mm or any(step.through and step.kind in OPENING for step in steps):
        return budget
    return replace(budget, wall_left_mm=round(budget.wall_left_mm - other_mm, 6), wall_to=OTHER_SIDE)


def _written_mm(drawn: Sequence[ResolvedStep]) -> float:
    """What the blind depths of the drawing add up to, from both faces."""
    return sum(
        max(
            (
                step.depth_mm or 0.0
                for step in drawn
                if step.side in (side, Side.BOTH) and not step.through and step.kind is not Kind.COUNTERSINK
            ),
            default=0.0,
        )
        for side in (Side.NEAR, Side.FAR)
    )
