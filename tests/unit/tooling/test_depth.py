"""Depth budgets, their check against the callout and the part, and what competing rules would give."""

from __future__ import annotations

from dataclasses import replace

import pytest

from holesched.notes import Severity
from holesched.tooling.depth import (
    BlindThread,
    budget_for,
    competing_depths,
    depth_reason,
    drilled_depth_mm,
    point_length_mm,
    reachable_thread_mm,
    room_for_chamfer,
    shallow_note,
    wall_note,
)

M8 = BlindThread(
    full_thread_mm=16,
    nominal_mm=8,
    pitch_mm=1.25,
    point_mm=1.24,
    clearance_p=1,
    wall_mm=1,
    stated_mm=None,
    thickness_mm=None,
)


def test_m8_16_deep_needs_21_mm() -> None:
    """16 + 3 x 1.25 + 1 x 1.25; calculated."""
    budget = budget_for(M8, 3)
    assert budget.drilled_mm == 21.0
    assert budget.chamfer_mm == 3.75
    assert budget.clearance_mm == 1.25
    assert budget.tip_mm == 22.24
    assert budget.wall_left_mm is None


@pytest.mark.parametrize(("angle", "length"), [(140, 1.24), (118, 2.04), (90, 3.40)])
def test_points(angle: float, length: float) -> None:
    """Drill 6.8 mm: d / 2 / tan(angle / 2); calculated."""
    assert round(point_length_mm(6.8, angle), 2) == length


def test_other_rules_for_the_same_hole() -> None:
    """M8, 16 deep: DIN 76-1 22.2, French 23, British 19.2 mm."""
    assert {name: round(depth, 1) for name, depth, _ in competing_depths(M8)} == {
        "DIN 76-1, normal run-out": 22.2,
        "British (BS 1936) rule": 19.2,
        "French rule": 23.0,
    }


def test_the_budget_reports_the_rules_that_ask_for_more() -> None:
    governed = budget_for(M8, 3).governed_by
    assert governed.startswith("tap chamfer and clearance; more would be asked by")
    assert "DIN 76-1, normal run-out 22.2 mm" in governed
    assert "French rule 23.0 mm" in governed
    assert "British" not in governed


def test_the_reason_shows_every_rule() -> None:
    reason = depth_reason(M8, budget_for(M8, 3), 3)
    assert reason.decision == "drilled depth: 21.00 mm"
    assert {lost.candidate for lost in reason.rejected} == {"22.2 mm", "23.0 mm", "19.2 mm"}
    assert any("DIN 76-1" in str(cite) for cite in reason.cites)


def test_room_is_bounded_by_a_stated_depth() -> None:
    assert room_for_chamfer(M8) is None
    assert room_for_chamfer(replace(M8, stated_mm=21.0)) == pytest.approx(3, abs=1e-5)
    assert room_for_chamfer(replace(M8, stated_mm=17.0)) == pytest.approx(-0.2, abs=1e-5)


def test_room_is_bounded_by_the_thickness_only_where_it_is_short() -> None:
    assert room_for_chamfer(replace(M8, thickness_mm=40)) is None
    short = room_for_chamfer(replace(M8, thickness_mm=22.5))
    assert short is not None
    assert short < 3


def test_a_stated_depth_governs_and_what_is_left_is_clearance() -> None:
    budget = budget_for(replace(M8, stated_mm=20.0), 2)
    assert budget.drilled_mm == 20.0
    assert budget.clearance_mm == 1.5
    assert budget.governed_by.startswith("the drilled depth in the callout")


def test_too_shallow_is_asked_with_figures_and_the_tap_stops_short() -> None:
    shallow = replace(M8, stated_mm=17.0)
    budget = budget_for(shallow, 2)
    note = shallow_note(shallow, budget, 2, "M8x1.25-6H")
    assert note is not None
    assert note.code == "DEPTH-DRILL-TOO-SHALLOW"
    assert note.severity is Severity.ASK
    assert "19.75" in note.message
    assert "19.8 mm" in note.suggestion
    assert reachable_thread_mm(shallow, 2) == 13.25
    assert reachable_thread_mm(replace(M8, stated_mm=1.0), 2) == 0.0
    assert reachable_thread_mm(M8, 2) == 16


def test_deep_enough_is_not_asked() -> None:
    for stated in (None, 19.75, 21.0):
        thread = replace(M8, stated_mm=stated)
        assert shallow_note(thread, budget_for(thread, 2), 2, "M8x1.25-6H") is None


@pytest.mark.parametrize(
    ("thickness", "code"),
    [
        (None, "WALL-UNKNOWN"),
        (22.0, "DEPTH-BREAKS-THROUGH"),
        (22.24, "DEPTH-BREAKS-THROUGH"),
        (23.0, "WALL-THIN"),
        (23.24, ""),
    ],
)
def test_the_wall_is_checked(thickness: float | None, code: str) -> None:
    """The tip of the drill at 22.24 mm, one millimetre of wall wanted."""
    note = wall_note(22.24, thickness, 1.0, "M8x1.25-6H")
    assert (note.code if note is not None else "") == code
    if code in ("DEPTH-BREAKS-THROUGH", "WALL-THIN"):
        assert note is not None
        assert note.is_question


def test_a_longer_chamfer_or_more_clearance_is_a_deeper_hole() -> None:
    assert drilled_depth_mm(10, 2, 1.5, 1) < drilled_depth_mm(10, 3, 1.5, 1) < drilled_depth_mm(10, 3, 1.5, 2)
