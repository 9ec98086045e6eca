"""How a step drill runs: at the speed of its larger diameter, the feed of its smaller one, the loads of both."""

from __future__ import annotations

from dataclasses import replace
from math import pi, radians, sin

import pytest
from cutting_samples import STRONG, codes, cut, cut_plan, drill, material, step, tap, tap_step

from holesched.cutting.loads import WEAR
from holesched.shop.model import Machine
from holesched.tooling.model import Shoulder, StepKind, Tool, ToolStep

COUNTERBORE = step(Tool(StepKind.COUNTERBORE, 15.0, "15", "HSS"), 8.0)
COUNTERSINK = step(Tool(StepKind.COUNTERSINK, 16.5, "16.5", "HSS", point_angle_deg=90.0), 7.5, diameter_mm=15.0)


def step_drill(over: ToolStep = COUNTERBORE, drilled_mm: float = 9.0) -> ToolStep:
    tool = drill(drilled_mm)
    angle_deg = over.tool.point_angle_deg or 180.0
    return replace(step(replace(tool, shoulder=Shoulder(over.diameter_mm, angle_deg, 17.0, 0.2)), 25.0), also=over)


@pytest.mark.parametrize("over", [COUNTERBORE, COUNTERSINK])
def test_it_runs_at_the_speed_of_the_larger_and_the_feed_of_the_smaller_diameter(over: ToolStep) -> None:
    """Common practice, no source: the outer corner sees the drill's cutting speed, the web the drill's feed."""
    alone, both = cut(step(drill(9.0), 25.0), machine=STRONG), cut(step_drill(over), machine=STRONG)
    assert both.speed_start_m_per_min == alone.speed_start_m_per_min
    assert both.spindle_rpm == pytest.approx(1000 * both.speed_start_m_per_min / (pi * 15.0), abs=6)
    assert both.surface_m_per_min == pytest.approx(pi * 15.0 * both.spindle_rpm / 1000)
    assert both.feed_mm_per_rev == alone.feed_mm_per_rev
    (reason,) = [each for each in both.reasons if each.rule == "CUT-SPEED"]
    assert "at the larger diameter of 15 mm" in reason.because


@pytest.mark.parametrize(("over", "angle_deg"), [(COUNTERBORE, 180.0), (COUNTERSINK, 90.0)])
@pytest.mark.parametrize("workpiece", ["C45", "6061", "EN-GJL-250", "1.4301"])
def test_its_load_is_the_drills_and_the_rings(over: ToolStep, angle_deg: float, workpiece: str) -> None:
    """The ring by Kienzle's relation M = kc f (D^2 - d^2) W / 8000, T = 0.6 kc f (D - d)/2 sin(angle/2) W (textbook form,
    from memory), kc = kc1.1 h^-mc, h = f/2 sin(angle/2); worked here by itself."""
    of = material(workpiece)
    alone, both = (cut(each, of=of, machine=STRONG) for each in (step(drill(9.0), 25.0), step_drill(over)))
    feed, half = both.feed_mm_per_rev, sin(radians(angle_deg / 2))
    kc = of.kc11_n_per_mm2 * (feed / 2 * half) ** -of.mc
    assert alone.torque_nm is not None
    assert alone.thrust_n is not None
    assert both.torque_nm == pytest.approx(alone.torque_nm + kc * feed * (15**2 - 9**2) * WEAR / 8000)
    assert both.thrust_n == pytest.approx(alone.thrust_n + 0.6 * kc * feed * (15 - 9) / 2 * half * WEAR)
    assert both.power_kw == pytest.approx(both.torque_nm * both.spindle_rpm / 9550)
    (reason,) = [each for each in both.reasons if each.rule == "CUT-LOAD"]
    assert "the ring of the shoulder to 15 mm by the Kienzle formula" in reason.because


def test_its_time_is_the_whole_stroke_and_the_dwell_of_what_its_shoulder_makes() -> None:
    """25 mm and 3 mm of approach and beyond, 0.3 s at depth (cutting_operations.csv), out at rapid."""
    both = cut(step_drill(), machine=STRONG)
    seconds = 60 * 28 / both.feed_mm_per_min + 0.3 + 28 / (STRONG.rapid_mm_per_min / 60)
    assert both.time_min * 60 == pytest.approx(seconds)


def test_it_does_not_stand_still_where_that_hardens_the_floor() -> None:
    both = cut(step_drill(), of="1.4301", machine=STRONG)
    assert both.time_min == pytest.approx(28 / both.feed_mm_per_min + 28 / STRONG.rapid_mm_per_min)


def test_too_heavy_it_is_told_as_every_drill_is() -> None:
    weak = Machine(spindle_torque_nm=5.0)
    assert "CUT-TORQUE-OVER" in codes(cut_plan(step_drill(), machine=weak))


def test_what_comes_after_finds_both_holes() -> None:
    """A tap in the small diameter, a countersink over the large one."""
    edge = step(Tool(StepKind.COUNTERSINK, 20.5, "20.5", "HSS", point_angle_deg=90.0), 9.0, diameter_mm=17.0)
    plan, apart = (
        cut_plan(*steps, edge, tap_step(tap(10.0, 1.0), 9.05))
        for steps in ([step_drill()], [step(drill(9.0), 25.0), COUNTERBORE])
    )
    assert plan.cuts[-1] == apart.cuts[-1]
    assert plan.cuts[-2] == apart.cuts[-2]
