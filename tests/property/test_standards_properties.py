"""Properties of the standards' tables: neighbours, windows and nesting limits."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from holesched.standards.drill_sizes import by_label, in_window, nearest, next_down, next_up, oversize, series
from holesched.standards.fits import hole_deviations_um, hole_limits, reamer_limits
from holesched.standards.heads import FITS, clearance, fastener_hole
from holesched.standards.sizes import Size
from holesched.tables import table
from holesched.units import MM_PER_INCH

diameters = st.floats(0.1, 110, allow_nan=False)
chosen = st.sampled_from([("metric",), ("inch",), ("metric", "inch"), ("metric-preferred",), ("letter",)])
nominals = st.floats(0.05, 500, allow_nan=False).map(lambda mm: round(mm, 3))
grades = st.integers(5, 13)


@given(diameters, chosen)
def test_next_up_is_larger_and_next_down_smaller(mm: float, names: tuple[str, ...]) -> None:
    sizes = series(*names)
    up, down = next_up(mm, sizes), next_down(mm, sizes)
    assert up is None or up.mm > mm
    assert down is None or down.mm < mm
    assert not [size for size in sizes if (down.mm if down else 0) < size.mm < (up.mm if up else 1e9) and size.mm != mm]


@given(diameters, diameters, chosen)
def test_window_holds_exactly_what_lies_in_it(one: float, other: float, names: tuple[str, ...]) -> None:
    low, high = sorted((one, other))
    inside = in_window(low, high, series(*names))
    assert set(inside) == {size for size in series(*names) if low <= size.mm <= high}
    assert list(inside) == sorted(inside, key=lambda size: (size.mm, size.label))


@given(diameters, chosen)
def test_nearest_is_a_neighbour(mm: float, names: tuple[str, ...]) -> None:
    sizes = series(*names)
    assert abs(nearest(mm, sizes).mm - mm) <= min(abs(size.mm - mm) for size in sizes) + 1e-9


@given(st.text(max_size=12))
def test_any_text_is_a_drill_or_none(text: str) -> None:
    size = by_label(text)
    assert size is None or size.mm > 0


WORDS = [
    "M8",
    "M",
    "8",
    "#",
    "10",
    "-32",
    "1/4",
    "-20",
    "1 1/8",
    "1/0",
    '"',
    "SHCS",
    "FLAT HEAD",
    "FHCS",
    "DIN 912",
    "FOR",
    ",",
]


@given(st.one_of(st.text(max_size=30), st.lists(st.sampled_from(WORDS), max_size=6).map(" ".join)))
def test_any_text_is_a_fastener_or_none(text: str) -> None:
    hole = fastener_hole(text)
    assert hole is None or hole.nominal.mm > 0


@given(st.sampled_from(series("inch")))
def test_a_drill_by_its_name_and_by_its_inches(size: Size) -> None:
    """The same drill whether a drawing gives its name, its decimal inches or (to the micrometre) its millimetres."""
    inch = f"{size.mm / MM_PER_INCH:.6f}".rstrip("0").rstrip(".")
    named, decimal = by_label(size.label), by_label(f"{inch} in")
    assert named == size
    assert decimal is not None
    assert abs(decimal.mm - size.mm) < 1e-6
    assert abs(nearest(round(size.mm, 6), series("inch")).mm - size.mm) < 1e-9


@given(st.integers(10, 19000), st.sampled_from(["H6", "H7", "F8", "P7", "JS9", "N7", "RC4", "LC3"]))
@example(120, "RC4")
def test_a_fit_by_inches_and_by_millimetres(thousandths: int, zone: str) -> None:
    """Ø.2500 H7 in inches and Ø6.35 H7 are one hole."""
    inch = thousandths / 1000
    try:
        one = hole_limits(inch * MM_PER_INCH, zone)
    except ValueError:
        with pytest.raises(ValueError, match=r"\w"):
            hole_limits(round(inch * MM_PER_INCH, 6), zone)
        return
    other = hole_limits(round(inch * MM_PER_INCH, 6), zone)
    assert other.max_mm is not None
    assert one.max_mm is not None
    assert abs(one.min_mm - other.min_mm) < 2e-6
    assert abs(one.max_mm - other.max_mm) < 2e-6


@given(diameters, diameters, st.sampled_from(["HSS", "HSS-Co", "carbide"]))
def test_oversize_grows_with_diameter(one: float, other: float, material: str) -> None:
    small, large = sorted((one, other))
    assert oversize(small, material).expected_mm <= oversize(large, material).expected_mm
    assert 0 < oversize(small, material).expected_mm < oversize(small, material).worst_mm
    assert oversize(small, "carbide").worst_mm <= oversize(small, "HSS").worst_mm


@given(nominals, grades)
def test_grades_nest(nominal_mm: float, grade: int) -> None:
    """A finer grade lies inside the next coarser one: H, JS, and every letter whose deviation does not depend on grade."""
    for letters in ("H", "JS", "D", "E", "F", "G"):
        low, high = hole_deviations_um(nominal_mm, f"{letters}{grade}")
        wider_low, wider_high = hole_deviations_um(nominal_mm, f"{letters}{grade + 1}")
        assert wider_low <= low < high < wider_high


@given(nominals, st.integers(6, 8))
def test_letters_follow_each_other(nominal_mm: float, grade: int) -> None:
    """From A to ZC the zone moves from above the nominal size to below it."""
    middles = []
    for letters in ("D", "E", "F", "G", "H", "JS", "K", "M", "N", "P", "R", "S", "U"):
        low, high = hole_deviations_um(nominal_mm, f"{letters}{grade}")
        assert low < high
        middles.append(low + high)
    assert middles == sorted(middles, reverse=True)


@given(st.floats(1, 30).map(lambda mm: round(mm, 2)), st.sampled_from(["H6", "H7", "H8", "F7", "P7", "JS7", "N7"]))
def test_a_reamer_lies_inside_its_hole(nominal_mm: float, zone: str) -> None:
    hole = hole_limits(nominal_mm, zone)
    reamer = reamer_limits(hole)
    assert hole.max_mm is not None
    assert reamer.max_mm is not None
    assert hole.min_mm <= reamer.min_mm < reamer.max_mm <= hole.max_mm


def test_fits_of_clearance_holes_follow_each_other() -> None:
    for name in ("head_clearance_metric.csv", "head_clearance_inch.csv"):
        for row in table(name).rows:
            holes = [clearance(row["size"], fit)[0].mm for fit in FITS]
            assert holes == sorted(holes), row
            read = fastener_hole(row["size"] if "/" in row["size"] or row["size"][0] in "M#" else f"{row['size']} in")
            assert read is not None
            assert read.nominal.mm < holes[0], row
