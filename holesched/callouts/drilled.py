"""Rules of the grammar about the drilled hole under a thread: how deep it is, where the callout says both depths."""

from __future__ import annotations

import re

from holesched.callouts.depths import apply_depth, pilot_depth
from holesched.callouts.draft import Draft, Reading
from holesched.callouts.model import Depth
from holesched.callouts.tokens import Number
from holesched.callouts.words import Word, spelling
from holesched.notes import COMMON_PRACTICE, Cite, Severity, Standing

HOLES = frozenset(
    (
        "HOLE",
        "BOHRUNG",
        "BOHR",
        "LOCH",
        "TROU",
        "AGUJERO",
        "TALADRO",
        "FORO",
        "FURO",
        "HAL",
        "OTWOR",
        "OTBEPCTИE",
        "OTB",
        "穴",
        "孔",
    )
)
"""Words for a hole, as the table of words spells them: behind a thread with its depth, the hole drilled for it."""
SHORT_FORM = Cite("DIN 6780; ISO 15786", place="thread length / depth of the drilled hole", standing=Standing.FROM_MEMORY)
_BOTH_HINT = "Write ↧ for the thread, DRILL DEPTH for the hole."
_BY = re.compile(r"x ?([0-9.]+) ?/ ?$")
"""A length behind x and the slash after it."""


def _short_thread(r: Reading) -> tuple[Draft, float] | None:
    """The thread being read and its depth in mm, if it has one; a through thread has none."""
    draft = r.current
    if draft is None or draft.thread is None:
        return None
    deep_mm = draft.depth.mm if draft.depth is not None else draft.thread.length_mm
    through = draft.depth is not None and draft.depth.through
    return (draft, deep_mm) if deep_mm is not None and not through else None


def behind_slash(r: Reading) -> bool:
    """behind slash := (/ | '(') [↧] number, behind a thread's depth and deeper: M10 x 20/25, M5 ↧10 (↧14).

    Asked, unless in the short form of ISO.
    """
    t = r.tokens
    start = t.position
    short = _short_thread(r)
    signed = t.sign() == "↧"
    apart = t.text[:start].rstrip()[-1:]
    parted = apart == "/" or (apart == "(" and signed)
    number = t.number_at(t.skip_blanks(start + signed)) if short is not None and parted else None
    if short is None or number is None or number.mm <= short[1]:
        return False
    t.move(number.end)
    t.words("depth")
    said = f"{short[1]:g}/{number.text} is read as the depth of thread and of the drilled hole."
    both = f"thread {short[1]:g}, drilled {number.text}"
    by = _BY.search(t.text, 0, start)
    length = t.number_at(by.start(1)) if by is not None else None
    if length is not None and not length.fraction:  # M12 x 15/16 may be a fraction of an inch
        r.note("CALLOUT-DEPTH-BOTH", Severity.ASSUMED, said, start, number.end, "", both, SHORT_FORM)
    else:
        r.ask("CALLOUT-DEPTH-DOUBTFUL", said, start, number.end, _BOTH_HINT, both)
    pilot_depth(r, Depth(number.mm), start)
    return True


def both_depths(r: Reading) -> bool:
    """both depths := number / number [DEEP] behind a thread without its depth: M8, 20/25 tief. Asked without the word."""
    t = r.tokens
    start = t.position
    draft = r.current
    thread = t.number_at(start)
    if draft is None or draft.thread is None or draft.depth is not None or draft.thread.length_mm is not None:
        return False
    if thread is None or thread.fraction or t.thread(start) is not None:
        return False
    slash = t.skip_blanks(thread.end)
    drilled = t.number_at(t.skip_blanks(slash + 1)) if t.sign(slash) == "/" else None
    if drilled is None or drilled.mm <= thread.mm:
        return False
    meaning = t.meaning(t.skip_blanks(drilled.end))
    if meaning in ("places", "degree", "diameter") or t.sign(t.skip_blanks(drilled.end)) == "°":
        return False
    t.move(drilled.end)
    deep = t.words("depth") is not None
    draft.depth = Depth(thread.mm)
    r.fresh = False
    said = f"{thread.text}/{drilled.text} is read as the depth of thread and of the drilled hole."
    both = f"thread {thread.text}, drilled {drilled.text}"
    if deep:
        r.note("CALLOUT-DEPTH-BOTH", Severity.ASSUMED, said, start, drilled.end, "", both, SHORT_FORM)
    else:
        r.ask("CALLOUT-DEPTH-DOUBTFUL", said, start, drilled.end, _BOTH_HINT, both)
    pilot_depth(r, Depth(drilled.mm), start)
    return True


def of_the_hole(r: Reading) -> bool:
    """of the hole := (HOLE | DRILL) (↧ n | DEPTH n | n DEPTH | n), behind a thread's depth and deeper: the drilled depth.

    A bare n wider than the thread can be no diameter (M6 ↧12 DRILL 15).
    """
    t = r.tokens
    start = t.position
    short = _short_thread(r)
    word = t.word()
    if short is None or word is None:
        return False
    drill = word.meaning in ("drill", "pilot")
    if not drill and spelling(word.text) not in HOLES:
        return False
    number, named, limit, end = _depth_behind(r, word)
    draft, thread_mm = short
    if number is None or draft.thread is None or number.mm <= thread_mm:
        return False
    if not named and (number.mm <= draft.thread.nominal.mm or _counts(r, number)):
        return False
    if named and drill:
        return False  # the process rule reads it
    t.move(end)
    behind = t.words("min", "max")
    limit = limit or behind
    if not named:
        said = f"{number.text} is wider than the thread: read as the depth of the drilled hole."
        r.note("CALLOUT-DEPTH-READ", Severity.TOLD, said, start, number.end, "", f"drilled {number.text}", COMMON_PRACTICE)
    meaning = limit.meaning if limit is not None else None
    draft.depth = draft.depth or Depth(thread_mm)
    pilot_depth(r, Depth(number.mm, least=meaning == "min", most=meaning == "max"), start)
    return True


def _depth_behind(r: Reading, word: Word) -> tuple[Number | None, bool, Word | None, int]:
    """The number behind a word for a hole, whether it is named a depth, MIN or MAX before it, and where all this ends."""
    t = r.tokens
    at, named, limit = t.skip_blanks(word.end), False, None
    while at < len(t.text):
        following = t.word(at)
        meaning = following.meaning if following is not None else None
        if t.sign(at) == "↧" or meaning == "depth":
            named = True
        elif meaning in ("min", "max"):
            limit = following
        elif t.sign(at) not in (":", "=") and meaning != "filler":
            break
        at = t.skip_blanks(following.end if following is not None else at + 1)
    number = t.number_at(at)
    if number is None:
        return None, named, limit, at
    behind = t.word(t.skip_blanks(number.end))
    if behind is not None and behind.meaning == "depth" and not named and not t.number_at(t.skip_blanks(behind.end)):
        return number, True, limit, behind.end
    return number, named, limit, number.end


def _counts(r: Reading, number: Number) -> bool:
    """Whether a bare number is something else than a depth: a quantity, an angle, a size with its zone or process."""
    t = r.tokens
    behind = t.skip_blanks(number.end)
    return t.meaning(behind) in ("places", "degree", "diameter", "tap", "drill") or bool(
        t.sign(behind) == "°" or t.check("times", number.start) or t.check("hole zone", behind)
    )


def bound(r: Reading, limit: Word, start: int) -> bool:
    """bound := (MIN | MAX) number, behind a depth: M6 x 12 DEEP (MIN 10). The depth itself must lie within it.

    At most so much may be meant of the drilled hole, too, and is asked.
    """
    t = r.tokens
    draft = r.current
    number = t.number_at(t.skip_blanks(limit.end))
    depth = draft.depth if draft is not None else None
    if draft is None or depth is None or depth.mm is None or number is None or draft.last != "depth":
        return False
    if t.check("times", number.start) or t.meaning(t.skip_blanks(number.end)) is not None:
        return False
    t.move(number.end)
    shown = f"{limit.text} {number.text}"
    if (number.mm > depth.mm) is (limit.meaning == "min") and number.mm != depth.mm:
        problem = f"{shown} and a depth of {depth.mm:g} contradict each other"
        raise t.fail(problem, draft.start, number.end, "Correct one of them.", "DEPTH-TWICE")
    if limit.meaning == "max":
        said = f"{shown} behind a depth of {depth.mm:g}: of the same depth, or of the hole drilled for it?"
        r.ask("CALLOUT-DEPTH-DOUBTFUL", said, start, number.end, "Write DRILL DEPTH with it.", f"depth {depth.mm:g}")
    else:
        said = f"{shown}: the depth written, {depth.mm:g}, is made."
        r.note("CALLOUT-DEPTH-READ", Severity.TOLD, said, start, number.end, "", f"depth {depth.mm:g}", COMMON_PRACTICE)
    r.touch(draft, "depth")
    return True


def limit_before(r: Reading, limit: Word, start: int) -> bool:
    """limit before := (MIN | MAX) number [DEPTH]: M6 MIN 12 DEEP; without the word only behind a thread, and asked."""
    t = r.tokens
    number = t.number_at(t.skip_blanks(limit.end))
    word = t.word(t.skip_blanks(number.end)) if number is not None else None
    draft = r.current
    if number is None or draft is None or draft.depth is not None:
        return False
    if word is not None and word.meaning == "depth":
        t.move(word.end)
    elif draft.thread is None or word is not None or t.check("times", number.start):
        return False
    else:
        t.move(number.end)
        said = f"{limit.text} {number.text} is read as the thread's depth."
        r.ask("CALLOUT-DEPTH-DOUBTFUL", said, start, number.end, "Write ↧ or DEEP with it.", f"depth {number.text}")
    apply_depth(r, number, start, limit)
    return True
