"""Rules of the grammar about processes: DRILL, REAM, TAP, CBORE and their like, before or behind their size; chamfers."""

from __future__ import annotations

import re

from holesched.callouts.depths import pilot_depth
from holesched.callouts.draft import HEAD_KINDS, HOLE_KINDS, PROCESSES, SIDES, Draft, Reading
from holesched.callouts.drawing_notes import texture_value_end
from holesched.callouts.drilled import bound, limit_before
from holesched.callouts.model import Depth, Kind
from holesched.callouts.sizes import limits_here
from holesched.callouts.words import Word
from holesched.notes import COMMON_PRACTICE, Severity

_SIZED = {"drill", "ream", "bore", "counterbore", "countersink", "spotface"}
_RADIUS = re.compile(r"(?:R|RAD(?:IUS)?\.?) ?[0-9]*\.?[0-9]+(?![0-9A-Za-z/-])")
_SECOND_OF_TWO = {"tap", "ream", "bore", "counterbore", "countersink", "spotface"}


def process(r: Reading) -> bool:
    """process := DRILL | REAM | BORE | TAP | CBORE | CSK | SF | CHAM | TAP DRILL [& process], before or behind its size."""
    t = r.tokens
    start = t.position
    word = t.word()
    if word is None:
        return _sign(r, start)
    if word.meaning in ("min", "max", "drill depth"):
        return _drill_depth(r, word, start)
    if word.meaning not in PROCESSES:
        return False
    t.move(word.end)
    meaning = word.meaning
    following = _joined(r)
    if meaning == "counterdrill" and following is None and not size_follows(r):
        meaning = "drill"
    if following in ("tap", "ream", "bore") or (following is not None and meaning == "counterdrill"):
        meaning = following
    elif following is not None and meaning != following:
        _place(r, word, "drill" if meaning == "counterdrill" else meaning, start)
        meaning = following
    return _place(r, word, meaning, start)


def _joined(r: Reading) -> str | None:
    """& process: DRILL & TAP is a tap; DRILL & CBORE are two steps."""
    t = r.tokens
    at = t.position
    if t.sign(at) in ("&", "+"):
        at = t.skip_blanks(at + 1)
    elif (word := t.word(at)) is not None and word.text.upper() in ("AND", "UND", "ET", "Y", "E", "THEN"):
        at = t.skip_blanks(word.end)
    following = t.word(at)
    if following is None or following.meaning not in _SECOND_OF_TWO or (at == t.position and following.meaning != "tap"):
        return None
    t.move(following.end)
    return following.meaning


def _place(r: Reading, word: Word, meaning: str, start: int) -> bool:
    """The process belongs to the size before it, or begins a step."""
    kind = PROCESSES[meaning]
    draft = r.current
    if draft is not None and _belongs_behind(r, draft, kind, word):
        draft.kind, draft.stated = (kind or draft.kind), True
        draft.sink = word.text if meaning == "sink" else ""
        if meaning == "pilot":
            draft.uses.append("pilot hole")
        r.touch(draft)
        return True
    if draft is not None and kind is Kind.TAP and draft.kind is Kind.TAP and draft.thread is None:
        return True
    if kind is Kind.TAP and _of_thread_before(r):
        return True
    if draft is not None and draft.unsized and draft.depth is None and kind is draft.kind and kind is Kind.SPOTFACE:
        return True
    draft = r.begin(start, kind, stated=True)
    draft.sink = word.text if meaning == "sink" else ""
    if meaning == "pilot":
        draft.uses.append("pilot hole")
    if meaning == "chamfer":
        draft.uses.append("chamfer")
        _chamfer(r, draft)
    r.touch(draft, "process" if meaning in _SIZED else "")
    return True


def _of_thread_before(r: Reading) -> bool:
    """M8, DRILL 6.8 x 20, TAP 15 DEEP: the thread named before its drill, which waits for its depth, is read on."""
    waiting = [each for each in r.drafts[:-1] if each.thread is not None and each.depth is None]
    if len(waiting) != 1 or thread_follows(r) or not (_depth_follows(r) or r.tokens.meaning() == "through"):
        return False
    r.drafts.remove(waiting[0])
    r.drafts.append(waiting[0])
    waiting[0].stated, r.fresh = True, False
    r.touch(waiting[0], "thread")
    return True


def _belongs_behind(r: Reading, draft: Draft, kind: Kind | None, word: Word) -> bool:
    """Whether the process word stands behind its size: "10 DRILL", "13/16 C'BORE", "M8 TAP"."""
    if draft.thread is not None:
        return kind is Kind.TAP and not thread_follows(r)
    if draft.fastener is not None and draft.diameter is None and {kind, draft.kind} <= set(HOLE_KINDS):
        r.fresh = False
        if size_follows(r):
            draft.uses, draft.fastener = [*draft.uses, f"for {draft.fastener}"], None
        return True
    said_again = kind is Kind.DRILL and draft.kind is Kind.DRILL and draft.last == "size"  # 下穴 8.5 キリ
    if draft.diameter is not None and draft.stated and said_again and not r.fresh and not size_follows(r):
        return True
    if draft.diameter is None or draft.stated or kind is Kind.TAP:
        return False
    if not r.fresh and draft.last == "size" and (not draft.signed or word.text[0] > "\u3000"):
        return not ((kind is None or kind in HEAD_KINDS) and _wider_follows(r, draft.diameter.mm))
    if kind in HOLE_KINDS:
        follows = size_follows(r) and limits_here(r, draft, r.tokens.position) is None
        return not follows and not (r.fresh and draft.depth is not None)
    if r.fresh or draft.depth is not None or draft.last != "size":
        return False
    if kind is Kind.SPOTFACE and not draft.uses and _closes(r):  # Ø1.25 SPOTFACE, .531 DRILL: what follows is another step's
        return True
    return not size_follows(r) and _depth_follows(r)


def _wider_follows(r: Reading, hole_mm: float) -> bool:
    """φ5.5 皿モミ φ11 90°, φ6.6 沉孔 φ11: the word between a hole and a wider size is that of the wider one."""
    t = r.tokens
    number = t.number_at(t.position)
    at = t.skip_blanks(number.end) if number is not None else t.position
    if number is not None and number.mm > hole_mm and t.check("x", at) is not None:  # 5.5 CBORE 10 x 5.7
        return t.number_at(t.skip_blanks(at + 1)) is not None
    if number is not None:  # 皿モミ 90° φ11
        at = t.skip_blanks(at + 1) if t.sign(at) == "°" else len(t.text)
    wider = t.number_at(t.skip_blanks(at + 1)) if t.sign(at) == "Ø" else None
    return wider is not None and wider.mm > hole_mm


def _closes(r: Reading) -> bool:
    """Whether the step ends with the word just read: the text's end, a separator, or TO CLEAN UP stands next."""
    t = r.tokens
    return t.at_end() or t.sign() in (",", ";", "\n") or t.text[t.position :].upper().startswith("TO CLEAN")


def thread_follows(r: Reading) -> bool:
    """Whether a thread stands next, fillers and sides aside."""
    t = r.tokens
    at = t.position
    while (word := t.word(at)) is not None and word.meaning in ("filler", "far", "near", "both") and t.thread(at) is None:
        at = t.skip_blanks(word.end)
    return t.thread(at) is not None


def step_follows(r: Reading) -> bool:
    """Whether another step begins next: a size, a thread, a process or a chamfer."""
    t = r.tokens
    number = t.number_at(t.position)
    chamfer = t.check("chamfer c") is not None or (number is not None and t.check("by 45", number.end) is not None)
    return size_follows(r) or thread_follows(r) or chamfer or t.sign() in ("⌴", "⌵") or t.meaning() in PROCESSES


def size_follows(r: Reading) -> bool:
    """Whether a size stands next: Ø, a drill's name, or a number that is no depth, angle or quantity."""
    t = r.tokens
    at = t.position
    while (word := t.word(at)) is not None and word.meaning == "filler" and not t.check("letter drill", at):
        at = t.skip_blanks(word.end)
    if t.sign(at) == "Ø" or t.check("number drill", at) or t.check("letter drill", at):
        return True
    number = t.number_at(at)
    if number is None or t.thread(at) is not None:
        return False
    after = t.skip_blanks(number.end)
    if t.sign(after) == "°" or t.check("by 45", number.end) or texture_value_end(t.text, at):
        return False
    return t.meaning(after) not in ("depth", "min", "max", "places", "full thread", "degree", "circle")


def _depth_follows(r: Reading) -> bool:
    t = r.tokens
    number = t.number_at(t.position)
    behind = number is not None and t.meaning(t.skip_blanks(number.end)) == "depth"
    return t.sign() == "↧" or t.meaning() == "depth" or behind


def _drill_depth(r: Reading, word: Word, start: int) -> bool:
    """MAX DRILL number | DRILL DEPTH number: the pilot hole's depth; MIN or MAX alone belongs to the depth before it."""
    t = r.tokens
    draft = r.current
    at = t.skip_blanks(word.end)
    drill = t.word(at)
    if word.meaning == "drill depth" or (drill is not None and drill.meaning in ("drill", "drill depth", "pilot")):
        t.move(word.end if word.meaning == "drill depth" else drill.end if drill else word.end)
        t.consume("slash")
        t.words("depth")
        before = t.words("min", "max")
        number = t.number()
        if number is None:
            raise t.fail("expected a drilled depth", start, t.end_of_last)
        limit = before or t.words("min", "max") or word
        pilot_depth(r, Depth(number.mm, least=limit.meaning == "min", most=limit.meaning == "max"), start)
        return True
    if limit_before(r, word, start) or bound(r, word, start):
        return True
    t.move(word.end)
    length_mm = draft.thread.length_mm if draft is not None and draft.thread is not None and draft.last == "thread" else None
    if draft is not None and draft.depth is None and length_mm is not None:
        draft.depth = Depth(length_mm)  # M8 x 25 MIN
    if draft is not None and draft.depth is not None and draft.depth.mm is not None:
        old = draft.depth
        least, most = old.least or word.meaning == "min", old.most or word.meaning == "max"
        draft.depth = Depth(old.mm, least=least, most=most, tolerance_mm=old.tolerance_mm)
        r.touch(draft)
        return True
    if t.meaning() == "full thread" or t.meaning() == "depth":
        return True
    if draft is not None and draft.last == "size":
        problem = f"{word.text} behind a size: the other limit is not written"
        raise t.fail(problem, start, word.end, "Write both limits, as Ø10.0/10.2.", "SIZE-ONE-LIMIT")
    raise t.fail(f"{word.text}, but no depth stands before it", start, word.end)


def _chamfer(r: Reading, draft: Draft) -> None:
    """chamfer := number [x angle], or nothing: then its size is missing."""
    t = r.tokens
    t.words("filler")
    if (where := t.words("far", "near", "both")) is not None:
        draft.side, draft.side_written = SIDES[where.meaning or ""], True
        t.words("filler")
    if t.consume("chamfer c") is not None:
        draft.angle_deg = 90.0
    number = t.number_at(t.position)
    if number is None or t.sign(t.skip_blanks(number.end)) == "°" or texture_value_end(t.text, number.start):
        return
    t.move(number.end)
    draft.chamfer_mm = number.mm


def _sign(r: Reading, start: int) -> bool:
    """⌴ [SF], ⌵: counterbore (or spotface), countersink; C1 is a chamfer of 1 x 45°."""
    t = r.tokens
    if t.take("⌴"):
        face = t.words("spotface") is not None
        r.begin(start, Kind.SPOTFACE if face else Kind.COUNTERBORE, stated=True).last = "process"
        return True
    if t.take("⌵"):
        r.begin(start, Kind.COUNTERSINK, stated=True).last = "process"
        return True
    return False


def chamfer_c(r: Reading) -> bool:
    """C number | number x 45°: a chamfer of that leg at 45 degrees (JIS, ISO 129), behind a hole."""
    t = r.tokens
    start = t.position
    number = t.number_at(start + 1) if t.check("chamfer c") else t.number_at(start)
    leg = t.check("by 45", number.end) if number is not None else None
    if number is None or (number.start == start and leg is None):
        return False
    if not r.drafts and (leg is None or (t.meaning(t.skip_blanks(leg.end())) != "chamfer" and number.text != "1")):
        return False  # 2x45° M8 may be two holes
    t.move(number.end)
    t.consume("by 45")
    sunk = r.current if r.current is not None and r.current.sink and r.current.unsized and r.current.untouched else None
    draft = sunk or r.begin(start, Kind.COUNTERSINK, stated=True)
    draft.kind, draft.sink = Kind.COUNTERSINK, ""
    draft.chamfer_mm, draft.angle_deg = number.mm, 90.0
    t.words("chamfer")
    r.touch(draft, "size")
    return True


def radius(r: Reading) -> bool:
    """radius := (R | RAD) number [MAX | MIN] behind a hole that has its size: kept, and told; the tools decide corners."""
    t = r.tokens
    start = t.position
    draft = r.current
    found = _RADIUS.match(t.text, start)
    if found is None or draft is None or draft.diameter is None or t.thread(start) is not None:
        return False
    t.move(found.end())
    t.words("min", "max")
    shown = t.text[start : t.end_of_last].strip()
    r.remarks.append(shown)
    sentence = f"{shown}: a radius is not planned; see that the tool's corner, or a tool for the edge, makes it."
    r.note("CALLOUT-RADIUS", Severity.WATCH, sentence, start, t.end_of_last, cite=COMMON_PRACTICE)
    r.touch(draft)
    return True
