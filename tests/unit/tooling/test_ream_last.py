"""The reamer comes after every cutter whose pilot runs in its hole, on whichever face: common practice, no source."""

from __future__ import annotations

import pytest

from holesched.callouts.model import Side
from holesched.pipeline import explain
from holesched.schedule.model import ReadOptions
from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop
from holesched.tooling.model import StepKind, ToolStep

REAMED_FAR = [
    "Ø20 H8 THRU, CBORE Ø30 ↧5 FAR SIDE",
    "Ø20 H8 THRU, CBORE Ø30 ↧5 BOTH SIDES",
    "Ø20 H8 THRU, SF Ø30 FAR SIDE",
]
REAMED_NEAR = ["Ø20 H8 THRU", "Ø20 H8 THRU, CBORE Ø30 ↧5", "Ø20 H8 THRU, CSK Ø24 X 90° BOTH SIDES"]


def job(callout: str) -> JobPlan:
    return explain(callout, Shop(), ReadOptions("mm", "C45", 40.0))


def steps(callout: str) -> list[ToolStep]:
    (hole,) = job(callout).holes
    assert hole.cut_plan is not None
    return [cut.step for cut in hole.cut_plan.cuts]


@pytest.mark.parametrize("callout", REAMED_FAR)
def test_after_the_far_side_has_its_seat(callout: str) -> None:
    made = steps(callout)
    assert made[-1].kind is StepKind.REAM
    assert made[-1].side is Side.FAR
    assert "REAM-LAST" in {reason.rule for reason in made[-1].reasons}
    runs = [operation.kind for operation in job(callout).operations]
    assert runs.index(StepKind.REAM) == len(runs) - 1


@pytest.mark.parametrize("callout", REAMED_NEAR)
def test_else_with_the_near_side(callout: str) -> None:
    (reamer,) = [step for step in steps(callout) if step.kind is StepKind.REAM]
    assert reamer.side is Side.NEAR


def test_it_is_fed_from_the_floor_of_the_seat_through_the_part() -> None:
    """From 5 mm down to 40 mm; its lead of 1.5 mm and 1 mm of overrun past the face."""
    reamer = steps("Ø20 H8 THRU, CBORE Ø30 ↧5 FAR SIDE")[-1]
    assert (reamer.start_mm, reamer.depth_mm, reamer.tip_mm) == pytest.approx((5.0, 40.0, 42.5))
