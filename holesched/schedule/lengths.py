"""Numbers and lengths as people write them in schedules: 12,5 | 1 1/4" | 40 mm | 12.7 [.500]. Nothing is guessed."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

from holesched.schedule.columns import unit_word
from holesched.units import LengthUnit, length_mm

SIGNS = str.maketrans({"−": "-", "–": "-", "—": "-", "⁄": "/", "∕": "/", "″": '"', "”": '"', "“": '"', "＂": '"'})
_SPACES = re.compile(r"[\s\u00a0\u202f\u2009']+")
_NUMBER = re.compile(r"[-+]?(?:\d+(?:[.,]\d*)*|[.,]\d+)")
_SIMPLE = re.compile(r"-?[0-9]+(?:\.[0-9]+)?")
_FRACTION = re.compile(r"(-?)(?:(\d+)[ -])?(\d+)/(\d+)")
_DUAL = re.compile(r"(.+?)\s*[(\[](.+?)[)\]]")
_LENGTH_LABELS = re.compile(r"^(?:t|thk|thick(?:ness)?|s|ep|dicke)\s*[=:.]?\s*|\s*(?:thk|thick|dick|ep)\.?$", re.I)


def read_number(text: str, decimal_comma: bool | None = None) -> float | None:
    """A number: "12.5", "-12,5", "1 234,5", "−3". None when it is none, or when a lone comma before three digits could be
    either sign and `decimal_comma` does not say which."""
    text = _SPACES.sub("", unicodedata.normalize("NFKC", text).translate(SIGNS))
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


def read_length(value: object, default: LengthUnit, decimal_comma: bool | None = None) -> Length | None:
    """A length: 40, "40 mm", "1.25 in", '1 1/4"', "1¼ in", "12,5", "12.7 [.500]". None when it is none.

    Of two units in one cell the first counts; they must agree to the second one's last digit.
    """
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return Length(_in_mm(float(value), default))
    if not isinstance(value, str):
        return None
    if _SIMPLE.fullmatch(value) and not decimal_comma:
        return Length(_in_mm(float(value), default))
    text = _LENGTH_LABELS.sub("", "".join(_vulgar(c) for c in value.translate(SIGNS)).strip())
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
