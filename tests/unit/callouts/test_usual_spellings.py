"""Spellings that every drawing office takes for granted are read without a question.

Expectations: common practice, no source; the pitch behind P as JIS drawings write it, from memory."""

from __future__ import annotations

import pytest

from holesched.callouts.model import Depth
from holesched.callouts.parse import read_callout
from holesched.features.build import build_callout


@pytest.mark.parametrize(
    ("text", "unit", "made"),
    [
        ("3.5010/3.5000 BORE THRU", "in", ["bore 88.9"]),
        ("M16 P2.0 通シ", "mm", ["tap 16"]),
        ("M8 P1.25 ↧20", "mm", ["tap 8"]),
        ("Ø.177 (#16)", "in", ["drill 4.496"]),
        ("#16 (.177) DRILL THRU", "in", ["drill 4.496"]),
        ("Ø6 x 12 DEEP FOR SPRING DOWEL", "mm", ["drill 6"]),
        ("8 fori Ø11 passanti su Ø140 i.p.", "mm", ["drill 11"]),
        ("Ø1.250 SPOTFACE TO CLEAN UP, .531 DRILL THRU", "in", ["spotface 31.75", "drill 13.487"]),
        ("Ø1.25 SPOTFACE, Ø.531 DRILL THRU", "in", ["spotface 31.75", "drill 13.487"]),
    ],
)
def test_read_without_a_question(text: str, unit: str, made: list[str]) -> None:
    hole, notes, _ = build_callout(text, "in" if unit == "in" else "mm", 40.0)
    assert hole is not None
    assert [f"{feature.kind.value} {round(feature.diameter.mm, 3):g}" for feature in hole.features] == made
    assert not [note.message for note in notes if note.is_question]


def test_a_pitch_that_no_table_lists_is_still_asked() -> None:
    _, notes, _ = build_callout("M6 P4 ↧12", "mm")
    assert [note.code for note in notes if note.is_question]


def test_a_screw_named_by_its_standard_is_in_the_tables() -> None:
    _, notes, _ = build_callout("Senkung DIN 974-1 für M6 DIN 912", "mm", 22.0)
    assert not [note.message for note in notes if "not in the tables" in note.message]


def test_a_port_is_asked_about_once() -> None:
    hole, notes, _ = build_callout("7/16-20 UNF-2B ↧11.5 (SAE-4 PORT J1926)", "mm", 100.0)
    assert hole is not None
    assert ["port" in note.message for note in notes if note.is_question] == [True]


def test_a_drill_of_another_size_in_brackets_is_refused() -> None:
    hole, _, _ = build_callout("Ø.250 (#16)", "in")
    assert hole is None


def test_a_taper_thread_in_a_blind_hole_has_its_standards_length() -> None:
    """ASME B1.20.1, Table 2, 3/8-18 NPT: L1 0.240 in and L3 of three threads, 0.1667 in, make 0.4067 in."""
    hole, notes, _ = build_callout("Ø37/64 ↧1.25, 3/8 NPT", "in", 50.8)
    assert hole is not None
    (tapped,) = [feature for feature in hole.features if feature.thread is not None]
    assert tapped.depth.mm is not None
    assert round(tapped.depth.mm / 25.4, 4) == 0.4067
    assert not [note.message for note in notes if note.is_question]
    assert [note.code for note in notes if note.code == "THREAD-DEPTH-STANDARD"]
    assert build_callout("Ø11.8 ↧20, G 1/4", "mm", 50.8)[0] is None  # parallel: its depth is nobody's but the designer's


@pytest.mark.parametrize(
    ("text", "thread_mm", "drilled_mm", "drill_mm"),
    [
        ("M6 下穴φ5 深サ22 タップ深サ15", 15.0, 22.0, 5.0),
        ("2-M6 下穴φ5 深サ22 ねじ深15", 15.0, 22.0, 5.0),
        ("M6 下穴φ5 深さ22 有効深さ15", 15.0, 22.0, 5.0),
        ("M6 下穴φ5×22 ねじ深さ15", 15.0, 22.0, 5.0),
        ("M6 下孔5 深22 ねじ深15", 15.0, 22.0, 5.0),
        ("M6 下穴φ5通し 深15", 15.0, None, 5.0),
        ("M6 底孔φ5 孔深22 螺纹深15", 15.0, 22.0, 5.0),
        ("M10 prof. 22 utile 18", 18.0, 22.0, None),
        ("M10 prof. 22 útil 18", 18.0, 22.0, None),
    ],
)
def test_two_depths_are_told_apart_by_their_words(
    text: str, thread_mm: float, drilled_mm: float | None, drill_mm: float | None
) -> None:
    """The drilled hole and the useful thread in it. Common practice of drawings in Japan, Italy and Spain, no source."""
    reading = read_callout(text, "mm")
    assert not reading.notes
    assert reading.callout is not None
    tap, drill = reading.callout.elements
    drilled = Depth(drilled_mm) if drilled_mm is not None else Depth(through=True)
    assert (tap.thread is not None, tap.depth, drill.depth) == (True, Depth(thread_mm), drilled)
    assert (drill.diameter.mm if drill.diameter is not None else None) == drill_mm


@pytest.mark.parametrize(
    ("text", "code", "words"),
    [
        ("M6 gesenkt DIN 912", "THREAD-OR-CLEARANCE", "M6 with an opening for the head of DIN 912"),
        ("Ø14 / Ø20x13 durch", "DEPTH-TWICE", "does Ø14 go through?"),
        ("M10 ↧22 FULL THD 18", "CALLOUT-UNREADABLE", "what is this number?"),
        ("M10 prof. 18 utile 22", "CALLOUT-UNREADABLE", "what is this number?"),
    ],
)
def test_what_stays_open_is_asked_clearly(text: str, code: str, words: str) -> None:
    """Refused, with the words that say what is open."""
    reading = read_callout(text, "mm")
    assert reading.callout is None
    assert [note.code for note in reading.notes] == [code]
    assert words in reading.notes[0].message


@pytest.mark.parametrize(
    ("text", "same"),
    [
        ("M8 roscado prof. 18, taladro prof. 22", "M8 ↧18 DRILL DEPTH 22"),
        ("M8 prof. 16 utile, foro prof. 22", "M8 ↧16 DRILL DEPTH 22"),
        ("M8 prof. 16, preforo prof. 22", "M8 ↧16 DRILL DEPTH 22"),
        ("2 fori filettati M5 sx prof. 10", "2X M5 LH ↧10"),
        ("Ø9 foro prof. 20", "Ø9 ↧20"),
    ],
)
def test_the_drilled_hole_and_the_hand_in_italian_and_spanish(text: str, same: str) -> None:
    """Each says what the English callout beside it says. Common practice, no source."""

    def said(callout: str) -> list[tuple[object, ...]]:
        hole, notes, count = build_callout(callout, "mm", 40.0)
        assert hole is not None, callout
        assert not [note.message for note in notes if note.is_question]
        return [(count, f.kind, f.diameter.mm, f.depth, f.pilot_depth, f.thread) for f in hole.features]

    assert said(text) == said(same)


@pytest.mark.parametrize(
    "text", ["2 TAP M6 12 DEEP", "2 Gewinde M6 12 tief", "2 filettati M6 prof. 12", "2 roscas M6 prof. 12"]
)
def test_a_number_before_a_tap_word_that_can_be_no_drill_is_a_count(text: str) -> None:
    """5 is the drill of M6 (ISO 2306, from memory), 2 is none."""
    reading = read_callout(text, "mm")
    assert reading.callout is not None
    assert (reading.callout.count, len(reading.callout.elements)) == (2, 1)
    drilled = read_callout("5 TAP M6 12 DEEP", "mm").callout
    assert drilled is not None
    assert (drilled.count, len(drilled.elements)) == (None, 2)


@pytest.mark.parametrize("text", ["2x M8, 20/25 tief", "2x M8 20/25 tief", "2x M8 x 20/25", "2x M8-6H 20 / 25 TIEF"])
def test_both_depths_with_a_slash(text: str) -> None:
    """Thread length / depth of the drilled hole (ISO 15786 and DIN 6780, from memory): one reading, to be initialled."""
    reading = read_callout(text, "mm")
    assert [note.code for note in reading.notes] == ["CALLOUT-DEPTH-BOTH"]
    assert reading.callout is not None
    tap, drill = reading.callout.elements
    assert reading.callout.count == 2
    assert (tap.depth or Depth(tap.thread.length_mm if tap.thread else None), drill.depth) == (Depth(20.0), Depth(25.0))


@pytest.mark.parametrize("text", ["M8 ↧20 / ↧25", "M8 ↧20 (↧25)", "M8 ↧20 (25)"])
def test_a_deeper_depth_apart_is_the_drilled_holes_and_asked(text: str) -> None:
    reading = read_callout(text, "mm")
    assert [note.code for note in reading.notes] == ["CALLOUT-DEPTH-DOUBTFUL"]
    assert reading.callout is not None
    assert [element.depth for element in reading.callout.elements] == [Depth(20.0), Depth(25.0)]


@pytest.mark.parametrize("text", ["M8 THRU FROM BACK", "M8 THRU FROM REAR", "M8 THRU FROM FAR SIDE"])
def test_through_from_the_back_is_through_the_part(text: str) -> None:
    reading = read_callout(text, "mm")
    assert reading.callout is not None
    (tap,) = reading.callout.elements
    assert (tap.side.value, tap.depth) == ("far", Depth(through=True))
    assert not reading.callout.remarks
