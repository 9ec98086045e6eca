"""Zones that are refused, and why; what a reamer leaves."""

from __future__ import annotations

import pytest

from holesched.notes import Standing
from holesched.standards.fits import (
    cite,
    hole_limits,
    largest_reamer_mm,
    read_zone,
    ream_allowance,
    ream_cite,
    reamer_limits,
)
from holesched.standards.sizes import Limits


@pytest.mark.parametrize(
    ("nominal_mm", "zone", "sentence"),
    [
        (10, "h7", "shaft's zone"),
        (10, "js6", "shaft's zone"),
        (10, "H7/g6", "names hole and shaft together"),
        (10, "Q7", "no tolerance zone"),
        (10, "H", "no tolerance zone"),
        (10, "H77", "outside 5 to 16"),
        (10, "H2", "outside 5 to 16"),
        (10, "J9", "J9 is not standardised"),
        (10, "K9", "not standardised above 3 mm"),
        (1, "A11", "not used up to 1 mm"),
        (1, "N9", "not used up to 1 mm"),
        (20, "T7", "T7 is not standardised for 20 mm"),
        (60, "CD8", "CD8 is not standardised for 60 mm"),
        (501, "H7", "outside ISO 286"),
        (0, "H7", "outside ISO 286"),
        (10, "RC12", "no class of fit"),
        (2, "RC1", "not in our table"),
        (600, "RC4", "outside the table"),
    ],
)
def test_refused(nominal_mm: float, zone: str, sentence: str) -> None:
    with pytest.raises(ValueError, match=sentence):
        hole_limits(nominal_mm, zone)


@pytest.mark.parametrize(
    ("written", "read"), [("H7", ("H", 7)), (" Js9 ", ("JS", 9)), ("JS9", ("JS", 9)), ("Zc10", ("ZC", 10))]
)
def test_spellings(written: str, read: tuple[str, int]) -> None:
    assert read_zone(written) == read


def test_sources() -> None:
    assert str(cite("H7")) == "ISO 286-1:2010, Table 1"
    assert str(cite("N9")) == "ISO 286-1:2010, Tables 1, 2 and 3"
    assert cite("RC4").standing is Standing.FROM_MEMORY
    assert ream_cite().standing is Standing.COMMON_PRACTICE


def test_reaming() -> None:
    assert ream_allowance(8.0) == (0.15, 0.20)
    assert ream_allowance(10.0) == (0.15, 0.20)
    assert ream_allowance(10.01) == (0.20, 0.30)
    assert largest_reamer_mm() == 30
    with pytest.raises(ValueError, match="bored here, not reamed"):
        ream_allowance(30.5)
    with pytest.raises(ValueError, match="without upper limit"):
        reamer_limits(Limits(10.0, None))
