"""Any schedule file as a book of sheets. What kind of workbook a file is, its content decides, not its name."""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, cast

from holesched.errors import CannotRead
from holesched.schedule import limits, ods_marks, text_file, xls_marks, xlsx_marks, xlsx_parts
from holesched.schedule.archive import open_archive
from holesched.schedule.cells import Value
from holesched.schedule.file_kinds import KINDS, TELLING_PARTS, foreign_archive, refuse_foreign
from holesched.schedule.marks import Marks, Merged
from holesched.schedule.model import ReadOptions
from holesched.schedule.ods_repeats import check_repeats
from holesched.schedule.xls_container import container, workbook_stream

if TYPE_CHECKING:
    from python_calamine import CalamineWorkbook

_NO_CELLS = ("xl/chartsheets/", "xl/dialogsheets/", "xl/macrosheets/")
"""Where sheets of other kinds lie in the archive."""
_OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"


@dataclass(frozen=True, slots=True)
class Grid:
    """A sheet's cells from row 1 and column A on, "" where empty, and its merged ranges."""

    rows: list[list[Value]]
    merged: Merged = ()


@dataclass(frozen=True, slots=True)
class Book:
    """A file's sheets by name, in its order. `grid` reads a sheet's cells, `marks` what its values do not tell.

    `encoding` is that of a text file, "" for a workbook.
    """

    names: tuple[str, ...]
    grid: Callable[[str], Grid]
    marks: Callable[[str], Marks]
    encoding: str = ""


def open_book(data: bytes, path: Path, options: ReadOptions) -> Book:
    """The file as a book. Raises CannotRead when it is no schedule, is damaged or protected, or passes a limit."""
    if not data.strip():
        raise CannotRead("it is empty.", path.name, KINDS)
    if data.startswith(b"PK\x03\x04"):
        return _archive_book(data, path.name)
    if data.startswith(_OLE):
        return _plain_book(data, path.name)
    refuse_foreign(data, path)
    return _text_book(data, path, options)


def _text_book(data: bytes, path: Path, options: ReadOptions) -> Book:
    text, encoding = text_file.decode(data, path.name, options.encoding)
    if text.count("\0") or sum(not c.isprintable() and c not in "\r\n\t\f\ufeff" for c in text[:2000]) > 20:
        raise CannotRead("it is neither a workbook nor a text.", path.name, KINDS)
    grid = Grid([list(row) for row in text_file.read_rows(text, path.name, options.columns)])
    _check_cells(grid.rows, path.name)
    return Book((path.stem,), lambda _: grid, lambda _: Marks(), encoding)


def _archive_book(data: bytes, file: str) -> Book:
    known = {ods_marks.CONTENT, ods_marks.STYLES, *TELLING_PARTS}
    parts = open_archive(data, file, lambda member: xlsx_parts.is_wanted(member) or member in known)
    if xlsx_parts.WORKBOOK in parts:
        return _xlsx_book(data, parts, file)
    if b"office:spreadsheet" in parts.get(ods_marks.CONTENT, b""):
        check_repeats(parts[ods_marks.CONTENT], file)
        workbook = _quick_reader(data, file)
        return Book(_names(workbook), _grids(workbook, file), lambda name: ods_marks.read_marks(parts, name, file))
    raise foreign_archive(parts, file)


def _xlsx_book(data: bytes, parts: Mapping[str, bytes], file: str) -> Book:
    """A workbook whose every sheet has been found small enough before the quick reader sees it."""
    sheets = {part.name: part for part in xlsx_parts.sheet_parts(parts, file)}
    limits.check(len(sheets), limits.SHEETS, "sheets", file, "Save the hole table alone in a new workbook.")
    for part in sheets.values():
        if part.member not in parts and not part.member.startswith(_NO_CELLS):
            problem = f"the workbook is damaged: its sheet '{part.name}' is missing."
            raise CannotRead(problem, file, "Open it, save it again and try once more.")
        xlsx_parts.check_repeats(parts.get(xlsx_parts.STRINGS, b""), parts.get(part.member, b""), file)
    forms = {
        part.name: xlsx_marks.checked_form(parts[part.member], file, part.name)
        for part in sheets.values()
        if part.member in parts
    }
    workbook = _quick_reader(data, file)

    def marks(name: str) -> Marks:
        return xlsx_marks.read_marks(forms[name], parts, sheets[name].hidden)

    return Book(tuple(name for name in _names(workbook) if name in forms), _grids(workbook, file), marks)


def _plain_book(data: bytes, file: str) -> Book:
    stream = workbook_stream(data, file)
    side = xls_marks.open_side(stream, file)
    workbook = _quick_reader(container(stream), file)
    return Book(_names(workbook), _grids(workbook, file), lambda name: xls_marks.read_marks(side, name))


def _quick_reader(data: bytes, file: str) -> CalamineWorkbook:
    from python_calamine import CalamineWorkbook, PasswordError

    try:
        return CalamineWorkbook.from_filelike(io.BytesIO(data))
    except PasswordError as problem:
        raise CannotRead("it is protected by a password.", file, "Save it without a password and try again.") from problem
    except BaseException as problem:
        raise _damaged(problem, file) from problem


def _names(workbook: CalamineWorkbook) -> tuple[str, ...]:
    from python_calamine import SheetTypeEnum

    return tuple(sheet.name for sheet in workbook.sheets_metadata if sheet.typ == SheetTypeEnum.WorkSheet)


def _grids(workbook: CalamineWorkbook, file: str) -> Callable[[str], Grid]:
    def grid(name: str) -> Grid:
        try:
            sheet = workbook.get_sheet_by_name(name)
            rows = cast("list[list[Value]]", sheet.to_python(skip_empty_area=False))
            merged = sheet.merged_cell_ranges or ()
        except BaseException as problem:
            raise _damaged(problem, file) from problem
        _check_cells(rows, f"{file}!{name}")
        return Grid(rows, tuple((r1 + 1, c1 + 1, r2 + 1, c2 + 1) for (r1, c1), (r2, c2) in merged))

    return grid


def _damaged(problem: BaseException, file: str) -> Exception:
    """A CannotRead for what the quick reader raises; its panics are no Exceptions. Anything else goes on."""
    if isinstance(problem, Exception) or type(problem).__name__ == "PanicException":
        return CannotRead("the workbook is damaged and cannot be read.", file, "Open it, save it again and try once more.")
    raise problem


def _check_cells(rows: list[list[Value]], where: str) -> None:
    limits.check(len(rows), limits.ROWS, "rows", where, "Split it into several files.")
    longest = max((len(value) for row in rows for value in row if type(value) is str), default=0)
    if longest > limits.CELL_CHARACTERS:
        remedy = "A callout is a line or a few; move long texts out of the sheet."
        raise CannotRead(
            f"a cell holds {longest:,} characters, more than the {limits.CELL_CHARACTERS:,} that are read.", where, remedy
        )
