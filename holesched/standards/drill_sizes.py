"""Drill sizes by their trade names (metric, inch fractions, numbers, letters), and how much over its size a drill cuts."""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache

from holesched.notes import Cite
from holesched.standards.sizes import Size
from holesched.tables import table
from holesched.units import MM_PER_INCH

INCH_TABLES = {"fraction": "drill_fraction.csv", "number": "drill_number.csv", "letter": "drill_letter.csv"}
METRIC_TABLES = {
    "metric": "drill_metric.csv",
    "metric-preferred": "drill_metric.csv",
    "metric-intermediate": "drill_metric_intermediate.csv",
}
SERIES = (*METRIC_TABLES, *INCH_TABLES, "inch")
"""Names `series` knows. metric-preferred leaves out the sizes fewer shops keep; metric-intermediate holds the 0.05 mm steps
between 3 and 14 mm that the stepped series skips (forming taps); inch is fraction, number and letter together."""
EVERYDAY = ("metric", "inch")
"""What `series()` means without a name: every size of the standards."""


@dataclass(frozen=True, slots=True)
class Oversize:
    """How much larger than itself a drill is expected to cut, and at worst, in mm."""

    expected_mm: float
    worst_mm: float
    cite: Cite


def inch_value(text: str) -> Fraction:
    """A trade fraction or decimal as inches: "1 3/8" and "1-3/8" are 11/8, ".257" is 257/1000. Raises ValueError."""
    whole, _, part = text.strip().replace("-", " ").rpartition(" ")
    return Fraction(whole.strip() or 0) + Fraction(part)


def _mm(inch: Fraction) -> float:
    return round(float(inch) * MM_PER_INCH, 6)


@cache
def _named(name: str) -> tuple[Size, ...]:
    if name in METRIC_TABLES:
        rows = table(METRIC_TABLES[name]).rows
        if name == "metric-preferred":
            rows = tuple(row for row in rows if row["choice"] == "first")
        return tuple(Size(float(row["size_mm"]), row["size_mm"]) for row in rows)
    if name == "fraction":
        rows = table(INCH_TABLES[name]).rows
        return tuple(Size(_mm(inch_value(row["size"].removesuffix(" in"))), row["size"]) for row in rows)
    if name in INCH_TABLES:
        return tuple(Size(_mm(Fraction(row["inch"])), row["size"]) for row in table(INCH_TABLES[name]).rows)
    raise KeyError(f"'{name}' is no drill series; there are {', '.join(SERIES)}.")


@cache
def series(*names: str) -> tuple[Size, ...]:
    """The sizes of the named series, smallest first; without a name, every size of the standards.

    Sizes equal to the micrometre keep their several names (6.35 mm is both 1/4 and E). Raises KeyError for an unknown name.
    """
    wanted: list[str] = []
    for name in names or EVERYDAY:
        wanted += list(INCH_TABLES) if name == "inch" else [name]
    sizes = {size for name in wanted for size in _named(name)}
    return tuple(sorted(sizes, key=lambda size: (size.mm, size.label)))


@cache
def _labels() -> dict[str, Size]:
    return {size.label: size for size in series("metric", "metric-intermediate", "inch")}


_NUMBER = re.compile(r"(?:#|NO\.?|NUMBER)\s*(\d{1,2})")
_LETTER = re.compile(r"(?:(?:LETTER|LTR)\.?\s*)?([A-Z])")
_INCHES = re.compile(r"((?:\d+[ -])?\d+/\d+|\d*\.\d+|\d+)\s*(?:\"|''|IN\.?|INCH)?")
_METRIC = re.compile(r"(\d+(?:[.,]\d+)?)\s*(?:MM)?")


def by_label(text: str) -> Size | None:
    """The drill a name means, or None: "#7", "No. 7", "F", "letter F", "1/4", "1-3/8", "6.8", "6,8 mm", ".257".

    A number without unit is millimetres, but .257 (no leading zero) and 0.257 in are inches. Only a size of the tables is
    given; a decimal inch finds the size whose own decimal it is, to the last place written (.266 is H, .2031 is 13/64).
    """
    name = text.strip().upper()
    if found := _NUMBER.fullmatch(name):
        return _labels().get(f"#{int(found[1])}")
    if found := _LETTER.fullmatch(name):
        return _labels().get(found[1])
    inches = _INCHES.fullmatch(name)
    if inches and "/" in inches[1]:
        try:
            size = _mm(inch_value(inches[1]))
        except ZeroDivisionError:
            return None
        return next((known for known in _named("fraction") if known.mm == size), None)
    if inches and (name.startswith(".") or not _METRIC.fullmatch(name)):
        places = len(inches[1].partition(".")[2])
        half_place_mm = 0.5 * 10**-places * MM_PER_INCH
        size = _mm(Fraction(inches[1]))
        near = nearest(size, series("inch"))
        off_mm = abs(near.mm - size)
        return near if off_mm < 1e-6 or (places >= 3 and off_mm <= half_place_mm + 1e-9) else None
    if found := _METRIC.fullmatch(name):
        return _labels().get(f"{float(found[1].replace(',', '.')):g}")
    return None


def in_window(low_mm: float, high_mm: float, sizes: tuple[Size, ...] | None = None) -> tuple[Size, ...]:
    """The sizes from low_mm to high_mm, both included, smallest first."""
    sizes = series() if sizes is None else sizes
    first = bisect_left(sizes, low_mm, key=lambda size: size.mm)
    return sizes[first : bisect_right(sizes, high_mm, key=lambda size: size.mm)]


def next_up(mm: float, sizes: tuple[Size, ...] | None = None) -> Size | None:
    """The smallest size larger than mm; None above the largest."""
    sizes = series() if sizes is None else sizes
    at = bisect_right(sizes, mm, key=lambda size: size.mm)
    return sizes[at] if at < len(sizes) else None


def next_down(mm: float, sizes: tuple[Size, ...] | None = None) -> Size | None:
    """The largest size smaller than mm; None below the smallest."""
    sizes = series() if sizes is None else sizes
    at = bisect_left(sizes, mm, key=lambda size: size.mm)
    return sizes[at - 1] if at > 0 else None


def nearest(mm: float, sizes: tuple[Size, ...] | None = None) -> Size:
    """The size nearest to mm, the smaller of two equally near. Raises ValueError when there are no sizes."""
    sizes = series() if sizes is None else sizes
    at = bisect_left(sizes, mm, key=lambda size: size.mm)
    return min(sizes[max(at - 1, 0) : at + 1], key=lambda size: (round(abs(size.mm - mm), 9), size.mm))


@cache
def drilled_otherwise() -> frozenset[str]:
    """The sub-groups of materials in which drills cut otherwise than in metal."""
    return frozenset(row["workpiece"] for row in table("drill_oversize.csv").rows if row["workpiece"])


@lru_cache(maxsize=4096)
def oversize(diameter_mm: float, material: str, workpiece: str = "") -> Oversize:
    """How much over its own size a drill of that material (HSS, HSS-Co, carbide) cuts, in mm: expected and at worst; in
    metal, or in a `workpiece` (sub-group of materials) of which the table has rows of its own.

    Common practice, no source; graded by diameter. Raises KeyError for another material, ValueError for no diameter.
    """
    if diameter_mm <= 0:
        raise ValueError(f"A drill of {diameter_mm:g} mm does not exist.")
    source = table("drill_oversize.csv")
    known = sorted({row["material"] for row in source.rows if row["material"]})
    of_workpiece = workpiece if workpiece in drilled_otherwise() else ""
    for row in source.rows if material in known else ():
        below = float(row["below_mm"] or "inf")
        held = row["workpiece"] == of_workpiece and row["material"] in ("", material)
        if held and float(row["from_mm"]) <= diameter_mm < below:
            return Oversize(float(row["expected_mm"]), float(row["worst_mm"]), source.cite())
    raise KeyError(f"No oversize is known for a drill of {material}; there are {', '.join(known)}.")
