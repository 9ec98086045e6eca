"""Stress areas, shear areas and length of engagement.

Stress areas against printed values (ISO 898-1 recalled, unified charts keyed beside this file). The formulas of
FED-STD-H28/2B have no printed example to hand; they are checked against the installed screw-thread-lib, which transcribes
them, and against the geometry itself: two thread profiles are laid over each other point by point and the sheared width is
measured.
"""

from __future__ import annotations

from math import pi, sqrt

import pytest
from keyed_rows import keyed_rows
from screw_thread_lib import Assembly
from screw_thread_lib.data import ASME_UN_2A2B_dict

from holesched.standards import threads
from holesched.standards.strength import (
    BOTH_THREADS,
    SCREW_THREAD,
    SHEAR_TO_TENSILE,
    TAPPED_THREAD,
    least_engagement,
    mating_screw,
    needed_engagement,
    screw_2a,
    screw_6g,
    screw_shear_area_mm2,
    screw_tensile_mpa,
    stress_area_inch_mm2,
    stress_area_mm2,
    tapped_shear_area_mm2,
)
from holesched.standards.threads import ThreadGeometry
from holesched.units import MM_PER_INCH


def geometry_of(text: str, unit: str = "mm") -> ThreadGeometry:
    found = threads.recognise(text, 0, unit)
    assert found is not None
    spec = threads.complete(found[0]).spec
    assert spec is not None
    return threads.geometry(spec)


@pytest.mark.parametrize(
    ("nominal_mm", "pitch_mm", "printed"),
    [
        *((3, 0.5, "5.03"), (4, 0.7, "8.78"), (5, 0.8, "14.2"), (6, 1, "20.1"), (8, 1.25, "36.6")),
        *((10, 1.5, "58.0"), (12, 1.75, "84.3"), (16, 2, "157"), (20, 2.5, "245"), (24, 3, "353")),
    ],
)
def test_metric_stress_areas(nominal_mm: float, pitch_mm: float, printed: str) -> None:
    """ISO 898-1, nominal stress areas, from memory: three figures as printed (352.5 is printed 353)."""
    digits = len(printed.partition(".")[2])
    assert abs(stress_area_mm2(nominal_mm, pitch_mm) - float(printed)) <= 0.5 * 10**-digits + 0.003


CHART_ROUNDING = {
    *("#1-64 UNC", "#3-48 UNC", "#4-40 UNC", "#2-64 UNF", "#4-48 UNF", "#6-40 UNF", "#8-36 UNF"),
}
"""Rows whose printed last figure is one (at #8-36 one and a quarter) higher than the formula's; see DISAGREEMENTS.md."""


def test_unified_stress_areas() -> None:
    """ASME B1.1, 0.7854 (D - 0.9743/n)^2 square inches, at the printed number of figures."""
    rows = keyed_rows("stress_areas_unified.csv")
    differing = set()
    for row in rows:
        size, _, tpi = row["inputs"].rsplit(" ", 1)[0].rpartition("-")
        inch = 0.060 + 0.013 * int(size[1:]) if size.startswith("#") else sum(_fraction(part) for part in size.split())
        area_in2 = stress_area_inch_mm2(inch * MM_PER_INCH, float(tpi)) / MM_PER_INCH**2
        digits = len(row["published"].partition(".")[2])
        if round(area_in2, digits) != float(row["published"]):
            differing.add(row["inputs"])
            assert 0 < float(row["published"]) - area_in2 < 1.27 * 10**-digits, row
    assert differing == CHART_ROUNDING
    assert len(rows) == 29


def _fraction(text: str) -> float:
    over, _, under = text.partition("/")
    return int(over) / int(under or 1)


def test_unified_2a_screw_recalled() -> None:
    """ASME B1.1, 1/4-20 UNC-2A, from memory: major 0.2408 min, pitch diameter 0.2127 min (inch)."""
    screw = screw_2a(6.35, 20)
    assert round(screw.major_min_mm / MM_PER_INCH, 4) == 0.2408
    assert round(screw.pitch_min_mm / MM_PER_INCH, 4) == 0.2127


def test_metric_6g_screw() -> None:
    """ASME B1.13M, M10-6g: major 9.732 min, pitch diameter 8.862 min (metric_6g_limits.csv; more in test_iso965.py)."""
    screw = screw_6g(10, 1.5)
    assert (screw.major_min_mm, screw.pitch_min_mm) == (9.732, 8.862)


def sheared_width(pitch_mm: float, pitch_diameter_mm: float, at_diameter_mm: float, external: bool) -> float:
    """Width of thread metal at a diameter, measured on a 60 degree profile sampled along one pitch.

    The profile is a sawtooth of height H whose flanks meet the pitch line at quarter pitches; metal of a screw lies inside
    it, metal of a tapped hole outside.
    """
    height = pitch_mm * sqrt(3) / 2
    samples = 200_000
    inside = 0
    for index in range(samples):
        x = (index + 0.5) / samples  # along one pitch
        crest = height / 2 - abs(2 * x - 1) * height  # radial height of the flank over the pitch line
        flank_diameter = pitch_diameter_mm + 2 * crest
        inside += (at_diameter_mm <= flank_diameter) if external else (at_diameter_mm >= flank_diameter)
    return pitch_mm * inside / samples


def test_shear_areas_are_the_geometry() -> None:
    geometry = geometry_of("M10x1.5-6H")
    screw = screw_6g(10, 1.5)
    assert geometry.minor.max_mm is not None
    assert geometry.pitch.max_mm is not None
    engaged_mm = 12.0
    turns = engaged_mm / 1.5
    width = sheared_width(1.5, screw.pitch_min_mm, geometry.minor.max_mm, external=True)
    measured = turns * pi * geometry.minor.max_mm * width
    assert abs(screw_shear_area_mm2(screw, geometry.minor.max_mm, engaged_mm) / measured - 1) < 1e-4
    width = sheared_width(1.5, geometry.pitch.max_mm, screw.major_min_mm, external=False)
    measured = turns * pi * screw.major_min_mm * width
    assert abs(tapped_shear_area_mm2(screw, geometry.pitch.max_mm, engaged_mm) / measured - 1) < 1e-4


@pytest.mark.parametrize("size", ASME_UN_2A2B_dict)
def test_formulas_of_fed_std_h28_2b(size: str) -> None:
    """FED-STD-H28/2B (1991), Table II.B.1, as screw-thread-lib computes it from ASME B1.1-2019: both shear areas (2a) and
    (4a), and the length of engagement by (13), (14) and (16), in equal, harder and ever weaker work. Its stress area (1b)
    has 9/16 sqrt 3 = 0.974279 where ASME B1.1 prints 0.9743, a hundred-thousandth more."""
    geometry = geometry_of(f"{size} {ASME_UN_2A2B_dict[size]['series']}-2B", "in")
    spec = geometry.spec
    assert spec.tpi is not None
    assert geometry.minor.max_mm is not None
    assert geometry.pitch.max_mm is not None
    screw = screw_2a(spec.nominal.mm, spec.tpi, spec.series)
    theirs = Assembly.from_database("ASME_UN_2A2B", size, UTSs=800.0, UTSn=800.0)
    assert screw_shear_area_mm2(screw, geometry.minor.max_mm, 1.0) == pytest.approx(
        theirs.ASs_min_FEDSTD_4a() * MM_PER_INCH, rel=1e-9
    )
    assert tapped_shear_area_mm2(screw, geometry.pitch.max_mm, 1.0) == pytest.approx(
        theirs.ASn_min_FEDSTD_2a() * MM_PER_INCH, rel=1e-9
    )
    governed = []
    for work_tensile in (1200.0, 800.0, 760.0, 700.0, 600.0, 500.0, 310.0, 150.0):
        theirs.UTSn = work_tensile
        ours = least_engagement(geometry, screw, 800.0, work_tensile)
        assert ours.least_mm == pytest.approx(theirs.LEr_FEDSTD(As_eqn="1b") * MM_PER_INCH, rel=2e-5), work_tensile
        governed.append(ours.governed_by)
    assert governed == sorted(governed, key=[SCREW_THREAD, BOTH_THREADS, TAPPED_THREAD].index)
    assert set(governed) == {SCREW_THREAD, BOTH_THREADS, TAPPED_THREAD}


def test_least_engagement_breaks_the_screw_first() -> None:
    """At the least length, with equal materials, the screw's thread area is twice the stress area (FED-STD-H28/2B)."""
    geometry = geometry_of("M10x1.5-6H")
    screw = screw_6g(10, 1.5)
    equal = least_engagement(geometry, screw, 800, 800)
    assert geometry.minor.max_mm is not None
    assert abs(screw_shear_area_mm2(screw, geometry.minor.max_mm, equal.least_mm) - 2 * screw.stress_area_mm2) < 1e-6
    assert equal.governed_by == SCREW_THREAD
    assert 0.5 * 10 < equal.least_mm < 0.8 * 10  # a standard nut is 0.8 D; it must be enough for equal materials


def test_least_engagement_in_soft_work() -> None:
    """In weak work the tapped thread governs and the length grows in proportion; its strength then equals the screw's."""
    geometry = geometry_of("M8x1.25-6H")
    screw = screw_6g(8, 1.25)
    soft = least_engagement(geometry, screw, screw_tensile_mpa("8.8", 8), 310)  # 6061-T6: 310 MPa tensile, from memory
    softer = least_engagement(geometry, screw, screw_tensile_mpa("8.8", 8), 155)
    assert soft.governed_by == TAPPED_THREAD
    assert abs(softer.least_mm / soft.least_mm - 2) < 1e-9
    assert geometry.pitch.max_mm is not None
    strips_n = tapped_shear_area_mm2(screw, geometry.pitch.max_mm, soft.least_mm) * 310 * SHEAR_TO_TENSILE
    assert strips_n > soft.screw_load_n  # the screw breaks first
    assert 0.9 * 8 < soft.least_mm < 2 * 8  # common practice: 1.5 to 2 D in aluminium


def test_inch_engagement() -> None:
    geometry = geometry_of("1/4-20 UNC-2B", "in")
    needed = least_engagement(geometry, screw_2a(6.35, 20), screw_tensile_mpa("SAE 5", 6.35), 400)
    assert 0.5 * 6.35 < needed.least_mm < 2 * 6.35
    with pytest.raises(KeyError, match="grade 99"):
        screw_tensile_mpa("99", 6.35)
    with pytest.raises(ValueError, match="more than nothing"):
        least_engagement(geometry, screw_2a(6.35, 20), 800, 0)


@pytest.mark.parametrize(
    ("text", "grade", "low_d", "high_d"),
    [
        ("M10-6H", "8.8", 0.5, 0.9),
        ("M10-6H", "12.9", 0.5, 1.3),
        ("1/4-20 UNC-2B", "SAE 5", 0.5, 1.2),
        ("3/8-24 UNF-3B", "A574", 0.5, 1.5),
    ],
)
def test_needed_engagement_for_a_grade(text: str, grade: str, low_d: float, high_d: float) -> None:
    """Steel work of 600 MPa: about a diameter (common practice, no source); a stronger screw never needs less."""
    geometry = geometry_of(text, "in")
    needed = needed_engagement(geometry, grade, 600)
    assert low_d < needed.least_mm / geometry.spec.nominal.mm < high_d
    assert needed == least_engagement(
        geometry, mating_screw(geometry), screw_tensile_mpa(grade, geometry.spec.nominal.mm), 600
    )


@pytest.mark.parametrize("text", ["G 1/4", "1/4 NPT", "M8 STI", "MJ6", "1/4-28 UNJF", "2BA", "Tr20x4"])
def test_threads_whose_screw_is_not_held(text: str) -> None:
    with pytest.raises(ValueError, match="is held here"):
        mating_screw(geometry_of(text))
