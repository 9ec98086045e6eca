"""The hole by length of thread: the handbook's window, and what lies beyond the class."""

from __future__ import annotations

import pytest
from tooling_samples import one, plan, tap

from holesched.notes import Reason, Rejected
from holesched.tooling.model import StepKind, ToolPlan


def made(depth_mm: float, thread: str = "M8x1.25-6H", workpiece: str = "C45") -> ToolPlan:
    return plan(tap(thread, depth_mm), workpiece=workpiece, thickness_mm=60.0)


def window_reason(plan_made: ToolPlan) -> Reason:
    drill = one(plan_made, StepKind.DRILL)
    [found] = [reason for reason in drill.reasons if reason.rule == "TAP-DRILL-WINDOW"]
    return found


def over_the_class(plan_made: ToolPlan) -> list[Rejected]:
    return [lost for lost in window_reason(plan_made).rejected if lost.rule == "TAP-DRILL-ENGAGEMENT"]


@pytest.mark.parametrize(
    ("depth_mm", "window"),
    [
        (3.0, "8.376 to 8.526"),
        (6.0, "8.451 to 8.601"),
        (15.0, "8.526 to 8.676"),
        (20.0, "8.601 to 8.751"),
    ],
)
def test_the_window_widens_with_the_length(depth_mm: float, window: str) -> None:
    """Machinery's Handbook 31, p. 2170, with the minor limits 8.376 and 8.676 of M10-6H (ISO 965): quarters of 0.300."""
    assert window_reason(made(depth_mm, "M10x1.5-6H")).because.endswith(f"handbook for {depth_mm / 10:.2g} D: {window} mm")


def test_a_long_thread_names_the_larger_drill_and_whose_consent_it_needs() -> None:
    """Calculated: drill 6.9 makes 6.950, 65 % of thread; 7H of M8 reaches 6.982 (ISO 965-1, Table 3: TD1 335 um)."""
    [lost] = over_the_class(made(16.0))
    assert lost.candidate == "6.9 mm"
    assert lost.because.startswith("a hole of about 6.950 mm, 65 % of thread, would suit the length")
    assert "over the class's 6.912 mm" in lost.because
    assert "drawing's owner" in lost.because
    assert "6.982" in lost.because


def test_the_drill_itself_stays_in_the_class() -> None:
    fit = one(made(16.0), StepKind.DRILL).fit
    assert fit is not None
    assert fit.hole_mm <= 6.912


@pytest.mark.parametrize("depth_mm", [5.0, 12.0])
def test_no_thread_of_usual_length_asks_for_more(depth_mm: float) -> None:
    assert over_the_class(made(depth_mm)) == []


def test_other_profiles_have_no_window() -> None:
    drill = one(made(20.0, "G1/4"), StepKind.DRILL)
    assert not any("handbook for" in reason.because for reason in drill.reasons)
