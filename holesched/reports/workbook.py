"""Tables as a workbook: the only writer of xlsx. It opens clean, filters and sorts, and holds no formula.

openpyxl takes a text that begins with = for a formula; here every text is written as text whatever it begins with, and
marked to stay text when someone edits the cell.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from typing import TYPE_CHECKING, Any
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from holesched.reports.base import RunStamp

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

PAPERS = {"A4": 9, "Letter": 1}
"""Paper sizes as a workbook numbers them (ECMA-376, ST_PaperSize from memory)."""
FOOT_LONGEST = 100
"""A page's foot holds 255 letters in all, those of its codes included."""
Value = str | int | float | None
_LINE_POINTS = 15
"""Height of a line of text in a row."""
LONGEST = 32_000
"""Characters; a cell takes 32 767."""
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff\ud800-\udfff]")


@dataclass(frozen=True, slots=True)
class Column:
    """A column's heading, its width in characters, and the decimals of its numbers (None: whole numbers and text)."""

    title: str
    width: int = 12
    places: int | None = None


@dataclass(frozen=True, slots=True)
class Table:
    """One sheet: rows of values under their columns; `lead` are lines of text above the headings."""

    name: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Value, ...], ...]
    lead: tuple[str, ...] = ()


def workbook(tables: tuple[Table, ...], stamp: RunStamp, foot: str = "", paper: str = "A4") -> bytes:
    """The workbook's bytes; equal tables and stamp give equal bytes. `foot` stands under every printed page."""
    from openpyxl import Workbook

    book = Workbook()
    book.remove(book.active)
    moment = datetime(stamp.date.year, stamp.date.month, stamp.date.day)
    book.properties.creator = f"holesched {stamp.version}"
    book.properties.created = moment
    for table in tables:
        sheet = book.create_sheet(table.name)
        fill_sheet(sheet, table)
        sheet.page_setup.paperSize = PAPERS[paper]
        sheet.oddFooter.left.text, sheet.oddFooter.right.text = _foot(foot), "&A, sheet &P of &N"
    raw = BytesIO()
    book.save(raw)
    return dated(raw.getvalue(), moment)


def _foot(text: str) -> str:
    """Text for a page's foot, where & begins a code and too much is refused."""
    return clean(text)[:FOOT_LONGEST].replace("&", "&&")


def fill_sheet(sheet: Worksheet, table: Table) -> None:
    """Writes a table into an empty sheet: headings that stay in view, filters, columns of its widths, to be printed wide."""
    from openpyxl.styles import Alignment, Border, Font, Side
    from openpyxl.utils import get_column_letter

    words, numbers = Alignment(horizontal="left", vertical="top", wrap_text=True, indent=1), Alignment(vertical="top")
    head = len(table.lead) + 1
    for number, line in enumerate(table.lead, start=1):
        put_value(sheet.cell(number, 1), line)
    for number, column in enumerate(table.columns, start=1):
        cell = sheet.cell(head, number)
        put_value(cell, column.title)
        cell.font, cell.alignment, cell.border = Font(bold=True), words, Border(bottom=Side(style="medium"))
        sheet.column_dimensions[get_column_letter(number)].width = column.width
    formats = [f"0.{'0' * column.places}" if column.places else None for column in table.columns]
    for row_number, row in enumerate(table.rows, start=head + 1):
        for number, value in enumerate(row, start=1):
            cell = sheet.cell(row_number, number)
            put_value(cell, value)
            cell.alignment = words if isinstance(value, str) else numbers
            if not isinstance(value, str) and (places := formats[number - 1]) is not None:
                cell.number_format = places
    for row_number, row in enumerate((tuple(column.title for column in table.columns), *table.rows), start=head):
        if (lines := max(map(_lines, row, table.columns), default=1)) > 1:
            sheet.row_dimensions[row_number].height = _LINE_POINTS * lines
    last = get_column_letter(len(table.columns))
    sheet.auto_filter.ref = f"A{head}:{last}{max(head, head + len(table.rows))}"
    sheet.freeze_panes = f"A{head + 1}"
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.print_title_rows = f"{head}:{head}"


def _lines(value: Value, column: Column) -> int:
    """Lines that a text takes in its column; not every program makes a row as high as what is wrapped in it."""
    usable = max(column.width - 3, 1)
    return sum(-(-len(line) // usable) or 1 for line in value.split("\n")) if isinstance(value, str) else 1


def put_value(cell: Any, value: Value) -> None:
    """A value into a cell: numbers as numbers, text as text and never as anything else."""
    if not isinstance(value, str):
        cell.value = value
        return
    cell.value = clean(value)
    cell.data_type = "s"
    if value.lstrip()[:1] in ("=", "+", "-", "@", "'"):
        cell.quotePrefix = True


def clean(text: str) -> str:
    """Text a workbook can hold: no control characters, not longer than a cell, and a long one says that it was cut."""
    text = _CONTROL.sub("�", text)
    return text if len(text) <= LONGEST else f"{text[:LONGEST]} ... (cut)"


def dated(raw: bytes, moment: datetime) -> bytes:
    """A workbook's archive with every date inside it `moment`: openpyxl writes the clock's."""
    fixed = BytesIO()
    stamp = moment.strftime("%Y-%m-%dT%H:%M:%SZ").encode()
    with ZipFile(BytesIO(raw)) as old, ZipFile(fixed, "w", ZIP_DEFLATED) as new:
        for entry in old.infolist():
            content = old.read(entry)
            if entry.filename == "docProps/core.xml":
                content = re.sub(rb"(<dcterms:modified[^>]*>)[^<]*", rb"\g<1>" + stamp, content)
            plain = ZipInfo(entry.filename, (moment.year, moment.month, moment.day, 0, 0, 0))
            plain.compress_type = ZIP_DEFLATED
            new.writestr(plain, content)
    return fixed.getvalue()
