"""The side reader for .ods: how large the sheet would become with its repeats, hidden rows, cells in error."""

from __future__ import annotations

import re
from html import unescape

from holesched.errors import CannotRead
from holesched.schedule import limits
from holesched.schedule.damage import Damaged
from holesched.schedule.marks import Address, Marks

CONTENT = "content.xml"
_TABLE = re.compile(rb"<table:table\s[^>]*?table:name=\"([^\"]*)\"[^>]*>(.*?)</table:table>", re.S)
_ROW = re.compile(rb"<table:table-row\b([^>]*?)(?:/>|>(.*?)</table:table-row>)", re.S)
_CELL = re.compile(rb"<table:(?:covered-)?table-cell\b([^>]*?)(?:/>|>(.*?)</table:(?:covered-)?table-cell>)", re.S)
_TEXT = re.compile(rb"<text:p\b[^>]*>(.*?)</text:p>", re.S)
_MARKUP = re.compile(rb"<[^>]*>")
_ROWS_REPEATED = re.compile(rb"table:number-rows-repeated=\"(\d{1,9})\"")
_COLUMNS_REPEATED = re.compile(rb"table:number-columns-repeated=\"(\d{1,9})\"")
_REMEDY = "Save the hole table alone in a new workbook."


def check_repeats(content: bytes, file: str) -> None:
    """Refuses a sheet whose repeated rows and columns, written out, pass the limits. Raises CannotRead."""
    for word, pattern in ((b"number-rows-repeated", _ROWS_REPEATED), (b"number-columns-repeated", _COLUMNS_REPEATED)):
        if content.count(word) != len(pattern.findall(content)):
            raise CannotRead("the workbook is damaged: a repeat in it cannot be read.", file, "Save it again.")
    for table in re.split(rb"<table:table\s", content)[1:]:
        rows = filled = wide = 0
        for row in table.split(b"<table:table-row")[1:]:
            head, _, body = row.partition(b">")
            repeat = _ROWS_REPEATED.search(head)
            rows += int(repeat[1]) if repeat else 1
            width = _width(body)
            if width:
                filled, wide = rows, max(wide, width)
        limits.check(filled, limits.ROWS, "rows", file, _REMEDY)
        limits.check(filled * wide, limits.GRID_CELLS, "cells", file, _REMEDY)


def _width(body: bytes) -> int:
    """Columns of a row up to its last cell that holds something; 0 for an empty row."""
    body = body.partition(b"</table:table-row>")[0]
    last = max(body.rfind(b"office:value-type"), body.rfind(b"<text:p"))
    if last < 0:
        return 0
    body = body[: body.find(b">", last)]
    cells = body.count(b"<table:table-cell") + body.count(b"<table:covered-table-cell")
    return cells + sum(int(number) - 1 for number in _COLUMNS_REPEATED.findall(body) if int(number))


def read_marks(content: bytes, sheet: str) -> Marks:
    """The marks of one sheet. ODF keeps the shown text of an error beside an empty value."""
    table = next((body for name, body in _TABLE.findall(content) if unescape(name.decode()) == sheet), b"")
    if b'value-type="error"' not in table and b'="collapse"' not in table and b'="filter"' not in table:
        return Marks()
    damaged: dict[Address, Damaged] = {}
    hidden: list[int] = []
    number = 0
    for head, body in _ROW.findall(table):
        repeat = _ROWS_REPEATED.search(head)
        if re.search(rb"table:visibility=\"(?:collapse|filter)\"", head) and b"office:value-type" in body:
            hidden += range(number + 1, number + 1 + (int(repeat[1]) if repeat else 1))
        if b'value-type="error"' in body:
            damaged.update({(number + 1, column): bad for column, bad in _errors(body)})
        number += int(repeat[1]) if repeat else 1
    return Marks(tuple(hidden), (), False, damaged)


def _errors(body: bytes) -> list[tuple[int, Damaged]]:
    """Columns of a row's cells in error, with the text they show."""
    found, column = [], 1
    for head, inside in _CELL.findall(body):
        if b'value-type="error"' in head:
            text = _TEXT.search(inside)
            shown = unescape(_MARKUP.sub(b"", text[1]).decode("utf-8", "replace")) if text else "#ERROR"
            found.append((column, Damaged("error", shown)))
        repeat = _COLUMNS_REPEATED.search(head)
        column += int(repeat[1]) if repeat else 1
    return found
