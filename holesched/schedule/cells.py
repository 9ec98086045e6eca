"""One cell's value as text, quantity or tags. Nothing here guesses: a value it cannot read is None."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from holesched.schedule import limits
from holesched.schedule.damage import Damaged
from holesched.schedule.lengths import SIGNS, read_number

Value = str | float | bool | date | datetime | time | timedelta | Damaged

_BLANKS = " \t\r\n\f\v\u00a0\u2007\u202f\u3000\u200b\u2060\ufeff"
_QUANTITY = re.compile(
    r"[(x×]?\s*(\d+)\s*[)x×]?\s*(?:pl(?:cs|aces)?\.?|holes?|off|pcs|ea|stk\.?|st\.?|mal|fois|ヶ所|箇所|個)?", re.I
)
_TAG_RANGE = re.compile(r"(.*?)(\d+)\s*(?:-|~|\.{2,3}|…|\bto\b|\bthru\b|\bbis\b|\bà\b|から)\s*(\D*?)(\d+)", re.I)


def text_of(value: Value) -> str:
    """A value as a person would type it: 8.0 is "8", a date is its ISO text. Line breaks inside stay."""
    if isinstance(value, str):
        return value.strip(_BLANKS)
    if isinstance(value, Damaged):
        return value.shown
    if isinstance(value, bool):
        return str(value).upper()
    if isinstance(value, (int, float)):
        return f"{value:.12g}"
    return str(value)


def read_quantity(value: Value) -> int | None:
    """A number of holes: 4, "4X", "X4", "(4)", "4 PLCS", "4 off". None when it is no whole number from 1 upwards."""
    if isinstance(value, bool):
        return None
    if isinstance(value, (int, float)):
        whole = int(value) if abs(value) <= limits.TAG_RANGE and value == int(value) else 0
        return whole if whole >= 1 else None
    if not isinstance(value, str):
        return None
    match = _QUANTITY.fullmatch(unicodedata.normalize("NFKC", value).strip())
    if match is None:
        number = read_number(value)
        return read_quantity(number) if number is not None else None
    return int(match[1]) if 1 <= int(match[1]) <= limits.TAG_RANGE else None


@dataclass(frozen=True, slots=True)
class Tags:
    """How many holes a tag cell names; `sure` is False for "1-4", "A1-4" and "A1/2", which may be one hole's name."""

    count: int
    sure: bool = True


def count_tags(text: str) -> Tags:
    """The number of tags in a cell: "A1-A12" is twelve, "B1, B3" two, "A-1" one, "" none."""
    parts = list(_tag_parts(text))
    return Tags(sum(len(names) for names, _ in parts), "/" not in text and all(sure for _, sure in parts))


def named_tags(text: str) -> Sequence[str]:
    """The numbered tags of a cell one by one: "A1-A3, B7" is A1, A2, A3, B7; none where count_tags is not sure."""
    if text.isalnum():  # most are
        return (text,) if text[-1].isdecimal() else ()
    if not count_tags(text).sure:
        return ()
    return [name for names, _ in _tag_parts(text) for name in names if name[-1].isdecimal()]


def _tag_parts(text: str) -> Iterator[tuple[Sequence[str], bool]]:
    """The names that each part of a tag cell stands for, and whether that is sure."""
    for part in re.split(r"[,;&+/\n、，]|\band\b|\bund\b|\bet\b", text.translate(SIGNS)):
        part = part.strip()
        if not part:
            continue
        match = _TAG_RANGE.fullmatch(part)
        span = int(match[4]) - int(match[2]) + 1 if match and len(match[4]) < 7 and len(match[2]) < 7 else 0
        if match is None or span < 2 or span > limits.TAG_RANGE or match[3] not in ("", match[1]):
            yield [part], True
        else:
            names = [f"{match[1]}{number}" for number in range(int(match[2]), int(match[4]) + 1)]
            yield names, bool(match[1]) and match[3] == match[1]
