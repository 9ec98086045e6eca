"""How large the sheets of an .ods workbook would become with their repeats written out: looked at before any reader does."""

from __future__ import annotations

import re

from holesched.errors import CannotRead
from holesched.schedule import limits

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
    last = max(body.rfind(b"office:value-type"), body.rfind(b"<text:p"), body.rfind(b"table:formula"))
    if last < 0:
        return 0
    body = body[: body.find(b">", last)]
    cells = body.count(b"<table:table-cell") + body.count(b"<table:covered-table-cell")
    return cells + sum(int(number) - 1 for number in _COLUMNS_REPEATED.findall(body) if int(number))
