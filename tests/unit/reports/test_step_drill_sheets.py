"""A large lot's step drills on every document: ordered, loaded, drawn and counted with both their diameters."""

from __future__ import annotations

import io
import json
from dataclasses import replace
from pathlib import Path

import jsonschema
import pytest
from openpyxl import load_workbook
from pypdf import PdfReader

from holesched.pipeline import plan_file, plan_schedule, read_options
from holesched.reports.base import RunStamp
from holesched.reports.explained import explained
from holesched.reports.naming import tool_name
from holesched.reports.show import Show
from holesched.reports.sketch.profile import profile
from holesched.reports.takeoff_counts import count_tools
from holesched.reports.write import write_reports
from holesched.resources import table_text
from holesched.schedule.read_workbook import read_schedule
from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop
from holesched.tooling.model import Shoulder, StepKind, Tool

TABLE = """Part number,SD-1
Material,C45
Thickness,25 mm
Lot,{lot}

Tag,X,Y,Callout,Qty
A1,20,20,⌀6.6 THRU ⌴ ⌀11 ↧6.8,1
A2,60,20,⌀6.6 THRU ⌴ ⌀11 ↧6.8,1
B1,20,60,M8 ↧16,1
C1,40,40,⌀9 THRU,1
"""


def of_lot(lot: int, folder: Path, text: str = TABLE) -> JobPlan:
    path = folder / f"lot{lot}.csv"
    path.write_text(text.format(lot=lot), encoding="utf-8")
    return plan_file(path, Shop(), read_options(Shop()))


@pytest.fixture
def large(tmp_path: Path) -> JobPlan:
    return of_lot(2000, tmp_path)


def test_every_document_has_both_diameters(large: JobPlan, tmp_path: Path, stamp: RunStamp) -> None:
    write_reports(large, Shop(), tmp_path / "out", frozenset({"html", "pdf", "xlsx", "json"}), stamp)
    found = json.loads((tmp_path / "out" / "sheet.json").read_text(encoding="utf-8"))
    jsonschema.validate(found, json.loads(table_text("sheet.schema.json")))
    shoulders = {tool["tool"]: tool["shoulder"] for tool in found["tools"] if tool["shoulder"]}
    assert shoulders["step drill 6.6 / 11"] == {
        "diameter_mm": 11.0, "angle_deg": 180.0, "length_mm": 20.4011, "length_over_mm": 0.2,
    }  # fmt: skip
    also = {op["also"]["kind"]: op["also"] for hole in found["holes"] for op in hole["operations"] if op["also"]}
    assert also["counterbore"] == {"kind": "counterbore", "diameter_mm": 11.0, "depth_mm": 6.8}
    assert also["countersink"]["diameter_mm"] == 8.4
    sheet = (tmp_path / "out" / "process_sheet.html").read_text(encoding="utf-8")
    assert "through, 2 pecks, shoulder 6.80" in sheet
    assert "shoulder to ⌀8.4" in sheet
    assert "180° shoulder 20.40 mm from the tip (+0.2 0)" in sheet
    rows = list(load_workbook(tmp_path / "out" / "tool_list.xlsx")["Tools"].iter_rows(values_only=True))
    details = {str(row[2]): str(row[3]) for row in rows[1:]}
    assert "180° shoulder 20.40 mm from the tip (+0.2 0)" in details["step drill 6.6 / 11"]
    carousel = "".join(
        page.extract_text() for page in PdfReader(io.BytesIO((tmp_path / "out" / "setup_sheet.pdf").read_bytes())).pages
    )
    assert "step drill 6.6 / 11" in carousel


def test_holes_in_are_holes_out_and_the_section_is_the_same(large: JobPlan, tmp_path: Path) -> None:
    small = of_lot(1, tmp_path)
    assert large.ledger == small.ledger
    for one, other in zip(large.holes[:2], small.holes[:2], strict=True):
        assert one.cut_plan is not None
        assert other.cut_plan is not None
        drawn, apart = profile(one.cut_plan.plan), profile(other.cut_plan.plan)
        assert drawn is not None
        assert apart is not None
        assert drawn.widest == pytest.approx(apart.widest)
        for depth in (0.1, 3.0, 6.7, 6.9, 15.0):
            assert drawn.radius(depth) == pytest.approx(apart.radius(depth))


def test_it_is_quicker_with_fewer_tools(large: JobPlan, tmp_path: Path) -> None:
    path = tmp_path / "lot2000.csv"
    shop = Shop(preferences=replace(Shop().preferences, rules=str(tmp_path / "own.csv")))
    (tmp_path / "own.csv").write_text("decides,effect,verdict\nstepped hole,never,step drill\n", encoding="utf-8")
    apart = plan_file(path, shop, read_options(shop))
    assert large.time.total_min < apart.time.total_min
    assert len(large.loading) == len(apart.loading) - 2
    assert {target.letter for op in large.operations for target in op.targets} == {"A", "B", "C"}


def test_the_takeoff_counts_it_among_the_drills(large: JobPlan) -> None:
    titles = {line.title: line.per_part for line in count_tools([large], 2000, Show("mm"))}
    assert titles["step drill 6.6 / 11"] == 2
    assert "counterbore 11" not in titles


def test_explain_says_what_the_shoulder_makes(large: JobPlan) -> None:
    text = explained(large)
    assert "its shoulder      counterbore Ø11.00 mm, 6.80 mm deep" in text
    assert "its shoulder      countersink Ø8.40 mm" in text


@pytest.mark.parametrize(
    ("unit", "title"), [("mm", "step drill #7 (5.105 mm) / 6.6"), ("in", "step drill #7 (0.2010 in) / 0.2598 in")]
)
def test_it_is_called_by_both_diameters(unit: str, title: str) -> None:
    shoulder = Shoulder(6.6, 90.0, 20.4, 0.2)
    tool = Tool(StepKind.DRILL, 5.105, "#7", "carbide", point_angle_deg=140.0, name="step drill", shoulder=shoulder)
    name = tool_name(tool, Show("mm" if unit == "mm" else "in"))
    assert name.title == title
    assert f"90° shoulder {'20.40 mm' if unit == 'mm' else '0.803 in'} from the tip (+" in name.detail


def test_an_inch_job_is_ordered_in_inches(tmp_path: Path, stamp: RunStamp) -> None:
    text = "Material,AISI 1045\nThickness,1\nUnits,inch\nLot,{lot}\n\nTag,X,Y,Callout,Qty\nA,1,1,Ø.281 THRU ⌴ Ø.438 ↧.26,4\n"
    job = of_lot(2000, tmp_path, text)
    write_reports(job, Shop(), tmp_path / "out", frozenset({"html"}), stamp)
    sheet = (tmp_path / "out" / "process_sheet.html").read_text(encoding="utf-8")
    assert "at most 0.0079 in (0.2 mm) longer" in sheet
    assert "step drill K (0.2810 in) / 0.4375 in" in sheet


def test_the_lot_alone_decides(tmp_path: Path, large: JobPlan) -> None:
    schedule, notes = read_schedule(tmp_path / "lot2000.csv", read_options(Shop()))
    for lot, wanted in ((499, False), (500, True)):
        job = plan_schedule(replace(schedule, header=replace(schedule.header, lot=lot)), notes, Shop())
        assert any(loaded.tool.shoulder is not None for loaded in job.loading) is wanted
