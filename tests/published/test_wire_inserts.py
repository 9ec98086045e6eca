"""Holes for wire inserts.

Sources: ASME B18.29.2M-2005, Example 3 as printed in Machinery's Handbook 31st ed. p. 1746 (M8x1.25, insert 12.0: "23.5
deep"); ASME B18.29.8M-2005, notes on dimension G and T, in a public copy; ASME B18.29.1-2010, clause 2.1.1 (1/4-20 UNC-2B
STI thread 0.430 min. depth), in a public copy. The diameters were calculated from the formulas, not printed.
"""

from __future__ import annotations

import math

import pytest
from written_threads import shape_of, spec_of

from holesched.standards.threads.insert_depths import (
    LENGTHS,
    Tap,
    countersink_mm,
    drilling_depth_mm,
    full_thread_mm,
    insert_depths,
    insert_length_mm,
)
from holesched.units import MM_PER_INCH


def test_drilling_depth_of_the_standards_example() -> None:
    assert drilling_depth_mm(8, 1.25, 12, Tap.PLUG) == 23.5
    assert drilling_depth_mm(8, 1.25, 12, Tap.BOTTOMING) == 17.0  # by the same note; not printed


def test_all_depths_of_one_insert() -> None:
    """The same example, 1.5 D in M8x1.25, asked as a whole: 12 mm insert, 13.25 full thread, 23.5 drilled."""
    depths = insert_depths(spec_of("M8x1.25 STI"), 1.5)
    assert (depths.insert_mm, depths.full_thread_mm, depths.drill_least_mm) == (12, 13.25, 23.5)
    assert depths.countersink.min_mm == shape_of("M8x1.25 STI").major.min_mm
    assert depths.countersink_deg == 120
    assert insert_depths(spec_of("1/4-20 UNC-2B STI"), 2, Tap.BOTTOMING).drill_least_mm == pytest.approx(12.7 + 4 * 1.27)
    with pytest.raises(KeyError):
        insert_depths(spec_of("M8x1.25"), 1.5)
    with pytest.raises(ValueError, match=r"1\.25D"):
        insert_depths(spec_of("M8x1.25 STI"), 1.25)


def test_larger_plug_taps_have_no_male_centre() -> None:
    """B18.29.8M: above 8 mm, insert length + 4 P + 1 P + 1 P."""
    assert drilling_depth_mm(10, 1.5, 15, Tap.PLUG) == 15 + 6 * 1.5


def test_full_thread_of_the_inch_example() -> None:
    """1 1/2 D insert in 1/4-20: 0.375 + 0.050, printed 0.430 after rounding up to a hundredth."""
    depth = full_thread_mm(insert_length_mm(0.25 * MM_PER_INCH, 1.5), MM_PER_INCH / 20) / MM_PER_INCH
    assert math.ceil(depth * 100 - 1e-9) / 100 == 0.43


@pytest.mark.parametrize(
    ("text", "minor", "pitch", "major"),
    [
        ("M6 STI", 6.217, 6.650, 7.299),
        ("M8 STI", 8.271, 8.812, 9.624),
        ("M10 STI", 10.325, 10.974, 11.949),
    ],
)
def test_sizes_by_formula(text: str, minor: float, pitch: float, major: float) -> None:
    """D + 0.2165 P, D + 0.6495 P, D + 1.2990 P, worked by hand from the formulas."""
    shape = shape_of(text)
    assert (shape.minor.min_mm, shape.pitch.min_mm, shape.major.min_mm) == (minor, pitch, major)


def test_tolerances_are_those_of_the_plain_thread() -> None:
    """ASME B18.29.1 clause 2: the hole is in accordance with ASME B1.1, except that diameters are larger."""
    for insert, plain in (("M8x1.25-6H STI", "M8x1.25-6H"), ("1/4-20 UNC-2B STI", "1/4-20 UNC-2B")):
        larger, smaller = shape_of(insert).pitch, shape_of(plain).pitch
        assert larger.max_mm is not None
        assert smaller.max_mm is not None
        assert larger.max_mm - larger.min_mm == pytest.approx(smaller.max_mm - smaller.min_mm, abs=1e-9)


def test_countersink_is_that_of_the_insert() -> None:
    entrance = countersink_mm(8, 1.25)
    assert entrance.min_mm == 9.624
    assert entrance.max_mm is not None
    assert entrance.max_mm > entrance.min_mm


def test_lengths() -> None:
    assert [insert_length_mm(8, length) for length in LENGTHS] == [8, 12, 16, 20, 24]
    with pytest.raises(ValueError, match=r"1D, 1\.5D, 2D, 2\.5D, 3D"):
        insert_length_mm(8, 1.25)
