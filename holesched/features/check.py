"""Whether a hole makes sense in itself: contradictions become questions with their figures.

Each check is a function of the hole and the part that gives findings; every hole meets every check.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import combinations

from holesched.callouts.caret import message
from holesched.callouts.model import Kind, Side
from holesched.features.completion import HEAD_KINDS, HOLE_KINDS
from holesched.features.model import Feature, Hole
from holesched.notes import COMMON_PRACTICE, Cite, Note, Severity
from holesched.standards import fits, threads
from holesched.standards.materials import find_material

SHORTEST_CHAMFER_PITCHES = 1.0
"""Threads of the shortest chamfer a cutting tap has (form F, 1 to 1.5; DIN 2197, the standard itself not seen)."""
ENOUGH_IN_STEEL, ENOUGH_IN_SOFT_METAL, LONGEST_THREAD = 2.0, 2.5, 3.0
"""Diameters of thread beyond which more adds no strength (steel and its like; aluminium, copper, plastics or not known), and
beyond which it is hard to tap at all. Common practice, no source."""
DEEP_HOLE_DIAMETERS = 10.0
SMALLEST_MM, LARGEST_MM = 0.5, 150.0
"""Beyond these, common practice asks: which unit, which hole?"""
_MICROMETRE = 0.0011


@dataclass(frozen=True, slots=True)
class Part:
    """What a check may know of the part: its thickness and its material as written."""

    thickness_mm: float | None
    material: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """What a check found wrong with one feature."""

    code: str
    severity: Severity
    sentence: str
    feature: Feature
    suggestion: str = ""
    assumed: str = ""
    cite: Cite | None = None


def check_hole(hole: Hole, thickness_mm: float | None, material: str = "") -> tuple[Note, ...]:
    """What contradicts itself in a hole, the part's thickness or, for the length of a thread, its material as written."""
    notes = []
    part = Part(thickness_mm, material)
    for check in CHECKS:
        for found in check(hole, part):
            spans = (found.feature.element.span,) if found.feature.element is not None else ()
            shown = message(found.sentence, hole.callout, *spans)
            notes.append(
                Note(found.code, found.severity, shown, found.suggestion, found.assumed, hole.callout, None, found.cite)
            )
    return tuple(notes)


def _deep(feature: Feature) -> float | None:
    """A feature's depth as a number: through is endless; None: open."""
    return float("inf") if feature.depth.through else feature.depth.mm


def _same_side(one: Feature, other: Feature) -> bool:
    return one.side is other.side or Side.BOTH in (one.side, other.side)


def _mm(value: float | None) -> str:
    return "through" if value == float("inf") else f"{value:g} mm"


def _taps(hole: Hole) -> Iterator[Feature]:
    return (feature for feature in hole.features if feature.kind is Kind.TAP)


def _major_mm(tap: Feature) -> float:
    return threads.geometry(tap.thread).basic_major_mm if tap.thread is not None else tap.diameter.mm


def pilot_of(tap: Feature, hole: Hole) -> Feature | None:
    """The stated hole that a thread is cut in: the narrowest drilled one from its side that is narrower than the thread."""
    narrower = [
        feature
        for feature in hole.features
        if feature.kind in HOLE_KINDS and _same_side(feature, tap) and feature.diameter.mm < _major_mm(tap)
    ]
    fitting = [feature for feature in narrower if feature.diameter.mm > 0.6 * tap.diameter.mm]
    return max(fitting, key=lambda feature: feature.diameter.mm, default=None)


def drill_over_thread(hole: Hole, part: Part) -> Iterator[Finding]:
    """A stated hole as wide as the thread and as deep: no thread can exist."""
    for tap in _taps(hole):
        for drill in hole.features:
            if drill.kind not in HOLE_KINDS or not _same_side(drill, tap) or drill.diameter.mm < _major_mm(tap):
                continue
            deep, thread_deep = _deep(drill), _deep(tap)
            if deep is not None and thread_deep is not None and deep >= thread_deep:
                sentence = (
                    f"The hole of {drill.diameter.label} ({drill.diameter.mm:g} mm) is as wide as {tap.diameter.label}"
                    f" ({_major_mm(tap):g} mm): no thread can be cut in it."
                )
                hint = "Correct the drill or the thread."
                yield Finding("CHECK-DRILL-OVER-THREAD", Severity.REFUSED, sentence, drill, hint)


def thread_deeper_than_drill(hole: Hole, part: Part) -> Iterator[Finding]:
    """A thread deeper than the drilled hole stated for it, or with less than one pitch of room under it."""
    for tap in _taps(hole):
        pilot = pilot_of(tap, hole)
        stated = pilot.depth if pilot is not None else tap.pilot_depth
        if stated is None or stated.through or stated.mm is None or tap.thread is None:
            continue
        thread_deep = _deep(tap)
        if thread_deep is None:
            continue
        if thread_deep > stated.mm:
            sentence = f"The thread ({_mm(thread_deep)}) is deeper than the drilled hole stated for it ({stated.mm:g} mm)."
            yield Finding("CHECK-THREAD-DEPTH", Severity.REFUSED, sentence, tap, "Drill deeper, or shorten the thread.")
        elif stated.mm - thread_deep < SHORTEST_CHAMFER_PITCHES * tap.thread.pitch_mm - 1e-9:
            room = stated.mm - thread_deep
            sentence = (
                f"Only {room:.3g} mm ({room / tap.thread.pitch_mm:.2g} pitches) are left under the thread: "
                "no cutting tap has so short a chamfer."
            )
            hint = "Allow a deeper hole, or a shorter thread; a thread mill needs less room."
            yield Finding("CHECK-THREAD-ROOM", Severity.ASK, sentence, tap, hint, "as written")


def deeper_than_part(hole: Hole, part: Part) -> Iterator[Finding]:
    """A blind depth that reaches or passes the part's other face."""
    thickness_mm = part.thickness_mm
    if thickness_mm is None:
        return
    for feature in hole.features:
        deep = feature.depth.mm
        if deep is None or feature.depth.through or deep < thickness_mm - 1e-9:
            continue
        severity = Severity.REFUSED if feature.kind in HEAD_KINDS else Severity.ASK
        sentence = f"{deep:g} mm deep in a part {thickness_mm:g} mm thick: it comes out on the other face."
        hint = "Write THRU, or a smaller depth."
        yield Finding("CHECK-DEEPER-THAN-PART", severity, sentence, feature, hint, "the depth written")


def opening_smaller_than_hole(hole: Hole, part: Part) -> Iterator[Finding]:
    """A counterbore, countersink or spotface no wider than the hole it stands on."""
    names = {Kind.COUNTERBORE: "counterbore", Kind.COUNTERSINK: "countersink", Kind.SPOTFACE: "spotface"}
    for feature in hole.features:
        if feature.kind not in HEAD_KINDS:
            continue
        holes = [f for f in hole.features if f.kind not in HEAD_KINDS and (_same_side(f, feature) or f.depth.through)]
        deep = feature.depth.mm or 0.0
        reaching = [f for f in holes if (_deep(f) or 0.0) > deep]
        widest = max(reaching, key=lambda f: f.diameter.mm, default=None)
        if widest is not None and feature.diameter.mm <= widest.diameter.mm:
            sentence = (
                f"The {names[feature.kind]} of {feature.diameter.label} is no wider than its hole, {widest.diameter.label}."
            )
            yield Finding("CHECK-OPENING-SMALL", Severity.REFUSED, sentence, feature, "Correct one of the diameters.")


def steps_that_cut_nothing(hole: Hole, part: Part) -> Iterator[Finding]:
    """A later hole inside an earlier one, or a wide hole that has nothing left: a ream larger than the step after it."""
    made = [feature for feature in hole.features if feature.kind in HOLE_KINDS]
    for first, second in combinations(made, 2):
        deep, deeper = _deep(first), _deep(second)
        if not _same_side(first, second) or deep is None or deeper is None:
            continue
        if first.kind in (Kind.REAM, Kind.BORE) and second.diameter.mm <= first.diameter.mm and deeper <= deep:
            sentence = (
                f"{second.diameter.label} follows a hole of {first.diameter.label}, wider and as deep: nothing is left."
            )
            yield Finding(
                "CHECK-STEP-ORDER", Severity.ASK, sentence, second, "Correct the sizes or their order.", "as written"
            )
        elif second.kind is Kind.REAM and first.diameter.mm < second.diameter.mm and deeper > deep:
            sentence = f"The reamed hole ({_mm(deeper)}) is deeper than the hole drilled for it ({_mm(deep)})."
            yield Finding("CHECK-REAM-DEPTH", Severity.REFUSED, sentence, second, "Drill deeper, or ream less deep.")
        elif second.kind is Kind.REAM and first.diameter.mm >= second.diameter.mm and deep >= deeper:
            sentence = f"The hole of {first.diameter.label} is not smaller than the reamed one of {second.diameter.label}."
            yield Finding("CHECK-REAM-SMALL", Severity.REFUSED, sentence, second, "Correct one of the diameters.")


def two_threads(hole: Hole, part: Part) -> Iterator[Finding]:
    """Two threads from one side are possible only as steps, the narrower one deeper and inside the wider one's bore."""
    for first, second in combinations(_taps(hole), 2):
        if not _same_side(first, second) or first.thread is None or second.thread is None:
            continue
        wide, narrow = sorted((first, second), key=lambda tap: -tap.diameter.mm)
        stepped = (_deep(narrow) or 0.0) > (_deep(wide) or 0.0)
        inside = wide.thread is not None and _major_mm(narrow) < threads.geometry(wide.thread).minor.min_mm
        if not (stepped and inside):
            sentence = (
                f"Two threads in one callout, {first.thread.name} and {second.thread.name}: two holes, or a choice of one?"
            )
            yield Finding("CHECK-TWO-THREADS", Severity.REFUSED, sentence, second, "Write each hole in its own row.")


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
                f"{tolerance.zone} of {feature.diameter.label} is {limits.min_mm:.3f} to {limits.max_mm:.3f} mm, "
                f"the limits written are {low:.3f} to {high:.3f} mm."
            )
            hint = "Correct the zone or the limits."
            yield Finding("CHECK-ZONE-LIMITS", Severity.ASK, sentence, feature, hint, "the limits written")


def through_from_both_sides(hole: Hole, part: Part) -> Iterator[Finding]:
    """A hole or thread that goes through and is called on both sides: one, or one from each face?"""
    for feature in hole.features:
        if feature.side is Side.BOTH and feature.depth.through and feature.kind not in HEAD_KINDS:
            sentence = "It goes through, and is called on both sides: one through, or one from each face?"
            hint = "Write THRU, or a depth for each side."
            yield Finding("CHECK-BOTH-SIDES", Severity.ASK, sentence, feature, hint, "one through")


def two_holes_in_one(hole: Hole, part: Part) -> Iterator[Finding]:
    """A drilled hole that vanishes in another one of its side, without a word that orders them: pilot, or two holes?"""
    drilled = [f for f in hole.features if f.kind is Kind.DRILL and f.element is not None]
    for first, second in combinations(drilled, 2):
        narrow, wide = sorted((first, second), key=lambda f: f.diameter.mm)
        ordered = all(f.element is not None and f.element.stated for f in (first, second))
        pilot = narrow.element is not None and "pilot hole" in narrow.element.uses
        deep, deeper = _deep(narrow), _deep(wide)
        if ordered or pilot or deep is None or deeper is None or deep > deeper or not _same_side(first, second):
            continue
        if first.diameter.mm != second.diameter.mm:
            sentence = (
                f"{first.diameter.label} and {second.diameter.label} on one axis, and nothing is left of the narrower one: "
                "a pilot hole, or two holes?"
            )
            hint = "Write PILOT before the smaller one, or give each hole its own row."
            yield Finding("CHECK-TWO-HOLES", Severity.ASK, sentence, second, hint, "both drilled on one axis")


def long_thread(hole: Hole, part: Part) -> Iterator[Finding]:
    """A thread longer than it need be costs torque and taps; one through more than three diameters is hardly meant."""
    metal = find_material(part.material).material if part.material else None
    enough = ENOUGH_IN_STEEL if metal is not None and metal.group in "PMKSH" else ENOUGH_IN_SOFT_METAL
    for tap in _taps(hole):
        if tap.thread is None or threads.geometry(tap.thread).taper:
            continue
        size, length_mm = tap.diameter.mm, _thread_length_mm(tap, hole, part)
        if length_mm is None or length_mm <= enough * size + 1e-9:
            continue
        longer = f"{length_mm:g} mm of thread are {length_mm / size:.3g} diameters"
        if tap.depth.through and length_mm > LONGEST_THREAD * size + 1e-9:
            sentence = f"The thread goes through: {longer}. Is the full thickness to be threaded?"
            hint = f"State the thread's length, {1.5 * size:g} to {2 * size:g} mm, or relieve it from the far side."
            yield Finding("CHECK-THREAD-LONG", Severity.ASK, sentence, tap, hint, "threaded through", COMMON_PRACTICE)
        else:
            sentence = f"{longer}: more than {enough:g} cost torque and add no strength."
            hint = f"Ask whether {1.5 * size:g} mm will do."
            yield Finding("CHECK-THREAD-LONG", Severity.WATCH, sentence, tap, hint, "", COMMON_PRACTICE)


def _thread_length_mm(tap: Feature, hole: Hole, part: Part) -> float | None:
    """The written length; of a through thread what wider steps leave of the part's thickness; None: not known."""
    if not tap.depth.through:
        return tap.depth.mm
    if part.thickness_mm is None:
        return None
    wider = [f for f in hole.features if f is not tap and f.diameter.mm >= _major_mm(tap) and f.depth.mm is not None]
    near = max((f.depth.mm or 0.0 for f in wider if f.side is not Side.FAR), default=0.0)
    far = max((f.depth.mm or 0.0 for f in wider if f.side is not Side.NEAR), default=0.0)
    return max(part.thickness_mm - near - far, 0.0)


def sizes_out_of_the_way(hole: Hole, part: Part) -> Iterator[Finding]:
    """Sizes and depths so small or large that a unit or a decimal point may be wrong."""
    for feature in hole.features:
        size, deep = feature.diameter.mm, feature.depth.mm
        if not SMALLEST_MM <= size <= LARGEST_MM and feature.kind is not Kind.TAP:
            sentence = f"A diameter of {size:g} mm: is the unit right, and the decimal point?"
            yield Finding("CHECK-SIZE", Severity.ASK, sentence, feature, "Confirm it, with its unit.", f"{size:g} mm")
        if feature.kind is Kind.TAP and feature.thread is not None and deep is not None:
            if deep < 1.5 * feature.thread.pitch_mm:
                sentence = f"A thread {deep:g} mm deep has {deep / feature.thread.pitch_mm:.2g} turns: is the unit right?"
                yield Finding("CHECK-DEPTH", Severity.ASK, sentence, feature, "Confirm it, with its unit.", f"{deep:g} mm")
        elif feature.kind in HOLE_KINDS and deep is not None:
            if deep < 0.2 * size:
                sentence = f"A hole {size:g} mm wide and {deep:g} mm deep: is the unit right?"
                yield Finding("CHECK-DEPTH", Severity.ASK, sentence, feature, "Confirm it, with its unit.", f"{deep:g} mm")
            elif deep > DEEP_HOLE_DIAMETERS * size:
                sentence = f"A hole {deep / size:.3g} diameters deep needs deep-hole drilling; it may drift."
                yield Finding("CHECK-HOLE-DEEP", Severity.WATCH, sentence, feature, "", "", COMMON_PRACTICE)


Check = Callable[[Hole, Part], Iterator[Finding]]
CHECKS: tuple[Check, ...] = (
    drill_over_thread,
    thread_deeper_than_drill,
    deeper_than_part,
    opening_smaller_than_hole,
    steps_that_cut_nothing,
    two_threads,
    zone_against_limits,
    through_from_both_sides,
    two_holes_in_one,
    long_thread,
    sizes_out_of_the_way,
)
