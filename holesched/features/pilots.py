"""The hole drilled for a thread or a reamer, where its depth is not written."""

from __future__ import annotations

from holesched.callouts.model import Callout, Depth, Element, Kind
from holesched.features.completion import FINISHED, HOLE_KINDS, Completion
from holesched.notes import COMMON_PRACTICE, Severity

BEFORE_REAMING = 0.9
"""Of a finished hole: as wide is the hole drilled for it. Common practice, no source."""
BEFORE_TAPPING = 0.6
"""Of a thread's diameter: a narrower hole is drilled for none. Common practice, no source."""


def is_open_pilot(element: Element, callout: Callout) -> bool:
    """Whether a step is only the drilled depth of a thread's pilot hole, its diameter left to the shop."""
    unsized = element.diameter is None and element.fastener is None and element.kind is Kind.DRILL
    return unsized and element.depth is not None and any(each.kind is Kind.TAP for each in callout.elements)


def pilot_depth(work: Completion, element: Element) -> Depth | None:
    """The open depth of a hole drilled for one blind thread or reamed hole, as deep as that needs; None for another hole.

    A hole that is not said to be a pilot hole may go through as well, and is asked about.
    """
    made = [
        each
        for each in work.callout.elements
        if each is not element and each.kind in (Kind.TAP, *HOLE_KINDS) and each.side is element.side
    ]
    if element.diameter is None or not any(each.depth and not each.depth.through for each in made):
        return None
    size = element.diameter.label
    if "pilot hole" in element.uses:
        told = f"pilot hole {size}: no depth is written, so it is drilled as deep as what follows needs"
        work.assume("CALLOUT-PILOT-DEPTH-ASSUMED", told, "as needed", COMMON_PRACTICE)
        return Depth()
    if len(made) > 1 or element.tolerance is not None or not _drilled_for(element.diameter.mm, made[0]):
        return None
    what = "thread" if made[0].thread is not None else "finished hole"
    sentence = f"The {what} is blind, and Ø{size} beside it has no depth: through, or as deep as the {what} needs?"
    work.note("CALLOUT-PILOT-DEPTH", Severity.ASK, sentence, element.span, "Write THRU, or its depth.", "as needed")
    return Depth()


def _drilled_for(hole_mm: float, made: Element) -> bool:
    """Whether a hole is as wide as the one drilled for a thread or a finished hole."""
    if made.thread is not None:
        return BEFORE_TAPPING * made.thread.nominal.mm < hole_mm < made.thread.nominal.mm
    finished = made.kind in FINISHED or made.tolerance is not None
    return finished and made.diameter is not None and BEFORE_REAMING * made.diameter.mm <= hole_mm < made.diameter.mm
