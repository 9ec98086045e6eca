"""Whether a reamed or bored hole can be made as it is asked, and is still there when the rest of its callout is made."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from holesched.callouts.model import Kind, Tolerance
from holesched.features.completion import FINISHED, HOLE_KINDS
from holesched.features.findings import Finding, Part, covers
from holesched.features.model import Hole
from holesched.notes import COMMON_PRACTICE, Severity
from holesched.standards import fits

CLOSEST_GRADE = 6
"""The closest grade that a reamer or a boring bar holds; below it is honed or ground. Common practice, no source."""
ROUNDED = 0.9
"""Of that grade's tolerance: so much narrower are its inch values at some sizes (ANSI B4.1, from memory)."""


def reamed_without_limits(hole: Hole, part: Part) -> Iterator[Finding]:
    """A hole that is written to be reamed, with no fit and no limits: a stock reamer is taken, and somebody must know."""
    for feature in hole.features:
        if feature.kind is Kind.REAM and feature.tolerance is None:
            sentence = f"{feature.diameter.named} is to be reamed, and has no limits: a stock reamer of that size is taken."
            hint = "Look for its limits in the title block, or ask for them."
            yield Finding("REAM-LIMITS-UNSTATED", Severity.WATCH, sentence, feature, hint, "", COMMON_PRACTICE)


def closer_than_is_reamed(hole: Hole, part: Part) -> Iterator[Finding]:
    """Limits closer than any reamer or boring bar holds: a slip, or a hole that is honed or ground after."""
    for feature in hole.features:
        size_mm = feature.diameter.mm
        if feature.kind not in HOLE_KINDS or feature.tolerance is None or not 0 < size_mm <= fits.LARGEST_MM:
            continue
        width_um, least_um = _width_um(feature.tolerance, size_mm), fits.tolerance_um(size_mm, CLOSEST_GRADE)
        if width_um is None or width_um >= ROUNDED * least_um:
            continue
        zone = f"{feature.tolerance.zone} of " if feature.tolerance.zone else ""
        sentence = (
            f"{zone}Ø{feature.diameter.named}: limits {width_um:.3g} µm apart are closer than IT{CLOSEST_GRADE} "
            f"({least_um:g} µm), and no reamer or boring bar holds them."
        )
        hint = "Correct the limits, or say how the hole is finished (honed, ground) and measured."
        assumed = "finished as near as a reamer or a bar comes; no allowance is left for honing"
        yield Finding("CHECK-LIMITS-CLOSE", Severity.ASK, sentence, feature, hint, assumed, COMMON_PRACTICE)


def _width_um(tolerance: Tolerance, size_mm: float) -> float | None:
    """How far apart the limits of a hole are, by its zone where it has one; None: not two, or asked about as such."""
    low, high = tolerance.low_mm, tolerance.high_mm
    if tolerance.zone is not None:
        try:
            limits = fits.hole_limits(size_mm, tolerance.zone)
        except ValueError:
            return None
        low, high = limits.min_mm, limits.max_mm
    return None if low is None or high is None or high <= low else round((high - low) * 1000, 4)


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
                f"Ø{narrow.diameter.named} is finished, and Ø{wide.diameter.named} on the same axis, as deep, leaves "
                "nothing of it: two holes, or a wrong size?"
            )
            hint = "Give each hole its own row, or correct a size or a depth."
            yield Finding("CHECK-FINISHED-LOST", Severity.ASK, sentence, narrow, hint, "both made on one axis")
