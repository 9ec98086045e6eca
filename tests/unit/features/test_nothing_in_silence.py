"""What could be two things is asked; a row that gives no hole always has a question."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from holesched.callouts.model import Depth, Kind
from holesched.features.build import build_callout, status_of


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("Ø5 Ø6", "CHECK-TWO-HOLES"),
        ("Ø5 THRU Ø6 THRU", "CHECK-TWO-HOLES"),
        ("M6 THRU ONE WALL", "CALLOUT-ONE-WALL"),
        ("CHAMFER", "CALLOUT-NO-HOLE"),
        ("面取り", "CALLOUT-NO-HOLE"),
    ],
)
def test_asked(text: str, code: str) -> None:
    hole, notes, _ = build_callout(text, "mm")
    assert code in [note.code for note in notes if note.is_question]
    assert status_of(hole, notes) == "question"


@pytest.mark.parametrize("text", ["PILOT Ø4 THRU, OPEN TO Ø10", "Ø6.6 THRU ⌴ Ø11 ↧6.4", "Ø10 ↧20, Ø6 THRU"])
def test_not_asked(text: str) -> None:
    assert "CHECK-TWO-HOLES" not in [note.code for note in build_callout(text, "mm")[1]]


def test_a_thread_through_a_thick_part_is_watched() -> None:
    """Common practice, no source: beyond 2.5 diameters a thread costs torque and adds no strength."""
    codes = {
        thickness: [note.code for note in build_callout("M6-6H THRU", "mm", thickness)[1]] for thickness in (10.0, 40.0)
    }
    assert "CHECK-THREAD-LONG" not in codes[10.0]
    assert "CHECK-THREAD-LONG" in codes[40.0]


def test_a_fasteners_hole_is_not_named_twice() -> None:
    messages = [note.message for note in build_callout("CLEARANCE FOR M8", "mm")[1]]
    assert not any("hole hole" in message for message in messages)


@given(st.text("MØ⌴⌵↧0123456789./-xX HTRUCSKAPDEFGLabcdefg°\n", max_size=24))
def test_no_hole_means_a_question(text: str) -> None:
    hole, notes, count = build_callout(text, "mm")
    if (hole is None or not hole.features) and count != 0:
        assert any(note.is_question for note in notes)


@pytest.mark.parametrize("text", ["Ø6.8, M8 ↧16", "M8 ↧16, Ø6.8", "Ø8 H7 ↧20, Ø7.8"])
def test_a_drill_without_its_depth_beside_a_blind_thread_is_asked(text: str) -> None:
    """Through, as a hole without a depth is (ISO 15786, from memory), or as deep as the thread needs: asked, and meanwhile
    planned so that more can still be drilled."""
    hole, notes, _ = build_callout(text, "mm", 30.0)
    assert hole is not None
    drill = next(feature for feature in hole.features if feature.kind is Kind.DRILL)
    assert drill.depth == Depth()
    assert "CALLOUT-PILOT-DEPTH" in {note.code for note in notes if note.is_question}


@pytest.mark.parametrize("text", ["Ø6.8 THRU, M8 ↧16", "Ø6.8, M8", "TAP DRILL Ø6.8, M8 ↧16", "Ø3, M8 ↧16"])
def test_other_drills_beside_a_thread_are_not(text: str) -> None:
    _, notes, _ = build_callout(text, "mm", 30.0)
    assert "CALLOUT-PILOT-DEPTH" not in {note.code for note in notes}


@pytest.mark.parametrize("text", ["Ø6.6/Ø11 ↧6.8 FAR SIDE", "Ø6.6 THRU, FAR SIDE Ø11 ↧6.8", "Ø6.6 THRU, Ø11 ↧6.8"])
def test_a_wider_diameter_without_a_word_is_asked_on_either_side(text: str) -> None:
    assert "CALLOUT-STEP-UNNAMED" in {note.code for note in build_callout(text, "mm", 30.0)[1] if note.is_question}


@pytest.mark.parametrize(
    ("text", "angle_deg", "asked"),
    [("Ø9 CSK Ø18 X 45°", 90.0, True), ("Ø9 CSK Ø18 X 45° INCLUDED", 45.0, False), ("Ø9 CSK Ø18 X 90°", 90.0, False)],
)
def test_45_degrees_of_a_countersink_may_be_those_of_its_leg(text: str, angle_deg: float, asked: bool) -> None:
    hole, notes, _ = build_callout(text, "mm", 30.0)
    assert hole is not None
    assert [feature.angle_deg for feature in hole.features] == [None, angle_deg]
    assert ("CALLOUT-ANGLE-DOUBTFUL" in {note.code for note in notes}) is asked
