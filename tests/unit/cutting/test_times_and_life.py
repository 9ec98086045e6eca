"""Time of one hole and holes per tool."""

from __future__ import annotations

from dataclasses import replace
from math import ceil

import pytest
from cutting_samples import STRONG, codes, cut, cut_plan, drill, material, step, tap, tap_step

from holesched.cutting import formulas, tap_formulas
from holesched.cutting.life import two_digits, worn_within
from holesched.cutting.lookup import life_holes
from holesched.notes import Severity
from holesched.shop.model import Machine
from holesched.tooling.model import StepKind, Tool


def test_spindle_acceleration_in_a_short_thread() -> None:
    """16 mm of M8 is 15 turns with its chamfer; 20 rev/s with 20 rev/s2 needs 20 turns: the peak is 17.3 rev/s and one
    way takes 1.73 s. Calculated independently."""
    assert tap_formulas.spindle_turns_needed(20, 20) == 20
    assert round(tap_formulas.reached_rpm(1200, 15, 20) / 60, 1) == 17.3
    assert round(tap_formulas.synchronised_stroke_s(15, 1200, 20), 2) == 1.73


def test_a_long_thread_reaches_its_speed() -> None:
    """30 turns at 20 rev/s: 1.5 s at speed and 1 s lost to starting and stopping."""
    assert tap_formulas.reached_rpm(1200, 30, 20) == 1200
    assert tap_formulas.synchronised_stroke_s(30, 1200, 20) == pytest.approx(2.5)


def test_stroke_is_continuous_where_the_speed_is_just_reached() -> None:
    just, short = (tap_formulas.synchronised_stroke_s(turns, 1200, 20) for turns in (20.0, 19.999999))
    assert just == pytest.approx(short, rel=1e-6)


def test_a_tap_goes_in_and_out() -> None:
    found = cut(tap_step(tap(), 6.8, depth_mm=16.0), of="6061")
    turns = 19.0 / 1.25
    one_way = tap_formulas.synchronised_stroke_s(turns, found.spindle_rpm, Machine().spindle_acceleration_rev_per_s2)
    assert found.time_min * 60 == pytest.approx(2 * one_way)
    assert found.reached_rpm == tap_formulas.reached_rpm(found.spindle_rpm, turns, 40)


def test_a_faster_tap_in_a_short_hole_saves_nothing() -> None:
    slow_spindle = Machine(spindle_acceleration_rev_per_s2=10, tapping_max_rpm=8000)
    found = cut(tap_step(tap(), 6.8, depth_mm=5.0), of="6061", machine=slow_spindle)
    assert found.reached_rpm is not None
    assert found.reached_rpm < found.spindle_rpm
    (reason,) = [reason for reason in found.reasons if reason.rule == "CUT-TIME"]
    assert "would save nothing" in reason.because


def test_a_floating_holder_reverses_slowly() -> None:
    rigid, slack = (
        cut(tap_step(tap(), 6.8), machine=Machine(rigid_tapping=rigid, tapping_max_rpm=100)) for rigid in (True, False)
    )
    assert slack.time_min * 60 == pytest.approx(rigid.time_min * 60 + 0.6)


def test_a_drill_is_fed_and_pulled_out_at_rapid() -> None:
    found = cut(step(drill(8), 12.0))
    fed = formulas.feed_time_min(15.0, found.spindle_rpm, found.feed_mm_per_rev)
    assert found.time_min == pytest.approx(fed + 15.0 / 24000)


def test_pecks_cost_their_way_out_and_back() -> None:
    """Three pecks of 5 mm of travel: two full retracts, 5 and 10 mm deep, each way at rapid, and a pause of 0.4 s each."""
    plain, pecked = (cut(step(drill(8), 12.0, pecks=pecks)) for pecks in (1, 3))
    extra_s = 2 * 0.4 + 2 * (5 + 10) / (24000 / 60)
    assert (pecked.time_min - plain.time_min) * 60 == pytest.approx(extra_s)


def test_a_short_retract_only_breaks_the_chip() -> None:
    """Drawn back a little, 0.15 s each; else out of the hole and back. Common practice."""
    for short, out_s in ((True, 0.15), (False, 0.4 + 2 * 35 / 2 / (24000 / 60))):
        plain, pecked = (cut(step(drill(8), 32.0, pecks=pecks, pecks_short=short)) for pecks in (1, 2))
        assert (pecked.time_min - plain.time_min) * 60 == pytest.approx(out_s)


def test_a_start_inside_a_counterbore_costs_rapids() -> None:
    face, inside = cut(step(drill(8), 12.0)), cut(step(drill(8), 22.0, start_mm=10.0, travel_mm=15.0))
    assert inside.time_min == pytest.approx(face.time_min + 20 / 24000)


@pytest.mark.parametrize("kind", [StepKind.COUNTERBORE, StepKind.COUNTERSINK, StepKind.SPOTFACE, StepKind.SPOT])
def test_flat_and_conical_tools_dwell(kind: StepKind) -> None:
    found = cut(step(drill(12), 5.0, kind=kind))
    fed = formulas.feed_time_min(8.0, found.spindle_rpm, found.feed_mm_per_rev) + 8.0 / 24000
    assert 0.1 < (found.time_min - fed) * 60 <= 0.5


@pytest.mark.parametrize("workpiece", ["304", "N07718", "AZ31B", "Ti-6Al-4V"])
def test_no_tool_stands_still_in_what_hardens_or_burns(workpiece: str) -> None:
    found = cut(step(drill(12), 5.0, kind=StepKind.SPOTFACE), of=workpiece)
    fed = formulas.feed_time_min(8.0, found.spindle_rpm, found.feed_mm_per_rev)
    assert found.time_min == pytest.approx(fed + 8.0 / 24000)


def test_a_reamer_is_drawn_out_at_four_times_its_feed() -> None:
    """Turning, three to five times as fast as it went in. Common practice, no source."""
    found = cut(step(drill(10, "HSS-E"), 20.0, kind=StepKind.REAM))
    fed = formulas.feed_time_min(23.0, found.spindle_rpm, found.feed_mm_per_rev)
    assert found.time_min == pytest.approx(1.25 * fed)


def test_life_of_a_coated_tap_in_steel() -> None:
    """Recalled band for C45, coated, 1.5 to 2 D: 800 to 2000 holes through; 0.7 of it blind; 0.4 of it uncoated."""
    assert cut(tap_step(tap(), 6.8, through=True)).tool_life_holes == (800, 2000)
    assert cut(tap_step(tap(), 6.8)).tool_life_holes == (560, 1400)
    assert cut(tap_step(tap(treatment="bright"), 6.8, through=True)).tool_life_holes == (320, 800)


@pytest.mark.parametrize(
    ("treatment", "workpiece", "share"),
    [
        ("bright", "C45", 0.4),
        ("bright", "CuZn39Pb3", 1),
        ("bright", "6061", 1),
        ("nitride", "GG25", 1),
        ("nitride", "EN AC-43400", 1),
        ("nitride", "C45", 0.6),
        ("steam oxide", "S235JR", 0.7),
        ("CrN", "6061", 1),
    ],
)
def test_a_treatment_costs_holes_only_where_a_coating_is_missed(treatment: str, workpiece: str, share: float) -> None:
    """From memory: a nitrided skin stands for a coating where the material grinds, polished bright is right in soft
    non-ferrous material; elsewhere both wear sooner."""
    low, high = life_holes(material(workpiece).subgroup, "tap") or (0, 0)
    found = cut(tap_step(tap(treatment=treatment), 6.8, through=True), of=workpiece, machine=STRONG).tool_life_holes
    assert found == (two_digits(low * share), two_digits(high * share))


def test_a_speed_rounded_for_the_program_changes_no_life() -> None:
    """370 rev/min for 373: 1 % less speed, which Taylor's relation would make 8 % more life."""
    found = cut(tap_step(tap(6, 1.0), 5.0, through=True), of="304")
    assert 0.97 < found.surface_m_per_min / found.speed_start_m_per_min < 1
    assert found.tool_life_holes == (200, 700)


@pytest.mark.parametrize(("kind", "full"), [(None, (100, 300)), (StepKind.REAM, (200, 600))])
def test_drills_and_reamers_last_for_a_length_cut(kind: StepKind | None, full: tuple[float, float]) -> None:
    """Recalled band for C45 at 2 to 3 D: 12 D deep a quarter of the holes, 1 D and less twice as many; 2.5 to 7.5 m either
    way. Common practice, no source."""
    for ratio, share in ((2, 1), (2.5, 1), (3, 1), (4, 0.75), (6, 0.5), (12, 0.25), (1.6, 1.25), (1, 2), (0.5, 2)):
        found = cut(step(drill(10, "HSS-Co"), 10.0 * ratio, kind=kind), machine=STRONG).tool_life_holes
        assert found == tuple(two_digits(holes * share) for holes in full), ratio
    small = cut(step(drill(2, "HSS-Co"), 5.0, kind=kind), machine=STRONG).tool_life_holes
    assert small == tuple(0.6 * holes for holes in full)


def test_a_tap_lasts_for_a_length_cut_from_two_diameters_on() -> None:
    """No cliff at 2 D: 16.2 mm of M8 is as good as 16. Common practice, no source."""
    shallow, at, just, deep = (
        cut(tap_step(tap(), 6.8, depth_mm=depth, through=True)).tool_life_holes for depth in (4.0, 16.0, 16.2, 32.0)
    )
    assert shallow == at == (800, 2000)
    assert just == (790, 2000)
    assert deep == (400, 1000)


@pytest.mark.parametrize(("workpiece", "low", "high"), [("N07718", 15, 60), ("6082", 1000, 15000), ("C45", 400, 2000)])
def test_a_thread_mill_wears_as_the_material_asks(workpiece: str, low: float, high: float) -> None:
    """M3, 2 D: in aged alloy 718 a shop gets 20 to 50 holes from a cutter, in aluminium thousands. Common practice, no
    source."""
    tool = Tool(StepKind.THREAD_MILL, 2.2, "2.2", "carbide", flutes=3, pitch_mm=0.5)
    found = cut(step(drill(2.55, "carbide"), 9.0), step(tool, 6.0, diameter_mm=3.0), of=workpiece).tool_life_holes
    assert found is not None
    assert low <= found[0] < found[1] <= high


def test_cones_and_flat_bottoms_do_not_ask_how_deep_the_hole_is() -> None:
    for kind in (StepKind.SPOT, StepKind.COUNTERSINK, StepKind.COUNTERBORE):
        lives = {cut(step(drill(10, "HSS-Co"), depth, kind=kind), machine=STRONG).tool_life_holes for depth in (1.0, 40.0)}
        assert len(lives) == 1, kind


def test_life_grows_when_a_limit_slows_the_tool_but_not_beyond_twice() -> None:
    free = cut(step(drill(3, "carbide"), 6.0), of="6061", machine=STRONG).tool_life_holes
    slowed = cut(step(drill(3, "carbide"), 6.0), of="6061", machine=replace(STRONG, spindle_max_rpm=3000)).tool_life_holes
    assert free is not None
    assert slowed == (2 * free[0], 2 * free[1])


BAR = Tool(StepKind.BORE, 60.0, "60", "carbide", flutes=1, name="boring bar")


def test_an_edge_of_a_boring_bar_lasts_for_minutes_in_the_cut() -> None:
    """As a turning tool's does, whose life is given in minutes: 15 to 60 in common practice, no source; in C45 40 to 120."""
    found = cut(step(drill(54, "carbide"), 63.0), step(BAR, 60.0), machine=STRONG)
    minutes = formulas.feed_time_min(63.0, found.spindle_rpm, found.feed_mm_per_rev)
    assert found.tool_life_holes == (two_digits(40 / minutes), two_digits(120 / minutes))
    deeper = cut(step(drill(54, "carbide"), 123.0), step(BAR, 120.0), machine=STRONG)
    assert deeper.tool_life_holes[0] == pytest.approx(found.tool_life_holes[0] * 63 / 123, rel=0.05)
    assert cut(step(drill(54, "carbide"), None), step(BAR, None)).tool_life_holes is None


def test_a_tool_that_wears_out_within_a_hole_is_said_and_counted_as_a_part_of_one() -> None:
    """Minutes in the cut over minutes an edge lasts, 8 to 25 in work of 45 to 55 HRC: arithmetic."""
    mill = Tool(StepKind.MILL, 20.0, "20", "carbide", flutes=4, name="end mill")
    steps = (step(drill(20, "carbide"), 93.0), step(mill, 90.0, diameter_mm=60.0))
    plan = cut_plan(*steps, of="42CrMo4 50 HRC")
    milled = plan.cuts[-1]
    low, high = milled.tool_life_holes
    assert low == pytest.approx(8 / milled.time_min, rel=0.05)
    assert high == pytest.approx(25 / milled.time_min, rel=0.05)
    assert high < 1
    (note,) = (each for each in plan.notes if each.code == "TOOL-WORN-WITHIN")
    assert note.severity is Severity.WATCH
    assert f"{ceil(1 / high)} to {ceil(1 / low)} of it a hole" in note.message
    assert "TOOL-WORN-WITHIN" not in codes(cut_plan(*steps, of="C45"))


def test_two_passes_of_one_tool_wear_it_together() -> None:
    one = replace(cut(step(BAR, 60.0)), tool_life_holes=(1.5, 3.0))
    assert worn_within([one]) == []
    (note,) = worn_within([one, one])
    assert "may wear out within one hole: 1 to 2 of it" in note.message


def test_taylor() -> None:
    """v T^n = C with n = 0.25: at 80 % of the speed the tool lasts (1/0.8)^4 = 2.44 times as long."""
    assert formulas.taylor_life_factor(0.8, 0.25) == pytest.approx(2.44140625)
    assert formulas.taylor_life_factor(1.0, 0.125) == 1.0
