"""Cutting parameters of what tooling really plans, from a resolved hole on."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tooling"))

from tooling_samples import Kind, hole, material, size, step, tap

from holesched.cutting.model import CutPlan
from holesched.cutting.parameters import plan_cutting
from holesched.cutting.reckoning import reckon
from holesched.cutting.trial import Trial
from holesched.resolve.model import ResolvedStep
from holesched.shop.model import Machine, Shop
from holesched.standards.materials import all_materials
from holesched.tooling.choose import plan_tools
from holesched.tooling.model import StepKind
from holesched.tooling.reckoned import NOT_RECKONED
from holesched.tooling.rules import standard_rules


def _cut(*steps: ResolvedStep, workpiece: str, thickness_mm: float | None = 25.0) -> CutPlan:
    found, shop = material(workpiece), Shop()
    return plan_cutting(plan_tools(hole(*steps, thickness_mm=thickness_mm), found, shop), found, shop)


def test_blind_m8_in_aluminium() -> None:
    """Spot, 6.8 drill, tap: nothing clamped, nothing to watch."""
    plan = _cut(tap("M8x1.25-6H", 16.0), workpiece="6061")
    assert [cut.step.kind for cut in plan.cuts] == [StepKind.SPOT, StepKind.DRILL, StepKind.TAP]
    assert plan.notes == ()
    tapped = plan.cuts[-1]
    assert tapped.feed_mm_per_min == 1.25 * tapped.spindle_rpm
    assert tapped.risk is not None
    assert tapped.risk.band == "calm"
    assert all(cut.time_min > 0 for cut in plan.cuts)


def test_deep_blind_m6_in_stainless_is_watched() -> None:
    plan = _cut(tap("M6x1-6H", 15.0), workpiece="304")
    (note,) = plan.notes
    assert note.code == "TAP-RISK"
    assert "Ask whether 9 mm of full thread" in note.suggestion


def test_a_planned_hole_is_offered_the_larger_drill_first() -> None:
    """The drill's step knows where its hole sits in the thread's limits; the tap's risk must know it too."""
    tapped = _cut(tap("M6x1-6H", 12.0), workpiece="304").cuts[-1]
    assert tapped.risk is not None
    offered = "Open the hole: drill 5.05 mm makes about 5.100 mm, inside the limits: then 46 %."
    assert tapped.risk.remedies[0] == offered
    said = " | ".join(tapped.risk.factors)
    assert all(part in said for part in ("% of thread", "D deep", "blind", "long chips"))


def test_reamed_and_counterbored() -> None:
    plan = _cut(step(Kind.REAM, size(10), 20.0, zone="H7"), step(Kind.COUNTERBORE, size(18), 8.0), workpiece="316L")
    torque = {cut.step.kind: cut.torque_nm for cut in plan.cuts}
    assert torque[StepKind.REAM] is None
    assert torque[StepKind.COUNTERBORE] is not None
    reason = next(reason for cut in plan.cuts for reason in cut.reasons if "opening from" in reason.because)
    assert reason.rule == "CUT-LOAD"


@pytest.mark.parametrize(
    ("workpiece", "pecks", "short"),
    [("C45", 2, True), ("304", 2, False), ("N07718", 2, False), ("GG25", 1, False), ("CuZn39Pb3", 1, False)],
)
def test_pecks_suit_the_chip(workpiece: str, pecks: int, short: bool) -> None:
    """Four diameters deep: long chips are broken, what hardens under a rubbing tool is left whole, powder needs no peck."""
    drilled = _cut(step(Kind.DRILL, size(5), 20.0), workpiece=workpiece).cuts[-1]
    assert (drilled.step.kind, drilled.step.pecks, drilled.step.pecks_short) == (StepKind.DRILL, pecks, short)


def test_through_hole_of_unknown_thickness() -> None:
    plan = _cut(tap("M10x1.5-6H"), workpiece="GG25", thickness_mm=None)
    assert "CUT-DEPTH-UNKNOWN" in [note.code for note in plan.notes]
    assert plan.cuts[-1].time_min == 0
    assert plan.cuts[-1].spindle_rpm > 0


@pytest.mark.parametrize("text", ["1/4-20 UNC-2B", "M10x1-6H-LH", "G 1/4", "1/4-18 NPT"])
def test_other_threads(text: str) -> None:
    """A pipe tap's speed is that of its major diameter, not of the pipe's trade size."""
    plan = _cut(tap(text, 12.0), workpiece="C45")
    cut = plan.cuts[-1]
    assert cut.step.kind is StepKind.TAP
    thread = cut.step.step.thread if cut.step.step else None
    assert thread is not None
    assert cut.feed_mm_per_min == thread.spec.pitch_mm * cut.spindle_rpm
    assert cut.surface_m_per_min == pytest.approx(3.14159265 * thread.basic_major_mm * cut.spindle_rpm / 1000)


def test_a_two_start_thread_advances_its_lead() -> None:
    """Tr40x14(P7): two starts of 7 mm; one turn takes the tap 14 mm on."""
    plan = _cut(tap("Tr40x14(P7)-7H", 40.0), workpiece="CuSn12", thickness_mm=60.0)
    cut = plan.cuts[-1]
    assert cut.feed_mm_per_rev == 14.0
    assert cut.feed_mm_per_min == 14.0 * cut.spindle_rpm


@pytest.mark.parametrize(
    ("text", "depth_mm", "workpiece", "offered"),
    [("M3x0.5-6H", 9.0, "304", True), ("M3x0.5-6H", 9.0, "1.4462", False), ("1/16-27 NPT", 6.8, "304", False)],
)
def test_a_remedy_that_a_rule_strikes_is_not_offered(text: str, depth_mm: float, workpiece: str, offered: bool) -> None:
    """A forming tap for austenitic stainless steel, not for duplex nor for a taper thread. Common practice, no source."""
    risk = _cut(tap(text, depth_mm), workpiece=workpiece, thickness_mm=40.0).cuts[-1].risk
    assert risk is not None
    assert risk.band != "calm"
    assert any("forming" in remedy for remedy in risk.remedies) is offered
    assert risk.remedies
    if "NPT" in text:
        assert not any("1.5 D" in remedy for remedy in risk.remedies)


def test_too_much_torque_names_a_way_out() -> None:
    """M24 in heat-treated 42CrMo4: more than the spindle gives; told its share, tooling plans a thread mill instead."""
    found, shop = material("42CrMo4+QT"), Shop()
    resolved = hole(tap("M24x3-6H", 48.0), thickness_mm=80.0)
    first = plan_cutting(plan_tools(resolved, found, shop), found, shop)
    (over,) = [note for note in first.notes if note.code == "CUT-TORQUE-OVER"]
    assert over.suggestion == "Thread-mill it, or use a stronger machine."
    known = reckon(Trial(first.plan.steps, found, shop), NOT_RECKONED, standard_rules())
    again = plan_tools(resolved, found, shop, reckoned=known)
    assert again.steps[-1].kind is StepKind.THREAD_MILL
    unable = Shop(machine=Machine(thread_milling=False))
    pipe = plan_cutting(plan_tools(hole(tap("1-11.5 NPT", 17.0), thickness_mm=60.0), found, unable), found, unable)
    assert "Thread-mill" not in " ".join(note.suggestion for note in pipe.notes)


def test_a_forming_tap_too_heavy_is_told_by_what_a_cutting_one_would_take() -> None:
    """Forming takes 2.5 times the torque of cutting: at 80 % of the spindle a cutting tap would take 32 %."""
    shop = Shop(preferences=replace(Shop().preferences, prefer_forming=True))
    found, resolved = material("S235JR"), hole(tap("M16x2-6H", 24.0), thickness_mm=60.0)
    first = plan_cutting(plan_tools(resolved, found, shop), found, shop)
    assert first.cuts[-1].step.tool.flute_form == "forming"
    needed = first.cuts[-1].torque_nm
    assert needed is not None
    weak = replace(shop, machine=replace(shop.machine, spindle_torque_nm=needed / 0.8))
    tried = Trial(plan_tools(resolved, found, weak).steps, found, weak)
    known = reckon(tried, NOT_RECKONED, standard_rules())
    assert known.tap_torque == {"M16x2-6H": pytest.approx(0.8 / 2.5)}
    again = plan_tools(resolved, found, weak, reckoned=known).steps[-1]
    assert (again.kind, again.tool.flute_form) == (StepKind.TAP, "spiral-flute")


CHOICES = (
    Shop(),
    Shop(machine=replace(Shop().machine, through_tool_coolant=True)),
    Shop(machine=replace(Shop().machine, rigid_tapping=False)),
    Shop(preferences=replace(Shop().preferences, prefer_forming=True)),
)


@pytest.mark.parametrize("shop", CHOICES, ids=["ordinary", "coolant through the tool", "floating holder", "forming wanted"])
@pytest.mark.parametrize("text", ["M8x1.25-6H", "M20x2.5-6H"])
def test_every_tool_that_the_rules_choose_has_its_own_speed(shop: Shop, text: str) -> None:
    """No stand-in's figures for a tool that our own rules choose; what a shop insists on is another matter."""
    without = set()
    for workpiece in {found.subgroup: found for found in all_materials()}.values():
        for depth_mm in (1.75 * float(text[1:].partition("x")[0]), None):
            resolved = hole(tap(text, depth_mm), thickness_mm=60.0)
            plan = plan_cutting(plan_tools(resolved, workpiece, shop), workpiece, shop)
            without |= {note.message for note in plan.notes if note.code == "CUT-NO-DATA"}
    assert without == set()
