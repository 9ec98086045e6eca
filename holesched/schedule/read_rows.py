"""The rows of one hole table: holes, and rows set aside each with why. Nothing vanishes between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from holesched.notes import CellRef, Note
from holesched.schedule import questions
from holesched.schedule.callout_columns import callout_columns, join_callout
from holesched.schedule.cells import Value, count_tags, read_quantity, text_of
from holesched.schedule.damage import Damaged, damage_of
from holesched.schedule.headers import Table
from holesched.schedule.merged import merged_notes, merged_rows
from holesched.schedule.model import ScheduleRow, SetAside
from holesched.schedule.ordinary_rows import ordinary_rows
from holesched.schedule.quantities import Total, check_tags, check_totals, settle_group_quantities
from holesched.schedule.row_kinds import ASKS_FOR_HOLE, SPEAKS_OF_HOLES, is_units_row, kind_of, looks_like_tag
from holesched.schedule.row_numbers import RowNumbers
from holesched.schedule.surroundings import Surroundings
from holesched.schedule.title_words import is_title_label

_REMARKS = ("note", "z", "description", "other")
_PLACES = ("x", "y", "radius", "polar_angle")


@dataclass(slots=True)
class RowsRead:
    """rows + set_aside are all rows of the table, in its order."""

    rows: list[ScheduleRow] = field(default_factory=list)
    set_aside: list[SetAside] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)


def read_rows(grid: Sequence[Sequence[Value]], table: Table, around: Surroundings) -> RowsRead:
    """Every row of the table, as a hole or set aside.

    A row whose callout is damaged or missing still gives a ScheduleRow, with callout "" and a REFUSED note on the same
    cell; other doubtful cells give an ASK note on their own cell, which is in the row's own sheet row.
    """
    reader = _Reader(grid, table, around)
    ordinary = ordinary_rows(grid, table, around, reader.numbers)
    numbers = range(table.first, table.end)
    found = reader.found
    for number in reversed(numbers) if table.upward else numbers:
        hole = ordinary(number)
        if hole is None:
            reader.read(number)
        else:
            found.rows.append(hole)
    column = table.column("quantity")
    found.rows, notes = settle_group_quantities(found.rows, column.index + 1 if column else None)
    found.notes += (*notes, *check_totals(found.rows, reader.totals, column is not None))
    found.notes += merged_notes(grid, table, around)
    if tags := table.column("tag"):
        found.notes += check_tags(found.rows, tags.index + 1)
    return found


class _Reader:
    """Reads a table row by row; looks back where a row leans on the one above (merged, continued, empty)."""

    def __init__(self, grid: Sequence[Sequence[Value]], table: Table, around: Surroundings) -> None:
        self.grid, self.table, self.around = grid, table, around
        self.found = RowsRead()
        self._at = {column.field: column.index for column in reversed(table.columns)}
        self._remarks = [column for column in table.columns if column.field in _REMARKS]
        self._parts = callout_columns(table.columns)
        self._place = (self._parts or table.columns)[0].index
        self.numbers = RowNumbers(grid, table, around.units)
        self._merged = merged_rows(around.merged, self._place)
        self._merged_tags = merged_rows(around.merged, self._at["tag"]) if "tag" in self._at else {}
        self._merged_callouts: dict[int, str] = {}
        self._looked, self._named, self._last = 0, False, ""
        self.totals: list[Total] = []

    def _look_back(self) -> None:
        """Takes in the holes read since the last look: whether any is named or placed, and the nearest callout."""
        for row in self.found.rows[self._looked :]:
            self._named = self._named or bool(row.tag) or row.x_mm is not None
            self._last = row.callout or self._last
        self._looked = len(self.found.rows)

    def _callout_in(self, number: int) -> str:
        """The callout that was read in a row (from 0) above, "" when it is none."""
        if number not in self._merged_callouts:
            found = (row.callout for row in reversed(self.found.rows) if row.ref.row == number + 1)
            self._merged_callouts[number] = next(found, "")
        return self._merged_callouts[number]

    def read(self, number: int) -> None:
        """One row, whatever it is."""
        row = self.grid[number]
        why = self._why_aside(number, row)
        if why:
            text = " | ".join(text for value in row[self.table.left : self.table.right] if (text := text_of(value)))
            ref = self.around.ref(number, self._place)
            self.found.set_aside.append(SetAside(ref, why, text))
            if why == "note" and ASKS_FOR_HOLE.search(text):
                self.found.notes.append(questions.note_speaks_of_holes(ref, text))
        else:
            self._read_hole(number, row)

    def _why_aside(self, number: int, row: Sequence[Value]) -> str:
        """Why a row names no hole; "" when it may name one."""
        if number in self.table.repeats:
            return "header"
        filled = [text for value in row[self.table.left : self.table.right] if (text := text_of(value))]
        if not filled or all(kind_of(text) == "dash" for text in filled):
            return "blank"
        if is_units_row(filled):
            return "units"
        tag, size = text_of(self.numbers.value(row, "tag")), " ".join(self._sizes(row))
        kinds = (kind_of(tag), kind_of(size))
        struck = self._is_struck(number, row)
        if struck or any(kind_of(text) == "deleted" for text in filled):
            self.found.notes.append(questions.row_deleted(self.around.ref(number, self._place), " | ".join(filled), struck))
            return "deleted"
        placed = self.numbers.place(row) != (None, None)
        if not placed and "total" in kinds and kinds[0] in ("total", "blank"):
            self._keep_total(number, filled)
            return "total"
        named = kinds[1] not in ("blank", "dash")
        if is_title_label(filled[0]) and not named and len(filled) <= 2:
            return "title"
        if kinds[0] in ("note", "title", "origin") and not (named and (placed or self._counted(row, tag, size))):
            return "title" if kinds[0] == "title" else "note"
        if placed or (not named and text_of(self.numbers.value(row, "quantity"))):
            return ""
        if is_title_label(filled[0]) and (not named or len(filled) == 1):
            return "title"
        if named:
            return {"note": "note", "title": "title", "origin": "note"}.get(kinds[1], "") if not tag else ""
        return "" if tag and looks_like_tag(tag) else "note"

    def _counted(self, row: Sequence[Value], tag: str, size: str) -> bool:
        """Whether the row speaks of a hole under a number of holes, or under two letters such as "NB": a tag, not a note."""
        known = read_quantity(self.numbers.value(row, "quantity")) is not None
        return bool(SPEAKS_OF_HOLES.search(size)) and (known or len(tag) <= 2)

    def _read_hole(self, number: int, row: Sequence[Value]) -> None:
        """A row that names a hole: its callout with what is wrong with it, then the cells beside it."""
        self._look_back()
        text, ref = self._callout(number, row)
        tag, quantity = self._tag_and_quantity(number, row)
        x, y = self.numbers.place(row)
        unreadable = list(self.numbers.unreadable(row, _PLACES))
        for index in unreadable:
            hint = "Write a number, with a point or a comma before its decimals."
            self._ask_unreadable(number, index, "The place", "PLACE", hint, "The hole's place is unknown.")
        if (x is None) != (y is None):
            if not unreadable:
                self.found.notes.append(questions.place_incomplete(ref, text))
            x = y = None
        bare = not tag and x is None and not text_of(self.numbers.value(row, "quantity"))
        if text and bare and self._named:
            self.found.notes.append(questions.row_continues(ref, text, self._last))
        thickness = self.numbers.length_mm(row, "thickness")
        for index in self.numbers.unreadable(row, ("thickness",)):
            hint = "Write it as '12 mm' or '0.5 in'."
            self._ask_unreadable(number, index, "The thickness", "THICKNESS", hint, "The part's thickness.")
        material, remark = text_of(self.numbers.value(row, "material")), self._remark(row)
        unit = self.around.units.callout
        self.found.rows.append(ScheduleRow(ref, tag, text, unit, quantity, x, y, material, thickness, remark))

    def _callout(self, number: int, row: Sequence[Value]) -> tuple[str, CellRef]:
        """The callout, "" when it cannot be trusted, and its cell; the notes it needs."""
        row = self._as_shown(number, row) if self.around.marks.shown else row
        pieces = join_callout(row, self._parts, self.around.units.callout) if self._parts else None
        if pieces is None:
            ref = self.around.ref(number, self._place)
            self.found.notes.append(questions.empty_callout(ref, ""))
            return "", ref
        index = pieces.first.index
        ref = self.around.ref(number, index)
        if pieces.damaged:
            self.found.notes.append(questions.damaged_callout(pieces.damaged, ref, self.around.units.callout))
            return "", ref
        if pieces.against:
            self.found.notes.append(questions.depth_disagrees(ref, pieces.text, pieces.against))
        if not pieces.text and (start := self._merged.get(number)) is not None and (above := self._callout_in(start)):
            self.found.notes.append(questions.merged_callout(ref, above, self.around.ref(start, index).cell))
            return above, ref
        if not pieces.text:
            self.found.notes.append(questions.empty_callout(ref, self._last))
            return "", ref
        return self.around.replaced(pieces.text), ref

    def _as_shown(self, number: int, row: Sequence[Value]) -> Sequence[Value]:
        """The row with the callout's numbers as their cells show them: signs that a number's format adds are asked about."""
        cells = list(row)
        for part in self._parts:
            ref = self.around.ref(number, part.index)
            shown = self.around.marks.shown.get((ref.row, ref.column), "")
            if not shown or part.index >= len(row) or isinstance(row[part.index], str):
                continue
            text = text_of(row[part.index])
            if shown != text and not (part.field == "diameter" and shown in (f"Ø{text}", f"⌀{text}")):
                self.found.notes.append(questions.formatted_callout(ref, text, shown))
                cells[part.index] = shown
        return cells

    def _tag_and_quantity(self, number: int, row: Sequence[Value]) -> tuple[str, int | None]:
        """The tag, and the number of holes by the quantity column, else by the tags."""
        value = self.numbers.value(row, "tag") or self.numbers.value(self.grid[self._merged_tags.get(number, number)], "tag")
        tag = text_of(value)
        if "tag" in self._at and (isinstance(value, Damaged) or (not isinstance(value, float) and damage_of(value))):
            self.found.notes.append(questions.tag_damaged(self.around.ref(number, self._at["tag"]), tag))
        stated = self.numbers.value(row, "quantity")
        quantity = read_quantity(stated)
        if quantity is None and text_of(stated):
            hint = "Write a whole number of holes."
            assumed = "The number of holes that the callout or the tags give."
            self._ask_unreadable(number, self._at["quantity"], "The quantity", "QUANTITY", hint, assumed)
        tags = count_tags(tag)
        if tags.count > 1:
            ref = self.around.ref(number, self._at["tag"])
            if quantity is None and not tags.sure:
                self.found.notes.append(questions.tag_range(ref, tag, tags.count))
            quantity = tags.count if quantity is None else quantity
        return tag, quantity

    def _ask_unreadable(self, number: int, index: int, what: str, code: str, hint: str, assumed: str) -> None:
        text, ref = text_of(self.grid[number][index]), self.around.ref(number, index)
        self.found.notes.append(questions.unreadable(what, code, text, ref, hint, assumed))

    def _remark(self, row: Sequence[Value]) -> str:
        """The note column's text; columns that are read for nothing else follow with their heading."""
        texts = []
        for column in self._remarks:
            text = text_of(row[column.index]) if column.index < len(row) else ""
            if text:
                texts.append(text if column.field == "note" else f"{column.heading}: {text}")
        return "; ".join(texts)

    def _sizes(self, row: Sequence[Value]) -> list[str]:
        return [text for part in self._parts if part.index < len(row) and (text := text_of(row[part.index]))]

    def _is_struck(self, number: int, row: Sequence[Value]) -> bool:
        """Whether every filled cell of the row's callout and tag is struck through."""
        struck = self.around.marks.struck
        places = [part.index for part in self._parts] + [self._at[name] for name in ("tag",) if name in self._at]
        filled = [index for index in places if index < len(row) and text_of(row[index])]
        return bool(struck and filled) and all((number + 1, index + 1) in struck for index in filled)

    def _keep_total(self, number: int, filled: Sequence[str]) -> None:
        """Remembers what a total row says, to be compared with the rows."""
        read = (read_quantity(text) or read_quantity(text.rpartition(" ")[2]) for text in filled)
        numbers = [number for number in read if number is not None]
        if len(numbers) == 1:
            ref = self.around.ref(number, self._at.get("quantity", self._place))
            self.totals.append(Total(ref, " ".join(filled), numbers[0], len(self.found.rows)))
