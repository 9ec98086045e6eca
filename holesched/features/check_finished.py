"""Whether a reamed or bored hole can be made as it is asked, and is still there when the rest of its callout is made."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from holesched.callouts.model import Kind
from holesched.features.completion import FINISHED, HOLE_KINDS
from holesched.features.findings import Finding, Part, covers
from holesched.features.model import Hole
from holesched.notes import COMMON_PRACTICE, Severity


def reamed_without_limits(hole: Hole, part: Part) -> Iterator[Finding]:
    """A hole that is written to be reamed, with no fit and no limits: a stock reamer is taken, and somebody must know."""
    for feature in hole.features:
        if feature.kind is Kind.REAM and feature.tolerance is None:
            sentence = f"{feature.diameter.label} is to be reamed, and has no limits: a stock reamer of that size is taken."
            hint = "Look for its limits in the title block, or ask for them."
            yield Finding("REAM-LIMITS-UNSTATED", Severity.WATCH, sentence, feature, hint, "", COMMON_PRACTICE)


def finished_then_lost(hole: Hole, part: Part) -> Iterator[Finding]:
    """A reamed or bored hole that a wider one, as deep, takes away again: two holes, or a slip?

    A finished hole inside a wider one that comes before it is asked about as such (steps_that_cut_nothing).
    """
    made = [feature for feature in hole.features if feature.kind in HOLE_KINDS]
    for first, second in combinations(made, 2):
        narrow, wide = (first, second) if first.diameter.mm < second.diameter.mm else (second, first)
        asked_already = narrow is second and (narrow.kind is Kind.REAM or wide.kind in FINISHED)
        if narrow.kind in FINISHED and narrow.diameter.mm < wide.diameter.mm and covers(wide, narrow) and not asked_already:
            sentence = (
                f"Ø{narrow.diameter.label} is finished, and Ø{wide.diameter.label} on the same axis, as deep, leaves "
                "nothing of it: two holes, or a wrong size?"
            )
            hint = "Give each hole its own row, or correct a size or a depth."
            yield Finding("CHECK-FINISHED-LOST", Severity.ASK, sentence, narrow, hint, "both made on one axis")
