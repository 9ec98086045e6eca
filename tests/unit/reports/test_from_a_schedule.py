"""Whole documents from schedules that go through every stage, in mm and in inches."""

from __future__ import annotations

import io
import json
from pathlib import Path

import jsonschema
import pytest
from openpyxl import load_workbook
from pypdf import PdfReader

from holesched.pipeline import explain, plan_file, read_options
from holesched.reports import REPORTS, process_sheet
from holesched.reports.base import RunStamp
from holesched.reports.html import render
from holesched.reports.open_points import open_points
from holesched.reports.sheet_json import job_json
from holesched.reports.show import Show
from holesched.reports.sketch.drawing import text_width
from holesched.reports.sketch.geometry import HEIGHT_MM, WIDTH_MM, section
from holesched.reports.takeoff import write_takeoff
from holesched.reports.write import json_bytes, write_reports
from holesched.resources import table_text
from holesched.sequence.model import JobPlan
from holesched.shop.model import Machine, Preferences, ReportStyle, Shop

METRIC = """Part number,MB-100
Part name,Invented block
Revision,B
Material,EN AW-6082-T6
Thickness,50 mm
Units,mm

Tag,X,Y,Callout,Qty,Note
A1,20,20,M8x1.25-6H ↧16,1,
A2,60,20,M8 ↧16,1,
B1,20,60,⌀11 THRU ⌴ ⌀18 ↧11,1,=1+1
C1,40,40,⌀8 H7 ↧20,1,dowel
D1,30,80,⌀5.5 THRU ⌵ ⌀10.4 X 90°,1,
E1,60,80,M16x2-6H ↧48,1,
F1,60,60,⌀ THRU,1,
G1,90,80,M6-LH ↧12,1,
"""
INCH = """Part number,BH-7
Revision,A
Material,ASTM A48 Class 30
Thickness,1.5
Units,inch

Tag,X,Y,Callout,Qty
A1,1,1,1/4-20 UNC-2B ↧.50,1
D1,2,3,1/4-18 NPT,1
E1,1,3,#10-32 UNF-2B THRU,1
G1,3,4,.266 THRU CSK .531 X 82° FAR SIDE,1
H,,,5/16-18 UNC-2B-LH ↧.75,4
"""
STAMP_FORMATS = frozenset({"html", "pdf", "xlsx", "json"})


def planned(folder: Path, name: str, text: str, shop: Shop) -> JobPlan:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return plan_file(path, shop, read_options(shop))


@pytest.mark.parametrize(("name", "text"), [("bead_metric.csv", METRIC), ("inch.csv", INCH)])
def test_every_document_of_a_real_run(name: str, text: str, tmp_path: Path, stamp: RunStamp, shop: Shop) -> None:
    job = planned(tmp_path, name, text, shop)
    written, notes = write_reports(job, shop, tmp_path / "out", STAMP_FORMATS, stamp)
    assert notes == ()
    assert len(written) == 5
    found = json.loads((tmp_path / "out" / "sheet.json").read_text(encoding="utf-8"))
    jsonschema.validate(found, json.loads(table_text("sheet.schema.json")))
    assert sum(hole["quantity"] for hole in found["holes"]) == job.ledger.holes.read
    book = load_workbook(tmp_path / "out" / "tool_list.xlsx")
    assert book["Holes"].max_row - 1 == job.ledger.rows.read
    for key in ("process_sheet", "setup_sheet"):
        pages = PdfReader(io.BytesIO((tmp_path / "out" / f"{key}.pdf").read_bytes())).pages
        for number, page in enumerate(pages, start=1):
            words = page.extract_text()
            assert f"{job.header.part_number} revision {job.header.revision}" in words
            assert f"Sheet {number} of {len(pages)}" in words
            assert f"{name} {job.sha256[:12]} 2026-01-02" in words, "whatever letter the file's name begins with"
            assert f"{job.ledger.rows.read} rows in the table" in words


def test_what_is_open_is_on_page_one(tmp_path: Path, stamp: RunStamp, shop: Shop) -> None:
    """The senseless row and the thread that breaks through: both by cell, the second on hold everywhere it is cut."""
    job = planned(tmp_path, "metric.csv", METRIC, shop)
    write_reports(job, shop, tmp_path / "out", frozenset({"html", "pdf"}), stamp)
    first = PdfReader(io.BytesIO((tmp_path / "out" / "process_sheet.pdf").read_bytes())).pages[0].extract_text()
    for words in ("D15", "D14", "2 open questions: not released", "breaks through", "HOLD"):
        assert words in first
    page = (tmp_path / "out" / "process_sheet.html").read_text(encoding="utf-8")
    assert page.count('<article class="card held"') == 1
    assert "=1+1" in page


def test_a_machine_with_few_pots_is_warned_about(tmp_path: Path, stamp: RunStamp) -> None:
    shop = Shop(machine=Machine(pots=6), report=ReportStyle(decimal="comma", paper="Letter"))
    job = planned(tmp_path, "metric.csv", METRIC, shop)
    write_reports(job, shop, tmp_path / "out", frozenset({"html"}), stamp)
    page = (tmp_path / "out" / "process_sheet.html").read_text(encoding="utf-8")
    assert "tools for 6 pots: T7 to T" in page


MIXED = """Part number,MX-1
Material,EN-GJL-250
Thickness,30 mm
Units,mm

Tag,Material,Callout,Qty
A,,M8 ↧16,2
B,AZ91D,M8 ↧16,1
"""


def test_an_operation_over_two_materials_names_the_holes_of_each_coolant(
    tmp_path: Path, shop: Shop, stamp: RunStamp
) -> None:
    sheet = process_sheet.build(planned(tmp_path, "mixed.csv", MIXED, shop), shop, stamp)
    spot = sheet.operations[0]
    assert {letter for letters in spot.coolants.values() for letter in letters} == {"A", "B"}
    assert len(spot.coolants) == 2
    said = dict(sheet.coolants)
    for coolant, (letter,) in spot.coolants.items():
        assert f"10 ({letter})" in said[coolant]


def test_what_several_threads_have_in_common_to_watch_is_said_once(tmp_path: Path) -> None:
    """A shop that taps by hand is told so for all its threads, in one sentence without their names."""
    by_hand = Shop(preferences=Preferences(tap_by_hand=True))
    points = open_points(planned(tmp_path, "two.csv", MIXED.replace("AZ91D,M8", "EN-GJL-250,M6"), by_hand))
    (said,) = (remark for remark in points.watch if "taps by hand" in remark.text)
    assert said.types == "A, B"
    assert said.text.startswith("the shop taps by hand")


def test_a_takeoff_of_both(tmp_path: Path, stamp: RunStamp, shop: Shop) -> None:
    jobs = [planned(tmp_path, "metric.csv", METRIC, shop), planned(tmp_path, "inch.csv", INCH, shop)]
    written, _ = write_takeoff(jobs, shop, 100, tmp_path / "out", frozenset({"html", "xlsx", "csv"}), stamp)
    assert len(written) == 3
    rows = list(load_workbook(tmp_path / "out" / "takeoff.xlsx")["Holes"].values)[1:]
    made = {f"{row[0]} {row[1]}": (row[2], row[3]) for row in rows}
    assert made["tapped M8x1.25-6H"] == (2, 200)
    assert made["tapped 5/16-18 UNC-2B-LH"] == (4, 400)
    assert made["not read see the open questions"] == (1, 100)


CALLOUTS = [
    "M10 THRU ⌴ ⌀20 ↧8", "1/4-18 NPT", "⌀9 THRU SF ⌀20", "⌀6.6 THRU CSK ⌀13 X 90° BOTH SIDES", "M3x0.5-6H ↧6",
    "⌀6.6 THRU CBORE ⌀11 ↧6 FAR SIDE", "M30x2-6H THRU", "⌀40 H7 THRU", "⌀2 ↧60", "M20 ↧20", "Tr20x4 THRU",
    "⌀8 ↧20 ⌵ ⌀12 x 82°", "M8x1-6H ↧12 ⌴ ⌀14 ↧4", "DO NOT TAP", "",
]  # fmt: skip


@pytest.mark.parametrize("thickness", [None, 30.0])
@pytest.mark.parametrize("callout", CALLOUTS)
def test_any_kind_of_hole_gives_a_sheet(callout: str, thickness: float | None, shop: Shop, stamp: RunStamp) -> None:
    """Every section fits its box, everything in it is inside its view box, and sheet.json fits its schema."""
    job = explain(callout, shop, read_options(shop, material="C45", thickness_mm=thickness))
    for report in REPORTS:
        assert render(report.template, report.build(job, shop, stamp), stamp).endswith("</html>\n")
    jsonschema.validate(json.loads(json_bytes(job_json(job, stamp))), json.loads(table_text("sheet.schema.json")))
    for hole in job.holes:
        drawing = section(hole.cut_plan.plan, Show("mm")) if hole.cut_plan is not None else None
        if drawing is None:
            continue
        assert drawing.width <= WIDTH_MM
        assert drawing.height <= HEIGHT_MM
        for label in drawing.labels:
            if label.anchor == "start":
                assert label.x + text_width(label.text) <= drawing.left + drawing.width + 0.5
