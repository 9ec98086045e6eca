"""Shortcuts: quantities and steps in the plain spelling of most callouts, read at once instead of rule by rule.

They take nothing that the other rules would read otherwise: without them every reading is the same, only slower (a test
says so). Whatever is out of the ordinary is left to the other rules.
"""

from __future__ import annotations

import re

from holesched.callouts.draft import Draft, Reading
from holesched.callouts.model import Depth, Kind, Tolerance
from holesched.callouts.sizes import limits_by_deviation, out_of_scale
from holesched.callouts.threadcalls import is_insert_thread
from holesched.callouts.tokens import Number

_NUMBER = r"(?>[0-9]{1,3}(?:\.[0-9]{1,4})?|\.[0-9]{1,4})(?![0-9.])"
_DEEP = (
    rf"(?: ?(?:(?P<through>THRU)|↧ ?(?P<below>{_NUMBER})"
    rf"|x ?(?P<by>{_NUMBER})(?: ?(?:DEEP|DP)(?= *[,;\n]|\Z))?|(?<= )(?P<deep>{_NUMBER}) ?(?:DEEP|DP)))?"
)
_TOLERANCE = rf"(?: ?(?:(?P<zone>H(?:[6-9]|1[0-3]))|± ?(?P<deviation>{_NUMBER})))?"
_ANGLE = r"(?:(?: |(?<=[0-9]))x ?(?P<angle>60|82|90|100|120)°(?! *⌵))?"
_LAST = r"(?= *(?:[;\n⌴⌵]|,(?![0-9])|\Z))"
"""A plain step is followed by a separator, by the sign of another step, or by nothing."""
_COUNT = re.compile(r"(?P<count>[1-9][0-9]{0,2}) ?x ?(?=[Ø⌴⌵]|M[0-9]|#(?:[0-68]|1[02])-[1-9][0-9] ?UN)")
_HEADS = {"⌴": Kind.COUNTERBORE, "⌵": Kind.COUNTERSINK}
_HOLE = re.compile(rf"(?P<head>[⌴⌵] ?(?=Ø))?(?P<sign>Ø ?)?(?P<size>{_NUMBER}){_TOLERANCE}{_DEEP}{_ANGLE}{_LAST}")
_BEHIND_THREAD = re.compile(_DEEP + _LAST)
_THROUGH = Depth(through=True)


def plain_count(r: Reading) -> bool:
    """plain count := n X, first of all and before Ø, ⌴, ⌵, M or #10-32 UNF."""
    t = r.tokens
    if r.drafts or r.count is not None:
        return False
    found = _COUNT.match(t.text, t.position)
    if found is None:
        return False
    t.move(found.end())
    r.count = int(found["count"])
    return True


def plain_hole(r: Reading) -> bool:
    """plain hole := [⌴ | ⌵] Ø number [H7 | ± number] [deep] [x angle °]; behind DRILL and its like also without Ø.

    deep := THRU | ↧ number | x number [DEEP] | number DEEP
    """
    t = r.tokens
    draft = r.current
    if r.waiting is not None:
        return False
    found = _HOLE.match(t.text, t.position)
    if found is None:
        return False
    head = found["head"]
    bare = head is not None or (draft is not None and draft.bare)
    if not bare and draft is not None and (draft.unsized or draft.fastener is not None):
        return False
    number = _number(r, found["size"])
    deviation, angle, signed = found["deviation"], found["angle"], found["sign"] is not None
    kind = _HEADS[head[0]] if head is not None else draft.kind if draft is not None and bare else None
    conical = kind is Kind.COUNTERSINK
    if number.value == 0 or not (signed or bare) or (angle is not None and not conical):
        return False
    if conical and found["by"] is not None:
        return False
    if deviation is not None and out_of_scale(float(deviation), number.value, number.inch):
        return False
    if head is not None:
        draft = r.begin(t.position, kind, stated=True)
    elif draft is None or not bare:
        draft = r.begin(t.position)
    r.fresh = False
    t.move(found.end())
    draft.signed, draft.inch, draft.diameter, draft.last = signed, number.inch, number.size, "size"
    draft.tolerance = Tolerance(found["zone"]) if found["zone"] is not None else None
    if deviation is not None:
        limits_by_deviation(draft, -float(deviation), float(deviation), number.inch)
    _give_depth(r, draft, found)
    if angle is not None:
        draft.angle_deg, draft.last = float(angle), "angle"
    return True


def plain_thread(r: Reading) -> bool:
    """plain thread := a designation [deep], a step of its own or behind TAP."""
    t = r.tokens
    draft = r.current
    tap = draft if draft is not None and draft.kind is Kind.TAP and draft.unsized and draft.untouched else None
    if r.waiting is not None or (draft is not None and tap is None and (not r.fresh or draft.unsized)):
        return False
    start = t.position
    found = t.thread() if t.text[start] in "M#0123456789." else None
    behind = _BEHIND_THREAD.match(t.text, found[1]) if found is not None else None
    if found is None or behind is None or is_insert_thread(found[0]):
        return False
    call, end = found
    if call.standard == "unified" and call.series is None and t.unit == "mm":
        return False
    draft = tap or r.begin(start, Kind.TAP)
    r.fresh = False
    draft.thread, draft.thread_text, draft.last = call, t.text[start:end].strip(), "thread"
    t.move(behind.end())
    _give_depth(r, draft, behind)
    return True


def _number(r: Reading, text: str) -> Number:
    return Number(float(text), text, r.tokens.unit == "in", False, 0, 0)


def _give_depth(r: Reading, draft: Draft, found: re.Match[str]) -> None:
    """The depth that was read with its step, and the step's end."""
    draft.end = r.tokens.end_of_last
    through, *depths = found.group("through", "below", "by", "deep")
    depth = depths[0] or depths[1] or depths[2]
    if through is not None:
        draft.depth, draft.last = _THROUGH, "through"
    elif depth is not None:
        number = _number(r, depth)
        draft.depth, draft.inch, draft.last = Depth(number.mm), draft.inch or number.inch, "depth"
