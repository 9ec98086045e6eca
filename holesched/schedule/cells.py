"""One cell's value as text, number, length, quantity or tags. Nothing here guesses: a value it cannot read is None."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from holesched.schedule import limits
from holesched.schedule.columns import unit_word
from holesched.schedule.damage import Damaged
from holesched.units import LengthUnit, length_mm

Value = str | float | bool | date | datetime | time | timedelta | Damaged

_SIGNS = str.maketrans({"−": "-", "–": "-", "—": "-", "⁄": "/", "∕": "/", "″": '"', "”": '"', "“": '"', "＂": '"'})
_SPACES = re.compile(r"[\s\u00a0\u202f\u2009']+")
_NUMBER = re.compile(r"[-+]?(?:\d+(?:[.,]\d*)*|[.,]\d+)")
_SIMPLE = re.compile(r"-?[0-9]+(?:\.[0-9]+)?")
_FRACTION = re.compile(r"(-?)(?:(\d+)[ -])?(\d+)/(\d+)")
_DUAL = re.compile(r"(.+?)\s*[(\[](.+?)[)\]]")
_QUANTITY = re.compile(
    r"[(x×]?\s*(\d+)\s*[)x×]?\s*(?:pl(?:cs|aces)?\.?|holes?|off|pcs|ea|stk\.?|st\.?|mal|fois|ヶ所|箇所|個)?", re.I
)
_LENGTH_LABELS = re.compile(r"^(?:t|thk|thick(?:ness)?|s|ep|dicke)\s*[=:.]?\s*|\s*(?:thk|thick|dick|ep)\.?$", re.I)
_TAG_RANGE = re.compile(r"(.*?)(\d+)\s*(?:-|~|\.{2,3}|…|\bto\b|\bthru\b|\bbis\b|\bà\b|から)\s*(\D*?)(\d+)", re.I)


def text_of(value: Value) -> str:
    """A value as a person would type it: 8.0 is "8", a date is its ISO text. Line breaks inside stay."""
    if isinstance(value, str):
        return value.strip()
    if isinstance(value, Damaged):
        return value.shown
    if isinstance(value, bool):
        return str(value).upper()
    if isinstance(value, (int, float)):
        return f"{value:.12g}"
    return str(value)


def read_number(text: str, decimal_comma: bool | None = None) -> float | None:
    """A number: "12.5", "-12,5", "1 234,5", "−3". None when it is none, or when a lone comma before three digits could be
    either sign and `decimal_comma` does not say which."""
    text = _SPACES.sub("", unicodedata.normalize("NFKC", text).translate(_SIGNS))
    if not _NUMBER.fullmatch(text):
        return None
    if "," in text and "." in text:
        grouping, point = (",", ".") if text.rindex(".") > text.rindex(",") else (".", ",")
        if text.count(point) > 1:
            return None
        text = text.replace(grouping, "").replace(point, ".")
    elif "," in text:
        if text.count(",") > 1:
            text = text.replace(",", "")
        elif re.fullmatch(r"[-+]?[1-9]\d{0,2},\d{3}", text) and decimal_comma is None:
            return None
        else:
            text = text.replace(",", "" if decimal_comma is False else ".")
    elif text.count(".") > 1 or (decimal_comma and re.fullmatch(r"[-+]?[1-9]\d{0,2}\.\d{3}", text)):
        return None
    return float(text)


def has_decimal_comma(text: str) -> bool:
    """Whether a number's text shows without doubt that the comma is the decimal sign: "12,5" does, "1,250" does not."""
    return bool(re.fullmatch(r"\s*[-+−–]?\d*,(?:\d{1,2}|\d{4,})\s*\D*", text))


@dataclass(frozen=True, slots=True)
class Length:
    """A length in mm; `unit` only when the text stated one."""

    mm: float
    unit: LengthUnit | None = None


def read_length(value: Value, default: LengthUnit, decimal_comma: bool | None = None) -> Length | None:
    """A length: 40, "40 mm", "1.25 in", '1 1/4"', "1¼ in", "12,5", "12.7 [.500]". None when it is none.

    Of two units in one cell the first counts; they must agree to the second one's last digit.
    """
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return Length(_in_mm(float(value), default))
    if not isinstance(value, str):
        return None
    if _SIMPLE.fullmatch(value) and not decimal_comma:
        return Length(_in_mm(float(value), default))
    text = _LENGTH_LABELS.sub("", "".join(_vulgar(c) for c in value.translate(_SIGNS)).strip())
    if dual := _DUAL.fullmatch(text):
        return _dual(dual[1], dual[2], default, decimal_comma)
    number, unit = _split_unit(text)
    amount = _fraction(number)
    if amount is None:
        amount = read_number(number, decimal_comma)
    return None if amount is None else Length(_in_mm(amount, unit or default), unit)


def _in_mm(amount: float, unit: LengthUnit) -> float:
    """A length in mm, without the noise of the conversion: 0.3 inch is 7.62."""
    return amount if unit == "mm" else round(length_mm(amount, unit), 9)


def _dual(first: str, second: str, default: LengthUnit, decimal_comma: bool | None) -> Length | None:
    if unit_word(second):
        return read_length(f"{first} {second}", default, decimal_comma)
    main = read_length(first, default, decimal_comma)
    if main is None:
        return None
    other: LengthUnit = "in" if (main.unit or default) == "mm" else "mm"
    beside = read_length(second, other, decimal_comma)
    if beside is None:
        return None
    digits = len(re.split(r"[.,]", second.strip())[-1]) if re.search(r"[.,]", second) else 0
    return main if abs(main.mm - beside.mm) <= length_mm(10.0**-digits, beside.unit or other) else None


def _split_unit(text: str) -> tuple[str, LengthUnit | None]:
    """A length's number and its unit: '1 1/4"' -> "1 1/4", "in"."""
    match = re.fullmatch(r"(.*?[\d.,])\s*(\"|''|[a-z]+\.?)?", text, re.I | re.S)
    if match is None or not match[2]:
        return text, None
    unit = unit_word(match[2])
    return (match[1], unit) if unit else (text, None)


def _fraction(text: str) -> float | None:
    match = _FRACTION.fullmatch(" ".join(text.split()))
    if match is None or int(match[4]) == 0:
        return None
    size = int(match[2] or 0) + int(match[3]) / int(match[4])
    return -size if match[1] else size


def _vulgar(sign: str) -> str:
    """ "¼" as " 1/4", so that 1¼ does not become 11/4."""
    folded = unicodedata.normalize("NFKC", sign)
    return f" {folded.replace('⁄', '/')}" if "⁄" in folded and len(folded) > 1 else folded


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
    """How many holes a tag cell names; `sure` is False for "1-4" and "A1-4", which may be one hole's name."""

    count: int
    sure: bool = True


def count_tags(text: str) -> Tags:
    """The number of tags in a cell: "A1-A12" is twelve, "B1, B3" two, "A-1" one, "" none."""
    total, sure = 0, True
    for part in re.split(r"[,;&+\n、，]|\band\b|\bund\b|\bet\b", text.translate(_SIGNS)):
        part = part.strip()
        if not part:
            continue
        match = _TAG_RANGE.fullmatch(part)
        span = int(match[4]) - int(match[2]) + 1 if match and len(match[4]) < 7 and len(match[2]) < 7 else 0
        if match is None or span < 2 or span > limits.TAG_RANGE or match[3] not in ("", match[1]):
            total += 1
            continue
        total += span
        sure = sure and bool(match[1]) and match[3] == match[1]
    return Tags(total, sure)
