"""Holes for screws made whole: the clearance hole and the seat of the head, as the standards of fasteners have them."""

from __future__ import annotations

from dataclasses import replace

from holesched.callouts.model import Depth, Element, Kind
from holesched.features.completion import HEAD_KINDS, HOLE_KINDS, STEP_NAMES, SUPPOSED, Completion
from holesched.features.model import Feature
from holesched.notes import Cite, Severity, Standing
from holesched.standards import heads
from holesched.standards.heads import FastenerHole
from holesched.standards.sizes import Size

FIT_RULE = Cite("ISO 273; ASME B18.2.8", place="medium (normal) fit unless another is needed", standing=Standing.FROM_MEMORY)


def fastener(work: Completion, element: Element) -> FastenerHole | None:
    """What the named screw asks for, or None with a note: the step has no size, or the tables do not know the screw."""
    if element.fastener is None:
        sentence = f"The {STEP_NAMES.get(element.kind, 'hole')} has no diameter."
        work.note("SIZE-MISSING", Severity.REFUSED, sentence, element.span, "Write its diameter.")
        return None
    found = heads.fastener_hole(element.fastener)
    if found is None:
        sentence = f"'{element.fastener}' names no screw that the tables know."
        work.note("FASTENER-UNKNOWN", Severity.REFUSED, sentence, element.span, "Write the diameters and depths.")
        return None
    for code, problem, suggestion in found.questions:
        severity = Severity.REFUSED if code == "FASTENER-SIZE-UNKNOWN" else Severity.ASK
        if code not in {note.code for note in work.notes}:
            work.note(code, severity, problem, element.span, suggestion)
    return found


def clearance(work: Completion, element: Element) -> Size | None:
    """The clearance hole of a named screw; medium fit unless written (ISO 273, ASME B18.2.8)."""
    found = fastener(work, element)
    if found is None or found.clearance is None:
        return None
    if not found.fit_written:
        sentence = f"clearance hole for {found.nominal.label}: medium fit, {found.clearance.named}"
        work.assume("FASTENER-FIT-ASSUMED", sentence, found.clearance.label, FIT_RULE)
    return found.clearance


def with_head(work: Completion, element: Element) -> FastenerHole | None:
    """The screw whose head a counterbore or countersink is for; one that is named without its head is asked about."""
    found = fastener(work, element)
    if found is None or found.head or element.fastener is None:
        return found
    name = STEP_NAMES[element.kind]
    if found.head_named or element.kind is Kind.SPOTFACE:
        sentence = f"'{element.fastener}' has no head a {name} is tabulated for."
        work.note("FASTENER-UNKNOWN", Severity.REFUSED, sentence, element.span, "Write diameter and depth.")
        return None
    head = "SHCS" if element.kind is Kind.COUNTERBORE else "FLAT HEAD"
    supposed = heads.fastener_hole(f"{element.fastener} {head}")
    seat = supposed.seat if supposed is not None else ""
    if supposed is None or not seat:
        sentence = f"No {name} is tabulated for a {head} of {element.fastener}."
        work.note("FASTENER-UNKNOWN", Severity.REFUSED, sentence, element.span, "Write diameter and depth or angle.")
        return None
    sentence = f"A {name} for {element.fastener}, but its head is not named: {_WHOSE[head]}?"
    work.note("FASTENER-HEAD-UNCLEAR", Severity.ASK, sentence, element.span, f"Name the head, or write {seat}.", seat)
    return supposed


_WHOSE = {"SHCS": "a socket head (ISO 4762, ASME B18.3)", "FLAT HEAD": "a flat head (ISO 7046, ASME B18.6.3)"}


def seats(work: Completion) -> None:
    """What a callout leaves open between the hole and the head: a seat without its hole, a head without its seat.

    A flat head cannot lie on a plain hole: its countersink is planned and asked about. A cylinder head can stand on it.
    """
    elements = work.callout.elements
    screws = [each for each in elements if each.fastener is not None]
    if not screws or not work.features:
        return
    kinds = {each.kind for each in elements}
    if kinds <= {Kind.COUNTERBORE, Kind.COUNTERSINK}:
        _hole_of_seat(work, screws[0])
        return
    element = next((each for each in screws if each.kind in HOLE_KINDS), None)
    if element is None or element.fastener is None or kinds & set(HEAD_KINDS):
        return
    found = heads.fastener_hole(element.fastener)
    seat = found.seat if found is not None else ""
    if found is None or not seat:
        return
    if found.countersink is not None:
        sentence = f"{element.fastener} has a flat head, and no countersink is written: is there one?"
        hint = f"Write {seat}."
        work.note("FASTENER-SEAT-MISSING", Severity.ASK, sentence, element.span, hint, f"with {seat}, {found.cites[-1]}")
        size, angle = found.countersink
        work.features.append(Feature(Kind.COUNTERSINK, size, Depth(), None, angle, side=element.side, element=element))
        return
    sentence = f"No counterbore is written for {element.fastener}: its head stands on the face. The standard's is {seat}"
    work.note("FASTENER-HEAD-PROUD", Severity.WATCH, f"{sentence} ({found.cites[-1]}).", element.span, f"Else write {seat}.")


def _hole_of_seat(work: Completion, element: Element) -> None:
    """CBORE FOR M8 SHCS without a hole: the screw's clearance hole is planned with it, and asked about."""
    found = heads.fastener_hole(element.fastener or "")
    if found is None or found.clearance is None:
        return
    hole = f"clearance hole {found.clearance.named}, through"
    name = STEP_NAMES[element.kind]
    sentence = f"The {name} for {element.fastener} is written, its hole is not: is it the screw's clearance hole?"
    hint = f"Write CLEARANCE FOR {element.fastener} with it, or the hole."
    work.note("FASTENER-HOLE-UNWRITTEN", Severity.ASK, sentence, element.span, hint, hole)
    drilled = replace(element, kind=Kind.DRILL, depth=None, angle_deg=None, uses=(SUPPOSED,))
    work.features.insert(0, Feature(Kind.DRILL, found.clearance, Depth(through=True), side=element.side, element=drilled))
