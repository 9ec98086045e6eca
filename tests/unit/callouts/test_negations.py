"""What is not to be made, and LEFT that may be a place: words that turn a reading round are never swallowed."""

from __future__ import annotations

import pytest

from holesched.features.build import build_callout

NEGATED = (
    "M8 NOT THRU",
    "M8 ↧20, NOT THRU",
    "Ø9 THRU, NO C'BORE",
    "Ø9 THRU WITHOUT CSK",
    "Ø9 durch, ohne Senkung",
    "Ø9 sans lamage",
    "M8 no pasante",
    "Ø9 sin avellanado",
    "Ø9 senza lamatura",
    "M8 通しなし",
)


@pytest.mark.parametrize("text", NEGATED)
def test_negations_are_refused(text: str) -> None:
    hole, notes, _ = build_callout(text, "mm")
    assert hole is None
    assert [note.code for note in notes] == ["CALLOUT-NEGATED"]


@pytest.mark.parametrize("text", ["M8 DO NOT TAP", "DO NOT TAP M8", "Ø6.8 DO NOT TAP M8", "4X DO NOT TAP: M8 THRU"])
def test_a_thread_that_is_not_to_be_cut_is_never_planned(text: str) -> None:
    hole, notes, _ = build_callout(text, "mm")
    assert hole is None
    assert [note.code for note in notes if note.is_question] == ["THREAD-NOT-CUT"]


@pytest.mark.parametrize(
    "text",
    ["Ø6.8 DO NOT TAP", "DO NOT TAP Ø6.8 THRU", "M8 NO BURRS", "NO. 10 DRILL", "NO. 10-32 UNF-2B", "M8 THRU NO ROOM BEYOND"],
)
def test_no_is_not_always_a_negation(text: str) -> None:
    hole, notes, _ = build_callout(text, "mm")
    assert hole is not None
    assert not [note.code for note in notes if note.is_question]


@pytest.mark.parametrize("text", ["M8 LEFT", "M8 LEFT HOLE", "M8 côté gauche", "M8 lato sinistro", "M8 links oben"])
def test_left_may_be_a_place(text: str) -> None:
    assert "CALLOUT-HAND-DOUBTFUL" in {note.code for note in build_callout(text, "mm")[1] if note.is_question}


@pytest.mark.parametrize("text", ["M8 LH", "M8 LEFT HAND", "M10 links", "M10 pas à gauche", "M10 sinistra", "M10 左ねじ"])
def test_left_hand_threads(text: str) -> None:
    hole, notes, _ = build_callout(text, "mm")
    assert hole is not None
    assert hole.features[0].thread is not None
    assert hole.features[0].thread.left_hand
    assert not [note.code for note in notes if note.is_question]


@pytest.mark.parametrize("text", ["M8 nicht durchgehend", "M8 non débouchant", "M8 non passante", "M8 不通孔"])
def test_not_through_is_blind_and_its_depth_is_asked(text: str) -> None:
    hole, notes, _ = build_callout(text, "mm")
    assert hole is None
    assert [note.code for note in notes if note.is_question] == ["DEPTH-MISSING"]
