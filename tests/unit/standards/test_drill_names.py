"""Names of drills, neighbours in a series, and oversize."""

from __future__ import annotations

import pytest

from holesched.notes import Standing
from holesched.standards.drill_sizes import (
    SERIES,
    by_label,
    in_window,
    nearest,
    next_down,
    next_up,
    oversize,
    series,
)
from holesched.standards.sizes import Size


@pytest.mark.parametrize(
    ("written", "label"),
    [
        ("#7", "#7"),
        ("No. 7", "#7"),
        ("number 7", "#7"),
        ("F", "F"),
        ("letter f", "F"),
        ("1/4", "1/4"),
        ('1/4"', "1/4"),
        ("1-3/8", "1 3/8"),
        ("1 3/8", "1 3/8"),
        ('1"', "1 in"),
        ("1", "1"),
        ("6.8", "6.8"),
        ("6,8 mm", "6.8"),
        ("6.80", "6.8"),
        (".257", "F"),
        (".2031", "13/64"),
        (".1095", None),
        ("0.201 in", "#7"),
        (".5", "1/2"),
        ("0.5", "0.5"),
        ("7.45", "7.45"),
        ("#98", None),
        ("#0", None),
        ("6.81", None),
        ("3/0", None),
        ("17/63", None),
        ("", None),
        ("drill", None),
    ],
)
def test_names(written: str, label: str | None) -> None:
    size = by_label(written)
    assert (size.label if size else None) == label


def test_one_millimetre_is_not_one_inch() -> None:
    assert by_label("1") == Size(1.0, "1")
    assert by_label("1 in") == Size(25.4, "1 in")


def test_every_label_finds_itself() -> None:
    for size in series("metric", "metric-intermediate", "inch"):
        assert by_label(size.label) == size


def test_series() -> None:
    assert {name for name in SERIES if not series(name)} == set()
    assert set(series("metric-preferred")) < set(series("metric"))
    assert not set(series("metric-intermediate")) & set(series("metric"))
    assert set(series()) == set(series("metric", "fraction", "number", "letter"))
    with pytest.raises(KeyError, match="no drill series"):
        series("wood")


def test_neighbours() -> None:
    assert next_up(6.8, series("metric")) == Size(6.9, "6.9")
    assert next_down(6.8, series("metric")) == Size(6.75, "6.75")
    assert next_down(0.2, series("metric")) is None
    assert next_up(100.0, series("metric")) is None
    assert nearest(6.36).mm == 6.35
    assert [size.label for size in in_window(5.0, 5.2, series("inch"))] == ["#8", "#7", "13/64", "#6"]


def test_oversize_grows_with_the_drill_and_the_softer_tool() -> None:
    """Common practice, no source: HSS 0.05 to 0.08 mm below 10 mm, 0.1 to 20 mm, carbide 0.02 (3 to 20 mm)."""
    assert (oversize(5.0, "HSS").expected_mm, oversize(5.0, "HSS").worst_mm) == (0.05, 0.08)
    assert oversize(9.99, "HSS").expected_mm == 0.05
    assert oversize(10.0, "HSS").expected_mm == 0.10
    assert oversize(5.0, "carbide").expected_mm == 0.02
    assert oversize(5.0, "HSS-Co", "P3") == oversize(5.0, "HSS-Co")
    assert (oversize(5.0, "HSS-Co", "N9").expected_mm, oversize(12.0, "carbide", "N9").worst_mm) == (0.0, 0.1)
    assert oversize(5.0, "HSS-Co").expected_mm == 0.05
    assert oversize(5.0, "HSS").cite.standing is Standing.COMMON_PRACTICE
    with pytest.raises(KeyError, match="No oversize is known"):
        oversize(5.0, "bronze")
    with pytest.raises(ValueError, match="does not exist"):
        oversize(0.0, "HSS")
