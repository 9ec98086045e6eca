"""Damaged cells are recognised and the likeliest reading is proposed; sound callouts are left alone."""

from __future__ import annotations

import csv
from datetime import date, datetime, time, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from holesched.schedule.damage import Damaged, damage_of, decimals_first, likely_texts

TABLE = Path(__file__).with_name("damaged_cells.csv")
ROWS = list(csv.DictReader(line for line in TABLE.read_text(encoding="utf-8").splitlines() if not line.startswith("# ")))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["cell"])
def test_texts_that_a_spreadsheet_made(row: dict[str, str]) -> None:
    found = damage_of(row["cell"])
    assert found is not None
    assert found.kind == row["kind"]
    assert found.shown == row["cell"]
    if row["typed"]:
        assert row["typed"] in found.likely
    if row["first"] == "yes":
        assert found.likely[0] == row["typed"]


@pytest.mark.parametrize(
    ("value", "likely"),
    [
        (date(1932, 10, 1), ("10-32",)),
        (datetime(1932, 10, 1), ("10-32",)),
        (datetime(2024, 5, 16), ("5/16-24", "5/16", "16.5")),
        (datetime(2016, 3, 8), ("3/8-16", "3/8", "8.3")),
        (date(2025, 10, 24), ("10-24", "24.10")),
        (date(2016, 5, 1), ("5/16",)),
        (11963, ("10-32",)),  # the serial number of 1 October 1932
        (45428.0, ("5/16-24", "5/16")),  # 16 May 2024
    ],
)
def test_dates_and_serial_numbers(value: object, likely: tuple[str, ...]) -> None:
    found = damage_of(value)
    assert found is not None
    assert found.likely == likely


@pytest.mark.parametrize("value", [time(4, 40), timedelta(hours=50), True, False])
def test_times_and_truths_are_no_callouts(value: object) -> None:
    found = damage_of(value)
    assert found is not None
    assert found.kind == "type"


@pytest.mark.parametrize(
    "value",
    [
        "", "10-32", "10-32 UNF-2B", "1/4-20", "3/8-16 UNC-2B", "8.5", "Ø8.5 THRU", "#10", "#10-32", "#7",
        "#30 (.1285)", "M6",
        "M8x1.25-6H ↧16", "4X M6", "E", "F", "Mar", "MAY BE DRILLED", "12 MIN FULL THD", "1 1/4-7", "12.5", "6.8",
        6.8, 0.25, 12.0,
        45000.0, 9999.0, 36526.0, 8, "12-24", "2-56 UNC-2B",
    ],
)  # fmt: skip
def test_sound_values_are_left_alone(value: object) -> None:
    assert damage_of(value) is None


def test_damage_stays_what_it_is() -> None:
    bad = Damaged("runs", "Ø8+0.020")
    assert damage_of(bad) is bad


def test_a_date_without_a_typed_year_is_no_thread_of_that_year() -> None:
    assert likely_texts(date(2024, 5, 16), typed_year=False) == ("5/16", "16.5")
    assert decimals_first(("5/16", "16.5")) == ("16.5", "5/16")


@given(st.dates(date(1900, 1, 1), date(2099, 12, 31)))
def test_every_date_is_damage(day: date) -> None:
    found = damage_of(day)
    assert found is not None
    assert found.kind == "date"
    assert len(set(found.likely)) == len(found.likely)


@given(st.text(max_size=40))
def test_any_text_is_judged(text: str) -> None:
    damage_of(text)
