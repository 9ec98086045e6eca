"""Rules of the grammar about words: through and blind, uses and remarks, and what is no hole of ours."""

from __future__ import annotations

import re

from holesched.callouts.depths import before_chamfer
from holesched.callouts.draft import HOLE_KINDS, SIDES, Reading
from holesched.callouts.model import WALLS_WRITTEN, Depth, Kind
from holesched.callouts.pins import what_goes_in
from holesched.callouts.processes import size_follows
from holesched.callouts.screws import HEADS, WRITTEN_FITS
from holesched.callouts.tokens import Tokens
from holesched.callouts.words import Word, spelling

_EDGES = ("BREAK ", "KANTEN", "REMOVE BURRS")
_ONE_WALL = re.compile(r"(?:THE )?1(?:ST)? WALL(?: ONLY)?(?![A-Z])", re.IGNORECASE)
COUNT_UNWRITTEN = "CALLOUT-COUNT-UNWRITTEN"
"""HOLES without their number: the row may have it."""
NO_HOLES = {
    "not a hole": ("HOLE-NOT-ROUND", "this is no round hole; it is not planned here", "List it apart."),
    "cornered": (
        "HOLE-NOT-ROUND",
        "a square or hexagon hole: drills, taps and reamers make none, so it is not planned here",
        "Plan it apart, broached or eroded; write Ø if the hole is round.",
    ),
    "tapered": (
        "HOLE-TAPERED",
        "a hole for a taper pin is reamed tapered, mostly at assembly; it is not planned here",
        "Plan it apart; write Ø and depth for the hole that is drilled before.",
    ),
    "angled": (
        "HOLE-ANGLED",
        "a hole at an angle to its face is not planned here",
        "Plan it apart, in a set-up square to it, with a flat for its drill to start on.",
    ),
    "nut": (
        "HOLE-FOR-NUT",
        "a nut is named: is a hole to be tapped, or only made for the nut?",
        "Write the hole's diameter.",
    ),
    "as cast": (
        "HOLE-AS-CAST",
        "the hole is cast: is anything to be drilled or cleaned up?",
        "Write CAST, NO MACHINING.",
    ),
    "punched": ("HOLE-PUNCHED", "the hole is punched: is anything machined?", "Write DRILL, or take the row out."),
    "centre": ("HOLE-CENTRE", "a centre hole (ISO 6411) is not planned here", "Plan it at turning or grinding."),
    "negation": (
        "CALLOUT-NEGATED",
        "something is not to be made: what is?",
        "Write only what is to be made.",
    ),
}
"""Meanings that end the reading: code, problem, suggestion."""
ASKED = {
    "assembly": (
        "CALLOUT-AT-ASSEMBLY",
        "The hole is to be made at assembly: is it left off here, or drilled as a pilot?",
        "State what this operation makes.",
        "planned here",
    ),
    "reference": (
        "CALLOUT-REFERENCE",
        "The size is marked as a reference: is the hole made here, or called out elsewhere?",
        "Take the row out, or take REF away.",
        "made",
    ),
    "optional": ("CALLOUT-OPTIONAL", "Is this optional hole to be made?", "Write yes or no.", "made"),
    "port": (
        "CALLOUT-PORT",
        "A port has a seat, a spotface and a chamfer by its own standard, which is not held here.",
        "Give the port's standard and size, or draw its profile.",
        "thread only",
    ),
    "intersects": (
        "CALLOUT-INTERSECTS",
        "The hole meets another one: how deep past the intersection does it go?",
        "State its depth, and which hole is made first.",
        "as written",
    ),
}


def through(r: Reading) -> bool:
    """through := THRU [ALL | ONE WALL | TO ...]; blind := BLIND [number]."""
    t = r.tokens
    start = t.position
    word = t.words("through", "through hole", "through all", "through one", "through to", "blind")
    if word is None:
        return False
    if word.meaning == "blind":
        return _blind(r, start)
    if (one := _ONE_WALL.match(t.text, t.position)) is not None:
        t.move(one.end())
        word = word._replace(meaning="through one", text=f"{word.text.strip()} {one[0].strip()}", end=one.end())
    draft = r.current
    part_way = word.meaning == "through one" or (word.meaning == "through to" and t.meaning() not in SIDES)
    if word.meaning == "through all" or part_way:
        text = word.text.strip()
        known = text.upper().startswith(WALLS_WRITTEN)
        r.remarks.append(text if known else "THRU ALL" if word.meaning == "through all" else "THRU TO")
    if part_way and word.meaning == "through to":
        _rest_of_part(r)
    if draft is None or (r.fresh and size_follows(r)):
        r.for_later().depth = Depth(through=True)
        return True
    conical = draft.kind is Kind.COUNTERSINK and draft.depth is None and any(not each.is_opening for each in r.drafts)
    if draft.chamfer_mm is not None or conical:
        draft = before_chamfer(r, start, through=True)
    draft.part_way = part_way
    if draft.depth is not None and not draft.depth.through:
        if draft.part_way:
            return True
        if draft.thread is not None and draft.depth.mm is not None:
            draft.depth = draft.depth._replace(through=True)
            r.touch(draft)
            return True
        open_step = next((each for each in r.drafts[:-1] if each.depth is None and each.kind in (None, *HOLE_KINDS)), None)
        if open_step is not None:
            name, other = (t.text[each.start : each.end].strip(" ,;/") for each in (draft, open_step))
            problem = f"{word.text} behind {name}, which has its depth: does {other} go through?"
            hint = f"Write {word.text} behind the size that goes through."
            raise t.fail(problem, start, word.end, hint, "DEPTH-TWICE")
        raise t.fail("THRU and a depth for one step", start, word.end, "Write one of them.", "DEPTH-TWICE")
    if draft.depth is None:
        draft.depth = Depth(draft.thread.length_mm if draft.thread is not None else None, through=True)  # M6x8 THRU
    r.touch(draft, "through")
    return True


def _rest_of_part(r: Reading) -> None:
    """What a hole goes through to, or meets, is kept as it is written, up to the next separator."""
    t = r.tokens
    start = t.position
    end = start
    while end < len(t.text) and t.text[end] not in ",;\n":
        end += 1
    r.remarks[-1] = f"{r.remarks[-1]} {t.text[start:end].strip()}".strip()
    t.move(end)


def _blind(r: Reading, start: int) -> bool:
    t = r.tokens
    draft = r.current
    (draft.uses if draft is not None else r.for_later().uses).append("blind")
    number = t.number_at(t.position)
    plain = number is not None and t.meaning(t.skip_blanks(number.end)) in (None, "equal")
    if draft is not None and not draft.unsized and draft.depth is None and number is not None and plain:
        t.move(number.end)
        draft.depth = Depth(number.mm)
        sentence = "The number behind the word for a blind hole may be the thread's depth or the drill's."
        if draft.thread is not None:
            r.ask("CALLOUT-DEPTH-DOUBTFUL", sentence, start, t.end_of_last, "Write ↧ with the full thread.", "full thread")
        r.touch(draft, "depth")
    return True


def leaving(r: Reading) -> bool:
    """leaving := TO LEAVE number: the depth is what the part's thickness leaves."""
    t = r.tokens
    start = t.position
    word = t.words("leaving")
    if word is None:
        return False
    number = t.number()
    draft = r.current
    if number is None or draft is None or draft.depth is not None:
        raise t.fail("expected a length that is left under the step before it", start, word.end)
    draft.depth = Depth(leaving_mm=number.mm)
    r.touch(draft, "depth")
    return True


def remark(r: Reading) -> bool:
    """remark := words that change no size: uses, assembly, revisions."""
    t = r.tokens
    start = t.position
    word = t.words("use", *WRITTEN_FITS, "remark", "flat bottom", "typical", "press nut", *ASKED)
    if word is None:
        return False
    draft = r.current
    uses = draft.uses if draft is not None else r.for_later().uses
    text = word.text.strip().rstrip(".")
    if word.meaning == "typical":
        r.typical = True
        _typical_count(r)
    elif word.meaning == "remark":
        if spelling(text).startswith(_EDGES) and t.number() is not None:  # BREAK EDGES 0.3 MAX
            t.consume("by 45")
            t.words("max", "min")
        t.words("far", "near", "both")
        r.remarks.append(t.text[start : t.end_of_last].strip().rstrip("."))
    elif word.meaning in ("use", *WRITTEN_FITS):
        uses.append(f"{text} {size}" if (size := what_goes_in(r, text)) else text)
    elif word.meaning == "flat bottom":
        uses.append("flat bottom")
        _flat_bottom_depth(r, start)
    elif word.meaning == "press nut":
        _press_nut(r, text, uses)
    else:
        _asked_remark(r, word, text, uses, start)
    if draft is not None:
        r.touch(draft)
    return True


def _typical_count(r: Reading) -> None:
    """TYP 4: most likely the number of holes, and asked."""
    t = r.tokens
    number = t.number_at(t.position)
    if number is None or r.count is not None or r.current is None or not number.text.isdigit() or number.marked:
        return
    behind = t.skip_blanks(number.end)
    if t.meaning(behind) is not None or t.sign(behind) not in ("", ",", ";", "\n", ")"):
        return
    start = t.position
    t.move(number.end)
    r.count = int(number.text)
    sentence = f"{number.text} behind TYP is read as the number of holes."
    r.ask("CALLOUT-COUNT-DOUBTFUL", sentence, start, number.end, f"Write {number.text}X.", f"{number.text} holes")


def _press_nut(r: Reading, text: str, uses: list[str]) -> None:
    """FOR PRESS-IN NUT M4: the thread is the nut's; none is cut."""
    t = r.tokens
    found = t.thread()
    if found is not None:
        text += f" {t.text[t.position : found[1]].strip()}"
        t.move(found[1])
    uses.append(text)


def _flat_bottom_depth(r: Reading, start: int) -> None:
    """F.B. 25: the number is most likely the depth, and asked about."""
    t = r.tokens
    draft = r.current
    number = t.number_at(t.position)
    if number is None or draft is None or draft.depth is not None:
        return
    if t.meaning(t.skip_blanks(number.end)) in ("depth", "places"):
        return
    t.move(number.end)
    draft.depth = Depth(number.mm)
    sentence = "The number behind F.B. is read as the depth of a flat-bottomed hole."
    r.ask("CALLOUT-DEPTH-DOUBTFUL", sentence, start, t.end_of_last, "Write ↧ before the depth.", f"depth {number.text}")


def _asked_remark(r: Reading, word: Word, text: str, uses: list[str], start: int) -> None:
    """Words that leave something open which only the drawing's owner knows."""
    code, problem, suggestion, assumed = ASKED[word.meaning or ""]
    if word.meaning == "assembly":
        uses.append("at assembly")
    else:
        r.remarks.append("INTERSECTS" if word.meaning == "intersects" else text)
        if word.meaning == "intersects":
            _rest_of_part(r)
    if code not in {note.code for note in r.notes}:
        r.ask(code, problem, start, r.tokens.end_of_last, suggestion, assumed)


def no_hole(r: Reading) -> bool:
    """SLOT, WELD NUT, cast and punched holes, centre holes, DO NOT TAP: the row is asked about, nothing is planned."""
    t = r.tokens
    word = t.word()
    after = t.skip_blanks(word.end) if word is not None else 0
    if word is not None and word.meaning == "spot" and (t.sign(after) == "Ø" or t.number_at(after) is not None):
        problem = "spot drilling with a size of its own is not planned: the shop chooses its spot drill"
        raise t.fail(problem, word.start, word.end, "Write the hole only.", "HOLE-CENTRE")
    if word is not None and word.meaning == "do not tap":  # a thread may come behind it: whole.py asks
        t.move(word.end)
        r.remarks.append(word.text)
        r.untapped = (word.start, word.end)
        return True
    if word is None or word.meaning not in NO_HOLES:
        return False
    code, problem, suggestion = NO_HOLES[word.meaning]
    if word.meaning == "cornered" and any(each.signed or each.thread or each.fastener for each in r.drafts):
        problem = f"{word.text} beside a round hole: is the hole square, or does it say how the holes stand?"
        suggestion = "Give the places of holes in X and Y; write a square or hexagon hole in its own row."
    raise t.fail(problem, word.start, word.end, suggestion, code)


def filler(r: Reading) -> bool:
    """Words and signs that only join others; words that lost the number they belong to are asked about."""
    t = r.tokens
    word = t.word()
    if word is not None:
        return _filler_word(r, word)
    sign = t.sign()
    if sign == "'" and t.text[t.position - 1 : t.position].isalpha():
        t.move(t.position + 1)  # THRO'
        return True
    if sign in ("+", "-") and not r.drafts and t.number_at(t.position + 1) is not None:
        problem = f"a {sign} before the first number: which sign was it?"
        raise t.fail(problem, t.position, t.position + 1, "Write Ø, or the number of holes with X.", "CALLOUT-SIGN-DOUBTFUL")
    return t.consume("slash") is not None


def _filler_word(r: Reading, word: Word) -> bool:
    t = r.tokens
    behind = t.skip_blanks(word.end)
    sized = r.current is not None and r.current.last == "size" and r.current.tolerance is not None and not r.fresh
    if word.meaning == "diameter" and not (
        sized or t.sign(behind) == "Ø" or t.number_at(behind) or t.meaning(behind) == "filler"
    ):
        return False
    if len(word.text) == 1 and word.text.isascii() and word.meaning != "diameter" and not _joins(t, word):
        return False
    if word.meaning in HEADS:
        _screw_or_thread(r, word, behind)
    if t.words("filler", "places", *HEADS, "diameter", "full thread", "spot") is None:
        return False
    if word.meaning == "places" and r.count is None and not r.typical:
        sentence = f"{word.text} stands without the number of holes."
        r.ask(COUNT_UNWRITTEN, sentence, word.start, word.end, "Write 4X before the size.", "no number")
    return True


def _screw_or_thread(r: Reading, word: Word, behind: int) -> None:
    """SCREW M6, M6 THRU BOLT: a hole for the screw, or its thread? A written class or TAP settles it."""
    t = r.tokens
    draft = r.current
    following = t.thread(behind)
    call = following[0] if following is not None else draft.thread if draft is not None and not r.fresh else None
    if call is None or call.thread_class is not None or (draft is not None and draft.stated and draft.thread is not None):
        return
    end = following[1] if following is not None else word.end
    start = word.start if following is not None or draft is None else draft.start
    problem = f"{t.text[start:end].strip()}: a tapped hole, or a clearance hole for the screw?"
    name = call.nominal.label
    raise t.fail(problem, start, end, f"Write TAP {name}, or CLEARANCE FOR {name}.", "THREAD-OR-CLEARANCE")


def _joins(t: Tokens, word: Word) -> bool:
    """Whether a single letter joins what stands around it (Ø5 Y Ø6, W/ CBORE), and is no part of a number, size or thread.

    A is an article, never "and": it needs a word before it as well.
    """
    before, behind = t.text[: word.start], t.skip_blanks(word.end)
    if before[-1:] not in (" ", "\n"):
        return False
    after_word = before.rstrip()[-1:].isalpha()
    number = t.number_at(behind)
    if number is not None:
        return after_word or t.sign(t.skip_blanks(number.end)) == "°"
    follows = t.sign(behind) in ("Ø", "⌴", "⌵", "/") or t.meaning(behind) is not None or t.thread(behind) is not None
    return follows and (after_word or word.text.upper() != "A")
