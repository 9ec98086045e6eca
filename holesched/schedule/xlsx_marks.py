"""The side reader for the sheets of .xlsx and .xlsm: a few searches over the XML beside the quick reader.

It looks only for what is rare: errors, formulas without a stored value, formats that add signs, raised or struck text,
hidden rows. A sheet whose XML is not written in the usual way is first rewritten, so that the searches can be plain.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from html import escape, unescape
from xml.parsers import expat

from holesched.errors import CannotRead
from holesched.notes import CellRef
from holesched.schedule import limits
from holesched.schedule.damage import Damaged, typed_text
from holesched.schedule.marks import Address, Marks
from holesched.schedule.number_formats import damaged_date, is_date_code, shown_number
from holesched.schedule.xlsx_parts import (
    STRINGS,
    WORKBOOK,
    Style,
    counts_from_1904,
    raised_strings,
    raised_text,
    special_styles,
)

_UNUSUAL_CELL = re.compile(rb"<c(?![a-zA-Z]| r=\"[A-Z]\d{1,5}\")")
"""A cell that is not written as <c r="A1" or lies beyond column Z or row 99,999."""
_ANY_CELL = re.compile(rb"<c[\s>/]")
_PREFIXED_CELL = re.compile(rb":c[\s>/]")
_FILLED_CELL = re.compile(rb"<c r=\"([A-Z]{1,3})(\d{1,7})\"[^>]*(?<!/)>")
_NO_ADDRESS = re.compile(rb"<c r=\"(?![A-Z]{1,3}\d{1,7}\")([^\"]*)")
_ERROR = re.compile(rb"<c r=\"([A-Z]+)(\d+)\"[^>]*\bt=\"e\"[^>]*>\s*(?:<f\b[^>]*?(?:/>|>([^<]*)</f>)\s*)?<v>([^<]*)</v>")
_BARE_FORMULA = re.compile(rb"<c r=\"([A-Z]+)(\d+)\"[^>]*>\s*<f\b[^>]*?(?:/>|>([^<]*)</f>)\s*(?:<v\s*/>|<v>\s*</v>)?\s*</c>")
_SHARED = re.compile(rb"<c r=\"([A-Z]+)(\d+)\"[^>]*\bt=\"s\"[^>]*>\s*<v>(\d+)</v>")
_INLINE = re.compile(rb"<c r=\"([A-Z]+)(\d+)\"[^>]*\bt=\"inlineStr\"[^>]*>\s*<is>(.*?)</is>", re.S)
_HIDDEN_ROW = re.compile(rb"<row\b[^>]*\bhidden=\"(?:1|true)\"[^>]*>")
_HIDDEN_COLUMN = re.compile(rb"<col\b[^>]*\bhidden=\"(?:1|true)\"[^>]*>")


def checked_form(xml: bytes, file: str, sheet: str) -> bytes:
    """The sheet's XML with every cell as <c r="A1" ...>, without prefixes; unchanged when it is so already.

    Raises CannotRead for XML that is damaged, and for a sheet whose filled cells span more than can be held.
    """
    if not _PREFIXED_CELL.search(xml) and not _UNUSUAL_CELL.search(xml):
        return xml
    if _PREFIXED_CELL.search(xml) or len(_ANY_CELL.findall(xml)) != xml.count(b'<c r="'):
        xml = _Rewriter(xml, file).text
    _check_extent(xml, file, sheet)
    return xml


class _Rewriter:
    """Writes a sheet's rows and cells anew, with the addresses that the quick reader gives them."""

    _KEPT = frozenset(("row", "c", "f", "v", "is", "t", "r", "rPr", "vertAlign", "strike", "col"))

    def __init__(self, xml: bytes, file: str) -> None:
        self._out: list[str] = []
        self._file = file
        self._row = self._column = 0
        parser = expat.ParserCreate()
        parser.StartElementHandler = self._start
        parser.EndElementHandler = self._end
        parser.CharacterDataHandler = self._text
        try:
            parser.Parse(xml, True)
        except expat.ExpatError as problem:
            raise CannotRead("the workbook is damaged: a sheet cannot be read.", file, "Save it again.") from problem
        self.text = "".join(self._out).encode()

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        name = name.rpartition(":")[2]
        if name not in self._KEPT:
            return
        if name == "row":
            self._row = int(attributes["r"]) if attributes.get("r", "").isdecimal() else self._row + 1
            self._column = 0
        elif name == "c":
            if match := re.fullmatch(r"([A-Z]{1,3})(\d{1,7})", attributes.get("r", "")):
                self._column, self._row = column_number(match[1].encode()), int(match[2])
            elif "r" in attributes:
                raise _no_address(attributes["r"], self._file)
            else:
                self._column += 1
            attributes = {"r": CellRef("", "", self._row, self._column).cell} | {
                k: v for k, v in attributes.items() if k != "r"
            }
        written = "".join(f' {key}="{escape(value)}"' for key, value in attributes.items())
        self._out.append(f"<{name}{written}>")

    def _end(self, name: str) -> None:
        name = name.rpartition(":")[2]
        if name in self._KEPT:
            self._out.append(f"</{name}>")

    def _text(self, text: str) -> None:
        self._out.append(escape(text, quote=False))


def _no_address(text: str, file: str) -> CannotRead:
    return CannotRead(f"the workbook is damaged: a cell is said to be at '{text[:20]}'.", file, "Save it again.")


def _check_extent(xml: bytes, file: str, sheet: str) -> None:
    """Refuses a sheet (in its usual form) whose filled cells span more than can be held. Raises CannotRead."""
    if other := _NO_ADDRESS.search(xml):
        raise _no_address(_decoded(other[1]), file)
    last, wide = 0, 1
    for letters, row in _FILLED_CELL.findall(xml):
        last, wide = max(last, int(row)), max(wide, column_number(letters))
    remedy = "Delete what stands far outside the table, or save the table alone in a new workbook."
    limits.check(last, limits.ROWS, "rows", f"{file}!{sheet}", remedy)
    limits.check(last * wide, limits.GRID_CELLS, "cells", f"{file}!{sheet}", remedy)


def read_marks(xml: bytes, parts: Mapping[str, bytes], hidden_sheet: bool) -> Marks:
    """The marks of one sheet in its usual form; `parts` are the workbook's others."""
    styles, raised = special_styles(parts), raised_strings(parts.get(STRINGS, b""))
    damaged: dict[Address, Damaged] = {}
    if b't="e"' in xml:
        for letters, row, formula, shown in _ERROR.findall(xml):
            damaged[int(row), column_number(letters)] = Damaged("error", _decoded(shown), typed_text(_decoded(formula)))
    if b"<f" in xml:
        for letters, row, formula in _BARE_FORMULA.findall(xml):
            shown = f"={_decoded(formula)}" if formula else "(formula)"
            damaged[int(row), column_number(letters)] = Damaged("formula", shown)
    if raised:
        found = ((row, letters, raised.get(int(number))) for letters, row, number in _SHARED.findall(xml))
        damaged.update({(int(row), column_number(letters)): bad for row, letters, bad in found if bad})
    if b"vertAlign" in xml or b"strike" in xml:
        inline = ((row, letters, raised_text(item)) for letters, row, item in _INLINE.findall(xml))
        damaged.update({(int(row), column_number(letters)): bad for row, letters, bad in inline if bad})
    shown_as, struck = _styled_cells(xml, styles, damaged, counts_from_1904(parts[WORKBOOK])) if styles else ({}, set())
    rows: tuple[int, ...] = ()
    columns: tuple[int, ...] = ()
    if b' hidden="' in xml:
        rows = tuple(number for tag in _HIDDEN_ROW.findall(xml) if (number := _attribute(tag, b"r")))
        columns = tuple(column for tag in _HIDDEN_COLUMN.findall(xml) for column in _column_span(tag))
    return Marks(rows, columns, hidden_sheet, damaged, shown_as, frozenset(struck))


def _styled_cells(
    xml: bytes, styles: Mapping[int, Style], damaged: dict[Address, Damaged], from_1904: bool
) -> tuple[dict[Address, str], set[Address]]:
    """Cells of the styles that matter: dates join `damaged`; numbers as shown, and struck cells, are returned."""
    numbers = b"|".join(str(number).encode() for number in styles)
    if not re.search(rb" s=\"(?:" + numbers + rb")\"", xml):
        return {}, set()
    pattern = re.compile(
        rb"<c r=\"([A-Z]+)(\d+)\"[^>]*\bs=\"(" + numbers + rb")\"([^>]*)(?<!/)>\s*"
        rb"(?:<f\b[^>]*?(?:/>|>[^<]*</f>)\s*)?<(?:v>([^<]*)<|is>)"
    )
    shown_as: dict[Address, str] = {}
    struck: set[Address] = set()
    for letters, row, number, rest, content in pattern.findall(xml):
        at, style = (int(row), column_number(letters)), styles[int(number)]
        if style.struck:
            struck.add(at)
        is_number = not re.search(rb"\bt=\"(?!n\")", rest) and re.fullmatch(rb"[-+.\deE]+", content)
        if not style.code or not is_number or at in damaged:
            continue
        if is_date_code(style.code):
            damaged[at] = damaged_date(float(content), style.code, from_1904=from_1904)
        else:
            shown_as[at] = shown_number(float(content), style.code)
    return shown_as, struck


def column_number(letters: bytes) -> int:
    """A is 1, Z 26, AA 27."""
    number = 0
    for letter in letters:
        number = 26 * number + letter - 64
    return number


def _attribute(tag: bytes, name: bytes) -> int:
    match = re.search(rb"\b" + name + rb"=\"(\d+)\"", tag)
    return int(match[1]) if match else 0


def _column_span(tag: bytes) -> range:
    """The columns of a <col> element; a span to the end of the sheet hides nothing that is there to read."""
    first, last = _attribute(tag, b"min"), _attribute(tag, b"max")
    return range(first, min(last, first + 50) + 1) if first else range(0)


def _decoded(text: bytes) -> str:
    return unescape(text.decode("utf-8", "replace"))
