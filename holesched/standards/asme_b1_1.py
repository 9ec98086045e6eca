"""Limits of Unified inch internal threads by the formulas and the rounding of ASME B1.1, all in inches.

The printed limits are reproduced by these formulas; the tests compare them with every printed row at hand. Clause numbers
are left out: the formulas were keyed from memory.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

PITCH_FACTOR = 0.64951905
"""D2 = D - 0.64951905 P."""
MINOR_FACTOR = 1.08253175
"""D1 = D - 1.08253175 P."""
MINOR_FACTOR_J = 0.97427858
"""ASME B1.15, from memory: UNJ minor diameter D - 0.97427858 P."""
CLASS_FACTOR = {"1B": 1.950, "2B": 1.300, "3B": 0.975}
"""Tolerance of the internal pitch diameter over that of class 2A."""


@dataclass(frozen=True, slots=True)
class UnifiedLimits:
    """Basic and limit sizes in inches, with the printed number of decimals.

    `minor_other_in` are the minor limits as other editions print them; a few differ by 0.001 in.
    """

    basic_pitch_in: float
    basic_minor_in: float
    pitch_in: tuple[float, float]
    minor_in: tuple[float, float]
    minor_other_in: tuple[float, float]


_SCALES = tuple(10.0**places for places in range(7))


def half_up(value: float, places: int) -> float:
    """Rounding to so many places, an exact half upwards; a float's last bits do not decide."""
    scale = _SCALES[places]
    return math.floor(value * scale + 0.5 + 1e-7) / scale


def pitch_tolerance_2a_in(major_in: float, pitch_in: float, engagement_in: float) -> float:
    """Tolerance of the class 2A pitch diameter: 0.0015 D^(1/3) + 0.0015 LE^(1/2) + 0.015 P^(2/3), in inches."""
    return 0.0015 * math.cbrt(major_in) + 0.0015 * math.sqrt(engagement_in) + 0.015 * math.cbrt(pitch_in) ** 2


def standard_engagement_in(major_in: float, tpi: float, series: str) -> float:
    """Length of engagement behind the printed tolerance, in inches.

    One diameter for UNC, UNF and the 4, 6 and 8 thread series, nine pitches for UNEF, UNS and the series of 12 threads and
    finer; UNJ threads follow their UN counterparts.
    """
    plain = series.replace("UNJ", "UN")
    one_diameter = plain in ("UNC", "UNF") or (plain == "UN" and tpi in (4, 6, 8))
    return major_in if one_diameter else 9 / tpi


def engagement_range_in(major_in: float, tpi: float, series: str) -> tuple[float, float]:
    """Lengths of engagement, in inches, for which the printed tolerance holds, from memory.

    UNC, UNF and the 4, 6 and 8 thread series: to 1.5 diameters. UNEF, UNS and the series of 12 threads and finer: 5 to 15
    pitches. Beyond that the tolerance is to be computed with the real length.
    """
    if standard_engagement_in(major_in, tpi, series) == major_in:
        return 0.0, 1.5 * major_in
    return 5 / tpi, 15 / tpi


def minor_tolerance_in(major_in: float, pitch_in: float, thread_class: str) -> float:
    """Tolerance of the minor diameter in inches, not rounded."""
    tpi = 1 / pitch_in
    sloped = min(0.05 * math.cbrt(pitch_in) ** 2 + 0.03 * pitch_in / major_in - 0.002, 0.394 * pitch_in)
    if thread_class == "3B":
        floor = 0.23 * pitch_in - 1.5 * pitch_in * pitch_in if tpi > 12.5 else 0.12 * pitch_in
        return max(sloped, floor)
    floor = 0.25 * pitch_in - 0.4 * pitch_in * pitch_in
    if major_in < 0.25:
        return max(sloped, floor)
    return floor if tpi > 3.9 else 0.15 * pitch_in


def _minor_limits_in(major_in: float, basic: float, tolerance: float, thread_class: str, twice: bool) -> tuple[float, float]:
    four = half_up(half_up(basic, 4) + half_up(tolerance, 4), 4)
    if major_in < 0.138:
        return half_up(basic, 4), four
    if thread_class == "3B":
        return half_up(basic, 3), four
    if twice:
        return half_up(half_up(basic, 4), 3), half_up(half_up(basic + tolerance, 4), 3)
    return half_up(basic, 3), half_up(basic + tolerance, 3)


def unified_limits(
    major_in: float, tpi: float, thread_class: str, engagement_in: float, j_form: bool = False
) -> UnifiedLimits:
    """Limits of an internal thread in inches; `thread_class` is 1B, 2B or 3B, `engagement_in` the length of engagement.

    The J form (class 3B) has its own smallest minor diameter and the tolerance of UN class 3B from there (MIL-S-8879C, one
    printed row). Raises KeyError for another class.
    """
    pitch_in = 1 / tpi
    basic_pitch = half_up(major_in - PITCH_FACTOR * pitch_in, 4)
    tolerance_2a = half_up(pitch_tolerance_2a_in(major_in, pitch_in, engagement_in), 6)
    pitch_max = half_up(basic_pitch + half_up(CLASS_FACTOR[thread_class] * tolerance_2a, 4), 4)
    tolerance = minor_tolerance_in(major_in, pitch_in, thread_class)
    if j_form:
        basic_minor = half_up(major_in - MINOR_FACTOR_J * pitch_in, 4)
        minor = other = (basic_minor, half_up(basic_minor + half_up(tolerance, 4), 4))
    else:
        basic = major_in - MINOR_FACTOR * pitch_in
        basic_minor = half_up(basic, 4)
        minor = _minor_limits_in(major_in, basic, tolerance, thread_class, twice=False)
        other = _minor_limits_in(major_in, basic, tolerance, thread_class, twice=True)
    return UnifiedLimits(basic_pitch, basic_minor, (basic_pitch, pitch_max), minor, other)


def external_2a_in(major_in: float, tpi: float, engagement_in: float) -> tuple[tuple[float, float], tuple[float, float]]:
    """Limits of the major and of the pitch diameter of an external thread of class 2A, (min, max) each, in inches.

    ASME B1.1, worked calculation of 1/2-28 UNEF-2A in Machinery's Handbook, 31st ed.: allowance es = 0.300 Td2, tolerances
    Td2 and Td = 0.060 P^(2/3). The limits and es are rounded to four places, as the handbook does; that Td is, too, and Td2
    is not, is what gives every printed limit at hand (#1-64 and #2-64 decide the one, 2 1/2-6 and 1-8 the other).
    """
    pitch_in = 1 / tpi
    pitch_tolerance = pitch_tolerance_2a_in(major_in, pitch_in, engagement_in)
    major_max = half_up(major_in - half_up(0.3 * pitch_tolerance, 4), 4)
    major_min = half_up(major_max - half_up(0.060 * math.cbrt(pitch_in) ** 2, 4), 4)
    pitch_max = half_up(major_max - half_up(PITCH_FACTOR * pitch_in, 6), 4)
    return (major_min, major_max), (half_up(pitch_max - pitch_tolerance, 4), pitch_max)
