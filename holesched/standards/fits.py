"""Limits of toleranced holes: ISO 286 zones, the ANSI B4.1 inch classes, and what is left for a reamer.

ISO 286-1:2010 builds a hole's limits from two tables: the standard tolerance IT of the size and grade, and the fundamental
deviation of the letter. The tables are stored; the rules that join them are the functions here.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from functools import cache

from holesched.notes import Cite
from holesched.standards.sizes import Limits
from holesched.tables import table
from holesched.units import MM_PER_INCH

LARGEST_MM = 500.0
GRADES = range(5, 17)
"""Grades the program answers for: 5 to 13 are called on holes, 14 to 16 now and then with H and JS."""
CLOSE_GRADES = (3, 4)
"""Of honed and lapped holes: read with H and JS alone, whose limits take no other table."""

_ABOVE = "ABCDEFG"
_ZONE = re.compile(r"(A|B|CD|C|D|EF|E|FG|F|G|H|JS|J|K|M|N|P|R|S|T|U|V|X|Y|ZA|ZB|ZC|Z)(\d{1,2})")
_SHAFT = re.compile(r"(?:[a-z]|cd|ef|fg|js|za|zb|zc)\d{1,2}")
_INCH_CLASS = re.compile(r"(RC|LC|LT|LN|FN)\s?(\d{1,2})")


def _band(name: str, size: float, over: str, up_to: str) -> Mapping[str, str]:
    for row in table(name).rows:
        if float(row[over]) < size <= float(row[up_to]):
            return row
    raise ValueError(
        f"{size:g} is outside the table: {table(name).provenance['source']} ends at {table(name).rows[-1][up_to]}."
    )


def tolerance_um(nominal_mm: float, grade: int) -> float:
    """The standard tolerance IT in micrometres. ISO 286-1:2010, Table 1. Raises ValueError for another size or grade."""
    if not 3 <= grade <= 16:
        raise ValueError(f"IT{grade} is not in the table; grades 3 to 16 are.")
    return float(_band("fit_grades.csv", nominal_mm, "over_mm", "up_to_mm")[f"IT{grade}"])


def delta_um(nominal_mm: float, grade: int) -> float:
    """Delta = IT(n) - IT(n-1) in micrometres, zero up to 3 mm. ISO 286-1:2010, Table 3, right-hand columns."""
    return 0.0 if nominal_mm <= 3 else tolerance_um(nominal_mm, grade) - tolerance_um(nominal_mm, grade - 1)


def read_zone(zone: str) -> tuple[str, int]:
    """A hole's zone as letters and grade: "H7" is ("H", 7), "Js9" is ("JS", 9).

    Raises ValueError with one sentence for a shaft's zone, a pair (H7/g6) and anything else.
    """
    text = zone.strip().replace(" ", "")
    if _SHAFT.fullmatch(text):
        raise ValueError(f"{text} is a shaft's zone (small letter); a hole has a capital letter, such as {text.upper()}.")
    if "/" in text:
        raise ValueError(f"{text} names hole and shaft together; for the hole write {text.partition('/')[0]}.")
    found = _ZONE.fullmatch(text[:1] + text[1:].upper())
    if not found:
        raise ValueError(f"{zone!r} is no tolerance zone of ISO 286; write a letter and a grade, such as H7.")
    grade = int(found[2])
    if grade not in GRADES and not (grade in CLOSE_GRADES and found[1] in ("H", "JS")):
        raise ValueError(f"Grade {grade} of {text} is outside {GRADES.start} to {GRADES.stop - 1}.")
    return found[1], grade


def _deviation_um(nominal_mm: float, letters: str, grade: int) -> float:
    """EI for A to G, ES for J to ZC, in micrometres. ISO 286-1:2010, Tables 2 and 3 and their footnotes."""
    if letters == "J" and grade not in (6, 7, 8):
        raise ValueError(f"J{grade} is not standardised; J has grades 6, 7 and 8 (JS{grade} is the symmetrical zone).")
    if letters in ("A", "B") and nominal_mm <= 1:
        raise ValueError(f"{letters} is not used up to 1 mm.")
    if letters == "K" and grade > 8 and nominal_mm > 3:
        raise ValueError(f"K{grade} is not standardised above 3 mm; K has grades up to 8.")
    if letters == "N" and grade > 8 and nominal_mm <= 1:
        raise ValueError(f"N{grade} is not used up to 1 mm.")
    column = f"J{grade}" if letters == "J" else "N9" if letters == "N" and grade > 8 else letters
    printed = _band("fit_holes.csv", nominal_mm, "over_mm", "up_to_mm")[column]
    if not printed:
        raise ValueError(f"{letters}{grade} is not standardised for {nominal_mm:g} mm.")
    if letters == "M" and grade == 6 and 250 < nominal_mm <= 315:
        return -9.0  # the standard's own exception; the rule would give -11
    raised = (letters in "KMN" and grade <= 8) or (letters[0] >= "P" and grade <= 7)
    return float(printed) + (delta_um(nominal_mm, grade) if raised else 0.0)


@cache
def hole_deviations_um(nominal_mm: float, zone: str) -> tuple[float, float]:
    """Lower and upper deviation (EI, ES) of a hole in micrometres. ISO 286-1:2010, clause 4.

    Raises ValueError with one sentence when the zone is unknown, a shaft's, or not standardised for that size.
    """
    letters, grade = read_zone(zone)
    if not 0 < nominal_mm <= LARGEST_MM:
        raise ValueError(f"{nominal_mm:g} mm is outside ISO 286 as tabulated here (to {LARGEST_MM:g} mm).")
    width = tolerance_um(nominal_mm, grade)
    if letters == "H":
        return 0.0, width
    if letters == "JS":
        return -width / 2, width / 2
    deviation = _deviation_um(nominal_mm, letters, grade)
    return (deviation, deviation + width) if letters[0] in _ABOVE else (deviation - width, deviation)


def hole_limits(nominal_mm: float, zone: str) -> Limits:
    """Smallest and largest size of a hole in mm, by ISO 286 zone ("H7", "JS9") to 500 mm or ANSI B4.1 class ("RC4").

    Raises ValueError with one sentence when there is none.
    """
    if not is_iso(zone):
        return inch_class_limits(nominal_mm, zone)
    low_um, high_um = hole_deviations_um(nominal_mm, zone)
    return Limits(round(nominal_mm + low_um / 1000, 6), round(nominal_mm + high_um / 1000, 6))


def inch_class_limits(nominal_mm: float, fit_class: str) -> Limits:
    """Smallest and largest size in mm of the hole of an ANSI B4.1 class (RC1-9, LC1-11, LT1-6, LN1-3, FN1-5).

    ANSI B4.1-1967, from memory: the hole starts at the basic size. Raises ValueError for an unknown class or size.
    """
    found = _INCH_CLASS.fullmatch(fit_class.strip().upper())
    name = f"{found[1]}{int(found[2])}" if found else fit_class
    grades = {row["class"]: row["grade"] for row in table("fit_inch_classes.csv").rows}
    if name not in grades:
        raise ValueError(f"{fit_class} is no class of fit of ANSI B4.1 (RC1-9, LC1-11, LT1-6, LN1-3, FN1-5).")
    nominal_in = round(nominal_mm / MM_PER_INCH, 6)  # 0.12 in lies in the step that ends with it, however it was computed
    printed = _band("fit_inch_grades.csv", nominal_in, "over_in", "up_to_in")[f"IT{grades[name]}"]
    if not printed:
        raise ValueError(f"{name} is not in our table for {nominal_in:.4g} in; give the limits of size.")
    return Limits(round(nominal_mm, 6), round(nominal_mm + float(printed) / 1000 * MM_PER_INCH, 6))


def is_iso(zone: str) -> bool:
    """Whether a written zone is one of ISO 286 ("H7") and no class of ANSI B4.1 ("RC4")."""
    return _INCH_CLASS.fullmatch(zone.strip().upper()) is None


def cite(zone: str) -> Cite:
    """Where a zone's limits come from. Raises ValueError for an unknown zone."""
    if not is_iso(zone):
        return table("fit_inch_classes.csv").cite()
    letters, _ = read_zone(zone)
    only_grade = letters in ("H", "JS")
    return table("fit_grades.csv").cite("Table 1" if only_grade else "Tables 1, 2 and 3")


def ream_allowance(diameter_mm: float) -> tuple[float, float]:
    """What the pre-drilled hole leaves for the reamer on the diameter, low and high, in mm.

    Common practice, no source. Raises ValueError above `largest_reamer_mm`: such a hole is bored.
    """
    if diameter_mm > largest_reamer_mm():
        raise ValueError(f"Holes over {largest_reamer_mm():g} mm are bored here, not reamed.")
    row = _band("fit_ream_allowance.csv", diameter_mm, "over_mm", "up_to_mm")
    return float(row["low_mm"]), float(row["high_mm"])


def ream_cite() -> Cite:
    """Where the reaming allowance comes from."""
    return table("fit_ream_allowance.csv").cite()


def largest_reamer_mm() -> float:
    """The largest hole that is reamed; above it holes are bored. Common practice, no source; a shop may differ."""
    return float(table("fit_ream_allowance.csv").rows[-1]["up_to_mm"])


def reamer_limits(hole: Limits) -> Limits:
    """Smallest and largest size in mm of a reamer for a hole of those limits.

    ISO 522 (as DIN 1420), from memory: the largest reamer lies 15 % of the hole's tolerance below its upper limit, rounded
    up to the next micrometre, and its own tolerance is 35 % of the hole's, likewise rounded up. Raises ValueError when the
    hole has no upper limit.
    """
    if hole.max_mm is None:
        raise ValueError("A hole without upper limit has no reamer.")
    width_um = round((hole.max_mm - hole.min_mm) * 1000, 3)
    largest_um = hole.max_mm * 1000 - math.ceil(round(0.15 * width_um, 6))
    return Limits(
        round((largest_um - math.ceil(round(0.35 * width_um, 6))) / 1000, 6),
        round(largest_um / 1000, 6),
    )
