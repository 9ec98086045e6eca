"""Holes into or out of slanted faces and across gaps: common practice, no source; lengths by plain geometry."""

from __future__ import annotations

from collections.abc import Sequence
from math import radians, tan

import pytest
from tooling_samples import codes, one, plan, size, step, tap

from holesched.callouts.model import Kind
from holesched.resolve.model import ResolvedStep
from holesched.shop.model import Machine, Shop
from holesched.tooling.model import StepKind, ToolPlan

M8 = "M8x1.25-6H"
TAPPING = Shop(Machine(thread_milling=False))
HOLES = {
    "drilled": (step(Kind.DRILL, size(8), through=True),),
    "reamed": (step(Kind.REAM, size(8), through=True, zone="H7"),),
    "bored": (step(Kind.BORE, size(40), through=True, zone="H7"),),
    "tapped": (tap(M8),),
}


def said(made: ToolPlan, code: str) -> str:
    return " ".join(note.message for note in made.notes if note.code == code)


@pytest.mark.parametrize("steps", HOLES.values(), ids=HOLES.keys())
def test_every_drilled_hole_says_what_to_do_at_a_slope_and_at_a_gap(steps: Sequence[ResolvedStep]) -> None:
    entry = plan(*steps, remarks=("SLANTED ENTRY",))
    assert "mill a flat first" in said(entry, "HOLE-SLANTED-ENTRY")
    assert "HOLE-SLANTED-EXIT" not in codes(entry)
    leaving = plan(*steps, remarks=("SLANTED EXIT 20°",))
    assert "half the drill's feed" in said(leaving, "HOLE-SLANTED-EXIT")
    assert "flat" not in said(leaving, "HOLE-SLANTED-EXIT")
    assert "HOLE-SLANTED-ENTRY" not in codes(leaving)
    across = plan(*steps, remarks=("CROSS HOLE",))
    assert "half the drill's feed" in said(across, "HOLE-INTERRUPTED")
    assert "deburr the gap inside" in said(across, "HOLE-INTERRUPTED")
    assert not {"HOLE-SLANTED-ENTRY", "HOLE-SLANTED-EXIT", "HOLE-INTERRUPTED"} & set(codes(plan(*steps)))


@pytest.mark.parametrize("remark", ["CROSS HOLE", "SLANTED EXIT 20°"])
def test_a_tap_never_leaves_the_feed_of_its_pitch(remark: str) -> None:
    made = plan(tap(M8), remarks=(remark,), shop=TAPPING)
    assert "its feed stays its pitch" in said(made, "TAP-INTERRUPTED")
    for note in made.notes:
        if "half the" in note.message:
            assert "half the drill's feed" in note.message


def test_a_reamer_across_a_gap_has_left_hand_flutes() -> None:
    across = one(plan(*HOLES["reamed"], remarks=("CROSS HOLE",)), StepKind.REAM)
    assert across.tool.name == "reamer, left-hand spiral flutes"
    assert "R31" in {reason.rule for reason in across.reasons}
    assert not across.tool.left_hand, "it cuts right-hand all the same"
    whole = one(plan(*HOLES["reamed"]), StepKind.REAM)
    assert whole.tool.name == "reamer"


def test_a_blind_hole_has_no_far_face_that_could_be_slanted() -> None:
    made = plan(tap(M8, 12), remarks=("SLANTED",), thickness_mm=40)
    assert "HOLE-SLANTED-ENTRY" in codes(made)
    assert not {"HOLE-SLANTED-EXIT", "HOLE-SLANTED-WHICH", "HOLE-EXIT-ANGLE"} & set(codes(made))
    assert not any(note.is_question for note in made.notes)


@pytest.mark.parametrize("steps", HOLES.values(), ids=HOLES.keys())
def test_a_slanted_exit_without_its_angle_is_asked(steps: Sequence[ResolvedStep]) -> None:
    (note,) = [note for note in plan(*steps, remarks=("SLANTED EXIT",)).notes if note.code == "HOLE-EXIT-ANGLE"]
    assert note.is_question
    assert "LONGEST SIDE" in note.suggestion
    assert note.assumed


def test_slanted_alone_is_asked_which_face() -> None:
    made = plan(tap(M8), remarks=("SLANTED",))
    (note,) = [note for note in made.notes if note.is_question]
    assert note.code == "HOLE-SLANTED-WHICH"
    assert note.suggestion.startswith("Write SLANTED ENTRY, or SLANTED EXIT with its angle")
    assert {"HOLE-SLANTED-ENTRY", "HOLE-SLANTED-EXIT"} <= set(codes(made))


@pytest.mark.parametrize("shop", [Shop(), TAPPING], ids=["milled", "tapped"])
def test_every_tool_is_through_on_the_long_side_of_a_slanted_exit(shop: Shop) -> None:
    """At 30° the long side of a diameter D lies D x tan 30° further than the short one."""
    square = plan(tap(M8), thickness_mm=15, workpiece="C45", shop=shop, remarks=("SLANTED EXIT 0°",))
    made = plan(tap(M8), thickness_mm=15, workpiece="C45", shop=shop, remarks=("SLANTED EXIT 30°",))
    assert not any(note.is_question for note in made.notes)
    pairs = [(a, b) for a, b in zip(square.steps, made.steps, strict=True) if b.through]
    assert len(pairs) == 2
    for straight, slanted in pairs:
        more_mm = slanted.diameter_mm * tan(radians(30))
        for name in ("depth_mm", "tip_mm", "travel_mm"):
            assert getattr(slanted, name) == pytest.approx(getattr(straight, name) + more_mm)
    assert [note.severity.name for note in made.notes if note.code == "HOLE-EXIT-ANGLE"] == ["ASSUMED"]


def test_the_longest_side_is_how_far_every_tool_is_through() -> None:
    made = plan(*HOLES["drilled"], thickness_mm=15, remarks=("SLANTED EXIT", "LONGEST SIDE 20 mm"))
    drill = one(made, StepKind.DRILL)
    assert drill.depth_mm == pytest.approx(20)
    assert not any(note.is_question for note in made.notes)
    short = plan(*HOLES["drilled"], thickness_mm=15, remarks=("SLANTED EXIT", "LONGEST SIDE 12 mm"))
    assert [note.code for note in short.notes if note.is_question] == ["HOLE-EXIT-LONGEST"]
    assert one(short, StepKind.DRILL).depth_mm == 15


@pytest.mark.parametrize("steps", HOLES.values(), ids=HOLES.keys())
def test_a_longest_side_alone_is_that_of_a_slanted_far_face(steps: Sequence[ResolvedStep]) -> None:
    made = plan(*steps, thickness_mm=15, remarks=("LONGEST SIDE 22 mm",))
    assert {step.depth_mm for step in made.steps if step.through} == {22.0}
    (note,) = [note for note in made.notes if note.code == "HOLE-EXIT-LONGEST"]
    assert note.severity.name == "ASSUMED"
    assert "longest side, 22 mm" in note.message
    drilled = any(step.kind is StepKind.DRILL for step in made.steps)
    assert ("HOLE-SLANTED-EXIT" in codes(made)) == drilled
    assert not any(note.is_question for note in made.notes)


@pytest.mark.parametrize("steps", HOLES.values(), ids=HOLES.keys())
def test_the_longest_side_of_a_slanted_near_face_is_asked(steps: Sequence[ResolvedStep]) -> None:
    made = plan(*steps, thickness_mm=15, remarks=("SLANTED ENTRY", "LONGEST SIDE 22 mm"))
    (note,) = [note for note in made.notes if note.is_question]
    assert note.code == "HOLE-EXIT-LONGEST"
    assert "SLANTED EXIT" in note.suggestion
    assert {step.depth_mm for step in made.steps if step.through} == {15.0}
    both = plan(*steps, thickness_mm=15, remarks=("SLANTED ENTRY", "SLANTED EXIT", "LONGEST SIDE 22 mm"))
    assert {step.depth_mm for step in both.steps if step.through} == {22.0}


def test_the_longest_side_of_a_blind_hole_is_asked() -> None:
    made = plan(tap(M8, 12), thickness_mm=40, remarks=("LONGEST SIDE 22 mm",))
    (note,) = [note for note in made.notes if note.is_question]
    assert note.code == "HOLE-EXIT-LONGEST"
    assert "it does not go through" in note.message
    inside = plan(*HOLES["tapped"], thickness_mm=15, remarks=("LONGEST SIDE 22 mm", "NO ROOM BEYOND"))
    assert "does not go through" not in said(inside, "HOLE-EXIT-LONGEST"), "the drawing's hole does"


def test_a_longest_side_needs_the_thickness_and_no_angle_beside_it() -> None:
    made = plan(*HOLES["drilled"], thickness_mm=None, remarks=("LONGEST SIDE 22 mm",))
    assert [note.code for note in made.notes if note.is_question] == ["THICKNESS-MISSING"]
    assert "HOLE-EXIT-LONGEST" in codes(made)


def test_a_slanted_exit_asks_for_its_room_beyond_too() -> None:
    """M8 at 30°: 4.62 mm of slope, two threads of chamfer and 0.5 mm clear take 7.62 mm."""
    enough, little = (
        plan(tap(M8), thickness_mm=15, workpiece="C45", shop=TAPPING, remarks=("SLANTED EXIT 30°", f"ROOM BEYOND {mm} mm"))
        for mm in (7.7, 7.5)
    )
    assert "HOLE-ROOM-BEYOND" not in codes(enough)
    assert "HOLE-ROOM-BEYOND" in codes(little)
    assert max(each.tip_mm or 0 for each in enough.steps) <= 15 + 7.7 - 0.5 + 1e-6
