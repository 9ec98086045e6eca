"""Where the hole tables of a sheet are, from their headers: each has its rows and columns to itself.

Understood: title rows above, several tables one below or beside another, repeated headers, a header at the foot of its table
(drawing tables often read upwards) or, after a sort, among its rows.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace

from holesched.schedule.cells import Value, text_of
from holesched.schedule.columns import unit_word
from holesched.schedule.headers import PLAIN, SIZES, Table, Words, headers
from holesched.schedule.lengths import read_length
from holesched.schedule.row_kinds import SPEAKS_OF_HOLES, is_units_row, kind_of, looks_like_tag
from holesched.schedule.title_words import is_title_label

_SHOWN: Mapping[str, Callable[[str], bool]] = {
    "tag": looks_like_tag,
    **dict.fromkeys(("x", "y"), lambda text: read_length(text, "mm") is not None),
    **dict.fromkeys(SIZES, lambda text: bool(SPEAKS_OF_HOLES.search(text))),
}
"""Fields by which a row shows that it is a hole's, and what their text must be like."""


def find_tables(rows: Sequence[Sequence[Value]], own: Words = ()) -> tuple[Table, ...]:
    """The hole tables of a sheet, from top to bottom and left to right; empty when no row is a header."""
    found = list(headers(rows, own))
    if any(_is_strong(table) for table in found):
        found = [table for table in found if _is_strong(table)]
    tables: list[Table] = []
    for table in found:
        above = next((old for old in reversed(tables) if _overlap(old, table) and old.end > table.header), None)
        if above and _same_header(above, table):
            repeated = above.repeats | set(range(table.header, table.first))
            tables[tables.index(above)] = replace(above, repeats=repeated)
            continue
        tables = [_beside(old, table) if old.end > table.header else old for old in tables]
        running = [old for old in tables if old.end > table.header and not _overlap(old, table)]
        tables.append(_clear_of(table, running))
    return tuple(_bounded(rows, tables))


def _is_strong(table: Table) -> bool:
    """Whether a header can be no row of a title block."""
    fields = {column.field for column in table.columns}
    size = table.column("callout")
    return bool(fields & {"tag", "x", "thread", "diameter"}) or (size is not None and size.rank <= PLAIN)


def _overlap(one: Table, other: Table) -> bool:
    return one.span[0] <= other.span[1] and other.span[0] <= one.span[1]


def _same_header(one: Table, other: Table) -> bool:
    places = {(column.field, column.index) for column in other.columns}
    return places == {(column.field, column.index) for column in one.columns}


def _beside(running: Table, new: Table) -> Table:
    """A table above a new header: it ends there when they overlap, else it leaves the new table's columns to it."""
    if _overlap(running, new):
        return replace(running, end=new.header)
    if new.span[0] > running.span[1]:
        return replace(running, right=min(running.right, new.span[0]))
    return replace(running, left=max(running.left, new.span[1] + 1))


def _clear_of(table: Table, running: Sequence[Table]) -> Table:
    for other in running:
        if other.span[1] < table.span[0]:
            table = replace(table, left=max(table.left, table.span[0], other.right))
        else:
            table = replace(table, right=min(table.right, other.left))
    return table


def _bounded(rows: Sequence[Sequence[Value]], headers: Sequence[Table]) -> Iterator[Table]:
    """The tables from their first to their last filled row. What stands above a header is its table's only where no other
    table has it."""
    width = max((len(row) for row in rows), default=0)
    floors: list[tuple[Table, int]] = []
    for header in headers:
        table = replace(header, right=min(header.right, width), end=_last_is_filled(rows, header, width))
        taken = (floor for other, floor in floors if other.left < table.right and table.left < other.right)
        start = _first_above(rows, table, max(taken, default=0))
        floors.append((table, max(table.first, table.end)))
        if table.end > table.first:
            table = _with_units_row(rows, table)
            if start < table.header:
                table = replace(table, first=start, repeats=table.repeats | set(range(table.header, table.first)))
        else:
            table = replace(table, first=start, end=table.header, upward=start < table.header)
        yield table


def _last_is_filled(rows: Sequence[Sequence[Value]], table: Table, width: int) -> int:
    """The end of what is filled below a header."""
    end = max(min(table.end, len(rows)), table.first)
    while end > table.first and not _is_filled(rows[end - 1], table.left, min(table.right, width)):
        end -= 1
    return end


def _first_above(rows: Sequence[Sequence[Value]], table: Table, floor: int) -> int:
    """The first row of the holes that stand above a header, down from `floor`; the header's own when there are none.

    A table read upward may have gaps, which its topmost hole shows. Where holes follow below as well, those above must
    reach down to the header.
    """
    upward = table.end == table.first
    start = table.header
    for number in range(table.header - 1, floor - 1, -1):
        if _is_hole(rows[number], table, sure=not upward):
            start = number
        elif not upward or _is_title(rows[number], table):
            break
    return start


def _is_hole(row: Sequence[Value], table: Table, *, sure: bool) -> bool:
    """Whether a row fits its table by two of tag, X, Y and size; if it must be `sure`, by all that the table has."""
    if _is_title(row, table):
        return False
    fitting: dict[str, bool] = {}
    for column in table.columns:
        if (fits := _SHOWN.get(column.field)) is not None:
            text = text_of(row[column.index]) if column.index < len(row) else ""
            field = "size" if column.field in SIZES else column.field
            fitting[field] = fitting.get(field, False) or bool(text and fits(text))
    enough = len(fitting) if sure else min(2, len(fitting))
    return sum(fitting.values()) >= max(enough, 2 if sure else 1)


def _is_title(row: Sequence[Value], table: Table) -> bool:
    """Whether a row above a table has a label of the title block, or begins as a heading or a note does."""
    texts = [text for value in row[table.left : table.right] if (text := text_of(value))]
    return any(map(is_title_label, texts)) or kind_of(next(iter(texts), "")) in ("title", "note", "origin")


def _with_units_row(rows: Sequence[Sequence[Value]], table: Table) -> Table:
    """The table with the units of a row of units right under its header; the row stays one of its rows."""
    row = rows[table.first] if table.first < table.end else ()
    if not is_units_row([text for value in row[table.left : table.right] if (text := text_of(value))]):
        return table
    units = {index: unit_word(value) for index, value in enumerate(row) if isinstance(value, str)}
    return replace(table, columns=tuple(replace(c, unit=c.unit or units.get(c.index)) for c in table.columns))


def _is_filled(row: Sequence[Value], left: int, right: int) -> bool:
    return any(value != "" and not (isinstance(value, str) and not value.strip()) for value in row[left:right])
