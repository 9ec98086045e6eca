"""Cutting parameters of what tooling really plans, from a resolved hole on."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tooling"))

from tooling_samples import Kind, hole, material, size, step, tap

from holesched.cutting.model import CutPlan
from holesched.cutting.parameters import plan_cutting
from holesched.resolve.model import ResolvedStep
from holesched.shop.model import Shop
from holesched.tooling.choose import plan_tools
from holesched.tooling.model import StepKind


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
    assert [note.code for note in plan.notes] == ["TAP-RISK", "THREAD-LONG"]


def test_reamed_and_counterbored() -> None:
    plan = _cut(step(Kind.REAM, size(10), 20.0, zone="H7"), step(Kind.COUNTERBORE, size(18), 8.0), workpiece="316L")
    torque = {cut.step.kind: cut.torque_nm for cut in plan.cuts}
    assert torque[StepKind.REAM] is None
    assert torque[StepKind.COUNTERBORE] is not None
    reason = next(reason for cut in plan.cuts for reason in cut.reasons if "opening from" in reason.because)
    assert reason.rule == "CUT-LOAD"


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
