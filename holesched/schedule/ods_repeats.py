"""How large the sheets of an .ods workbook would become with their repeats written out: looked at before any reader does."""

from __future__ import annotations

import re
from xml.parsers import expat

from holesched.errors import CannotRead
from holesched.schedule import limits

_ROWS_REPEATED = re.compile(rb"table:number-rows-repeated=\"(\d{1,9})\"")
_COLUMNS_REPEATED = re.compile(rb"table:number-columns-repeated=\"(\d{1,9})\"")
_SPACES = re.compile(rb"\btext:c\s*=\s*[\"'](\d{1,9})[\"']")
_ANY_SPACES = re.compile(rb"\btext:c\s*=")
_REMEDY = "Save the hole table alone in a new workbook."


def check_repeats(content: bytes, file: str) -> None:
    """Refuses a sheet whose repeated rows, columns and spaces, written out, pass the limits, and one inside another's cell.
    Raises CannotRead."""
    try:
        expat.ParserCreate().Parse(content, True)
    except expat.ExpatError as problem:  # the quick reader may wait for an end that does not come
        raise CannotRead("the workbook is damaged: a sheet cannot be read.", file, "Save it again.") from problem
    for word, pattern in ((b"number-rows-repeated", _ROWS_REPEATED), (b"number-columns-repeated", _COLUMNS_REPEATED)):
        if content.count(word) != len(pattern.findall(content)):
            raise CannotRead("the workbook is damaged: a repeat in it cannot be read.", file, "Save it again.")
    if b"text:c" in content:
        spaces = _SPACES.findall(content)
        if len(spaces) != len(_ANY_SPACES.findall(content)):
            raise CannotRead("the workbook is damaged: a number of spaces cannot be read.", file, "Save it again.")
        limits.check(sum(map(int, spaces)), limits.REPEATED_CHARACTERS, "characters of text", file, _REMEDY)
    tables = re.split(rb"<table:table\s", content)[1:]
    if any(b"</table:table>" not in table for table in tables):
        raise CannotRead("a cell of it holds a table of its own.", file, _REMEDY)
    for table in tables:
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
    last = max(body.rfind(b"office:value-type"), body.rfind(b"<text:p"), body.rfind(b"table:formula"))
    if last < 0:
        return 0
    body = body[: body.find(b">", last)]
    cells = body.count(b"<table:table-cell") + body.count(b"<table:covered-table-cell")
    return cells + sum(int(number) - 1 for number in _COLUMNS_REPEATED.findall(body) if int(number))
