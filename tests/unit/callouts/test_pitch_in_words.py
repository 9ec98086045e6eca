"""COARSE and FINE of a thread: a fine one needs its pitch, and word and pitch must agree.

ISO 261: M8 is 1.25 coarse, 1 fine; ASME B1.1: 1/4-20 is UNC, 1/4-28 UNF.
"""

from __future__ import annotations

import pytest

from holesched.callouts.model import Side
from holesched.features.build import build_callout


@pytest.mark.parametrize(
    ("text", "thread"),
    [
        ("M8 COARSE", "M8x1.25-6H"),
        ("M8x1.25 COARSE THREAD", "M8x1.25-6H"),
        ("M8 THRU COARSE THREAD", "M8x1.25-6H"),
        ("Regelgewinde M8", "M8x1.25-6H"),
        ("Feingewinde M8x1", "M8x1-6H"),
        ("M8x1 pas fin", "M8x1-6H"),
        ("1/4-20 COARSE", "1/4-20 UNC-2B"),
        ("1/4-28 FINE THREAD", "1/4-28 UNF-2B"),
    ],
)
def test_words_that_agree(text: str, thread: str) -> None:
    hole, notes, _ = build_callout(text, "in" if "/" in text else "mm")
    assert hole is not None
    assert [feature.thread and feature.thread.designation for feature in hole.features] == [thread]
    assert not [note.code for note in notes if note.is_question]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("M8 FINE", "THREAD-PITCH-MISSING"),
        ("Feingewinde M8", "THREAD-PITCH-MISSING"),
        ("M8x1 COARSE", "THREAD-PITCH-DIFFERS"),
        ("M8x1.25 FINE", "THREAD-PITCH-DIFFERS"),
        ("1/4-28 COARSE", "THREAD-PITCH-DIFFERS"),
    ],
)
def test_words_that_do_not(text: str, code: str) -> None:
    assert [note.code for note in build_callout(text, "in" if "/" in text else "mm")[1]] == [code]


@pytest.mark.parametrize(
    "text", ["Ø6,6 durch, beidseitig 0,5x45°", "Ø6.6 THRU, BOTH SIDES CSK Ø7.6 x 90°", "Ø6.6 THRU, 両面 C0.5"]
)
def test_both_sides_before_a_chamfer_are_the_chamfers(text: str) -> None:
    hole, notes, _ = build_callout(text, "mm")
    assert hole is not None
    assert [(feature.side, feature.diameter.mm) for feature in hole.features] == [(Side.NEAR, 6.6), (Side.BOTH, 7.6)]
    assert not [note.code for note in notes if note.is_question]


@pytest.mark.parametrize("text", ["1/4-20 3H", "1/4-20 UNC 6H", "M8 2B", "1/4-20 UNC-3H"])
def test_a_class_of_another_system_is_refused(text: str) -> None:
    assert [note.code for note in build_callout(text, "in")[1]] == ["THREAD-CLASS-FOREIGN"]
