"""Limits of ISO metric internal threads: basic sizes of ISO 724, tolerances of ISO 965-1, the J form of ISO 5855-1.

The tolerance tables of the standard govern. Its formulas serve where a diameter and a pitch are combined that the tables
leave out, and as a cross-check in the tests.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import cache

from holesched.tables import table

PITCH_FACTOR = 0.75 * math.sqrt(3) / 2
"""ISO 724: D2 = D - 2 x 3/8 H = D - 0.6495 P."""
MINOR_FACTOR = 1.25 * math.sqrt(3) / 2
"""ISO 724: D1 = D - 2 x 5/8 H = D - 1.0825 P."""
MINOR_FACTOR_J = 1.125 * math.sqrt(3) / 2
"""ISO 5855-1, from memory: D1 = D - 2 x 9/16 H = D - 0.9743 P."""

_R40: tuple[int, ...] = (
    *(100, 106, 112, 118, 125, 132, 140, 150, 160, 170, 180, 190, 200, 212, 224, 236, 250, 265, 280, 300),
    *(315, 335, 355, 375, 400, 425, 450, 475, 500, 530, 560, 600, 630, 670, 710, 750, 800, 850, 900, 950),
)
_GRADE_STEPS = {4: -8, 5: -4, 6: 0, 7: 4, 8: 8}
_TD_EXCEPTIONS = {0.75: 140.0, 4.0: 475.0}
"""Td of grade 6 where Table 4 departs from the rounded formula (150 and 450)."""
_CLASS = re.compile(r"([3-9])([A-Za-z])(?:([3-9])([A-Za-z]))?")


@dataclass(frozen=True, slots=True)
class ThreadClass:
    """A tolerance class of an internal thread: grade of the pitch diameter, grade of the minor diameter, position."""

    pitch_grade: int
    minor_grade: int
    position: str

    def __str__(self) -> str:
        pitch, minor = f"{self.pitch_grade}{self.position}", f"{self.minor_grade}{self.position}"
        return pitch if pitch == minor else pitch + minor


@dataclass(frozen=True, slots=True)
class MetricLimits:
    """Basic and limit sizes in mm, at 0.001 mm as printed; `tabulated`: both tolerances stand in the tables."""

    basic_pitch_mm: float
    basic_minor_mm: float
    major_min_mm: float
    pitch_mm: tuple[float, float]
    minor_mm: tuple[float, float]
    tabulated: bool


@cache
def thread_class(text: str) -> ThreadClass | None:
    """A class as written (6H, 4H5H: pitch diameter first); None when it is no class of an internal thread."""
    match = _CLASS.fullmatch(text)
    if match is None:
        return None
    pitch, position, minor, second = match[1], match[2], match[3] or match[1], match[4] or match[2]
    if position != second or position not in ("G", "H"):
        return None
    return ThreadClass(int(pitch), int(minor), position)


def nearest_r40(value: float) -> float:
    """The member of the R40 series of preferred numbers (ISO 3) nearest in ratio to a positive value."""
    decade = 10.0 ** (math.floor(math.log10(value)) - 2)
    members = [member * decade for member in (*_R40, 1000)]
    return min(members, key=lambda member: abs(math.log(member / value)))


def r40_step(value: float, steps: int) -> float:
    """The member so many places along R40 from the member nearest to `value`."""
    place = round(40 * math.log10(nearest_r40(value) / 100)) + steps
    decade, index = divmod(place, 40)
    return float(_R40[index] * 10**decade)


def td1_formula_um(pitch_mm: float) -> float:
    """Tolerance of the minor diameter, grade 6, in um, before rounding.

    ISO 965-1, clause 13.3; read in an open transcription of ASME B1.13M-2005, page 15.
    """
    if pitch_mm >= 1:
        return 230 * math.pow(pitch_mm, 0.7)
    return 433 * pitch_mm - 190 * math.pow(pitch_mm, 1.22)


def td2_formula_um(mean_diameter_mm: float, pitch_mm: float) -> float:
    """Tolerance of the pitch diameter of an internal thread, grade 6, in um, before rounding: 1.32 x 90 P^0.4 d^0.1.

    ISO 965-1, clause 13.4; `mean_diameter_mm` is the geometric mean of the diameter step.
    """
    return 1.32 * 90 * math.pow(pitch_mm, 0.4) * math.pow(mean_diameter_mm, 0.1)


def normal_engagement_formula_mm(major_mm: float, pitch_mm: float) -> tuple[float, float]:
    """2.24 P d^0.2 and 6.7 P d^0.2 in mm, not rounded; d is the smallest diameter of the step. ISO 965-1, clause 13.2."""
    over_mm, _ = step_of(major_mm)
    root = math.pow(over_mm, 0.2)
    return 2.24 * pitch_mm * root, 6.7 * pitch_mm * root


def normal_engagement_mm(major_mm: float, pitch_mm: float) -> tuple[float, float]:
    """The lengths of engagement in mm over which group N begins and up to which it reaches.

    ISO 965-1, Table 2; by formula for a pitch the table does not give to that diameter. Raises KeyError outside 0.99 to
    355 mm.
    """
    listed = _normal_engagements().get((step_of(major_mm)[0], pitch_mm))
    return listed or normal_engagement_formula_mm(major_mm, pitch_mm)


def engagement_group(major_mm: float, pitch_mm: float, length_mm: float) -> str:
    """The group of ISO 965-1 a length of engagement falls into: "S", "N" or "L". Raises KeyError outside 0.99 to 355 mm."""
    over_mm, up_to_mm = normal_engagement_mm(major_mm, pitch_mm)
    return "S" if length_mm <= over_mm else "L" if length_mm > up_to_mm else "N"


@cache
def _normal_engagements() -> dict[tuple[float, float], tuple[float, float]]:
    return {
        (float(row["over_mm"]), float(row["pitch_mm"])): (float(row["n_over_mm"]), float(row["n_up_to_mm"]))
        for row in table("thread_iso965_engagement.csv").rows
    }


@cache
def _td1() -> dict[tuple[float, int], float]:
    rows = table("thread_iso965_td1.csv").rows
    return {
        (float(row["pitch_mm"]), grade): float(row[f"grade{grade}_um"])
        for row in rows
        for grade in _GRADE_STEPS
        if row[f"grade{grade}_um"]
    }


@cache
def _td2() -> dict[tuple[float, float, int], float]:
    rows = table("thread_iso965_td2.csv").rows
    return {
        (float(row["over_mm"]), float(row["pitch_mm"]), grade): float(row[f"grade{grade}_um"])
        for row in rows
        for grade in _GRADE_STEPS
        if row[f"grade{grade}_um"]
    }


@cache
def _steps() -> tuple[tuple[float, float], ...]:
    rows = table("thread_iso965_td2.csv").rows
    return tuple(sorted({(float(row["over_mm"]), float(row["up_to_mm"])) for row in rows}))


@cache
def _ei_g() -> dict[float, float]:
    return {float(row["pitch_mm"]): float(row["ei_g_um"]) for row in table("thread_iso965_ei_g.csv").rows}


@cache
def step_of(major_mm: float) -> tuple[float, float]:
    """The diameter step (over, up to and including) of ISO 965-1, in mm. Raises KeyError outside 0.99 to 355 mm."""
    for over_mm, up_to_mm in _steps():
        if over_mm < major_mm <= up_to_mm:
            return over_mm, up_to_mm
    raise KeyError(major_mm)


def minor_grades(pitch_mm: float) -> tuple[int, ...]:
    """The grades that ISO 965-1 Table 3 gives for a pitch; empty for a pitch outside the table."""
    return tuple(grade for grade in _GRADE_STEPS if (pitch_mm, grade) in _td1())


@cache
def grades(major_mm: float, pitch_mm: float) -> tuple[int, ...]:
    """The grades that both tables give for a diameter and a pitch; by Table 3 alone where Table 5 lacks the combination."""
    over_mm, _ = step_of(major_mm)
    both = tuple(grade for grade in minor_grades(pitch_mm) if (over_mm, pitch_mm, grade) in _td2())
    return both or minor_grades(pitch_mm)


def td1_um(pitch_mm: float, grade: int) -> float:
    """Tolerance of the minor diameter in um, ISO 965-1 Table 3. Raises KeyError where the table is empty."""
    return _td1()[pitch_mm, grade]


def td2_um(major_mm: float, pitch_mm: float, grade: int) -> tuple[float, bool]:
    """Tolerance of the pitch diameter in um, and whether ISO 965-1 Table 5 gives it.

    A diameter and a pitch that the table does not combine have the grade 6 value of the formula, rounded to R40, and four
    R40 members a grade from there. Raises KeyError for a grade that the standard does not give for that pitch.
    """
    over_mm, up_to_mm = step_of(major_mm)
    if (over_mm, pitch_mm, grade) in _td2():
        return _td2()[over_mm, pitch_mm, grade], True
    combined = any((over_mm, pitch_mm, other) in _td2() for other in _GRADE_STEPS)
    if combined or grade not in minor_grades(pitch_mm):
        raise KeyError((major_mm, pitch_mm, grade))
    grade_6 = td2_formula_um(math.sqrt(over_mm * up_to_mm), pitch_mm)
    return r40_step(grade_6, _GRADE_STEPS[grade]), False


def ei_um(pitch_mm: float, position: str) -> float:
    """Fundamental deviation in um: 0 for H, ISO 965-1 Table 1 for G. Raises KeyError for a pitch outside the table."""
    return 0.0 if position == "H" else _ei_g()[pitch_mm]


def metric_limits(major_mm: float, pitch_mm: float, tolerance: ThreadClass, j_form: bool = False) -> MetricLimits:
    """Limits of an internal thread of any diameter from 1 to 355 mm and any pitch of ISO 965-1.

    Basic sizes are rounded to 0.001 mm before the deviation and the tolerance are added, as the printed limits are.
    Raises KeyError for a pitch, or a grade at that pitch, which the standard does not give.
    """
    basic_pitch = round(major_mm - PITCH_FACTOR * pitch_mm, 3)
    basic_minor = round(major_mm - (MINOR_FACTOR_J if j_form else MINOR_FACTOR) * pitch_mm, 3)
    ei = ei_um(pitch_mm, tolerance.position) / 1000
    td1 = td1_um(pitch_mm, tolerance.minor_grade) / 1000
    td2, tabulated = td2_um(major_mm, pitch_mm, tolerance.pitch_grade)
    return MetricLimits(
        basic_pitch_mm=basic_pitch,
        basic_minor_mm=basic_minor,
        major_min_mm=round(major_mm + ei, 3),
        pitch_mm=(round(basic_pitch + ei, 3), round(basic_pitch + ei + td2 / 1000, 3)),
        minor_mm=(round(basic_minor + ei, 3), round(basic_minor + ei + td1, 3)),
        tabulated=tabulated,
    )


def external_6g(major_mm: float, pitch_mm: float) -> tuple[tuple[float, float], tuple[float, float]]:
    """Limits of the major and of the pitch diameter of an external thread of class 6g, (min, max) each, in mm.

    ISO 965-1: es of g is EI of G below the nominal size (Table 1); Td = 180 P^(2/3) - 3.15 P^(-1/2) um to the R40 series,
    but 140 at pitch 0.75 and 475 at 4 (Table 4); Td2 = 90 P^0.4 d^0.1 um, which as Table 6 prints it lies five R40 members
    under TD2 of grade 6 (their ratio is 1.32), and is the rounded formula at pitches without internal grade 6. Raises
    KeyError outside the tables.
    """
    es = _ei_g()[pitch_mm] / 1000
    rounded = nearest_r40(180 * math.pow(pitch_mm, 2 / 3) - 3.15 / math.sqrt(pitch_mm))
    td = _TD_EXCEPTIONS.get(pitch_mm, rounded) / 1000
    over_mm, up_to_mm = step_of(major_mm)
    if 6 in minor_grades(pitch_mm):
        td2 = r40_step(td2_um(major_mm, pitch_mm, 6)[0], -5) / 1000
    else:
        td2 = nearest_r40(90 * math.pow(pitch_mm, 0.4) * math.pow(over_mm * up_to_mm, 0.05)) / 1000
    major_max, pitch_max = round(major_mm - es, 3), round(round(major_mm - PITCH_FACTOR * pitch_mm, 3) - es, 3)
    return (round(major_max - td, 3), major_max), (round(pitch_max - td2, 3), pitch_max)
