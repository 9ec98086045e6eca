"""The reamer comes after all cutters whose pilot, chips or burr would be in its hole: common practice, no source."""

from __future__ import annotations

import pytest

from holesched.callouts.model import Side
from holesched.pipeline import explain
from holesched.schedule.model import ReadOptions
from holesched.sequence.model import JobPlan
from holesched.shop.model import Preferences, Shop
from holesched.tooling.model import StepKind, ToolStep

REAMED_FAR = [
    "Ø20 H8 THRU, CBORE Ø30 ↧5 FAR SIDE",
    "Ø20 H8 THRU, CBORE Ø30 ↧5 BOTH SIDES",
    "Ø20 H8 THRU, SF Ø30 FAR SIDE",
    "Ø20 H8 THRU, CSK Ø24 X 90° BOTH SIDES",
    "Ø20 H8 THRU, CSK Ø24 X 90° FAR SIDE",
]
REAMED_NEAR = ["Ø20 H8 THRU", "Ø20 H8 THRU, CBORE Ø30 ↧5", "Ø20 H8 THRU, CSK Ø24 X 90°"]


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


def test_a_hole_that_a_back_chamfer_tool_goes_through_is_deburred_and_gauged_after_it() -> None:
    shop = Shop(preferences=Preferences(far_edge="back chamfer tool"))
    found = explain("Ø20 H8 THRU, CSK Ø24 X 90° FAR SIDE", shop, ReadOptions("mm", "C45", 40.0))
    (cut,) = [cut for hole in found.holes for cut in hole.cuts if cut.step.tool.cuts_back]
    (note,) = [note for note in found.notes if note.code == "CONE-BURR"]
    assert note.message.startswith(f"{cut.step.tool.called}: ")
    assert not any(step.step.turned_over for hole in found.holes for step in hole.cuts)


@pytest.mark.parametrize(
    ("callout", "told"),
    [
        ("BORE Ø25 H7 THRU, CSK Ø28 X 90° FAR SIDE", True),
        ("BORE Ø25 H7 THRU, CSK Ø28 X 90°", False),
        ("Ø20 H8 THRU, CSK Ø24 X 90° FAR SIDE", False),
        ("Ø25 THRU, CSK Ø28 X 90° FAR SIDE", False),
    ],
)
@pytest.mark.parametrize("thickness_mm", [40.0, None])
def test_a_bore_that_keeps_its_place_is_deburred_and_gauged_after_the_far_side(
    callout: str, told: bool, thickness_mm: float | None
) -> None:
    """Bored from the far side it would lose its place; a reamer follows the drilled hole: common practice, no source."""
    found = explain(callout, Shop(), ReadOptions("mm", "C45", thickness_mm))
    assert ("CONE-BURR" in {note.code for note in found.notes}) is told
