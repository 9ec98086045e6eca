"""What is made from both faces of a part and meets inside it, or nearly: asked, with the wall between. Lengths by hand."""

from __future__ import annotations

import pytest

from holesched.notes import Note
from holesched.pipeline import explain
from holesched.schedule.model import ReadOptions
from holesched.sequence.model import PlannedHole
from holesched.shop.model import Shop

MEETING = {"CHECK-SIDES-MEET", "DEPTH-SIDES-MEET", "WALL-BETWEEN-THIN"}


def planned(callout: str, thickness_mm: float | None) -> PlannedHole:
    (hole,) = explain(callout, Shop(), ReadOptions("mm", "C45", thickness_mm)).holes
    return hole


def asked(callout: str, thickness_mm: float | None) -> list[Note]:
    found = [note for note in planned(callout, thickness_mm).notes if note.code in MEETING]
    assert all(note.is_question and note.ref is not None and note.suggestion and note.assumed for note in found)
    return found


@pytest.mark.parametrize(
    ("callout", "thickness_mm", "code"),
    [
        ("M8x1.25-6H ↧20 BOTH SIDES", 30.0, "CHECK-SIDES-MEET"),
        ("M8x1.25-6H ↧12 BOTH SIDES", 30.0, "DEPTH-SIDES-MEET"),
        ("M8 ↧12 NEAR SIDE, M8 ↧12 FAR SIDE", 30.0, "DEPTH-SIDES-MEET"),
        ("Ø20 ↧18 BOTH SIDES", 30.0, "CHECK-SIDES-MEET"),
        ("Ø10 ↧10 BOTH SIDES", 24.0, "DEPTH-SIDES-MEET"),  # 10 and a 130 degree point: 12.33 mm from each side
        ("Ø10 ↧10 BOTH SIDES", 25.0, "WALL-BETWEEN-THIN"),
        ("Ø8 H7 ↧10 BOTH SIDES", 25.0, "DEPTH-SIDES-MEET"),
    ],
)
def test_what_meets_is_asked_once(callout: str, thickness_mm: float, code: str) -> None:
    assert [note.code for note in asked(callout, thickness_mm)] == [code]


@pytest.mark.parametrize(
    ("callout", "thickness_mm"),
    [
        ("M8x1.25-6H ↧12 BOTH SIDES", 40.0),
        ("M8x1.25-6H ↧12 BOTH SIDES", None),
        ("Ø10 ↧10 BOTH SIDES", 26.0),
        ("Ø9 THRU, CBORE Ø15 ↧5 BOTH SIDES", 12.0),
        ("M8 THRU, CSK Ø9 X 90° BOTH SIDES", 12.0),
        ("Ø9 THRU, Ø12 ↧8, Ø12 ↧8 FAR SIDE", 20.0),
    ],
)
def test_what_does_not_meet_is_not_asked(callout: str, thickness_mm: float | None) -> None:
    assert asked(callout, thickness_mm) == []


def test_the_question_has_the_figures() -> None:
    """10 + 5 / tan 65 degrees = 12.332 mm from each side: 25 less 24.663 leaves 0.337; the shop asks for 1 mm."""
    (thin,) = asked("Ø10 ↧10 BOTH SIDES", 25.0)
    assert "Only 0.34 mm" in thin.message
    assert "12.33 mm from the near and 12.33 mm from the far side, 24.66 mm together" in thin.message
    assert thin.suggestion.startswith("Make them together 0.7 mm shallower")


@pytest.mark.parametrize("thickness_mm", [30.0, 60.0])
def test_the_wall_under_a_thread_is_the_one_between_the_two(thickness_mm: float) -> None:
    """12 + 4 x 1.25 + 3.4 / tan 65 degrees = 18.585 mm from each side."""
    hole = planned("M8x1.25-6H ↧12 BOTH SIDES", thickness_mm)
    assert hole.cut_plan is not None
    budgets = hole.cut_plan.plan.budgets
    assert [budget.wall_left_mm for budget in budgets] == pytest.approx([thickness_mm - 2 * 18.5855] * 2, abs=1e-3)
    assert {budget.wall_to for budget in budgets} == {"tip from the other side"}
