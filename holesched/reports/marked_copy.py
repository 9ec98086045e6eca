"""A copy of the user's own workbook with the cells in question filled and the questions as their comments.

Values and layout are those that were read. Nothing in the copy computes: formulas are replaced by their stored values, and
macros, links, names and rules that hold formulas are left out. A text stays a text whatever it begins with.
"""

from __future__ import annotations

import re
import warnings
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any

from holesched.errors import CannotRead
from holesched.notes import CellRef, Note
from holesched.reports.base import RunStamp
from holesched.reports.naming import show_of
from holesched.reports.open_points import Question, all_notes, open_points
from holesched.reports.workbook import Column, Table, clean, dated, fill_sheet, put_value
from holesched.schedule.archive import open_archive
from holesched.schedule.books import Book, open_book
from holesched.schedule.marks import Marks, Merged
from holesched.schedule.model import ReadOptions
from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop

if TYPE_CHECKING:
    from openpyxl import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

LIST_NAME = "Questions"
_PACKED = b"PK\x03\x04"
_FORBIDDEN = re.compile(r"[\[\]:*?/\\]")
_LONGEST_NAME = 31
"""Characters of a sheet's name, and those that it may not hold: limits of the xlsx format."""


def marked_copy(path: Path, options: ReadOptions, job: JobPlan, shop: Shop, stamp: RunStamp) -> bytes:
    """The workbook `path`, which `job` was read from, as an .xlsx with the job's questions in it. Raises CannotRead."""
    data = path.read_bytes()
    book = open_book(data, path, options)
    copy = _loaded(data, path.name) if data.startswith(_PACKED) else None
    copy = copy or _rebuilt(book)
    asked = [note for note in all_notes(job) if note.is_question]
    questions = open_points(job, show_of(job, shop)).questions
    pairs = list(zip(asked, questions, strict=True))
    _show_bare_formulas(copy, book)
    _mark(copy, pairs)
    _list(copy, questions)
    written = BytesIO()
    copy.properties.creator = f"holesched {stamp.version}"
    copy.save(written)
    return dated(written.getvalue(), datetime(stamp.date.year, stamp.date.month, stamp.date.day))


def _loaded(data: bytes, file: str) -> Workbook | None:
    """An xlsx workbook with its layout and stored values, nothing that computes; None where only its values can be had."""
    from openpyxl import load_workbook
    from openpyxl.formatting.formatting import ConditionalFormattingList
    from openpyxl.worksheet.datavalidation import DataValidationList

    try:
        open_archive(data, file, lambda member: member.endswith((".xml", ".rels", ".vml")))
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            book = load_workbook(BytesIO(data), data_only=True, keep_links=False, rich_text=True)
    except CannotRead:
        raise
    except Exception:  # openpyxl raises whatever an unusual file makes it trip over
        return None
    for sheet in [*book.chartsheets]:
        book.remove(sheet)
    book.defined_names.clear()
    for sheet in book.worksheets:
        sheet.conditional_formatting = ConditionalFormattingList()
        sheet.data_validations = DataValidationList()
        sheet.defined_names.clear()
        sheet.tables.clear()
        sheet._charts, sheet._pivots = [], []
        for cell in _cells(sheet):
            cell.hyperlink = None
            if cell.data_type == "f":
                put_value(cell, str(cell.value))
    return book


def _rebuilt(book: Book) -> Workbook:
    """A new workbook with the sheets' values as they were read, and what they hide, strike out, merge and show; texts stay
    texts."""
    from openpyxl import Workbook

    copy = Workbook()
    copy.remove(copy.active)
    for name in book.names:
        sheet, grid, marks = copy.create_sheet(_sheet_name(name)), book.grid(name), book.marks(name)
        for number, row in enumerate(grid.rows, start=1):
            for column, value in enumerate(row, start=1):
                if value != "":
                    as_read: Any = value
                    put_value(sheet.cell(number, column), as_read)
        _widen(sheet)
        _lay_out(sheet, marks, (*grid.merged, *marks.merged))
    return copy


def _lay_out(sheet: Worksheet, marks: Marks, merged: Merged) -> None:
    """Gives a sheet of values the marks of the one that they were read from."""
    from openpyxl.styles import Font
    from openpyxl.utils import get_column_letter

    for (row, column), damaged in marks.damaged.items():
        put_value(sheet.cell(row, column), damaged.shown)
    for (row, column), shown in marks.shown.items():
        sheet.cell(row, column).number_format = '"' + shown.replace('"', "''") + '"'
    for row, column in marks.struck:
        sheet.cell(row, column).font = Font(strike=True)
    for row in marks.hidden_rows:
        sheet.row_dimensions[row].hidden = True
    for column in marks.hidden_columns:
        sheet.column_dimensions[get_column_letter(column)].hidden = True
    for first_row, first_column, last_row, last_column in merged:
        span = (first_row, min(last_row, sheet.max_row), first_column, min(last_column, sheet.max_column))
        if sum(cell.value is not None for row in sheet.iter_rows(*span) for cell in row) <= 1:  # merging keeps but the first
            sheet.merge_cells(None, span[0], span[2], span[1], span[3])
    sheet.sheet_state = "hidden" if marks.hidden_sheet else "visible"


def _sheet_name(name: str) -> str:
    return _FORBIDDEN.sub("_", clean(name)).strip("'")[:_LONGEST_NAME] or "Sheet"


def _cells(sheet: Worksheet) -> Iterator[Any]:
    """The cells that hold something; the others of a merged range cannot be written to."""
    return (cell for row in sheet.iter_rows() for cell in row if cell.value is not None)


def _widen(sheet: Worksheet) -> None:
    """Columns as wide as their texts, within reason."""
    from openpyxl.utils import get_column_letter

    for number, cells in enumerate(sheet.iter_cols(), start=1):
        longest = max((len(str(cell.value)) for cell in cells if cell.value is not None), default=0)
        sheet.column_dimensions[get_column_letter(number)].width = min(max(longest + 2, 8), 42)


def _show_bare_formulas(copy: Workbook, book: Book) -> None:
    """Where a formula has no stored value, its text stands as text."""
    for name in book.names:
        if name in copy.sheetnames:
            for (row, column), damaged in book.marks(name).damaged.items():
                if damaged.kind == "formula":
                    put_value(copy[name].cell(row, column), damaged.shown)


def _mark(copy: Workbook, pairs: Iterable[tuple[Note, Question]]) -> None:
    """Fills and frames each cell in question; all its questions stand in one comment, below the user's own."""
    from openpyxl.comments import Comment
    from openpyxl.styles import Border, PatternFill, Side

    edge = Side(style="medium")
    asked: dict[CellRef, list[str]] = {}
    for note, question in pairs:
        if note.ref is not None and _sheet_name(note.ref.sheet) in copy.sheetnames:
            asked.setdefault(note.ref, []).append(_said(question))
    for ref, texts in asked.items():
        sheet = copy[_sheet_name(ref.sheet)]
        row, column = ref.row, ref.column
        for merged in sheet.merged_cells.ranges:
            if merged.min_row <= row <= merged.max_row and merged.min_col <= column <= merged.max_col:
                row, column = merged.min_row, merged.min_col
        cell = sheet.cell(row, column)
        cell.fill = PatternFill("solid", start_color="FFFFF2CC")
        cell.border = Border(left=edge, right=edge, top=edge, bottom=edge)
        own = f"{cell.comment.text}\n\n" if cell.comment is not None else ""
        text = clean(own + "\n\n".join(texts))
        cell.comment = Comment(text, "holesched", height=40 + 18 * (text.count("\n") + len(text) // 45), width=360)


def _said(question: Question) -> str:
    """A question as a comment says it."""
    meanwhile = (question.assumed or "as read") if question.planned else "not planned"
    lines = [
        f"Question {question.number}: {question.problem}",
        f"Suggestion: {question.suggestion}" if question.suggestion else "",
        f"Meanwhile: {meanwhile}",
    ]
    return "\n".join(line for line in lines if line)


def _list(copy: Workbook, questions: Sequence[Question]) -> None:
    """The questions on a sheet of their own, with room for the answers: comments are not printed."""
    name = LIST_NAME
    while name in copy.sheetnames:
        name += "_"
    columns = (
        Column("No.", 6),
        Column("Where", 30),
        Column("As written", 28),
        Column("Problem", 46),
        Column("Suggestion", 40),
        Column("Meanwhile", 26),
        Column("Answer", 40),
    )
    rows = tuple(
        (
            question.number,
            question.where,
            question.text,
            question.problem,
            question.suggestion,
            question.assumed if question.planned else "not planned",
            None,
        )
        for question in questions
    )
    fill_sheet(copy.create_sheet(name), Table(name, columns, rows))
