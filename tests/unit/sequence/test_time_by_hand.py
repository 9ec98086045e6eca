"""What a person taps by hand is told apart from the spindle's time."""

from __future__ import annotations

import pytest

from holesched.pipeline import explain, read_options
from holesched.reports.operations import times
from holesched.reports.show import show_for
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
