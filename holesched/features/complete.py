"""A callout made whole: what standards supply is filled in and noted, what they do not supply is asked.

One function a kind of step; each gives the feature, or None with a note that says why there is none.
"""

from __future__ import annotations

import re
from itertools import pairwise

from holesched.callouts.model import WALLS_WRITTEN, Callout, Depth, Element, Kind
from holesched.features.completion import HEAD_KINDS, HOLE_KINDS, Completion, made_length, sentence_of
from holesched.features.fasteners import clearance, seats
from holesched.features.model import Feature, Hole
from holesched.features.openings import countersink, flat
from holesched.features.pilots import BEFORE_REAMING, is_open_pilot, pilot_depth
from holesched.notes import COMMON_PRACTICE, Cite, Note, Severity, Standing
from holesched.standards import fits, threads
from holesched.standards.sizes import Size
from holesched.standards.threads import npt
from holesched.standards.threads.pipe_depths import pipe_depths

DRILLED_GRADE = 11
"""IT11 and coarser is drilled; a finer zone, or narrower limits, is reamed or bored. Common practice, no source."""
SHORT_LENGTH_DIAMETERS = 0.75
"""Below this, a number behind the x is as likely a wrong pitch as a thread length. Common practice, no source."""
ONE_WALL = re.compile(r"\b(?:ONE|1|1ST|NEAR|FIRST) WALL\b", re.IGNORECASE)
TAPER_SERIES = frozenset((*npt.TAPER_SERIES, "Rc"))
DRILLED_OVER_THREAD = 1.25
"""Depth of a blind hole over that of its thread, as drawings show it (ISO 6410-1, from memory)."""
SAME_DEPTH_MM = 1e-9
INTO = re.compile(r"\b(?:TO|INTO|FROM)\b", re.IGNORECASE)
HAND_RULE = Cite("ISO 965-1; ASME B1.1", place="designation: left-hand threads bear LH", standing=Standing.FROM_MEMORY)
THROUGH_RULE = Cite("ISO 15786", "2008", "no depth: through hole", Standing.FROM_MEMORY)


def complete_callout(callout: Callout, thickness_mm: float | None = None) -> tuple[Hole | None, tuple[Note, ...]]:
    """The hole a callout asks for, and what was assumed or must be asked; no hole when a size or depth is missing."""
    work = Completion(callout, thickness_mm)
    work.pilot_depth = next((e.depth for e in callout.elements if is_open_pilot(e, callout)), None)
    for element in _chamfers_behind(callout.elements):
        feature = _feature(work, element)
        if feature is not None:
            work.features.append(feature)
    if not work.features or any(note.code in NO_FEATURE for note in work.notes):
        return None, tuple(work.notes)
    seats(work)
    _watch(work)
    return Hole(tuple(work.features), callout.text, callout.circle, callout.remarks, callout.coating), tuple(work.notes)


def _chamfers_behind(elements: tuple[Element, ...]) -> tuple[Element, ...]:
    """CHAM 1x45°, M8 ↧16: a chamfer written first stands behind the hole that it is as wide as."""
    first = next((at for at, element in enumerate(elements) if element.chamfer_mm is None), 0)
    return (elements[first], *elements[:first], *elements[first + 1 :]) if first else elements


NO_FEATURE = frozenset(
    {
        "THREAD-MISSING",
        "THREAD-UNKNOWN",
        "THREAD-CLASS-EXTERNAL",
        "SIZE-MISSING",
        "DEPTH-MISSING",
        "FASTENER-UNKNOWN",
        "FASTENER-SIZE-UNKNOWN",
        "CHAMFER-WITHOUT-HOLE",
    }
)
"""Refusals that leave a step out: half a hole is never handed on."""


def _feature(work: Completion, element: Element) -> Feature | None:
    if element.kind is Kind.TAP:
        return _tap(work, element)
    if is_open_pilot(element, work.callout):
        return None
    if element.kind in HOLE_KINDS:
        return _plain_hole(work, element)
    if element.kind is Kind.COUNTERSINK:
        return countersink(work, element)
    return flat(work, element)


def _tap(work: Completion, element: Element) -> Feature | None:
    if element.thread is None:
        hint = "Write the thread, e.g. M8x1.25-6H."
        work.note("THREAD-MISSING", Severity.REFUSED, "A tapped hole, but no thread is named.", element.span, hint)
        return None
    answer = threads.complete(element.thread)
    if answer.spec is None:
        written = element.thread.thread_class or ""
        external = bool(written) and (written[-1] in "efgh" or (written[-1] == "A" and written[0].isdigit()))
        code = "THREAD-CLASS-EXTERNAL" if external else "THREAD-UNKNOWN"
        work.note(code, Severity.REFUSED, sentence_of(answer.problem), element.span, sentence_of(answer.suggestion))
        return None
    for supplied in answer.supplied:
        work.assume(supplied.code, supplied.text, supplied.text.rpartition(": ")[2], supplied.cite)
    if not answer.spec.left_hand and "right hand" not in element.uses:
        work.assume("THREAD-HAND-ASSUMED", "threads without LH are right-hand", "RH", HAND_RULE)
    for code, problem, suggestion in answer.questions:
        work.note(code, Severity.ASK, sentence_of(problem), element.span, sentence_of(suggestion), answer.spec.designation)
    length_mm = element.thread.length_mm
    if length_mm is not None and length_mm < SHORT_LENGTH_DIAMETERS * answer.spec.nominal.mm:
        sentence = (
            f"{length_mm:g} mm behind the x is no pitch of {answer.spec.nominal.label}, and short for a thread length."
        )
        hint = f"Write {answer.spec.name} and the depth with its sign."
        work.note("THREAD-LENGTH-DOUBTFUL", Severity.ASK, sentence, element.span, hint, f"depth {length_mm:g} mm")
    spec = answer.spec
    depth = _tap_depth(work, element, spec)
    if depth is None:
        return None
    pilot_depth = work.pilot_depth
    if depth.through and depth.mm is not None:
        depth, pilot_depth = _in_through_hole(work, element, depth)
    return Feature(
        Kind.TAP,
        spec.nominal,
        depth,
        thread=spec,
        side=element.side,
        element=element,
        pilot_depth=pilot_depth,
        insert_diameters=_insert_diameters(work, element),
    )


def _insert_diameters(work: Completion, element: Element) -> float | None:
    """The length of a wire insert, written in diameters or mm, if inserts are made in it; another one is asked."""
    written = element.insert_diameters
    if written is None:
        return None
    made = made_length(written)
    if made is not None:
        return made
    sentence = f"{written:g} screw diameters is no length of a wire insert: 1, 1.5, 2, 2.5 and 3 are."
    work.note("INSERT-LENGTH", Severity.ASK, sentence, element.span, "Write the insert's length.", "not known")
    return None


def _tap_depth(work: Completion, element: Element, spec: threads.ThreadSpec) -> Depth | None:
    """The written depth; through only where nothing written speaks against it. A taper thread in a blind hole has the full
    thread of its standard."""
    if element.depth is not None:
        return element.depth
    drilled = [
        other.depth.mm
        for other in work.callout.elements
        if other.kind in HOLE_KINDS
        and other.depth is not None
        and not other.depth.through
        and (other.side is element.side or is_open_pilot(other, work.callout))
    ]
    blind_drill = bool(drilled)
    own = pipe_depths(spec) if blind_drill and spec.series in TAPER_SERIES else None
    if own is not None:
        told = f"thread {spec.name}: no depth is written, so it has the full thread of its standard"
        work.assume("THREAD-DEPTH-STANDARD", told, f"{own.full_thread_mm:.4g} mm", own.cites[0])
        return Depth(own.full_thread_mm)
    if blind_drill:
        sentence = "The drilled hole has a depth, the thread in it has none."
        deepest_mm = max((mm for mm in drilled if mm is not None), default=None)
        such = f", such as {deepest_mm / DRILLED_OVER_THREAD:.3g} mm in a hole of {deepest_mm:g} mm" if deepest_mm else ""
        hint = f"Write the depth of full thread{such}."
        work.note("DEPTH-MISSING", Severity.REFUSED, sentence, element.span, hint)
        return None
    return _through(work, element, "thread")


def _in_through_hole(work: Completion, element: Element, depth: Depth) -> tuple[Depth, Depth | None]:
    """M6 THRU ↧8: the hole goes through, its thread is 8 deep; where the part is no thicker, the thread goes through."""
    thick_mm, deep_mm = work.thickness_mm, depth.mm or 0.0
    drilled = work.pilot_depth
    if drilled is not None and not drilled.through:
        sentence = f"THRU, and a drilled depth of {drilled.mm or 0:g} mm: which is it?"
        work.note("DEPTH-TWICE", Severity.ASK, sentence, element.span, "Write one of them.", "through")
    if thick_mm is None or deep_mm < thick_mm - SAME_DEPTH_MM:
        return depth._replace(through=False), Depth(through=True)
    if deep_mm > thick_mm + SAME_DEPTH_MM:
        sentence = f"THRU and {deep_mm:g} mm deep, in a part {thick_mm:g} mm thick: which thickness goes it through?"
        hint = "Correct the depth, or the thickness."
        work.note("CHECK-DEEPER-THAN-PART", Severity.ASK, sentence, element.span, hint, "threaded through")
    return Depth(through=True), None


def _through(work: Completion, element: Element, what: str) -> Depth | None:
    """THRU where no depth is written, unless the hole is said to be blind."""
    if "blind" in element.uses:
        sentence = "A blind hole, but no depth is written."
        work.note("DEPTH-MISSING", Severity.REFUSED, sentence, element.span, "Write ↧ and the depth.")
        return None
    size = element.thread_text if element.thread is not None else element.diameter.label if element.diameter else what
    name = what if size == what else f"{what} {size}"
    work.assume("CALLOUT-THROUGH-ASSUMED", f"{name}: no depth is written, so it goes through", "THRU", THROUGH_RULE)
    return Depth(through=True)


def _plain_hole(work: Completion, element: Element) -> Feature | None:
    diameter = element.diameter
    if diameter is None:
        diameter = clearance(work, element)
        if diameter is None:
            return None
    depth = element.depth or pilot_depth(work, element) or _through(work, element, "hole")
    if depth is None:
        return None
    kind = _made_by(work, element, diameter)
    return Feature(kind, diameter, depth, element.tolerance, side=element.side, element=element)


def _made_by(work: Completion, element: Element, diameter: Size) -> Kind:
    """The process written, or the one that holds the tolerance written: a decision of ours, noted as such."""
    if element.stated or element.tolerance is None:
        return element.kind
    tolerance = element.tolerance
    largest = fits.largest_reamer_mm()
    try:
        if tolerance.zone is not None:
            fine = _grade(tolerance.zone) < DRILLED_GRADE
            named = tolerance.zone
        elif tolerance.low_mm is not None and tolerance.high_mm is not None:
            width_um = (tolerance.high_mm - tolerance.low_mm) * 1000
            fine = width_um < fits.tolerance_um(diameter.mm, DRILLED_GRADE)
            named = f"limits {width_um:.0f} µm apart"
        else:
            return element.kind
    except ValueError:
        return element.kind
    if not fine:
        return Kind.DRILL
    kind = Kind.REAM if diameter.mm <= largest else Kind.BORE
    why = f"at most {largest:g} mm" if kind is Kind.REAM else f"over {largest:g} mm"
    verb = "reamed" if kind is Kind.REAM else "bored"
    sentence = f"{named} at {diameter.named} is finer than IT{DRILLED_GRADE} and {why}, no process is written: {verb}."
    told = Note("FEATURE-PROCESS-CHOSEN", Severity.TOLD, sentence, "", verb, work.callout.text, None, COMMON_PRACTICE)
    work.notes.append(told)
    return kind


def _grade(zone: str) -> int:
    """The grade of an ISO 286 zone; an inch class of fit is always finer than drilling. Raises ValueError."""
    if zone[:2] in ("RC", "LC", "LT", "LN", "FN"):
        return DRILLED_GRADE - 1
    return fits.read_zone(zone)[1]


def _watch(work: Completion) -> None:
    """What a set-up person must know though nothing is open."""
    callout = work.callout
    for element in callout.elements:
        if "flat bottom" in element.uses:
            _flat_bottom(work, element)
    _walls(work)
    if work.pilot_depth is not None and work.pilot_depth.most:
        deep = f"{work.pilot_depth.mm:g} mm"
        sentence = f"The drilled hole may be {deep} deep at most; whether that includes the point is not said."
        work.notes.append(Note("CALLOUT-DRILL-LIMIT", Severity.WATCH, sentence, text=callout.text))
    if all(feature.kind in HEAD_KINDS for feature in work.features):
        span = callout.elements[0].span
        sentence = "No hole is written here that this step belongs to."
        work.note("CALLOUT-HOLE-ELSEWHERE", Severity.WATCH, sentence, span, "Write the hole and its step in one callout.")
    _unnamed_step(work)
    for element in callout.elements:
        fit = next((use for use in element.uses if use.upper() in FITS_IN_WORDS), None)
        if fit is not None and element.tolerance is None and element.fastener is None:
            sentence = f"{fit}: the fit is given in words, without a zone or limits."
            work.note(
                "CALLOUT-FIT-IN-WORDS", Severity.ASK, sentence, element.span, "Write a zone such as H7.", "no tolerance"
            )


def _flat_bottom(work: Completion, element: Element) -> None:
    """A flat-ended drill ends a drilled hole flat; under a reamer or a tap the cone of the drill before it remains."""
    code = "CALLOUT-FLAT-BOTTOM"
    if not any(feature.kind in (Kind.REAM, Kind.TAP) for feature in work.features):
        sentence = "A flat bottom: a drill leaves a cone, the bottom is finished with a flat-ended tool."
        work.note(code, Severity.WATCH, sentence, element.span)
        return
    sentence = "A flat bottom under a reamed or tapped hole: the drill before it goes deeper and leaves a cone."
    suggestion = "Say how deep the cone may go, or how much of the depth may stay drilled."
    work.note(code, Severity.ASK, sentence, element.span, suggestion, "the cone is left")


PART_WAY = frozenset({"CALLOUT-ONE-WALL", "CALLOUT-THROUGH-TO"})
"""Questions about a hole that goes through, but not through the part: its thickness says nothing about such a hole."""


def _walls(work: Completion) -> None:
    """THRU ALL goes through gaps; THRU ONE WALL or THRU TO another hole is no depth, unless one is written with it."""
    callout = work.callout
    walls = [remark for remark in callout.remarks if remark.upper().startswith(WALLS_WRITTEN)]
    if not walls:
        return
    one, into = ONE_WALL.search(walls[0]), INTO.search(walls[0])
    open_ended = next((element for element in callout.elements if element.depth is not None and element.depth.through), None)
    if (one or into) and open_ended is not None:
        code = "CALLOUT-ONE-WALL" if one else "CALLOUT-THROUGH-TO"
        sentence = "It goes through one wall only: how thick is that wall?"
        if not one:
            sentence = "It ends in another hole: how deep is that?"
        hint = "Write the depth with it; the part's thickness does not give it."
        work.note(code, Severity.REFUSED, sentence, open_ended.span, hint)
        return
    sentence = "The hole goes through several walls, or into another hole: mind gaps, and room for a tap's run-out."
    if one:
        sentence = "The depth written is that of one wall: mind the gap behind it, and room for a tap's run-out."
    work.notes.append(Note("CALLOUT-WALLS", Severity.WATCH, sentence, text=callout.text, cite=COMMON_PRACTICE))


FITS_IN_WORDS = ("SLIP FIT", "PRESS FIT", "SLIDING FIT", "CLOSE FIT", "FREE FIT", "LOOSE FIT", "MEDIUM FIT", "NORMAL FIT")


def _unnamed_step(work: Completion) -> None:
    """Ø6.6, Ø11 ↧6.4: a wider, shallower diameter without a process may be a counterbore or a drilled step."""
    plain = [e for e in work.callout.elements if e.kind is Kind.DRILL and not e.stated and e.diameter is not None]
    for first, second in pairwise(plain):
        if first.diameter is None or second.diameter is None:
            continue
        wider, narrower = (second, first) if second.diameter.mm > first.diameter.mm else (first, second)
        narrow_mm, wide_mm = sorted((first.diameter.mm, second.diameter.mm))
        if wider.tolerance is not None and narrow_mm >= BEFORE_REAMING * wide_mm:
            continue  # Ø12 H7 ↧25, Ø11.8 ↧30: drilled for the reamer
        through = narrower.depth is None or narrower.depth.through
        if first.side is not second.side and not through:
            continue
        deep = wider.depth.mm if wider.depth is not None else None
        deeper = through or (narrower.depth is not None and (narrower.depth.mm or 0.0) > (deep or 0.0))
        if deep is not None and deeper:
            sentence = "A second diameter without a word for it: a counterbore with a flat bottom, or a drilled step?"
            hint = "Write CBORE or DRILL before it."
            work.note("CALLOUT-STEP-UNNAMED", Severity.ASK, sentence, wider.span, hint, "drilled")
