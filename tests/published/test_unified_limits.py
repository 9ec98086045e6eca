"""Unified internal threads against the printed limits at hand, in inches at the printed number of decimals.

Sources, keyed beside this file: unified_internal_limits.csv (public charts; ASME B1.1-2019 values of an open data set),
unified_internal_limits_recalled.csv (from memory), unified_basic_diameters.csv (public charts), unified_series.csv (an open
source file). UNJ limits: MIL-S-8879 / ASME B1.15, from memory. What disagrees is in DISAGREEMENTS.md.
"""

from __future__ import annotations

import pytest
from keyed_rows import keyed_rows

from holesched.standards import asme_b1_1, threads, unified_series
from holesched.standards.threads import ThreadGeometry
from holesched.units import MM_PER_INCH

LIMITS = ("minor_min", "minor_max", "pitch_min", "pitch_max", "major_min")
RECALLED_OTHERWISE = {("#6-32 UNC", "3B", "pitch_max"): 0.1205}
"""What we compute where recollection has another value (0.1204)."""


def resolved(designation: str) -> ThreadGeometry:
    read = threads.recognise(designation, 0, "in")
    assert read is not None, designation
    assert read[1] == len(designation), designation
    spec = threads.complete(read[0]).spec
    assert spec is not None, designation
    return threads.geometry(spec)


def inches(shape: ThreadGeometry) -> dict[str, float]:
    assert shape.minor.max_mm is not None
    assert shape.pitch.max_mm is not None
    values = (shape.minor.min_mm, shape.minor.max_mm, shape.pitch.min_mm, shape.pitch.max_mm, shape.major.min_mm)
    return {name: value / MM_PER_INCH for name, value in zip(LIMITS, values, strict=True)}


@pytest.mark.parametrize(
    ("name", "compared"), [("unified_internal_limits.csv", 32), ("unified_internal_limits_recalled.csv", 27)]
)
def test_printed_limits(name: str, compared: int) -> None:
    rows = keyed_rows(name)
    assert len(rows) == compared
    for row in rows:
        got = inches(resolved(f"{row['designation']}-{row['class']}"))
        for limit in LIMITS:
            if not row[limit]:
                continue
            expected = float(row[limit])
            other = RECALLED_OTHERWISE.get((row["designation"], row["class"], limit))
            if other is not None:
                assert other != expected
                expected = other
            assert round(got[limit], 6) == expected, (row["designation"], row["class"], limit)


def test_basic_diameters() -> None:
    """D2 = D - 0.64951905 P and D1 = D - 1.08253175 P at four decimals, 29 threads."""
    rows = keyed_rows("unified_basic_diameters.csv")
    assert len(rows) == 29
    for row in rows:
        shape = resolved(row["designation"])
        assert round(shape.basic_pitch_mm / MM_PER_INCH, 6) == float(row["basic_pitch"]), row
        assert round(shape.basic_minor_mm / MM_PER_INCH, 6) == float(row["basic_minor_internal"]), row


def test_rows_whose_editions_differ() -> None:
    """#10-24 and 1-14 class 2B: ASME B1.1-2019 rounds the largest minor diameter once, charts twice; a note says so."""
    for designation, once, twice in (("#10-24 UNC-2B", 0.155, "0.156"), ("1-14 UNS-2B", 0.938, "0.939")):
        shape = resolved(designation)
        assert round(inches(shape)["minor_max"], 6) == once
        assert any(twice in note for note in shape.notes)
    assert resolved("1/4-20 UNC-2B").notes == ()


@pytest.mark.parametrize(
    ("designation", "minor"),
    [
        ("#10-32 UNJF-3B", (0.1596, 0.1641)),
        ("1/4-28 UNJF-3B", (0.2152, 0.2190)),
        ("5/16-24 UNJF-3B", (0.2719, 0.2754)),
        ("3/8-24 UNJF-3B", (0.3344, 0.3372)),
        ("1/2-20 UNJF-3B", (0.4513, 0.4537)),
    ],
)
def test_unj_minor_diameters(designation: str, minor: tuple[float, float]) -> None:
    """MIL-S-8879 / ASME B1.15 table of limits, from memory."""
    got = inches(resolved(designation))
    assert (round(got["minor_min"], 6), round(got["minor_max"], 6)) == minor
    plain = inches(resolved(designation.replace("UNJ", "UN")))
    assert (got["pitch_min"], got["pitch_max"]) == (plain["pitch_min"], plain["pitch_max"])


def test_series_of_open_data() -> None:
    """Both ways: the same combinations, in the same series, and none besides but the specials UNS."""
    printed = {(row["size"], float(row["tpi"])): row["series"] for row in keyed_rows("unified_series.csv")}
    ours = {(size.name, tpi): series for size in unified_series.sizes().values() for tpi, series in size.standard()}
    assert len(printed) == 357
    assert ours == printed


def test_number_sizes() -> None:
    """ASME B1.1: the diameter of a number size is 0.060 + 0.013 N inches."""
    for name, size in unified_series.sizes().items():
        if name.startswith("#"):
            assert size.diameter_in == round(0.060 + 0.013 * int(name[1:]), 4)


def test_length_of_engagement_rule() -> None:
    """ASME B1.1, from memory: one diameter for UNC, UNF and 4, 6, 8 threads; nine pitches otherwise."""
    assert asme_b1_1.standard_engagement_in(0.25, 20, "UNC") == 0.25
    assert asme_b1_1.standard_engagement_in(1.125, 8, "UN") == 1.125
    assert asme_b1_1.standard_engagement_in(0.625, 12, "UN") == 9 / 12
    assert asme_b1_1.standard_engagement_in(0.25, 32, "UNEF") == 9 / 32
    assert asme_b1_1.standard_engagement_in(0.25, 28, "UNJF") == 0.25


def test_nine_pitches_would_not_do_for_unc() -> None:
    """Print decides the rule: 1/4-20 UNC-2B has 0.2224 (B1.1-2019), which nine pitches of engagement would miss."""
    assert asme_b1_1.unified_limits(0.25, 20, "2B", engagement_in=0.25).pitch_in[1] == 0.2224
    assert asme_b1_1.unified_limits(0.25, 20, "2B", engagement_in=9 / 20).pitch_in[1] != 0.2224
