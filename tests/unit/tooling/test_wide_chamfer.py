"""Wide chamfers are milled on a circle by one small tool. Common practice, no source; the geometry is reckoned anew."""

from __future__ import annotations

from math import pi

import pytest

from holesched.cutting.model import CutStep
from holesched.pipeline import explain
from holesched.schedule.model import ReadOptions
from holesched.shop.model import Machine, Preferences, Shop
from holesched.tooling.chamfer import contact_mm, on_circle
from holesched.tooling.model import StepKind


def chamfered(callout: str, shop: Shop | None = None, material: str = "C45", thickness_mm: float = 100.0) -> CutStep:
    (hole,) = explain(callout, shop or Shop(), ReadOptions("mm", material, thickness_mm)).holes
    assert hole.cut_plan is not None
    return next(cut for cut in hole.cut_plan.cuts if cut.step.kind is StepKind.COUNTERSINK)


@pytest.mark.parametrize(
    ("callout", "tool"),
    [
        ("M24 THRU", "90 degree countersink 31"),
        ("M30 THRU", "90 degree chamfer mill 16"),
        ("M48 ↧60", "90 degree chamfer mill 16"),
        ("M100x6 ↧90", "90 degree chamfer mill 25"),
    ],
)
def test_a_wide_edge_is_broken_on_a_circle(callout: str, tool: str) -> None:
    """Countersinks end at 31 mm; the flank of the small mill decides which of the two serves."""
    step = chamfered(callout, Shop(preferences=Preferences(spot_drill=False))).step
    assert f"{step.tool.name} {step.tool.size}" == tool
    assert on_circle(step.tool) == ("mill" in tool)


def test_its_tip_goes_as_deep_as_its_own_cone_and_not_as_that_of_the_rim() -> None:
    """16 mm, cutting with 12.8: 6.4 mm deep at 90 degrees, where a countersink of the rim of 50.4 reaches 25.2."""
    step = chamfered("M48 ↧60").step
    assert contact_mm(step.tool) == pytest.approx(12.8)
    assert step.tip_mm == step.depth_mm == pytest.approx(6.4)
    assert step.diameter_mm == pytest.approx(1.05 * 48)


def test_path_time_and_load_of_a_milled_chamfer() -> None:
    """M48, hole 42.93, rim 50.4: 3.73 mm wide, two turns of the centre on a radius of (50.4 - 12.8) / 2 = 18.8 mm, each with
    half circles in and out, 1.5 circles. The last turn takes three quarters of the triangle of 3.73 x 3.73 / 2."""
    cut = chamfered("M48 ↧60")
    assert any("radius 18.800 mm" in reason.decision and "2 turns" in reason.because for reason in cut.reasons)
    fed_s = 60 * 2 * 1.5 * 2 * pi * 18.8 / cut.feed_mm_per_min
    assert cut.time_min * 60 == pytest.approx(fed_s + 2 * (cut.step.travel_mm or 0) / 400, abs=0.05)
    assert cut.surface_m_per_min == pytest.approx(pi * 12.8 * cut.spindle_rpm / 1000)
    assert cut.torque_nm is not None
    volume = 0.75 * 3.73**2 / 2 * pi * (50.4 - 3.73)
    minutes = 2 * pi * 18.8 / cut.feed_mm_per_min
    told = next(reason for reason in cut.reasons if reason.rule == "CUT-LOAD")
    kc = float(told.because.partition("kc ")[2].split()[0])
    assert cut.torque_nm == pytest.approx(1.3 * kc * volume / minutes / 60e6 * 9550 / cut.spindle_rpm, rel=0.02)
    assert cut.thrust_n is None
    assert not cut.overload


def test_a_weak_spindle_chamfers_m64_where_it_mills() -> None:
    """In one stroke it would take twice the 20 N m that the spindle gives."""
    milling, stroke = (
        chamfered("M64x4 ↧60", Shop(machine=Machine(spindle_torque_nm=20.0, thread_milling=mills)), "EN-GJL-250")
        for mills in (True, False)
    )
    assert on_circle(milling.step.tool)
    assert not milling.overload
    assert not on_circle(stroke.step.tool)
    assert stroke.overload


def test_far_edges_are_broken_on_a_circle_too() -> None:
    shop = Shop(preferences=Preferences(far_edge="turned over"))
    (hole,) = explain("M48 THRU", shop, ReadOptions("mm", "C45", 60.0)).holes
    assert hole.cut_plan is not None
    assert [on_circle(cut.step.tool) for cut in hole.cut_plan.cuts if cut.step.kind is StepKind.COUNTERSINK] == [True, True]


@pytest.mark.parametrize("callout", ["Ø40 THRU ⌵ Ø60 X 90°", "Ø26 THRU ⌵ Ø50 X 90°", "Ø20 THRU ⌵ Ø36 X 90°"])
def test_a_wide_countersink_on_the_drawing_is_milled_too(callout: str) -> None:
    """In one stroke 60 mm asked 79 of 70 N m, of a tool that nobody sells."""
    cut = chamfered(callout, thickness_mm=30.0)
    assert on_circle(cut.step.tool)
    assert not cut.overload
    assert cut.step.step is not None
    rules = [reason.rule for reason in cut.step.reasons]
    assert rules[:2] == ["COUNTERSINK-ANGLE", "O61"]
    assert "mill" in cut.step.tool.name
    assert "25 mm" in cut.step.reasons[0].decision


def test_a_cone_wider_than_the_flank_is_milled_at_several_depths() -> None:
    """Ø40 to Ø60 at 90 degrees: 10 mm wide and deep. A mill of 25 mm cuts 7.5 mm of it at once, from 2.5 to 10 mm of its
    radius: its sharp tip goes 2.5 mm below the cone, 12.5 mm, with its centre on a radius of 20 + 7.5 - 10 = 17.5 mm. Four
    passes of 2.5, 5, 7.5 and 10 mm, the last at two depths: five turns, each with half circles in and out. Geometry."""
    cut = chamfered("Ø40 THRU ⌵ Ø60 X 90°", thickness_mm=30.0)
    assert cut.step.tip_mm == cut.step.depth_mm == pytest.approx(12.5)
    (path,) = (reason for reason in cut.reasons if reason.rule == "CUT-CHAMFER-PATH")
    assert "the lowest on a radius of 17.500 mm: 5 turns" in path.because
    assert cut.time_min == pytest.approx(5 * 1.5 * 2 * pi * 20 / cut.feed_mm_per_min, rel=0.01)
    volume = (10**2 - 7.5**2) / 2 * pi * 50 / 2
    told = next(reason for reason in cut.reasons if reason.rule == "CUT-LOAD")
    assert float(told.because.split()[0]) == pytest.approx(volume, rel=0.01)


@pytest.mark.parametrize(
    ("callout", "shop"),
    [
        ("Ø11 THRU ⌵ Ø22 X 90°", Shop()),
        ("Ø40 THRU ⌵ Ø60 X 60°", Shop()),
        ("Ø40 THRU ⌵ Ø60 X 90°", Shop(machine=Machine(thread_milling=False))),
    ],
    ids=["small", "of an angle that chamfer mills have not", "where the machine does not mill"],
)
def test_other_countersinks_are_made_in_one_stroke(callout: str, shop: Shop) -> None:
    assert not on_circle(chamfered(callout, shop, thickness_mm=60.0).step.tool)


def test_a_mill_does_not_cut_into_the_wall_of_a_counterbore_about_the_rim() -> None:
    """25 mm, cutting with 20: its corner goes 2.5 mm beyond the rim of 50, to 55."""
    found = [on_circle(chamfered(f"Ø26 THRU ⌴ Ø{wide} ↧5 ⌵ Ø50 X 90°").step.tool) for wide in (54, 56)]
    assert found == [False, True]
