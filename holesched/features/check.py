"""Whether a hole makes sense in itself: contradictions become questions with their figures.

Each check is a function of the hole and the part that gives findings; every hole meets every check.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import combinations

from holesched.callouts.caret import message
from holesched.callouts.model import Kind
from holesched.features import check_finished, check_sides, check_threads
from holesched.features.completion import FINISHED, HEAD_KINDS, HOLE_KINDS
from holesched.features.findings import Finding, Part, deep_mm, depth_text, major_mm, same_side
from holesched.features.model import Hole
from holesched.notes import COMMON_PRACTICE, Note, Severity
from holesched.standards import fits

DEEP_HOLE_DIAMETERS = 10.0
SMALLEST_MM, LARGEST_MM = 0.5, 150.0
"""Beyond these, common practice asks: which unit, which hole?"""
RECESS_FROM_MM, SHALLOWEST_RECESS = 20.0, 0.05
"""A wide hole may be a recess for a seal: asked only below this share of its width. Common practice, no source."""
LONGEST_DIAMETERS = 8.0
"""A thread longer than that many of its diameters is hardly meant. Common practice, no source."""
PRE_DRILL_SHARE = 0.85
"""Of a reamed or bored diameter: a narrower hole before it is hardly its drilled one. Common practice, no source."""
DEEPEST_SEAT_DIAMETERS = 5.0
"""A counterbore deeper than that many of its diameters is hardly meant. Common practice, no source."""
_MICROMETRE = 0.0011


def check_hole(hole: Hole, part: Part, alone: bool = False) -> tuple[Note, ...]:
    """What contradicts itself in a hole, or the part. `alone`: no tools will be planned for it, which ask more."""
    notes = []
    for check in (*CHECKS, *CHECKS_WITHOUT_TOOLS) if alone else CHECKS:
        for found in check(hole, part):
            spans = (found.feature.element.span,) if found.feature.element is not None else ()
            shown = message(found.sentence, hole.callout, *spans)
            notes.append(
                Note(found.code, found.severity, shown, found.suggestion, found.assumed, hole.callout, None, found.cite)
            )
    return tuple(notes)


def deeper_than_part(hole: Hole, part: Part) -> Iterator[Finding]:
    """A blind depth that reaches or passes the part's other face: the deepest, and every opening that has no floor left."""
    thickness_mm = part.thickness_mm
    if thickness_mm is None:
        return
    blind = [feature for feature in hole.features if not feature.depth.through]
    out = [feature for feature in blind if (feature.depth.mm or 0.0) >= thickness_mm - 1e-9]
    made = max((f for f in out if f.kind not in HEAD_KINDS), key=lambda f: f.depth.mm or 0.0, default=None)
    for feature in (f for f in out if f is made or f.kind in HEAD_KINDS):
        deep = feature.depth.mm
        severity = Severity.REFUSED if feature.kind in HEAD_KINDS else Severity.ASK
        sentence = f"{deep:g} mm deep in a part {thickness_mm:g} mm thick: it comes out on the other face."
        hint = "Write THRU, or a smaller depth."
        yield Finding("CHECK-DEEPER-THAN-PART", severity, sentence, feature, hint, "the depth written")
    for tap in hole.features:
        deep = tap.pilot_depth.mm if tap.pilot_depth is not None and tap not in out else None
        if deep is not None and deep >= thickness_mm - 1e-9 and not tap.depth.through:
            sentence = f"Drilled {deep:g} mm deep in a part {thickness_mm:g} mm thick: its drill comes out."
            hint = "Write THRU for the drilled hole, or a smaller depth."
            yield Finding("CHECK-DEEPER-THAN-PART", Severity.ASK, sentence, tap, hint, "the depth written")


def opening_smaller_than_hole(hole: Hole, part: Part) -> Iterator[Finding]:
    """A counterbore, countersink or spotface no wider than the hole it stands on."""
    names = {Kind.COUNTERBORE: "counterbore", Kind.COUNTERSINK: "countersink", Kind.SPOTFACE: "spotface"}
    for feature in hole.features:
        if feature.kind not in HEAD_KINDS:
            continue
        holes = [f for f in hole.features if f.kind not in HEAD_KINDS and (same_side(f, feature) or f.depth.through)]
        deep = feature.depth.mm or 0.0
        reaching = [f for f in holes if (deep_mm(f) or 0.0) > deep]
        widest = max(reaching, key=lambda f: f.diameter.mm, default=None)
        if widest is not None and feature.diameter.mm <= widest.diameter.mm:
            sentence = (
                f"The {names[feature.kind]} of {feature.diameter.named} is no wider than its hole, {widest.diameter.named}."
            )
            yield Finding("CHECK-OPENING-SMALL", Severity.REFUSED, sentence, feature, "Correct one of the diameters.")


def steps_that_cut_nothing(hole: Hole, part: Part) -> Iterator[Finding]:
    """A later hole inside an earlier one, or a wide hole that has nothing left: a ream larger than the step after it."""
    made = [feature for feature in hole.features if feature.kind in HOLE_KINDS]
    for first, second in combinations(made, 2):
        deep, deeper = deep_mm(first), deep_mm(second)
        if not same_side(first, second) or deep is None or deeper is None:
            continue
        if first.kind in FINISHED and second.diameter.mm <= first.diameter.mm and deeper <= deep:
            sentence = (
                f"{second.diameter.named} follows a hole of {first.diameter.named}, wider and as deep: nothing is left."
            )
            yield Finding(
                "CHECK-STEP-ORDER", Severity.ASK, sentence, second, "Correct the sizes or their order.", "as written"
            )
        elif second.kind is Kind.REAM and first.diameter.mm < second.diameter.mm and deeper > deep:
            sentence = f"The reamed hole ({depth_text(deeper)}) is deeper than the hole drilled for it ({depth_text(deep)})."
            yield Finding("CHECK-REAM-DEPTH", Severity.REFUSED, sentence, second, "Drill deeper, or ream less deep.")
        elif second.kind is Kind.REAM and first.diameter.mm >= second.diameter.mm and deep >= deeper:
            sentence = f"The hole of {first.diameter.named} is not smaller than the reamed one of {second.diameter.named}."
            yield Finding("CHECK-REAM-SMALL", Severity.REFUSED, sentence, second, "Correct one of the diameters.")


def zone_against_limits(hole: Hole, part: Part) -> Iterator[Finding]:
    """A tolerance zone written together with limits that are not its own; limits the wrong way round a size."""
    for feature in hole.features:
        tolerance = feature.tolerance
        if tolerance is None or tolerance.zone is None:
            continue
        try:
            limits = fits.hole_limits(feature.diameter.mm, tolerance.zone)
        except ValueError as problem:
            yield Finding("FIT-UNKNOWN", Severity.REFUSED, str(problem.args[0]), feature, "Write a hole zone such as H7.")
            continue
        low, high = tolerance.low_mm, tolerance.high_mm
        if low is None or high is None or limits.max_mm is None:
            continue
        if abs(low - limits.min_mm) > _MICROMETRE or abs(high - limits.max_mm) > _MICROMETRE:
            sentence = (
                f"{tolerance.zone} of {feature.diameter.named} is {limits.min_mm:.3f} to {limits.max_mm:.3f} mm, "
                f"the limits written are {low:.3f} to {high:.3f} mm."
            )
            hint = "Correct the zone or the limits."
            yield Finding("CHECK-ZONE-LIMITS", Severity.ASK, sentence, feature, hint, "the limits written")


def two_holes_in_one(hole: Hole, part: Part) -> Iterator[Finding]:
    """A drilled hole that vanishes in another one of its side, without a word that orders them: pilot, or two holes?

    A reamed or bored hole has a drilled one before it, nearly as wide.
    """
    made = [f for f in hole.features if f.kind in HOLE_KINDS and f.element is not None]
    for first, second in combinations(made, 2):
        narrow, wide = sorted((first, second), key=lambda f: f.diameter.mm)
        if narrow.kind is not Kind.DRILL or (wide is first and wide.kind in FINISHED):
            continue  # a finished one that comes to nothing, or after which nothing is left, is asked about as such
        ordered = all(f.element is not None and f.element.stated for f in (first, second))
        if wide.kind is not Kind.DRILL and narrow.diameter.mm >= PRE_DRILL_SHARE * wide.diameter.mm:
            continue
        pilot = narrow.element is not None and "pilot hole" in narrow.element.uses
        deep, deeper = deep_mm(narrow), deep_mm(wide)
        if ordered or pilot or deep is None or deeper is None or deep > deeper or not same_side(first, second):
            continue
        if first.diameter.mm != second.diameter.mm:
            sentence = (
                f"{first.diameter.named} and {second.diameter.named} on one axis, and nothing is left of the narrower one: "
                "a pilot hole, or two holes?"
            )
            hint = "Write PILOT before the smaller one, or give each hole its own row."
            yield Finding("CHECK-TWO-HOLES", Severity.ASK, sentence, second, hint, "both drilled on one axis")


def sizes_out_of_the_way(hole: Hole, part: Part) -> Iterator[Finding]:
    """Sizes and depths so small or large that a unit or a decimal point may be wrong."""
    for feature in hole.features:
        size, deep = feature.diameter.mm, feature.depth.mm
        if not SMALLEST_MM <= size <= LARGEST_MM and feature.kind is not Kind.TAP:
            sentence = f"A diameter of {size:g} mm: is the unit right, and the decimal point?"
            yield Finding("CHECK-SIZE", Severity.ASK, sentence, feature, "Confirm it, with its unit.", f"{size:g} mm")
        if feature.kind is Kind.TAP and feature.thread is not None and deep is not None:
            if deep > LONGEST_DIAMETERS * major_mm(feature):
                sentence = f"A thread {deep:g} mm deep, {deep / major_mm(feature):.3g} diameters: is the unit right?"
                yield Finding("CHECK-DEPTH", Severity.ASK, sentence, feature, "Confirm it, with its unit.", f"{deep:g} mm")
            if deep < 1.5 * feature.thread.pitch_mm:
                sentence = f"A thread {deep:g} mm deep has {deep / feature.thread.pitch_mm:.2g} turns: is the unit right?"
                yield Finding("CHECK-DEPTH", Severity.ASK, sentence, feature, "Confirm it, with its unit.", f"{deep:g} mm")
        elif feature.kind in HEAD_KINDS and deep is not None and deep > DEEPEST_SEAT_DIAMETERS * size:
            sentence = f"A counterbore {size:g} mm wide and {deep:g} mm deep: is the unit right?"
            yield Finding("CHECK-DEPTH", Severity.ASK, sentence, feature, "Confirm it, with its unit.", f"{deep:g} mm")
        elif feature.kind in HOLE_KINDS and deep is not None:
            if deep < (SHALLOWEST_RECESS if size >= RECESS_FROM_MM else 0.2) * size:
                sentence = f"A hole {size:g} mm wide and {deep:g} mm deep: is the unit right?"
                yield Finding("CHECK-DEPTH", Severity.ASK, sentence, feature, "Confirm it, with its unit.", f"{deep:g} mm")
            elif deep > DEEP_HOLE_DIAMETERS * size:
                sentence = f"A hole {deep / size:.3g} diameters deep needs deep-hole drilling; it may drift."
                yield Finding("CHECK-HOLE-DEEP", Severity.WATCH, sentence, feature, "", "", COMMON_PRACTICE)


Check = Callable[[Hole, Part], Iterator[Finding]]
CHECKS: tuple[Check, ...] = (
    check_threads.drill_over_thread,
    check_threads.thread_under_wide_hole,
    check_threads.thread_deeper_than_drill,
    deeper_than_part,
    opening_smaller_than_hole,
    steps_that_cut_nothing,
    check_threads.two_threads,
    zone_against_limits,
    check_sides.through_from_both_sides,
    check_sides.blind_from_both_sides,
    check_sides.head_over_no_hole,
    two_holes_in_one,
    check_threads.long_through_thread,
    sizes_out_of_the_way,
    check_finished.reamed_without_limits,
    check_finished.closer_than_is_reamed,
    check_finished.finished_then_lost,
    check_threads.lost_in_thread,
)
CHECKS_WITHOUT_TOOLS: tuple[Check, ...] = (check_threads.drill_outside_limits, check_threads.long_blind_thread)
"""For a callout read by itself; in a job the tools say the same, with the oversize that a drill cuts and the time that a
shorter thread saves."""
