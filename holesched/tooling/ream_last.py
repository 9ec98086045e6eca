"""A through hole is reamed last of all, also where the part is turned over before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from holesched.callouts.model import Side
from holesched.notes import COMMON_PRACTICE, Reason
from holesched.tooling.model import StepKind
from holesched.tooling.work import Work

PILOTED = (StepKind.COUNTERBORE, StepKind.SPOTFACE)


def reamed_last(works: Sequence[Work]) -> list[Work]:
    """The works with the reamer after counterbores and spotfaces of the far side, from there: their pilots run in the
    drilled hole. Those of the near side come before it anyway."""
    return [_from_far_side(work) if _is_spoilt(work, works) else work for work in works]


def _is_spoilt(work: Work, works: Sequence[Work]) -> bool:
    """Whether a pilot would run in the reamed hole after the part is turned over."""
    if work.kind is not StepKind.REAM or work.tool.before_thread or not work.through or work.side is Side.FAR:
        return False
    far = (other for other in works if other.side is Side.FAR and other.kind in PILOTED)
    return any(other.diameter_mm > work.diameter_mm for other in far)


def _from_far_side(work: Work) -> Work:
    because = "last, in set-up 2: the pilot of the cutter on that side runs in the drilled hole, not in the finished one"
    reason = Reason("reamed from the far side", because, "REAM-LAST", (COMMON_PRACTICE,))
    return replace(work, side=Side.FAR, reasons=(*work.reasons, reason))
