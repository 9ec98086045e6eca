"""The size of what goes into a hole, behind the word for it: Ø6 H7 FOR DOWEL Ø6, DOWEL 6x20, Spannstift 4x16."""

from __future__ import annotations

import re

from holesched.callouts.draft import Reading
from holesched.callouts.words import spelling

_PINS = re.compile(r"PIN|DOWEL|STIFT|GOUPILLE|SPINA|ピン")
_WITH_LENGTH = re.compile(
    r"Ø? ?(?P<size>[0-9.]+)(?: ?[mh][0-9]{1,2})? ?x ?[0-9.]+(?: ?(?:LG|LONG|LANG)\.?)?(?![0-9.°])(?! ?(?:DEEP|DP|TIEF|°))"
)
_LEAST = 0.85
"""Of its hole: what a pin is as wide as. Common practice, no source."""


def what_goes_in(r: Reading, word: str) -> str:
    """size := Ø n of the hole's own size | [Ø] n [m6] x length behind a pin's `word`, no wider than the hole; consumed."""
    t = r.tokens
    draft = r.current
    if draft is None or draft.diameter is None:
        return ""
    number = t.number_at(t.skip_blanks(t.position + 1)) if t.sign() == "Ø" else None
    end = number.end if number is not None and number.mm == draft.diameter.mm else 0
    found = _WITH_LENGTH.match(t.text, t.position) if _PINS.search(spelling(word)) else None
    number = t.number_at(found.start("size")) if found is not None else None
    if found is not None and number is not None and _LEAST * draft.diameter.mm <= number.mm <= draft.diameter.mm:
        end = found.end()
    shown = t.text[t.position : end].strip()
    if end:
        t.move(end)
    return shown
