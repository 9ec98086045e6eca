"""What a callout says of the hole's wall and its way out reaches the rules that choose tools. Words: common practice."""

from __future__ import annotations

import pytest

from holesched.features.build import build_callout
from holesched.tooling.surroundings import WHOLE, surroundings
from holesched.units import LengthUnit

SLANTED = ("M8 THRU SLANTED", "M8 durchgehend, schräg angeschnitten", "M8 THRU, NOT SQUARE TO FACE", "M8 通し 斜面")
ENTRY = (
    "M8 THRU ON ANGLED FACE",
    "M8 THRU, SLANTED ENTRY",
    "M8 durchgehend, schräger Eintritt",
    "M8 pasante, entrada inclinada",
)
EXIT = (
    "M8 THRU, EXIT SLANTED",
    "M8 durchgehend, schräger Austritt",
    "M8 débouchant, sortie inclinée",
    "M8 pasante, salida inclinada",
    "M8 passante, uscita inclinata",
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


WALLS = (
    *((text, {"slanted entry", "slanted exit"}) for text in SLANTED),
    *((text, {"slanted entry"}) for text in ENTRY),
    *((text, {"slanted exit"}) for text in EXIT),
    *((text, {"interrupted"}) for text in INTERRUPTED),
    ("M8 THRU", {"whole"}),
    ("M8 THRU SLANTED EXIT, CROSS HOLE", {"slanted exit", "interrupted"}),
)


@pytest.mark.parametrize(("text", "walls"), WALLS)
def test_walls(text: str, walls: set[str]) -> None:
    hole, notes, _ = build_callout(text, "mm")
    assert hole is not None
    assert surroundings(hole.remarks).walls == walls
    assert surroundings(hole.remarks).which_face == (text in SLANTED)
    assert not [note.code for note in notes if note.is_question]


@pytest.mark.parametrize("text", BLOCKED)
def test_ways_out(text: str) -> None:
    hole, notes, _ = build_callout(text, "mm")
    assert hole is not None
    assert surroundings(hole.remarks).blocked
    assert surroundings(hole.remarks).room_mm is None
    assert not [note.code for note in notes if note.is_question]


@pytest.mark.parametrize("text", MEETING)
def test_meeting_another_hole_is_interrupted_and_asked(text: str) -> None:
    hole, notes, _ = build_callout(text, "mm")
    assert hole is not None
    assert surroundings(hole.remarks).walls == {"interrupted"}
    assert "CALLOUT-INTERSECTS" in {note.code for note in notes if note.is_question}


@pytest.mark.parametrize("text", [*SLANTED, *ENTRY, *EXIT, *INTERRUPTED, *BLOCKED])
def test_a_remark_beside_the_row_is_read_by_the_same_words(text: str) -> None:
    """A remark column says it in six languages as well as the callout does."""
    remark = (text.replace("M8", "", 1).strip(" ,"),)
    hole, _, _ = build_callout(text, "mm")
    assert hole is not None
    assert surroundings(remark) == surroundings(hole.remarks)


@pytest.mark.parametrize(
    "remark", ["not interrupted", "no cross holes", "ohne Querbohrung", "slotted screw M4", "unblockedness"]
)
def test_a_remark_that_denies_it_says_nothing(remark: str) -> None:
    assert surroundings((remark,)) == (WHOLE, False, None, None, None, False)


def test_a_bore_that_another_hole_runs_into_is_no_step() -> None:
    hole, notes, _ = build_callout("Ø6 ↧30 INTO Ø10 BORE", "mm")
    assert hole is not None
    assert [(feature.diameter.mm, feature.depth.mm) for feature in hole.features] == [(6.0, 30.0)]
    assert "CALLOUT-WALLS" in {note.code for note in notes}


FIGURES: tuple[tuple[str, LengthUnit, float | None, float | None, float | None], ...] = (
    ("M8 THRU, SLANTED EXIT 30°", "mm", None, 30, None),
    ("M8 THRU, 30° SLANTED EXIT", "mm", None, 30, None),
    ("M8 THRU SLANTED EXIT AT 12.5 DEG", "mm", None, 12.5, None),
    ("M8 durchgehend, Austritt schräg 15 Grad, längste Seite 22 mm", "mm", None, 15, 22),
    ("M8 THRU, SLANTED EXIT, LONGEST SIDE 20", "mm", None, None, 20),
    ("M8 THRU, NO ROOM BEYOND 5", "mm", 5, None, None),
    ("M8 THRU BLOCKED 5 mm", "mm", 5, None, None),
    ("M8 THRU, 5 mm ROOM BEYOND", "mm", 5, None, None),
    ("1/4-20 UNC THRU, .2 ROOM BEYOND", "in", 5.08, None, None),
    ("1/4-20 UNC THRU, BLOCKED 3/16", "in", 4.7625, None, None),
    ("M8 THRU BLOCKED 4 PLACES", "mm", None, None, None),
    ("M8 THRU, SLANTED EXIT, ⌵ Ø10 X 90°", "mm", None, None, None),
    ("Ø6 THRU CSK Ø10 90° SLANTED EXIT", "mm", None, None, None),
)


@pytest.mark.parametrize(("text", "unit", "room_mm", "exit_deg", "longest_mm"), FIGURES)
def test_figures_of_the_way_out(
    text: str, unit: LengthUnit, room_mm: float | None, exit_deg: float | None, longest_mm: float | None
) -> None:
    """The room beyond, the angle of a slanted exit and its longest side; a count and a countersink's angle are neither."""
    hole, notes, _ = build_callout(text, unit)
    assert hole is not None
    around = surroundings(hole.remarks)
    assert (around.room_mm, around.exit_deg, around.longest_mm) == (pytest.approx(room_mm), exit_deg, longest_mm)
    assert not [note.code for note in notes if note.is_question]


@pytest.mark.parametrize(
    ("remark", "room_mm"),
    [
        ("no room beyond: 5 mm", 5.0),
        ("only 5,5 mm room beyond", 5.5),
        ('room beyond .2"', 5.08),
        ("no room beyond: a boss of 12 mm stands there", None),
        ("blocked; drill 5 mm first", None),
    ],
)
def test_a_length_belongs_to_the_room_only_beside_its_words(remark: str, room_mm: float | None) -> None:
    around = surroundings((remark,))
    assert around.blocked
    assert around.room_mm == pytest.approx(room_mm)


def test_room_without_a_figure_is_refused_with_what_to_write() -> None:
    hole, notes, _ = build_callout("M8 THRU ROOM BEYOND", "mm")
    assert hole is None
    assert "Write ROOM BEYOND 5 mm." in notes[0].suggestion
