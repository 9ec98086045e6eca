"""Plain plugs for holes with a zone of ISO 286: GB/T 1957-2006, which keeps them inside the hole's limits.

Sources: the worked example for 30 F7 in course slides on GB/T 1957 (Chapter 6, example 6.1, a public copy); GOST 24853-81,
grades 6 and 7, as a school text prints it (Korotkov, metrology and standardisation, 2012, Table 3.4): another system.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from holesched.standards.fits import hole_limits
from holesched.standards.gauges import Gauge, gauges_for_plain
from holesched.tables import table

ROWS = table("gauge_plain_gb1957.csv").rows
GRADES = [str(grade) for grade in range(6, 14)]


def _plugs(nominal_mm: float, zone: str) -> tuple[Gauge, Gauge]:
    go, not_go = gauges_for_plain(hole_limits(nominal_mm, zone), f"{nominal_mm:g} {zone}", nominal_mm=nominal_mm)
    return go, not_go


def test_tolerances_of_the_workpiece_are_those_of_iso_286() -> None:
    """The table names each grade by its tolerance: a slip in keying a step or a row would show."""
    steps = {(row["over_mm"], row["up_to_mm"]): row for row in table("fit_grades.csv").rows}
    assert len(ROWS) == 13 * len(GRADES)
    for row in ROWS:
        assert float(row["tolerance_um"]) == float(steps[row["over_mm"], row["up_to_mm"]][f"IT{row['grade']}"])


def test_the_table_grows_with_size_and_grade() -> None:
    for column in ("t1_um", "z1_um"):
        by_grade = {g: [float(row[column]) for row in ROWS if row["grade"] == g] for g in GRADES}
        for values in by_grade.values():
            assert values == sorted(values)
        for finer, coarser in pairwise(GRADES):
            assert all(a <= b for a, b in zip(by_grade[finer], by_grade[coarser], strict=True))


def test_worked_example_30_f7() -> None:
    """Go: EI + Z1 - T1/2 = 20 + 3.4 - 1.2 = 22.2 um over 30 mm, as printed; worn at the hole's least size."""
    go, not_go = _plugs(30.0, "F7")
    assert go.tolerance_mm == pytest.approx((30.0222, 30.0246), abs=1e-9)
    assert go.worn_mm == pytest.approx(30.020, abs=1e-9)
    assert not_go.tolerance_mm == pytest.approx((30.0386, 30.041), abs=1e-9)


def test_gost_passes_a_little_more_than_the_limits() -> None:
    """30 H7 by GOST 24853-81 as printed, um: Z 3, Y 3, H 4. Go 3 +- 2, worn at -3; not-go 21 +- 2: a hole of 29.997 or
    30.023 can pass. By GB/T 1957 none outside 0 to 21 can."""
    shift, beyond, width, most = 3, 3, 4, 21
    go, not_go = _plugs(30.0, "H7")
    assert not_go.tolerance_mm == pytest.approx((30.0186, 30.021), abs=1e-9)
    assert go.tolerance_mm == pytest.approx((30.0022, 30.0046), abs=1e-9)
    assert go.worn_mm == 30.0
    assert 30 - beyond / 1000 < go.worn_mm
    assert not_go.tolerance_mm is not None
    assert not_go.tolerance_mm[1] < 30 + (most + width / 2) / 1000
    assert go.tolerance_mm is not None
    assert 30 + (shift - width / 2) / 1000 < go.tolerance_mm[0] < go.tolerance_mm[1] < 30 + (shift + width / 2) / 1000
