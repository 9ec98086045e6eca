"""Holes against the part's outline: plain geometry; half the hole as the least wall is common practice, no source."""

from __future__ import annotations

import pytest

from holesched.features.build import build_holes
from holesched.notes import CellRef, Note, Severity
from holesched.schedule.model import JobHeader, Schedule, ScheduleRow

PLATE = (200.0, 120.0)
CORNER = [("Ø5 THRU", 10, 10), ("Ø5 THRU", 190, 110)]
MIDDLE = [("Ø5 THRU", -90, -50), ("Ø5 THRU", 90, 50)]


def edges(rows: list[tuple[str, float, float]], outline: tuple[float, float] | None = PLATE) -> list[Note]:
    """The notes on edges and origins of a schedule whose rows are callout, X and Y; from row 2 on."""
    read = tuple(
        ScheduleRow(CellRef("job.xlsx", "Holes", number, 3), f"H{number}", callout, "mm", None, x_mm, y_mm)
        for number, (callout, x_mm, y_mm) in enumerate(rows, start=2)
    )
    header = JobHeader(outline_mm=outline, outline_ref=CellRef("job.xlsx", "Holes", 1, 2))
    built = build_holes(Schedule("job.xlsx", "Holes", "0", header, read, (), len(read)), ())
    return [note for note in built.notes if note.code.startswith(("CHECK-EDGE", "SCHEDULE-PLACE"))]


@pytest.mark.parametrize(
    ("rows", "codes"),
    [
        ([*CORNER, ("Ø10 THRU", 10, 60)], []),
        ([*CORNER, ("Ø10 THRU", 9.9, 60)], ["CHECK-EDGE-NEAR"]),
        ([*CORNER, ("Ø10 THRU", 5, 60)], ["CHECK-EDGE-CUT"]),
        ([*CORNER, ("Ø10 THRU", 192, 60)], ["CHECK-EDGE-NEAR"]),
        ([*CORNER, ("Ø10 THRU", 60, 110.1)], ["CHECK-EDGE-NEAR"]),
        ([*CORNER, ("Ø10 THRU", 210, 60)], ["CHECK-EDGE-OUTSIDE"]),
        ([*CORNER, ("Ø6 THRU ⌴ Ø18 ↧3", 12, 60)], []),
        ([*CORNER, ("Ø6 THRU ⌴ Ø18 ↧3", 11.9, 60)], ["CHECK-EDGE-NEAR"]),
        ([*MIDDLE, ("Ø10 THRU", -90.1, 0)], ["CHECK-EDGE-NEAR"]),
        ([*MIDDLE, ("Ø10 THRU", -90, 0)], []),
        ([*MIDDLE, ("Ø10 THRU", 0, 61)], ["CHECK-EDGE-OUTSIDE"]),
        ([("Ø5 THRU", 20, 10), ("Ø5 THRU", 80, 50)], ["SCHEDULE-PLACE-DATUM"]),
        ([("Ø5 THRU", 10, 10), ("Ø5 THRU", 110, 190)], ["CHECK-EDGE-TURNED"]),
        ([("Ø5 THRU", 10, -10), ("Ø5 THRU", 190, -110)], []),
    ],
)
def test_edges(rows: list[tuple[str, float, float]], codes: list[str]) -> None:
    assert [note.code for note in edges(rows)] == codes


def test_nothing_is_checked_without_an_outline() -> None:
    assert edges([("Ø10 THRU", 1, 1)], None) == []


def test_the_question_gives_the_figures() -> None:
    """8 mm to the edge less half of 10 mm leaves 3 mm; half the hole is 5 mm."""
    (note,) = edges([*CORNER, ("Ø10 THRU", 192, 60)])
    assert note.severity is Severity.ASK
    assert note.ref is not None
    assert note.ref.cell == "C4"
    assert note.message.partition("\n")[0] == (
        "hole H4 at X 192, Y 60 leaves 3.00 mm of wall to the edge: its widest diameter is 10 mm, the edge 8 mm away "
        "along X; 5 mm (half the hole) is the least advised."
    )


def test_holes_of_one_type_are_one_question_and_all_on_hold() -> None:
    (note,) = edges([*CORNER, ("Ø10 THRU", 6, 60), ("Ø10 THRU", 194, 60), ("Ø10 THRU", 100, 60)])
    assert [ref.cell for ref in note.also] == ["C5"]
    assert "1 more of these rows are like this." in note.message
