"""Header rows of hole tables: found by their words, wherever they stand, in one row or in two."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from holesched.schedule.cells import Value
from holesched.schedule.columns import Heading, heading, key
from holesched.units import LengthUnit

Words = tuple[tuple[str, str], ...]
"""The user's own header words: (word, field)."""
SIZES = frozenset(("callout", "diameter", "thread"))
"""Fields that say what is made; a hole's row fills one of them."""
PLAIN = 2
"""Rank up to which a header says plainly that it is the callout."""
_WORDY = 4
"""Rank from which it only describes."""
_REPEATABLE = frozenset(("depth", "note", "fit"))
_DIGIT = re.compile(r"\d")
_NUMERIC = re.compile(r"[-+−]?[\d.,]+")


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: our field, its place in the sheet (from 0), its header text, how plainly that names the field,
    and the unit stated with it."""

    field: str
    index: int
    heading: str
    rank: int = 1
    unit: LengthUnit | None = None


@dataclass(frozen=True, slots=True)
class Table:
    """A hole table. Row and column numbers count from 0; `end` and `right` are the first beyond.

    Its rows run from `first` to `end`, the last one filled. `left` to `right` are all columns that belong to it, also
    those without a known header. `repeats` are rows inside that repeat the header.
    """

    columns: tuple[Column, ...]
    header: int
    first: int
    end: int
    left: int
    right: int
    repeats: frozenset[int] = frozenset()
    upward: bool = False

    def column(self, field: str) -> Column | None:
        """The column of a field; None when the table has none."""
        return next((column for column in self.columns if column.field == field), None)

    @property
    def span(self) -> tuple[int, int]:
        """The first and the last column with a known header."""
        return min(c.index for c in self.columns), max(c.index for c in self.columns)


def headers(rows: Sequence[Sequence[Value]], own: Words) -> Iterator[Table]:
    """Every header in the sheet as a table that runs to the sheet's end."""
    plain = None
    skip = -1
    for number, row in enumerate(rows):
        if number < skip or (plain and plain(row)):
            continue
        tables = _headers_at(rows, number, own)
        if tables:
            plain = _plain_row(tables, own)
            skip = tables[0].first
            yield from tables


def _plain_row(tables: Sequence[Table], own: Words) -> Callable[[Sequence[Value]], bool]:
    """A test for the rows below headers: whether a row is an ordinary one at first sight, its size cells filled and no
    header word in them or beside the tables."""
    sizes = [next((c.index for c in table.columns if c.field in SIZES), table.columns[0].index) for table in tables]
    before, beyond = min(table.span[0] for table in tables), max(table.span[1] for table in tables) + 1
    known: set[str] = set()

    def is_plain(row: Sequence[Value]) -> bool:
        for index in sizes:
            value = row[index] if index < len(row) else ""
            if type(value) is str and value not in known:
                if not value.strip() or heading(value.strip(), own):
                    return False
                known.add(value)
        if not before and len(row) <= beyond:
            return True
        beside = (*row[:before], *row[beyond:])
        return not any(type(value) is str and value and heading(value.strip(), own) for value in beside)

    return is_plain


def _headers_at(rows: Sequence[Sequence[Value]], number: int, own: Words) -> list[Table]:
    """The headers that start in a row: none, one, or several side by side; of one row or of two."""
    texts = _texts(rows[number])
    words = {index: found for index, text in texts.items() if (found := heading(text, own))}
    words = {index: word for index, word in words.items() if not _is_label(index, texts, words)}
    if not texts:
        return []
    single = _split(words, rows[number], number, 1)
    below = _texts(rows[number + 1]) if number + 1 < len(rows) else {}
    if not below or any(not isinstance(value, str) and value != "" for value in rows[number + 1]):
        return single
    both = _joined(texts, below, own)
    if both and (_numbers(rows[number][min(both) : max(both) + 1]) or _is_hole_below(words, below, own)):
        return single
    alone = {index: found for index, text in below.items() if (found := heading(text, own))}
    if len(_fields(both)) > max(len(_fields(words)), len(_fields(alone))):
        return _split(both, rows[number + 1], number, 2) or single
    return [] if len(_fields(alone)) > len(_fields(words)) else single


def _is_hole_below(words: dict[int, Heading], below: dict[int, str], own: Words) -> bool:
    """Whether the row under a header is a hole's and no second row of it: texts under known words that are no words
    themselves, one with a digit or half of all. (A lone x or y in a column of ticks is a header word too.)"""
    values = [
        text
        for index, text in below.items()
        if index in words and not heading(text, own) and not heading(f"{words[index].text} {text}", own)
    ]
    return any(map(_DIGIT.search, values)) or 2 * len(values) >= len(below)


def _is_label(index: int, texts: dict[int, str], words: dict[int, Heading]) -> bool:
    """Whether a header word stands apart with a text of its own to its right: a title block's label beside the table."""
    return index > 0 and index - 1 not in texts and index + 1 in texts and index + 1 not in words


def _texts(row: Sequence[Value]) -> dict[int, str]:
    return {index: text for index, value in enumerate(row) if isinstance(value, str) and (text := value.strip())}


def _joined(upper: dict[int, str], lower: dict[int, str], own: Words) -> dict[int, Heading]:
    """Headings of two rows read as one; an upper text without neighbour also stands over the columns to its right."""
    found: dict[int, Heading] = {}
    over = ""
    for index in sorted({*upper, *lower}):
        over = upper.get(index, over)
        low = lower.get(index, "")
        word = heading(f"{over} {low}", own) if key(low) else None
        word = word or (heading(low, own) if low else None) or (heading(over, own) if index in upper else None)
        if word:
            found[index] = word
    return found


def _fields(words: dict[int, Heading]) -> frozenset[str]:
    return frozenset(column.field for column in _assigned(words))


def _split(words: dict[int, Heading], row: Sequence[Value], number: int, height: int) -> list[Table]:
    """Header words as tables: split where the first column's word comes again, if every part is a header by itself."""
    if not words:
        return []
    indexes = sorted(words)
    first = key(words[indexes[0]].text)
    starts = [index for index in indexes if key(words[index].text) == first]
    bounds = list(zip(starts, [*starts[1:], len(row)], strict=True))
    parts = [_header({i: words[i] for i in indexes if low <= i < high}, row, number, height) for low, high in bounds]
    if len(parts) > 1 and all(parts):
        tables = [part for part in parts if part]
        return [
            replace(table, left=0 if place == 0 else low, right=high if place < len(tables) - 1 else table.right)
            for place, (table, (low, high)) in enumerate(zip(tables, bounds, strict=True))
        ]
    whole = _header(words, row, number, height)
    return [whole] if whole else []


def _header(words: dict[int, Heading], row: Sequence[Value], number: int, height: int) -> Table | None:
    """The words as one table's header, or None when they are too few or stand among numbers and other texts."""
    columns = _assigned(words)
    if not columns:
        return None
    fields = {column.field for column in columns}
    low, high = min(words), max(words)
    between = [value for value in row[low : high + 1] if value != "" and not (isinstance(value, str) and not value.strip())]
    numbers = _numbers(between)
    alone = len(columns) == 1 and columns[0].field == "callout" and columns[0].rank <= 1 and len(between) == 1
    named = fields & SIZES and len(fields) >= 2
    placed = fields >= {"tag", "x", "y"}
    if numbers or 2 * len(words) <= len(between) or not (alone or named or placed):
        return None
    return Table(columns, number, number + height, 1 << 30, 0, 1 << 30)


def _numbers(row: Sequence[Value]) -> list[Value]:
    return [v for v in row if (_NUMERIC.fullmatch(v.strip()) if isinstance(v, str) else v != "")]


def _assigned(words: dict[int, Heading]) -> tuple[Column, ...]:
    """One field to a column and, but for depth, fit and note, one column to a field; the plainest words choose first."""
    options = sorted((rank, index, field) for index, word in words.items() for rank, field in word.choices)
    taken: dict[int, Column] = {}
    fields: set[str] = set()
    for rank, index, field in options:
        if index not in taken and (field not in fields or field in _REPEATABLE):
            taken[index] = Column(field, index, words[index].text, rank, words[index].unit)
            fields.add(field)
    if not fields & SIZES:
        for rank, index, field in options:
            if field == "callout" and taken[index].rank > 1:
                taken[index] = Column("callout", index, words[index].text, rank, words[index].unit)
                break
    for rank, index, field in options:
        if index not in taken and field == "callout" and rank <= _WORDY:
            taken[index] = Column("description", index, words[index].text, rank, words[index].unit)
    plain = any(column.field == "callout" and column.rank <= PLAIN for column in taken.values())
    return tuple(_settled(taken[index], fields, plain) for index in sorted(taken))


def _settled(column: Column, fields: set[str], plain: bool) -> Column:
    """Fields that depend on the columns beside them: an angle is a countersink's or a place's, a wordy column may be part
    of the callout, or a remark where another column says plainly that it is the callout."""
    if column.field == "description" and plain:
        return replace(column, field="other")
    if column.field == "polar_angle" and "radius" not in fields:
        return replace(column, field="countersink_angle" if "countersink" in fields else "other")
    if column.field == "radius" and "polar_angle" not in fields:
        return replace(column, field="other")
    if column.field == "callout" and column.rank >= _WORDY and fields & {"diameter", "thread"}:
        return replace(column, field="description")
    return column


def nearest_words(rows: Sequence[Sequence[Value]], own: Words = ()) -> tuple[int, tuple[str, ...]]:
    """The row (from 0) that comes nearest to a header, and its words that are known; for the message that none was found."""
    known = ((number, tuple(text for text in _texts(row).values() if heading(text, own))) for number, row in enumerate(rows))
    return max(known, key=lambda found: len(found[1]), default=(0, ()))
