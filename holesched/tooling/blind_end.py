"""Where blind holes without a thread end, and what is left under them; a thread's depth budget says it of a thread. mm."""

from __future__ import annotations

from collections.abc import Sequence

from holesched.callouts.model import Side
from holesched.resolve.model import ResolvedStep
from holesched.tooling.between_sides import OTHER_SIDE
from holesched.tooling.model import FAR_FACE, OPENING, BlindEnd, StepKind, ToolStep
from holesched.tooling.setting import Setting


def blind_ends(steps: Sequence[ToolStep], reach_mm: tuple[float, float], setting: Setting) -> tuple[BlindEnd, ...]:
    """The end of what comes deepest from each face, where that is no thread's hole; none around a hole that goes through.

    `reach_mm` is how deep the tools come from the near and from the far face.
    """
    parts = [part for step in steps for part in step.parts if part.kind in OPENING and not part.tool.cuts_back]
    if any(part.through for part in parts) or not any(part.step is not None and part.step.thread is None for part in parts):
        return ()
    near_mm, far_mm = reach_mm
    found = []
    for side, other_mm in ((Side.NEAR, far_mm), (Side.FAR, near_mm)):
        sided = [part for part in parts if part.side is side and part.tip_mm is not None]
        deepest = max(sided, key=lambda part: part.tip_mm or 0.0, default=None)
        drawn = deepest.step if deepest is not None else None
        if drawn is not None and drawn.thread is None:
            found.append(_end(drawn, sided, other_mm, setting.thickness_mm))
    return tuple(found)


def _end(drawn: ResolvedStep, sided: Sequence[ToolStep], other_mm: float, thickness_mm: float | None) -> BlindEnd:
    own = [part for part in sided if part.step is drawn]
    drilled_mm = max((part.depth_mm or 0.0 for part in own if part.kind is not StepKind.REAM), default=0.0)
    tip_mm = max(part.tip_mm or 0.0 for part in own)
    wall_mm = None if thickness_mm is None else round(thickness_mm - tip_mm - other_mm, 6)
    full_mm = drilled_mm if drawn.depth_mm is None else drawn.depth_mm
    return BlindEnd(drawn, full_mm, drilled_mm, tip_mm, wall_mm, OTHER_SIDE if other_mm else FAR_FACE)
