"""The committed examples are what their script writes, cell by cell, and make geometrical sense but for their mistakes."""

from __future__ import annotations

import io
import math
from itertools import combinations
from pathlib import Path

import pytest
from make_example_inputs import FOLDER, example_inputs
from python_calamine import CalamineWorkbook

from holesched.schedule.model import ReadOptions, Schedule
from holesched.schedule.read_workbook import read_schedule
from holesched.shop.model import Shop
from holesched.shop.read_toml import read_shop

WRITTEN = example_inputs()
OUTLINES_MM = {"manifold_block.xlsx": (180, 120), "sensor_plate.ods": (80, 60)}
LARGEST_MM = {
    "manifold_block.xlsx": {"A": 6, "B": 5, "C": 10, "D": 8, "E": 11, "F": 8, "G": 6, "H": 12, "K": 7},
    "sensor_plate.ods": {"A": 3, "B": 4, "C": 8, "D": 4, "E": 3, "F": 8},
}
"""Largest diameter of a hole by its letter."""


def cells(data: bytes) -> dict[str, list[list[object]]]:
    workbook = CalamineWorkbook.from_filelike(io.BytesIO(data))
    return {name: list(workbook.get_sheet_by_name(name).to_python()) for name in workbook.sheet_names}


def read(name: str) -> Schedule:
    return read_schedule(FOLDER / name, ReadOptions())[0]


@pytest.mark.parametrize("name", [name for name in WRITTEN if not name.endswith(".toml")])
def test_committed_cells_are_the_scripts(name: str) -> None:
    assert cells((FOLDER / name).read_bytes()) == cells(WRITTEN[name])


README_PICTURE = "process_sheet.png"


def test_no_other_files_are_committed() -> None:
    assert {path.name for path in FOLDER.iterdir()} == {*WRITTEN, README_PICTURE}


def test_shop_file_is_the_sample_with_a_name() -> None:
    assert (FOLDER / "shop.toml").read_text(encoding="utf-8") == WRITTEN["shop.toml"].decode()
    shop = read_shop(FOLDER / "shop.toml")
    assert "invented" in shop.report.shop_name
    assert shop.machine == Shop().machine


@pytest.mark.parametrize("name", [name for name in WRITTEN if not name.endswith(".toml")])
def test_every_part_says_that_it_is_invented(name: str) -> None:
    schedule = read(name)
    assert any("not a real part" in text for _, text in schedule.header.other)
    assert schedule.header.part_number
    assert schedule.header.material
    assert schedule.header.thickness_mm
    assert schedule.header.unit_stated


@pytest.mark.parametrize(("name", "rows", "holes"), [
    ("manifold_block.xlsx", 63, 63), ("bearing_housing.xlsx", 12, 45), ("sensor_plate.ods", 25, 25)
])  # fmt: skip
def test_reading_an_example_asks_nothing(name: str, rows: int, holes: int) -> None:
    """Their mistakes are not the reader's: later stages find them."""
    schedule, notes = read_schedule(FOLDER / name, ReadOptions())
    assert [note.code for note in notes] == ["SCHEDULE-COLUMNS"]
    assert len(schedule.rows) == rows
    assert sum(row.quantity or 0 for row in schedule.rows) == holes
    assert schedule.rows_read == len(schedule.rows) + len(schedule.set_aside)


@pytest.mark.parametrize("name", OUTLINES_MM)
def test_holes_lie_inside_the_outline_and_apart(name: str) -> None:
    width, height = OUTLINES_MM[name]
    placed = [(row.tag, row.x_mm, row.y_mm, LARGEST_MM[name][row.tag[0]] / 2) for row in read(name).rows]
    for _, x, y, radius in placed:
        assert x is not None
        assert y is not None
        assert radius < x < width - radius
        assert radius < y < height - radius
    near = [
        (one[0], other[0])
        for one, other in combinations(placed, 2)
        if math.hypot(one[1] - other[1], one[2] - other[2]) < one[3] + other[3] + 1.0
    ]
    assert near == ([("D1", "D2")] if name.startswith("sensor") else [])


def test_script_writes_into_the_folder_it_is_given(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    import make_example_inputs

    monkeypatch.setattr("sys.argv", ["make_example_inputs.py", str(tmp_path / "new")])
    make_example_inputs.main()
    assert {path.name for path in (tmp_path / "new").iterdir()} == set(WRITTEN)
