"""What a callout says of the hole's wall and its way out reaches the rules that choose tools. Words: common practice."""

from __future__ import annotations

import pytest

from holesched.features.build import build_callout
from holesched.tooling.case import is_blocked, wall_of

SLANTED = (
    "M8 THRU, EXIT SLANTED",
    "M8 THRU ON ANGLED FACE",
    "M8 durchgehend, schräger Austritt",
    "M8 durchgehend, schräg angeschnitten",
    "M8 débouchant, sortie inclinée",
    "M8 pasante, salida inclinada",
    "M8 passante, uscita inclinata",
    "M8 通し 斜面",
)
INTERRUPTED = (
    "M8 THRU INTERRUPTED",
    "M8 ↧20 INTERRUPTED BY CROSS HOLE",
    "M8 THRU CROSS HOLE",
    "M8 THRU SLOTTED WALL",
    "M8 durchgehend, unterbrochen",
    "M8 durchgehend, Querbohrung",
    "M8 débouchant, coupe interrompue",
)
BLOCKED = ("M8 THRU NO ROOM BEYOND", "M8 THRU, OBSTRUCTED EXIT", "M8 durchgehend, kein Auslauf", "M8 通し 逃げなし")
MEETING = ("M8 ↧20 INTERSECTS Ø6", "M8 ↧20 MEETS Ø6 HOLE", "M8 20 tief, kreuzt Querbohrung", "M8 prof 20, rencontre Ø6")


@pytest.mark.parametrize(
    ("text", "wall"), [(t, "slanted") for t in SLANTED] + [(t, "interrupted") for t in INTERRUPTED] + [("M8 THRU", "whole")]
)
def test_walls(text: str, wall: str) -> None:
    hole, notes, _ = build_callout(text, "mm")
    assert hole is not None
    assert wall_of(hole.remarks) == wall
    assert not [note.code for note in notes if note.is_question]


@pytest.mark.parametrize("text", BLOCKED)
def test_ways_out(text: str) -> None:
    hole, notes, _ = build_callout(text, "mm")
    assert hole is not None
    assert is_blocked(hole.remarks)
    assert not [note.code for note in notes if note.is_question]


@pytest.mark.parametrize("text", MEETING)
def test_meeting_another_hole_is_interrupted_and_asked(text: str) -> None:
    hole, notes, _ = build_callout(text, "mm")
    assert hole is not None
    assert wall_of(hole.remarks) == "interrupted"
    assert "CALLOUT-INTERSECTS" in {note.code for note in notes if note.is_question}


@pytest.mark.parametrize("text", [*SLANTED, *INTERRUPTED, *BLOCKED])
def test_a_remark_beside_the_row_is_read_by_the_same_words(text: str) -> None:
    """A remark column says it in six languages as well as the callout does."""
    remark = (text.replace("M8", "", 1).strip(" ,"),)
    hole, _, _ = build_callout(text, "mm")
    assert hole is not None
    assert (wall_of(remark), is_blocked(remark)) == (wall_of(hole.remarks), is_blocked(hole.remarks))


@pytest.mark.parametrize(
    "remark", ["not interrupted", "no cross holes", "ohne Querbohrung", "slotted screw M4", "unblockedness"]
)
def test_a_remark_that_denies_it_says_nothing(remark: str) -> None:
    assert (wall_of((remark,)), is_blocked((remark,))) == ("whole", False)


def test_a_bore_that_another_hole_runs_into_is_no_step() -> None:
    hole, notes, _ = build_callout("Ø6 ↧30 INTO Ø10 BORE", "mm")
    assert hole is not None
    assert [(feature.diameter.mm, feature.depth.mm) for feature in hole.features] == [(6.0, 30.0)]
    assert "CALLOUT-WALLS" in {note.code for note in notes}
