"""Any grid: a table moved, with columns shuffled and junk around it, reads the same; no row of any grid is lost."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from typing import Any

from hypothesis import assume, given
from hypothesis import strategies as st

from holesched.errors import CannotRead
from holesched.notes import CellRef
from holesched.schedule import read_rows as reading
from holesched.schedule.books import Book, Grid
from holesched.schedule.cells import Value
from holesched.schedule.find_table import find_tables
from holesched.schedule.marks import Marks
from holesched.schedule.model import ReadOptions, ScheduleRow
from holesched.schedule.read_rows import RowsRead, read_rows
from holesched.schedule.read_workbook import _choose_sheet
from holesched.schedule.surroundings import Surroundings
from holesched.schedule.table_units import Units
from holesched.schedule.text_file import decode
from holesched.schedule.text_file import read_rows as read_text_rows
from holesched.schedule.title_block import read_title_block

FIELDS = {"TAG": "tag", "X": "x", "Y": "y", "CALLOUT": "callout", "QTY": "quantity", "REMARKS": "note"}
CALLOUTS = (
    "M6-6H ↧12",
    "Ø8 H7 THRU",
    "Ø6.6 THRU ⌴ Ø11 ↧6.8",
    "1/4-20 UNC-2B",
    "#10-32",
    "M8x1\n↧16",
    "ditto",
    "-",
    "M6 x 1,0",
)
JUNK = ("HOLE TABLE", "Material: 6061", "Rev", "B", "xyz", "VIEW A", "Scale 1:1", "", "", "", "0815/4711", "Ø", "NOTE 1")
AROUND = Surroundings("f", "s", Units("mm", (), True))

numbers = st.floats(-500, 500).map(lambda x: round(x, 3))
tags = st.builds(lambda letter, number: f"{letter}{number}", st.sampled_from("ABCD"), st.integers(1, 99))
holes = st.fixed_dictionaries(
    {
        "TAG": tags,
        "X": numbers,
        "Y": numbers,
        "CALLOUT": st.sampled_from(CALLOUTS),
        "QTY": st.sampled_from([1.0, 1.0, 2.0, "4X", ""]),
        "REMARKS": st.sampled_from(["", "", "cover", "see sketch"]),
    }
)


def told(found: RowsRead) -> list[tuple[Any, ...]]:
    """What the rows say, without where they stand."""
    return [(r.tag, r.callout, r.quantity, r.x_mm, r.y_mm, r.note) for r in found.rows]


def read_grid(grid: list[list[Value]]) -> list[RowsRead]:
    return [read_rows(grid, table, AROUND) for table in find_tables(grid)]


@given(st.data())
def test_a_table_moved_and_shuffled_among_junk_reads_the_same(data: st.DataObject) -> None:
    rows = data.draw(st.lists(holes, min_size=1, max_size=8))
    plain: list[list[Value]] = [list(FIELDS), *[[row[name] for name in FIELDS] for row in rows]]
    (expected,) = read_grid(plain)
    assert len(expected.rows) == len(rows)

    order = data.draw(st.permutations(list(FIELDS)))
    right, down = data.draw(st.integers(0, 3)), data.draw(st.integers(0, 4))
    width = right + len(order)
    grid: list[list[Value]] = []
    for _ in range(down):
        junk = data.draw(st.lists(st.sampled_from(JUNK), max_size=4))
        grid.append([*junk, *[""] * width][:width])
    grid += [[""] * right + [name if row is None else row[name] for name in order] for row in (None, *rows)]
    for _ in range(data.draw(st.integers(0, 2))):
        grid.append([""] * width)
    (found,) = read_grid(grid)
    assert told(found) == told(expected)
    assert len(found.set_aside) == len(expected.set_aside)
    at = order.index("CALLOUT") + right + 1
    assert [row.ref for row in found.rows] == [CellRef("f", "s", down + 2 + n, at) for n in range(len(rows))]


ticks = st.sampled_from(["x", "X", "y", "n", "#", "Note", "", "-", "u"])


@given(st.lists(st.tuples(tags, st.sampled_from(CALLOUTS[:6]), ticks, ticks), min_size=1, max_size=6))
def test_no_row_of_ticks_is_taken_for_a_header(rows: list[tuple[str, str, str, str]]) -> None:
    """A lone x, y or n is a header word too; the first row is under the header, the others under rows."""
    header: list[Value] = ["TAG", "CALLOUT", "DEBURR", "REAMED"]
    (table,) = find_tables([header, *[list(row) for row in rows]])
    found = read_rows([header, *[list(row) for row in rows]], table, AROUND)
    assert [row.tag for row in found.rows] == [row[0] for row in rows]


cells = st.one_of(
    st.sampled_from(
        [*FIELDS, *CALLOUTS, *JUNK, "TOTAL", "mm", "Oct-32", "#NAME?", "DELETED", "A1-A4", "DEPTH", "THREAD", "DIA"]
    ),
    st.sampled_from(["", "", "", 1.0, 2.5, 11963.0, True]),
    st.text(max_size=6),
    numbers,
)


@given(st.lists(st.lists(cells, max_size=7), max_size=14))
def test_no_row_of_any_grid_is_lost(grid: list[list[Value]]) -> None:
    tables = find_tables(grid)
    seen: set[CellRef] = set()
    for table in tables:
        found = read_rows(grid, table, AROUND)
        assert table.end - table.first == len(found.rows) + len(found.set_aside)
        refs = [entry.ref for entry in (*found.rows, *found.set_aside)]
        assert len(set(refs)) == len(refs)
        assert not seen & set(refs)
        seen.update(refs)
        for note in found.notes:
            assert note.ref is not None
            assert table.first < note.ref.row <= table.end
    if tables:
        read_title_block(grid, tables)


words = st.sampled_from(
    ["TAG", "X", "Y", "CALLOUT", "QTY", "Pos", "Bohrung", "DIA", "THREAD", "DEPTH", "NOTE", "Thickness", "mm"]
)
sparse = st.one_of(words, words, st.sampled_from(["", "", "A1", "B2", 1.0, "3", "M6", "Ø8 THRU", "Material"]))


@given(st.lists(st.lists(sparse, max_size=8), max_size=10))
def test_no_cell_belongs_to_two_tables(grid: list[list[Value]]) -> None:
    """Grids of little but header words, which start a table in nearly every row."""
    held: set[tuple[int, int]] = set()
    for table in find_tables(grid):
        rows = set(range(table.first, table.end)) | {table.header}
        mine = {(row, column) for row in rows for column in range(table.left, table.right)}
        assert table.first <= table.end
        assert not held & mine
        held |= mine


@given(st.lists(holes, min_size=1, max_size=6), st.permutations(list(FIELDS)))
def test_a_table_on_its_side_reads_as_it_does_upright(rows: list[dict[str, Value]], order: list[str]) -> None:
    upright: list[list[Value]] = [order, *[[row[name] for name in order] for row in rows]]
    standing = read_grid(upright)
    found, _ = _choose_sheet(_book(upright), "f", ReadOptions())
    lying, _ = _choose_sheet(_book([list(column) for column in zip(*upright, strict=True)]), "f", ReadOptions())
    assert not found.turned
    assert lying.turned
    assert [told(one) for one in read_grid(lying.grid.rows)] == [told(one) for one in standing]


def _book(grid: list[list[Value]]) -> Book:
    return Book(("s",), lambda _: Grid(grid), lambda _: Marks())


@given(st.lists(st.lists(cells, max_size=7), min_size=1, max_size=10))
def test_the_quick_way_reads_what_the_careful_one_does(grid: list[list[Value]]) -> None:
    header: list[Value] = list(FIELDS)
    rows: list[list[Value]] = [header, *grid]
    for table in find_tables(rows):
        quick = read_rows(rows, table, AROUND)
        slow = careful(rows, table)
        assert quick.rows == slow.rows
        assert quick.set_aside == slow.set_aside
        assert quick.notes == slow.notes


@given(st.lists(holes, min_size=1, max_size=6), st.sampled_from(["mm", "in"]), st.booleans())
def test_the_quick_way_reads_ordinary_tables_alike(rows: list[dict[str, Value]], unit: Any, as_text: bool) -> None:
    grid: list[list[Value]] = [list(FIELDS)]
    grid += [[str(v) if as_text and isinstance(v, float) else v for v in (row[name] for name in FIELDS)] for row in rows]
    around = replace(AROUND, units=Units(unit, (), True))
    (table,) = find_tables(grid)
    assert read_rows(grid, table, around).rows == careful(grid, table, around).rows


def careful(grid: list[list[Value]], table: Any, around: Surroundings = AROUND) -> RowsRead:
    """read_rows with its quick way closed."""
    quick_way = reading.ordinary_rows

    def closed(*_: object) -> Any:
        return never

    def never(_: int) -> ScheduleRow | None:
        return None

    reading.ordinary_rows = closed
    try:
        return read_rows(grid, table, around)
    finally:
        reading.ordinary_rows = quick_way


@given(st.binary(max_size=300))
def test_any_bytes_are_a_text_or_refused(data: bytes) -> None:
    try:
        text, encoding = decode(data, "f")
    except CannotRead:
        return
    assume(text)
    assert encoding
    with suppress(CannotRead):
        read_text_rows(text, "f")
