"""Thread milling: the centre's feed, the path, passes and levels, what it costs, and the whole step."""

from __future__ import annotations

import sys
from math import pi
from pathlib import Path

import pytest
from cutting_samples import cut, material, tap, tap_step

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tooling"))

from tooling_samples import hole
from tooling_samples import tap as thread

from holesched.cutting.geometry import cut_of
from holesched.cutting.milled_step import milled_step
from holesched.cutting.model import CutStep
from holesched.cutting.parameters import plan_cutting
from holesched.cutting.reckoning import reckon
from holesched.cutting.tap_formulas import groove_mm2, thread_groove_mm2
from holesched.cutting.thread_mill import (
    Milled,
    centre_feed_mm_per_min,
    centre_path_mm,
    mill_thread,
    milled_volume_mm3,
    milling_power_kw,
)
from holesched.cutting.trial import Trial
from holesched.pipeline import compare, explain
from holesched.reports.card_facts import card_facts
from holesched.reports.show import Show
from holesched.reports.source_list import SourceList
from holesched.schedule.model import ReadOptions
from holesched.shop.model import Machine, Shop
from holesched.standards.materials import Material, all_materials
from holesched.standards.thread_mills import thread_mill
from holesched.tooling.choose import plan_tools
from holesched.tooling.model import StepKind
from holesched.tooling.reckoned import NOT_RECKONED
from holesched.tooling.rules import standard_rules

M36 = "M36x4-6H"


def milled(
    text: str = M36,
    workpiece: str = "C45",
    depth: float | None = 50.0,
    thickness: float = 90.0,
    machine: Machine | None = None,
) -> CutStep:
    """The thread-milling step of one hole."""
    found, shop = material(workpiece), Shop(machine=machine or Machine())
    plan = plan_cutting(plan_tools(hole(thread(text, depth), thickness_mm=thickness), found, shop), found, shop)
    (step,) = [each for each in plan.cuts if each.step.kind is StepKind.THREAD_MILL]
    return step


def test_the_centre_runs_slower_than_the_edge() -> None:
    """A 12 mm cutter in a 16 mm thread: a quarter of the edge's feed. Geometry."""
    assert centre_feed_mm_per_min(400, 16, 12) == 100


def test_edge_and_centre_take_the_same_time_for_a_turn() -> None:
    edge, major, cutter = 400.0, 16.0, 12.0
    assert pi * major / edge == pytest.approx(pi * (major - cutter) / centre_feed_mm_per_min(edge, major, cutter))


def test_path_is_a_circle_and_two_half_circles_of_half_its_size() -> None:
    assert centre_path_mm(16, 12) == pytest.approx(pi * 4 + 2 * (pi * 2 / 2))


def test_volume_is_a_ring_with_the_grooves_section() -> None:
    """Pappus: section 0.25 x 2 mm at P 2 ... a groove 1 high and P/8 + 1 tan 30 wide on its middle circle of 19, 5 times."""
    section = 1 * (2 / 8 + 1 / 3**0.5)
    assert milled_volume_mm3(thread_groove_mm2(1, 2), 1, 2, 20, 10) == pytest.approx(section * pi * 19 * 5)


def test_power_is_force_times_volume_over_time() -> None:
    """2000 N/mm2 and 30 000 mm3 in a minute: 60e6 N mm/min are a kilowatt. Calculated."""
    assert milling_power_kw(2000, 30_000, 1.0) == pytest.approx(1.0)


@pytest.mark.parametrize("workpiece", all_materials(), ids=lambda workpiece: workpiece.key)
def test_cutter_goes_into_the_hole_of_every_thread(workpiece: Material) -> None:
    for major, pitch in ((1, 0.25), (2, 0.4), (6, 1.0), (8, 1.25), (20, 2.5), (48, 5.0)):
        minor = major - 1.0825 * pitch
        mill = mill_thread(Milled(major, pitch, minor), workpiece, Machine())
        if mill is None:
            assert workpiece.subgroup == "N8"
            continue
        assert mill.cutter_mm < minor
        assert mill.centre_feed_mm_per_min < mill.edge_feed_mm_per_min
        assert mill.centre_feed_mm_per_min <= Machine().feed_max_mm_per_min
        assert mill.spindle_rpm <= Machine().spindle_max_rpm
        assert mill.rise_mm == pitch


def test_no_cutter_below_a_millimetre() -> None:
    assert thread_mill(0.9, 0.7) is None


def test_a_coarse_thread_of_its_kind_gets_a_smaller_cutter() -> None:
    """1/4-20 BSW: three quarters of 6.35 would be 4.76 mm; its hole is only 4.724."""
    mill = thread_mill(6.35, 4.724)
    assert mill is not None
    assert mill.diameter_mm == 4.4


@pytest.mark.parametrize(
    ("major", "pitch", "inserts", "longest_mm"),
    [
        (20, 2.5, False, 40),
        (30, 3.5, False, 45),
        (33, 3.5, False, 45),
        (36, 4, True, 30),
        (64, 6, True, 40),
        (100, 6, True, 40),
    ],
)
def test_no_solid_thread_mill_is_larger_than_20_mm(major: float, pitch: float, inserts: bool, longest_mm: float) -> None:
    """Above it inserts of 15 to 40 mm in a steel body, and so more levels. Common practice, no source."""
    mill = thread_mill(major, major - 1.0825 * pitch)
    assert mill is not None
    assert (mill.inserts, mill.length_mm) == (inserts, longest_mm)
    assert (mill.diameter_mm > 20) == inserts
    made = mill_thread(Milled(major, pitch, major - 1.0825 * pitch, 96.0), material("C45"), Machine())
    assert made is not None
    assert made.levels == -(-96 // longest_mm)


def test_no_solid_cutter_of_a_trapezoidal_profile_is_larger_than_20_mm() -> None:
    for major in range(16, 120):
        mill = thread_mill(float(major), major - 4.0, "30deg", 4.0)
        assert mill is not None
        assert (mill.diameter_mm > 20) == mill.inserts, major


@pytest.mark.parametrize(
    ("workpiece", "pitch", "length", "passes"),
    [
        ("C45", 1.25, 12.0, 1),
        ("304", 1.25, 12.0, 2),
        ("C45", 3.0, 12.0, 2),
        ("60 HRC", 1.25, 12.0, 3),
        ("C45", 1.25, 30.0, 2),
    ],
)
def test_passes(workpiece: str, pitch: float, length: float, passes: int) -> None:
    """Common practice, no source: one; two where it is tough or coarse, three hardened, one more where it reaches far."""
    mill = mill_thread(Milled(8, pitch, 8 - 1.0825 * pitch, length), material(workpiece), Machine())
    assert mill is not None
    assert mill.passes == passes


def test_a_thread_longer_than_the_cutter_takes_levels() -> None:
    short, long = (mill_thread(Milled(8, 1.25, 6.647, mm), material("C45"), Machine()) for mm in (16.0, 17.0))
    assert short is not None
    assert long is not None
    assert (short.levels, long.levels) == (1, 2)
    assert long.time_min > 1.9 * short.time_min


def test_a_risky_tap_names_the_thread_mill_and_its_time() -> None:
    found = cut(tap_step(tap(6, 1), 5.05, depth_mm=15.0), of="304")
    assert found.step.kind is StepKind.TAP
    assert found.risk is not None
    assert found.risk.remedies[-1].startswith("A thread mill of 4.5 mm (about")
    unable = cut(tap_step(tap(6, 1), 5.05, depth_mm=15.0), of="304", machine=Machine(thread_milling=False)).risk
    assert unable is not None
    assert not any("thread mill" in remedy for remedy in unable.remedies)


def test_the_whole_step_of_a_large_thread() -> None:
    """M36x4, cutter 21.6, two inserts: the centre's circle has a radius of (36 - 21.6) / 2 = 7.2, arcs 3.6. Geometry."""
    step = milled()
    assert step.milling is not None
    assert step.milling.cutter_mm == 21.6
    assert step.milling.centre_radius_mm == pytest.approx(7.2)
    assert step.milling.arc_radius_mm == pytest.approx(3.6)
    assert step.surface_m_per_min == pytest.approx(pi * 21.6 * step.spindle_rpm / 1000)
    assert step.feed_mm_per_min == step.milling.centre_feed_mm_per_min == step.feed_mm_per_rev * step.spindle_rpm
    assert step.milling.edge_feed_mm_per_min == pytest.approx(step.feed_mm_per_min * 36 / 14.4)
    assert step.chip_load_mm == pytest.approx(step.milling.edge_feed_mm_per_min / step.spindle_rpm / 2)
    turns = step.milling.passes * step.milling.levels
    assert step.time_min == pytest.approx(turns * centre_path_mm(36, 21.6) / step.feed_mm_per_min, rel=0.02)
    assert step.tool_life_holes is not None
    assert step.tool_life_holes[0] == pytest.approx(40 / step.milling.time_min, rel=0.06)
    assert step.risk is None
    assert step.reached_rpm is None
    rules = {reason.rule for reason in step.reasons}
    assert rules >= {"CUT-SPEED", "CUT-THREAD-MILL-FEED", "CUT-THREAD-MILL-PATH", "CUT-THREAD-MILL-PASSES", "CUT-LOAD"}
    assert all(reason.cites for reason in step.reasons)


def test_milling_takes_a_fraction_of_the_taps_torque() -> None:
    """Common practice, no source: an order less."""
    step = milled()
    tapped = cut(tap_step(tap(36, 4.0, material="HSS-E-PM", flutes=4), 32.0, depth_mm=50.0))
    assert step.torque_nm is not None
    assert tapped.torque_nm is not None
    assert step.torque_nm < tapped.torque_nm / 10


def test_a_left_hand_thread_is_milled_downwards() -> None:
    right, left = milled().milling, milled("M36x4-6H-LH").milling
    assert right is not None
    assert left is not None
    assert (right.downwards, left.downwards) == (False, True)


def test_limits_of_the_machine_hold_for_the_centres_feed() -> None:
    step = milled(machine=Machine(feed_max_mm_per_min=25.0, spindle_max_rpm=500.0))
    assert step.spindle_rpm == 500
    assert step.feed_mm_per_min <= 25
    assert [reason.rule for reason in step.clamps] == ["CLAMP-SPINDLE-MAX", "CLAMP-FEED-MAX"]


def test_unknown_thickness_gives_a_path_but_no_time() -> None:
    found, shop = material("C45"), Shop()
    plan = plan_cutting(plan_tools(hole(thread(M36), thickness_mm=None), found, shop), found, shop)
    step = plan.cuts[-1]
    assert step.step.kind is StepKind.THREAD_MILL
    assert step.time_min == 0
    assert step.milling is not None


def test_a_tap_too_heavy_for_the_spindle_is_reckoned_and_then_milled() -> None:
    """M20 in 4140 on 40 N m: the first plan taps, its torque tells the rules, the second mills."""
    workpiece, shop = material("4140"), Shop(machine=Machine(spindle_torque_nm=40.0))
    drawn = hole(thread("M20x2.5-6H", 30.0), thickness_mm=60.0)
    first = plan_cutting(plan_tools(drawn, workpiece, shop), workpiece, shop)
    known = reckon(Trial(first.plan.steps, workpiece, shop), NOT_RECKONED, standard_rules())
    assert known.tap_torque["M20x2.5-6H"] > 1
    second = plan_cutting(plan_tools(drawn, workpiece, shop, reckoned=known), workpiece, shop)
    assert second.cuts[-1].step.kind is StepKind.THREAD_MILL
    assert second.cuts[-1].step.reasons[0].rule == "P31"
    of_the_rest = reckon(Trial(second.plan.steps, workpiece, shop), known, standard_rules())
    assert (of_the_rest.tap_torque, of_the_rest.heavy_spot) == (known.tap_torque, True)  # its spot drill is told next
    strong = Shop(machine=Machine(spindle_torque_nm=400.0))
    tapped = plan_cutting(plan_tools(drawn, workpiece, strong), workpiece, strong)
    assert reckon(Trial(tapped.plan.steps, workpiece, strong), NOT_RECKONED, standard_rules()) == NOT_RECKONED


def test_a_step_that_no_rule_mills_is_a_defect() -> None:
    step = milled().step
    with pytest.raises(ValueError, match="not milled in N8"):
        milled_step(cut_of(step, ()), material("ZP0410"), Machine())


def test_a_taper_thread_is_milled_to_its_size_at_the_face() -> None:
    """ASME B1.20.1, 1-11.5 NPT: pitch diameter at the face E1 = 1.23863 in, thread height 0.8 of the pitch (both from
    memory): major diameter there 1.23863 + 0.8 / 11.5 in. The path's radius grows by half of 1/16 of the pitch in a turn."""
    job = explain("1-11 1/2 NPT", Shop(), ReadOptions("in", "4340 32-36 HRC", 50.8))
    (hole,) = job.holes
    assert hole.cut_plan is not None
    cut = hole.cut_plan.cuts[-1]
    assert cut.step.kind is StepKind.THREAD_MILL
    assert cut.milling is not None
    major_mm = 25.4 * (1.23863 + 0.8 / 11.5)
    assert cut.milling.centre_radius_mm == pytest.approx((major_mm - cut.milling.cutter_mm) / 2, abs=0.001)
    assert (cut.milling.passes, cut.milling.levels) == (1, 1)
    assert cut.milling.length_mm >= (cut.step.depth_mm or 0.0)
    (path,) = [reason for reason in cut.reasons if reason.rule == "CUT-THREAD-MILL-PATH"]
    assert f"grows by {25.4 / 11.5 / 32:.3f} mm in the turn" in path.because
    assert not cut.overload
    tapped = next(way for way in compare(job, Shop()) if way.choice.process == "cut")
    assert tapped.cut_plan is not None
    assert any(each.overload for each in tapped.cut_plan.cuts)


def test_a_trapezoidal_groove_is_half_a_pitch_wide_in_its_middle() -> None:
    """Geometry of the basic profile (ISO 2901): the crest of the screw is 0.366 P wide (from memory), the gap beside it the
    rest of the pitch at the other end of the flanks."""
    wide_at_root, wide_at_mouth = 0.366 * 7, 7 - 0.366 * 7
    assert groove_mm2("30deg", 3.5, 7) == pytest.approx(3.5 * (wide_at_root + wide_at_mouth) / 2)


def test_a_trapezoidal_thread_is_milled_by_one_tooth_a_pitch_a_turn() -> None:
    """Tr40x7, 42 mm long: 6 turns a pass; 3.5 mm deep at half a millimetre a pass are 7 passes, entered once each."""
    milled_tr = mill_thread(Milled(40, 7, 33, 42, profile="30deg"), material("C45"), Machine())
    assert milled_tr is not None
    assert (milled_tr.passes, milled_tr.levels, milled_tr.length_mm) == (7, 6, 7)
    circle = pi * (40 - milled_tr.cutter_mm)
    assert milled_tr.time_min * milled_tr.centre_feed_mm_per_min == pytest.approx(7 * (6 + 0.5) * circle)
    two_starts = mill_thread(Milled(40, 7, 33, 42, profile="30deg", starts=2), material("C45"), Machine())
    assert two_starts is not None
    assert two_starts.rise_mm == 14
    assert two_starts.time_min == milled_tr.time_min  # half the turns, twice
    assert mill_thread(Milled(14, 3, 11, 20, profile="30deg"), material("C45"), Machine()) is None


def test_a_set_that_nobody_turns_is_milled_and_what_no_helix_makes_stands_as_too_heavy() -> None:
    """The sheet says how: Tr40x7 in C45 by a cutter one tooth high; without a helix a lathe is named."""
    (hole,) = explain("Tr40x7 THRU", Shop(), ReadOptions("mm", "C45", 40)).holes
    assert hole.cut_plan is not None
    last = hole.cut_plan.cuts[-1]
    assert last.step.kind is StepKind.THREAD_MILL
    assert last.step.tool.name == "one-tooth 30 degree thread mill with inserts"
    assert last.step.reasons[0].rule == "P37"
    assert not any(cut.overload for cut in hole.cut_plan.cuts)
    facts = dict(card_facts(hole, Show("mm"), SourceList()))
    assert "7 passes, 6 turns a pass" in facts["Thread milling"]
    (told,) = [note for note in hole.notes if note.code == "THREAD-MILL-TRAPEZOIDAL"]
    assert "lead angle" in told.message
    assert "On a lathe" in told.message
    (light,) = explain("Tr20x4 THRU", Shop(), ReadOptions("mm", "C45", 40)).holes
    assert light.cut_plan is not None
    assert light.cut_plan.cuts[-1].step.tool.by_hand
