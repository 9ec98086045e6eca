"""Drill sizes against open data and recollection.

Sources: bd_warehouse 0.4.0 data/drill_sizes.csv (numbers and letters), keyed beside this file, and the installed
nf6x-eetools 1.0.1 (numbers, letters and fractions), every row of both, neither naming a standard; exact arithmetic
(fractions); recollection of ISO 235 / DIN 338 (metric stock) and of ASME B94.11M (six number sizes whose last digit
bd_warehouse drops; listed in DISAGREEMENTS.md).
"""

from __future__ import annotations

import pytest
from keyed_rows import keyed_rows
from nf6x_eetools import fractional_drill_table, letter_drill_table, number_drill_table

from holesched.standards.drill_sizes import by_label, series
from holesched.units import MM_PER_INCH

MISPRINTS = {"#5": 0.2055, "#10": 0.1935, "#18": 0.1695, "#25": 0.1495, "#28": 0.1405, "#69": 0.0292}
"""What bd_warehouse prints otherwise. ASME B94.11M, from memory; nf6x-eetools has all six as here."""


def test_inch_sizes_of_open_data() -> None:
    rows = keyed_rows("drills_open_data.csv")
    for row in rows:
        label = row["size"] if row["size"] not in ("1", "2") or row["series"] != "fraction" else f"{row['size']} in"
        size = by_label(label)
        assert size is not None, row
        expected = MISPRINTS.get(label, float(row["inch"]))
        assert round(size.mm / MM_PER_INCH, 6) == expected, row
        if label not in MISPRINTS:
            assert abs(size.mm - float(row["mm"])) <= 0.0000501, row
    by_series = {name: sum(row["series"] == name for row in rows) for name in ("number", "letter", "fraction")}
    assert by_series == {"number": 80, "letter": 26, "fraction": 128}
    assert len(series("letter")) == 26


FINER_THAN_THE_STANDARD = {f"#{number}" for number in range(98, 105)}
"""ASME B94.11M, from memory: number sizes end at #97."""


def test_every_row_of_the_second_library() -> None:
    """nf6x-eetools: 104 numbers, 26 letters, 64 fractions; it agrees wherever bd_warehouse does not."""
    unknown = set()
    assert [len(rows) for rows in (number_drill_table, letter_drill_table, fractional_drill_table)] == [104, 26, 64]
    for name, inch in (number_drill_table | letter_drill_table | fractional_drill_table).items():
        label = name.replace("no", "#").removesuffix("in").upper()
        size = by_label(label if label != "1" else "1 in")
        if size is None:
            unknown.add(label)
            continue
        assert round(size.mm / MM_PER_INCH, 6) == float(inch), name
    assert unknown == FINER_THAN_THE_STANDARD
    assert len(series("number")) == 97


def test_every_row_of_the_first_library() -> None:
    rows = keyed_rows("bd_warehouse_drill_sizes.csv")
    assert len(rows) == 106
    differing = {}
    for row in rows:
        size = by_label(row["Size"])
        assert size is not None, row
        if round(size.mm / MM_PER_INCH, 6) != float(row["Diameter"]):
            differing[row["Size"]] = round(size.mm / MM_PER_INCH, 6)
    assert differing == MISPRINTS


def test_misprints_are_of_the_last_digit() -> None:
    """Each correction rounds, to three places, to what the open data set prints (0.1695 to 0.170, 0.0292 to 0.029) or is
    that value with its last digit cut off (0.2055 to 0.205)."""
    printed = {row["size"]: float(row["inch"]) for row in keyed_rows("drills_open_data.csv")}
    for label, standard in MISPRINTS.items():
        assert abs(printed[label] - standard) <= 0.0005 + 1e-9, label
        assert printed[label] == round(printed[label], 3), label


def test_corrections_recalled() -> None:
    for row in keyed_rows("drills_corrections_recalled.csv"):
        size = by_label(row["size"])
        assert size is not None
        assert round(size.mm / MM_PER_INCH, 4) == float(row["standard_value_in"]), row


def test_metric_sizes_recalled() -> None:
    metric = {size.mm for size in series("metric")}
    missing = [row["size"] for row in keyed_rows("drills_metric_recalled.csv") if float(row["mm"]) not in metric]
    assert missing == []


@pytest.mark.parametrize(
    ("low", "high", "step"), [(1.0, 2.95, 0.05), (3.0, 13.9, 0.1), (14.0, 25.0, 0.25)], ids=["to 2.95", "to 13.9", "to 25"]
)
def test_bs_328_steps(low: float, high: float, step: float) -> None:
    """BS 328 as an open encyclopaedia describes it: 1 to 2.95 by 0.05, 3 to 13.9 by 0.1, 14 to 25 by 0.25 mm."""
    metric = {size.mm for size in series("metric")}
    count = round((high - low) / step)
    assert {round(low + step * index, 2) for index in range(count + 1)} <= metric
