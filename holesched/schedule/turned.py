"""Tables that lie on their side, their header in the first column: rows and columns are exchanged, and exchanged back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import zip_longest

from holesched.notes import CellRef, Note
from holesched.schedule.books import Grid
from holesched.schedule.cells import Value
from holesched.schedule.columns import Heading, heading
from holesched.schedule.marks import Marks
from holesched.schedule.read_rows import RowsRead
from holesched.schedule.title_words import is_title_label

_MOST_ROWS = 200
_HOLE_FIELDS = frozenset(("tag", "x", "y", "callout", "quantity", "diameter", "thread"))


def turned_grid(grid: Grid, top: int) -> Grid:
    """The grid with rows and columns exchanged, its rows above `top` left out (they hold a title block, upright)."""
    merged = tuple((c1, r1, c2, r2) for r1, c1, r2, c2 in grid.merged)
    rows: list[list[Value]] = [[] if number < top else row for number, row in enumerate(grid.rows)]
    return Grid([list(column) for column in zip_longest(*rows, fillvalue="")], merged)


def first_field_row(rows: Sequence[Sequence[Value]], own: tuple[tuple[str, str], ...]) -> int | None:
    """The first row (from 0) of a table on its side: it begins with the header word of a hole's own fields, or such a row
    follows it. None when the sheet is none: no such row, or too many rows."""
    if len(rows) > _MOST_ROWS:
        return None
    words = [_first_word(row, own) for row in rows]
    top = next(
        (number for number, word in enumerate(words) if word and _HOLE_FIELDS & {field for _, field in word.choices}), None
    )
    while top and (word := words[top - 1]) and not is_title_label(word.text):
        top -= 1
    return top


def _first_word(row: Sequence[Value], own: tuple[tuple[str, str], ...]) -> Heading | None:
    first = next((value for value in row if value != ""), "")
    return heading(first.strip(), own) if isinstance(first, str) else None


def turned_marks(marks: Marks) -> Marks:
    """The marks of a turned sheet."""
    return Marks(
        marks.hidden_columns,
        marks.hidden_rows,
        marks.hidden_sheet,
        {(column, row): damaged for (row, column), damaged in marks.damaged.items()},
        {(column, row): shown for (row, column), shown in marks.shown.items()},
        frozenset((column, row) for row, column in marks.struck),
        marks.unseen,
        tuple((c1, r1, c2, r2) for r1, c1, r2, c2 in marks.merged),
    )


def turned_rows(found: RowsRead) -> RowsRead:
    """The rows with every cell's address as it is in the file."""
    return RowsRead(
        [row._replace(ref=_exchanged(row.ref)) for row in found.rows],
        [replace(entry, ref=_exchanged(entry.ref)) for entry in found.set_aside],
        list(turned_notes(found.notes)),
    )


def turned_notes(notes: Sequence[Note]) -> tuple[Note, ...]:
    """The notes with every cell's address as it is in the file."""
    return tuple(replace(note, ref=_exchanged(note.ref)) if note.ref else note for note in notes)


def _exchanged(ref: CellRef) -> CellRef:
    return ref._replace(row=ref.column, column=ref.row)
