"""What stands beside a callout and belongs to nothing is asked about, never swallowed. Common practice, no source."""

from __future__ import annotations

from typing import Literal

import pytest

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
