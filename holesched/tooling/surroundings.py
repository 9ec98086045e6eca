"""What the drawing's words say of a hole's faces, of gaps in its wall, and of the room beyond it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from holesched.callouts.normalise import fold
from holesched.callouts.words import meanings_in, words_in
from holesched.units import MM_PER_INCH

_WALLS = {
    "interrupted": ("interrupted",),
    "intersects": ("interrupted",),
    "slanted entry": ("slanted entry",),
    "slanted exit": ("slanted exit",),
    "slanted": ("slanted entry", "slanted exit"),
}
"""Meanings of what a drawing says of a hole's wall, and the walls of the rules."""
WHOLE = frozenset(("whole",))
_NUMBER = r"(?<![\w.])([0-9]+(?:\.[0-9]+)?|\.[0-9]+) ?"
_LENGTH = re.compile(_NUMBER + r"(?:(mm)|in(?:ch(?:es)?)?|\")(?![a-z])", re.IGNORECASE)
_ANGLE = re.compile(_NUMBER + r"(?:°|deg(?![a-z])\.?|grad(?![a-z]))", re.IGNORECASE)
_BETWEEN = re.compile(r"[ :=@]*(?:(?:at|of|only|nur|unter)(?![a-z]) *)?", re.IGNORECASE)
_DECIMAL_COMMA = re.compile(r"(?<=[0-9]),(?=[0-9])")


class Surroundings(NamedTuple):
    """What is known around a hole. Lengths mm, angles degrees; None where the drawing gives no figure.

    `walls` are the rules' words; `blocked`: something stands close beyond, `room_mm` how far from the far face at least;
    `exit_deg` is how far a slanted far face is from square, `longest_mm` the hole's longest side: where no near face is
    called slanted, that of a slanted far one.
    """

    walls: frozenset[str]
    blocked: bool
    room_mm: float | None
    exit_deg: float | None
    longest_mm: float | None
    which_face: bool
    """Whether a face is called slanted without saying which."""


@lru_cache(maxsize=1024)
def surroundings(remarks: tuple[str, ...]) -> Surroundings:
    """What remarks say around a hole, in the words that callouts are read by; of several figures the safer one."""
    meanings = frozenset(meaning for remark in remarks for meaning in _meanings(remark))
    if "longest side" in meanings and "slanted entry" not in meanings:
        meanings |= {"slanted exit"}
    walls = frozenset(wall for meaning in meanings for wall in _WALLS.get(meaning, ()))
    rooms_mm = [mm for remark in remarks for mm in _lengths_mm(remark, frozenset(("blocked", "room beyond")))]
    longest_mm = [mm for remark in remarks for mm in _lengths_mm(remark, frozenset(("longest side",)))]
    exits = frozenset(("slanted exit",))
    angles = [float(found[1]) for remark in remarks for found in _beside(remark, exits, _ANGLE)]
    return Surroundings(
        walls=walls or WHOLE,
        blocked="blocked" in meanings or bool(rooms_mm),
        room_mm=min(rooms_mm, default=None),
        exit_deg=max(angles, default=None),
        longest_mm=max(longest_mm, default=None),
        which_face="slanted" in meanings and not meanings & {"slanted entry", "slanted exit"},
    )


def _lengths_mm(remark: str, meanings: frozenset[str]) -> Iterator[float]:
    for found in _beside(remark, meanings, _LENGTH):
        yield float(found[1]) * (1.0 if found[2] else MM_PER_INCH)


def _beside(remark: str, meanings: frozenset[str], figure: re.Pattern[str]) -> Iterator[re.Match[str]]:
    """The figures that stand straight behind the words of a meaning, or straight before them: no other is theirs."""
    if not _meanings(remark) & meanings:
        return
    text = _DECIMAL_COMMA.sub(".", fold(remark).text)
    for _, word in words_in(text):
        if word is None or word.meaning not in meanings:
            continue
        between = _BETWEEN.match(text, word.end)
        behind = figure.match(text, between.end() if between is not None else word.end)
        before = [found for found in figure.finditer(text, 0, word.start) if not text[found.end() : word.start].strip()]
        yield from [behind] if behind is not None else before[-1:]


@lru_cache(maxsize=4096)
def _meanings(remark: str) -> frozenset[str]:
    return meanings_in(fold(remark).text)
