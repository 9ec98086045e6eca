"""A tool that only some holes ask coolant through is one tool for all of them, and ordered for it."""

from __future__ import annotations

from holesched.notes import CellRef
from holesched.pipeline import plan_schedule
from holesched.reports.naming import tool_name
from holesched.reports.show import Show
from holesched.schedule.model import JobHeader, Schedule, ScheduleRow
from holesched.sequence.model import JobPlan
from holesched.shop.model import Machine, Preferences, Shop
from holesched.tooling.model import StepKind

CARBIDE = Preferences(drill_material="carbide")


def job_of(*rows: str, through: bool = True) -> JobPlan:
    shop = Shop(machine=Machine(through_tool_coolant=through), preferences=CARBIDE)
    read = tuple(ScheduleRow(CellRef("made.csv", "-", 2 + n, 1), f"A{n}", text, "mm") for n, text in enumerate(rows))
    header = JobHeader(material="C45", thickness_mm=60.0)
    return plan_schedule(Schedule("made.csv", "-", "", header, read, (), len(read)), (), shop)


def drills(job: JobPlan) -> list[str]:
    return [tool_name(loaded.tool, Show("mm")).detail for loaded in job.loading if loaded.tool.kind is StepKind.DRILL]


def test_one_drill_with_ducts_serves_the_shallow_hole_too() -> None:
    job = job_of("⌀8 ↧12", "⌀8 ↧40")
    (drill,) = drills(job)
    assert "with coolant ducts" in drill
    for hole in job.holes:
        assert hole.cut_plan is not None
        assert [cut.step for cut in hole.cut_plan.cuts] == list(hole.cut_plan.plan.steps)


def test_no_ducts_are_ordered_where_nothing_asks_for_them() -> None:
    for job in (job_of("⌀8 ↧12"), job_of("⌀8 ↧12", "⌀8 ↧40", through=False)):
        (drill,) = drills(job)
        assert "ducts" not in drill
