"""The quick way through rows with nothing to ask: schedules have ten thousand of them.

It gives what read_rows would give for the same row, or None; a test holds the two against each other.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from holesched.notes import CellRef
from holesched.schedule.cells import Value
from holesched.schedule.damage import damage_of
from holesched.schedule.find_table import Table
from holesched.schedule.model import ScheduleRow
from holesched.schedule.row_kinds import kind_of
from holesched.schedule.surroundings import Surroundings
from holesched.units import length_mm

_FIELDS = frozenset(("tag", "x", "y", "callout", "quantity", "note"))
_MOST = 1000.0
"""Larger quantities are looked at with care."""


def ordinary_rows(
    grid: Sequence[Sequence[Value]], table: Table, around: Surroundings
) -> Callable[[int], ScheduleRow | None]:
    """A reader of one row by its number (from 0): the hole, or None for a row that needs a closer look.

    An ordinary row has a callout that is no special word, a plain tag such as A12, numbers for X, Y and quantity where
    the table has such columns, and a text or nothing in the note column.
    """
    at = {column.field: column.index for column in table.columns}
    if (
        not at.keys() <= _FIELDS
        or len(at) < len(table.columns)
        or not {"callout", "tag"} <= at.keys()
        or ("x" in at) != ("y" in at)
    ):
        return lambda number: None
    file, sheet, unit = around.file, around.sheet, around.units.callout
    tag_at, size_at, width = at["tag"], at["callout"], table.span[1] + 1
    x_at, y_at, count_at, note_at = (at.get(name, -1) for name in ("x", "y", "quantity", "note"))
    x_mm, y_mm = (length_mm(1.0, around.units.of(name)) for name in ("x", "y"))
    has_place, column = x_at >= 0 and y_at >= 0, size_at + 1
    marked = (*around.marks.damaged, *around.marks.shown, *around.marks.struck)
    special = {row - 1 for row, _ in marked} | set(table.repeats)
    plain: dict[str, str] = {"": ""}

    def read(number: int) -> ScheduleRow | None:
        row = grid[number]
        if len(row) < width or number in special:
            return None
        size, tag = row[size_at], row[tag_at]
        if type(size) is not str or type(tag) is not str:
            return None
        text = plain.get(size)
        if text is None:
            text = plain[size] = "" if kind_of(size) or damage_of(size) else around.replaced(size.strip())
        if not text or not (tag.isalnum() and tag.isascii() and (tag[-1].isdigit() or len(tag) == 1)):
            return None
        x, y = (row[x_at], row[y_at]) if has_place else (0.0, 0.0)
        count = row[count_at] if count_at >= 0 else 1.0
        note = row[note_at] if note_at >= 0 else ""
        if type(x) is not float or type(y) is not float or type(count) is not float or type(note) is not str:
            return None
        if not 1.0 <= count <= _MOST or count % 1.0 or (note and kind_of(note)):
            return None
        ref = CellRef(file, sheet, number + 1, column)
        quantity = int(count) if count_at >= 0 else None
        if not has_place:
            return ScheduleRow(ref, tag, text, unit, quantity, note=note.strip())
        return ScheduleRow(ref, tag, text, unit, quantity, round(x * x_mm, 9), round(y * y_mm, 9), note=note.strip())

    return read
