"""Rule of the grammar about walls: the face that a hole begins or ends in, gaps in its wall, and the room beyond it."""

from __future__ import annotations

import re

from holesched.callouts.draft import Reading
from holesched.callouts.tokens import Number

WALLS = {
    "slanted": "SLANTED",
    "slanted entry": "SLANTED ENTRY",
    "slanted exit": "SLANTED EXIT",
    "longest side": "LONGEST SIDE",
    "interrupted": "INTERRUPTED",
    "blocked": "NO ROOM BEYOND",
    "room beyond": "ROOM BEYOND",
}
"""Meanings of what is said of a hole's wall and its way out, and the remark that the choice of tools understands."""
_LENGTHS = ("longest side", "blocked", "room beyond")
_ANGLED = ("slanted entry", "slanted exit")
_ANGLE = re.compile(r"(?:AT |@ ?|UNTER )?([0-9]{1,2}(?:\.[0-9]{1,2})?) ?(?:°|DEG(?![A-Z])\.?|GRAD(?![A-Z]))", re.IGNORECASE)
STEEPEST_DEG = 60.0
"""An angle that stands before SLANTED EXIT and is as large as this is a countersink's. Common practice, no source."""
_ALONE = re.compile(r" *(?:[,;|\n)\]]|$)")
"""What stands behind a number that belongs to nothing else."""


def wall(r: Reading) -> bool:
    """wall := SLANTED | SLANTED (ENTRY | EXIT) [angle] | INTERRUPTED | NO ROOM BEYOND [length] | ROOM BEYOND length |
    LONGEST SIDE length; an angle or a length may stand before its words as well."""
    t = r.tokens
    start = t.position
    figure = _before(r)
    word = t.words(*WALLS)
    if word is None:
        return False
    meaning = word.meaning or ""
    remark = WALLS[meaning]
    if not figure and meaning in _ANGLED:
        figure = _angle(r)
    if not figure and meaning in _LENGTHS:
        figure = _length_behind(r)
    if figure:
        remark = f"{WALLS['room beyond'] if meaning == 'blocked' else remark} {figure}"
    elif meaning in ("longest side", "room beyond"):
        raise t.fail(f"expected a length with {word.text.strip()}", start, word.end, f"Write {remark} 5 mm.")
    if remark not in r.remarks:
        r.remarks.append(remark)
    if r.current is not None:
        r.touch(r.current)
    return True


def _before(r: Reading) -> str:
    """An angle or a length that stands before the words it belongs to, consumed."""
    t = r.tokens
    angle = _ANGLE.match(t.text, t.position)
    if angle is not None and float(angle[1]) < STEEPEST_DEG and t.meaning(t.skip_blanks(angle.end())) in _ANGLED:
        t.move(angle.end())
        return f"{float(angle[1]):g}°"
    number = t.number_at(t.position)
    if number is not None and t.meaning(t.skip_blanks(number.end)) == "room beyond":
        t.move(number.end)
        return _length(number)
    return ""


def _angle(r: Reading) -> str:
    """The angle here, consumed."""
    t = r.tokens
    found = _ANGLE.match(t.text, t.position)
    if found is None:
        return ""
    t.move(found.end())
    return f"{float(found[1]):g}°"


def _length_behind(r: Reading) -> str:
    """The length here, consumed; a number without a unit may belong to what follows."""
    t = r.tokens
    number = t.number_at(t.position)
    if number is None or not (number.marked or _ALONE.match(t.text, number.end)):
        return ""
    t.move(number.end)
    return _length(number)


def _length(number: Number) -> str:
    return f"{number.value:.5g} {'in' if number.inch else 'mm'}"
