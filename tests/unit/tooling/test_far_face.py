"""Holes that go through with something close behind them, or through a slanted face: how far past the face tools go.

Lengths are calculated from what each tool has ahead of its full diameter: a drill's point, d / 2 / tan(65°); a tap's
chamfer, in pitches (DIN 2197: E 1.5 to 2, C 2 to 3 threads); a reamer's lead.
"""

from __future__ import annotations

from math import radians, tan

import pytest
from tooling_samples import codes, one, plan, size, step, tap

from holesched.callouts.model import Kind
from holesched.shop.model import Machine, Shop
from holesched.tooling.model import StepKind, ToolPlan

M8 = "M8x1.25-6H"
POINT_MM = 6.8 / 2 / tan(radians(65))
HOLES = {
    "tapped": (tap(M8),),
    "tapped with its drill": (step(Kind.DRILL, size(6.8), through=True), tap(M8)),
    "drilled": (step(Kind.DRILL, size(8), through=True),),
    "reamed": (step(Kind.REAM, size(8), through=True, zone="H7"),),
    "bored": (step(Kind.BORE, size(60), through=True, zone="H7"),),
    "large": (step(Kind.DRILL, size(70), through=True),),
    "with an insert": (tap("STI-M6x1-5H"),),
    "counterbored": (step(Kind.DRILL, size(9), through=True), step(Kind.COUNTERBORE, size(15), 6)),
}
UNKNOWN = ("NO ROOM BEYOND",)


def deepest_mm(made: ToolPlan) -> float:
    return max(step.tip_mm for step in made.parts if step.tip_mm is not None)


@pytest.mark.parametrize("steps", HOLES.values(), ids=HOLES.keys())
@pytest.mark.parametrize("thickness_mm", [6.0, 15.0, 40.0])
def test_without_being_told_the_room_nothing_goes_past_the_far_face(steps: tuple, thickness_mm: float) -> None:  # type: ignore[type-arg]
    made = plan(*steps, remarks=UNKNOWN, thickness_mm=thickness_mm, workpiece="C45")
    asked = [note for note in made.notes if note.code == "HOLE-ROOM-BEYOND"]
    assert asked
    assert all(note.is_question and note.assumed for note in asked)
    assert deepest_mm(made) <= thickness_mm if made.steps else asked[0].assumed.startswith("Not planned")
    assert not any(step.through for step in made.steps)


def test_a_blocked_thread_is_asked_for_its_room_and_kept_inside_the_part() -> None:
    """15 mm less 1 mm of wall, the point and 2 + 1 threads under the full one."""
    made = plan(tap(M8), remarks=UNKNOWN, thickness_mm=15, workpiece="C45")
    tapped, drill = one(made, StepKind.TAP), one(made, StepKind.DRILL)
    assert tapped.tool.chamfer is not None
    assert tapped.tool.chamfer.form == "E"
    assert "no male centre" in tapped.tool.name
    assert drill.tip_mm == pytest.approx(14)
    assert tapped.depth_mm == pytest.approx(14 - POINT_MM - 3 * 1.25)
    note = next(note for note in made.notes if note.code == "HOLE-ROOM-BEYOND")
    assert "It takes 3.00 mm there" in note.message  # two threads of chamfer and 0.5 mm clear
    assert note.suggestion.startswith("Write the room (NO ROOM BEYOND 3 mm)")
    assert note.assumed == "Kept inside the part: full thread 8.66 mm deep."


@pytest.mark.parametrize(
    ("room_mm", "form", "drill_mm", "tap_mm"),
    [(3.0, "E", 2.5, 2.5), (4.0, "semi", POINT_MM + 1, 3.5), (5.0, "C", POINT_MM + 1, 4.5), (9.0, "C", POINT_MM + 1, 4.75)],
)
def test_a_room_that_is_told_is_never_used_up(room_mm: float, form: str, drill_mm: float, tap_mm: float) -> None:
    """The longest chamfer that finds room, clear of the far face, 1 mm more where there is that, 0.5 mm left."""
    made = plan(tap(M8), remarks=(f"ROOM BEYOND {room_mm:g} mm",), thickness_mm=15, workpiece="C45")
    tapped = one(made, StepKind.TAP)
    assert not [note.code for note in made.notes if note.is_question]
    assert tapped.tool.chamfer is not None
    assert (tapped.tool.chamfer.name.partition("-")[0] if form == "semi" else tapped.tool.chamfer.form) == form
    assert tapped.through
    assert tapped.depth_mm == 15
    assert tapped.tip_mm == pytest.approx(15 + tap_mm)
    assert one(made, StepKind.DRILL).tip_mm == pytest.approx(15 + drill_mm)
    assert deepest_mm(made) <= 15 + room_mm - 0.5 + 1e-6
    assert "HOLE-BLOCKED" in codes(made)


def test_a_floating_holder_may_run_on_and_needs_a_pitch_more() -> None:
    shop = Shop(Machine(rigid_tapping=False, thread_milling=False))
    asked = plan(tap(M8), remarks=("ROOM BEYOND 4.2 mm",), thickness_mm=15, workpiece="C45", shop=shop)
    assert "HOLE-ROOM-BEYOND" in codes(asked)  # 2 threads of chamfer, 1 of run-on, 0.5 mm: 4.25 mm
    enough = plan(tap(M8), remarks=("ROOM BEYOND 4.3 mm",), thickness_mm=15, workpiece="C45", shop=shop)
    assert "HOLE-ROOM-BEYOND" not in codes(enough)
    assert one(enough, StepKind.TAP).tip_mm == pytest.approx(15 + 2.5 + 0.05)


def test_too_little_room_for_a_tap_is_enough_for_a_thread_mill() -> None:
    """M8 in 2.3 mm of room: the point and 0.5 mm clear take 2.09 mm; two threads of chamfer take 3.0, one pitch 1.75."""
    made = plan(tap(M8), remarks=("ROOM BEYOND 2.3 mm",), thickness_mm=15, workpiece="C45")
    assert one(made, StepKind.THREAD_MILL).through
    assert "HOLE-ROOM-BEYOND" not in codes(made)
    assert deepest_mm(made) <= 15 + 2.3 - 0.5 + 1e-6


def test_too_little_room_is_asked_like_none() -> None:
    made = plan(tap(M8), remarks=("ROOM BEYOND 1 mm",), thickness_mm=15, workpiece="C45")
    note = next(note for note in made.notes if note.code == "HOLE-ROOM-BEYOND")
    assert "only 1 mm of room" in note.message
    assert deepest_mm(made) <= 15


@pytest.mark.parametrize("steps", HOLES.values(), ids=HOLES.keys())
@pytest.mark.parametrize("thickness_mm", [0.4, 15.0, None])
def test_a_room_that_is_written_is_not_asked_for_again(steps: tuple, thickness_mm: float | None) -> None:  # type: ignore[type-arg]
    """What stands too close is moved, or the hole goes less deep, or comes from the other side; words move nothing."""
    made = plan(*steps, remarks=("ROOM BEYOND 0.4 mm",), thickness_mm=thickness_mm, workpiece="C45")
    asked = [note for note in made.notes if note.code == "HOLE-ROOM-BEYOND"]
    assert asked
    for note in asked:
        assert "Write" not in note.suggestion
        assert note.suggestion.startswith("Move what stands there to ")
        assert note.suggestion.endswith(", or have it made from the other side.")
        less = "a shorter thread" if any(step.thread is not None for step in steps) else "a depth in place of THRU"
        assert less in note.suggestion


def test_a_shorter_thread_is_proposed_that_can_be_made() -> None:
    """15 mm less 1 mm of wall, the point and 2 + 1 threads under the full one, rounded down."""
    made = plan(tap(M8), remarks=("ROOM BEYOND 1 mm",), thickness_mm=15, workpiece="C45")
    note = next(note for note in made.notes if note.code == "HOLE-ROOM-BEYOND")
    longest_mm = 14 - POINT_MM - 3 * 1.25
    assert 8.6 < longest_mm < 8.7
    assert "allow a shorter thread (8.6 mm)" in note.suggestion
    answered = plan(tap(M8, 8.6), remarks=("ROOM BEYOND 1 mm",), thickness_mm=15, workpiece="C45")
    assert not any(note.is_question for note in answered.notes)


def test_a_reamed_hole_uses_no_more_than_its_room() -> None:
    made = plan(step(Kind.REAM, size(8), through=True, zone="H7"), remarks=("ROOM BEYOND 2.5 mm",), thickness_mm=15)
    assert one(made, StepKind.DRILL).tip_mm == pytest.approx(15 + 2.0)
    assert one(made, StepKind.REAM).tip_mm == pytest.approx(15 + 2.0)


def test_a_blind_hole_asks_for_no_room_beyond() -> None:
    assert codes(plan(tap(M8, 12), remarks=UNKNOWN)) == []


def test_without_a_thickness_the_room_is_asked_all_the_same() -> None:
    made = plan(tap(M8), remarks=UNKNOWN, thickness_mm=None)
    assert {"HOLE-ROOM-BEYOND", "THICKNESS-MISSING"} <= set(codes(made))
    assert all(step.tip_mm is None for step in made.steps[1:])
