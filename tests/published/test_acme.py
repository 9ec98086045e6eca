"""Acme threads.

Sources: acme_sizes_open_data.csv (an open CAD library); Machinery's Handbook 27th ed. (ASME B1.5-1988) in public copies:
p. 1837, Table 8a, centralizing internal threads have pitch diameter at least D - P/2 and minor diameter at least D - 0.9 P;
Table 12, acme_centralizing_handbook.csv; p. 1827 and Table 3, acme_stress_areas_handbook.csv; pp. 1827 and 1843, how threads
are designated. The limits of 3/4-6 ACME-2G are from memory of the handbook's table.
"""

from __future__ import annotations

import math

import pytest
from keyed_rows import keyed_rows
from written_threads import shape_of, spec_of

from holesched.standards.threads import acme
from holesched.tables import table
from holesched.units import MM_PER_INCH


def test_sizes() -> None:
    rows = keyed_rows("acme_sizes_open_data.csv")
    assert len(rows) == 14
    assert len(acme.sizes()) == 23
    for row in rows:
        assert acme.sizes()[row["size"]] == float(row["threads_per_inch"])


@pytest.mark.parametrize("size", list(acme.sizes()))
@pytest.mark.parametrize("thread_class", ["2C", "3C", "4C"])
def test_centralizing_formulas(size: str, thread_class: str) -> None:
    shape = shape_of(f"{size}-{acme.sizes()[size]:g} ACME-{thread_class}")
    d, p = shape.spec.nominal.mm / MM_PER_INCH, 1 / acme.sizes()[size]
    assert round(shape.pitch.min_mm / MM_PER_INCH, 6) == round(d - p / 2, 4)
    assert round(shape.minor.min_mm / MM_PER_INCH, 6) == round(d - 0.9 * p, 4)


@pytest.mark.parametrize("thread_class", ["2C", "3C", "4C"])
def test_centralizing_allowances_and_tolerances(thread_class: str) -> None:
    """Table 12, to the print's four places."""
    rows = keyed_rows("acme_centralizing_handbook.csv")
    assert len(rows) == 7
    for row in rows:
        shape = shape_of(f"{row['size']}-{row['threads_per_inch']} ACME-{thread_class}")
        major, minor = shape.major, shape.minor
        least, most = major.min_mm or 0, major.max_mm or 0
        added = (least - shape.spec.nominal.mm, most - least, (minor.max_mm or 0) - (minor.min_mm or 0))
        printed = (row["major_allowance"], row[f"major_tolerance_{thread_class}"], row["minor_tolerance"])
        assert [round(mm / MM_PER_INCH, 4) for mm in added] == [float(value) for value in printed], row


def test_stress_areas_hold_the_pitch_tolerances_of_3g() -> None:
    """pi/16 (d2 min + d1 min)^2 with d2 min = D - P/2 - 0.006 sqrt D - T and d1 min = D - P - 0.02 or 0.01 - 1.5 T.

    The print does not say where it rounds: one unit of its last place is allowed. Another T by 0.0003 in would show.
    """
    rows = keyed_rows("acme_stress_areas_handbook.csv")
    assert len(rows) == 9
    for row in rows:
        spec = spec_of(f"{row['size']}-{row['threads_per_inch']} ACME-3G")
        d, p = spec.nominal.mm / MM_PER_INCH, 1 / float(row["threads_per_inch"])
        tolerance = acme.pitch_tolerance_in(d, p, "3G")
        pitch_least = float(row["pitch_basic"]) - 0.006 * math.sqrt(d) - tolerance
        minor_least = float(row["minor_basic"]) - (0.02 if p >= 0.1 else 0.01) - 1.5 * tolerance
        area = math.pi / 16 * (pitch_least + minor_least) ** 2
        assert abs(area - float(row["stress_area"])) < 0.00015, row


@pytest.mark.parametrize(
    ("written", "name", "starts"),
    [
        ("1.750-4 ACME-2G", "1 3/4-4 ACME-2G", 1),
        ("1.750-4 ACME-2G-LH", "1 3/4-4 ACME-2G-LH", 1),
        ("1.750-6-ACME-4C", "1 3/4-6 ACME-4C", 1),
        ("1.750-6-ACME-4C-LH", "1 3/4-6 ACME-4C-LH", 1),
        ("2.875-0.4P-0.8L-ACME-3C (Two Start)", "2 7/8-2.5 ACME-3C 2 START", 2),
        ("2.500-0.3333P-0.6667L-ACME-4C (Two Start)", "2 1/2-3 ACME-4C 2 START", 2),
    ],
)
def test_designations_of_the_handbook(written: str, name: str, starts: int) -> None:
    spec = spec_of(written)
    assert (spec.designation, spec.starts) == (name, starts)


def test_limits_from_memory() -> None:
    """3/4-6 ACME-2G, internal, from memory of Machinery's Handbook: inches."""
    shape = shape_of("3/4-6 ACME-2G")
    got = [shape.major.min_mm, shape.major.max_mm, shape.pitch.min_mm, shape.pitch.max_mm, shape.minor.min_mm]
    assert [round((value or 0) / MM_PER_INCH, 5) for value in got] == [0.77, 0.79, 0.6667, 0.6841, 0.5833]
    assert shape.minor.max_mm is not None
    assert round(shape.minor.max_mm / MM_PER_INCH, 4) == 0.5916


def test_stub_limits_from_memory() -> None:
    """1/2-10 of ASME B1.8 from memory: minor 0.4400 to 0.4450, pitch from 0.4700, major from 0.5200 in. The tolerance of the
    pitch diameter is that of class 2G, the tooth 0.3 P high."""
    shape = shape_of("1/2-10 STUB ACME-2G")
    assert [round(mm / MM_PER_INCH, 4) for mm in (shape.minor.min_mm, shape.minor.max_mm or 0)] == [0.44, 0.445]
    assert [round(mm / MM_PER_INCH, 4) for mm in (shape.pitch.min_mm, shape.major.min_mm)] == [0.47, 0.52]
    plain = shape_of("1/2-10 ACME-2G")
    assert shape.pitch.max_mm is not None
    assert plain.pitch.max_mm is not None
    assert shape.pitch.max_mm - shape.pitch.min_mm == pytest.approx(plain.pitch.max_mm - plain.pitch.min_mm)
    assert shape.basic_major_mm - shape.basic_minor_mm == pytest.approx(0.6 * shape.spec.pitch_mm)


def test_pitch_tolerance_of_3g_as_an_open_program_has_it() -> None:
    """0.014344 in for 5-3 ACME-3G with two starts (an open program for gauges, Northewind TrGage @d3320fb0): the formula
    with the single start's pitch, before it is rounded."""
    row = next(row for row in table("thread_acme_tolerances.csv").rows if row["class"] == "3G")
    unrounded = float(row["pitch_factor"]) * math.sqrt(1 / 3) + float(row["diameter_factor"]) * math.sqrt(5)
    assert round(unrounded, 6) == 0.014344
    assert acme.pitch_tolerance_in(5.0, 1 / 3, "3G") == 0.0143
