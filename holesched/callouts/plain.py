"""A shortcut: callouts in the plain spelling of most schedules are read at once, step by step, without the rules.

    plain := [n X] step { (; | , | line break) step | (⌴ | ⌵ | CBORE | CSK) step }
    step  := [process] [Ø] number [zone | ± number | +number/-number] [deep] [x angle °] [side] | [TAP] thread [deep] [side]
    deep  := THRU | ↧ number | x number [DEEP] | number DEEP

It takes nothing that the rules would read otherwise: without it every reading is the same, only slower (a test says so).
Whatever is out of the ordinary, anywhere in the text, is left to the rules.
"""

from __future__ import annotations

import re

from holesched.callouts.deviations import limits_of_size, out_of_scale
from holesched.callouts.model import Callout, Depth, Element, Kind, Side, Span, Tolerance
from holesched.callouts.normalise import Folded
from holesched.callouts.threadcalls import is_insert_thread
from holesched.callouts.tokens import Number, thread_at
from holesched.units import LengthUnit

_NUMBER = r"(?>[0-9]{1,3}(?:\.[0-9]{1,4})?|\.[0-9]{1,4})(?![0-9.])"
_DEEP = (
    rf"(?: ?(?:(?P<through>THRU)|↧ ?(?P<below>{_NUMBER})"
    rf"|x ?(?P<by>{_NUMBER})(?: ?(?:DEEP|DP)(?= *[,;\n]|\Z))?|(?<= )(?P<deep>{_NUMBER}) ?(?:DEEP|DP)))?"
)
_TOLERANCE = (
    rf"(?: ?(?:(?P<zone>[D-HK](?:[6-9]|1[0-3]))|± ?(?P<deviation>{_NUMBER})"
    rf"|\+(?P<upper>{_NUMBER})/-(?P<lower>{_NUMBER})))?"
)
_ANGLE = r"(?:(?: |(?<=[0-9]))x ?(?P<angle>60|82|90|100|120)°(?! *⌵))?"
_SIDE = r"(?: (?P<side>FAR|NEAR) SIDE(?! *[⌴⌵]| (?:CBORE|CSK)))?"
"""Between two steps a side may be that of either."""
_BETWEEN = r"(?P<between> *(?:[;\n]|,(?![0-9]))[ \n]*| *(?=[⌴⌵])| (?=(?:CBORE|CSK) Ø)| *\Z)"
_END = _SIDE + _BETWEEN
_COUNT = re.compile(r"(?P<count>[1-9][0-9]{0,2}) ?x ?(?=[Ø⌴⌵]|M[0-9]|#(?:[0-68]|1[02])-[1-9][0-9] ?UN)")
_HOLE = re.compile(
    r"(?:(?P<sign>[⌴⌵]) ?(?=Ø)|(?P<word>DRILL|REAM|CBORE|CSK) (?=[Ø0-9.])|(?=Ø))"
    rf"(?:Ø ?)?(?P<size>{_NUMBER}){_TOLERANCE}{_DEEP}{_ANGLE}{_END}"
)
_TAP = re.compile(r"(?:TAP )?(?=[GMRT#0-9.])")
_BEHIND_THREAD = re.compile(_DEEP + _END)
_KINDS = {
    "⌴": Kind.COUNTERBORE,
    "⌵": Kind.COUNTERSINK,
    "CBORE": Kind.COUNTERBORE,
    "CSK": Kind.COUNTERSINK,
    "DRILL": Kind.DRILL,
    "REAM": Kind.REAM,
    None: Kind.DRILL,
}
_SIDES = {"FAR": Side.FAR, "NEAR": Side.NEAR, None: Side.NEAR}
_THROUGH = Depth(through=True)
Step = tuple[Element, int]
"""A step and where the next one begins."""


def plain_callout(folded: Folded, unit: LengthUnit) -> Callout | None:
    """The callout of a text that is plain from end to end, its numbers in `unit`; None for any other."""
    text = folded.text
    if len(folded.anchors) > 1 and any(here != there for here, there in folded.anchors):
        return None
    count = _COUNT.match(text)
    at = count.end() if count is not None else 0
    elements: list[Element] = []
    while at < len(text) or not elements:
        step = _hole(text, at, unit == "in") or _thread(text, at, unit)
        if step is None or step[0] in elements:
            return None
        elements.append(step[0])
        at = step[1]
    return Callout(folded.raw, tuple(elements), int(count["count"]) if count is not None else None)


def _hole(text: str, at: int, inch: bool) -> Step | None:
    """A hole, or an opening of one."""
    found = _HOLE.match(text, at)
    if found is None:
        return None
    sign, word, size, zone, deviation, upper, lower = found.group(1, 2, 3, 4, 5, 6, 7)
    process = sign or word
    kind, angle, number = _KINDS[process], found["angle"], Number(float(size), size, inch, False, 0, 0)
    conical = kind is Kind.COUNTERSINK
    if number.value == 0 or (angle is not None and not conical) or (conical and found["by"] is not None):
        return None
    tolerance = Tolerance(zone) if zone is not None else None
    if deviation is not None or upper is not None:
        high, low = float(deviation or upper), -float(deviation or lower)
        if out_of_scale(max(high, -low), number.value, inch):
            return None
        tolerance = limits_of_size(number.mm, low, high, inch)
    element = Element(
        kind=kind,
        diameter=number.size,
        tolerance=tolerance,
        depth=_depth(found, inch),
        angle_deg=float(angle) if angle is not None else None,
        side=_SIDES[found["side"]],
        stated=process is not None,
        span=Span(at, found.start("between")),
    )
    return element, found.end()


def _thread(text: str, at: int, unit: LengthUnit) -> Step | None:
    """A thread by its designation; inserts, and inch threads without a series in millimetres, are no plain ones."""
    tap = _TAP.match(text, at)
    found = thread_at(text, tap.end(), unit) if tap is not None else None
    behind = _BEHIND_THREAD.match(text, found[1]) if found is not None else None
    if tap is None or found is None or behind is None:
        return None
    call, end = found
    if is_insert_thread(call) or call.length_mm is not None:
        return None
    if call.standard == "unified" and call.series is None and unit == "mm":
        return None
    element = Element(
        kind=Kind.TAP,
        depth=_depth(behind, unit == "in"),
        thread=call,
        side=_SIDES[behind["side"]],
        stated=tap.end() > at,
        thread_text=text[tap.end() : end].strip(),
        span=Span(at, behind.start("between")),
    )
    return element, behind.end()


def _depth(found: re.Match[str], inch: bool) -> Depth | None:
    through, *depths = found.group("through", "below", "by", "deep")
    if through is not None:
        return _THROUGH
    written = depths[0] or depths[1] or depths[2]
    return Depth(Number(float(written), written, inch, False, 0, 0).mm) if written is not None else None
