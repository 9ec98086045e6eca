"""What a person taps by hand is told apart from the spindle's time."""

from __future__ import annotations

from datetime import date

import pytest

from holesched.pipeline import explain, read_options
from holesched.printed import summary
from holesched.reports.base import RunStamp
from holesched.reports.operations import times
from holesched.reports.show import Show, show_for
from holesched.reports.takeoff import build_takeoff
from holesched.schedule.model import ReadOptions
from holesched.sequence.model import JobPlan
from holesched.shop.model import Preferences, Shop


def planned(*, by_hand: bool) -> tuple[JobPlan, Shop]:
    shop = Shop(preferences=Preferences(tap_by_hand=by_hand))
    return explain("M8 ↧16", shop, read_options(shop, material="C45", thickness_mm=40.0)), shop


def test_hand_taps_are_in_the_time_by_hand() -> None:
    job, shop = planned(by_hand=True)
    cuts = [target.cut for operation in job.operations for target in operation.targets]
    hand_min = sum(cut.time_min for cut in cuts if cut.step.tool.by_hand)
    assert 0 < hand_min < job.time.cutting_min
    assert job.time.by_hand_min == pytest.approx(hand_min)
    assert times(job.time, show_for("mm", shop)).by_hand


def test_hand_taps_wait_for_no_tool_change_and_no_rapid() -> None:
    """Their own time holds taking up each tap; neither table nor spindle moves."""
    job, _ = planned(by_hand=True)
    tools = {loaded.number: loaded.tool for loaded in job.loading}
    by_hand = [operation for operation in job.operations if tools[operation.tool_number].by_hand]
    assert by_hand == list(job.operations[-len(by_hand) :]), "last of all"
    for operation in by_hand:
        assert operation.change_min == 0
        assert operation.time_min == pytest.approx(
            sum(target.quantity * target.cut.time_min for target in operation.targets)
        )


def test_on_the_machine_there_is_none() -> None:
    job, shop = planned(by_hand=False)
    assert job.time.by_hand_min == 0
    assert times(job.time, show_for("mm", shop)).by_hand == ""


def test_a_step_without_a_depth_makes_the_time_of_the_part_a_least() -> None:
    """Through a part of unknown thickness: what is counted is the spot alone, and every sheet says that it is more."""
    for thickness_mm, whole in ((None, False), (20.0, True)):
        job = explain("M8 THRU", Shop(), ReadOptions("mm", "C45", thickness_mm))
        assert job.time.is_whole == whole
        said = (times(job.time, Show("mm")).total, summary(job).partition("time      ")[2])
        assert [text.startswith("more than ") for text in said] == [not whole] * 2
        takeoff = build_takeoff([job], Shop(), 10, RunStamp(date(2026, 1, 2), "x"))
        (line,) = takeoff.jobs
        assert [text.startswith("more than ") for text in (line.per_part, line.per_lot)] == [not whole] * 2
