"""Whether a thread makes sense with its drilled hole, with other threads and with the part."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from holesched.callouts.model import Kind, Side
from holesched.features.completion import FINISHED, HOLE_KINDS
from holesched.features.findings import Finding, Part, covers, deep_mm, depth_text, major_mm, same_side, taps
from holesched.features.model import Feature, Hole
from holesched.notes import COMMON_PRACTICE, Severity
from holesched.standards import threads
from holesched.standards.materials import find_material
from holesched.standards.threads.base import ThreadGeometry

PILOT_UNDER_P = 0.5
"""Pitches under the smallest minor diameter to which a hole may be meant as the thread's. Common practice, no source."""
SHORTEST_CHAMFER_PITCHES = 1.0
"""Threads of the shortest chamfer a cutting tap has (form F, 1 to 1.5; DIN 2197, the standard itself not seen)."""
LEAST_LEFT = 0.5
"""Diameters of thread below which none is meant. Common practice, no source."""
ENOUGH_IN_STEEL, ENOUGH_IN_SOFT_METAL, LONGEST_THREAD = 2.0, 2.5, 3.0
"""Diameters of thread beyond which more adds no strength (steel and its like; aluminium, copper, plastics or not known), and
beyond which it is hard to tap at all. Common practice, no source."""


def pilot_of(tap: Feature, hole: Hole) -> Feature | None:
    """The stated hole that a thread is cut in: the narrowest drilled one from its side that is narrower than the thread."""
    narrower = [
        feature
        for feature in hole.features
        if feature.kind in HOLE_KINDS and same_side(feature, tap) and feature.diameter.mm < major_mm(tap)
    ]
    fitting = [feature for feature in narrower if feature.diameter.mm > 0.6 * tap.diameter.mm]
    return max(fitting, key=lambda feature: feature.diameter.mm, default=None)


def drill_over_thread(hole: Hole, part: Part) -> Iterator[Finding]:
    """A stated hole as wide as the thread and as deep, from its side or through: no thread can exist."""
    for tap in taps(hole):
        for drill in hole.features:
            if drill.kind in HOLE_KINDS and drill.diameter.mm >= major_mm(tap) and covers(drill, tap):
                sentence = (
                    f"The hole of {drill.diameter.label} ({drill.diameter.mm:g} mm) is as wide as {tap.diameter.label}"
                    f" ({major_mm(tap):g} mm): no thread can be cut in it."
                )
                hint = "Correct the drill or the thread."
                yield Finding("CHECK-DRILL-OVER-THREAD", Severity.REFUSED, sentence, drill, hint)


def thread_under_wide_hole(hole: Hole, part: Part) -> Iterator[Finding]:
    """A thread of which a hole or counterbore from its side leaves next to nothing: two holes in one callout?"""
    for tap in taps(hole):
        for wide in hole.features:
            if wide.kind not in (*HOLE_KINDS, Kind.COUNTERBORE) or wide.diameter.mm < major_mm(tap):
                continue
            deep, thread_deep = deep_mm(wide), deep_mm(tap)
            if deep is None or thread_deep is None or wide.side is not tap.side or not deep < thread_deep < float("inf"):
                continue
            left_mm = thread_deep - deep
            if left_mm >= LEAST_LEFT * tap.diameter.mm:
                continue
            sentence = (
                f"Ø{wide.diameter.named}, {deep:g} mm deep, leaves {left_mm:.3g} mm of {tap.diameter.label}: two holes, or "
                "is the thread's depth counted from that step?"
            )
            hint = "Give each hole its own row, or the thread its depth from the face."
            yield Finding("CHECK-THREAD-LEFT", Severity.ASK, sentence, tap, hint, "both made on one axis")


def thread_deeper_than_drill(hole: Hole, part: Part) -> Iterator[Finding]:
    """A thread deeper than the drilled hole stated for it, or with less than one pitch of room under it."""
    for tap in taps(hole):
        pilot = pilot_of(tap, hole)
        stated = pilot.depth if pilot is not None else tap.pilot_depth
        if stated is None or stated.through or stated.mm is None or tap.thread is None:
            continue
        thread_deep = deep_mm(tap)
        if thread_deep is None:
            continue
        if thread_deep > stated.mm:
            sentence = (
                f"The thread ({depth_text(thread_deep)}) is deeper than the drilled hole stated for it ({stated.mm:g} mm)."
            )
            yield Finding("CHECK-THREAD-DEPTH", Severity.REFUSED, sentence, tap, "Drill deeper, or shorten the thread.")
        elif stated.mm - thread_deep < SHORTEST_CHAMFER_PITCHES * tap.thread.pitch_mm - 1e-9:
            room = stated.mm - thread_deep
            sentence = (
                f"Only {room:.3g} mm ({room / tap.thread.pitch_mm:.2g} pitches) are left under the thread: "
                "no cutting tap has so short a chamfer."
            )
            hint = "Allow a deeper hole, or a shorter thread; a thread mill needs less room."
            yield Finding("CHECK-THREAD-ROOM", Severity.ASK, sentence, tap, hint, "as written")


def two_threads(hole: Hole, part: Part) -> Iterator[Finding]:
    """Two threads from one side are possible only as steps, the narrower one deeper and inside the wider one's bore."""
    for first, second in combinations(taps(hole), 2):
        if not same_side(first, second) or first.thread is None or second.thread is None:
            continue
        wide, narrow = sorted((first, second), key=lambda tap: -tap.diameter.mm)
        stepped = (deep_mm(narrow) or 0.0) > (deep_mm(wide) or 0.0)
        inside = wide.thread is not None and major_mm(narrow) < threads.geometry(wide.thread).minor.min_mm
        if not (stepped and inside):
            sentence = (
                f"Two threads in one callout, {first.thread.name} and {second.thread.name}: two holes, or a choice of one?"
            )
            yield Finding("CHECK-TWO-THREADS", Severity.REFUSED, sentence, second, "Write each hole in its own row.")


def long_through_thread(hole: Hole, part: Part) -> Iterator[Finding]:
    """A through thread longer than it need be costs torque and taps; one of more than three diameters is hardly meant."""
    for tap, length_mm, enough in _long_threads(hole, part):
        size = tap.diameter.mm
        if not tap.depth.through:
            continue
        if length_mm <= LONGEST_THREAD * size + 1e-9:
            yield _longer_than_enough(tap, length_mm, enough)
            continue
        sentence = f"The thread goes through: {_longer(length_mm, size)}. Is the full thickness to be threaded?"
        hint = f"State the thread's length, {1.5 * size:.3g} to {2 * size:.3g} mm, or relieve it from the far side."
        yield Finding("CHECK-THREAD-LONG", Severity.ASK, sentence, tap, hint, "threaded through", COMMON_PRACTICE)


def long_blind_thread(hole: Hole, part: Part) -> Iterator[Finding]:
    """A blind thread longer than it need be costs torque and taps."""
    for tap, length_mm, enough in _long_threads(hole, part):
        if not tap.depth.through:
            yield _longer_than_enough(tap, length_mm, enough)


def _long_threads(hole: Hole, part: Part) -> Iterator[tuple[Feature, float, float]]:
    """The parallel threads that are longer than adds strength, with their length, mm, and what is enough, in diameters."""
    metal = find_material(part.material).material if part.material else None
    enough = ENOUGH_IN_STEEL if metal is not None and metal.group in "PMKSH" else ENOUGH_IN_SOFT_METAL
    for tap in taps(hole):
        if tap.thread is None or threads.geometry(tap.thread).taper:
            continue
        length_mm = _thread_length_mm(tap, hole, part)
        if length_mm is not None and length_mm > enough * tap.diameter.mm + 1e-9:
            yield tap, length_mm, enough


def _longer_than_enough(tap: Feature, length_mm: float, enough: float) -> Finding:
    size = tap.diameter.mm
    sentence = f"{_longer(length_mm, size)}: more than {enough:g} cost torque and add no strength."
    hint = f"Ask whether {1.5 * size:.3g} mm will do."
    return Finding("CHECK-THREAD-LONG", Severity.WATCH, sentence, tap, hint, "", COMMON_PRACTICE)


def _longer(length_mm: float, size_mm: float) -> str:
    return f"{length_mm:g} mm of thread are {length_mm / size_mm:.3g} diameters"


def _thread_length_mm(tap: Feature, hole: Hole, part: Part) -> float | None:
    """The written length; of a through thread what wider steps leave of the part's thickness; None: not known."""
    if not tap.depth.through:
        return tap.depth.mm
    if part.thickness_mm is None:
        return None
    wider = [f for f in hole.features if f is not tap and f.diameter.mm >= major_mm(tap) and f.depth.mm is not None]
    near = max((f.depth.mm or 0.0 for f in wider if f.side is not Side.FAR), default=0.0)
    far = max((f.depth.mm or 0.0 for f in wider if f.side is not Side.NEAR), default=0.0)
    return max(part.thickness_mm - near - far, 0.0)


def lost_in_thread(hole: Hole, part: Part) -> Iterator[Finding]:
    """A hole that its thread takes away again: finished, or so narrow that it is not the thread's own drilled one; a
    finished hole that goes on under the thread and is too wide for it."""
    for tap in taps(hole):
        shape = threads.geometry(tap.thread) if tap.thread is not None else None
        if shape is None:
            continue
        for bore in hole.features:
            if bore.kind not in HOLE_KINDS or bore.diameter.mm >= major_mm(tap):
                continue
            finished, size = bore.kind in FINISHED, bore.diameter
            pilot = bore.element is not None and "pilot hole" in bore.element.uses
            if covers(tap, bore) and not pilot and (finished or _too_narrow(bore, shape)):
                sentence = (
                    f"Nothing is left of Ø{size.named} in {shape.spec.designation}, which is cut in a hole of "
                    f"{shape.minor.min_mm:.2f} mm or more, as deep: two holes, or a wrong size?"
                )
                hint = "Give each hole its own row, or correct a size or a depth."
                yield Finding("CHECK-LOST-IN-THREAD", Severity.ASK, sentence, bore, hint, "both made on one axis")
            elif finished and same_side(bore, tap) and shape.minor.max_mm is not None and size.mm > shape.minor.max_mm:
                sentence = (
                    f"The finished hole of Ø{size.named} goes through {shape.spec.designation}, and is wider than its "
                    f"largest minor diameter, {shape.minor.max_mm:.3f} mm: the thread is not full."
                )
                hint = "Correct the hole or the thread."
                yield Finding("CHECK-BORE-IN-THREAD", Severity.ASK, sentence, bore, hint, "as written", shape.cites[0])


def _too_narrow(drill: Feature, shape: ThreadGeometry) -> bool:
    """Whether a hole is too narrow to be meant as the drilled one of a thread; a taper thread's depends on its reamer."""
    return not shape.taper and drill.diameter.mm < shape.minor.min_mm - PILOT_UNDER_P * shape.spec.pitch_mm


def drill_outside_limits(hole: Hole, part: Part) -> Iterator[Finding]:
    """A drilled hole stated for a thread that is outside the limits of its minor diameter."""
    for tap in taps(hole):
        pilot = pilot_of(tap, hole)
        shape = threads.geometry(tap.thread) if tap.thread is not None else None
        if pilot is None or pilot.kind in FINISHED or shape is None or shape.taper or shape.minor.max_mm is None:
            continue
        if covers(tap, pilot) and _too_narrow(pilot, shape):
            continue  # asked about as lost in the thread
        low_mm, high_mm = shape.minor.min_mm, shape.minor.max_mm
        if low_mm - 1e-9 <= pilot.diameter.mm <= high_mm + 1e-9:
            continue
        what = "under the smallest" if pilot.diameter.mm < low_mm else "over the largest"
        sentence = (
            f"The drill stated, {pilot.diameter.label} ({pilot.diameter.mm:g} mm), is {what} minor diameter of "
            f"{shape.spec.designation}: {low_mm:.3f} to {high_mm:.3f} mm."
        )
        hint = "Correct the drill or the thread; a hole for a forming tap is wider, say so."
        yield Finding("CHECK-TAP-DRILL", Severity.ASK, sentence, pilot, hint, "drilled as stated", shape.cites[0])
