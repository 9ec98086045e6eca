"""The chamfer of a hole by a tool of its own: a countersink in one stroke, or a small chamfer mill on a circle."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from holesched.callouts.model import Side
from holesched.notes import Reason
from holesched.tooling.cutters import SPOT_ANGLE_DEG, chamfer_mill, countersink
from holesched.tooling.model import BACK_CHAMFER, OPENING, StepKind, Tool
from holesched.tooling.rules import decide
from holesched.tooling.setting import Setting
from holesched.tooling.work import Work

ON_A_CIRCLE = "on a circle"
CONTACT = 0.8
"""Where a chamfer mill cuts the rim, over its own radius: below its corner. Common practice, no source."""


def on_circle(tool: Tool) -> bool:
    """Whether a countersinking tool runs on a circle about the hole's axis: a chamfer mill."""
    return tool.kind is StepKind.COUNTERSINK and tool.name.endswith("chamfer mill")


def contact_mm(tool: Tool) -> float:
    """The diameter of a chamfer mill where it cuts the rim."""
    return CONTACT * tool.diameter_mm


def chamfer_work(rim_mm: float, side: Side, works: Iterable[Work], setting: Setting) -> Work:
    """The work that chamfers the hole that others make to a rim, with its tool and the reason for that; a wide rim by a mill
    on a circle, where the rules have it so and its flank is wide enough."""
    case, grade = setting.case, setting.cutter
    tool = countersink(rim_mm, SPOT_ANGLE_DEG, case, grade)
    work = Work(StepKind.COUNTERSINK, tool, None, rim_mm, side=side, reasons=grade.reasons)
    verdict = decide("wide chamfer", replace(case, size_mm=rim_mm), frozenset(), setting.book)
    hole_mm = max(
        (other.diameter_mm for other in works if other.kind in OPENING and other.diameter_mm < rim_mm), default=0.0
    )
    mill = chamfer_mill((rim_mm - hole_mm) / 2, case, setting.book)
    from_within = side is Side.FAR and setting.shop.preferences.far_edge == BACK_CHAMFER
    if verdict.value != ON_A_CIRCLE or from_within or mill is None:
        return work
    return replace(work, tool=mill, reasons=(verdict.reason,))


def because_of(reason: Reason, work: Work) -> Work:
    """The work with the reason for its chamfer before those for its tool."""
    return replace(work, reasons=(reason, *work.reasons))
