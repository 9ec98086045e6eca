"""Which rows and columns belong to which table: no row to two, none that looks like a hole's to none."""

from __future__ import annotations

from pathlib import Path

import pytest
from written_files import codes, read, text_file

from holesched.errors import CannotRead
from holesched.schedule.find_table import find_tables

TITLE = "Part number,INV-7,,\nMaterial,EN AW-6082,,Thickness,20 mm\nUnits,mm,,\n"


def cells(path: Path) -> list[str]:
    return [row.ref.cell for row in read(path, unit="mm")[0].rows]


def test_title_rows_on_top_of_rows_read_upward_are_no_holes(tmp_path: Path) -> None:
    schedule, notes = read(text_file(tmp_path, TITLE + "A2,3,4,M8\nA1,1,2,M6\nTAG,X,Y,SIZE\n"))
    assert [row.ref.cell for row in schedule.rows] == ["D5", "D4"]
    assert (schedule.header.material, schedule.header.thickness_mm, schedule.set_aside) == ("EN AW-6082", 20.0, ())
    assert codes(notes) == []


def test_rows_read_upward_may_have_gaps(tmp_path: Path) -> None:
    schedule, notes = read(
        text_file(tmp_path, "A4,9,9,\nA3,5,6,M6\n,,,\n,,,\nsee sketch,,,\nA1,1,2,M6\nTAG,X,Y,SIZE\n"), unit="mm"
    )
    assert [row.tag for row in schedule.rows] == ["A1", "A3", "A4"]
    assert [entry.why for entry in schedule.set_aside] == ["note", "blank", "blank"]
    assert codes(notes) == ["SCHEDULE-CALLOUT-EMPTY D1"]


def test_a_header_sorted_in_among_its_rows(tmp_path: Path) -> None:
    """Spreadsheets sort a header with its rows when nobody tells them that it is one."""
    text = TITLE + "\nS1,3,4,M8\nT1,1,2,M6\nTAG,X,Y,SIZE\nU1,5,6,M6\nU2,7,8,M6\n"
    schedule, notes = read(text_file(tmp_path, text))
    assert [row.tag for row in schedule.rows] == ["S1", "T1", "U1", "U2"]
    assert [(entry.ref.cell, entry.why) for entry in schedule.set_aside] == [("D7", "header")]
    assert codes(notes) == ["SCHEDULE-ROWS-ABOVE-HEADER D7"]


@pytest.mark.parametrize(
    "above",
    [
        "HOLE TABLE,,,",
        "Customer,An invented one,,Order 12",
        "Rev,Date,,Text",
        "A,2026-05-01,,First issue",
        "1 of 2,,,",
        "3,,,",
    ],
)
def test_what_stands_right_above_a_header_and_is_no_hole(tmp_path: Path, above: str) -> None:
    assert cells(text_file(tmp_path, f"{above}\nTAG,X,Y,SIZE\nA1,1,2,M6\n")) == ["D3"]


def test_two_headers_without_rows_claim_nothing_twice(tmp_path: Path) -> None:
    with pytest.raises(CannotRead, match="a header but no row that names a hole"):
        read(text_file(tmp_path, "3\nTAG,,Y,CALLOUT\nPos,,,Bohrung\n"))


def test_of_two_headers_under_the_same_rows_one_has_them(tmp_path: Path) -> None:
    assert cells(text_file(tmp_path, "A1,1,2,M6\nTAG,X,Y,SIZE\nPos,,,Bohrung\n")) == ["D1"]


def test_a_header_in_two_languages(tmp_path: Path) -> None:
    schedule, _ = read(text_file(tmp_path, "TAG,X,Y,CALLOUT,QTY\n記号,X,Y,加工,個数\nA1,1,2,M6,1\n"), unit="mm")
    assert [row.ref.cell for row in schedule.rows] == ["D3"]


SIDEWAYS = ("TAG,A1,A2", "X,10,40", "Y,20,20", "CALLOUT,M6,Ø8 THRU", "QTY,1,1")


@pytest.mark.parametrize("order", [(0, 1, 2, 3, 4), (0, 3, 4, 1, 2), (3, 4, 0, 1, 2), (4, 3, 2, 1, 0), (1, 2, 0, 3, 4)])
def test_a_table_on_its_side_whatever_stands_under_its_callouts(tmp_path: Path, order: tuple[int, ...]) -> None:
    text = TITLE + "\n" + "".join(SIDEWAYS[number] + "\n" for number in order)
    schedule, _ = read(text_file(tmp_path, text))
    assert [(row.tag, row.callout, row.x_mm, row.quantity) for row in schedule.rows] == [
        ("A1", "M6", 10.0, 1),
        ("A2", "Ø8 THRU", 40.0, 1),
    ]
    assert [row.ref.cell for row in schedule.rows] == [f"{column}{order.index(3) + 5}" for column in "BC"]


def test_a_list_of_callouts_alone_stays_upright(tmp_path: Path) -> None:
    assert cells(text_file(tmp_path, "CALLOUT\nM6\nØ8 THRU\n")) == ["A2", "A3"]


def test_tables_have_their_cells_to_themselves() -> None:
    """A table that starts lower and to the left of one that runs on."""
    rows = [
        ["", "", "", "TAG", "SIZE"],
        ["", "", "", "A1", "M6"],
        ["TAG", "SIZE", "", "A2", "M6"],
        ["B1", "M8", "", "A3", "M6"],
    ]
    upper, lower = find_tables(rows)
    assert (upper.left, upper.first, upper.end) == (2, 1, 4)
    assert (lower.right, lower.first, lower.end) == (2, 3, 4)


@pytest.mark.parametrize("row", ["A1,M6,x", "A1,M6 THRU,y", "A,SEE NOTE,x", "A,M6 THRU,x"])
@pytest.mark.parametrize("header", ["TAG,CALLOUT,DEBURR", "Pos,Bohrung,CHAMFERED"])
def test_a_tick_in_the_first_row_makes_no_header_of_it(tmp_path: Path, header: str, row: str) -> None:
    """A lone x, y, n or # is a header word as well."""
    assert cells(text_file(tmp_path, f"{header}\n{row}\nB1,M8 THRU,x\n")) == ["B2", "B3"]
