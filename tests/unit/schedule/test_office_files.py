"""One workbook of traps in three kinds of file, written by LibreOffice 7.4: whatever the kind, the same is read and asked.

Two callouts that became dates, Ø and M that live in a number format, a fraction in a format, raised and lowered runs, a row
struck through, a hidden row and column, a merged callout, an error, a formula, an X in inches by its format alone.
"""

from __future__ import annotations

import struct
from dataclasses import replace
from pathlib import Path

import pytest
from written_files import read

from holesched.cli import main
from holesched.errors import CannotRead
from holesched.notes import Note
from holesched.schedule.model import Schedule
from holesched.schedule.xls_container import Stream, workbook_stream
from holesched.schedule.xls_marks import open_side, read_marks

HERE = Path(__file__).parent
KINDS = [HERE / f"traps.{ending}" for ending in ("xlsx", "xls", "ods")]
every_kind = pytest.mark.parametrize("path", KINDS, ids=lambda path: path.suffix[1:])


def asked(notes: tuple[Note, ...]) -> list[str]:
    return [f"{note.ref.cell if note.ref else '-'} {note.code}" for note in notes if note.code != "SCHEDULE-COLUMNS"]


@every_kind
def test_every_trap_is_asked_about(path: Path) -> None:
    _, notes = read(path)
    assert sorted(asked(notes)) == [
        "D10 SCHEDULE-ROW-STRUCK",
        "D11 SCHEDULE-HIDDEN-ROWS",
        "D13 SCHEDULE-CALLOUT-MERGED",
        "D14 SCHEDULE-CALLOUT-ERROR",
        "D16 SCHEDULE-CALLOUT-FORMAT",
        "D5 SCHEDULE-CALLOUT-DATE",
        "D6 SCHEDULE-CALLOUT-DATE",
        "D7 SCHEDULE-CALLOUT-FORMAT",
        "D8 SCHEDULE-CALLOUT-FORMAT",
        "D9 SCHEDULE-CALLOUT-RUNS",
        "F4 SCHEDULE-HIDDEN-COLUMNS",
    ]
    proposed = {note.ref.cell: note.suggestion for note in notes if note.ref}
    assert "'16.5' or '5/16'" in proposed["D5"]
    assert "'10-32'" in proposed["D6"]
    assert "'Ø8 +0.015/0'" in proposed["D9"]


@every_kind
def test_rows_are_read_alike(path: Path) -> None:
    schedule, _ = read(path)
    first, _ = read(KINDS[0])

    def told(read: Schedule) -> list[tuple[object, ...]]:
        return [(row.ref.cell, row.tag, row.callout, row.quantity, row.x_mm, row.y_mm, row.note) for row in read.rows]

    assert told(schedule) == told(first)
    callouts = {row.tag: row.callout for row in schedule.rows}
    assert (callouts["A3"], callouts["A4"], callouts["A9"], callouts["A11"], callouts["A12"]) == (
        "Ø6.6", "1/4", "M6-6H ↧12", "M6-6H ↧12", "M6",
    )  # fmt: skip
    assert {row.tag: row.x_mm for row in schedule.rows}["A13"] == 12.7


def test_an_xls_whose_formats_cannot_be_seen_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert read_marks(open_side(Stream("Workbook", b"no records"), "f"), "Holes").unseen
    monkeypatch.setattr("holesched.schedule.xls_marks._marks", lambda *_: 1 / 0)
    schedule, notes = read(KINDS[1])
    assert len(schedule.rows) == 13
    assert "D4 SCHEDULE-FORMATS-UNSEEN" in asked(notes)


def test_a_long_text_that_many_cells_of_an_xls_refer_to() -> None:
    data = KINDS[1].read_bytes()
    stream = workbook_stream(data, "f")
    assert 20 < stream.references < 60
    assert open_side(stream, "f") is not None
    with pytest.raises(CannotRead, match="more than the 200,000,000"):
        open_side(replace(stream, references=20_000_000), "f")


def test_a_formula_of_an_xls_without_a_stored_value(tmp_path: Path) -> None:
    """Its result is "empty" (MS-XLS, FormulaValue, from memory): record 6, row 14, column 3, then format and result."""
    data = bytearray(KINDS[1].read_bytes())
    path = tmp_path / "bare.xls"
    at = next(
        place + 10
        for place in range(len(data) - 14)
        if data[place : place + 2] == b"\x06\x00" and data[place + 4 : place + 8] == struct.pack("<HH", 14, 3)
    )
    assert (data[at], data[at + 6 : at + 8]) == (0, b"\xff\xff")
    data[at] = 3
    path.write_bytes(data)
    _, notes = read(path)
    assert "D15 SCHEDULE-CALLOUT-FORMULA" in asked(notes)


@every_kind
def test_a_marked_copy_hides_strikes_merges_and_shows_as_its_original(path: Path, tmp_path: Path) -> None:
    """A copy of .xls and .ods is rebuilt from values: raised figures alone are then joined text."""
    assert main(["check", str(path), "--marked", "--out", str(tmp_path)]) == 3
    original, copy = read(path)[1], read(tmp_path / "traps_questions.xlsx")[1]
    runs = {"D9 SCHEDULE-CALLOUT-RUNS"} if path.suffix != ".xlsx" else set()
    assert set(asked(original)) - set(asked(copy)) == runs
    assert set(asked(copy)) - set(asked(original)) == {"- SCHEDULE-SHEET-NOT-READ"}  # the list of questions
