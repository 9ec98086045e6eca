"""Depths of whole holes against a calculation by hand: what is drilled, where tips go, what is left, how far tools travel.

Calculated from: drilled = full thread + chamfer threads x P + clearance (1 P, at least 1 mm; with a floating holder 1 P
more); point = d / 2 / tan(half the point angle), 0.23315 d at 130 degrees; tap's tip = full thread + chamfer; a through tool
goes its lead and 1 mm past the far face; feed begins 2 mm above what the tool meets.
"""

from __future__ import annotations

import pytest
from tooling_samples import codes, one, plan, size, step, tap

from holesched.callouts.model import Kind
from holesched.shop.model import Machine, Shop
from holesched.tooling.model import StepKind, ToolPlan

FLOAT = Shop(machine=Machine(rigid_tapping=False))


def deepest_drill_mm(made: ToolPlan) -> tuple[float, float]:
    """Depth of full diameter and tip of the deepest drill."""
    drills = [item for item in made.steps if item.kind is StepKind.DRILL]
    found = max(drills, key=lambda item: item.diameter_mm)
    assert found.depth_mm is not None
    assert found.tip_mm is not None
    return round(found.depth_mm, 3), round(found.tip_mm, 3)


@pytest.mark.parametrize(
    ("thread", "depth_mm", "thickness_mm", "workpiece", "shop", "drilled", "tip", "wall", "tap_tip"),
    [
        # 12 + 3 x 1 + 1; drill 5.0: 0.23315 x 5
        ("M6x1-6H", 12.0, 25.0, "6061", Shop(), 16.0, 17.166, 7.834, 15.0),
        # 16 + 3.75 + 1.25; drill 6.8
        ("M8x1.25-6H", 16.0, 40.0, "6061", Shop(), 21.0, 22.585, 17.415, 19.75),
        # 6 + 1.5 + 1.0 (at least 1 mm); drill 2.5
        ("M3x0.5-6H", 6.0, 12.0, "6061", Shop(), 8.5, 9.083, 2.917, 7.5),
        # 20 + 4.5 + 1.5; drill 8.5
        ("M10x1.5-6H", 20.0, 40.0, "EN-GJL-250", Shop(), 26.0, 27.982, 12.018, 24.5),
        # 12.7 + 3.81 + 1.27; drill 13/64 = 5.159
        ("1/4-20 UNC-2B", 12.7, 30.0, "C45", Shop(), 17.78, 18.983, 11.017, 16.51),
        # a floating holder may run on: 16 + 3.75 + 2.5
        ("M8x1.25-6H", 16.0, 40.0, "6061", FLOAT, 22.25, 23.835, 16.165, 19.75),
        # the part leaves room for 2.5 threads: 23 - 1 - 1.585 - 1.25 = 19.165 for thread and chamfer; 16 + 3.125 + 1.25
        ("M8x1.25-6H", 16.0, 23.0, "6061", Shop(), 20.375, 21.960, 1.040, 19.125),
        # tool steel, annealed; drill 5.0: 9 + 3 x 1 + 1
        ("M6x1-6H", 9.0, 30.0, "1.2379", Shop(), 13.0, 14.166, 15.834, 12.0),
    ],
)
def test_a_blind_thread(
    thread: str, depth_mm: float, thickness_mm: float, workpiece: str, shop: Shop,
    drilled: float, tip: float, wall: float, tap_tip: float,
) -> None:  # fmt: skip
    made = plan(tap(thread, depth_mm), workpiece=workpiece, shop=shop, thickness_mm=thickness_mm)
    [budget] = made.budgets
    assert (budget.drilled_mm, round(budget.tip_mm, 3)) == (drilled, tip)
    assert budget.wall_left_mm == pytest.approx(wall, abs=5e-4)
    assert deepest_drill_mm(made) == (drilled, tip)
    tapped = one(made, StepKind.TAP)
    assert tapped.tip_mm == pytest.approx(tap_tip)
    assert tapped.travel_mm == pytest.approx(2.0 + tap_tip)
    assert tapped.depth_mm == depth_mm


def test_a_through_thread() -> None:
    """Drill 6.8: 20 + 1.585 + 1; spiral-point tap with 5 threads of chamfer and a centre of 8 / 2: 20 + 6.25 + 4 + 1."""
    made = plan(tap("M8x1.25-6H"), thickness_mm=20.0)
    drill, tapped = one(made, StepKind.DRILL), one(made, StepKind.TAP)
    assert drill.tip_mm == pytest.approx(22.585, abs=5e-4)
    assert tapped.tip_mm == pytest.approx(31.25)
    assert tapped.travel_mm == pytest.approx(33.25)
    assert made.budgets == ()


def test_a_thread_under_a_counterbore() -> None:
    """M5 to 15 mm from the face under a counterbore of 5: 15 + 2.4 + 1.0 = 18.4 drilled, point of 4.2: 0.979; fed from 5."""
    made = plan(step(Kind.COUNTERBORE, size(10), 5.0), tap("M5x0.8-6H", 15.0), thickness_mm=40.0)
    drill, tapped = one(made, StepKind.DRILL), one(made, StepKind.TAP)
    assert drill.depth_mm == pytest.approx(18.4)
    assert drill.tip_mm == pytest.approx(19.379, abs=5e-4)
    assert tapped.tip_mm == pytest.approx(17.4)
    assert tapped.travel_mm == pytest.approx(2.0 + 17.4 - 5.0)


def test_a_milled_thread() -> None:
    """M36x4, 50 deep: half a tooth and the rise of the entry, 1 P, and a clearance of 1 P: 50 + 4 + 4."""
    made = plan(tap("M36x4-6H", 50.0), thickness_mm=120.0)
    [budget] = made.budgets
    assert budget.drilled_mm == pytest.approx(58.0)
    assert one(made, StepKind.THREAD_MILL).tip_mm == pytest.approx(54.0)


def test_a_reamed_blind_hole() -> None:
    """8 H7, 20 deep: the reamer's lead of 1.5 and 1 mm for chips under it; drill 7.8: 0.23315 x 7.8."""
    made = plan(step(Kind.REAM, size(8), 20.0, zone="H7"), workpiece="C45", thickness_mm=40.0)
    drill, reamer = one(made, StepKind.DRILL), one(made, StepKind.REAM)
    assert drill.depth_mm == pytest.approx(22.5)
    assert drill.tip_mm == pytest.approx(24.319, abs=5e-4)
    assert reamer.tip_mm == pytest.approx(21.5)


def test_an_unknown_thickness_is_an_empty_box_and_no_pass() -> None:
    made = plan(tap("M8x1.25-6H", 16.0), thickness_mm=None)
    [budget] = made.budgets
    assert budget.wall_left_mm is None
    assert "WALL-UNKNOWN" in codes(made)
