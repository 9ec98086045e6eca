"""Cells that no longer hold what was typed: dates, date serials, error values, formulas without a value.

A spreadsheet that takes 10-32 for October 1932 keeps no trace of what was typed. What it most likely was is proposed to a
person, never used. Which pairs are threads, the standard series of thread_unified_series.csv decide.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import cache

from holesched.tables import table

_MONTHS = (
    ("jan", "janv", "ene", "gen", "januar", "january"), ("feb", "fev", "fevr", "févr", "februar", "february"),
    ("mar", "mars", "mär", "mrz", "märz", "march"), ("apr", "avr", "abr", "april"), ("may", "mai", "mag", "maj"),
    ("jun", "juin", "giu", "juni", "june"), ("jul", "juil", "lug", "juli", "july"),
    ("aug", "aout", "août", "ago", "august"), ("sep", "sept", "set", "september"),
    ("oct", "okt", "ott", "oktober", "october"),
    ("nov", "november"), ("dec", "déc", "dez", "dic", "dezember", "december"),
)  # fmt: skip
_MONTH_OF = {word: number for number, words in enumerate(_MONTHS, start=1) for word in words}
_NAME = "(" + "|".join(sorted(_MONTH_OF, key=len, reverse=True)) + r")\.?"
_MONTH_YEAR = re.compile(rf"{_NAME}[-\s./]+(\d\d)", re.I)
_DAY_MONTH = re.compile(rf"(\d{{1,2}})[-\s./]+{_NAME}(?:[-\s./]+(\d{{2}}|\d{{4}}))?", re.I)
_ISO = re.compile(r"(\d{4})-(\d\d)-(\d\d)(?:[T ]\d\d:\d\d(?::\d\d(?:\.\d+)?)?)?")
_SLASHED = re.compile(r"(\d{1,2})([/.])(\d{1,2})\2(\d{4})")
_ERROR = re.compile(r"#(?:[A-ZÄÖÜÉÈ/0]+[!?]|N/?[AVD]|DIV/0!|#+)|Err:\d{3}|#{2,}")
_LONGEST_DATE = 26
"""Characters of the longest text that is a date and a time."""
_SERIALS = ((10_959, 36_525), (43_831, 49_673))
"""Serial numbers of 1930 to 1999 and of 2020 to 2035, counted in days from 30 December 1899."""


@dataclass(frozen=True, slots=True)
class Damaged:
    """A cell that does not hold what was typed. `kind` ends the note's code; `likely` is what it most likely was."""

    kind: str
    shown: str
    likely: tuple[str, ...] = ()


def damage_of(value: object) -> Damaged | None:
    """What is wrong with a cell's value in a column of texts; None when nothing is. Numbers: only date serials."""
    if isinstance(value, Damaged):
        return value
    if isinstance(value, str):
        return _damaged_text(value.strip())
    if isinstance(value, bool):
        return Damaged("type", str(value).upper())
    if isinstance(value, datetime):
        return Damaged("date", _shown_date(value), likely_texts(value.date()))
    if isinstance(value, date):
        return Damaged("date", value.isoformat(), likely_texts(value))
    if isinstance(value, (time, timedelta)):
        return Damaged("type", str(value))
    if isinstance(value, (int, float)) and any(low <= value <= high for low, high in _SERIALS) and value == int(value):
        likely = likely_texts(date(1899, 12, 30) + timedelta(days=int(value)), decimals=False)
        return Damaged("date", str(int(value)), likely) if likely else None
    return None


def likely_texts(day: date, *, decimals: bool = True, typed_year: bool = True) -> tuple[str, ...]:
    """What a person may have typed that became this date, most likely first: threads, then fractions, then decimals.

    `typed_year` False when the cell shows no year, so that none was typed. `decimals` False where a date cannot have been
    a number with a point.
    """
    texts = list(_readings(day, day.year % 100, typed_year))
    if decimals and not (day.day == 1 and texts):
        texts.append(f"{day.day}.{day.month}")
    return tuple(dict.fromkeys(texts))


def _readings(day: date, year: int, typed_year: bool) -> Iterator[str]:
    """Threads and fractions. A date whose year was not typed carries the year of its typing: a recent one."""
    recent = day.year >= 2000 or not typed_year
    sizes = ((day.month, day.day), (day.day, day.month))
    if typed_year and day.day == 1 and (f"#{day.month}", year) in _threads():
        yield f"{day.month}-{year}"
    for upper, lower in sizes:
        if typed_year and recent and (f"{upper}/{lower}", year) in _threads():
            yield f"{upper}/{lower}-{year}"
    if recent and (f"#{day.month}", day.day) in _threads():
        yield f"{day.month}-{day.day}"
    if typed_year and day.day == 1 and year in (16, 32, 64) and day.month % 2:
        yield f"{day.month}/{year}"
    for upper, lower in sizes:
        if recent and lower in (2, 4, 8, 16) and upper % 2 and upper < lower:
            yield f"{upper}/{lower}"


@cache
def _threads() -> frozenset[tuple[str, int]]:
    """(size, threads per inch) of the coarse, fine and extra-fine Unified series: ("#10", 32), ("1/4", 20)."""
    rows = table("thread_unified_series.csv").rows
    return frozenset(
        (row["size"], int(row[series])) for row in rows for series in ("unc", "unf", "unef") if row[series].isdecimal()
    )


def _damaged_text(text: str) -> Damaged | None:
    """A text that a spreadsheet made: "Oct-32", "16-May", "08.Mai", "1932-10-01", "#NAME?", "####"."""
    if not text:
        return None
    if text[0] in "#E" and _ERROR.fullmatch(text):
        return Damaged("error", text)
    if len(text) > _LONGEST_DATE:
        return None
    if text[0].isdigit():
        return _dated_digits(text)
    found = _MONTH_YEAR.fullmatch(text) if text[-2:].isdigit() else None
    if found is None:
        return None
    year = int(found[2])
    day = date(1900 + year if year >= 30 else 2000 + year, _MONTH_OF[found[1].casefold()], 1)
    return Damaged("date", text, likely_texts(day, decimals=False))


def _dated_digits(text: str) -> Damaged | None:
    """A date in digits; written with points it was most likely a decimal number."""
    typed_year, pointed = True, False
    if found := _ISO.fullmatch(text):
        year, month, day = (int(part) for part in found.groups())
    elif found := _DAY_MONTH.fullmatch(text):
        day, month, year = int(found[1]), _MONTH_OF[found[2].casefold()], int(found[3] or 2000)
        year = year if year >= 100 else 1900 + year if year >= 30 else 2000 + year
        typed_year, pointed = found[3] is not None, "." in text
    elif found := _SLASHED.fullmatch(text):
        first, second, year = int(found[1]), int(found[3]), int(found[4])
        pointed = found[2] == "."
        day, month = (first, second) if pointed or first > 12 else (second, first)
    else:
        return None
    try:
        likely = likely_texts(date(year, month, day), typed_year=typed_year)
    except ValueError:
        return None
    return Damaged("date", text, decimals_first(likely) if pointed else likely)


def joined_runs(runs: Iterable[tuple[str, str]]) -> Damaged | None:
    """What a text most likely was whose runs, each with its height ("", "superscript", "subscript") or "struck", run
    together: 'Ø8' + raised '+0.02' + lowered '0' was "Ø8 +0.02/0". None when joining them loses nothing."""
    plain, likely, previous = "", "", ""
    for text, height in runs:
        plain += text
        if height == "struck":
            continue
        if height == "superscript" and likely and likely[-1] not in " /":
            likely += " "
        elif height == "subscript" and previous == "superscript":
            likely += "/"
        likely += text
        previous = height
    return Damaged("runs", plain.strip(), (likely.strip(),) if likely.strip() else ()) if likely != plain else None


def typed_text(formula: str) -> tuple[str, ...]:
    """What was most likely typed that a formula and an error came of: "+M8x1-6H" was "M8x1-6H"; none for real formulas."""
    text = re.sub(r"^(?:of:)?[=+@\s]*", "", formula)
    return (text,) if re.search(r"\d", text) and not re.search(r"[(\[!:]", text) else ()


def decimals_first(likely: tuple[str, ...]) -> tuple[str, ...]:
    """The same readings for a schedule where a decimal number is likelier than an inch fraction or thread."""
    return tuple(sorted(likely, key=lambda text: "." not in text))


def _shown_date(value: datetime) -> str:
    return value.date().isoformat() if value.time() == time(0) else value.isoformat(" ")
