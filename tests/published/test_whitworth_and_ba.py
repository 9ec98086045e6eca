"""Whitworth threads (BS 84) and BA threads (BS 93).

Sources: whitworth_open_data.csv (an open CAD program's BS 84 sizes and core holes); ba_handbook.csv (Machinery's Handbook
31st ed. p. 2115, BS 93:1951); tolerance formulas of BS 93:2008 Annex B as its text stands in a public copy.
"""

from __future__ import annotations

import pytest
from keyed_rows import keyed_rows
from written_threads import shape_of

from holesched.standards.threads import ba, whitworth
from holesched.units import MM_PER_INCH

CORE_HOLES_OUTSIDE: set[tuple[str, str]] = set()
"""Charted core holes outside the minor diameter's limits."""


def test_whitworth_sizes_and_core_holes() -> None:
    rows = keyed_rows("whitworth_open_data.csv")
    assert len(rows) == 60
    outside = set()
    for row in rows:
        shape = shape_of(f"{row['size']} {row['series']}")
        assert abs(shape.basic_major_mm - float(row["diameter"])) < 0.008, row  # that program converts by 25.401 above 1/2
        assert abs(shape.spec.pitch_mm - float(row["pitch"])) < 0.0015, row
        assert shape.minor.max_mm is not None
        if row["core_hole"] and not shape.minor.min_mm <= float(row["core_hole"]) <= shape.minor.max_mm:
            outside.add((row["series"], row["size"]))
    assert outside == CORE_HOLES_OUTSIDE


def test_whitworth_quarter_inch_from_memory() -> None:
    """1/4-20 BSW nut: effective at least 0.2180, minor 0.1860 to 0.2030 (BS 84 table, from memory)."""
    shape = shape_of("1/4-20 BSW")
    assert shape.minor.max_mm is not None
    got = (shape.pitch.min_mm, shape.minor.min_mm, shape.minor.max_mm)
    assert tuple(round(value / MM_PER_INCH, 5) for value in got) == (0.2180, 0.1860, 0.2030)


@pytest.mark.parametrize(("tpi", "extra"), [(40, 0.004), (26, 0.004), (24, 0.005), (22, 0.005), (20, 0.007), (8, 0.007)])
def test_whitworth_minor_tolerance(tpi: float, extra: float) -> None:
    """BS 84:2007 tolerance formulas, as an open summary of the standard gives them."""
    assert whitworth.minor_tolerance_in(tpi) == pytest.approx(0.2 / tpi + extra)


def test_ba_basic_sizes_and_tolerances() -> None:
    rows = keyed_rows("ba_handbook.csv")
    assert len(rows) == len(ba.rows()) == 17
    for row in rows:
        shape, p = shape_of(f"{row['number']}BA"), float(row["pitch"])
        assert shape.spec.pitch_mm == p
        basic = (shape.basic_major_mm, shape.basic_pitch_mm, shape.basic_minor_mm)
        assert basic == (float(row["major"]), float(row["effective"]), float(row["minor"]))
        assert basic[0] - float(row["depth"]) == pytest.approx(basic[1], abs=1e-9)
        assert shape.pitch.max_mm == pytest.approx(basic[1] + 0.12 * p + 0.03, abs=0.0006)
        assert shape.minor.max_mm == pytest.approx(basic[2] + 0.375 * p, abs=0.0006)
