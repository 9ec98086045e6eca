"""A through hole is reamed last of all, also where the part is turned over before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from holesched.callouts.model import Side
from holesched.notes import COMMON_PRACTICE, Reason
from holesched.tooling.model import StepKind
from holesched.tooling.pilots import PILOTED, guided
from holesched.tooling.work import Work


def reamed_last(works: Sequence[Work]) -> list[Work]:
    """The works with the reamer after the seats and countersinks of the far side, from there, and each flat cutter told what
    its pilot runs in then. Those of the near side come before the reamer anyway."""
    return guided([_from_far_side(work, works) for work in works])


def _from_far_side(work: Work, works: Sequence[Work]) -> Work:
    """The work in set-up 2, where it is a through hole's reamer and something wider is cut on that side."""
    if work.kind is not StepKind.REAM or work.tool.before_thread or not work.through or work.side is Side.FAR:
        return work
    far = [other for other in works if other.side is Side.FAR and other.diameter_mm > work.diameter_mm]
    if any(other.kind in PILOTED for other in far):
        because = "the pilot of the cutter on that side runs in the drilled hole, not in the finished one"
    elif any(other.kind is StepKind.COUNTERSINK and not other.tool.cuts_back for other in far):
        because = "the countersink on that side throws its chips and burr into the drilled hole, not into the finished one"
    else:
        return work
    reason = Reason("reamed from the far side", f"last, in set-up 2: {because}", "REAM-LAST", (COMMON_PRACTICE,))
    return replace(work, side=Side.FAR, reasons=(*work.reasons, reason))
