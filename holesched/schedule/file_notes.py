"""Notes on a file as a whole: what was not read, what is hidden, how its header was understood."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Protocol

from holesched.notes import CellRef, Note, Severity
from holesched.schedule.cells import Value, text_of
from holesched.schedule.headers import Column, Table
from holesched.schedule.marks import Marks
from holesched.schedule.row_kinds import SPEAKS_OF_HOLES

_COUNT = re.compile(r"[1-9]\d{0,2}")
_SHOWN_LIST = 12
_SHOWN_TEXTS = 3


class SheetFound(Protocol):
    """A sheet that was looked at: its name and its hole tables."""

    @property
    def name(self) -> str: ...
    @property
    def tables(self) -> tuple[Table, ...]: ...


def size_column(table: Table) -> Column:
    """The column that notes on the whole table point to: the callout's, else the first of its parts, else the first."""
    sizes = [column for column in table.columns if column.field in ("callout", "thread", "diameter")]
    return next((column for column in sizes if column.field == "callout"), (sizes or list(table.columns))[0])


def encoding(name: str, ref: CellRef | None = None) -> list[Note]:
    """For a text file in an encoding that had to be inferred."""
    if name in ("", "utf-8", "utf-8-sig", "utf-16"):
        return []
    message = f"The file is no UTF-8; it was read as {name}."
    hint = "If signs such as Ø or ä look wrong, save it as CSV UTF-8 or name its encoding."
    return [Note("SCHEDULE-ENCODING", Severity.WATCH, message, hint, ref=ref)]


def other_sheets(sheets: Sequence[SheetFound], file: str) -> list[Note]:
    """The sheets that were left unread; a question where one of them holds a hole table too."""
    plain = [sheet.name for sheet in sheets if not sheet.tables]
    notes = []
    if plain:
        names = ", ".join(f"'{name}'" for name in plain[:_SHOWN_LIST]) + (" ..." if len(plain) > _SHOWN_LIST else "")
        notes.append(Note("SCHEDULE-SHEET-NOT-READ", Severity.TOLD, f"Sheets without a hole table were not read: {names}."))
    for sheet in sheets:
        for table in sheet.tables:
            ref = CellRef(file, sheet.name, table.header + 1, size_column(table).index + 1)
            message = f"Sheet '{sheet.name}' holds another hole table of {table.end - table.first} rows; it was not read."
            hint = f"Same part: put both tables in one sheet. Another part: plan it by itself, with --sheet '{sheet.name}'."
            notes.append(Note("SCHEDULE-OTHER-TABLE", Severity.ASK, message, hint, "Its holes are not planned.", ref=ref))
    return notes


def columns(rows: Sequence[Sequence[Value]], table: Table, ref: CellRef) -> list[Note]:
    """How the header was understood: each column with its field, the headings that were not, rows on both its sides."""
    known = {column.index for column in table.columns}
    read = ", ".join(f"'{' '.join(column.heading.split())}' = {column.field}" for column in table.columns)
    texts = [text_of(value) for value in rows[table.header][: table.right]]
    low, high = table.span
    while low > table.left and any(texts[low - 1 : low]):
        low -= 1
    while any(texts[high + 1 : high + 2]):
        high += 1
    unread = [text for index, text in enumerate(texts) if low <= index <= high and index not in known and text]
    message = f"Header in row {table.header + 1}: {read}."
    if unread:
        message += f" Not read: {', '.join(unread)}."
    notes = [Note("SCHEDULE-COLUMNS", Severity.WATCH if unread else Severity.TOLD, message, ref=ref)]
    if table.first < table.header < table.end:
        message = f"Rows stand above the header too; those from row {table.first + 1} on were read as its holes."
        hint = "The table was sorted with its header among the rows: look for rows that lost their place."
        notes.append(Note("SCHEDULE-ROWS-ABOVE-HEADER", Severity.WATCH, message, hint, ref=ref))
    notes += _maybe_quantities(rows, table, known, ref)
    around = (index for index in range(max(low - 1, table.left), min(high + 2, table.right)) if index not in known)
    notes += [note for index in around if not any(texts[index : index + 1]) for note in _unheaded(rows, table, index, ref)]
    return notes


def _maybe_quantities(rows: Sequence[Sequence[Value]], table: Table, known: set[int], ref: CellRef) -> Iterator[Note]:
    """A question for a column that was not read and has a whole number in every row of a hole, where the table has no
    numbers of holes: it may be them."""
    if table.column("quantity"):
        return
    size, (low, high) = size_column(table).index, table.span
    holes = [row for row in rows[table.first : table.end] if size < len(row) and text_of(row[size])]
    for index, text in enumerate(map(text_of, rows[table.header][: table.right])):
        if index in known or not text or not low - 1 <= index <= high + 1:
            continue
        values = [text_of(row[index]) if index < len(row) else "" for row in holes]
        if values and all(map(_COUNT.fullmatch, values)) and set(values) != {"1"}:
            message = f"Column '{text}' was not read, and has a whole number in every row: is it the number of holes?"
            hint = "If so, head it QTY, or name its field: --columns."
            place = ref._replace(row=table.header + 1, column=index + 1)
            yield Note("SCHEDULE-COLUMN-OF-NUMBERS", Severity.ASK, message, hint, "One hole a row.", text, place)


def _unheaded(rows: Sequence[Sequence[Value]], table: Table, index: int, ref: CellRef) -> Iterator[Note]:
    """For a column of the table that has texts and no heading: a question where one of them speaks of holes."""
    cells = (
        (number, row[index]) for number, row in enumerate(rows[table.first : table.end], table.first) if index < len(row)
    )
    found = [(number, text) for number, value in cells if (text := text_of(value))]
    if found:
        place = ref._replace(row=found[0][0] + 1, column=index + 1)
        asked = any(SPEAKS_OF_HOLES.search(text) for _, text in found)
        shown = ", ".join(f"'{_short(text)}'" for _, text in found[:_SHOWN_TEXTS]) + (
            " ..." if len(found) > _SHOWN_TEXTS else ""
        )
        message = f"A column without a heading was not read: {shown}."
        hint = "Give it a heading, or move what belongs to a hole into its callout."
        severity, assumed = (Severity.ASK, "Nothing of it.") if asked else (Severity.WATCH, "")
        yield Note("SCHEDULE-COLUMN-UNHEADED", severity, message, hint, assumed, found[0][1], place)


def _short(text: str) -> str:
    text = " ".join(text.split())
    return text if len(text) <= 40 else f"{text[:37]}..."


def hidden(tables: Sequence[Table], marks: Marks, file: str, sheet: str) -> list[Note]:
    """Hidden rows and columns of the tables: they were read, and are named; or that nobody could see which are hidden."""
    notes = []
    if marks.unseen:
        ref = CellRef(file, sheet, tables[0].header + 1, size_column(tables[0]).index + 1)
        message = "Hidden rows, number formats and struck text of this workbook cannot be seen: only its values were read."
        hint = "Save it as .xlsx and read that, or look for Ø signs, deleted rows and raised figures in the workbook itself."
        notes.append(Note("SCHEDULE-FORMATS-UNSEEN", Severity.WATCH, message, hint, ref=ref))
    if marks.hidden_sheet:
        ref = CellRef(file, sheet, tables[0].header + 1, size_column(tables[0]).index + 1)
        notes.append(Note("SCHEDULE-HIDDEN-SHEET", Severity.WATCH, f"Sheet '{sheet}' is hidden; it was read.", ref=ref))
    for table in tables:
        rows = sorted({row for row in marks.hidden_rows if table.first < row <= table.end})
        places = {column.index + 1: column for column in table.columns}
        hidden_columns = [column for column in marks.hidden_columns if column in places]
        size = size_column(table).index + 1
        if rows:
            message = f"Hidden rows were read: {_ranges(rows)}."
            hint = "Check that a filter has not hidden what is not to be made."
            notes.append(
                Note("SCHEDULE-HIDDEN-ROWS", Severity.WATCH, message, hint, ref=CellRef(file, sheet, rows[0], size))
            )
        if hidden_columns:
            names = ", ".join(f"'{places[column].heading}'" for column in hidden_columns)
            ref = CellRef(file, sheet, table.header + 1, hidden_columns[0])
            notes.append(Note("SCHEDULE-HIDDEN-COLUMNS", Severity.WATCH, f"Hidden columns were read: {names}.", ref=ref))
    return notes


def _ranges(numbers: Sequence[int]) -> str:
    """1, 2, 3, 7 as "1-3, 7"."""
    spans: list[list[int]] = []
    for number in numbers:
        if spans and spans[-1][1] == number - 1:
            spans[-1][1] = number
        else:
            spans.append([number, number])
    shown = [str(first) if first == last else f"{first}-{last}" for first, last in spans]
    return ", ".join(shown[:_SHOWN_LIST]) + (" ..." if len(shown) > _SHOWN_LIST else "")
