"""Number formats: what a cell's format adds to its number, whatever kind of workbook it stands in."""

from __future__ import annotations

import re
from datetime import date, timedelta
from fractions import Fraction
from functools import lru_cache

from holesched.schedule.damage import Damaged, likely_texts

_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_CODE_PART = re.compile(r'"([^"]*)"|\\(.)|_.|\*.|\[\$([^\]-]*)[^\]]*\]|\[[^\]]*\]|([0#?][0#?.,/ ]*)|(.)', re.S)
_DAYS = 2_900_000
"""Days from 1904 to a little before the year 10000."""
_UNQUOTED = re.compile(r"[@%E+\-() $,;:A-Za-z]")
"""Characters that stand unquoted in number formats and add nothing of interest (General, Standard, E+00, brackets)."""


@lru_cache(maxsize=256)
def adds_meaning(code: str) -> bool:
    """Whether a number shown by this format says more than the number: a date, a percentage, a fraction, a sign or unit."""
    first = code.partition(";")[0]
    if is_date_code(first) or "%" in first or "?/" in first:
        return True
    return any(
        (part[1] or part[2] or part[3] or _UNQUOTED.sub("", part[5] or "")).strip() for part in _CODE_PART.finditer(first)
    )


@lru_cache(maxsize=256)
def is_date_code(code: str) -> bool:
    """Whether a number format shows a date: letters d, m or y outside quotes, no digits' places."""
    bare = re.sub(r'"[^"]*"|\\.|\[[^\]]*\]', "", code.partition(";")[0])
    return bool(re.search(r"[dy]|mmm", bare, re.I)) and not re.search(r"[0#?]", bare) and "general" not in bare.casefold()


def shown_number(value: float, code: str) -> str:
    """A number as its format shows it: 8.5 with '"Ø"0.0' is "Ø8.5", 0.25 with "# ?/?" is "1/4", 0.02 with "0%" is "2%"."""
    first = code.partition(";")[0]
    if "?/" in first:
        whole, rest = divmod(Fraction(value).limit_denominator(64), 1)
        return " ".join(part for part in (str(whole) if whole or not rest else "", str(rest) if rest else "") if part)
    value = value * 100 if "%" in first else value
    text, number_done = "", False
    for match in _CODE_PART.finditer(first):
        literal, digits, other = match[1] or match[2] or match[3], match[4], match[5]
        if digits and not number_done:
            places = len(re.sub(r"[^0#?]", "", digits.partition(".")[2]))
            text += f"{value:.{places}f}"
            number_done = True
        else:
            text += literal or (other if other and other not in "@" else "")
    return text.strip()


def damaged_date(serial: float, code: str, *, from_1904: bool = False) -> Damaged:
    """A number that its format shows as a date, as shown and with what was likely typed; some workbooks count from 1904."""
    if not 0 <= serial < _DAYS:
        return Damaged("date", f"{serial:.12g}")
    day = (date(1904, 1, 1) if from_1904 else date(1899, 12, 30)) + timedelta(days=int(serial))
    bare = code.replace("\\", "").casefold()
    if bare == "mmm-yy":
        shown = f"{_MONTHS[day.month - 1]}-{day:%y}"
    elif bare == "d-mmm":
        shown = f"{day.day}-{_MONTHS[day.month - 1]}"
    else:
        shown = day.isoformat()
    return Damaged("date", shown, likely_texts(day, typed_year="y" in bare))
