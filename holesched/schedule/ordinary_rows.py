"""The quick way through rows with nothing to ask: schedules have ten thousand of them.

It gives what read_rows would give for the same row, or None; a test holds the two against each other.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from holesched.notes import CellRef
from holesched.schedule.cells import Value, text_of
from holesched.schedule.damage import damage_of
from holesched.schedule.headers import Table
from holesched.schedule.model import ScheduleRow
from holesched.schedule.row_kinds import kind_of
from holesched.schedule.row_numbers import RowNumbers
from holesched.schedule.surroundings import Surroundings
from holesched.schedule.title_words import is_title_label
from holesched.units import length_mm

_FIELDS = frozenset(("tag", "x", "y", "callout", "quantity", "note"))
_PLAIN = re.compile(r"-?[0-9]+(?:\.[0-9]+)?")
_MOST = 1000.0
"""Larger quantities are looked at with care."""


def ordinary_rows(
    grid: Sequence[Sequence[Value]], table: Table, around: Surroundings, numbers: RowNumbers
) -> Callable[[int], ScheduleRow | None]:
    """A reader of one row by its number (from 0): the hole, or None for a row that needs a closer look.

    An ordinary row has a callout that is no special word, a plain tag such as A12, plain numbers for X, Y and quantity
    where the table has such columns, and a text or nothing in the note column.
    """
    at = {column.field: column.index for column in table.columns}
    if not at.keys() <= _FIELDS or len(at) < len(table.columns) or "callout" not in at or ("x" in at) != ("y" in at):
        return lambda number: None
    file, sheet, unit = around.file, around.sheet, around.units.callout
    size_at, width, column = at["callout"], table.span[1] + 1, at["callout"] + 1
    tag_at, x_at, y_at, count_at, note_at = (at.get(name, -1) for name in ("tag", "x", "y", "quantity", "note"))
    x_unit, y_unit = around.units.of("x"), around.units.of("y")
    marked = (*around.marks.damaged, *around.marks.shown, *around.marks.struck)
    special = {row - 1 for row, _ in marked} | set(table.repeats)
    unread = [index for index in range(table.left, table.right) if index not in at.values()]
    callouts: dict[str, str] = {"": ""}

    def read(number: int) -> ScheduleRow | None:
        row = grid[number]
        if len(row) < width or number in special:
            return None
        size, tag = row[size_at], row[tag_at] if tag_at >= 0 else "1"
        if type(size) is not str or type(tag) is not str:
            return None
        text = callouts.get(size)
        if text is None:
            special_text = kind_of(size) or damage_of(size) or (tag_at < 0 and is_title_label(size))
            text = callouts[size] = "" if special_text else around.replaced(text_of(size))
        if not text or not (tag.isalnum() and tag.isascii() and (tag[-1].isdigit() or len(tag) == 1)):
            return None
        x, y = (row[x_at], row[y_at]) if x_at >= 0 else (None, None)
        if type(x) is not float and type(y) is not float:
            x, y = _plain_number(x, numbers), _plain_number(y, numbers)
        count = row[count_at] if count_at >= 0 else 1.0
        if type(count) is int or (type(count) is str and count.isdecimal() and count.isascii()):
            count = float(count)
        note = row[note_at] if note_at >= 0 else ""
        if type(x) is not type(y) or type(count) is not float or type(note) is not str:
            return None
        if not 1.0 <= count <= _MOST or count % 1.0 or (note and kind_of(note)):
            return None
        x_mm = y_mm = None
        if type(x) is float and type(y) is float:
            x_mm = x if x_unit == "mm" else round(length_mm(x, x_unit), 9)
            y_mm = y if y_unit == "mm" else round(length_mm(y, y_unit), 9)
        elif x_at >= 0:
            return None
        if unread and any(kind_of(value) == "deleted" for i in unread if i < len(row) and type(value := row[i]) is str):
            return None
        ref = CellRef(file, sheet, number + 1, column)
        quantity = int(count) if count_at >= 0 else None
        note, tag = note and text_of(note), tag if tag_at >= 0 else ""
        return ScheduleRow(ref, tag, text, unit, quantity, x_mm, y_mm, "", None, note)

    return read


def _plain_number(value: Value | None, numbers: RowNumbers) -> float | None:
    """A whole number of an .xls, or one in digits with a decimal point where the point can be nothing else."""
    if type(value) is str:
        return float(value) if _PLAIN.fullmatch(value) and not numbers.decimal_comma() else None
    return float(value) if type(value) is int else None
