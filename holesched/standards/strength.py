"""Strength of a tapped hole: shear areas of both threads and the least length of engagement.

FED-STD-H28/2B (1991), Table II.B.1, as an open library transcribes it; 60 degree threads. The aim is that the screw breaks
before a thread strips. Any one unit of length will do; here mm. The formulas are for static load and parallel threads; they
replace no designer's proof.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, tan

from holesched.notes import Cite
from holesched.standards import asme_b1_1, iso965
from holesched.standards.threads.base import ThreadGeometry
from holesched.tables import table
from holesched.units import MM_PER_INCH

CITE = Cite(
    "FED-STD-H28/2B",
    "1991",
    "Table II.B.1, Formulas (2a), (4a), (6b), (13), (14) and (16), as an open library transcribes them",
)
SHEAR_TO_TENSILE = 0.6
"""Shear over tensile strength of ductile steel; common practice, no source. Give a material's own where it is known."""

NEARLY_EQUAL = 0.95
"""From this ratio of the threads' strengths on, both may strip together (as the open library has it)."""
SCREW_THREAD, TAPPED_THREAD, BOTH_THREADS = "screw thread", "tapped thread", "pair of threads"

_TAN_30 = tan(pi / 6)


@dataclass(frozen=True, slots=True)
class Screw:
    """A screw's thread, in mm: smallest major and smallest pitch diameter of its class, and its pitch."""

    major_min_mm: float
    pitch_min_mm: float
    pitch_mm: float
    stress_area_mm2: float


@dataclass(frozen=True, slots=True)
class Engagement:
    """What length of thread a screw needs in a workpiece.

    `least_mm` makes the screw break first; `governed_by` is what would strip else: SCREW_THREAD, TAPPED_THREAD or
    BOTH_THREADS. `strength_ratio` is R1/R2, the screw thread's strength over the tapped thread's. `screw_load_n` is the
    screw's breaking load.
    """

    least_mm: float
    governed_by: str
    strength_ratio: float
    screw_load_n: float
    cite: Cite


def stress_area_mm2(nominal_mm: float, pitch_mm: float) -> float:
    """Nominal tensile stress area of a metric screw: pi/4 (d - 0.9382 P)^2, in mm2. ISO 898-1, from memory.

    Inch screws have a slightly smaller one by their own standard: `stress_area_inch_mm2`.
    """
    return pi / 4 * (nominal_mm - 0.9382 * pitch_mm) ** 2


def stress_area_inch_mm2(nominal_mm: float, tpi: float) -> float:
    """Tensile stress area of an inch screw: 0.7854 (D - 0.9743/n)^2 square inches, in mm2. ASME B1.1, Appendix B."""
    return pi / 4 * (nominal_mm - 0.9743 * MM_PER_INCH / tpi) ** 2


def screw_6g(nominal_mm: float, pitch_mm: float) -> Screw:
    """An ISO metric screw of class 6g, limits as ISO 965-1 prints them (`iso965.external_6g`).

    Raises KeyError for a size or pitch outside the tables of ISO 965-1.
    """
    (major_min_mm, _), (pitch_min_mm, _) = iso965.external_6g(nominal_mm, pitch_mm)
    return Screw(major_min_mm, pitch_min_mm, pitch_mm, stress_area_mm2(nominal_mm, pitch_mm))


def screw_2a(nominal_mm: float, tpi: float, series: str = "UNC") -> Screw:
    """A unified screw of class 2A, limits as ASME B1.1 computes them (`asme_b1_1.external_2a_in`); `series` decides the
    length of engagement behind its tolerance."""
    major_in = round(nominal_mm / MM_PER_INCH, 5)
    engagement_in = asme_b1_1.standard_engagement_in(major_in, tpi, series)
    (major_min, _), (pitch_min, _) = asme_b1_1.external_2a_in(major_in, tpi, engagement_in)
    return Screw(major_min * MM_PER_INCH, pitch_min * MM_PER_INCH, MM_PER_INCH / tpi, stress_area_inch_mm2(nominal_mm, tpi))


def mating_screw(geometry: ThreadGeometry) -> Screw:
    """The screw a tapped thread is made for: class 6g for M, 2A for the Unified series.

    Raises ValueError for a thread whose screw is not held here (J forms, inserts, pipe, Tr, Acme, Whitworth, BA).
    """
    spec = geometry.spec
    if spec.series in ("M", "MF"):
        return screw_6g(spec.nominal.mm, spec.pitch_mm)
    if spec.tpi is not None and spec.series in ("UNC", "UNF", "UNEF", "UN", "UNS"):
        return screw_2a(spec.nominal.mm, spec.tpi, spec.series)
    raise ValueError(f"No screw for {spec.designation} is held here, so its length of engagement is not computed.")


def screw_shear_area_mm2(screw: Screw, minor_max_mm: float, engagement_mm: float) -> float:
    """Shear area of the screw's thread at least: pi Le/P Kn_max [P/2 + (Es_min - Kn_max) tan 30], in mm2.

    FED-STD-H28/2B, Formula (4a); Kn_max is the tapped hole's largest minor diameter, Es_min the screw's smallest pitch
    diameter.
    """
    width_mm = screw.pitch_mm / 2 + _TAN_30 * (screw.pitch_min_mm - minor_max_mm)
    return pi * engagement_mm / screw.pitch_mm * minor_max_mm * width_mm


def tapped_shear_area_mm2(screw: Screw, pitch_max_mm: float, engagement_mm: float) -> float:
    """Shear area of the tapped thread at least: pi Le/P Ds_min [P/2 + (Ds_min - En_max) tan 30], in mm2.

    FED-STD-H28/2B, Formula (2a); Ds_min is the screw's smallest major diameter, En_max the tapped thread's largest pitch
    diameter.
    """
    width_mm = screw.pitch_mm / 2 + _TAN_30 * (screw.major_min_mm - pitch_max_mm)
    return pi * engagement_mm / screw.pitch_mm * screw.major_min_mm * width_mm


def screw_tensile_mpa(grade: str, nominal_mm: float) -> float:
    """Least tensile strength of a screw's grade ("8.8", "A2-70", "SAE 5", "A574") in MPa, from memory.

    Raises KeyError for a grade the table does not have for that diameter.
    """
    for row in table("screw_grades.csv").rows:
        if row["grade"] == grade and float(row["over_mm"]) < nominal_mm <= float(row["up_to_mm"]):
            return float(row["tensile_mpa"])
    raise KeyError(f"No tensile strength is known for a screw of grade {grade} and {nominal_mm:g} mm.")


def least_engagement(
    geometry: ThreadGeometry,
    screw: Screw,
    screw_tensile: float,
    work_tensile: float,
    work_shear_ratio: float = SHEAR_TO_TENSILE,
) -> Engagement:
    """The least length of engagement at which the screw breaks before a thread strips, in mm.

    FED-STD-H28/2B, Table II.B.1. R1/R2 is the largest strength of the screw's thread (area 3/4 pi D1 a mm, Formula (6b))
    over the least of the tapped thread. Below 0.95 the screw's thread strips first: Le = 2 At over its least shear area a mm
    (14). From there on the greater of 4 At / (pi D2), both threads together (13), and 2 At over the tapped thread's least
    shear area a mm times the ratio of strengths (16). Strengths are tensile, in MPa; a screw's shear strength is 0.6 of
    its own, the work's `work_shear_ratio`. Raises ValueError for a taper thread, one without upper limits, or strengths that
    are not positive.
    """
    minor_max_mm, pitch_max_mm = geometry.minor.max_mm, geometry.pitch.max_mm
    if geometry.taper or minor_max_mm is None or pitch_max_mm is None:
        raise ValueError(f"No length of engagement is computed for {geometry.spec.designation}.")
    if min(screw_tensile, work_tensile, work_shear_ratio) <= 0:
        raise ValueError("Strengths are more than nothing.")
    basic_pitch_mm = geometry.basic_major_mm - iso965.PITCH_FACTOR * screw.pitch_mm
    basic_minor_mm = geometry.basic_major_mm - iso965.MINOR_FACTOR * screw.pitch_mm
    tapped_area_mm = tapped_shear_area_mm2(screw, pitch_max_mm, 1.0)
    materials = screw_tensile * SHEAR_TO_TENSILE / (work_tensile * work_shear_ratio)
    ratio = 0.75 * pi * basic_minor_mm / tapped_area_mm * materials
    lengths = {
        SCREW_THREAD: 2 * screw.stress_area_mm2 / screw_shear_area_mm2(screw, minor_max_mm, 1.0),
        BOTH_THREADS: 4 * screw.stress_area_mm2 / (pi * basic_pitch_mm),
        TAPPED_THREAD: 2 * screw.stress_area_mm2 / tapped_area_mm * materials,
    }
    stripping = (SCREW_THREAD,) if ratio < NEARLY_EQUAL else (BOTH_THREADS, TAPPED_THREAD)
    governed_by = max(stripping, key=lengths.__getitem__)
    return Engagement(lengths[governed_by], governed_by, ratio, screw.stress_area_mm2 * screw_tensile, CITE)


def needed_engagement(
    geometry: ThreadGeometry, grade: str, work_tensile: float, work_shear_ratio: float = SHEAR_TO_TENSILE
) -> Engagement:
    """The least length of engagement for a screw of that grade ("8.8", "SAE 5") in work of that tensile strength (MPa).

    `least_engagement` with the thread's own screw (`mating_screw`) and the grade's least tensile strength. Raises
    ValueError for a thread whose screw is not held here, KeyError for an unknown grade.
    """
    screw_tensile = screw_tensile_mpa(grade, geometry.spec.nominal.mm)
    return least_engagement(geometry, mating_screw(geometry), screw_tensile, work_tensile, work_shear_ratio)
