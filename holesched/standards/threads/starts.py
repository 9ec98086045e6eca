"""How many starts a thread has: from its lead and pitch, from the number written, or both."""

from __future__ import annotations

_WORDS = {"two": 2, "three": 3, "four": 4}
_ROUNDING = 0.002
"""How far lead over pitch may lie off a whole number, per start: .667 over .333 in is two starts."""


def pattern(name: str) -> str:
    """What names the starts, as group `name`, if anything does: 2 START, (TWO STARTS). For VERBOSE patterns."""
    return rf"(?i:[ ,-]{{0,3}}\(?(?P<{name}>[2-9]|two|three|four)[ -]?starts?\b\)?)?"


def count(lead: float | None, pitch: float | None, written: str | None) -> int:
    """The starts of a thread; lead and pitch in one unit, `written` as the pattern found it. 0 where they do not fit."""
    named = _WORDS.get(written.lower()) or int(written) if written else None
    if lead is None or not pitch:
        return named or 1
    starts = round(lead / pitch)
    fits = starts > 0 and abs(lead / pitch - starts) <= _ROUNDING * starts
    return starts if fits and named in (None, starts) else 0
