"""Rules of the grammar about sides: which face a step is made from, and which step a side written between two belongs to."""

from __future__ import annotations

import re

from holesched.callouts.draft import SIDES, Draft, Reading
from holesched.callouts.model import Side
from holesched.callouts.processes import size_follows, step_follows
from holesched.callouts.words import Word, spelling

_TWO_SIDES = re.compile(
    r"2[ -]?(?:x ?)?(?:SIDES?|ENDS|FACES|SEITEN|SEITIG|C[ÔO]T[ÉE]S|LATI|LADOS|SIDOR|STRONY|面|側|端)(?![A-Za-z])"
    r"|2 (?=CHAMFERS|FASEN|CHANFREINS|SMUSSI|CHAFLANES|фac)",
    re.IGNORECASE,
)
_FROM = ("FROM ", "VON ", "PAR ", "DESDE ", "DA ")
_OPENINGS = ("counterbore", "countersink", "spotface", "sink", "chamfer")


def side(r: Reading) -> bool:
    """side := FAR SIDE | NEAR SIDE | BOTH SIDES, of the step before it, or of the one to come."""
    word = r.tokens.words("far", "near", "both")
    return word is not None and word.meaning is not None and _side(r, word)


def two_sides(r: Reading) -> bool:
    """two sides := 2 SIDES, 2 CHAMFERS, with a figure."""
    t = r.tokens
    found = _TWO_SIDES.match(t.text, t.position) if t.sign() == "2" else None
    if found is None:
        return False
    t.move(found.end())
    return _side(r, Word("both", found[0], found.start(), found.end()))


def _side(r: Reading, word: Word) -> bool:
    draft = r.current
    found = SIDES[word.meaning or ""]
    if draft is None or (r.fresh and step_follows(r)) or _of_next_step(r, draft, word):
        later = r.for_later()
        later.side = found if later.side in (None, found) else Side.BOTH
        return True
    if draft.is_open_pilot:  # M8 ↧12 DRILL DEPTH 20 FAR SIDE: the thread's, as the drilled depth is
        draft = next((each for each in reversed(r.drafts) if each.thread is not None), draft)
    draft.side = Side.BOTH if draft.side_written and draft.side is not found else found
    draft.side_written = True
    r.touch(draft)
    return True


def _of_next_step(r: Reading, draft: Draft, word: Word) -> bool:
    """THRU FAR SIDE CBORE Ø11, 通し 裏面より φ11 ザグリ, durch beidseitig 1x45°: the side is that of the second step."""
    t = r.tokens
    through = draft.depth is None or draft.depth.through
    if word.meaning == "near" or not through or draft.is_opening:
        return False
    both = word.meaning == "both"
    if not both and draft.thread is not None:
        return False
    at = t.position
    while (joiner := t.word(at)) is not None and joiner.meaning == "filler":
        at = t.skip_blanks(joiner.end)
    from_there = word.text.endswith(("より", "から", "ヨリ")) or spelling(word.text).startswith(_FROM)
    if from_there and draft.depth is not None and size_follows(r):
        return True
    if both and _chamfer_at(r, at):
        return True
    if t.sign(at) not in ("⌴", "⌵") and t.meaning(at) not in _OPENINGS:
        return False
    glued = word.text[0] > "\u3000" and t.text[word.end : word.end + 1] > "\u3000"  # 裏面ザグリ
    conical = t.sign(at) == "⌵" or t.meaning(at) in ("countersink", "sink")
    if not (from_there or glued or r.fresh or (both and conical)):
        sentence = f"{word.text} between two steps is read for the second one, since the first goes through."
        r.ask("CALLOUT-SIDE-DOUBTFUL", sentence, word.start, word.end, "Write it behind its own step.", "of the second step")
    return True


def _chamfer_at(r: Reading, at: int) -> bool:
    """Whether a chamfer stands there: its word, C1, 1 x 45°."""
    t = r.tokens
    number = t.number_at(at)
    by_45 = number is not None and t.check("by 45", number.end) is not None
    return by_45 or t.check("chamfer c", at) is not None or t.meaning(at) == "chamfer"
