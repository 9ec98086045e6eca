"""What the machine cannot do stands first on every sheet and is stamped wherever such a step stands."""

from __future__ import annotations

from dataclasses import replace

import pytest

from holesched.notes import CellRef, Note, Severity
from holesched.pipeline import explain, plan_schedule
from holesched.reports import REPORTS, process_sheet, setup_sheet
from holesched.reports.base import RunStamp
from holesched.reports.html import render
from holesched.reports.open_points import open_points
from holesched.reports.overloads import STAMP, overloads
from holesched.reports.sheet_json import job_json
from holesched.reports.show import Show, count
from holesched.reports.tool_list import tables
from holesched.schedule.model import JobHeader, ReadOptions, Schedule, ScheduleRow
from holesched.sequence.model import JobPlan
from holesched.shop.model import Machine, Shop

SMALL = Shop(machine=Machine(spindle_power_kw=3.0, spindle_torque_nm=20.0, axis_thrust_n=2500.0, thread_milling=False))
"""A drilling machine's spindle: 20 N m. The 1-11.5 NPT below takes more than ten times that in quenched 42CrMo4."""
BY_HAND_NM = 150.0
"""150 N in each hand on a tap wrench of 1 m (common practice, no source)."""
CALLOUTS = ("M6-6H ↧12", "1-11 1/2 NPT", "⌀11 THRU ⌴ ⌀38 ↧10")


@pytest.fixture(scope="module")
def heavy() -> JobPlan:
    rows = tuple(
        ScheduleRow(CellRef("job.csv", "job", line, 2), f"A{line}", callout, "mm", x_mm=50.0 * line, y_mm=10.0)
        for line, callout in enumerate(CALLOUTS, start=2)
    )
    header = JobHeader(material="42CrMo4+QT", thickness_mm=60.0, unit="mm", unit_stated=True)
    return plan_schedule(Schedule("job.csv", "job", "", header, rows, (), len(rows)), (), SMALL)


def heavy_steps(job: JobPlan) -> set[tuple[int, str]]:
    """(operation, hole type) of all steps whose torque or thrust is over the machine's, or by hand over a person's, from the
    figures themselves."""
    return {
        (operation.number, target.letter)
        for operation in job.operations
        for target in operation.targets
        if (target.cut.torque_share or 0) > 1
        or (target.cut.thrust_n or 0) > SMALL.machine.axis_thrust_n
        or (target.cut.step.tool.by_hand and (target.cut.torque_nm or 0) > BY_HAND_NM)
    }


def steps_by_hand(job: JobPlan) -> set[tuple[int, str]]:
    steps = ((operation.number, target) for operation in job.operations for target in operation.targets)
    return {(number, target.letter) for number, target in steps if target.cut.step.tool.by_hand}


def test_every_step_over_the_limits_is_found_with_its_figures(heavy: JobPlan) -> None:
    found = overloads(heavy, Show("mm"))
    assert {(number, each.types) for each in found for number in each.operations} == heavy_steps(heavy) != set()
    sunk = next(each for each in found if each.text.startswith("counterbore 38"))
    assert sunk.text.count("counterbore 38") == 1
    assert "N·m needed" in sunk.text
    assert "N of thrust" in sunk.text
    assert sunk.suggestion


@pytest.mark.parametrize("report", REPORTS, ids=lambda report: report.key)
def test_it_stands_before_everything_else(report, heavy: JobPlan, stamp: RunStamp) -> None:  # type: ignore[no-untyped-def]
    made = render(report.template, report.build(heavy, SMALL, stamp), stamp)
    first = made.index("Do not run as it stands")
    assert first < made.index("Cautions")
    assert first < made.index("<h2")
    by_hand = len(heavy_steps(heavy) & steps_by_hand(heavy))
    machined = count(len(heavy_steps(heavy)) - by_hand, "step")
    told = f"{machined} over the machine's limits, {count(by_hand, 'hand tap')} over what a person turns"
    assert f"{told}: not released" in made.replace("&#39;", "'")
    assert "More than the machine gives or a person turns. Do not run as it stands:" in made


def test_it_is_stamped_on_its_lines_and_on_no_other(heavy: JobPlan, stamp: RunStamp) -> None:
    sheet = process_sheet.build(heavy, SMALL, stamp)
    lines = {(row.number, line.holes.partition(":")[0]): line.stamps for row in sheet.operations for line in row.lines}
    assert {key for key, stamps in lines.items() if STAMP in stamps} == heavy_steps(heavy)
    on_cards = {(int(step.operation), card.letter) for card in sheet.cards for step in card.steps if step.overload}
    assert on_cards == heavy_steps(heavy)
    tools = {tool.operations for tool in setup_sheet.build(heavy, SMALL, stamp).tools if STAMP in tool.stamps}
    assert tools == {str(number) for number, _ in heavy_steps(heavy)}


def test_a_tool_that_is_too_heavy_in_one_hole_type_only_says_so(heavy: JobPlan) -> None:
    from holesched.reports.overloads import stamp as stamp_of

    targets = [target for operation in heavy.operations for target in operation.targets]
    over = next(target for target in targets if target.cut.overload)
    calm = replace(over, letter="Z", cut=replace(over.cut, overload=()))
    assert (stamp_of([over]), stamp_of([over, calm]), stamp_of([calm])) == (STAMP, f"{STAMP} {over.letter}", "")


def test_it_is_not_said_again_among_what_to_watch(heavy: JobPlan) -> None:
    assert not any("the spindle gives 20" in remark.text and "needed" in remark.text for remark in open_points(heavy).watch)


def test_workbook_and_json_say_it(heavy: JobPlan, stamp: RunStamp) -> None:
    table = next(table for table in tables(heavy, SMALL) if table.name == "Operations")
    names = [column.title for column in table.columns]
    stated = {
        (row[names.index("Operation")], row[names.index("Hole type")])
        for row in table.rows
        if STAMP in str(row[names.index("State")])
    }
    assert stated == heavy_steps(heavy)
    told = {
        operation["number"]
        for hole in job_json(heavy, stamp)["holes"]
        for operation in hole["operations"]
        if any(reason["decision"].startswith("overload") for reason in operation["reasons"])
    }
    assert told == {number for number, _ in heavy_steps(heavy)}


def test_a_job_within_the_limits_says_nothing_of_it(job: JobPlan, stamp: RunStamp) -> None:
    assert overloads(job, Show("mm")) == ()
    made = render(process_sheet.REPORT.template, process_sheet.build(job, Shop(), stamp), stamp)
    assert STAMP not in made
    assert "Do not run as it stands" not in made


def test_the_taps_of_a_set_that_nobody_can_turn_stand_together() -> None:
    job = explain("Tr40x7 THRU", Shop(Machine(thread_milling=False)), ReadOptions(material="C45", thickness_mm=40.0))
    (found,) = overloads(job, Show("mm"))
    assert (len(found.operations), len(found.tools)) == (3, 3)
    first = next(cut for hole in job.holes if hole.cut_plan for cut in hole.cut_plan.cuts if cut.step.tool.by_hand)
    assert f"{first.torque_nm:.0f} N·m needed" in found.text  # what the heaviest of them takes


def test_what_a_person_turns_and_what_a_tap_bears_is_said_apart(stamp: RunStamp) -> None:
    shop = Shop(Machine(thread_milling=False))
    turned = explain("Tr40x7 THRU", shop, ReadOptions(material="C45", thickness_mm=40.0))
    note = Note("TAP-BREAKS", Severity.WATCH, "M3: it would break.", "Mill it.")
    broken = tuple(
        replace(
            operation,
            targets=tuple(
                replace(target, cut=replace(target.cut, overload=(note,))) if target.cut.overload else target
                for target in operation.targets
            ),
        )
        for operation in turned.operations
    )
    for job, first, status in (
        (turned, "More than a person turns.", "3 hand taps over what a person turns: not released"),
        (replace(turned, operations=broken), "More than the tap bears.", "3 taps over what it bears: not released"),
    ):
        made = render(process_sheet.REPORT.template, process_sheet.build(job, shop, stamp), stamp)
        assert first in made
        assert status in made
        assert "More than the machine gives" not in made
        assert "over the machine" not in made
