"""Reads a schedule file: the one public function of this room, and the steps it is made of."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from holesched.errors import BadSettings, CannotRead
from holesched.notes import CellRef, Note
from holesched.schedule import file_notes, limits
from holesched.schedule.books import Book, Grid, open_book
from holesched.schedule.cells import Value, text_of
from holesched.schedule.columns import fields
from holesched.schedule.file_kinds import SCHEDULE_ENDINGS
from holesched.schedule.find_table import find_tables
from holesched.schedule.headers import Table, nearest_words
from holesched.schedule.job_header import job_header
from holesched.schedule.legend import join_legend
from holesched.schedule.lengths import read_length
from holesched.schedule.marks import Marks
from holesched.schedule.model import ReadOptions, Schedule
from holesched.schedule.read_rows import RowsRead, read_rows
from holesched.schedule.surroundings import Surroundings
from holesched.schedule.table_units import Units, choose_units
from holesched.schedule.title_block import read_title_block
from holesched.schedule.turned import first_field_row, turned_grid, turned_marks, turned_notes, turned_rows
from holesched.units import LengthUnit


def read_schedule(path: Path, options: ReadOptions) -> tuple[Schedule, tuple[Note, ...]]:
    """A schedule file's rows with their cells, and what reading them left to say.

    Rows read are those of the hole tables, from the row under the header down to the last filled one, table by table; the
    header itself and the title rows above it do not count. rows_read == len(rows) + len(set_aside).

    A row whose callout is missing or damaged is there all the same, with callout "" and a REFUSED note on the same cell
    (ScheduleRow.ref): later stages need not ask again. Notes about other cells of a row lie in the row's own sheet row,
    notes about the whole file on the header's callout cell.

    Raises CannotRead when the file is no schedule or passes a limit, BadSettings when options.columns names no field.
    """
    unknown = sorted({name for _, name in options.columns} - set(fields()))
    if unknown:
        names = ", ".join(fields())
        raise BadSettings(f"'{unknown[0]}' is no field of a hole table.", "schedules.columns", f"Known are: {names}.")
    data = _read_bytes(path)
    book = open_book(data, path, options)
    sheet, others = _choose_sheet(book, path.name, options)
    schedule, notes = _read_sheet(sheet, path.name, hashlib.sha256(data).hexdigest(), options)
    on_file = (*file_notes.encoding(book.encoding, schedule.rows[0].ref), *file_notes.other_sheets(others, path.name))
    return schedule, (*on_file, *notes)


def _read_bytes(path: Path) -> bytes:
    """The file's bytes, if there are not too many."""
    try:
        limits.check(
            path.stat().st_size, limits.FILE_BYTES, "bytes", path.name, "Save the hole table alone in a new workbook."
        )
        return path.read_bytes()
    except IsADirectoryError as problem:
        remedy = f"Looked for {', '.join(SCHEDULE_ENDINGS)}."
        raise CannotRead("no schedule in this folder.", path.name or str(path), remedy) from problem
    except FileNotFoundError as problem:
        raise CannotRead("there is no such file.", str(path), "Check the name and the folder.") from problem
    except OSError as problem:
        reason = problem.strerror or type(problem).__name__
        raise CannotRead(
            f"it cannot be opened ({reason}).", path.name, "Close it in other programs and try again."
        ) from problem


@dataclass(frozen=True, slots=True)
class _Sheet:
    """A sheet with its hole tables. `turned` when its rows and columns were exchanged to find them; `above` are then the
    rows above the table, as they stand in the file."""

    name: str
    grid: Grid
    tables: tuple[Table, ...]
    marks: Marks = field(default_factory=Marks)
    turned: bool = False
    above: Sequence[Sequence[Value]] = ()

    @property
    def fullest(self) -> int:
        """How many columns the fullest header names."""
        return max((len(table.columns) for table in self.tables), default=0)

    @property
    def worth(self) -> tuple[int, int]:
        """Sheets are preferred by their fullest header, then by their rows."""
        return self.fullest, sum(table.end - table.first for table in self.tables)


def _choose_sheet(book: Book, file: str, options: ReadOptions) -> tuple[_Sheet, list[_Sheet]]:
    """The sheet with the fullest hole table, complete with its marks, and the sheets left unread."""
    if options.sheet is not None and options.sheet not in book.names:
        known = ", ".join(f"'{name}'" for name in book.names)
        raise CannotRead(f"it has no sheet '{options.sheet}'.", file, f"Its sheets are: {known}.")
    names = (options.sheet,) if options.sheet is not None else book.names
    sheets = [_look_at(_Sheet(name, book.grid(name), ()), options) for name in names]
    best = max(sheets, key=lambda sheet: sheet.worth, default=None)
    if best is None or best.fullest <= 1:  # a lone word is the weakest header: the row of callouts of a table on its side
        sideways = max((_look_sideways(sheet, options) for sheet in sheets), key=lambda sheet: sheet.worth, default=None)
        best = sideways if best is None or (sideways and sideways.fullest > best.fullest) else best
    if best is None or not best.tables:
        raise _no_table(sheets, file, options, book.encoding)
    others = [sheet for sheet in sheets if sheet.name != best.name]
    marks = book.marks(best.name)
    marks = turned_marks(marks) if best.turned else marks
    if marks.damaged:
        _lay_over(best.grid.rows, marks)
        best = _look_at(best, options)
    _state_units(best.grid.rows, marks)
    return replace(best, marks=marks), others


def _look_at(sheet: _Sheet, options: ReadOptions) -> _Sheet:
    return replace(sheet, tables=find_tables(sheet.grid.rows, options.columns))


def _look_sideways(sheet: _Sheet, options: ReadOptions) -> _Sheet:
    """The sheet with its rows and columns exchanged, if it may hold a table on its side."""
    top = first_field_row(sheet.grid.rows, options.columns)
    if top is None:
        return sheet
    turned = replace(sheet, grid=turned_grid(sheet.grid, top), turned=True, above=sheet.grid.rows[:top])
    return _look_at(turned, options)


def _lay_over(rows: list[list[Value]], marks: Marks) -> None:
    """Puts damaged cells where the quick reader gave nothing or a date."""
    for (row, column), damaged in marks.damaged.items():
        while len(rows) < row:
            rows.append([])
        rows[row - 1] += [""] * (column - len(rows[row - 1]))
        rows[row - 1][column - 1] = damaged


def _state_units(rows: list[list[Value]], marks: Marks) -> None:
    """Writes the unit beside a number whose format alone shows it: 12.7 shown as "12.7 in" is no 12.7 mm."""
    for (row, column), shown in marks.shown.items():
        length = read_length(shown, "mm")
        if length and length.unit and row <= len(rows) and column <= len(rows[row - 1]):
            rows[row - 1][column - 1] = f"{text_of(rows[row - 1][column - 1])} {length.unit}"


def _no_table(sheets: Sequence[_Sheet], file: str, options: ReadOptions, encoding: str) -> CannotRead:
    """What to say when no sheet has a header: the words that came nearest."""
    found = [(*nearest_words(sheet.grid.rows, options.columns), sheet.name) for sheet in sheets]
    number, known, sheet_name = max(found, key=lambda one: len(one[1]), default=(0, (), ""))
    problem = "no hole table was found: no row has header words such as TAG, X, Y, CALLOUT, QTY."
    if known:
        words = ", ".join(f"'{word}'" for word in known)
        problem = f"no hole table was found. Row {number + 1} of sheet '{sheet_name}' comes nearest, with {words}."
    remedy = "Name the columns in a header row, or map your own words to our fields in the shop file."
    if file_notes.encoding(encoding):
        remedy += f" It was read as {encoding}: if that is wrong, give --encoding."
    return CannotRead(problem, file, remedy)


def _read_sheet(sheet: _Sheet, file: str, sha256: str, options: ReadOptions) -> tuple[Schedule, tuple[Note, ...]]:
    """The chosen sheet's title block and tables as a Schedule."""
    block = read_title_block(sheet.above if sheet.turned else sheet.grid.rows, sheet.tables if not sheet.turned else ())
    read, units, notes = _read_tables(sheet, file, block.unit, options)
    notes += file_notes.hidden(sheet.tables, sheet.marks, file, sheet.name)
    if sheet.turned:
        read, notes = [turned_rows(found) for found in read], list(turned_notes(notes))
    header, header_notes = job_header(block, options, units, file, sheet.name)
    holes = tuple(row for found in read for row in found.rows)
    aside = tuple(entry for found in read for entry in found.set_aside)
    if not holes:
        problem = "its hole table has a header but no row that names a hole."
        raise CannotRead(problem, f"{file}!{sheet.name}", "Fill in the rows under the header.")
    count = sum(table.end - table.first for table in sheet.tables)
    if count != len(holes) + len(aside):
        raise AssertionError(f"a row was lost in reading: {count} read, {len(holes)} holes, {len(aside)} set aside")
    schedule = Schedule(file, sheet.name, sha256, header, holes, aside, count)
    return schedule, (*notes, *header_notes, *(note for found in read for note in found.notes))


def _read_tables(
    sheet: _Sheet, file: str, title_unit: LengthUnit | None, options: ReadOptions
) -> tuple[list[RowsRead], Units, list[Note]]:
    """The rows of every table, the units of the first, and notes on headers and units."""
    rows = sheet.grid.rows
    notes: list[Note] = []
    read: list[tuple[Table, RowsRead]] = []
    first: Units | None = None
    for table in sheet.tables:
        place = CellRef(file, sheet.name, table.header + 1, file_notes.size_column(table).index + 1)
        units, unit_notes = choose_units(table, options.unit, title_unit, lambda: _sizes(rows, sheet.tables), place)
        first = first or units
        said = {note.code for note in notes}
        notes += [*file_notes.columns(rows, table, place), *(note for note in unit_notes if note.code not in said)]
        merged = (*sheet.grid.merged, *sheet.marks.merged)
        around = Surroundings(file, sheet.name, units, sheet.marks, merged, options.symbols)
        read.append((table, read_rows(rows, table, around)))
    join_legend(read)
    return [found for _, found in read], first or Units("mm", (), False), notes


def _sizes(rows: Sequence[Sequence[Value]], tables: Sequence[Table]) -> set[str]:
    """All unlike texts of the tables' size columns; they may show which unit the schedule is in."""
    found: set[str] = set()
    for table in tables:
        indexes = [
            column.index for column in table.columns if column.field in ("callout", "thread", "diameter", "description")
        ]
        found.update(text_of(row[i]) for row in rows[table.first : table.end] for i in indexes if i < len(row))
    return found
