"""A short blind thread over a thin wall: milled where a tap's chamfer would leave too little of it. Lengths by hand."""

from __future__ import annotations

import pytest

from holesched.pipeline import explain
from holesched.schedule.model import ReadOptions
from holesched.sequence.model import PlannedHole
from holesched.shop.model import Machine, Shop
from holesched.tooling.model import StepKind

ASKED = {"WALL-THIN", "DEPTH-BREAKS-THROUGH"}


def planned(callout: str, thickness_mm: float, shop: Shop | None = None) -> PlannedHole:
    (hole,) = explain(callout, shop or Shop(), ReadOptions("mm", "C45", thickness_mm)).holes
    return hole


def kinds(hole: PlannedHole) -> list[StepKind]:
    assert hole.cut_plan is not None
    return [cut.step.kind for cut in hole.cut_plan.cuts]


@pytest.mark.parametrize(
    ("callout", "thickness_mm", "wall_mm"),
    [
        ("M3 ↧6", 8.0, 1.0),  # tap: 6 + (2 + 1) x 0.5 = 7.5; thread mill: 6 + (1 + 1) x 0.5 = 7
        ("M8 ↧16", 20.0, 1.5),  # tap: 16 + 3 x 1.25 = 19.75; thread mill: 16 + 2 x 1.25 = 18.5
    ],
)
def test_a_thread_mill_leaves_the_wall_that_a_tap_does_not(callout: str, thickness_mm: float, wall_mm: float) -> None:
    hole = planned(callout, thickness_mm)
    assert not ASKED & {note.code for note in hole.notes}
    assert StepKind.THREAD_MILL in kinds(hole)
    assert StepKind.TAP not in kinds(hole)
    assert hole.cut_plan is not None
    (budget,) = hole.cut_plan.plan.budgets
    assert budget.wall_left_mm == pytest.approx(wall_mm)
    milled = next(cut.step for cut in hole.cut_plan.cuts if cut.step.kind is StepKind.THREAD_MILL)
    assert "P34" in {reason.rule for reason in milled.reasons}


def test_where_a_tap_leaves_the_wall_it_is_tapped() -> None:
    assert StepKind.TAP in kinds(planned("M3 ↧6", 10.0))


def test_where_no_process_leaves_the_wall_it_is_asked_and_the_tap_stays() -> None:
    hole = planned("M3 ↧7", 8.0)
    assert ASKED & {note.code for note in hole.notes}
    assert StepKind.TAP in kinds(hole)


def test_without_thread_milling_it_is_asked() -> None:
    hole = planned("M3 ↧6", 8.0, Shop(machine=Machine(thread_milling=False)))
    assert ASKED & {note.code for note in hole.notes}


def test_a_hole_milled_from_solid_has_no_point_to_take_away() -> None:
    """1.5 mm of thread and 2 pitches of 25.4 / 8 mm under it leave 0.15 mm of 8: asked, for no flat-ended drill helps."""
    hole = planned("1 13/16-8 UN-2B ↧1.5", 8.0)
    assert ASKED & {note.code for note in hole.notes}
    assert StepKind.DRILL not in kinds(hole)
