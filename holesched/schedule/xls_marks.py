"""The side reader for .xls, by xlrd: hidden rows, errors, number formats, runs and struck text."""

from __future__ import annotations

import io
from collections.abc import Iterator
from typing import TYPE_CHECKING

from holesched.schedule import limits
from holesched.schedule.damage import Damaged, joined_runs
from holesched.schedule.marks import Address, Marks
from holesched.schedule.number_formats import adds_meaning, damaged_date, is_date_code, shown_number
from holesched.schedule.xls_container import Stream

if TYPE_CHECKING:
    from xlrd.book import Book
    from xlrd.sheet import Sheet

_HEIGHTS = {0: "", 1: "superscript", 2: "subscript"}
_LONGEST_TEXT = 32_767
"""Characters that a shared text may have (from memory)."""
_FORMULA = "(formula)"
"""Its own text would have to be put together from tokens; that it has no stored value is what counts."""


def open_side(stream: Stream, file: str) -> Book | None:
    """The workbook of a stream, its sheets not yet read; None where xlrd cannot read it.

    Raises CannotRead where cells refer so often to a long shared text that writing it out would fill the memory.
    """
    import xlrd

    try:
        book = xlrd.open_workbook(
            file_contents=stream.content, formatting_info=True, on_demand=True, ragged_rows=True, logfile=io.StringIO()
        )
        longest = max(map(len, book._sharedstrings), default=0)
    except Exception:  # xlrd raises whatever a damaged record makes it trip over
        book, longest = None, min(len(stream.content), _LONGEST_TEXT)
    remedy = "Save the hole table alone in a new workbook."
    limits.check(stream.references * longest, limits.REPEATED_CHARACTERS, "characters of text", file, remedy)
    return book


def read_marks(book: Book | None, name: str) -> Marks:
    """The marks of one sheet; `unseen` where xlrd cannot read what the quick reader could."""
    try:
        return Marks(unseen=True) if book is None else _marks(book, book.sheet_by_name(name))
    except Exception:  # as above
        return Marks(unseen=True)


def _marks(book: Book, sheet: Sheet) -> Marks:
    import xlrd

    damaged: dict[Address, Damaged] = {}
    shown: dict[Address, str] = {}
    struck: set[Address] = set()
    for row in range(sheet.nrows):
        for column in range(sheet.row_len(row)):
            at, cell = (row + 1, column + 1), sheet.cell(row, column)
            if cell.ctype in (xlrd.XL_CELL_EMPTY, xlrd.XL_CELL_BLANK):
                continue
            style = book.xf_list[cell.xf_index]
            code = book.format_map[style.format_key].format_str
            if book.font_list[style.font_index].struck_out:
                struck.add(at)
            if cell.ctype == xlrd.XL_CELL_ERROR:
                damaged[at] = Damaged("error", xlrd.error_text_from_code.get(cell.value, "#ERROR"))
            elif cell.ctype == xlrd.XL_CELL_TEXT and cell.value == "":
                damaged[at] = Damaged("formula", _FORMULA)
            elif cell.ctype == xlrd.XL_CELL_DATE and is_date_code(code):
                damaged[at] = damaged_date(cell.value, code, from_1904=book.datemode == 1)
            elif cell.ctype == xlrd.XL_CELL_NUMBER and adds_meaning(code):
                shown[at] = shown_number(cell.value, code)
            elif runs := joined_runs(_runs(book, sheet, row, column)):
                damaged[at] = runs
    hidden_rows = tuple(sorted(row + 1 for row, info in sheet.rowinfo_map.items() if info.hidden))
    hidden_columns = tuple(sorted(column + 1 for column, info in sheet.colinfo_map.items() if info.hidden))
    return Marks(hidden_rows, hidden_columns, bool(sheet.visibility), damaged, shown, frozenset(struck))


def _runs(book: Book, sheet: Sheet, row: int, column: int) -> Iterator[tuple[str, str]]:
    """Each run's text with its height, or "struck"; nothing for a text in one font."""
    starts = sheet.rich_text_runlist_map.get((row, column))
    if not starts:
        return
    text = sheet.cell_value(row, column)
    yield text[: starts[0][0]], ""
    for (start, font), end in zip(starts, [*(start for start, _ in starts[1:]), len(text)], strict=True):
        face = book.font_list[font]
        yield text[start:end], "struck" if face.struck_out else _HEIGHTS.get(face.escapement, "")
