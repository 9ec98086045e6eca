"""Inch sizes and hand marks as drawings write them: 1 1/4, 1-1/4, .750 and LH, each with one spelling inside."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache

from holesched.standards.sizes import Size

MM_PER_INCH = 25.4
INCH = r"(?>\d+[ -]\d+/[1-9]\d*|\d+/[1-9]\d*|\d*\.\d+|\d+)"
"""A size: mixed number, fraction, decimal or whole number; atomic, since no shorter reading is ever meant."""
FRACTION = r"(?:\d+[ -]\d+/[1-9]\d*|\d+/[1-9]\d*)"
"""A size that can only be a fraction of an inch."""
MARK = r"(?:[ ]?(?:\"|'')|[ ]?in(?:ch)?\b\.?)?"
"""An inch mark, if any. All patterns here are for VERBOSE and IGNORECASE."""
SEPARATOR = r"(?:[ ]?-[ ]?|[ ])"
HAND = r"(?:[ -]{0,3}(?P<hand>L\.?H\b\.?|LEFT[ -]?HAND(?:ED)?\b))?"
"""A left-hand mark, if any."""
START = r"(?<![\d./])"
"""Where a number may begin: not inside another number."""
WORD_START = r"(?<![A-Za-z0-9])"
END = r"(?![A-WYZa-wyz0-9]|[.,]\d)"
"""Where a designation may end: before anything but a letter or digit; an x begins a depth or a count."""
NOT_COUNT = r"(?![ ]?(?:PL|HOLES|OFF\b|X\b))"
"""After a number that would be a count before such a word."""

_SIXTY_FOURTHS = 64


def inches(text: str) -> Fraction:
    """The value of an INCH text: inches("1-1/4") is 5/4, inches(".750") is 3/4."""
    whole, fraction = "0", text.strip()
    mixed = re.fullmatch(r"(\d+)[ -](\d+/\d+)", fraction)
    if mixed is not None:
        whole, fraction = mixed.groups()
    return int(whole) + Fraction(fraction)


def label(value: Fraction) -> str:
    """The trade name of an inch size: 1 1/4, 3/4, 2; decimals only where no 64th fits (0.3)."""
    if _SIXTY_FOURTHS % value.denominator:
        return f"{float(value):g}"
    whole, rest = divmod(value, 1)
    parts = ([str(whole)] if whole or not rest else []) + ([str(rest)] if rest else [])
    return " ".join(parts)


@cache
def inch_size(text: str) -> Size:
    """An INCH text as a Size in mm with its trade name; remembered, since exact fractions are slow and sizes are few."""
    value = inches(text)
    return Size(float(value) * MM_PER_INCH, label(value))


@cache
def threads_per_inch(text: str) -> float:
    """11.5 and 11 1/2 alike."""
    return float(inches(text))


def nearest(wanted: Size, offered: tuple[str, ...], how_many: int = 2) -> tuple[str, ...]:
    """The labels of `offered` that lie nearest in trade size, in the order they are offered."""
    distance = {name: abs(inches(name) - inches(wanted.label)) for name in offered}
    chosen = sorted(offered, key=lambda name: distance[name])[:how_many]
    return tuple(name for name in offered if name in chosen)


def one_of(match: re.Match[str], *groups: str) -> str | None:
    """The text of the first of these groups that took part in the match; None: none did."""
    for group in groups:
        text = match.group(group)
        if text is not None:
            return str(text)
    return None


def count_and_size(written: str, offered: tuple[str, ...]) -> str:
    """'4 holes of 1/4' where a size that nobody offers ("4-1/4") is a count run into one; empty otherwise."""
    mixed = re.fullmatch(r"(\d+) (\d+/\d+)", written)
    if mixed is None or mixed.group(2) not in offered:
        return ""
    return f"{mixed.group(1)}X {mixed.group(2)}"
