"""The far edge of a hole that goes through: broken by hand, chamfered with the part turned over, or from within the hole."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from holesched.callouts.model import Side
from holesched.notes import COMMON_PRACTICE, Cite, Reason, Standing
from holesched.tooling.chamfer import because_of, chamfer_work
from holesched.tooling.cutters import SPOT_ANGLE_DEG
from holesched.tooling.entry import THREAD_CHAMFER
from holesched.tooling.model import BACK_CHAMFER, OPENING, StepKind
from holesched.tooling.setting import Setting
from holesched.tooling.work import Work

FAR_EDGE = "FAR-EDGE"
"""Rule of the reason that says what becomes of a far edge."""
BY_HAND = "by hand"
WIDEST_BACK = 1.5
"""A back chamfer tool reaches so much wider than the hole that it goes through, at most. Common practice, no source."""
_SHOPS_OWN = Cite("shop file", place="far_edge", standing=Standing.SHOP)


def with_far_edges(works: Sequence[Work], setting: Setting) -> list[Work]:
    """A hole's works with what becomes of its far edge: every through thread says it, and what chamfers it is added."""
    found = [_from_within(work, works, setting) for work in works]
    edge = _open_edge(found)
    if edge is None:
        return found
    wanted = setting.shop.preferences.far_edge
    if setting.around.blocked:
        return _told(found, edge, "as it is drilled", "nothing reaches the far side", COMMON_PRACTICE)
    if wanted == BY_HAND:
        because = "the drawing asks for no chamfer there: burr and edge are taken off at the bench, before the gauge goes in"
        return _told(found, edge, f"broken {BY_HAND}", because, COMMON_PRACTICE)
    rim_mm = THREAD_CHAMFER * edge.diameter_mm
    because = "a little over the thread, as on the near side: no burr stands up"
    reason = Reason(f"far edge: chamfered to Ø{rim_mm:.2f} mm", because, FAR_EDGE, (_SHOPS_OWN,))
    chamfer = because_of(reason, chamfer_work(rim_mm, Side.FAR, found, setting))
    return [*found, _from_within(chamfer, found, setting)]


def _open_edge(works: Sequence[Work]) -> Work | None:
    """The widest thread that goes through and meets nothing made from the far side."""
    if any(work.side is Side.FAR for work in works):
        return None
    through = (work for work in works if work.kind.makes_thread and work.through and not work.unfinished)
    return max(through, key=lambda work: work.diameter_mm, default=None)


def _told(works: Sequence[Work], edge: Work, how: str, because: str, cite: Cite) -> list[Work]:
    reason = Reason(f"far edge: {how}", because, FAR_EDGE, (cite,))
    return [replace(work, reasons=(*work.reasons, reason)) if work is edge else work for work in works]


def _from_within(work: Work, works: Sequence[Work], setting: Setting) -> Work:
    """A countersink of the far side by a back chamfer tool, where the shop has one and the hole lets it through."""
    if setting.shop.preferences.far_edge != BACK_CHAMFER or work.side is not Side.FAR:
        return work
    angle_deg = work.tool.point_angle_deg
    passed = [other.diameter_mm for other in works if other.kind in OPENING and other.through]
    if work.kind is not StepKind.COUNTERSINK or angle_deg != SPOT_ANGLE_DEG or not passed:
        return work
    if not max(passed) < work.diameter_mm <= WIDEST_BACK * max(passed):
        return work
    size = f"{work.diameter_mm:.4g}"
    name = f"{BACK_CHAMFER}, {angle_deg:g} degree, through a hole of {max(passed):.4g} mm"
    tool = replace(work.tool, diameter_mm=work.diameter_mm, size=size, name=name, flutes=1)
    because = "goes through the hole and chamfers its far edge on the way back: the part is not turned over"
    reason = Reason(f"far edge: {BACK_CHAMFER}", because, FAR_EDGE, (_SHOPS_OWN,))
    return replace(work, tool=tool, depth_mm=setting.thickness_mm, reasons=(reason, *work.reasons))
