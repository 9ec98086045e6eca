"""Rules of the grammar about depths and angles."""

from __future__ import annotations

import re

from holesched.callouts.draft import HOLE_KINDS, PROCESSES, Draft, Reading
from holesched.callouts.drawing_notes import texture_value_end
from holesched.callouts.model import Depth, Kind
from holesched.callouts.tokens import Number
from holesched.callouts.words import Word
from holesched.standards.sizes import Size

COUNTERSINK_ANGLES = (60.0, 82.0, 90.0, 100.0, 110.0, 120.0)
_POINT_ANGLES = (118.0, 120.0, 130.0, 135.0, 140.0)
_IN_DIAMETERS = re.compile(
    r"(?P<deep>↧ ?)?[x-]? ?(?P<factor>[0-9](?:\.[0-9]+)?) ?x? ?(?:[Dd]|(?P<word>DIA(?:S|M|METERS?)?\.?))(?![A-Za-z0-9.])"
)
_MOST_DIAMETERS = 3.0
"""The longest wire insert (ASME B18.29), and about as long as threads are given in diameters."""
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
    _apply_depth(r, number, start)
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
        short = found["word"] is None and found["deep"] is None and float(found["factor"]) <= _MOST_DIAMETERS
        if short and behind not in PROCESSES and found[0][-1] == "D":
            problem = f"{found[0]}: a diameter, or a length in diameters?"
            raise t.fail(problem, start, found.end(), "Write Ø before a diameter, and a length behind its thread.")
        return False
    if behind in ("insert", "insert thread") and draft.thread is not None and draft.depth is None:
        t.move(found.end())
        draft.insert_diameters = float(found["factor"])
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
    draft.depth = Depth(round(float(found["factor"]) * nominal_mm, 6))
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
    repeated = draft is not None and draft.depth is not None and draft.last == "depth" and t.sign(start) != "↧"
    if number is None and repeated:
        return True
    if number is None:
        problem = "expected a depth: there is no number beside the depth word"
        raise t.fail(problem, start, t.end_of_last, "Write the depth, or THRU.", "DEPTH-MISSING")
    again = t.word()
    if again is not None and again.meaning == "depth" and t.number_at(t.skip_blanks(again.end)) is None:
        t.move(again.end)
    _apply_depth(r, number, start, limit)
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
        return _countersink_behind(r, draft, number, behind) or angle(r)
    if t.check("x", behind) and t.number_at(t.skip_blanks(behind + 1)):
        problem = "too many numbers joined by x: which is the depth?"
        raise t.fail(problem, start, behind + 1, _ONE_LINE_EACH, "DEPTH-UNCLEAR")
    t.move(number.end)
    if _angle_without_sign(r, draft, number):
        return True
    if t.meaning() == "depth":
        t.words("depth")
    _apply_depth(r, number, start)
    return True


def _countersink_behind(r: Reading, draft: Draft, number: Number, behind: int) -> bool:
    """Ø12 x 90° CSK: the x binds the angle to the size before it, which the word makes a countersink."""
    t = r.tokens
    degree = t.word(behind)
    word = t.word(t.skip_blanks(degree.end if degree is not None else behind + 1))
    if word is None or word.meaning != "countersink" or draft.stated or draft.last != "size" or draft.diameter is None:
        return False
    t.move(word.end)
    draft.kind, draft.stated, draft.angle_deg = Kind.COUNTERSINK, True, number.value
    r.touch(draft, "angle")
    return True


def _angle_without_sign(r: Reading, draft: Draft, number: Number) -> bool:
    """CSK Ø10 x 90: an angle of countersinks, not a depth, and asked."""
    if draft.kind is not Kind.COUNTERSINK or draft.angle_deg is not None or number.value not in COUNTERSINK_ANGLES:
        return False
    draft.angle_deg = number.value
    sentence = f"{number.text} behind the countersink is read as its angle."
    r.ask("CALLOUT-ANGLE-DOUBTFUL", sentence, number.start, number.end, f"Write {number.text}°.", f"{number.text}°")
    r.touch(draft, "angle")
    return True


def _apply_depth(r: Reading, number: Number, start: int, limit: Word | None = None) -> None:
    """Gives the depth to its step, with MIN, MAX and FULL THD behind it; MAX DRILL makes it the pilot hole's."""
    t = r.tokens
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
    if draft is None:
        raise t.fail(
            "a depth, but nothing it could be the depth of", start, t.end_of_last, "Write the size before its depth."
        )
    length_mm = draft.thread.length_mm if draft.thread is not None and draft.depth is None else None
    if length_mm is not None and length_mm != number.mm:
        problem = f"{length_mm:g} and {number.text} may both be the thread's depth"
        raise t.fail(problem, draft.start, t.end_of_last, "Write one of them.", "DEPTH-TWICE")
    if draft.depth is not None and draft.depth != found and not (draft.depth.through and draft.part_way):
        if draft.depth.through:
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


def _of_drill_depth(r: Reading) -> bool:
    """Whether MAX or MIN here belongs to MAX DRILL number, not to the depth before it."""
    t = r.tokens
    word = t.word()
    drill = t.word(t.skip_blanks(word.end)) if word is not None else None
    return drill is not None and drill.meaning == "drill" and t.number_at(t.skip_blanks(drill.end)) is not None


def pilot_depth(r: Reading, found: Depth, start: int) -> None:
    """The drilled depth of a pilot hole whose diameter is left to the shop, or of the drill just named."""
    draft = r.current
    if draft is not None and draft.kind in (None, *HOLE_KINDS) and draft.diameter is not None and draft.depth is None:
        draft.depth = found
        r.touch(draft, "depth")
        return
    draft = r.begin(start, Kind.DRILL, stated=True)
    draft.depth = found
    draft.uses.append("pilot hole")
    r.touch(draft, "depth")


def _sized_behind(r: Reading, position: int) -> bool:
    """Whether a number before CSK is its angle: behind a hole, or where the countersink's size stands behind the word."""
    t = r.tokens
    word = t.word(position)
    behind = t.skip_blanks(word.end) if word is not None else position
    return bool(r.drafts) or t.sign(behind) == "Ø" or t.number_at(behind) is not None


def angle(r: Reading) -> bool:
    """angle := number (° | DEG), of a countersink or chamfer; 118° and the like may be a drill's point."""
    t = r.tokens
    start = t.position
    number = t.number_at(start)
    if number is None:
        return False
    behind = t.skip_blanks(number.end)
    if t.sign(behind) == "°":
        behind += 1
    elif t.meaning(behind) == "degree":
        word = t.word(behind)
        behind = word.end if word else behind
    elif t.meaning(behind) == "countersink" and number.value in COUNTERSINK_ANGLES and _sized_behind(r, behind):
        t.move(number.end)
        r.for_later().angle_deg = number.value
        sentence = f"{number.text} before the countersink is read as its angle."
        r.ask("CALLOUT-ANGLE-DOUBTFUL", sentence, start, number.end, f"Write {number.text}°.", f"{number.text}°")
        return True
    else:
        return False
    t.move(behind)
    t.words("degree")
    draft = r.current
    if t.meaning() == "countersink" or t.sign() == "⌵":
        r.for_later().angle_deg = number.value
        return True
    if draft is not None and draft.chamfer_mm is not None and number.value >= 60:
        problem = "A chamfer is given by its leg and 45°: read as the diameter and included angle of a countersink."
        hint = "Write 0.5x45°, or CSK Ø9 x 90°."
        assumed = f"Ø{draft.chamfer_mm:g}, {number.value:g}°"
        r.ask("CALLOUT-CHAMFER-DOUBTFUL", problem, draft.start, t.end_of_last, hint, assumed)
        draft.diameter, draft.chamfer_mm = Size(draft.chamfer_mm, f"{draft.chamfer_mm:g}"), None
        draft.angle_deg = number.value
    elif draft is not None and draft.chamfer_mm is not None and draft.angle_deg is None:
        draft.angle_deg = 2 * number.value
    elif draft is not None and (draft.kind is Kind.COUNTERSINK or draft.sink) and draft.angle_deg is None:
        draft.angle_deg = number.value
    elif (
        draft is not None
        and draft.kind in (None, Kind.DRILL)
        and draft.thread is None
        and number.value in _POINT_ANGLES
        and t.text[:start].rstrip()[-1:] != "@"
    ):
        draft.uses.append(f"{number.value:g}° point")
    elif r.circle is not None and number.value <= 360:
        sentence = f"{number.value:g}° beside a bolt circle: the place of its first hole is not read from a callout."
        r.ask("PATTERN-ANGLE", sentence, start, t.end_of_last, "Give every hole its own place.", "without the angle")
        return True
    else:
        if draft is None:
            sentence = f"{number.value:g}° is an angle, but no countersink or chamfer stands here that it could belong to"
            raise t.fail(sentence, start, t.end_of_last)
        sentence = f"{number.value:g}° belongs to no countersink or chamfer here, and a hole at an angle is not planned"
        hint = "Plan an angled hole apart, in a set-up square to it; write a countersink with its diameter."
        raise t.fail(sentence, start, t.end_of_last, hint, "HOLE-ANGLED")
    r.touch(draft, "angle")
    return True
