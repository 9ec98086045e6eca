"""The limit of the tap behind a thread (H, GH: ASME B94.9; D: its metric taps) is neither a zone, a class nor a depth.

Common practice, no source, but where one is named.
"""

from __future__ import annotations

from typing import Literal

import pytest

from holesched.callouts.canonical import canonical
from holesched.callouts.parse import read_callout
from holesched.features.build import build_callout, build_holes
from holesched.notes import CellRef
from holesched.schedule.model import JobHeader, Schedule, ScheduleRow

Unit = Literal["mm", "in"]


@pytest.mark.parametrize(
    ("text", "unit", "limit", "depth_mm"),
    [
        ("M8 H3 ↧16", "mm", "H3", 16.0),
        ("M8x1.25-6H H4 ↧16", "mm", "H4", 16.0),
        ("M8 (H3) ↧16", "mm", "H3", 16.0),
        ("TAP M8 H3 ↧16", "mm", "H3", 16.0),
        ("M6 D5 LIMIT ↧12", "mm", "D5", 12.0),
        ("1/4-20 H3", "in", "H3", None),
        ("1/4-20 GH3", "in", "GH3", None),
        ("10-32 UNF-2B TAP LIMIT H3 ↧.5", "in", "H3", 12.7),
        ("1/4-20 UNC-2B, H3 LIMIT, ↧.5", "in", "H3", 12.7),
    ],
)
def test_a_tap_limit_is_kept_and_read_again(text: str, unit: Unit, limit: str, depth_mm: float | None) -> None:
    reading = read_callout(text, unit)
    assert reading.callout is not None
    (tap,) = reading.callout.elements
    assert (tap.tap_limit, tap.depth.mm if tap.depth else None) == (limit, depth_mm)
    assert not [note for note in reading.notes if note.is_question]
    again = read_callout(canonical(reading.callout), "mm").callout
    assert again is not None
    assert [each.tap_limit for each in again.elements] == [limit]


@pytest.mark.parametrize("text", ["M8-6H", "M8 6H", "M8x1.25-6G ↧16", "Ø8 H7", "M8 ↧16, Ø10 H7 ↧5", "Ø6.8 H13 ↧20, M8"])
def test_classes_and_zones_are_no_tap_limits(text: str) -> None:
    reading = read_callout(text, "mm")
    assert reading.callout is not None
    assert not any(element.tap_limit for element in reading.callout.elements)
    assert not reading.notes


@pytest.mark.parametrize(
    ("text", "choices"),
    [
        ("M8 H13 THRU", ("H13 LIMIT", "Ø8 H13")),
        ("M8 H6 ↧16", ("M8-6H", "H6 LIMIT")),
        ("M8 H7", ("M8-7H", "H7 LIMIT")),
        ("M6 D5 ↧12", ("D5 LIMIT", "DRILL Ø5", "↧5")),
    ],
)
def test_what_may_be_a_class_or_a_size_is_asked(text: str, choices: tuple[str, ...]) -> None:
    (note,) = read_callout(text, "mm").notes
    assert note.code == "CALLOUT-TAP-LIMIT"
    assert note.is_question
    assert all(choice in note.suggestion for choice in choices)


def test_a_class_written_out_settles_it() -> None:
    assert not read_callout("M8-6H H7 ↧16", "mm").notes


def test_holes_with_and_without_a_limit_are_two_types() -> None:
    texts = ("M8 ↧16", "M8 H3 ↧16", "M8 H3 ↧16")
    rows = tuple(ScheduleRow(CellRef("f", "s", n, 3), f"A{n}", text, "mm") for n, text in enumerate(texts, start=2))
    built = build_holes(Schedule("f", "s", "0", JobHeader(), rows, (), len(rows)), ())
    assert [hole_type.quantity for hole_type in built.types] == [1, 2]


@pytest.mark.parametrize(
    ("text", "choices"),
    [
        ("1/4-18 NPT-1", ("NPTF-1", "↧1", "1X")),
        ("1/4-20-2", ("1/4-20-2B", "↧2", "2X")),
        ("1/4-20 UNC-2B - 2", ("↧2", "2X")),
        ("M10-1", ("M10x1", "↧1", "1X")),
    ],
)
def test_a_dash_and_a_figure_are_asked_and_no_depth(text: str, choices: tuple[str, ...]) -> None:
    """ASME B1.20.1 has no classes; ASME B1.20.3, clause 1.4.2, has classes 1 and 2 (from memory)."""
    reading = read_callout(text, "in")
    assert reading.callout is not None
    assert [element.depth for element in reading.callout.elements] == [None]
    (note,) = reading.notes
    assert note.code == "CALLOUT-NUMBER-DOUBTFUL"
    assert all(choice in note.suggestion for choice in choices)


@pytest.mark.parametrize("text", ["M30x3Ph6P3", "M30xPh6P3", "M30 x 3 Ph6 P3", "M30x6P3", "M30x6(P3)", "M30xPh6P3 2-START"])
def test_lead_and_pitch_of_several_starts(text: str) -> None:
    """ISO 965-1, clause 5.3 (from memory): Ph is the lead, P the pitch; lead over pitch are the starts."""
    hole, notes, _ = build_callout(text, "mm")
    assert hole is not None
    (tap,) = hole.features
    assert tap.thread is not None
    assert (tap.thread.pitch_mm, tap.thread.starts) == (3.0, 2)
    (asked,) = [note for note in notes if note.code == "THREAD-MULTI-START"]
    assert asked.message.startswith("Lead 6 mm, pitch 3 mm: 2 starts")


@pytest.mark.parametrize("words", ["2-START", ", 2 STARTS", "DOUBLE START", "zweigängig", "2 filets", "2条ねじ"])
def test_starts_beside_one_number_are_asked(words: str) -> None:
    (note,) = read_callout(f"M30x3 {words}", "mm").notes
    assert note.code == "CALLOUT-STARTS"
    assert "lead and the pitch of M30x3" in note.message
