"""What an experienced tapping engineer would see at a glance, over every material, kind of hole and machine: nothing beyond
the machine in silence, no speed, feed or time that is none, no tool where it is wrong, nothing without a reason.

Bounds of time and number of tools are a judgement (common practice, no source): what goes beyond them is absurd.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from math import pi

import pytest

from holesched.cutting.clamp import available_torque_nm
from holesched.cutting.model import HAND_OVER, OVERLOAD, TAP_BREAKS, CutPlan, CutStep
from holesched.notes import CellRef, Severity
from holesched.pipeline import plan_schedule
from holesched.schedule.model import JobHeader, Schedule, ScheduleRow
from holesched.sequence.model import PlannedHole
from holesched.shop.model import Machine, Preferences, Shop
from holesched.standards.materials import Material, all_materials
from holesched.tooling.chamfer import on_circle
from holesched.tooling.model import CONES, StepKind

THICKNESS_MM = 40.0
SHOPS = {
    "usual": Shop(),
    "strong": Shop(
        Machine(
            spindle_torque_nm=600,
            spindle_power_kw=30,
            axis_thrust_n=25_000,
            spindle_max_rpm=12_000,
            through_tool_coolant=True,
        )
    ),
    "weak": Shop(
        Machine(
            spindle_torque_nm=15,
            spindle_power_kw=2.2,
            axis_thrust_n=2_000,
            spindle_max_rpm=6_000,
            spindle_min_rpm=60,
            rigid_tapping=False,
            thread_milling=False,
        )
    ),
    "by hand": Shop(Machine(coolant="hand"), Preferences(tap_by_hand=True)),
}
CALLOUTS = (
    *(
        "M1.6 ↧3",
        "M2 ↧4",
        "M3 ↧6",
        "M4 THRU",
        "M6 ↧12",
        "M8 ↧20",
        "M10 THRU",
        "M12 ↧36",
        "M20 ↧30",
        "M24x1.5 ↧25",
        "M30 THRU",
    ),
    *("M36 ↧35", "#6-32 UNC ↧5", "1/4-18 NPT", "G1/2 ↧20", "Tr20x4 THRU", "Tr40x7 THRU", "M8 LH ↧12", "STI M6 ↧9"),
    *("⌀1.5 ↧4", "⌀5 THRU", "⌀12 ↧39", "⌀8 H7 THRU", "⌀20 H7 ↧30", "⌀35 THRU", "⌀60 H7 THRU", "⌀120 ↧20"),
    *("⌀9 THRU ⌴ ⌀15 ↧9", "⌀11 THRU ⌵ ⌀22 X 90°", "M6 ↧12 ⌴ ⌀11 ↧4"),
)
LOTS = (None, 1, 50, 2000)
MOST_TOOLS = {"usual": 8, "strong": 8, "weak": 12, "by hand": 9}
TITANIUM_COATINGS = ("TiN", "TiCN", "TiAlN")
ONLY_CARBIDE_HB = 371.0
"""From about 40 HRC only carbide drills: hard work, which takes its time."""
HARD_HB = 421.0
"""From about 45 HRC no high-speed steel cuts."""
TURNED = (StepKind.SPOT, StepKind.DRILL, StepKind.COUNTERBORE, StepKind.COUNTERSINK, StepKind.SPOTFACE, StepKind.BORE,
          StepKind.REAM, StepKind.TAP)  # fmt: skip
HOLE_BY_AXIS = (StepKind.DRILL, StepKind.BORE, StepKind.MILL)


@cache
def planned(name: str) -> tuple[tuple[str, Material, PlannedHole], ...]:
    """(what it is, material, plan) for every material and callout on a machine, each pair on one of four lots. Every pair is
    planned on one of the four machines, so that each material meets each callout and each machine each of both."""
    found = []
    turn = list(SHOPS).index(name)
    for row, material in enumerate(all_materials()):
        for column, callout in enumerate(CALLOUTS):
            if (row + column + turn) % len(SHOPS) == 0:
                lot = LOTS[(row + column // len(LOTS)) % len(LOTS)]
                what = f"{callout} in {material.key}, lot {lot}, {name} machine"
                found.append((what, material, _plan(callout, material, lot, SHOPS[name])))
    return tuple(found)


def _plan(callout: str, material: Material, lot: int | None, shop: Shop) -> PlannedHole:
    line = ScheduleRow(CellRef("made", "-", 1, 1), "", callout, "mm", thickness_mm=THICKNESS_MM)
    header = JobHeader(material=material.key, thickness_mm=THICKNESS_MM, unit="mm", unit_stated=True, lot=lot)
    (hole,) = plan_schedule(Schedule("made", "-", "", header, (line,), (), 1), (), shop).holes
    return hole


def plans(name: str) -> Iterator[tuple[str, Material, PlannedHole, CutPlan]]:
    for what, material, hole in planned(name):
        if hole.cut_plan is not None:
            yield what, material, hole, hole.cut_plan


def cuts(name: str) -> Iterator[tuple[str, Material, PlannedHole, CutStep]]:
    for what, material, hole, plan in plans(name):
        for cut in plan.cuts:
            yield f"{what}: {cut.step.kind.value} {cut.step.tool.size}", material, hole, cut


every_machine = pytest.mark.parametrize("name", SHOPS)


@every_machine
def test_every_hole_is_planned_or_asked_about(name: str) -> None:
    assert len(planned(name)) > 1000
    for what, _, hole in planned(name):
        asked = any(note.is_question for note in hole.notes)
        assert hole.cut_plan is not None or asked, what
        assert hole.cut_plan is None or hole.cut_plan.cuts, what


@every_machine
def test_what_is_too_much_for_the_machine_is_said(name: str) -> None:
    machine = SHOPS[name].machine
    for what, _, hole, cut in cuts(name):
        over = {note.code for note in cut.overload}
        assert over <= set(OVERLOAD), what
        assert over <= {note.code for note in hole.notes}, what
        if cut.step.kind is StepKind.TAP:
            assert cut.risk is not None, what
            assert (TAP_BREAKS in over) == (cut.risk.index >= 1), what
            assert TAP_BREAKS not in over or not machine.thread_milling, f"{what}: what would break is milled"
        if cut.step.tool.by_hand:
            assert cut.step.limit is not None, what
            assert (HAND_OVER in over) == ((cut.torque_nm or 0.0) > cut.step.limit.value), what
            continue
        if cut.step.process == "cut":
            assert over <= {TAP_BREAKS}, f"{what}: a person turns it, or a helix cuts it"
        if cut.step.kind in CONES:
            assert cut.torque_nm, f"{what}: a cone's load is reckoned"
            assert cut.thrust_n or on_circle(cut.step.tool), f"{what}: a cone's load is reckoned, milled on a circle or not"
        if cut.torque_nm is not None:
            beyond = cut.torque_nm > available_torque_nm(machine, cut.spindle_rpm) * (1 + 1e-9)
            assert ("CUT-TORQUE-OVER" in over) == beyond, what
        if cut.thrust_n is not None:
            assert ("CUT-THRUST-OVER" in over) == (cut.thrust_n > machine.axis_thrust_n), what


@every_machine
def test_speeds_feeds_times_and_lives_are_real_and_inside_the_machine(name: str) -> None:
    machine = SHOPS[name].machine
    for what, _, hole, cut in cuts(name):
        assert cut.time_min > 0, what
        life = cut.tool_life_holes
        assert life is None or 0 < life[0] <= life[1], what
        assert life is None or life[0] >= 1 or "TOOL-WORN-WITHIN" in {note.code for note in hole.notes}, what
        assert cut.feed_mm_per_rev > 0, what
        if cut.step.tool.by_hand:
            assert cut.spindle_rpm == cut.surface_m_per_min == cut.feed_mm_per_min == 0, what
            continue
        assert 0 < cut.speed_low_m_per_min <= cut.speed_start_m_per_min <= cut.speed_high_m_per_min, what
        most = machine.tapping_max_rpm if cut.step.kind is StepKind.TAP else machine.spindle_max_rpm
        assert machine.spindle_min_rpm <= cut.spindle_rpm <= min(most, machine.spindle_max_rpm), what
        assert 0 < cut.feed_mm_per_min <= machine.feed_max_mm_per_min * (1 + 1e-9), what
        too_fast = cut.surface_m_per_min > cut.speed_high_m_per_min * 1.02 + 0.5
        assert not too_fast or "CUT-SPINDLE-MIN" in {note.code for note in hole.notes}, what


@every_machine
def test_tools_are_made_of_what_the_workpiece_bears(name: str) -> None:
    machine = SHOPS[name].machine
    for what, material, _, cut in cuts(name):
        tool = cut.step.tool
        low, high = material.hardness_hb
        if (low + high) / 2 >= HARD_HB or material.group == "H":
            assert tool.material == "carbide", what
        if material.subgroup in ("S1", "S2"):
            assert tool.treatment not in TITANIUM_COATINGS, what
        if material.subgroup in ("N1", "N5"):
            assert tool.treatment not in (*TITANIUM_COATINGS, "nitride", "steam oxide"), what
        if tool.material == "carbide":
            assert tool.treatment not in ("nitride", "steam oxide"), what
            assert not tool.by_hand, what
            assert tool.kind is not StepKind.TAP or machine.rigid_tapping, what
        assert not (tool.flute_form == "spiral-point" and tool.treatment == "nitride"), what
        if tool.kind is StepKind.TAP and cut.step.process == "form":
            assert material.chip == "long", what
            assert "brittle" not in material.traits, what
        if tool.flute_form == "spiral-point":
            assert cut.step.through, what
        if tool.kind in (StepKind.THREAD_MILL, StepKind.MILL):
            assert machine.thread_milling, what
        if SHOPS[name].preferences.tap_by_hand and cut.step.kind is StepKind.TAP:
            assert tool.by_hand or material.group == "H", what


@every_machine
def test_the_hole_before_a_thread_lies_inside_its_limits(name: str) -> None:
    for what, _, hole, plan in plans(name):
        threads = [cut.step for cut in plan.cuts if cut.step.finishes_thread]
        for cut in plan.cuts:
            fit = cut.step.fit
            if fit is None:
                continue
            low, high = fit.window_mm
            asked = any(note.is_question for note in hole.notes)
            assert low - 1e-6 <= fit.hole_mm <= high + 1e-6 or asked, what
            assert 0 < fit.percent <= 100, what
        for step in threads:
            before = [cut.step for cut in plan.cuts if cut.step.kind in HOLE_BY_AXIS]
            assert before, what
            nominal_mm = step.step.thread.basic_major_mm if step.step is not None and step.step.thread is not None else 0.0
            assert all(
                each.diameter_mm < nominal_mm for each in before if each.step is step.step and each.kind is not StepKind.SPOT
            ), what
            assert step.kind is not StepKind.THREAD_MILL or step.tool.diameter_mm < max(each.diameter_mm for each in before)


@every_machine
def test_a_hole_grows_from_tool_to_tool_and_none_goes_deeper_than_it_may(name: str) -> None:
    for what, _, hole, plan in plans(name):
        asked = any(note.is_question for note in hole.notes)
        for index, cut in enumerate(plan.cuts):
            step = cut.step
            assert step.tip_mm is not None, what
            assert step.depth_mm is not None, what
            assert step.tip_mm >= step.depth_mm >= 0, what
            assert (step.travel_mm or 0.0) > 0, what
            if not step.through:
                assert step.tip_mm < THICKNESS_MM or asked, what
            opened = [
                each.step.diameter_mm
                for each in plan.cuts[:index]
                if each.step.step is step.step and each.step.kind in HOLE_BY_AXIS
            ]
            if step.kind in HOLE_BY_AXIS:
                assert step.diameter_mm >= max(opened, default=0.0) - 1e-9, what


def most_minutes(material: Material, removed_cm3: float) -> float:
    """What a hole may take at the most, with its thread. A judgement: common practice, no source."""
    hard = material.group in ("S", "H") or sum(material.hardness_hb) / 2 >= ONLY_CARBIDE_HB
    return (8 if hard else 1) * (6 + 1.2 * removed_cm3)


@every_machine
def test_no_hole_takes_absurdly_long_or_absurdly_many_tools(name: str) -> None:
    for what, material, _, plan in plans(name):
        spans = [
            pi / 4 * cut.step.diameter_mm**2 * cut.step.depth_mm / 1000
            for cut in plan.cuts
            if cut.step.depth_mm is not None and cut.step.kind in (*HOLE_BY_AXIS, StepKind.TAP, StepKind.THREAD_MILL)
        ]
        minutes = sum(cut.time_min for cut in plan.cuts)
        assert minutes <= most_minutes(material, max(spans)), f"{what}: {minutes:.1f} min"
        tools = {cut.step.tool for cut in plan.cuts}
        assert len(tools) <= MOST_TOOLS[name], f"{what}: {[tool.name + ' ' + tool.size for tool in tools]}"


@every_machine
def test_every_step_says_why_and_from_where(name: str) -> None:
    for what, _, hole, cut in cuts(name):
        reasons = (*cut.step.reasons, *cut.reasons, *cut.clamps)
        assert cut.step.reasons, what
        assert cut.reasons, what
        for reason in reasons:
            assert reason.decision, what
            assert reason.because, f"{what}: {reason.decision}"
            assert reason.rule, f"{what}: {reason.decision}"
            assert reason.cites, f"{what}: {reason.decision}"
        for note in hole.notes:
            assert note.message, what
            assert note.severity is not Severity.ASK or note.suggestion, what
