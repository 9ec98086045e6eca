"""What stands beside a callout and belongs to nothing is asked about, never swallowed. Common practice, no source."""

from __future__ import annotations

from typing import Literal

import pytest

from holesched.callouts.model import Depth
from holesched.callouts.parse import read_callout
from holesched.features.build import build_callout, status_of

CALLOUTS: tuple[tuple[str, Literal["mm", "in"]], ...] = (
    ("M6 THRU", "mm"),
    ("M8x1.25-6H ↧16", "mm"),
    ("Ø6.6 THRU", "mm"),
    ("Ø8 H7 ↧12", "mm"),
    ("Ø6.6 THRU ⌴ Ø11 ↧6.4", "mm"),
    ("1/4-20 UNC-2B ↧.50", "in"),
    ("Ø9", "mm"),
)
LETTERS = tuple("ABCEFGHIJKLMNOPQRSTUVWYZ")
STRAY = ("2A", "6g", "5", "-5", "PLCS", "DEG", "SIDE", "FOO", "H", "?", "%", "=", "°", "Ø", "↧")
CUT = ("(", "[", "+", "-", "&", "AND", "TO", "PER", "FOR", "WITH", "ON", "4X C")


def _status(text: str, unit: Literal["mm", "in"]) -> str:
    hole, notes, _ = build_callout(text, unit)
    return status_of(hole, notes)


@pytest.mark.parametrize(("text", "unit"), CALLOUTS)
def test_without_it_nothing_is_asked(text: str, unit: Literal["mm", "in"]) -> None:
    assert _status(text, unit) == "ok"


@pytest.mark.parametrize("stray", [*LETTERS, *STRAY])
@pytest.mark.parametrize(("text", "unit"), CALLOUTS)
def test_behind_a_callout(text: str, unit: Literal["mm", "in"], stray: str) -> None:
    assert _status(f"{text} {stray}", unit) != "ok"


@pytest.mark.parametrize("stray", [*LETTERS, "2A", "6g", "-5", "PLCS", "DEG", "SIDE", "FOO"])
@pytest.mark.parametrize(("text", "unit"), CALLOUTS)
def test_before_a_callout(text: str, unit: Literal["mm", "in"], stray: str) -> None:
    assert _status(f"{stray} {text}", unit) != "ok"


@pytest.mark.parametrize("end", CUT)
@pytest.mark.parametrize(("text", "unit"), CALLOUTS)
def test_a_cell_that_was_cut_off(text: str, unit: Literal["mm", "in"], end: str) -> None:
    assert _status(f"{text} {end}", unit) != "ok"


@pytest.mark.parametrize("text", ["SCREW M6 THRU", "M6 THRU BOLT", "DRILL M6 THRU", "M6 SHCS", "M6 FOR SCREW"])
def test_a_thread_or_a_hole_for_the_screw(text: str) -> None:
    assert [note.code for note in build_callout(text, "mm")[1] if note.is_question] == ["THREAD-OR-CLEARANCE"]


@pytest.mark.parametrize(
    "text", ["M6 THRU )", "M6 THRU;", "M6-6H THRU BOLT", "Ø9 THRU SCREW", "Ø9 D", "DIA 9.5 THRU", "Ø5 Y M6", "M6 THRU\n4X"]
)
def test_what_says_nothing_more_is_no_question(text: str) -> None:
    assert _status(text, "mm") == "ok"


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("M6 Whitworth", "THREAD-SYSTEM-DOUBTFUL"),
        ("Whitworthgewinde M6", "THREAD-SYSTEM-DOUBTFUL"),
        ("Einschraubgewinde M6", "THREAD-SIDE-DOUBTFUL"),
        ("M6 Einschraubgewinde 12 tief", "THREAD-SIDE-DOUBTFUL"),
    ],
)
def test_a_word_about_threads_is_asked_once_by_its_name(text: str, code: str) -> None:
    """Common practice, no source."""
    reading = read_callout(text, "mm")
    assert reading.callout is not None
    assert [note.code for note in reading.notes] == [code]


@pytest.mark.parametrize("text", ["1/4 Whitworth", "Whitworth 1/4", "1/4-20 BSW Whitworth"])
def test_whitworth_is_no_stray_word_of_its_own_thread(text: str) -> None:
    """BS 84 by its name, from memory."""
    reading = read_callout(text, "in")
    assert not reading.notes
    assert reading.callout is not None
    assert [each.thread.standard for each in reading.callout.elements if each.thread] == ["whitworth"]


@pytest.mark.parametrize(("text", "cut"), [("1/4-20 UNC-2B ↧.5 in", False), ("Ø.5 ↧ 1 IN", False), ("M6 THRU IN", True)])
def test_a_unit_at_the_end_is_no_joining_word(text: str, cut: bool) -> None:
    """Inches written behind a depth; IN with nothing before it still waits for its rest."""
    notes = build_callout(text, "in")[1]
    assert ("CALLOUT-CUT" in {note.code for note in notes}) is cut


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("Ø8 20", "Write Ø8 ↧20,"),
        ("4X Ø8H7 20", "Write Ø8H7 ↧20,"),
        ("Ø8 - 20", "Write Ø8 ↧20,"),
        ("DRILL 8 20", "DRILL 8 ↧20,"),
    ],
)
def test_a_bare_number_behind_a_size_may_be_its_depth(text: str, hint: str) -> None:
    reading = read_callout(text, "mm")
    assert reading.callout is not None
    assert [element.depth for element in reading.callout.elements] == [Depth(20.0)]
    (note,) = reading.notes
    assert note.code == "CALLOUT-DEPTH-DOUBTFUL"
    assert note.is_question
    assert hint in note.suggestion


def test_a_bare_number_behind_a_countersink_may_be_its_angle() -> None:
    reading = read_callout("Ø5.5 THRU CSK Ø10 82", "mm")
    assert reading.callout is not None
    assert [element.angle_deg for element in reading.callout.elements] == [None, 82.0]
    assert [note.code for note in reading.notes] == ["CALLOUT-ANGLE-DOUBTFUL"]


@pytest.mark.parametrize(
    ("text", "count"), [("4Ø8", 4), ("4Ø8 THRU", 4), ("4 Nos Ø8", 4), ("4 No. Ø8", 4), ("Ø8 [4x]", 4), ("Ø8 TYP 4", 4)]
)
def test_a_number_of_holes_without_its_x(text: str, count: int) -> None:
    callout = read_callout(text, "mm").callout
    assert callout is not None
    assert callout.count == count
    assert [element.diameter.mm for element in callout.elements if element.diameter] == [8.0]


@pytest.mark.parametrize(
    ("text", "asked"), [("M8 1.0 ↧16", True), ("M8 1.0 PITCH ↧16", False), ("M8 1P ↧16", False), ("M8 P1 ↧16", False)]
)
def test_a_bare_pitch_is_no_depth(text: str, asked: bool) -> None:
    """ISO 261 lists a pitch of 1 mm for M8."""
    reading = read_callout(text, "mm")
    assert reading.callout is not None
    (tap,) = reading.callout.elements
    assert tap.thread is not None
    assert (tap.thread.pitch_mm, tap.depth) == (1.0, Depth(16.0))
    assert ["CALLOUT-PITCH-DOUBTFUL"] * asked == [note.code for note in reading.notes]


def test_a_radius_is_no_depth_and_is_told() -> None:
    reading = read_callout("Ø12 H8 ↧10 R0.2 MAX", "mm")
    assert reading.callout is not None
    assert [element.depth for element in reading.callout.elements] == [Depth(10.0)]
    assert [(note.code, note.is_question) for note in reading.notes] == [("CALLOUT-RADIUS", False)]


@pytest.mark.parametrize("text", ["D8 ↧20", "d = 8 ↧20", "8 Ø ↧20"])
def test_a_letter_or_a_sign_behind_may_be_the_diameter_sign(text: str) -> None:
    reading = read_callout(text, "mm")
    assert reading.callout is not None
    (hole,) = reading.callout.elements
    assert hole.diameter is not None
    assert (hole.diameter.mm, hole.depth) == (8.0, Depth(20.0))
    assert [note.is_question for note in reading.notes] == [True]


@pytest.mark.parametrize(
    ("text", "asked"), [("1/4x20", True), ("1/4 x 20", True), ("1/4 x 12", False), ("1/2 x 13 DEEP", False)]
)
def test_a_fraction_before_threads_per_inch_is_asked(text: str, asked: bool) -> None:
    """ASME B1.1 lists 1/4-20 and 1/2-13; there is no 1/4-12."""
    reading = read_callout(text, "mm")
    assert ("CALLOUT-THREAD-DOUBTFUL" in {note.code for note in reading.notes}) is asked


def test_a_circle_out_of_all_reason_is_not_in_inches() -> None:
    reading = read_callout("6X M8 ↧20 ON 80 BC", "in")
    assert reading.callout is not None
    assert reading.callout.circle is not None
    assert reading.callout.circle.diameter_mm == 80.0
    assert "CALLOUT-UNIT-DOUBTFUL" in {note.code for note in reading.notes}
