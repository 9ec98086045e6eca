"""The title block around a hole table: labels with their values, in any order and place, as a JobHeader.

A label stands alone with its value to the right or below, or with it in one cell ("Material: 6061-T6"). To add a label,
add it to its field's line in title_words.csv.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from holesched.notes import CellRef
from holesched.schedule import limits
from holesched.schedule.cells import Value, text_of
from holesched.schedule.columns import is_other_unit, unit_word
from holesched.schedule.headers import Table
from holesched.schedule.outline import read_outline
from holesched.schedule.row_kinds import kind_of
from holesched.schedule.title_words import label_and_value, label_field
from holesched.units import LengthUnit

_COLON = re.compile(r"\s*([^:：=]{1,40}?)\s*[:：=]\s*(.*)", re.S)
_UNIT_SENTENCE = re.compile(
    r"\ball\s+(?:dimensions|dims?\.?|sizes)\s+(mm|inch(?:es)?|millimet(?:er|re)s)\b|"
    r"\b(?:dimensions?|dims?|sizes?|units?|ma(?:ß|ss)e|cotes|medidas|cotas|quote|misure)\b\.?\s*(?:are|sind|:)?\s*"
    r"(?:in|en)\s+([a-zäöü]+)|単位\s*[:：]?\s*(\w+)", re.I)  # fmt: skip
_TELLS = re.compile(r"[^\W\d_]{2}")
"""What an unlabelled text must have to be kept: two letters in a row."""
_REACH = 6
"""How many empty cells may lie between a label and its value."""


class Entry(NamedTuple):
    """A title-block value with its place (row and column from 0)."""

    value: Value
    row: int
    column: int

    @property
    def text(self) -> str:
        return text_of(self.value)


@dataclass(slots=True)
class TitleBlock:
    """What the title block says: field -> first entry found, further labelled texts, the unit, and the rows used."""

    entries: dict[str, Entry] = field(default_factory=dict)
    other: list[tuple[str, str]] = field(default_factory=list)
    unit: LengthUnit | None = None
    unit_place: tuple[int, int] | None = None
    rows: set[int] = field(default_factory=set)
    unlabelled: list[Entry] = field(default_factory=list)

    def text(self, name: str) -> str:
        entry = self.entries.get(name)
        return " ".join(entry.text.split()) if entry else ""

    def ref(self, name: str, file: str, sheet: str) -> CellRef | None:
        entry = self.entries.get(name)
        return CellRef(file, sheet, entry.row + 1, entry.column + 1) if entry else None


def read_title_block(rows: Sequence[Sequence[Value]], tables: Sequence[Table]) -> TitleBlock:
    """Everything labelled that stands outside the tables' rows of holes."""
    block = TitleBlock()
    for row, column in _places(rows, tables):
        value = rows[row][column] if column < len(rows[row]) else None
        if isinstance(value, str) and value.strip():
            _read_cell(rows, row, column, value.strip(), block)
    _keep_unlabelled(rows, min((min(table.header, table.first) for table in tables), default=0), block)
    return block


def _keep_unlabelled(rows: Sequence[Sequence[Value]], end: int, block: TitleBlock) -> None:
    """The texts above the first table that are no label, no value, no sentence about units and no table's own title."""
    values = {(entry.row, entry.column) for entry in block.entries.values()} | {block.unit_place}
    for row in range(min(end, len(rows))):
        for column, value in enumerate(rows[row]):
            if isinstance(value, str) and (row, column) not in values and _is_unlabelled(value):
                block.unlabelled.append(Entry(value.strip(), row, column))
    del block.unlabelled[limits.TITLE_ENTRIES :]


def _is_unlabelled(text: str) -> bool:
    tells = _TELLS.search(_UNIT_SENTENCE.sub("", text)) is not None
    return tells and not _is_label(text) and not _COLON.fullmatch(text) and kind_of(text) in ("", "note")


def _places(rows: Sequence[Sequence[Value]], tables: Sequence[Table]) -> Iterator[tuple[int, int]]:
    """Cells to look at: all above and below the tables; beside them; and in rows without a size."""
    covered: set[int] = set()
    for hole_table in tables:
        covered.update(range(min(hole_table.header, hole_table.first), hole_table.end))
    for number, row in enumerate(rows):
        if number not in covered:
            yield from ((number, column) for column in range(len(row)))
    for hole_table in tables:
        yield from _beside(rows, hole_table)


def _beside(rows: Sequence[Sequence[Value]], hole_table: Table) -> Iterator[tuple[int, int]]:
    """Cells of a table's rows outside its columns, and all cells of its rows without a size."""
    low, high = hole_table.span
    size = next((c.index for c in hole_table.columns if c.field in ("callout", "thread", "diameter")), low)
    inside = range(hole_table.left, hole_table.right)
    outside = [column for column in inside if not low <= column <= high]
    for number in range(min(hole_table.header, hole_table.first), hole_table.end):
        row = rows[number]
        blank = number >= hole_table.first and (size >= len(row) or _is_blank(row[size]))
        for column in inside if blank else outside:
            if column < len(row):
                yield number, column


def _read_cell(rows: Sequence[Sequence[Value]], row: int, column: int, text: str, block: TitleBlock) -> None:
    """Takes a label with its value, a labelled text in one cell, or a sentence about units."""
    if sentence := _UNIT_SENTENCE.search(text):
        stated = next(filter(None, sentence.groups()))
        if unit := unit_word(stated):
            _set_unit(block, unit, row, column)
        elif is_other_unit(stated):
            block.entries.setdefault("unit", Entry(text, row, column))
    pair = _COLON.fullmatch(text)
    label, value = (pair[1], pair[2].strip()) if pair else label_and_value(text) or (text, "")
    name = label_field(label)
    if name is None:
        if pair and value and not kind_of(label) and len(block.other) < limits.TITLE_ENTRIES:
            block.other.append((label, value))
            block.rows.add(row)
        return
    entry = Entry(value, row, column) if value else _value_near(rows, row, column)
    if entry is None:
        return
    if name in ("outline", "size", "unit") and read_outline(entry.text, "mm") is not None:
        block.entries.setdefault("outline", entry)
        block.rows |= {row, entry.row}
    elif name in ("outline", "size") and pair and value:
        block.other.append((label, value))
        block.rows.add(row)
    if name in ("outline", "size"):
        return
    if name == "unit":
        if unit := _first_unit(entry.text):
            _set_unit(block, unit, entry.row, entry.column)
            block.rows |= {row, entry.row}
        elif is_other_unit(entry.text):
            block.entries.setdefault(name, entry)
        return
    block.entries.setdefault(name, entry)
    block.rows |= {row, entry.row}


def _value_near(rows: Sequence[Sequence[Value]], row: int, column: int) -> Entry | None:
    """The value to the right of a label, else the one below it; another label is no value."""
    for beside in range(column + 1, min(column + 1 + _REACH, len(rows[row]))):
        value = rows[row][beside]
        if not _is_blank(value):
            if not _is_label(value):
                return Entry(value, row, beside)
            break
    if row + 1 < len(rows) and column < len(rows[row + 1]):
        value = rows[row + 1][column]
        if not _is_blank(value) and not _is_label(value):
            return Entry(value, row + 1, column)
    return None


def _is_label(value: Value) -> bool:
    if not isinstance(value, str):
        return False
    pair = _COLON.fullmatch(value)
    if pair:
        return label_field(pair[1]) is not None or not pair[2].strip()
    return label_field(value.strip()) is not None or label_and_value(value) is not None


def _set_unit(block: TitleBlock, unit: LengthUnit, row: int, column: int) -> None:
    if block.unit is None:
        block.unit, block.unit_place = unit, (row, column)


def _first_unit(text: str) -> LengthUnit | None:
    """The unit a text begins with: "mm", "INCH (decimal)", "inches unless noted"."""
    return unit_word(text) or next((unit for word in re.split(r"[\s,;/()\[\]]+", text) if (unit := unit_word(word))), None)


def _is_blank(value: Value) -> bool:
    return isinstance(value, str) and not value.strip()
