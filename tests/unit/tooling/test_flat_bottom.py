"""A flat bottom that the callout calls for. Heights of points: d / 2 x cot(half the angle), geometry; what is done about the
cone: common practice, no source."""

from __future__ import annotations

import pytest

from holesched.notes import Severity
from holesched.pipeline import explain
from holesched.schedule.model import ReadOptions
from holesched.sequence.model import PlannedHole
from holesched.shop.model import Shop
from holesched.tooling.model import StepKind, ToolStep

DRILLED = (StepKind.SPOT, StepKind.DRILL)


def planned(callout: str) -> PlannedHole:
    (hole,) = explain(callout, Shop(), ReadOptions("mm", "C45", 40.0)).holes
    return hole


def steps(hole: PlannedHole) -> list[ToolStep]:
    assert hole.cut_plan is not None, hole.notes
    return [cut.step for cut in hole.cut_plan.cuts]


def drills(hole: PlannedHole) -> list[ToolStep]:
    return [step for step in steps(hole) if step.kind is StepKind.DRILL]


def test_a_hole_called_flat_is_finished_with_a_flat_ended_drill_however_thick_the_part() -> None:
    """A point of 130 degrees on 12 mm is 2.80 high: drilled 12.20, its tip at 15."""
    first, flat = drills(planned("Ø12 ↧15 FLAT BOTTOM"))
    assert first.depth_mm == pytest.approx(12.20, abs=0.01)
    assert first.tip_mm == pytest.approx(15.0)
    assert (flat.tool.name, flat.tool.point_angle_deg, flat.depth_mm, flat.tip_mm) == ("flat-ended drill", 180.0, 15.0, 15.0)
    assert [reason.rule for reason in flat.reasons if reason.rule.startswith("HOLE")] == ["HOLE-FLAT-CALLED"]


def test_without_the_words_the_cone_stays() -> None:
    (only,) = drills(planned("Ø12 ↧15"))
    assert only.tip_mm == pytest.approx(17.80, abs=0.01)


@pytest.mark.parametrize(
    "size",
    ["Ø12 ↧4", "Ø28 ↧10", "Ø28 ↧4", "Ø12 ±0.1 ↧20", "Ø55 ↧18", "Ø5 ↧2"],
)
def test_no_tool_goes_below_a_bottom_called_flat(size: str) -> None:
    hole = planned(f"{size} FLAT BOTTOM")
    depth_mm = hole.type.hole.features[0].depth.mm
    assert depth_mm is not None
    made = [(step.tool.name, step.tip_mm) for step in steps(hole)]
    assert all(tip_mm is not None and tip_mm <= depth_mm + 1e-6 for _, tip_mm in made), made
    assert made[-1][1] == pytest.approx(depth_mm)
    assert all(step.depth_mm is not None and step.depth_mm > 0 for step in drills(hole))


def test_a_hole_shallower_than_its_point_is_made_flat_ended_alone() -> None:
    """The points on 28 and 10 mm are 6.53 and 2.33 high: in 4 mm only the pilot has a cylinder."""
    assert [(step.tool.name, step.tool.diameter_mm) for step in drills(planned("Ø28 ↧4 FLAT BOTTOM"))] == [
        ("drill", 10.0),
        ("flat-ended drill", 28.0),
    ]


def test_a_spot_is_not_deeper_than_a_shallow_hole() -> None:
    """A cone of 90 degrees to 13 mm is 6.5 deep; the tip of 12 by 2 is at 4.80, that of 12 by 6 at 8.80."""
    for callout, is_chamfer in (("Ø12 ↧2", False), ("Ø12 ↧6", True)):
        spot, drill = (next(step for step in steps(planned(callout)) if step.kind is kind) for kind in DRILLED)
        assert (spot.diameter_mm == 13.0) == is_chamfer
        assert spot.tip_mm is not None
        assert drill.tip_mm is not None
        assert spot.tip_mm < drill.tip_mm


@pytest.mark.parametrize("callout", ["Ø12 H7 ↧20 FLAT BOTTOM", "M8 ↧16 FLAT BOTTOM"])
def test_a_flat_bottom_under_a_reamer_or_tap_is_asked(callout: str) -> None:
    [note] = [note for note in planned(callout).notes if note.code == "CALLOUT-FLAT-BOTTOM"]
    assert note.severity is Severity.ASK
