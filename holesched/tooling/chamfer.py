"""The chamfer of a hole by a tool of its own: a countersink in one stroke, or a small chamfer mill on a circle."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from holesched.callouts.model import Side
from holesched.notes import Reason
from holesched.tooling.cutters import OF_FLANK, SPOT_ANGLE_DEG, chamfer_mill, countersink
from holesched.tooling.depth import point_length_mm
from holesched.tooling.model import BACK_CHAMFER, OPENING, StepKind, Tool
from holesched.tooling.rules import decide
from holesched.tooling.setting import Setting
from holesched.tooling.work import Work

ANGLE = "COUNTERSINK-ANGLE"
"""The reason for a drawing's countersink."""
ON_A_CIRCLE = "on a circle"
_ABOUT = (StepKind.COUNTERBORE, StepKind.SPOTFACE, StepKind.MILL)
CONTACT = 0.8
"""Where a chamfer mill cuts the rim, over its own radius: below its corner. Common practice, no source."""


def on_circle(tool: Tool) -> bool:
    """Whether a countersinking tool runs on a circle about the hole's axis: a chamfer mill."""
    return tool.kind is StepKind.COUNTERSINK and tool.name.endswith("chamfer mill")


def contact_mm(tool: Tool) -> float:
    """The diameter of a chamfer mill where it cuts the rim."""
    return CONTACT * tool.diameter_mm


def flank_mm(tool: Tool) -> float:
    """The widest chamfer, on the radius, that a chamfer mill makes at one depth."""
    return OF_FLANK * tool.diameter_mm / 2


def tip_depth_mm(tool: Tool, rim_mm: float, hole_mm: float) -> float:
    """How deep a chamfer mill's sharp tip goes for the chamfer of a hole to a rim: where it cuts the rim with its contact;
    of a chamfer wider than its flank, where the flank's lower end comes to the hole. Geometry."""
    wider_mm = max((rim_mm - hole_mm) / 2 - flank_mm(tool), 0.0)
    return point_length_mm(contact_mm(tool) + 2 * wider_mm, tool.point_angle_deg or SPOT_ANGLE_DEG)


def chamfer_work(rim_mm: float, side: Side, works: Sequence[Work], setting: Setting) -> Work:
    """The work that chamfers the hole that others make to a rim, with its tool and the reason for that; a wide rim by a mill
    on a circle, where the rules have it so."""
    grade = setting.cutter
    tool = countersink(rim_mm, SPOT_ANGLE_DEG, setting.case, grade)
    work = Work(StepKind.COUNTERSINK, tool, None, rim_mm, side=side, reasons=grade.reasons)
    from_within = side is Side.FAR and setting.shop.preferences.far_edge == BACK_CHAMFER
    found = None if from_within else _mill(work, works, setting)
    return work if found is None else replace(work, tool=found[0], reasons=(found[1],))


def with_milled_cones(works: Sequence[Work], setting: Setting) -> list[Work]:
    """The works, those countersinks of the drawing milled on a circle that the rules have so and whose angle chamfer mills
    have."""
    return [_milled_cone(work, works, setting) if work.kind is StepKind.COUNTERSINK else work for work in works]


def _milled_cone(work: Work, works: Sequence[Work], setting: Setting) -> Work:
    tool = work.tool
    if work.step is None or tool.cuts_back or on_circle(tool) or tool.point_angle_deg != SPOT_ANGLE_DEG:
        return work
    found = _mill(work, works, setting)
    if found is None:
        return work
    mill, by = found
    kept = (each for each in work.reasons if each not in setting.cutter.reasons)
    named = (each._replace(decision=f"countersink: {mill.sized}") if each.rule == ANGLE else each for each in kept)
    return replace(work, tool=mill, reasons=(*named, by))


def _mill(work: Work, works: Sequence[Work], setting: Setting) -> tuple[Tool, Reason] | None:
    """The mill that cuts a chamfer on a circle and the rule's reason; None where the rules have it made in one stroke, where
    no hole is there that the mill goes down in, or a counterbore about the rim is too narrow for the mill's corner."""
    rim_mm = work.diameter_mm
    verdict = decide("wide chamfer", replace(setting.case, size_mm=rim_mm), frozenset(), setting.book)
    hole_mm = max(
        (other.diameter_mm for other in works if other.kind in OPENING and other.diameter_mm < rim_mm), default=0.0
    )
    if verdict.value != ON_A_CIRCLE or not hole_mm:
        return None
    mill = chamfer_mill((rim_mm - hole_mm) / 2, setting.case, setting.book)
    corner_mm = rim_mm + mill.diameter_mm - contact_mm(mill)
    if any(rim_mm < other.diameter_mm < corner_mm for other in works if other.kind in _ABOUT and other.side is work.side):
        return None
    return mill, verdict.reason


def because_of(reason: Reason, work: Work) -> Work:
    """The work with the reason for its chamfer before those for its tool."""
    return replace(work, reasons=(reason, *work.reasons))
