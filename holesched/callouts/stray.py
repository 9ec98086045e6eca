"""The last rule of the grammar: a number that no other one takes is most likely a depth or an angle: asked; else the end."""

from __future__ import annotations

import re

from holesched.callouts.angles import angle_without_sign
from holesched.callouts.draft import Draft, Reading
from holesched.callouts.model import Depth, Kind
from holesched.callouts.pitches import pitch_before
from holesched.callouts.tokens import Number

_DEPTH_LETTER = re.compile(r"(?<![A-Za-z])[TtLl] ?[=:] ?$")
"""t = 20, L = 20: a letter for a depth, or for the part's thickness."""


def stray_number(r: Reading) -> bool:
    """stray number := a depth behind a thread, a size or t =, or an angle behind a countersink; elsewhere the end."""
    t = r.tokens
    start = t.position
    number = t.number_at(start)
    if number is None:
        return False
    if t.meaning(t.skip_blanks(number.end)) == "cornered":
        t.move(number.end)
        return True  # 60 SQ: its word is refused
    draft = r.current
    of_step = draft if draft is not None and (not r.fresh or _alone(r, draft, number)) else None
    if of_step is not None and any(rule(r, of_step, number) for rule in (pitch_before, _depth, _angle)):
        return True
    if draft is not None and draft.depth is not None and t.text[:start].rstrip()[-1:] == "/":
        problem = f"{draft.depth.mm or 0:g}/{number.text}: two depths for one step"
        raise t.fail(problem, start, number.end, "Write DRILL and its depth for the drilled hole.", "DEPTH-TWICE")
    raise t.fail(f"{number.text}: what is this number?", start, number.end, "Write Ø, ↧, X or the word that belongs to it.")


def _alone(r: Reading, draft: Draft, number: Number) -> bool:
    """M6, 12 at the end of the text; Ø11, t = 6.8: what may still belong to the step before a separator."""
    t = r.tokens
    last = draft.last == "thread" and t.skip_blanks(number.end) >= len(t.text)
    return last or _DEPTH_LETTER.search(t.text, 0, number.start) is not None


def _depth(r: Reading, draft: Draft, number: Number) -> bool:
    """M8 16, Ø8 20, Ø8 t = 20: asked."""
    t = r.tokens
    start = number.start
    letter = draft.diameter is not None and _DEPTH_LETTER.search(t.text, 0, start) is not None
    behind_size = _directly_behind_size(r, draft, start)
    long = draft.thread is not None and draft.thread.length_mm is not None
    if draft.depth is not None or long or not (draft.thread is not None or letter or behind_size):
        return False
    sentence, hint = f"{number.text} stands without a sign or word: read as the depth.", "Write ↧ or DEEP with it."
    if behind_size:
        name = t.text[draft.start : start].strip(" -:")
        sentence = f"{number.text} behind {name}: the depth of the hole?"
        hint = f"Write {name} ↧{number.text}, or what the {number.text} is."
    t.move(number.end)
    draft.depth = Depth(number.mm)
    r.touch(draft, "depth")
    r.ask("CALLOUT-DEPTH-DOUBTFUL", sentence, start, number.end, hint, f"depth {number.text}")
    return True


def _directly_behind_size(r: Reading, draft: Draft, start: int) -> bool:
    """Whether nothing but a blank or dash stands between a size with its tolerance and this place; a cone has no depth."""
    between = r.tokens.text[draft.end : start].strip(" -:")
    return draft.diameter is not None and draft.last == "size" and draft.kind is not Kind.COUNTERSINK and not between


def _angle(r: Reading, draft: Draft, number: Number) -> bool:
    """CSK Ø10 82: asked."""
    return not draft.unsized and angle_without_sign(r, draft, number)
