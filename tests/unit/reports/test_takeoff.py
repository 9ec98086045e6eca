"""The takeoff's sums, worked out by hand from the invented jobs."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from pathlib import Path

import pytest
import sample_job
from openpyxl import load_workbook

from holesched.pipeline import explain, read_options
from holesched.reports.base import RunStamp
from holesched.reports.html import render
from holesched.reports.show import Show
from holesched.reports.takeoff import build_takeoff, write_takeoff
from holesched.reports.takeoff_counts import ToolSum, count_gauges, count_holes, count_tools
from holesched.reports.takeoff_tables import csv_bytes
from holesched.reports.workbook import Column, Table
from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop
from holesched.tooling.model import StepKind


def test_holes_by_size(job: JobPlan, inch_job: JobPlan) -> None:
    lines = {f"{line.kind} {line.size}": (line.per_part, line.on_hold) for line in count_holes([job, inch_job])}
    assert lines == {
        "tapped M6x1-6H-LH": (4, 0),
        "tapped 1/4-20 UNC-2B": (12, 0),
        "tapped M8x1.25-6H": (12, 0),
        "tapped M10x1.25-6H": (4, 4),
        "reamed ⌀8 H7": (2, 0),
        "drilled ⌀5.5": (16, 0),
        "drilled ⌀11": (4, 0),
        "counterbored ⌀18": (4, 0),
        "countersunk ⌀10.4 × 90°": (16, 0),
        "not read see the open questions": (3, 3),
    }


def test_the_same_size_in_two_jobs_is_one_line(job: JobPlan) -> None:
    line = next(line for line in count_holes([job, job]) if line.size == "M8x1.25-6H")
    assert line.per_part == 24
    assert list(line.jobs) == ["VB-2047"]


def tool(lines: list[ToolSum], title: str) -> ToolSum:
    return next(line for line in lines if line.title == title)


def test_tools_consumed_by_their_life(job: JobPlan) -> None:
    """Drill 6.8: 12 holes a part, life 1000 to 3000 holes. Lot 250: 3000 holes, 1 to 3 drills. Lot 251: 3012, 2 to 4."""
    for lot, low, high in ((250, 1, 3), (251, 2, 4), (1, 1, 1)):
        line = tool(count_tools([job], lot, Show("mm")), "drill 6.8")
        assert (line.tools_low, line.tools_high) == (low, high)


def test_deep_holes_consume_more_drills() -> None:
    """10 mm in C45, 100 to 300 holes of 2 to 3 D: in 25 mm of plate 1 to 2 drills for 200 holes; in 120 mm, 12 D, four times
    as much steel a hole, 3 to 8."""
    shop, found = Shop(), []
    for thickness_mm in (25.0, 120.0):
        job = explain("Ø10 THRU", shop, read_options(shop, material="C45", thickness_mm=thickness_mm))
        line = next(line for line in count_tools([job], 200, Show("mm")) if line.title.startswith("drill 10"))
        found.append((line.tools_low, line.tools_high))
    assert found == [(1, 2), (3, 8)]


def test_two_jobs_share_a_tools_life(job: JobPlan) -> None:
    """Fractions are added before they are rounded up: twice 1500 holes of a life of 3000 are one drill, not two."""
    line = tool(count_tools([job, job], 125, Show("mm")), "drill 6.8")
    assert (line.tools_low, line.tools_high) == (1, 3)


def test_the_life_printed_is_the_life_consumed(job: JobPlan) -> None:
    """One job wears the drill after 1000 to 3000 holes, the other after 100 to 300: half the holes each, so that by hand
    2 / (1/1000 + 1/100) = 182 to 2 / (1/3000 + 1/300) = 545 holes, and 3000 holes take 5.5 to 16.5 drills."""
    harder = tuple(replace(loaded, life_holes=(100.0, 300.0)) for loaded in job.loading)
    line = tool(count_tools([job, replace(job, loading=harder)], 125, Show("mm")), "drill 6.8")
    assert line.life == (182.0, 545.0)
    assert (line.tools_low, line.tools_high) == (6, 17)


def test_a_tool_that_wears_out_within_a_hole_is_counted_so(job: JobPlan) -> None:
    """Drills that last 0.2 to 0.5 holes: 12 holes take 24 to 60."""
    worn = replace(job, loading=tuple(replace(loaded, life_holes=(0.2, 0.5)) for loaded in job.loading))
    line = tool(count_tools([worn], 1, Show("mm")), "drill 6.8")
    assert [Show("mm").lasting(each) for each in (*line.life, 3.0)] == ["0.20", "0.50", "3"]
    assert (line.life, line.tools_low, line.tools_high) == ((0.2, 0.5), 24, 60)


def test_a_tool_without_a_stated_life_is_not_guessed(job: JobPlan) -> None:
    unknown = replace(job, loading=tuple(replace(loaded, life_holes=None) for loaded in job.loading))
    line = tool(count_tools([unknown], 250, Show("mm")), "drill 6.8")
    assert (line.tools_low, line.tools_high) == (None, None)


def test_gauges_once_over_all_jobs(job: JobPlan) -> None:
    assert len(count_gauges([job, job])) == len(job.gauges)


def test_rows_that_add_to_more_than_the_holes_say_so(job: JobPlan, inch_job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    """The rows above add to 77; 4 + 16 of these holes stand twice."""
    note = build_takeoff([job, inch_job], shop, 10, stamp).holes_note
    assert note.endswith("stands in a row for each: the 77 here are 57 holes.")
    once = replace(job, holes=job.holes[:1], ledger=replace(job.ledger, holes=replace(job.ledger.holes, read=15)))
    assert build_takeoff([once], shop, 10, stamp).holes_note == ""


def test_minutes(job: JobPlan, inch_job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    value = build_takeoff([job, inch_job], shop, 10, stamp)
    total = job.time.total_min + inch_job.time.total_min
    totals = dict(value.totals)
    assert totals["Minutes, one part of each"] == f"{total:.2f}"
    assert totals["Time for the lot"] == Show("mm").hours(total * 10)
    assert totals["Holes, one part of each"] == str(job.ledger.holes.read + inch_job.ledger.holes.read)
    assert totals["Holes for the lot"] == str(10 * (job.ledger.holes.read + inch_job.ledger.holes.read))


def test_the_summary_adds_up_what_a_lot_consumes(job: JobPlan, inch_job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    value = build_takeoff([job, inch_job], shop, 250, stamp)
    totals = dict(value.totals)
    for _, heading, lines in value.tools:
        known = [line for line in lines if line.low != "–"]
        low, high = sum(int(line.low) for line in known), sum(int(line.high) for line in known)
        expected = f"{low} to {high}" if low != high else str(low)
        assert totals[f"{heading} for the lot"].startswith(expected)
    assert totals["Gauges"] == str(len(count_gauges([job, inch_job])))


def test_tools_of_unknown_life_are_counted_beside(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    loading = tuple(
        replace(loaded, life_holes=None if loaded.tool.kind is StepKind.TAP else loaded.life_holes) for loaded in job.loading
    )
    value = build_takeoff([replace(job, loading=loading)], shop, 250, stamp)
    taps = sum(loaded.tool.kind is StepKind.TAP for loaded in job.loading)
    assert dict(value.totals)["Taps for the lot"] == f"{taps} kinds without a stated life"


def test_the_first_screen_has_what_the_figures_rest_on(job: JobPlan, inch_job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    page = render("takeoff.html.j2", build_takeoff([job, inch_job], shop, 10, stamp), stamp)
    head = page[: page.index('<section id="jobs">')]
    for words in ("Takeoff VB-2047, BH-310, lot 10", "Not in it: material", "M8x1.25 has no class: 6H", "2 open questions"):
        assert words in head
    assert page.count('id="assumed"') == page.count('id="questions"') == 1


def test_a_long_list_of_assumptions_stands_behind_in_full(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    notes = tuple(replace(sample_job.PITCH, message=f"assumed {n}") for n in range(8))
    page = render("takeoff.html.j2", build_takeoff([replace(job, notes=(*job.notes, *notes))], shop, 10, stamp), stamp)
    head, rest = page.split('<section id="jobs">')
    assert "more, behind" in head
    assert all(f"assumed {n}" in rest for n in range(8))


def test_written_in_all_formats(job: JobPlan, inch_job: JobPlan, shop: Shop, stamp: RunStamp, tmp_path: Path) -> None:
    written, notes = write_takeoff([job, inch_job], shop, 250, tmp_path, frozenset({"html", "xlsx", "csv"}), stamp)
    assert [path.name for path in written] == ["takeoff.html", "takeoff.xlsx", "takeoff.csv"]
    assert notes == ()
    page = (tmp_path / "takeoff.html").read_text(encoding="utf-8")
    for words in ("Time for the lot", "M8x1.25-6H", "BH-310", "Not in it: material", "M8x1.25 has no class: 6H"):
        assert words in page
    book = load_workbook(tmp_path / "takeoff.xlsx")
    assert book.sheetnames == ["Jobs", "Holes", "Tools", "Gauges", "Assumptions"]
    rows = list(csv.reader(io.StringIO((tmp_path / "takeoff.csv").read_text(encoding="utf-8-sig"))))
    jobs = [row for row in rows if row[0] == "Jobs"]
    assert [row[1] for row in jobs] == ["Part", "VB-2047", "BH-310"]
    drill = next(row for row in rows if row[0] == "Tools" and row[2] == "drill 6.8")
    assert drill[4:10] == ["12", "3000", "1000.0", "3000.0", "1", "3"]


def test_all_inch_jobs_are_in_inches(inch_job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    value = build_takeoff([inch_job], shop, 1, stamp)
    drills = next(lines for key, _, lines in value.tools if key == "drills")
    assert drills[0].what == "drill #7 (0.2010 in)"


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@x", "\t=1", "\r=1", " =1"])
def test_csv_text_is_no_formula(text: str) -> None:
    raw = csv_bytes((Table("T", (Column("a"),), ((text,), ("",), (-1,))),)).decode("utf-8-sig")
    rows = list(csv.reader(io.StringIO(raw, newline="")))
    assert [row[1] for row in rows] == ["a", f"'{text}", "", "-1"]
