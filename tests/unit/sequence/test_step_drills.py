"""Step drills weighed by the time of the whole job, and the lot from which one pays."""

from __future__ import annotations

import pytest

from holesched.notes import CellRef
from holesched.pipeline import plan_schedule
from holesched.schedule.model import JobHeader, Schedule, ScheduleRow
from holesched.sequence.model import JobPlan
from holesched.sequence.step_drills import pays_from
from holesched.shop.model import Machine, Preferences, Shop

SCREW = "⌀6.6 THRU ⌴ ⌀11 ↧6.8"
COAXIAL = "⌀6.6 THRU; ⌀11 ↧10"


def of_lot(rows: list[str], shop: Shop | None = None, material: str = "C45") -> JobPlan:
    header = JobHeader(material=material, thickness_mm=25.0, lot=2000)
    read = tuple(ScheduleRow(CellRef("made.csv", "-", 2 + n, 1), f"A{n}", text, "mm") for n, text in enumerate(rows))
    return plan_schedule(Schedule("made.csv", "-", "", header, read, (), len(read)), (), shop or Shop())


def step_drills(job: JobPlan) -> int:
    return sum(loaded.tool.shoulder is not None for loaded in job.loading)


def test_one_that_saves_only_the_change_stays_where_no_other_hole_needs_its_tools() -> None:
    """⌀6.6 and ⌀11 drilled alone take less time in the hole than together, but one change more."""
    alone = of_lot([COAXIAL])
    assert step_drills(alone) == 1
    both_tools_needed = of_lot([COAXIAL, "⌀6.6 THRU", "⌀11 ↧10"])
    assert step_drills(both_tools_needed) == 0
    (hole,) = [hole for hole in both_tools_needed.holes if hole.type.hole.callout == COAXIAL]
    assert hole.cut_plan is not None
    assert "H46" in [reason.rule for step in hole.cut_plan.plan.steps for reason in step.reasons]
    for job in (alone, both_tools_needed):
        assert job.ledger.holes.read == sum(hole.type.quantity for hole in job.holes)


def test_one_that_saves_time_in_every_hole_stays_beside_their_other_holes() -> None:
    assert step_drills(of_lot([f"20X {SCREW}", "⌀6.6 THRU", "⌀11 ↧10"])) == 1


def test_too_weak_a_machine_goes_back_to_separate_tools() -> None:
    """Both diameters at once take 5.4 N m even at half the feed, the drill alone 4.2 at all of it."""
    weak = Shop(machine=Machine(spindle_torque_nm=5.0), preferences=Preferences(drill_material="carbide"))
    job = of_lot([SCREW], weak)
    assert step_drills(job) == 0
    (hole,) = job.holes
    assert hole.cut_plan is not None
    assert "H45" in [reason.rule for step in hole.cut_plan.plan.steps for reason in step.reasons]


@pytest.mark.parametrize(
    ("price", "saved", "parts", "lot"),
    [
        (100.0, 0.25, 1000.0, 400),
        (100.0, 0.3, 1000.0, 334),
        (100.0, 0.1, 1000.0, 1000),
        (100.0, 0.099, 1000.0, None),
        (100.0, 0.0, 1000.0, None),
        (100.0, -1.0, 1000.0, None),
    ],
)
def test_a_tool_pays_when_what_it_saves_is_its_price(price: float, saved: float, parts: float, lot: int | None) -> None:
    """By hand: price over what a part saves, rounded up; never beyond the tool's own life."""
    assert pays_from(price, saved, parts) == lot
