"""Rules of the grammar about depths."""

from __future__ import annotations

import re

from holesched.callouts.angles import angle, angle_without_sign, countersink_behind
from holesched.callouts.draft import HOLE_KINDS, PROCESSES, Draft, Reading
from holesched.callouts.drawing_notes import texture_value_end
from holesched.callouts.model import Depth, Kind
from holesched.callouts.tokens import Number, diameters
from holesched.callouts.words import Word, spelling

_IN_DIAMETERS = re.compile(
    r"(?P<deep>↧ ?)?[x-]? ?(?P<factor>[0-9](?:\.[0-9]+|[ -]1/2(?= ?[Dd](?![A-Za-z])))?) ?x? ?"
    r"(?:[Dd]|(?P<word>DIA(?:S|M|METERS?)?\.?))(?![A-Za-z0-9.])"
)
_MOST_DIAMETERS = 3.0
"""The longest wire insert (ASME B18.29), and about as long as threads are given in diameters."""
_OF_THREAD = ("ねじ", "ネジ", "タップ", "有効", "螺纹", "攻")
"""What depth words begin with that say a thread's, or its useful, depth."""
_ONE_LINE_EACH = "Write each step as Ø8 ↧20, one a line."


def depth(r: Reading) -> bool:
    """depth := (↧ | DEPTH) number | number (DEPTH | MIN | MAX | FULL THD) | x number; then [MIN | MAX] [FULL THD]."""
    t = r.tokens
    start = t.position
    if _length_was_written(r):
        return True
    if t.take("↧") or t.words("depth"):
        return _depth_after_sign(r, start)
    if t.sign() == "x":
        return _depth_after_x(r, start)
    number = t.number_at(start)
    if number is None:
        return False
    after = t.skip_blanks(number.end)
    meaning = t.meaning(after)
    if meaning not in ("depth", "min", "max", "full thread"):
        return False
    word = t.word(after)
    if word is not None and meaning == "depth" and _is_size_before_depth(r, word):
        return False
    t.move(number.end)
    if meaning == "depth" and word is not None:
        t.move(word.end)
    apply_depth(r, number, start)
    return True


def in_diameters(r: Reading) -> bool:
    """in diameters := [↧ | x | -] factor [x] D [DEEP], behind a thread without its depth, or ↧ or DEEP with it: asked."""
    t = r.tokens
    start = t.position
    draft = r.current
    found = _IN_DIAMETERS.match(t.text, start)
    if found is None or r.fresh:
        return False
    behind = t.meaning(t.skip_blanks(found.end()))
    if draft is None:
        short = found["word"] is None and found["deep"] is None and diameters(found) <= _MOST_DIAMETERS
        if short and behind not in PROCESSES and found[0][-1] == "D":
            problem = f"{found[0]}: a diameter, or a length in diameters?"
            raise t.fail(problem, start, found.end(), "Write Ø before a diameter, and a length behind its thread.")
        return False
    if behind in ("insert", "insert thread") and draft.thread is not None and draft.depth is None:
        t.move(found.end())
        draft.insert_diameters = diameters(found)
        r.touch(draft)
        return True
    nominal_mm = draft.thread.nominal.mm if draft.thread is not None else draft.diameter.mm if draft.diameter else 0.0
    deep = found["deep"] or behind == "depth"
    surely = deep or (draft.thread is not None and (found["word"] is None or "x" in found[0]))
    if nominal_mm == 0 or not surely:
        return False
    t.move(found.end())
    t.words("depth")
    if draft.depth is not None:
        problem = f"{found[0].strip()} behind a depth: the length of an insert, or of the thread?"
        raise t.fail(problem, start, t.end_of_last, "Write STI with an insert's length, or one depth.", "DEPTH-TWICE")
    draft.depth = Depth(round(diameters(found) * nominal_mm, 6))
    r.touch(draft, "depth")
    length = f"{found['factor']} times the diameter, {draft.depth.mm:g} mm"
    what = "of the thread, or of an insert" if draft.thread is not None else "of the hole"
    sentence = f"{found[0].strip()} is read as a length, {length}: {what}?"
    r.ask("CALLOUT-DEPTH-DOUBTFUL", sentence, start, t.end_of_last, "Write ↧ and the depth; STI for an insert.", length)
    return True


def _length_was_written(r: Reading) -> bool:
    """M8x1.25x15 DEEP 4 HOLES: DEEP belongs to the length before it, not to what follows."""
    t = r.tokens
    draft = r.current
    word = t.word()
    length_mm = draft.thread.length_mm if draft is not None and draft.thread is not None and draft.last == "thread" else None
    if draft is None or length_mm is None or word is None or word.meaning != "depth" or word.text[0] > "\u3000":
        return False
    number = t.number_at(t.skip_blanks(word.end))
    t.move(word.end)
    if number is not None and t.meaning(t.skip_blanks(number.end)) not in ("places", "typical") and not t.check("times"):
        problem = f"{length_mm:g} and {number.text} may both be the thread's depth"
        raise t.fail(problem, draft.start, number.end, "Write one of them.", "DEPTH-TWICE")
    draft.depth = Depth(length_mm)
    r.touch(draft, "depth")
    return True


def _is_size_before_depth(r: Reading, word: Word) -> bool:
    """Whether "20 DEEP 30" is a size and its depth: nothing has been read yet, or the word is Japanese (10 深20)."""
    t = r.tokens
    current = r.current
    if current is not None and not (word.text[0] > "\u3000" and (current.unsized or r.fresh)):
        return False
    return t.number_at(t.skip_blanks(word.end)) is not None


def _depth_after_sign(r: Reading, start: int) -> bool:
    t = r.tokens
    t.words("filler")
    if t.sign() in (":", "="):
        t.move(t.position + 1)
    limit = t.words("min", "max")
    if t.meaning() in ("through", "through hole", "through all"):
        return True
    textured = t.sign(start) != "↧" and texture_value_end(t.text, t.position)
    number = t.number() if not textured else None
    draft = r.current
    if number is not None and _of_thread_before_drill(r, start, number):
        return True
    repeated = draft is not None and draft.depth is not None and draft.last == "depth" and t.sign(start) != "↧"
    if number is None and repeated:
        return True
    if number is None:
        problem = "expected a depth: there is no number beside the depth word"
        raise t.fail(problem, start, t.end_of_last, "Write the depth, or THRU.", "DEPTH-MISSING")
    again = t.word()
    if again is not None and again.meaning == "depth" and t.number_at(t.skip_blanks(again.end)) is None:
        t.move(again.end)
    apply_depth(r, number, start, limit)
    return True


def _of_thread_before_drill(r: Reading, start: int, number: Number) -> bool:
    """M6 下穴Ø5 深サ22 タップ深サ15: the drill has its depth, and the word of this one says the thread.

    Without the word a second depth behind a pilot hole is most likely the thread's, if it is the smaller one: asked.
    """
    word = r.tokens.word(start)
    drill = r.current
    if drill is None or drill.thread is not None or not drill.depth:
        return False
    deeper = drill.depth.through or (drill.depth.mm or 0.0) > number.mm
    said = word is not None and word.text.startswith(_OF_THREAD)
    if not said and not (deeper and "pilot hole" in drill.uses):
        return False
    threads = [each for each in r.drafts if each.thread is not None]
    if len(threads) != 1 or threads[0].depth is not None or threads[0].thread is None or threads[0].thread.length_mm:
        return False
    threads[0].depth = Depth(number.mm)
    if not said and not drill.depth.through:
        sentence = f"{number.text} behind the drilled depth is read as the thread's."
        hint = "Write each step's depth behind its size."
        r.ask("CALLOUT-DEPTH-DOUBTFUL", sentence, start, r.tokens.end_of_last, hint, f"thread {number.text} deep")
    r.touch(drill, "depth")
    return True


def _useful_thread(r: Reading, drilled: Number, start: int) -> bool:
    """M10 prof. 22 utile 18: the hole is drilled 22 deep, and 18 of it are useful thread."""
    t = r.tokens
    draft = r.current
    word = t.word()
    useful = t.number_at(t.skip_blanks(word.end)) if word is not None and spelling(word.text) in ("UTILE", "UTIL") else None
    if useful is None or draft is None or draft.thread is None or draft.depth is not None or draft.thread.length_mm:
        return False
    if useful.mm >= drilled.mm or t.meaning(t.skip_blanks(useful.end)) == "places" or t.check("times", useful.start):
        return False
    t.move(useful.end)
    draft.depth = Depth(useful.mm)
    r.touch(draft, "depth")
    pilot_depth(r, Depth(drilled.mm), start)
    return True


def _depth_after_x(r: Reading, start: int) -> bool:
    """x number: a depth behind a size or thread; x number ° is an angle and left to that rule."""
    t = r.tokens
    draft = r.current
    found = t.check("x")
    if draft is None or found is None:
        return False
    if draft.unsized:
        if draft.angle_deg is None:
            return False
        t.move(found.end())
        return True
    after = t.skip_blanks(found.end())
    if t.sign(after) == "↧":
        t.move(after)
        return True
    if t.sign(after) == "Ø":
        problem = "which depth belongs to which diameter?"
        raise t.fail(problem, start, after + 1, _ONE_LINE_EACH, "DEPTH-UNCLEAR")
    number = t.number_at(after)
    if number is None:
        if t.meaning(after) in ("through", "through hole", "through all", "depth"):
            t.move(after)
            return True
        return False
    behind = t.skip_blanks(number.end)
    if t.meaning(behind) == "places":
        t.move(after)
        return True
    if t.sign(behind) == "°" or t.meaning(behind) == "degree":
        t.move(after)
        return countersink_behind(r, draft, number, behind) or angle(r)
    if t.check("x", behind) and t.number_at(t.skip_blanks(behind + 1)):
        problem = "too many numbers joined by x: which is the depth?"
        raise t.fail(problem, start, behind + 1, _ONE_LINE_EACH, "DEPTH-UNCLEAR")
    t.move(number.end)
    if angle_without_sign(r, draft, number):
        return True
    if t.meaning() == "depth" and not _names_the_next(r):
        t.words("depth")
    apply_depth(r, number, start)
    return True


def _names_the_next(r: Reading) -> bool:
    """下穴φ5×15 ねじ深さ12: an eastern word stands before its number."""
    word = r.tokens.word()
    return word is not None and word.text[0] > "\u3000" and r.tokens.number_at(r.tokens.skip_blanks(word.end)) is not None


def apply_depth(r: Reading, number: Number, start: int, limit: Word | None = None) -> None:
    """Gives the depth to its step, with MIN, MAX and FULL THD behind it; MAX DRILL makes it the pilot hole's."""
    t = r.tokens
    if limit is None and _useful_thread(r, number, start):
        return
    least = limit is not None and limit.meaning == "min"
    most = limit is not None and limit.meaning == "max"
    while (word := None if _of_drill_depth(r) else t.words("min", "max", "full thread")) is not None:
        least, most = least or word.meaning == "min", most or word.meaning == "max"
        if t.meaning() == "tap" and (thread := t.word()) is not None and t.thread(t.skip_blanks(thread.end)) is None:
            t.move(thread.end)
    found = Depth(number.mm, least=least, most=most)
    draft = r.current
    word = t.word()
    drilled = word is not None and word.meaning in ("drill", "drill depth", "pilot")
    if drilled and word is not None and draft is not None and (draft.depth is not None or least or most):
        t.move(word.end)
        pilot_depth(r, found, start)
        return
    if draft is None and r.count is not None and (t.sign() == "Ø" or t.thread() is not None):
        r.for_later().depth = found  # 4 taladros prof. 12 Ø8
        return
    if draft is None:
        raise t.fail(
            "a depth, but nothing it could be the depth of", start, t.end_of_last, "Write the size before its depth."
        )
    if draft.chamfer_mm is not None:
        before_chamfer(r, start).depth = found
        r.touch(draft, "depth")
        return
    length_mm = draft.thread.length_mm if draft.thread is not None and draft.depth is None else None
    if length_mm is not None and length_mm != number.mm:
        problem = f"{length_mm:g} and {number.text} may both be the thread's depth"
        raise t.fail(problem, draft.start, t.end_of_last, "Write one of them.", "DEPTH-TWICE")
    if draft.thread is not None and draft.depth == Depth(through=True) and not draft.part_way:
        found = found._replace(through=True)
    elif draft.depth is not None and draft.depth != found and not (draft.depth.through and draft.part_way):
        if draft.depth.through and draft.depth.mm is None:
            raise t.fail("THRU and a depth for one step", start, t.end_of_last, "Write one of them.", "DEPTH-TWICE")
        hint = "Write each step's depth behind its size."
        raise t.fail("two depths for one step", start, t.end_of_last, hint, "DEPTH-TWICE")
    metric = draft.thread.tpi is None if draft.thread is not None else not draft.inch
    if number.fraction and not number.marked and metric and t.unit == "mm":
        sentence = f"{number.text} in a metric callout: a fraction of an inch, or two depths?"
        hint = "Write the depth in mm, or mark the inches."
        r.ask("CALLOUT-UNIT-DOUBTFUL", sentence, number.start, number.end, hint, f"{number.mm:.2f} mm")
    draft.depth = found
    draft.inch = draft.inch or number.inch
    r.touch(draft, "depth")


def before_chamfer(r: Reading, start: int, *, through: bool = False) -> Draft:
    """M8 C1 ↧15: a chamfer has a leg, a depth behind it is that of the thread or hole before it, which has none yet.

    The same with THRU behind a countersink; a hole that goes `through` already may be said to once more.
    """
    t = r.tokens
    holes = [each for each in r.drafts if not each.is_opening]
    for hole in reversed(holes):
        long = hole.thread is not None and hole.thread.length_mm is not None
        if hole.depth is None and (through or not long):
            return hole
        if through and hole.depth is not None and hole.depth.through:
            return hole
    what = "THRU behind a cone" if through else "a depth behind a chamfer"
    problem = f"{what}, which has none, and the step before it has its own"
    raise t.fail(problem, start, t.end_of_last, "Write each step's depth behind its size.", "DEPTH-TWICE")


def _of_drill_depth(r: Reading) -> bool:
    """Whether MAX or MIN here belongs to MAX DRILL number, not to the depth before it."""
    t = r.tokens
    word = t.word()
    drill = t.word(t.skip_blanks(word.end)) if word is not None else None
    return drill is not None and drill.meaning == "drill" and t.number_at(t.skip_blanks(drill.end)) is not None


def pilot_depth(r: Reading, found: Depth, start: int) -> None:
    """The drilled depth of a pilot hole whose diameter is left to the shop, or of the drill just named."""
    draft = r.current
    zone = draft.tolerance.zone if draft is not None and draft.tolerance is not None else None
    if draft is not None and draft.diameter is not None and (zone or draft.kind in (Kind.REAM, Kind.BORE)):
        problem = f"a drilled depth under {draft.diameter.label} {zone or ''}".rstrip()
        hint = "Write how deep it is finished, and DRILL with its diameter and depth."
        raise r.tokens.fail(f"{problem}: how deep is it finished, drilled with what?", start, r.tokens.end_of_last, hint,
                            "DEPTH-UNCLEAR")  # fmt: skip
    if draft is not None and draft.kind in (None, *HOLE_KINDS) and draft.diameter is not None and draft.depth is None:
        draft.depth = found
        r.touch(draft, "depth")
        return
    draft = r.begin(start, Kind.DRILL, stated=True)
    draft.depth = found
    draft.uses.append("pilot hole")
    r.touch(draft, "depth")
