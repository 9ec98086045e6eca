"""Rules of the grammar about threads: designations, what belongs to them, and wire inserts."""

from __future__ import annotations

import re
from dataclasses import replace

from holesched.callouts import fasteners
from holesched.callouts.draft import HOLE_KINDS, Draft, Reading, with_hand
from holesched.callouts.model import Kind
from holesched.callouts.pitches import pitch, pitch_in_words
from holesched.callouts.processes import thread_follows
from holesched.callouts.tokens import diameters
from holesched.callouts.words import Word, spelling
from holesched.standards import threads
from holesched.standards.threads.base import ThreadCall

LOOKS = tuple(
    (re.compile(pattern), problem, suggestion)
    for pattern, problem, suggestion in (
        (
            r"(?:[0-9]+ )?(?:#?[0-9]+|[0-9]+/[0-9]+|[0-9]*\.[0-9]+) ?-?UN[CFEJSR]{0,3}(?:-[123][AB])?(?![A-Za-z])",
            "a unified thread needs its threads per inch",
            "Write it as 1/4-20 UNC-2B.",
        ),
        (r"(?:M|m|MJ|MF|Tr|TR|Rc|Rp) ?[0-9][0-9./x-]*", "this is no thread of the tables", "Write it as M8x1.25-6H."),
    )
)
"""Texts that look like threads but no standard of the register takes, tried in this order: pattern, problem, suggestion."""


_OF_PLACES = frozenset(
    ("SIDE", "HOLE", "FACE", "PART", "SEITE", "TEIL", "COTE", "FACE", "LADO", "LATO", "側", "OBEN", "UNTEN")
)
"""Words beside LEFT and RIGHT that speak of a place, not of a thread."""
_DIAMETERS = re.compile(r" ?x? ?[Dd](?![A-Za-z0-9.])")
INSERT_LENGTH = "CALLOUT-INSERT-LENGTH"
"""An insert's length is not written; a remark beside the callout may give it."""
_INSERT_LONG = re.compile(r"x? ?[0-9.]+ ?(?:\"|mm|in)? ?(?:LG|LONG)\.? (?:HELICAL |WIRE |THREADED )?INSERTS?(?![A-Za-z])")
"""1/4-28 STI X .375 LG INSERT: the length is the insert's."""
CLASSED = ("iso-metric", "unified", "wire-insert", "trapezoidal")
"""Standards whose classes may stand apart from the designation (M8 6H, 1/4-20 2B); the others have their own way."""


def thread(r: Reading) -> bool:
    """thread := a designation of a registered standard [LH] [class]; behind FOR or a head's word it names a fastener."""
    t = r.tokens
    start = t.position
    found = t.thread()
    if found is None:
        return _looks_like_a_thread(r, start)
    call, end = _without_diameters(r, start, *found)
    t.move(end)
    if call.length_mm is not None:
        t.consume("mm")  # M3 x .5 x 6 mm
    draft = r.current
    if is_insert_thread(call) and _repeats_insert(r, call):
        r.remarks.append(t.text[start:end].strip())
        return True
    if fasteners.thread_of_screw(r, start):
        return True
    draft = _thread_step(r, start)
    draft.thread = call
    draft.thread_text = t.text[start:end].strip()
    draft.kind = Kind.TAP
    _length_and_depth(r, draft, call)
    if call.standard == "unified" and call.series is None and t.unit == "mm":
        _bare_inch_thread(r, draft, start, end)
    r.touch(draft, "thread")
    if call.standard == "wire-insert" and call.thread_class is not None:
        _refuse_foreign(r, draft, call, call.thread_class)
    if draft.uses:
        _one_hand(r, draft)
    return True


def _length_and_depth(r: Reading, draft: Draft, call: ThreadCall) -> None:
    """The length in a designation behind THRU or a depth: THRU M8x16; TAP 12 DEEP M8x16 says two depths."""
    if call.length_mm is None or draft.depth is None:
        return
    if draft.depth.mm is not None and draft.depth.mm != call.length_mm:
        problem = f"{draft.depth.mm:g} and {call.length_mm:g} may both be the thread's depth"
        raise r.tokens.fail(problem, draft.start, r.tokens.end_of_last, "Write one of them.", "DEPTH-TWICE")
    draft.depth = draft.depth._replace(mm=call.length_mm)


def _without_diameters(r: Reading, start: int, call: ThreadCall, end: int) -> tuple[ThreadCall, int]:
    """M8 x 2D: the 2 is no pitch and no length in mm, but a length in diameters."""
    t = r.tokens
    if (call.pitch_mm is None and call.length_mm is None) or _DIAMETERS.match(t.text, end) is None:
        return call, end
    shorter = t.text[start:end].rpartition("x")[0].rstrip()
    again = threads.recognise(shorter, 0, t.unit) if shorter else None
    return (again[0], start + again[1]) if again is not None else (call, end)


def _repeats_insert(r: Reading, call: ThreadCall) -> bool:
    """Whether the designation only describes the insert of a thread already read (M8 STI; HELICAL INSERT M8x1.25x12)."""
    for draft in r.drafts:
        if draft.thread is not None and draft.thread.nominal.mm == call.nominal.mm and r.fresh:
            if not is_insert_thread(draft.thread):
                _tap_for_insert(r, draft)
            if call.length_mm is not None:
                draft.insert_diameters = round(call.length_mm / call.nominal.mm, 3)
            return True
    return False


def _thread_step(r: Reading, start: int) -> Draft:
    draft = r.current
    t = r.tokens
    if draft is not None and draft.unsized and draft.kind is Kind.TAP:
        r.fresh = False
        return draft
    if draft is not None and draft.unsized and draft.kind in HOLE_KINDS and draft.depth is None and not r.fresh:
        word = t.text[draft.start : draft.end].strip()
        hint = "Write the drill's diameter, and TAP before the thread if one is to be cut."
        problem = f"'{word}' stands before a thread: is the thread to be cut or not?"
        raise t.fail(problem, draft.start, t.end_of_last, hint, "THREAD-OR-CLEARANCE")
    return r.begin(start)


def _bare_inch_thread(r: Reading, draft: Draft, start: int, end: int) -> None:
    """10-32 alone in millimetres may be a thread, a range or a damaged size; a fraction or the word TAP settles it."""
    t = r.tokens
    if draft.stated or "/" in t.text[start:end] or "#" in t.text[start:end] or t.meaning() == "tap":
        return
    shown = t.text[start:end].strip()
    problem = f"{shown} stands in a millimetre schedule without UNC or UNF: read as an inch thread."
    r.ask("CALLOUT-THREAD-DOUBTFUL", problem, start, end, f"Write {shown} UNC or UNF, and the class.", f"thread {shown}")


def _looks_like_a_thread(r: Reading, start: int) -> bool:
    """Texts no standard takes, each with its own sentence."""
    t = r.tokens
    draft = r.current
    if draft is not None and draft.unsized and draft.kind in (Kind.DRILL, Kind.REAM, Kind.BORE):
        return False
    for pattern, problem, suggestion in LOOKS:
        found = pattern.match(t.text, start)
        if found is not None:
            sentence = f"{found[0].strip()}: {problem}"
            raise t.fail(sentence, start, found.end(), suggestion, "THREAD-UNKNOWN")
    return False


def thread_modifier(r: Reading) -> bool:
    """modifier := LH | RH, before or behind the thread | [-] class | [-] series (UNF), behind it."""
    t = r.tokens
    draft = r.current
    start = t.position
    if pitch(r) or pitch_in_words(r):
        return True
    word = t.words("left hand", "right hand")
    if word is not None and word.meaning is not None:
        _hand(r, word)
        return True
    at = t.skip_blanks(start + 1) if t.sign() == "-" else start
    series = t.check("series", at) if t.sign(at) == "U" else None
    call = draft.thread if draft is not None else None
    if series is not None and draft is not None and call is not None and call.standard == "unified" and call.series is None:
        t.move(series.end())
        draft.thread = replace(call, series=series[0])
        r.touch(draft)
        return True
    found = t.check("class", at) if series is None else None
    if found is None:
        return False
    _class(r, found)
    return True


def _class(r: Reading, found: re.Match[str]) -> None:
    """The class behind its thread; one that is another system's, or contradicts the one before, is refused."""
    t = r.tokens
    draft = r.current
    named = found[0]
    if draft is not None and draft.is_open_pilot:  # M6 x 12/16 - 6H
        draft = next((each for each in reversed(r.drafts) if each.thread is not None), draft)
    call = draft.thread if draft is not None else None
    if draft is None or call is None:
        problem = f"{named} is a class of threads, but no thread stands before it"
        raise t.fail(problem, found.start(), found.end(), "Write the thread, or the diameter.", "THREAD-MISSING")
    _refuse_foreign(r, draft, call, named)
    if call.thread_class is not None and call.thread_class != named:
        problem = f"two classes for one thread: {call.thread_class} and {named}"
        raise t.fail(problem, draft.start, found.end(), "Write one of them.", "THREAD-CLASS-TWICE")
    t.move(found.end())
    draft.thread = replace(call, thread_class=named)
    r.touch(draft)


def _refuse_foreign(r: Reading, draft: Draft, call: ThreadCall, named: str) -> None:
    """A metric class on an inch thread, a unified one on a metric thread, either on a thread that has its own."""
    unified = named[-1] in "AB123"
    inch = call.tpi is not None or call.standard == "unified"
    if call.standard in CLASSED and inch == unified:
        return
    system = "unified" if unified else "metric"
    problem = f"{named} is a class of {system} threads, and {draft.thread_text.removesuffix(named).rstrip(' -')} is none"
    hint = "Correct the thread or its class."
    raise r.tokens.fail(problem, draft.start, r.tokens.end_of_last, hint, "THREAD-CLASS-FOREIGN")


def _hand(r: Reading, word: Word) -> None:
    """LH or RH, just read: of the thread before it, or of the one to come; both for one thread are refused."""
    hand = word.meaning or ""
    draft = r.current
    to_come = draft is None or (r.fresh and thread_follows(r))
    if draft is None or to_come or not (draft.thread is not None or draft.kind is Kind.TAP):
        r.for_later().uses.append(hand)
        return
    draft.uses.append(hand)
    _one_hand(r, draft)
    r.touch(draft)
    _ask_about_side(r, word)


def _ask_about_side(r: Reading, word: Word) -> None:
    """M8 LEFT, M8 côté gauche: a left-hand thread, or a place on the part?"""
    t = r.tokens
    around = {spelling(each) for each in (*t.text[: word.start].split()[-1:], *t.text[word.end :].split()[:1])}
    if spelling(word.text) in ("LEFT", "RIGHT") or not around.isdisjoint(_OF_PLACES):
        sentence = f"{word.text}: the hand of the thread, or a place on the part?"
        r.ask("CALLOUT-HAND-DOUBTFUL", sentence, word.start, word.end, "Write LH or RH for the thread.", word.meaning or "")


def _one_hand(r: Reading, draft: Draft) -> None:
    """What is written of a thread's hand, put into the thread."""
    if draft.thread is None:
        return
    left = draft.thread.left_hand or "left hand" in draft.uses
    if left and "right hand" in draft.uses:
        problem = "left hand and right hand for one thread"
        raise r.tokens.fail(problem, draft.start, r.tokens.end_of_last, "Write one of them.", "THREAD-HAND-TWICE")
    draft.thread = with_hand(draft.thread, left)
    draft.uses = [use for use in draft.uses if use != "left hand"]


def insert(r: Reading) -> bool:
    """insert := STI | [HELICAL] INSERT [factor D | [x] length], behind its thread: the hole is tapped for the insert."""
    t = r.tokens
    start = t.position
    current = r.current
    if current is not None and current.thread is not None and is_insert_thread(current.thread):
        named = re.search(r"INSERTS?$", current.thread_text, re.IGNORECASE) and current.last == "thread"
        long = bool(named or _INSERT_LONG.match(t.text, start))
        if _insert_length(r, current, bare=False, long=long):
            r.remarks.append(f"INSERT {t.text[start : t.end_of_last].strip(' x-')}")
            return True
    word = t.word()
    if word is None or word.meaning not in ("insert", "insert thread"):
        return False
    t.move(word.end)
    draft = next((each for each in reversed(r.drafts) if each.thread is not None), None)
    if draft is None or draft.thread is None:
        raise t.fail("an insert, but no thread it could be for", start, word.end, "Write the thread, then STI.")
    while t.words("for", "filler", "depth"):
        pass
    if _insert_length(r, draft, bare=True, long=True):
        r.remarks.append(t.text[start : t.end_of_last].strip())
    if not is_insert_thread(draft.thread):
        _tap_for_insert(r, draft)
    r.touch(draft)
    return True


def _insert_length(r: Reading, draft: Draft, *, bare: bool, long: bool) -> bool:
    """insert length := [x] factor D | [x] number LONG (with `long`) | [x] number (with `bare`): whether one is here."""
    t = r.tokens
    call = draft.thread
    factor = t.consume("diameters")
    if factor is not None and call is not None:
        draft.insert_diameters = diameters(factor)
        word = t.word()
        if word is not None and t.number_at(t.skip_blanks(word.end)) is None:  # 1.5D 深15: the depth of the hole
            t.words("depth")
        return True
    x = t.check("x")
    number = t.number_at(t.skip_blanks(x.end()) if x is not None else t.position)
    if number is None or call is None or call.nominal.mm == 0:
        return False
    word = t.word(t.skip_blanks(number.end))
    is_length = word is not None and word.meaning == "depth" and spelling(word.text) in ("LONG", "LG", "LANG")
    if not (bare or (long and is_length)):
        return False
    t.move(word.end if is_length and word is not None else number.end)
    draft.insert_diameters = round(number.mm / call.nominal.mm, 3)
    return True


def is_insert_thread(call: ThreadCall) -> bool:
    """Whether the hole is tapped for a wire insert, larger than the screw's own thread."""
    return call.standard == "wire-insert"


def _tap_for_insert(r: Reading, draft: Draft) -> None:
    """Reads the screw's thread again as the insert's own (STI)."""
    t = r.tokens
    again = threads.recognise(f"{draft.thread_text} STI", 0, t.unit)
    if again is None or not is_insert_thread(again[0]):
        problem = f"{draft.thread_text}: no wire insert is made for this thread"
        raise t.fail(problem, draft.start, t.end_of_last, "Write the screw's thread, then STI.")
    left = draft.thread is not None and draft.thread.left_hand
    draft.thread, draft.thread_text = with_hand(again[0], left), f"{draft.thread_text} STI"


def ask_about_insert(r: Reading) -> None:
    """A wire insert needs its length; a written depth may be the thread's or the drill's (ASME B18.29 notes the drill's)."""
    for draft in r.drafts:
        if draft.thread is None or not is_insert_thread(draft.thread):
            continue
        if draft.insert_diameters is None:
            problem = "A hole for a wire insert leaves open the insert's length."
            r.ask(INSERT_LENGTH, problem, draft.start, draft.end, "State it, as 1.5D.", "not known")
        if draft.depth is None or not draft.depth.through:
            what = "whether its depth is the full thread's or the drilled hole's" if draft.depth else "how deep it is"
            problem = f"A hole for a wire insert leaves open {what}."
            hint = "State full thread and drilled depth."
            r.ask("CALLOUT-INSERT", problem, draft.start, draft.end, hint, "a written depth is that of the full thread")
