"""A callout's text becomes a Callout: a descent over named tokens, one function a rule, the rule in its docstring.

    callout := part { [separator] part }
    part    := count | size | thread | process | depth | deviation | zone | angle | through | side | circle | remark ...

RULES is the order in which the rules are tried at every place. A process word may stand before or behind its size, so a
step is kept open (draft.Draft) until the next one begins.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache, lru_cache

from holesched.callouts import (
    angles,
    behind_thread,
    circles,
    coatings,
    counts,
    depths,
    deviations,
    drilled,
    fasteners,
    phrases,
    processes,
    sides,
    sizes,
    stray,
    threadcalls,
    walls,
    whole,
)
from holesched.callouts.caret import message
from holesched.callouts.draft import PROCESSES, Reading
from holesched.callouts.drawing_notes import drawing_note
from holesched.callouts.mistakes import CHANGED, MIXED_MARKS, Repair, repaired, whole_mistake
from holesched.callouts.model import Callout, CalloutReading, Circle
from holesched.callouts.normalise import COMMA_IN_NUMBER, Folded, fold
from holesched.callouts.plain import plain_callout
from holesched.callouts.screws import FITS, HEADS, WRITTEN_FITS
from holesched.callouts.tokens import SyntaxProblem, Tokens, inch_habit
from holesched.notes import Cite, Note, Severity, Standing
from holesched.units import LengthUnit

LONGEST = 1000
"""Characters a callout may have; a longer cell is a paragraph, not a callout."""
INCH_RULE = Cite("ASME Y14.5", "2018", "decimal inch dimensioning: no zero before the point", Standing.FROM_MEMORY)


def separator(r: Reading) -> bool:
    """separator := , ; | line break, and / before a new step."""
    t = r.tokens
    if t.consume("break") is None:
        t.move(t.position + 1)
    r.fresh = bool(r.drafts)
    return True


Rule = Callable[[Reading], bool]
RULES: tuple[tuple[Rule, str, tuple[str, ...]], ...] = (
    (drawing_note, "aS9/(", ("control", "places", "note")),
    (separator, ",;|\n/", ()),
    (coatings.coating, "9a", ("coating", "coated", "uncoated")),
    (drilled.behind_slash, "9↧", ()),
    (drilled.both_depths, "9", ()),
    (behind_thread.starts, "9a", ()),
    (sides.two_sides, "9", ()),
    (counts.quantity, "", ("quantity",)),
    (counts.tags, "a", ()),
    (counts.count, "9(", ()),
    (counts.bracket, "([)]", ()),
    (circles.circle, "", ("equal", "circle")),
    (drilled.of_the_hole, "", ("filler", "places", "drill", "pilot")),
    (fasteners.fastener, "a9#", ("clearance", "body fit", "through hole", "for", "filler", *HEADS, *FITS)),
    (fasteners.flush, "", ("flush",)),
    (walls.wall, "9", tuple(walls.WALLS)),
    (phrases.remark, "", ("use", *WRITTEN_FITS, "remark", "flat bottom", "typical", "press nut", *phrases.ASKED)),
    (phrases.no_hole, "", ("spot", "do not tap", *phrases.NO_HOLES)),
    (
        threadcalls.thread_modifier,
        "a9-",
        ("left hand", "right hand", "pitch", "coarse pitch", "fine pitch", "close", "loose"),
    ),
    (behind_thread.behind_dash, "-", ()),
    (behind_thread.tap_limit, "a-", ("tap",)),
    (sizes.zone, "a", ()),
    (threadcalls.thread, "a9#", ("insert", "insert thread")),
    (threadcalls.insert, "9x-", ("insert", "insert thread")),
    (processes.process, "⌴⌵", (*PROCESSES, "min", "max", "drill depth")),
    (processes.chamfer_c, "a9", ()),
    (processes.radius, "a", ()),
    (depths.in_diameters, "9↧x-", ()),
    (depths.depth, "9↧x", ("depth",)),
    (angles.angle, "9", ()),
    (deviations.deviation, "0+-±", ()),
    (phrases.through, "", ("through", "through hole", "through all", "through one", "through to", "blind")),
    (sides.side, "", ("far", "near", "both")),
    (phrases.leaving, "", ("leaving",)),
    (sizes.size, "a9Ø#", ()),
    (phrases.filler, "&+:-'", ("filler", "places", *HEADS, "diameter", "full thread", "spot")),
    (stray.stray_number, "9", ()),
)
"""The rules in the order in which they are tried: what each may begin with, and the meanings of the words it begins with.
a is a word without a meaning or a single letter, 9 a digit or point, S a sign that is none of ours; the others are
themselves."""


@cache
def rules_for(kind: str, meaning: str | None) -> tuple[Rule, ...]:
    """The rules that may begin with such a sign or word."""
    kinds = "90" if kind == "0" else "9" if kind in "123456789." and kind else kind
    kinds = kinds if not kind or any(set(kinds) & set(signs) for _, signs, _ in RULES) else "S"
    return tuple(rule for rule, signs, words in RULES if set(kinds) & set(signs) or meaning in words)


def rules_here(t: Tokens) -> tuple[Rule, ...]:
    """The rules that may begin at the place the reading has come to."""
    sign = t.text[t.position]
    if not sign.isalpha() or sign in "Øx":
        return rules_for(sign, None)
    word = t.word()
    if word is None:
        return rules_for("S", None)
    return rules_for("a" if word.meaning is None or len(word.text) == 1 else "", word.meaning)


@lru_cache(maxsize=4096)
def read_callout(text: str, unit: LengthUnit) -> CalloutReading:
    """What a callout says. `unit` is that of its plain numbers. Never raises: what cannot be read is a REFUSED note.

    As many texts are remembered as a schedule has unlike ones: it repeats itself.
    """
    if len(text) > LONGEST:
        return _refused(text[:LONGEST], "CALLOUT-TOO-LONG", f"The cell is longer than {LONGEST} characters: no callout is.")
    folded = fold(text)
    text_unit = _unit_of(folded.text, unit)
    plain = plain_callout(folded, text_unit)
    if plain is not None and not (unit == "in" and _out_of_reason(plain)):
        return _with_its_unit(CalloutReading(plain), text_unit, unit)
    mistake = whole_mistake(folded.text)
    if mistake is not None:
        kind, match = mistake
        note = Note(kind.code, kind.severity, kind.sentence, kind.suggested(match), text=text)
        deleted = Callout(text, (), count=0) if kind.severity is Severity.TOLD else None
        return CalloutReading(deleted, (note,))
    mixed = MIXED_MARKS.search(folded.text) if COMMA_IN_NUMBER.search(folded.text) else None
    if mixed is not None:
        sentence = "Point and comma in one number, or two commas: which is the decimal mark?"
        return _refused(text, "SIZE-DECIMAL-MARK", message(sentence, text, folded.span(*mixed.span())), "Write one of them.")
    return _read(text, folded, unit)


def _read(text: str, folded: Folded, unit: LengthUnit) -> CalloutReading:
    """The reading in the unit the text itself shows, and again in the other one where the sizes are out of all reason."""
    rewritten, repairs = repaired(folded.text)
    folded = folded._replace(text=rewritten) if repairs else folded
    text_unit = _unit_of(rewritten, unit)
    reading = _with_its_unit(_parsed(text, folded, repairs, text_unit), text_unit, unit)
    if unit == "in" and reading.callout is not None and _out_of_reason(reading.callout):
        again = _parsed(text, folded, repairs, "mm")
        if again.callout is not None and not _out_of_reason(again.callout):
            sentence = "In inches this hole would be out of all reason: are these millimetres?"
            note = Note(
                "CALLOUT-UNIT-DOUBTFUL", Severity.ASK, sentence, "Write mm, or the size in inches.", "millimetres", text
            )
            return CalloutReading(again.callout, (*again.notes, note))
    return reading


def _unit_of(text: str, unit: LengthUnit) -> LengthUnit:
    """The unit of a text's plain numbers: inches where it writes them as inches are written."""
    return "in" if unit == "mm" and inch_habit(text) else unit


def _with_its_unit(reading: CalloutReading, text_unit: LengthUnit, unit: LengthUnit) -> CalloutReading:
    """The reading, with a note where the text has another unit than the schedule."""
    if text_unit == unit or reading.callout is None:
        return reading
    sentence = "A size without a zero before its point is in inches, as are the others of the callout."
    text = reading.callout.text
    note = Note("CALLOUT-INCH-ASSUMED", Severity.ASSUMED, sentence, assumed="inches", text=text, cite=INCH_RULE)
    return CalloutReading(reading.callout, (*reading.notes, note))


_THOUSANDTHS = re.compile(r"[0-9]?\.[0-9]{3,}")
"""Sizes in inches are written to thousandths, those in millimetres seldom."""


def _out_of_reason(callout: Callout) -> bool:
    """A diameter over 3 in, or over 24 in where a size is written to thousandths; a thread over 8 diameters deep, a hole
    over 4 in and 12 diameters, a circle over 24 in and 60 diameters (common practice)."""
    widest_mm = 609.6 if _THOUSANDTHS.search(callout.text) else 76.2
    hole_mm = max(
        (e.thread.nominal.mm if e.thread else e.diameter.mm if e.diameter else 0.0 for e in callout.elements), default=0.0
    )
    if callout.circle is not None and callout.circle.diameter_mm > max(609.6, 60 * hole_mm):
        return True
    for element in callout.elements:
        depth = element.depth.mm if element.depth else None
        if element.diameter is not None and element.diameter.mm > widest_mm:
            return True
        if depth is None:
            continue
        if element.thread is not None and depth > 8 * element.thread.nominal.mm:
            return True
        if depth > 101.6 and (element.diameter is None or depth > 12 * element.diameter.mm):
            return True
    return False


def _parsed(text: str, folded: Folded, repairs: tuple[Repair, ...], unit: LengthUnit, bare: bool = False) -> CalloutReading:
    """The reading in one unit. `bare`: of a text whose drawing notes are taken out."""
    tokens = Tokens(folded, unit)
    reading = Reading(tokens, text)
    changed = CHANGED.search(folded.text) if "WAS" in folded.text.upper() else None
    if changed is not None:
        tokens.move(changed.end())
        sentence = "The text of a revision: the new callout is read, the old one left."
        reading.ask(
            "CALLOUT-CHANGED", sentence, changed.start(), changed.end(), "Write the valid callout alone.", "the new one"
        )
    try:
        while not tokens.at_end():
            for rule in rules_here(tokens):
                if rule(reading):
                    break
            else:
                _unknown(reading)
        callout = _finished(reading)
    except SyntaxProblem as problem:
        span = tokens.folded.span(problem.start, problem.end)
        sentence = f"{problem.problem[0].upper()}{problem.problem[1:]}"
        sentence += "" if sentence[-1] in ".?!" else "."
        refused = _refused(text, problem.code, message(sentence, text, span), problem.suggestion)
        return refused._replace(counted=reading.count)
    if reading.noted and not bare:
        _ask_about_notes_within(reading, callout)
    notes = tuple(_repair_note(text, folded, repair) for repair in repairs) if repairs else ()
    return CalloutReading(callout, (*notes, *reading.notes))


def _ask_about_notes_within(r: Reading, callout: Callout) -> None:
    """A drawing note within a step (M8 x 63√ 1.25) may part it: the callout without its notes must say the same."""
    t = r.tokens
    noted = [(start, end) for start, end in r.noted if t.text[end:].strip()]
    if not noted or any(note.is_question for note in r.notes):
        return
    bare = _parsed(r.raw, t.folded.without(noted), (), t.unit, bare=True)
    if bare.callout is None or any(note.is_question for note in bare.notes):
        return
    if (bare.callout.elements, bare.callout.count) != (callout.elements, callout.count):
        shown = " and ".join(t.text[start:end].strip() for start, end in noted)
        sentence = f"{shown} stands within a step: without it the callout says something else."
        hint = "Write such notes behind the whole callout."
        r.ask("CALLOUT-NOTE-WITHIN", sentence, *noted[0], hint, "the step ends at the note")


def _repair_note(text: str, folded: Folded, repair: Repair) -> Note:
    shown = message(repair.sentence, text, folded.span(repair.start, repair.end))
    return Note("CALLOUT-REPAIRED", Severity.ASK, shown, repair.suggestion, "as read", text)


def _unknown(r: Reading) -> None:
    """A word or sign nobody knows: stepped over, and asked about at the end."""
    t = r.tokens
    word = t.word()
    end = word.end if word is not None else t.position + 1
    r.unknown.append((t.position, end))
    t.move(end)


def _finished(r: Reading) -> Callout:
    """The whole callout, with the questions that concern it as a whole."""
    drafts = r.drafts
    if not drafts:
        first = r.unknown[0] if r.unknown else (0, len(r.tokens.text))
        hint = r.notes[0].suggestion if r.notes else ""
        raise r.tokens.fail("no hole can be read here: expected a diameter, a thread or a process", *first, hint)
    fasteners.share_fastener(r)
    whole.ask_about_the_whole(r)
    threadcalls.ask_about_insert(r)
    coatings.ask_about_coating(r)
    elements = tuple([draft.element(r.tokens) for draft in drafts])
    if len(elements) > 1:
        elements = whole.without_repetition(r, elements)
    circle = Circle(r.circle.diameter_mm, r.equal) if r.circle is not None else None
    return Callout(r.raw, elements, r.count, r.typical, circle, tuple(r.remarks), r.coating)


def _refused(text: str, code: str, sentence: str, suggestion: str = "") -> CalloutReading:
    return CalloutReading(None, (Note(code, Severity.REFUSED, sentence, suggestion, text=text),))
