"""Rules of the grammar about how many holes there are: quantities, ranges of tags, and what stands in brackets."""

from __future__ import annotations

import re
from dataclasses import replace

from holesched.callouts.depths import pilot_depth
from holesched.callouts.deviations import deviation
from holesched.callouts.draft import PROCESSES, Draft, Reading
from holesched.callouts.drawing_notes import note_end
from holesched.callouts.model import Depth, Kind, Tolerance
from holesched.callouts.tokens import Number
from holesched.units import MM_PER_INCH

NARROWEST_DRILL = 0.6
"""Of a thread's diameter: a hole below is drilled for no thread. Common practice, no source."""


MOST_DRILLED = 2.0
"""Of a thread's depth: the hole drilled for it is seldom deeper. Common practice, no source."""
LIMITS_WITHIN = 0.05
"""Of its size: so near a limit of size lies. Common practice, no source."""
_BETWEEN_LIMITS = re.compile(r" ?(?:/|-|\.\.\.?|TO) ?")
_BEHIND = (
    "filler",
    "equal",
    "circle",
    "through",
    "typical",
    "remark",
    "left hand",
    "right hand",
    "far",
    "near",
    "both",
    "depth",
)
"""What may stand behind a quantity that stands behind its size: words that begin no step."""


def quantity(r: Reading) -> bool:
    """quantity := (QTY | N | ANZAHL) [: /] n."""
    t = r.tokens
    start = t.position
    word = t.words("quantity")
    if word is None:
        return False
    t.take("°")  # N° 4
    t.consume("slash")
    number = t.number()
    if number is None:
        raise t.fail("expected a number of holes after the word for quantity", start)
    return _counted(r, _whole(r, number), start)


def tags(r: Reading) -> bool:
    """tags := TAG1-TAG9, first of all: as many holes as the range has tags."""
    t = r.tokens
    start = t.position
    if r.drafts or r.count is not None:
        return False
    found = t.check("tags")
    number = int(found["last"]) - int(found["first"]) + 1 if found is not None else 0
    if found is None or found["letters"] == "M" or number < 2:
        return False
    t.move(found.end())
    return _counted(r, number, start)


def count(r: Reading) -> bool:
    """count := n X | (n) | n- before M or Ø | n PLCS; a bare n before a thread is asked about."""
    t = r.tokens
    start = t.position
    if t.check("may count") is None:
        return False
    opening = not r.drafts or r.fresh
    found = t.check("bracket count") if t.sign() == "(" else None
    counts = found is not None and t.meaning(t.skip_blanks(found.end())) == "places"
    if found is not None and (opening or counts or "x" in found[0]):
        t.move(found.end())
        if counts:
            t.words("places")
        elif "x" not in found[0]:
            n = int(found["count"])
            sentence = f"{found[0]} is read as the number of holes; on a formal drawing brackets mark a reference."
            r.ask("CALLOUT-COUNT-DOUBTFUL", sentence, start, found.end(), f"Write {n}X.", f"{n} holes")
        return _counted(r, int(found["count"]), start)
    if opening and (found := t.check("dash count")):
        t.move(found.end())
        return _counted(r, int(found["count"]), start)
    if _times(r, start, opening) or _places(r, start):
        return True
    if opening and (found := t.check("glued count")):
        problem = f"{found[0]}: {found['count']} holes {found['thread']}, or a diameter with a zone?"
        hint = f"Write {found['count']}X {found['thread']}, or Ø and a blank before the zone."
        raise t.fail(problem, start, found.end(), hint, "CALLOUT-COUNT-DOUBTFUL")
    if opening and (found := t.check("bare count") or _before_word(r)) and t.thread() is None:
        t.move(found.end())
        n = int(found["count"])
        problem = f"A bare {n} before the size is read as the number of holes."
        r.ask("CALLOUT-COUNT-DOUBTFUL", problem, start, start + len(found["count"]), f"Write {n}X.", f"{n} holes")
        return _counted(r, n, start)
    return False


def _before_word(r: Reading) -> re.Match[str] | None:
    """2 CLEARANCE FOR M8, 2 TAP M8: the 2 can be no diameter. 5 TAP M6 has the drill of its thread."""
    t = r.tokens
    found = t.check("whole number")
    word = t.word(t.skip_blanks(found.end())) if found is not None else None
    if found is None or word is None:
        return None
    thread = t.thread(t.skip_blanks(word.end)) if word.meaning == "tap" and t.unit == "mm" else None
    no_drill = thread is not None and int(found["count"]) < NARROWEST_DRILL * thread[0].nominal.mm
    return found if word.meaning == "clearance" or no_drill else None


def _times(r: Reading, start: int, opening: bool) -> bool:
    """n X, before the beginning of a step, or at the very end."""
    t = r.tokens
    found = t.check("times")
    if found is None or t.thread() is not None:
        return False
    n = int(found["count"])
    after = t.skip_blanks(found.end())
    if after >= len(t.text):
        if r.drafts and (r.fresh or not r.drafts[-1].unsized):
            t.move(found.end())
            return _counted(r, n, start)
        return False
    if not opening:
        return _times_behind(r, n, start, found.end())
    number = t.number_at(after)
    begins = t.sign(after) in "Ø⌴⌵([" or t.thread(after) is not None
    if number is None:
        if not (begins or t.meaning(after) or t.check("number drill", after) or t.check("letter drill", after)):
            return _times_behind(r, n, start, found.end())
    elif not (begins or t.check("times", after)):
        behind = t.skip_blanks(number.end)
        if (
            t.sign(behind) == "°"
            and n > 1
            and (t.thread(t.skip_blanks(behind + 1)) or t.sign(t.skip_blanks(behind + 1)) == "Ø")
        ):
            t.move(behind + 1)
            sentence = f"{n} x {number.text}° is read as {n} holes, {number.text}° apart."
            r.ask("CALLOUT-COUNT-DOUBTFUL", sentence, start, behind + 1, f"Write {n}X, and the circle.", f"{n} holes")
            return _counted(r, n, start)
        meaning = t.meaning(behind)
        sized = meaning in PROCESSES or meaning in ("diameter", "through", "through hole", "through all", "depth")
        sized = sized or t.check("hole zone", behind) is not None or number.text.startswith(".") or number.fraction
        close = t.text[found.end() - 2 : found.end() - 1] != " " and after > found.end()
        if not (sized or close):
            return False
    t.move(found.end())
    return _counted(r, n, start)


def _times_behind(r: Reading, n: int, start: int, end: int) -> bool:
    """Ø8 4x am Umfang; M6 4x 12 DEEP, which is asked about: n X behind a size, before words or before a depth."""
    t = r.tokens
    draft = r.current
    if draft is None or t.text[start - 1 : start] not in (" ", "\n") or r.count is not None:
        return False
    after = t.skip_blanks(end)
    number = t.number_at(after)
    if number is not None and t.meaning(t.skip_blanks(number.end)) == "depth" and draft.last in ("size", "thread"):
        if after == end:
            return False
        sentence = f"{n}x before a depth is read as {n} holes."
        r.ask("CALLOUT-COUNT-DOUBTFUL", sentence, start, end, f"Write {n}X before the size.", f"{n} holes")
    elif (
        t.meaning(after) not in _BEHIND
        and not _circle_at(r, after)
        and note_end(r, after) <= after
        and t.sign(after) not in "↧,;\n"
    ):
        return False
    t.move(end)
    return _counted(r, n, start)


def _circle_at(r: Reading, at: int) -> bool:
    """Whether Ø60 PCD stands there."""
    t = r.tokens
    number = t.number_at(t.skip_blanks(at + 1)) if t.sign(at) == "Ø" else None
    return number is not None and t.meaning(t.skip_blanks(number.end)) == "circle"


def _places(r: Reading, start: int) -> bool:
    """n PLCS, n HOLES, n EQ SP; HOLES is not a tap's word here."""
    t = r.tokens
    number = t.number_at(start)
    if number is None or number.fraction or (number.inch and number.marked) or not number.text.isdigit():
        return False
    word = t.word(t.skip_blanks(number.end))
    if word is None or word.meaning not in ("places", "equal"):
        return False
    t.move(word.end if word.meaning == "places" else number.end)
    return _counted(r, _whole(r, number), start)


def _whole(r: Reading, number: Number) -> int:
    if number.value != int(number.value) or number.fraction:
        raise r.tokens.fail("expected a whole number of holes", number.start, number.end)
    return int(number.value)


def _counted(r: Reading, number: int, start: int) -> bool:
    t = r.tokens
    if number == 0:
        raise t.fail("a quantity of zero holes", start, t.end_of_last)
    multiplied = r.count is not None and t.text[:start].rstrip()[-1:] == "x"
    if r.count is not None and (r.count != number or multiplied):
        sentence = f"two quantities: {r.count} and {number}. Is it {r.count}, {number} or {r.count * number} holes?"
        hint = "Write one quantity, and each kind of hole in its own row."
        raise t.fail(sentence, start, t.end_of_last, hint, "COUNT-TWICE")
    r.count = number
    return True


def bracket(r: Reading) -> bool:
    """bracket := ( gauging | deviation | equivalent | anything else ); the brackets themselves mean nothing."""
    t = r.tokens
    start = t.position
    if t.consume(")"):
        return True
    if not t.consume("("):
        return False
    draft = r.current
    times = t.check("times")
    if times is not None and t.check(")", t.skip_blanks(times.end())):  # [4x]
        t.move(t.skip_blanks(times.end()) + 1)
        return _counted(r, int(times["count"]), start)
    if deviation(r):
        t.consume(")")
        return True
    number = t.number_at(t.position)
    if draft is not None and number is not None and (_limits(r, draft) or _drilled(r, draft, number, start)):
        return True
    if number is None or not t.check(")", t.skip_blanks(number.end)):
        return True
    t.move(t.skip_blanks(number.end) + 1)
    if draft is None:
        return _counted(r, _whole(r, number), start)
    if draft.thread is not None and draft.depth is None and number.text in ("21", "22", "23"):
        draft.thread = replace(draft.thread, gauging=number.text)
        return True
    length_mm = draft.thread.length_mm if draft.thread is not None and draft.depth is None else None
    if length_mm is not None and number.mm > length_mm:
        draft.depth = Depth(length_mm)  # M8x16 (20)
        r.touch(draft, "depth")
    if draft.thread is not None and draft.last == "thread" and number.text.isdigit() and r.count is None:
        sentence = f"({number.text}) behind the thread is read as the number of holes."
        r.ask("CALLOUT-COUNT-DOUBTFUL", sentence, start, t.end_of_last, f"Write {number.text}X.", f"{number.text} holes")
        return _counted(r, int(number.text), start)
    _equivalent(r, number, start)
    return True


def _limits(r: Reading, draft: Draft) -> bool:
    """Ø10 H7 (10.015/10.000): the limits of the size before, whose zone is written too."""
    t = r.tokens
    zone, have_mm = (draft.tolerance.zone, draft.tolerance.low_mm) if draft.tolerance is not None else (None, None)
    if draft.diameter is None or draft.last != "size" or have_mm is not None:
        return False
    first = t.number_at(t.position)
    dash = _BETWEEN_LIMITS.match(t.text, first.end) if first is not None else None
    second = t.number_at(dash.end()) if dash is not None else None
    if first is None or second is None or "." not in first.text + second.text:
        return False
    if any(abs(each.mm / draft.diameter.mm - 1) > LIMITS_WITHIN for each in (first, second)):
        return False
    t.move(second.end)
    low, high = sorted((first.mm, second.mm))
    draft.tolerance = Tolerance(zone, low, high)
    t.consume(")")
    r.touch(draft, "size")
    return True


def _drilled(r: Reading, draft: Draft, number: Number, start: int) -> bool:
    """M8 ↧16 (6.8 ↧20): the drill of the thread before."""
    t = r.tokens
    behind = t.skip_blanks(number.end)
    deep = t.sign(behind) == "↧" or (t.check("x", behind) is not None and t.number_at(t.skip_blanks(behind + 1)) is not None)
    nominal_mm = draft.thread.nominal.mm if draft.thread is not None else 0.0
    if not deep or draft.depth is None or not NARROWEST_DRILL * nominal_mm < number.mm < nominal_mm:
        return False
    r.begin(start, Kind.DRILL)
    return True


def _equivalent(r: Reading, number: Number, start: int) -> None:
    """A number in brackets behind a size or depth is the same length in the other unit, or by its decimals; else asked."""
    draft = r.current
    t = r.tokens
    if draft is None:
        return
    depth_mm = draft.depth.mm if draft.depth is not None and draft.last == "depth" else None
    if draft.thread is not None and depth_mm is not None and depth_mm < number.mm <= MOST_DRILLED * depth_mm:
        sentence = f"({number.text}) behind the thread's depth is read as the depth of the drilled hole."
        both = f"thread {depth_mm:g}, drilled {number.text}"
        r.ask("CALLOUT-DEPTH-DOUBTFUL", sentence, start, t.end_of_last, f"Write DRILL DEPTH {number.text}.", both)
        pilot_depth(r, Depth(number.mm), start)
        return
    length_mm = depth_mm if depth_mm is not None else draft.diameter.mm if draft.diameter is not None else None
    if length_mm is not None:
        places = len(number.text.partition(".")[2])
        rounding = (1.01 if places >= 3 else 0.51) * 10.0**-places  # .015 for 1/64: three places and more may be cut off
        for value_mm, off_mm in ((number.value * MM_PER_INCH, rounding * MM_PER_INCH), (number.value, rounding)):
            if abs(value_mm - length_mm) <= off_mm:
                return
    what = "the depth" if depth_mm is not None else "the size"
    sentence = f"({number.text}) does not agree with {what} before it."
    r.ask(
        "CALLOUT-EQUIVALENT-DIFFERS",
        sentence,
        start,
        t.end_of_last,
        "Correct one of the two.",
        "the value before the bracket",
    )
