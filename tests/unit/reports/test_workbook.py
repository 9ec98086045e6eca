"""The workbook, read back with two readers that did not write it by themselves: openpyxl and calamine."""

from __future__ import annotations

import zipfile
from dataclasses import replace
from datetime import datetime
from io import BytesIO

import pytest
import sample_job
from openpyxl import load_workbook
from python_calamine import CalamineWorkbook

from holesched.reports.base import RunStamp
from holesched.reports.open_points import open_points
from holesched.reports.tool_list import foot, tables
from holesched.reports.workbook import LONGEST, Column, Table, clean, workbook
from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop

SHEETS = ["Tools", "Operations", "Holes", "Gauges", "Watch", "Questions", "Assumptions"]
FORMULAS = ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1+1", "\n=1+1", '=HYPERLINK("x","y")', "'=1", " =1", "=cmd|' /C x'!A0"]


def book(job: JobPlan, shop: Shop, stamp: RunStamp) -> bytes:
    return workbook(tables(job, shop), stamp)


def test_the_sheets_open_clean(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    made = load_workbook(BytesIO(book(job, shop, stamp)))
    assert made.sheetnames == SHEETS
    for sheet in made.worksheets:
        assert sheet.freeze_panes == "A2"
        assert sheet.auto_filter.ref == sheet.dimensions
        assert all(sheet.column_dimensions[cell.column_letter].width > 5 for cell in sheet[1])


def test_another_reader_reads_the_same(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    made = CalamineWorkbook.from_filelike(BytesIO(book(job, shop, stamp)))
    tools = made.get_sheet_by_name("Tools").to_python()
    assert [row[0] for row in tools[1:]] == [f"T{n}" for n in range(1, 14)]
    drill = next(row for row in tools if row[2] == "drill 6.8")
    assert drill[5] == 6.8


def test_every_row_of_the_schedule_is_in_it(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    holes = CalamineWorkbook.from_filelike(BytesIO(book(job, shop, stamp))).get_sheet_by_name("Holes").to_python()[1:]
    assert len(holes) == job.ledger.rows.read
    assert sum(row[4] for row in holes if row[4] != "") == job.ledger.holes.read
    states = [row[7] for row in holes]
    assert states.count("HOLD, question 1") == 4
    assert states.count("not planned") == 1
    assert [state for state in states if state.startswith("set aside")] == ["set aside: title", "set aside: total"]


@pytest.mark.parametrize("text", FORMULAS)
def test_no_text_from_the_file_becomes_a_formula(job: JobPlan, shop: Shop, stamp: RunStamp, text: str) -> None:
    first = job.holes[0]
    members = tuple(replace(member, tag=text, note=text) for member in first.type.members)
    hole = replace(first, type=replace(first.type, members=members, hole=replace(first.type.hole, callout=text)))
    notes = tuple(replace(note, message=text, text=text, suggestion=text, assumed=text) for note in job.notes)
    raw = book(replace(job, holes=(hole, *job.holes[1:]), notes=notes), shop, stamp)
    with zipfile.ZipFile(BytesIO(raw)) as archive:
        for name in archive.namelist():
            if name.startswith("xl/worksheets/sheet"):
                assert b"<f>" not in archive.read(name)
                assert b"<f " not in archive.read(name)
    sheet = load_workbook(BytesIO(raw))["Holes"]
    found = [cell for row in sheet.iter_rows() for cell in row if cell.value == text]
    assert len(found) >= 3
    assert all(cell.data_type == "s" for cell in found)
    assert all(cell.quotePrefix for cell in found), "stays text when the cell is edited"


def test_numbers_stay_numbers(stamp: RunStamp) -> None:
    made = load_workbook(BytesIO(workbook((Table("T", (Column("a", places=2), Column("b")), ((1.5, -3),)),), stamp)))
    a, b = made["T"]["A2"], made["T"]["B2"]
    assert (a.value, a.data_type, a.number_format) == (1.5, "n", "0.00")
    assert (b.value, b.data_type) == (-3, "n")


def test_dates_inside_are_the_stamps(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    raw = book(job, shop, stamp)
    assert raw == book(sample_job.sample_job(), shop, stamp)
    properties = load_workbook(BytesIO(raw)).properties
    assert properties.created == datetime(2026, 1, 2)
    assert properties.modified == datetime(2026, 1, 2)
    with zipfile.ZipFile(BytesIO(raw)) as archive:
        assert {entry.date_time[:3] for entry in archive.infolist()} == {(2026, 1, 2)}


def test_text_a_workbook_cannot_hold() -> None:
    assert clean("a\x00b\x0bc\ud800") == "a�b�c�"
    assert clean("line\nbreak\ttab") == "line\nbreak\ttab"
    assert clean("x" * 40_000).endswith("... (cut)")
    assert len(clean("x" * 40_000)) < LONGEST + 20


def test_rows_are_as_high_as_their_texts(stamp: RunStamp) -> None:
    """Not every spreadsheet program fits a row to what is wrapped in it when it opens a file."""
    long = Table(
        "T", (Column("A heading of two lines", 14), Column("B", 20)), (("a", "word " * 20), ("b\nc\nd", 1), ("e", 2))
    )
    sheet = load_workbook(BytesIO(workbook((long,), stamp)))["T"]
    assert [sheet.row_dimensions[row].height for row in (1, 2, 3, 4)] == [30, 90, 45, None]


def test_every_printed_page_says_what_it_belongs_to(job: JobPlan, stamp: RunStamp) -> None:
    """An ampersand begins a code in a page's foot and is doubled (ECMA-376, 18.3.1.46 oddFooter)."""
    named = replace(job, header=replace(job.header, part_number="P&Q"))
    made = load_workbook(BytesIO(workbook(tables(named, Shop()), stamp, foot(named, Shop(), stamp), "Letter")))
    for sheet in made.worksheets:
        assert sheet.oddFooter.left.text == "P&&Q revision C, valve_block.xlsx 3f1a3f1a3f1a 2026-01-02"
        assert sheet.oddFooter.right.text == "&A, sheet &P of &N"
        assert sheet.page_setup.paperSize == 1


def test_what_to_watch_stands_in_a_sheet(job: JobPlan) -> None:
    (watch,) = [table for table in tables(job, Shop()) if table.name == "Watch"]
    said = [str(row[3]) for row in watch.rows]
    assert said
    assert all(text.startswith(remark.text) for text, remark in zip(said, open_points(job).watch, strict=True))
