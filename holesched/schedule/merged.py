"""Cells merged over several rows: a tag names them all, anything else is asked about."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice

from holesched.notes import Note
from holesched.schedule import limits, questions
from holesched.schedule.cells import Value, text_of
from holesched.schedule.headers import Table
from holesched.schedule.marks import Merged
from holesched.schedule.surroundings import Surroundings

_NO_NUMBERS = frozenset(("tag", "callout", "note", "other", "description", "side", "z"))
"""Fields whose merged cells need no question of their own; the callout has one for every row."""


def merged_rows(merged: Merged, index: int) -> dict[int, int]:
    """Rows (from 0) under the first row of a merged range in a column -> that first row."""
    spans = ((top, bottom) for top, left, bottom, right in merged if left <= index + 1 <= right and bottom > top)
    return dict(islice(((row, top - 1) for top, bottom in spans for row in range(top, bottom)), limits.ROWS))


def merged_notes(grid: Sequence[Sequence[Value]], table: Table, around: Surroundings) -> Iterator[Note]:
    """A question for each cell of numbers that is merged over rows of the table."""
    fields = {column.index: column.field for column in table.columns}
    for top, left, bottom, _ in around.merged:
        row, column = top - 1, left - 1
        if bottom == top or not table.first <= row < table.end or fields.get(column, "tag") in _NO_NUMBERS:
            continue
        text = text_of(grid[row][column]) if column < len(grid[row]) else ""
        if text:
            yield questions.cell_merged(around.ref(row, column), text, f"{top} to {min(bottom, table.end)}")
