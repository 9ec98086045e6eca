"""Speed, feed, coolant and notes of steps made by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from cutting_samples import CELL, STRONG, codes, cut, cut_plan, drill, material, step, tap, tap_step

from holesched.cutting.clamp import sensible_feed, sensible_rpm
from holesched.cutting.formulas import surface_speed_m_per_min
from holesched.notes import Reason, Severity
from holesched.shop.model import Machine
from holesched.standards.materials import Material, all_materials
from holesched.tooling.model import StepKind


def test_a_plain_drill() -> None:
    """8 mm HSS in C45 of 195 HB: handbook 75 ft/min, 22 to 25 m/min; the start is the middle, corrected by 76.5/75."""
    found = cut(step(drill(8), 12.0))
    assert found.speed_start_m_per_min == pytest.approx(23.5 * 76.5 / 75)
    assert found.spindle_rpm == 950
    assert found.surface_m_per_min == pytest.approx(surface_speed_m_per_min(950, 8))
    assert found.feed_mm_per_rev == 0.12
    assert found.feed_mm_per_min == 950 * 0.12
    assert found.chip_load_mm == 0.06
    assert found.clamps == ()
    assert found.risk is None


def test_every_step_says_why() -> None:
    rules = {reason.rule for reason in cut(step(drill(8), 12.0)).reasons}
    assert rules == {"CUT-SPEED", "CUT-FEED", "CUT-LOAD", "CUT-TIME", "CUT-LIFE"}
    rules = {reason.rule for reason in cut(tap_step(tap(), 6.8)).reasons}
    assert rules == {"CUT-SPEED", "CUT-FEED-PITCH", "CUT-LOAD", "TAP-RISK", "CUT-TIME", "CUT-LIFE"}
    assert all(reason.cites and reason.because for reason in cut(tap_step(tap(), 6.8)).reasons)


@pytest.mark.parametrize("pitch", [0.25, 0.4, 0.7, 1.0, 1.25, 1.5, 25.4 / 20, 25.4 / 13, 3.0])
@pytest.mark.parametrize("of", ["6061", "304", "GG25", "Ti-6Al-4V", "4140"])
def test_tapping_feed_is_pitch_times_speed_exactly(pitch: float, of: str) -> None:
    found = cut(tap_step(tap(8.0, pitch), 8.0 - pitch), of=of)
    assert found.feed_mm_per_rev == pitch
    assert found.feed_mm_per_min == pitch * found.spindle_rpm
    assert found.spindle_rpm == int(found.spindle_rpm)


@pytest.mark.parametrize("workpiece", all_materials(), ids=lambda workpiece: workpiece.key)
def test_every_material_gives_whole_parameters(workpiece: Material) -> None:
    steps = (
        step(drill(9, "HSS-Co"), 4.0, kind=StepKind.SPOT),
        step(drill(6.8, "carbide"), 20.0),
        step(drill(14, "HSS-Co"), 8.0, kind=StepKind.COUNTERBORE),
        step(drill(15, "HSS-Co"), 1.0, kind=StepKind.COUNTERSINK),
        tap_step(tap(), 6.8),
        step(drill(10, "HSS-E"), 20.0, kind=StepKind.REAM),
        step(drill(12, "carbide"), 20.0, kind=StepKind.BORE),
        step(drill(20, "HSS-Co"), 0.5, kind=StepKind.SPOTFACE),
    )
    for found in cut_plan(*steps, of=workpiece).cuts:
        assert 0 < found.speed_low_m_per_min <= found.speed_start_m_per_min <= found.speed_high_m_per_min
        assert found.spindle_rpm > 0
        assert found.feed_mm_per_min == found.feed_mm_per_rev * found.spindle_rpm > 0
        assert found.time_min > 0
        assert found.tool_life_holes is not None
        assert 1 <= found.tool_life_holes[0] <= found.tool_life_holes[1]


def test_depth_slows_a_drill_unless_coolant_comes_through_it() -> None:
    """Common practice, no source: 10 % at 3 diameters, 30 % at 5; none for carbide with coolant through it."""
    flat, three, five = (cut(step(drill(10), 10.0 * ratio)).speed_start_m_per_min for ratio in (2, 3, 5))
    assert three == pytest.approx(0.9 * flat)
    assert five == pytest.approx(0.7 * flat)
    through = Machine(through_tool_coolant=True)
    ducted = replace(drill(10, "carbide"), ducts=True)
    deep = cut(step(ducted, 50.0), machine=through)
    assert deep.speed_start_m_per_min == cut(step(ducted, 10.0), machine=through).speed_start_m_per_min
    assert cut(step(drill(10, "carbide"), 50.0), machine=through).speed_start_m_per_min < deep.speed_start_m_per_min
    assert cut(step(drill(10), 50.0), machine=through).speed_start_m_per_min == five


def test_what_hardens_by_rubbing_is_drilled_slower_when_deep_but_not_fed_less() -> None:
    """In 316L 8 mm at the low end of NAVEDTRA's band, 0.004 in/rev, 0.05 mm a lip: a chip thicker than the hardened skin;
    in C45 a deep hole is fed less as well. Common practice, no source."""
    flat, deep = (cut(step(drill(8, "HSS-Co"), ratio * 8.0), of="316L") for ratio in (2, 5))
    assert flat.feed_mm_per_rev == deep.feed_mm_per_rev == 0.1
    assert flat.chip_load_mm == 0.05
    assert deep.speed_start_m_per_min == pytest.approx(0.7 * flat.speed_start_m_per_min)
    assert any("hardens the wall" in reason.because for reason in flat.reasons)
    flat, deep = (cut(step(drill(8, "HSS-Co"), ratio * 8.0), of="C45") for ratio in (2, 5))
    assert deep.feed_mm_per_rev < flat.feed_mm_per_rev


def test_depth_is_counted_from_where_the_tool_starts() -> None:
    inside = cut(step(drill(10), 40.0, start_mm=20.0))
    assert inside.speed_start_m_per_min == cut(step(drill(10), 20.0)).speed_start_m_per_min


@pytest.mark.parametrize(
    ("depth_mm", "share"), [(8, 1), (16, 1), (16.4, 0.99), (16.8, 0.98), (20, 0.9), (24, 0.8), (40, 0.8)]
)
def test_a_long_thread_slows_its_tap_once_and_without_a_cliff(depth_mm: float, share: float) -> None:
    """M8, blind or through, spiral flutes or point: none to 2 D, a fifth from 3 D on. Common practice, no source."""
    flat = cut(tap_step(tap(), 6.8, depth_mm=8.0)).speed_start_m_per_min
    for form, through in (("spiral-flute", False), ("spiral-point", True)):
        found = cut(tap_step(tap(form=form), 6.8, depth_mm=depth_mm, through=through))
        assert found.speed_start_m_per_min == pytest.approx(share * flat)


def test_unknown_depth_gives_no_time_and_a_word() -> None:
    plan = cut_plan(step(drill(8), None, through=True), step(tap(), None, through=True))
    assert [found.time_min for found in plan.cuts] == [0.0, 0.0]
    (note,) = [note for note in plan.notes if note.code == "CUT-DEPTH-UNKNOWN"]
    assert note.severity is Severity.TOLD
    assert "drill, tap" in note.message
    assert note.ref is None


def test_the_coolant_and_its_reason_are_tools_own() -> None:
    reason = Reason("coolant: air", "said before", "Q61")
    for made in (step(drill(8)), tap_step(tap(), 6.8)):
        found = cut(replace(made, coolant="air", coolant_reasons=(reason,)))
        assert found.coolant == "air"
        assert reason in found.reasons


def test_a_tool_without_a_figure_is_told_and_runs_slowly() -> None:
    plan = cut_plan(step(drill(8, "HSS")), of="60 HRC", machine=Machine(spindle_min_rpm=10))
    assert codes(plan) == ["CUT-NO-DATA"]
    (note,) = plan.notes
    assert note.ref == CELL
    assert "25 % of its low speed" in note.suggestion
    carbide = cut(step(drill(8, "carbide")), of="60 HRC")
    assert plan.cuts[0].speed_high_m_per_min < carbide.speed_low_m_per_min
    assert "CUT-NO-DATA" in codes(cut_plan(tap_step(tap(form="forming"), 7.4), of="GG25"))


def test_floating_holder() -> None:
    slack = Machine(rigid_tapping=False)
    plan = cut_plan(tap_step(tap(), 6.8), machine=slack)
    assert "CUT-FLOATING-HOLDER" in codes(plan)
    assert plan.cuts[0].speed_start_m_per_min == pytest.approx(0.7 * cut(tap_step(tap(), 6.8)).speed_start_m_per_min)
    assert plan.cuts[0].feed_mm_per_rev == pytest.approx(0.97 * 1.25), (
        "0.95 to 0.98 of the pitch; common practice, no source"
    )
    assert plan.cuts[0].feed_mm_per_min == pytest.approx(0.97 * 1.25 * plan.cuts[0].spindle_rpm)
    assert "CUT-FEED-FLOATING" in {reason.rule for reason in plan.cuts[0].reasons}


def test_a_reamer_runs_at_half_the_speed_and_twice_the_feed_of_drilling() -> None:
    """Public training unit, of HSS tools in plain steel: exactly half; about twice up to 12 mm, less above (common practice,
    no source: finish and torque limit it)."""
    for diameter, least in ((3, 1.95), (5, 1.95), (8, 1.9), (10, 1.9), (12, 1.9), (20, 1.65), (32, 1.5)):
        drilled, reamed = (
            cut(step(drill(diameter, "HSS"), diameter, kind=kind), machine=STRONG) for kind in (None, StepKind.REAM)
        )
        assert reamed.speed_start_m_per_min == pytest.approx(0.5 * drilled.speed_start_m_per_min)
        assert least <= reamed.feed_mm_per_rev / drilled.feed_mm_per_rev <= 2.2, diameter
        assert reamed.torque_nm is None


def test_a_cobalt_reamer_runs_as_one_of_plain_high_speed_steel() -> None:
    """The finish limits it, not the edge: about the half of HSS drilling of a public training unit, and below the handbook's
    two thirds. C45, 20 mm: 8 to 12 m/min and 0.4 to 0.5 mm/rev; grey iron 0.6 to 0.8. Common practice, no source."""
    for workpiece in ("S235JR", "C45", "42CrMo4", "304", "316L", "GG25", "6061"):
        drilled = cut(step(drill(10, "HSS")), of=workpiece, machine=STRONG).speed_start_m_per_min
        reamed = cut(step(drill(10, "HSS-E"), kind=StepKind.REAM), of=workpiece, machine=STRONG).speed_start_m_per_min
        assert 0.42 <= reamed / drilled <= 0.67, workpiece
    steel, iron = (cut(step(drill(20, "HSS-E"), kind=StepKind.REAM), of=of, machine=STRONG) for of in ("C45", "GG25"))
    assert 8 <= steel.surface_m_per_min <= 12.5
    assert 0.4 <= steel.feed_mm_per_rev <= 0.5
    assert 0.6 <= iron.feed_mm_per_rev <= 0.8


@pytest.mark.parametrize("workpiece", all_materials(), ids=lambda workpiece: workpiece.key)
def test_in_every_material_a_reamer_runs_slower_and_is_fed_more_than_a_drill(workpiece: Material) -> None:
    """And one of carbide no slower than one of steel; the feed of reaming stays between 0.06 mm and 0.1 of the diameter."""
    for diameter in (4.0, 8.0, 20.0):
        drilled, steel, carbide = (
            cut(step(drill(diameter, of), kind=kind), of=workpiece, machine=STRONG)
            for of, kind in (("HSS-Co", None), ("HSS-E", StepKind.REAM), ("carbide", StepKind.REAM))
        )
        assert steel.speed_start_m_per_min < 0.67 * drilled.speed_start_m_per_min
        assert steel.speed_start_m_per_min <= carbide.speed_start_m_per_min
        assert 1.2 * drilled.feed_mm_per_rev < steel.feed_mm_per_rev == carbide.feed_mm_per_rev
        assert 0.06 <= steel.feed_mm_per_rev <= 0.1 * diameter


def test_a_countersink_runs_at_its_rim() -> None:
    wide = cut(step(drill(20, "HSS-Co"), 2.0, kind=StepKind.COUNTERSINK, diameter_mm=12.0))
    assert wide.surface_m_per_min == pytest.approx(surface_speed_m_per_min(wide.spindle_rpm, 12.0))


def test_machinability_and_hardness_within_a_subgroup() -> None:
    assert cut(step(drill(8)), of="D2").speed_start_m_per_min < 0.75 * cut(step(drill(8)), of="H13").speed_start_m_per_min
    assert cut(step(drill(8)), of="AR400").speed_start_m_per_min < 0.6 * cut(step(drill(8)), of="4140").speed_start_m_per_min


@pytest.mark.parametrize(
    ("rpm", "sensible"), [(2995.9, 3000), (104.9, 100), (99.6, 100), (57.4, 57), (0.2, 1), (12345, 12340)]
)
def test_sensible_speeds(rpm: float, sensible: float) -> None:
    assert sensible_rpm(rpm) == sensible


@pytest.mark.parametrize(("feed", "sensible"), [(0.1234, 0.12), (0.0372, 0.035), (0.0213, 0.021), (0.0001, 0.001)])
def test_sensible_feeds(feed: float, sensible: float) -> None:
    assert sensible_feed(feed) == sensible


def test_a_tap_without_pitch_is_refused() -> None:
    with pytest.raises(ValueError, match="no pitch"):
        cut(step(tap(pitch_mm=0.0)))


def test_names_are_those_of_the_trade() -> None:
    assert material("C45").name.startswith("C45")
    assert cut(step(drill(8)), machine=STRONG).clamps == ()


@pytest.mark.parametrize(("supply", "factor"), [("hand", 0.75), ("none", 0.6)])
def test_without_a_jet_of_coolant_every_tool_is_slower(supply: str, factor: float) -> None:
    """Common practice, no source. Iron and brass are cut dry anyway, and keep their speed."""
    machine = replace(STRONG, coolant=supply)
    for made in (step(drill(8), 12.0), tap_step(tap(8, 1.25), 6.8)):
        wet, dry = cut(made, machine=STRONG), cut(made, machine=machine)
        assert dry.speed_start_m_per_min == pytest.approx(factor * wet.speed_start_m_per_min)
        assert f"x{factor:.2f} " in next(reason.because for reason in dry.reasons if reason.rule == "CUT-SPEED")
        for free in ("EN-GJL-250", "CuZn39Pb3"):
            assert cut(made, of=free, machine=machine).speed_start_m_per_min == (
                cut(made, of=free, machine=STRONG).speed_start_m_per_min
            )
