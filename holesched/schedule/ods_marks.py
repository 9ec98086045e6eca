"""The side reader for .ods: hidden rows and columns, merged ranges, errors, what number formats add, raised or struck text.

Beside a cell's value OpenDocument keeps the text that the cell shows: what of it is no number, the format has added.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from io import BytesIO
from xml.etree.ElementTree import Element, ParseError, iterparse

from holesched.errors import CannotRead
from holesched.schedule.damage import Damaged, joined_runs, typed_text
from holesched.schedule.limits import CELL_CHARACTERS
from holesched.schedule.marks import Address, Marks

CONTENT, STYLES = "content.xml", "styles.xml"
_OFFICE, _STYLE, _TABLE, _TEXT = (
    f"{{urn:oasis:names:tc:opendocument:xmlns:{name}:1.0}}" for name in ("office", "style", "table", "text")
)
_WHOLE = frozenset((_STYLE + "style", _TABLE + "table-column", _TABLE + "table-row"))
_CELLS = frozenset((_TABLE + "table-cell", _TABLE + "covered-table-cell"))
_HIDDEN = frozenset(("collapse", "filter"))
_NUMBERS = frozenset(("float", "percentage", "currency"))
_PLAIN_NUMBER = re.compile(r"[-+−]?[\d.,'’\s]+(?:E[-+]?\d+)?|#+", re.I)
_POSITION = re.compile(r"(?P<super>super|\d*[1-9]\d*%)|(?P<sub>sub|-\d*[1-9]\d*%)")
"""Of text: the words, or by how much of a line's height it is raised."""
_RARE = (b'value-type="error"', b'="collapse"', b'="filter"', b"-spanned=", b"text-line-through", b"text-position",
         b'display="false"')  # fmt: skip
_RARE_CELL = re.compile(
    rb'office:value="[^"]*"[^>]*>(?!<text:p>[-+\d.,]*</text:p></table:)|'
    rb'table:formula="[^"]*"(?! office:value-type="(?!error))'
)
"""What a workbook has that has any marks: looked for first, since most have none."""
_SPAN_NAMED = 50
"""Columns of one hidden span that are named; one that runs to the end of the sheet hides nothing that is there to read."""


@dataclass(frozen=True, slots=True)
class _Style:
    """What of a style matters: its text's height ("", "superscript", "subscript"), struck through, a sheet not displayed."""

    height: str = ""
    struck: bool = False
    undisplayed: bool = False


_PLAIN = _Style()
Runs = Iterator[tuple[str, _Style]]


def read_marks(parts: Mapping[str, bytes], name: str, file: str) -> Marks:
    """The marks of one sheet. Raises CannotRead for XML that is damaged."""
    if not any(word in xml for xml in parts.values() for word in _RARE) and not _RARE_CELL.search(parts[CONTENT]):
        return Marks()
    styles: dict[str, _Style] = {}
    sheet: _Sheet | None = None
    try:
        for element in (element for member in (STYLES, CONTENT) for element in _elements(parts.get(member, b"<none/>"))):
            if element.tag == _STYLE + "style":
                styles[element.get(_STYLE + "name", "")] = _style(element, styles)
            elif element.tag == _TABLE + "table":
                if sheet is not None:
                    break
                if element.get(_TABLE + "name") == name:
                    sheet = _Sheet(styles, styles.get(element.get(_TABLE + "style-name", ""), _PLAIN).undisplayed)
            elif sheet is not None and element.tag == _TABLE + "table-column":
                sheet.add_column(element)
            elif sheet is not None:
                sheet.add_row(element)
    except (ParseError, ValueError, RecursionError) as problem:
        raise CannotRead("the workbook is damaged: a sheet cannot be read.", file, "Save it again.") from problem
    return sheet.marks() if sheet else Marks()


def _elements(xml: bytes) -> Iterator[Element]:
    """Styles, columns and rows, each whole and forgotten afterwards, and each sheet's own element at its beginning."""
    path: list[Element] = []
    within = 0
    for event, element in iterparse(BytesIO(xml), ("start", "end")):
        whole = element.tag in _WHOLE
        if event == "start":
            path.append(element)
            within += whole
            if element.tag == _TABLE + "table" and not within:
                yield element
            continue
        path.pop()
        within -= whole
        if not within:
            if whole:
                yield element
            if path:
                path[-1].remove(element)


def _style(element: Element, styles: Mapping[str, _Style]) -> _Style:
    """A style with what it leaves to its parent."""
    found = styles.get(element.get(_STYLE + "parent-style-name", ""), _PLAIN)
    height, struck, undisplayed = found.height, found.struck, found.undisplayed
    for properties in element:
        if position := properties.get(_STYLE + "text-position"):
            raised = _POSITION.match(position)
            height = f"{raised.lastgroup}script" if raised else ""
        if line := properties.get(_STYLE + "text-line-through-style") or properties.get(_STYLE + "text-line-through-type"):
            struck = line != "none"
        undisplayed = properties.get(_TABLE + "display", "true") == "false"
    return _Style(height, struck, undisplayed)


@dataclass(slots=True)
class _Sheet:
    """The marks of one sheet while its columns and rows pass by."""

    styles: Mapping[str, _Style]
    undisplayed: bool
    hidden_rows: list[int] = field(default_factory=list)
    hidden_columns: list[int] = field(default_factory=list)
    damaged: dict[Address, Damaged] = field(default_factory=dict)
    shown: dict[Address, str] = field(default_factory=dict)
    struck: set[Address] = field(default_factory=set)
    merged: list[tuple[int, int, int, int]] = field(default_factory=list)
    rows: int = 0
    columns: list[tuple[range, str]] = field(default_factory=list)
    """Spans of columns, each with the style of cells that name none."""

    def marks(self) -> Marks:
        return Marks(
            tuple(self.hidden_rows), tuple(self.hidden_columns), self.undisplayed, self.damaged, self.shown,
            frozenset(self.struck), merged=tuple(self.merged),
        )  # fmt: skip

    def add_column(self, element: Element) -> None:
        first = self.columns[-1][0].stop if self.columns else 1
        span = range(first, first + _count(element, "number-columns-repeated"))
        if element.get(_TABLE + "visibility") in _HIDDEN:
            self.hidden_columns += span[:_SPAN_NAMED]
        self.columns.append((span, element.get(_TABLE + "default-cell-style-name", "")))

    def add_row(self, element: Element) -> None:
        rows = range(self.rows + 1, self.rows + 1 + _count(element, "number-rows-repeated"))
        self.rows = rows.stop - 1
        column = 1
        for cell in element:
            if cell.tag in _CELLS:
                columns = range(column, column + _count(cell, "number-columns-repeated"))
                column = columns.stop
                self._add_cell(cell, rows, columns, element.get(_TABLE + "default-cell-style-name", ""))
        if element.get(_TABLE + "visibility") in _HIDDEN and any(len(cell) for cell in element):
            self.hidden_rows += rows

    def _add_cell(self, cell: Element, rows: range, columns: range, row_style: str) -> None:
        down, right = _count(cell, "number-rows-spanned"), _count(cell, "number-columns-spanned")
        if down > 1 or right > 1:
            self.merged.append((rows[0], columns[0], rows[0] + down - 1, columns[0] + right - 1))
        if not len(cell) and _TABLE + "formula" not in cell.attrib:
            return
        style = self.styles.get(cell.get(_TABLE + "style-name") or row_style or self._column_style(columns[0]), _PLAIN)
        runs = [run for paragraph in cell if paragraph.tag == _TEXT + "p" for run in _runs(paragraph, style, self.styles)]
        text, kind = "".join(text for text, _ in runs).strip(), cell.get(_OFFICE + "value-type")
        damaged = _damaged(cell, text, kind, runs)
        shown = text if kind in _NUMBERS and text and not _PLAIN_NUMBER.fullmatch(text) else ""
        if damaged or shown or style.struck:
            for at in ((row, column) for row in rows for column in columns):
                if damaged:
                    self.damaged[at] = damaged
                if shown:
                    self.shown[at] = shown
                if style.struck:
                    self.struck.add(at)

    def _column_style(self, column: int) -> str:
        return next((style for span, style in self.columns if column in span), "")


def _damaged(cell: Element, text: str, kind: str | None, runs: Iterable[tuple[str, _Style]]) -> Damaged | None:
    """A cell in error, with a formula that has no value, or whose runs were joined; None for a sound one."""
    formula = cell.get(_TABLE + "formula")
    if any(value == "error" and name.endswith("}value-type") for name, value in cell.attrib.items()):
        return Damaged("error", text or "#ERROR", typed_text(formula or ""))
    if formula is not None and kind is None and not text:
        return Damaged("formula", formula)
    heights = [(text, "struck" if style.struck else style.height) for text, style in runs]
    return joined_runs(heights) if kind == "string" and len({height for _, height in heights}) > 1 else None


def _runs(element: Element, style: _Style, styles: Mapping[str, _Style]) -> Runs:
    """The texts of a paragraph with the style of each; spaces and breaks are elements."""
    if element.text:
        yield element.text, style
    for child in element:
        if child.tag == _TEXT + "s":
            yield " " * min(int(child.get(_TEXT + "c", "1")), CELL_CHARACTERS), style
        elif child.tag == _TEXT + "line-break":
            yield "\n", style
        else:
            yield from _runs(child, styles.get(child.get(_TEXT + "style-name", ""), style), styles)
        if child.tail:
            yield child.tail, style


def _count(element: Element, name: str) -> int:
    return int(element.get(_TABLE + name, "1"))
