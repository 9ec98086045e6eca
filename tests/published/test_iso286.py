"""ISO 286 hole limits against three open data sets and the standard's own worked rules.

Sources: the installed pressfit 0.1.0; keyed beside this file PyPI isofits 1.0 and the public repository WaldekS710/isoFits
(after PN-EN ISO 286-1:2011). Slips in them are named below and in DISAGREEMENTS.md.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

import pytest
from keyed_rows import keyed_rows
from pressfit import tables as pressfit

from holesched.standards.fits import delta_um, hole_deviations_um, hole_limits, reamer_limits, tolerance_um
from holesched.standards.sizes import Limits

ISOFITS_SLIPS = {
    ("K6", "6"): "prints (-6, +2): IT6 is 9, so the lower deviation is -7",
    ("E7", "315"): "prints (+125, +185): IT7 is 57, so the upper deviation is +182",
    ("E7", "355"): "prints (+125, +185): IT7 is 57, so the upper deviation is +182",
}
POLISH_SLIPS = {("U", "250"): "284, sign lost"}


def sizes_of(row: dict[str, str], upper: str) -> tuple[float, float]:
    """A size just inside the step's lower end, and its upper end."""
    return float(row["over_mm"]) + 0.001, float(row[upper])


def test_reference_rows() -> None:
    for row in keyed_rows("iso286_reference.csv"):
        for nominal_mm in sizes_of(row, "up_to_incl_mm"):
            assert hole_deviations_um(nominal_mm, row["class"]) == (float(row["EI_um"]), float(row["ES_um"])), row


def test_every_row_of_isofits() -> None:
    rows = keyed_rows("iso286_isofits.csv")
    assert len(rows) == 740
    slips = set()
    for row in rows:
        ours = {hole_deviations_um(nominal_mm, row["class"]) for nominal_mm in sizes_of(row, "up_to_mm")}
        if ours != {(float(row["EI_um"]), float(row["ES_um"]))}:
            slips.add((row["class"], row["over_mm"]))
    assert slips == set(ISOFITS_SLIPS)


def pressfit_deviations() -> Iterator[tuple[str, float, int]]:
    """(shaft letter, upper end of the size step in mm, es or ei in um) of each of its values."""
    for letter, values in pressfit.DEV_MAIN.items():
        yield from ((letter, size, value) for size, value in zip(pressfit.IT_BANDS, values, strict=True))
    for letter, pairs in pressfit.DEV_SUBBAND.items():
        yield from ((letter, size, value) for size, value in pairs)


def test_every_value_of_pressfit() -> None:
    """Shaft letters give hole letters by the general rule (EI = -es, ES = -ei above IT8 and IT7); IT values directly."""
    for grade, values in pressfit.IT.items():
        for size, value in zip(pressfit.IT_BANDS, values, strict=True):
            assert tolerance_um(size, grade) == value, (grade, size)
    compared = Counter[str]()
    for letter, size, value in pressfit_deviations():
        compared[letter] += 1
        where = (letter, size)
        if letter in "cdefgh":
            assert hole_deviations_um(size, f"{letter.upper()}9")[0] == -value, where
        elif letter in "kmn":
            assert hole_deviations_um(size, f"{letter.upper()}8")[1] == -value + delta_um(size, 8), where
        else:
            assert hole_deviations_um(size, f"{letter.upper()}8")[1] == -value, where
    assert len(pressfit.IT) * len(pressfit.IT_BANDS) == 91
    assert compared == {**dict.fromkeys("defghkmnp", 13), "c": 23, "s": 22, "u": 24}


def test_every_deviation_of_the_third_source() -> None:
    slips = set()
    for row in keyed_rows("iso286_deviations_open_data.csv"):
        size = float(row["up_to_mm"])
        for column, printed in row.items():
            if column == "up_to_mm":
                continue
            letters = column.rstrip("678")
            above = letters[0] <= "G"
            grade = int(column[-1]) if letters == "J" else 8
            if not printed:
                with pytest.raises(ValueError, match="not standardised"):
                    hole_deviations_um(size, f"{letters}{grade}")
                continue
            low, high = hole_deviations_um(size, f"{letters}{grade}")
            ours = low if above else high - (delta_um(size, 8) if letters in ("K", "M", "N") else 0)
            if ours != float(printed):
                slips.add((letters, row["up_to_mm"]))
    assert slips == set(POLISH_SLIPS)


@pytest.mark.parametrize(
    ("nominal_mm", "zone", "low_um", "high_um"),
    [
        (300, "M6", -41, -9),  # ISO 286-1, footnote to Table 3: ES = -9 instead of -11; from memory
        (2, "K9", -25, 0),  # K above IT8 exists to 3 mm only; from memory
        (20, "N9", -52, 0),  # key ways: N9 of 18 to 30 mm; from memory
        (20, "JS9", -26, 26),  # key ways: JS9 of 18 to 30 mm; from memory
        (25, "H7", 0, 21),  # the size and fit most often called; from memory
        (25, "P7", -35, -14),  # ES = -22 + delta 8; from memory
        (25, "R7", -41, -20),  # ES = -28 + delta 8; from memory
        (8, "P6", -21, -12),  # ES = -15 + delta 3; from memory
        (8, "X7", -43, -28),  # ES = -34 + delta 6; from memory
        (12, "H13", 0, 270),  # clearance holes of ISO 273; from memory
    ],
)
def test_limits_recalled_from_iso_286_2(nominal_mm: float, zone: str, low_um: float, high_um: float) -> None:
    """ISO 286-2, from memory: single classes of the printed tables."""
    assert hole_deviations_um(nominal_mm, zone) == (low_um, high_um)
    assert hole_limits(nominal_mm, zone) == Limits(nominal_mm + low_um / 1000, round(nominal_mm + high_um / 1000, 6))


@pytest.mark.parametrize(
    ("nominal_mm", "fit_class", "upper_thousandths"),
    [
        (25.4, "RC4", 1.2),  # 0.71 to 1.19 in, H8
        (25.4, "LC3", 1.2),
        (12.7, "LN2", 0.7),  # 0.40 to 0.71 in, H7
        (50.8, "RC5", 1.8),  # 1.97 to 3.15 in, H8
        (50.8, "FN2", 1.2),  # 1.97 to 3.15 in, H7
        (6.35, "LT1", 0.6),  # 0.24 to 0.40 in, H7
    ],
)
def test_inch_holes_recalled_from_ansi_b4_1(nominal_mm: float, fit_class: str, upper_thousandths: float) -> None:
    """ANSI B4.1-1967, Tables 1 to 5 as the handbooks print them, from memory: the hole's upper limit."""
    assert hole_limits(nominal_mm, fit_class).min_mm == nominal_mm
    upper_mm = nominal_mm + upper_thousandths * 0.0254
    assert hole_limits(nominal_mm, fit_class).max_mm == round(upper_mm, 6)


def test_inch_grades_follow_iso_286() -> None:
    """Independent check of the recalled table: each inch grade is the ISO grade of the step's middle within 16 %.

    Both systems share one formula (the 1967 standard rounds it in thousandths), so a slip of a column or row shows.
    """
    from holesched.tables import table

    for row in table("fit_inch_grades.csv").rows:
        low, high = float(row["over_in"]) or 0.04, float(row["up_to_in"])
        middle_mm = (low * high) ** 0.5 * 25.4
        for grade in range(6, 14):
            printed_um = float(row[f"IT{grade}"]) * 25.4
            assert abs(printed_um / tolerance_um(middle_mm, grade) - 1) < 0.16, (row, grade)


@pytest.mark.parametrize(
    ("nominal_mm", "zone", "low_um", "high_um"),
    [(10, "H7", 6, 12), (6, "H7", 5, 10), (20, "H7", 9, 17), (30, "H7", 9, 17)],
)
def test_reamers_recalled_from_din_1420(nominal_mm: float, zone: str, low_um: float, high_um: float) -> None:
    """DIN 1420 (ISO 522), reamers for H7, from memory."""
    expected = Limits(round(nominal_mm + low_um / 1000, 6), round(nominal_mm + high_um / 1000, 6))
    assert reamer_limits(hole_limits(nominal_mm, zone)) == expected
