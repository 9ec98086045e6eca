"""The far edge of a through thread, and what the drawing calls for on the far side: planned, or said, never left out."""

from __future__ import annotations

import pytest

from holesched.cutting.model import CutPlan
from holesched.pipeline import explain
from holesched.schedule.model import ReadOptions
from holesched.sequence.model import JobPlan
from holesched.shop.model import Preferences, Shop
from holesched.tooling.far_edge import FAR_EDGE
from holesched.tooling.model import StepKind

TURNED = Shop(preferences=Preferences(far_edge="turned over"))
BACK = Shop(preferences=Preferences(far_edge="back chamfer tool"))


def job(callout: str, shop: Shop | None = None, thickness_mm: float = 30.0) -> JobPlan:
    return explain(callout, shop or Shop(), ReadOptions("mm", "42CrMo4", thickness_mm))


def cuts(made: JobPlan) -> CutPlan:
    (hole,) = made.holes
    assert hole.cut_plan is not None, hole.notes
    return hole.cut_plan


def work(made: JobPlan) -> list[tuple[int, str]]:
    return [(operation.set_up, operation.kind.value) for operation in made.operations]


def codes(made: JobPlan) -> list[str]:
    return [note.code for note in made.notes]


def said(made: JobPlan) -> list[str]:
    return [reason.decision for cut in cuts(made).cuts for reason in cut.step.reasons if reason.rule == FAR_EDGE]


def test_where_nobody_asks_for_a_chamfer_the_far_edge_is_broken_by_hand_and_it_is_said() -> None:
    made = job("M8 THRU")
    assert work(made) == [(1, "spot"), (1, "drill"), (1, "tap")]
    assert said(made) == ["far edge: broken by hand"]
    assert "SECOND-SETUP" not in codes(made)


@pytest.mark.parametrize("callout", ["M8 ↧16", "Ø9 THRU", "M8 THRU CSK Ø9 X 90° BOTH SIDES"])
def test_a_blind_thread_a_plain_hole_and_a_chamfer_called_for_leave_nothing_to_say(callout: str) -> None:
    assert said(job(callout)) == []


def test_a_shop_that_turns_the_part_over_chamfers_in_the_second_set_up() -> None:
    """Rim 1.05 x 8 mm, as on the near side (DIN 76-1: 1.0 to 1.05 d); the leg from the drill's hole is its height."""
    made = job("M8 THRU", TURNED)
    assert work(made)[-1] == (2, "countersink")
    assert "SECOND-SETUP" in codes(made)
    chamfer = cuts(made).cuts[-1]
    assert chamfer.step.diameter_mm == pytest.approx(8.4)
    assert chamfer.step.travel_mm == pytest.approx(2 + (8.4 - 6.8) / 2, abs=0.11)
    assert chamfer.time_min > 0


def test_a_back_chamfer_tool_needs_no_second_set_up_and_goes_past_the_far_face() -> None:
    made = job("M8 THRU", BACK)
    assert {set_up for set_up, _ in work(made)} == {1}
    assert "SECOND-SETUP" not in codes(made)
    chamfer = cuts(made).cuts[-1]
    assert chamfer.step.tool.cuts_back
    assert "through a hole of 6.8 mm" in chamfer.step.tool.name
    assert chamfer.step.tip_mm == 30 + 2
    assert len(made.loading) == 4, "spot drill, drill, tap and the back chamfer tool"
    turned = cuts(job("M8 THRU", TURNED)).cuts[-1]
    assert chamfer.time_min > turned.time_min, "it goes through the whole part and back"


def test_a_countersink_called_on_both_sides_is_two_operations() -> None:
    made = job("M8 THRU CSK Ø9 X 90° BOTH SIDES")
    assert [each for each in work(made) if each[1] == "countersink"] == [(1, "countersink"), (2, "countersink")]
    assert "SECOND-SETUP" in codes(made)
    from_within = job("M8 THRU CSK Ø9 X 90° BOTH SIDES", BACK)
    assert [each for each in work(from_within) if each[1] == "countersink"] == [(1, "countersink"), (1, "countersink")]
    assert "SECOND-SETUP" not in codes(from_within)


@pytest.mark.parametrize("callout", ["Ø9 THRU CSK Ø18 X 90° BOTH SIDES", "Ø9 THRU CSK Ø11 X 82° FAR SIDE"])
def test_a_cone_wider_than_a_back_chamfer_tool_reaches_or_of_another_angle_turns_the_part(callout: str) -> None:
    assert (2, "countersink") in work(job(callout, BACK))


@pytest.mark.parametrize("words", ["BOTH SIDES", "BOTH ENDS", "BEIDSEITIG", "BEIDERSEITS", "DES DEUX CÔTÉS"])
def test_a_counterbore_called_on_both_sides_is_never_one(words: str) -> None:
    made = job(f"Ø9 THRU CBORE Ø15 DEEP 5 {words}")
    planned = [each for each in work(made) if each[1] == "counterbore"] == [(1, "counterbore"), (2, "counterbore")]
    assert planned or any(note.is_question for note in made.notes)
    assert not planned or "SECOND-SETUP" in codes(made)


def test_a_back_spotface_is_planned_on_the_far_side_and_watched() -> None:
    made = job("Ø9 THRU SPOTFACE Ø20 FAR SIDE")
    assert work(made)[-1] == (2, "spotface")
    assert "SECOND-SETUP" in codes(made)


def test_all_that_a_hole_from_the_far_side_needs_is_done_in_its_set_up() -> None:
    assert work(job("M8 ↧16 FAR SIDE")) == [(2, "spot"), (2, "drill"), (2, "tap")]


@pytest.mark.parametrize("shop", [None, TURNED, BACK])
def test_nothing_reaches_a_blocked_far_side(shop: Shop | None) -> None:
    made = job("M8 THRU, NO ROOM BEYOND 6 mm", shop)
    assert said(made) == ["far edge: as it is drilled"]
    assert not any(cut.step.kind is StepKind.COUNTERSINK for cut in cuts(made).cuts)


def test_a_thread_shorter_than_its_through_hole_is_drilled_through_and_tapped_to_its_depth() -> None:
    """M6 THRU ↧8 in 20 mm: the hole goes through, the thread is 8 deep."""
    steps = {cut.step.kind: cut.step for cut in cuts(job("M6 THRU ↧8", thickness_mm=20.0)).cuts}
    assert steps[StepKind.DRILL].through
    assert not steps[StepKind.TAP].through
    assert steps[StepKind.TAP].depth_mm == 8.0
