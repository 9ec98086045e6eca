"""Tables that lie on their side, their header in the first column: rows and columns are exchanged, and exchanged back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import zip_longest

from holesched.notes import CellRef, Note
from holesched.schedule.books import Grid
from holesched.schedule.marks import Marks
from holesched.schedule.model import Schedule

_WIDEST = 2_000
"""Sheets with more rows than this are no tables on their side."""


def turned_grid(grid: Grid) -> Grid:
    """The grid with rows and columns exchanged; empty for a sheet too long to be a table on its side."""
    if len(grid.rows) > _WIDEST:
        return Grid([])
    merged = tuple((c1, r1, c2, r2) for r1, c1, r2, c2 in grid.merged)
    return Grid([list(column) for column in zip_longest(*grid.rows, fillvalue="")], merged)


def turned_marks(marks: Marks) -> Marks:
    """The marks of a turned sheet."""
    return Marks(
        marks.hidden_columns,
        marks.hidden_rows,
        marks.hidden_sheet,
        {(column, row): damaged for (row, column), damaged in marks.damaged.items()},
        {(column, row): shown for (row, column), shown in marks.shown.items()},
        frozenset((column, row) for row, column in marks.struck),
    )


def turned_schedule(schedule: Schedule) -> Schedule:
    """The schedule with every cell's address as it is in the file."""
    header = replace(
        schedule.header,
        material_ref=_turned(schedule.header.material_ref),
        thickness_ref=_turned(schedule.header.thickness_ref),
    )
    rows = tuple(replace(row, ref=_exchanged(row.ref)) for row in schedule.rows)
    aside = tuple(replace(entry, ref=_exchanged(entry.ref)) for entry in schedule.set_aside)
    return replace(schedule, header=header, rows=rows, set_aside=aside)


def turned_notes(notes: Sequence[Note]) -> tuple[Note, ...]:
    """The notes with every cell's address as it is in the file."""
    return tuple(replace(note, ref=_turned(note.ref)) for note in notes)


def _turned(ref: CellRef | None) -> CellRef | None:
    return None if ref is None else _exchanged(ref)


def _exchanged(ref: CellRef) -> CellRef:
    return replace(ref, row=ref.column, column=ref.row)
