"""The numbers of a table's rows: places, thickness, and whether a lone comma is their decimal sign."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence

from holesched.schedule.cells import Value, text_of
from holesched.schedule.headers import Table
from holesched.schedule.lengths import has_decimal_comma, read_length
from holesched.schedule.table_units import Units

_LOOKED_AT = 2_000
"""Rows that are searched for the decimal sign."""
_POINT = re.compile(r"[-+−]?\d*\.\d+")
_COMMA_IN_SIZE = re.compile(r"\d,\d")

Place = tuple[float | None, float | None]


class RowNumbers:
    """Reads the numbers of a table's rows; the decimal sign is settled once, from the whole table, when it is needed."""

    def __init__(self, grid: Sequence[Sequence[Value]], table: Table, units: Units) -> None:
        self._grid, self._table, self._units = grid, table, units
        self._at = {column.field: column.index for column in reversed(table.columns)}
        self._comma: bool | None = None
        self._comma_known = False

    def length_mm(self, row: Sequence[Value], field: str) -> float | None:
        """The length in a column, in mm; None when the cell is empty or no length, or there is no such column."""
        value = self.value(row, field)
        if value == "":
            return None
        length = read_length(value, self._units.of(field), self.decimal_comma() if isinstance(value, str) else None)
        return None if length is None else length.mm

    def place(self, row: Sequence[Value]) -> Place:
        """X and Y in mm; from radius and angle where the table gives those. None where there is no readable number."""
        if "x" in self._at or "y" in self._at:
            return self.length_mm(row, "x"), self.length_mm(row, "y")
        radius, angle = self.length_mm(row, "radius"), self._degrees(row)
        if radius is None or angle is None:
            return None, None
        return round(radius * math.cos(math.radians(angle)), 9), round(radius * math.sin(math.radians(angle)), 9)

    def unreadable(self, row: Sequence[Value], fields: Sequence[str]) -> Iterator[int]:
        """The columns among `fields` whose cell holds something that is no length."""
        for field in fields:
            if field in self._at and text_of(self.value(row, field)) and self.length_mm(row, field) is None:
                yield self._at[field]

    def value(self, row: Sequence[Value], field: str) -> Value:
        """The cell of a column, "" when the table or the row has none."""
        index = self._at.get(field)
        return row[index] if index is not None and index < len(row) else ""

    def _degrees(self, row: Sequence[Value]) -> float | None:
        value = self.value(row, "polar_angle")
        angle = read_length(value.strip().rstrip("°") if isinstance(value, str) else value, "mm", self.decimal_comma())
        return None if angle is None else angle.mm

    def decimal_comma(self) -> bool | None:
        """Whether a lone comma is the decimal sign; None when the table does not show it."""
        if not self._comma_known:
            self._comma, self._comma_known = self._find_comma(), True
        return self._comma

    def _find_comma(self) -> bool | None:
        rows = self._grid[self._table.first : min(self._table.end, self._table.first + _LOOKED_AT)]
        fields = ("x", "y", "radius", "thickness", "depth")
        texts = [value for row in rows for field in fields if isinstance(value := self.value(row, field), str) and value]
        if any(has_decimal_comma(text) for text in texts):
            return True
        if any(_POINT.fullmatch(text.strip()) for text in texts):
            return False
        sizes = (self.value(row, "callout") for row in rows)
        return True if any(isinstance(size, str) and _COMMA_IN_SIZE.search(size) for size in sizes) else None
