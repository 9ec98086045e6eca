"""A question about two holes concerns both rows: each is on hold. A counterbore's hole may stand in a row of its own."""

from __future__ import annotations

import pytest

from holesched.callouts.model import Kind
from holesched.check import understand, with_held_rows
from holesched.features.build import build_holes
from holesched.features.model import BuiltHoles
from holesched.notes import CellRef
from holesched.schedule.model import JobHeader, Schedule, ScheduleRow
from holesched.sequence.model import PlannedHole

HEADER = JobHeader(material="C45", thickness_mm=20)


def built(*rows: tuple[str, float, float]) -> BuiltHoles:
    """A schedule whose rows are callout, X and Y; from row 2 on."""
    read = tuple(
        ScheduleRow(CellRef("job.xlsx", "Holes", number, 3), f"H{number}", callout, "mm", None, x_mm, y_mm)
        for number, (callout, x_mm, y_mm) in enumerate(rows, start=2)
    )
    return build_holes(Schedule("job.xlsx", "Holes", "0", HEADER, read, (), len(read)), ())


def held(holes: BuiltHoles) -> set[str]:
    """The cells of the rows on hold."""
    understood = [understand(each, HEADER, {}) for each in holes.types]
    planned = with_held_rows([PlannedHole(each.resolved.type, None, each.notes) for each in understood], (), holes)
    return {ref.cell for hole in planned for ref in hole.held_rows}


@pytest.mark.parametrize(
    ("rows", "cells"),
    [
        ([("Ø10 THRU", 0, 0), ("Ø10 THRU", 0, 0), ("Ø10 THRU", 90, 0)], {"C2", "C3"}),
        ([("Ø10 THRU", 0, 0), ("Ø8 THRU", 8, 0), ("Ø8 THRU", 90, 0)], {"C2", "C3"}),
        ([("Ø10 THRU", 0, 0), ("Ø10 THRU", 9, 0), ("Ø10 THRU", 50, 0), ("Ø10 THRU", 59, 0)], {"C2", "C3", "C4", "C5"}),
        ([("Ø10 THRU", 0, 0), ("Ø10 THRU", 0, 0), ("Ø10 THRU", 0, 0)], {"C2", "C3", "C4"}),
        ([("Ø10 THRU", 0, 0), ("Ø10 THRU", 12, 0)], set()),
    ],
)
def test_all_rows_of_a_question_are_held(rows: list[tuple[str, float, float]], cells: set[str]) -> None:
    assert held(built(*rows)) == cells


def test_a_counterbore_by_its_screw_takes_the_hole_of_another_row() -> None:
    seat, hole = built(("CBORE FOR M8 SHCS", 5, 5), ("Ø9 THRU", 5, 5)).types
    assert [feature.kind for feature in seat.hole.features] == [Kind.COUNTERBORE]
    assert [feature.diameter.mm for feature in hole.hole.features] == [9.0]
    assert not [note.code for note in (*seat.notes, *hole.notes) if note.is_question]


def test_a_counterbore_by_its_screw_without_another_row_is_asked() -> None:
    (seat, _) = built(("CBORE FOR M8 SHCS", 5, 5), ("Ø9 THRU", 50, 5)).types
    assert [feature.kind for feature in seat.hole.features] == [Kind.DRILL, Kind.COUNTERBORE]
    assert [note.code for note in seat.notes if note.is_question] == ["FASTENER-HOLE-UNWRITTEN"]


def test_every_counterbore_needs_its_own_hole() -> None:
    (seat, _) = built(("CBORE FOR M8 SHCS", 5, 5), ("CBORE FOR M8 SHCS", 25, 5), ("Ø9 THRU", 5, 5)).types
    assert [note.code for note in seat.notes if note.is_question] == ["FASTENER-HOLE-UNWRITTEN"]
