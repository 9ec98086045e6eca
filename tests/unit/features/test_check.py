"""Contradictions in a hole, between holes, and look-alike threads: each a question or a warning with its figures."""

from __future__ import annotations

import pytest

from holesched.features.build import build_callout, build_holes
from holesched.features.check import CHECKS, CHECKS_WITHOUT_TOOLS
from holesched.features.model import BuiltHoles
from holesched.notes import CellRef, Note, Severity
from holesched.pipeline import explain
from holesched.schedule.model import JobHeader, ReadOptions, Schedule, ScheduleRow
from holesched.shop.model import Shop
from holesched.standards import threads
from holesched.tables import table
from holesched.units import LengthUnit

ASK, WATCH, REFUSED = Severity.ASK, Severity.WATCH, Severity.REFUSED


def _checks(text: str, thickness_mm: float | None = None) -> list[tuple[str, Severity]]:
    _, notes, _ = build_callout(text, "mm", thickness_mm)
    return [(note.code, note.severity) for note in notes if note.code.startswith("CHECK")]


@pytest.mark.parametrize(
    ("text", "thickness_mm", "expected"),
    [
        ("Ø6.8 ↧20, M8 ↧15", None, []),
        ("Ø6.8 THRU, M8 ↧15", None, []),
        ("Ø8 ↧20, M8 ↧15", None, [("CHECK-DRILL-OVER-THREAD", REFUSED)]),
        ("Ø9 ↧5, M8 ↧15", None, []),
        ("M8 STI ↧15, Ø8.4 ↧25", None, []),
        ("Ø6.8 ↧15, M8 ↧20", None, [("CHECK-THREAD-DEPTH", REFUSED)]),
        ("Ø6.8 ↧20, M8 THRU", None, [("CHECK-THREAD-DEPTH", REFUSED)]),
        ("Ø6.8 ↧16, M8 ↧15", None, [("CHECK-THREAD-ROOM", ASK)]),
        ("Ø6.8 ↧16.25, M8 ↧15", None, []),
        ("M8 ↧15 MAX DRILL 15.5", None, [("CHECK-THREAD-ROOM", ASK)]),
        ("M8 ↧15", 20.0, []),
        ("M8 ↧15", 15.0, [("CHECK-DEEPER-THAN-PART", ASK)]),
        ("M8 ↧20 DRILL DEPTH 30", 25.0, [("CHECK-DEEPER-THAN-PART", ASK)]),
        ("M8 ↧20 DRILL DEPTH 24.5", 25.0, []),
        ("Ø9 THRU, CBORE Ø15 ↧20", 20.0, [("CHECK-DEEPER-THAN-PART", REFUSED)]),
        ("M8 THRU", 20.0, []),
        ("Ø9 THRU, CBORE Ø9 ↧5", None, [("CHECK-OPENING-SMALL", REFUSED)]),
        ("Ø9 THRU, CSK Ø8 x 90°", None, [("CHECK-OPENING-SMALL", REFUSED)]),
        ("M8 THRU, CSK Ø8.4 x 90°", None, []),
        ("Ø20 ↧3 FAR SIDE, Ø9 THRU, CBORE Ø15 ↧5", None, []),
        ("Ø38 ↧3", None, []),  # a recess for a seal
        ("Ø38 ↧1", None, [("CHECK-DEPTH", ASK)]),
        ("Ø12 ↧2", None, [("CHECK-DEPTH", ASK)]),
        ("Ø7.8 DRILL THRU, Ø8 H7 REAM THRU", None, []),
        ("Ø7.8 DRILL ↧20, Ø8 H7 REAM ↧25", None, [("CHECK-REAM-DEPTH", REFUSED)]),
        ("Ø8.2 DRILL THRU, Ø8 H7 REAM THRU", None, [("CHECK-REAM-SMALL", REFUSED)]),
        ("Ø8 H7 REAM ↧20, Ø7 DRILL ↧10", None, [("CHECK-STEP-ORDER", ASK)]),
        ("Ø8 H7 REAM ↧10, Ø7 DRILL ↧20", None, []),
        ("M6x1-6H ↧12 / M5x0.8-6H ↧10", None, [("CHECK-TWO-THREADS", REFUSED)]),
        ("M20x1.5 ↧10, M8 ↧20", None, []),
        ("M8 ↧10 NEAR SIDE, M8 ↧10 FAR SIDE", None, []),
        ("Ø8 H7 +0.015/0", None, []),
        ("Ø8 H7 +0.018/0", None, [("CHECK-ZONE-LIMITS", ASK)]),
        ("Ø.500 H7 +.0007/-.0000", None, []),
        ("Ø0.25 THRU", None, [("CHECK-SIZE", ASK)]),
        ("Ø200 THRU", None, [("CHECK-SIZE", ASK)]),
        ("M8 ↧1", None, [("CHECK-DEPTH", ASK)]),
        ("M8 ↧24", None, [("CHECK-THREAD-LONG", WATCH)]),
        ("M8 ↧40", None, [("CHECK-THREAD-LONG", WATCH)]),
        ("M8 THRU", 24.0, [("CHECK-THREAD-LONG", WATCH)]),
        ("M8 THRU", 24.1, [("CHECK-THREAD-LONG", ASK)]),
        ("M8 THRU", None, []),
        ("Ø7 ↧20, M8 ↧15", None, [("CHECK-TAP-DRILL", ASK)]),
        ("Ø6.6 ↧20, M8 ↧15", None, [("CHECK-TAP-DRILL", ASK)]),
        ("Ø6.9 ↧20, M8 ↧15", None, []),
        ("M8 THRU, CBORE Ø11 ↧12", 28.0, []),
        ("M8 THRU, CBORE Ø11 ↧6, CBORE Ø11 ↧6 FAR SIDE", 28.0, []),
        ("Ø9 ↧12, M8 THRU", 28.0, []),
        ("Ø6.8 THRU, M8 ↧16", 50.0, []),
        ("1/4 NPT THRU", 50.0, []),
        ("Ø5 ↧10, Ø6 ↧12", None, [("CHECK-TWO-HOLES", ASK)]),
        ("Ø6 ↧10, Ø5 ↧12", None, []),
        ("DRILL Ø5 THRU, DRILL Ø8 THRU", None, []),
        ("Ø5 THRU, Ø6.8 THRU, M8 ↧10", None, [("CHECK-TWO-HOLES", ASK)]),
        ("Ø7.8 THRU, Ø8 H7 THRU", None, []),
        ("Ø3 ↧90", None, [("CHECK-HOLE-DEEP", WATCH)]),
        ("M8 THRU, Ø6 H7 THRU", 12.0, [("CHECK-LOST-IN-THREAD", ASK)]),
        ("M8 THRU, Ø6 H7 THRU FAR SIDE", 12.0, [("CHECK-LOST-IN-THREAD", ASK)]),
        ("M8 THRU, Ø5 THRU", 12.0, [("CHECK-LOST-IN-THREAD", ASK)]),
        ("Ø6.8 H7 THRU, M8 THRU", 12.0, [("CHECK-LOST-IN-THREAD", ASK)]),
        ("Ø7 H7 ↧25, M8 ↧12", 40.0, [("CHECK-BORE-IN-THREAD", ASK)]),
        ("M8 ↧12, Ø6 H7 ↧25", 40.0, []),  # a dowel under the thread
        ("Ø8.5 H7 ↧5, M8 ↧16", 40.0, []),  # a spigot over it
        ("M8 THRU, Ø4 PILOT THRU", 12.0, []),
        ("1/4 NPT THRU, Ø10 H7 THRU", 20.0, [("CHECK-LOST-IN-THREAD", ASK)]),
        ("Ø6 H7 THRU, Ø8 THRU", 12.0, [("CHECK-FINISHED-LOST", ASK)]),
        ("Ø6 H7 THRU, Ø8 H7 THRU", 12.0, [("CHECK-FINISHED-LOST", ASK)]),
        ("REAM Ø6 H7 THRU, DRILL Ø8 THRU", 12.0, [("CHECK-FINISHED-LOST", ASK)]),
        ("Ø6 +0.01/0 THRU, Ø8 THRU", 12.0, [("CHECK-FINISHED-LOST", ASK)]),
        ("DRILL Ø44 THRU, BORE Ø40 THRU", 30.0, [("CHECK-FINISHED-LOST", ASK)]),
        ("Ø6 H7 THRU, DRILL Ø8 ↧5", 12.0, []),
        ("Ø8 H7 THRU, Ø6 THRU", 12.0, [("CHECK-STEP-ORDER", ASK)]),
        ("M8 ↧20 BOTH SIDES", 30.0, [("CHECK-SIDES-MEET", ASK)]),
        ("M8 ↧15 BOTH SIDES", 30.0, [("CHECK-SIDES-MEET", ASK)]),
        ("M8 ↧12 BOTH SIDES", 30.0, []),  # the points of its drills do meet: asked where they are known
        ("M8 ↧20 BOTH SIDES", None, []),
        ("M20 ↧30 BOTH SIDES", 30.0, [("CHECK-DEEPER-THAN-PART", ASK)]),
        ("Ø10 ↧20, Ø16 ↧15 FAR SIDE", 30.0, [("CHECK-SIDES-MEET", ASK)]),
        ("Ø9 THRU, CBORE Ø15 ↧7 BOTH SIDES", 12.0, [("CHECK-SIDES-MEET", ASK)]),
        ("Ø9 ↧20, CBORE Ø15 ↧7 FAR SIDE", 40.0, [("CHECK-HEAD-NO-HOLE", ASK)]),
        ("M8 ↧16, SF Ø18 ↧1 FAR SIDE", 40.0, [("CHECK-HEAD-NO-HOLE", ASK)]),
        ("M8 ↧16, CSK Ø12 X 90° BOTH SIDES", 40.0, [("CHECK-HEAD-NO-HOLE", ASK)]),
        ("Ø9 ↧20 FAR SIDE, CBORE Ø15 ↧7 NEAR SIDE", 40.0, [("CHECK-HEAD-NO-HOLE", ASK)]),
        ("Ø9 ↧20, M8 ↧16 FAR SIDE, CBORE Ø15 ↧7 BOTH SIDES", 60.0, []),
        ("Ø9 ↧20, CBORE Ø15 ↧7 NEAR SIDE", None, []),
        ("Ø9 ↧20, CBORE Ø15 ↧7 FAR SIDE", None, [("CHECK-HEAD-NO-HOLE", ASK)]),
        ("Ø9 ↧20, CBORE Ø15 ↧20 FAR SIDE", 40.0, [("CHECK-SIDES-MEET", ASK)]),
        ("Ø9 THRU, CBORE Ø15 ↧5 BOTH SIDES", 12.0, []),
        ("Ø9 THRU, CSK Ø18 X 90° BOTH SIDES", 30.0, []),
    ],
)
def test_a_hole_against_itself(text: str, thickness_mm: float | None, expected: list[tuple[str, Severity]]) -> None:
    assert _checks(text, thickness_mm) == expected


@pytest.mark.parametrize(
    ("text", "unit", "asked"),
    [
        ("Ø8 ±0.001 THRU", "mm", True),
        ("Ø8 +0.001/0 THRU", "mm", True),
        ("Ø8 H5 THRU", "mm", True),
        ("REAM Ø8 H4 THRU", "mm", True),
        ("Ø8 H3 THRU", "mm", True),
        ("Ø8 JS4 THRU", "mm", True),
        ("Ø40 ±0.001 THRU", "mm", True),
        ("Ø8 H6 THRU", "mm", False),
        ("Ø8 K6 THRU", "mm", False),
        ("Ø8 H7 THRU", "mm", False),
        ("Ø40 H6 THRU", "mm", False),
        ("Ø8 +0.009/0 THRU", "mm", False),
        ("Ø.2500 +.0002/-.0000 THRU", "in", True),
        ("Ø.2500 +.0005/-.0000 THRU", "in", False),
        ("Ø.250 RC1 THRU", "in", True),
        ("Ø.250 RC2 THRU", "in", False),
        ("Ø.500 RC2 THRU", "in", False),
    ],
)
def test_limits_that_no_reamer_holds(text: str, unit: LengthUnit, asked: bool) -> None:
    """ISO 286-1:2010, Table 1: IT6 is 9 um from 6 to 10 mm, 16 um from 30 to 50 mm. That a reamer holds IT6 at best, and
    honing is asked below: common practice, no source."""
    hole, notes, _ = build_callout(text, unit, 12.0)
    assert hole is not None
    assert [note.code for note in notes if note.code == "CHECK-LIMITS-CLOSE"] == ["CHECK-LIMITS-CLOSE"] * asked
    assert any(note.is_question for note in notes) == asked


def test_a_close_grade_is_read_and_the_question_has_the_figures() -> None:
    """ISO 286-1:2010, Table 1: IT4 is 4 um from 6 to 10 mm."""
    _, notes, _ = build_callout("Ø8 H4 THRU", "mm", 12.0)
    (note,) = [note for note in notes if note.is_question]
    assert note.message.startswith("H4 of Ø8 mm: limits 4 µm apart are closer than IT6 (9 µm)")
    assert "honed, ground" in note.suggestion


def test_a_stated_drill_is_asked_about_once_in_a_job() -> None:
    """Where tools are planned their choice asks, with the oversize that the drill cuts."""
    (found,) = _built(("Ø7.2 ↧20, M8 ↧15", 0.0, 0.0)).types
    assert [note.code for note in found.notes if note.code.startswith("CHECK")] == []


def test_every_check_says_what_it_is_for() -> None:
    assert all(check.__doc__ for check in (*CHECKS, *CHECKS_WITHOUT_TOOLS))


@pytest.mark.parametrize(
    ("material", "length_mm", "asked"),
    [("C45", 16.0, []), ("C45", 16.1, [WATCH]), ("EN AW-6082", 20.0, []), ("EN AW-6082", 20.1, [WATCH]), ("", 18.0, [])],
)
def test_how_long_a_thread_may_be_depends_on_the_material(material: str, length_mm: float, asked: list[Severity]) -> None:
    """2 diameters in steel, 2.5 in aluminium: common practice, no source."""
    row = ScheduleRow(CellRef("job.csv", "job", 2, 2), "A", "M8 THRU", "mm", material=material, thickness_mm=length_mm)
    (found,) = build_holes(Schedule("job.csv", "job", "0", JobHeader(), (row,), (), 1), ()).types
    assert [note.severity for note in found.notes if note.code == "CHECK-THREAD-LONG"] == asked


@pytest.mark.parametrize(
    ("text", "expected", "depth_mm"),
    [
        ("M6 THRU ONE WALL", [("CALLOUT-ONE-WALL", REFUSED)], None),
        ("M6 ↧6 THRU ONE WALL", [("CALLOUT-WALLS", WATCH)], 6.0),
        ("M6 THRU ONE WALL ↧6", [("CALLOUT-WALLS", WATCH)], 6.0),
        ("Ø5 THRU TO Ø20 BORE", [("CALLOUT-THROUGH-TO", REFUSED)], None),
        ("Ø5 ↧30 THRU INTO Ø20", [("CALLOUT-WALLS", WATCH)], 30.0),
        ("Ø5 THRU FROM FAR SIDE", [], None),
        ("Ø5 THRU ALL", [("CALLOUT-WALLS", WATCH)], None),
    ],
)
def test_through_what(text: str, expected: list[tuple[str, Severity]], depth_mm: float | None) -> None:
    """The part's thickness, 100 mm here, says nothing about one of its walls, nor how far away another hole is."""
    hole, notes, _ = build_callout(text, "mm", 100.0)
    assert [(note.code, note.severity) for note in notes if note.severity is not Severity.ASSUMED] == expected
    assert hole is not None
    assert hole.features[0].depth.mm == depth_mm


def _built(*rows: tuple[str, float | None, float | None], thickness_mm: float | None = None, tag: str = "H") -> BuiltHoles:
    placed = tuple(
        ScheduleRow(CellRef("job.csv", "job", number, 2), f"{tag}{number}", text, "mm", None, x, y)
        for number, (text, x, y) in enumerate(rows, start=1)
    )
    header = JobHeader(thickness_mm=thickness_mm)
    return build_holes(Schedule("job.csv", "job", "0", header, placed, (), len(placed)), ())


def _between(built: BuiltHoles) -> list[tuple[str, Severity]]:
    return [(note.code, note.severity) for note in built.notes if note.code.startswith("CHECK")]


@pytest.mark.parametrize(
    ("first", "second", "apart_mm", "expected"),
    [
        ("Ø10 THRU", "Ø6 THRU", 20.0, []),
        ("Ø10 THRU", "Ø6 THRU", 8.0, [("CHECK-WALLS-MEET", ASK)]),
        ("Ø10 THRU", "Ø6 THRU", 7.9, [("CHECK-WALLS-MEET", ASK)]),
        ("Ø10 THRU", "Ø6 THRU", 9.0, [("CHECK-WEB-THIN", WATCH)]),
        ("Ø10 THRU", "Ø6 THRU", 11.0, []),
        ("Ø6.6 THRU CBORE Ø11 ↧6", "Ø6.6 THRU CBORE Ø11 ↧6", 11.0, []),
        ("Ø6.6 THRU CBORE Ø11 ↧6", "Ø6.6 THRU CBORE Ø11 ↧6", 10.5, [("CHECK-OPENINGS-MEET", WATCH)]),
        ("Ø6.6 THRU CBORE Ø11 ↧6", "M5 THRU", 7.9, [("CHECK-OPENINGS-MEET", ASK)]),
        ("Ø6.6 THRU CBORE Ø16 ↧6", "M5 THRU", 10.0, [("CHECK-OPENINGS-MEET", ASK)]),
        ("Ø6.6 THRU CSK Ø16 x 90°", "M5 ↧10 FAR SIDE", 10.0, []),
        ("Ø6.6 THRU CSK Ø16 x 90° FAR SIDE", "M5 ↧10 FAR SIDE", 10.0, [("CHECK-OPENINGS-MEET", ASK)]),
        ("Ø6.6 THRU SF Ø16 ↧1", "M5 THRU", 10.0, []),
        ("Ø10 ↧10", "Ø10 ↧10 FAR SIDE", 5.0, []),
        ("Ø10 ↧15", "Ø10 ↧15 FAR SIDE", 5.0, [("CHECK-WALLS-MEET", ASK)]),
        ("Ø10 THRU", "Ø10 ↧10 FAR SIDE", 5.0, [("CHECK-WALLS-MEET", ASK)]),
        ("Ø10 THRU", "Ø6 THRU", 0.0, [("CHECK-SAME-PLACE", ASK)]),
        ("M6 ↧10", "M6 ↧10 FAR SIDE", 0.0, []),
        ("Ø6.6 THRU", "CBORE Ø11 ↧6", 0.0, [("CHECK-SAME-AXIS", WATCH)]),
        ("Ø5 ↧20", "M6 ↧12", 0.0, [("CHECK-SAME-AXIS", WATCH)]),
    ],
)
def test_a_hole_against_its_neighbour(
    first: str, second: str, apart_mm: float, expected: list[tuple[str, Severity]]
) -> None:
    built = _built((first, 0.0, 0.0), (second, apart_mm * 0.6, apart_mm * 0.8), thickness_mm=25.0)
    assert _between(built) == expected
    assert all(note.ref == CellRef("job.csv", "job", 2, 2) for note in built.notes)


def test_the_same_row_twice_is_asked_once() -> None:
    built = _built(*[("Ø10 THRU", 50.0, 0.0)] * 2, ("Ø10 THRU", 90.0, 0.0))
    (note,) = built.notes
    assert (note.code, note.severity) == ("CHECK-SAME-PLACE", ASK)
    assert "hole H1 and hole H2 are at one place (X 50, Y 0)" in note.message


def test_many_pairs_of_two_types_are_one_question_with_their_number() -> None:
    rows = [("Ø10 THRU", 100.0 * n, 0.0) for n in range(5)] + [("Ø6 THRU", 100.0 * n + 5, 0.0) for n in range(5)]
    (note,) = [note for note in _built(*rows).notes if note.code == "CHECK-WALLS-MEET"]
    assert "5 pairs of these holes are like this." in note.message


def test_an_opening_without_its_hole_is_asked_unless_its_hole_is_in_another_row() -> None:
    def severity(built: BuiltHoles) -> Severity:
        notes = [note for each in built.types for note in each.notes if note.code == "CALLOUT-HOLE-ELSEWHERE"]
        return notes[0].severity

    assert severity(_built(("CBORE Ø11 ↧6", 0.0, 0.0))) is ASK
    assert severity(_built(("Ø6.6 THRU", 0.0, 0.0), ("CBORE Ø11 ↧6", 0.0, 0.0))) is WATCH
    assert severity(_built(("SF Ø25 ↧1", 0.0, 0.0))) is WATCH


def _alarms(*texts: str) -> list[Note]:
    rows = [(text, 100.0 * n, 0.0) for n, text in enumerate(texts)]
    return [note for note in _built(*rows).notes if note.code == "CHECK-LOOKALIKE"]


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("M5 THRU", "#10-32 UNF THRU"),
        ("M8 THRU", "5/16-18 UNC THRU"),
        ("G 1/4 THRU", "1/4 NPT THRU"),
        ("M10x1 THRU", "M10 THRU"),
        ("1/4-20 UNC THRU", "1/4-28 UNF THRU"),
        ("1/4-20 UNC THRU", "1/4 BSW THRU"),
        ("M8 THRU", "M8 STI THRU"),
    ],
)
def test_look_alike_threads_raise_an_alarm(first: str, second: str) -> None:
    (note,) = _alarms(first, second)
    assert note.severity is WATCH
    assert "holes H1" in note.message
    assert "holes H2" in note.message


def test_threads_that_nobody_mistakes_raise_none() -> None:
    assert _alarms("M5 THRU", "M8 THRU", "1/4-20 UNC THRU", "M8-6G THRU") == []


def test_every_name_of_the_look_alike_table_is_a_thread_of_the_register() -> None:
    for row in table("thread_lookalikes.csv").rows:
        for name in (row["first"], row["second"]):
            found = threads.recognise(name, 0, "in")
            assert found is not None, name
            spec = threads.complete(found[0]).spec
            assert spec is not None
            assert spec.name == name


@pytest.mark.parametrize(
    ("text", "told"), [("Ø8 REAM THRU", True), ("Ø8 H7 REAM THRU", False), ("Ø8 +0.01/0 REAM", False), ("Ø8 THRU", False)]
)
def test_a_reamed_hole_without_limits_is_watched(text: str, told: bool) -> None:
    _, notes, _ = build_callout(text, "mm", 20.0)
    found = [(note.code, note.severity) for note in notes if note.severity is WATCH]
    assert found == ([("REAM-LIMITS-UNSTATED", WATCH)] if told else [])


@pytest.mark.parametrize("text", ["Ø5 ↧25, M6 ↧22", "M6 ↧25", "Ø10 ↧25", "M6 ↧16 DRILL DEPTH 25"])
def test_a_hole_that_comes_out_is_asked_about_once(text: str) -> None:
    """Its steps, and the point of its drill with them: one question, of the deepest."""
    (hole,) = explain(text, Shop(), ReadOptions("mm", "C45", 20.0)).holes
    asked = [note for note in hole.notes if note.code in ("CHECK-DEEPER-THAN-PART", "DEPTH-BREAKS-THROUGH")]
    assert [note.code for note in asked] == ["CHECK-DEEPER-THAN-PART"]
    assert "25 mm deep" in asked[0].message


@pytest.mark.parametrize("text", ["M8 ↧16 FAR SIDE, Ø9 THRU", "M8 ↧16, FAR SIDE Ø9 THRU"])
def test_a_wider_hole_through_leaves_no_thread_on_either_side(text: str) -> None:
    _, notes, _ = build_callout(text, "mm", 30.0)
    assert "CHECK-DRILL-OVER-THREAD" in {note.code for note in notes}
    assert "CHECK-DRILL-OVER-THREAD" not in {note.code for note in build_callout("M8 ↧16 FAR SIDE, Ø9 ↧5", "mm", 30.0)[1]}


@pytest.mark.parametrize(
    ("text", "asked"),
    [
        ("2X M6 ↧12; 2X Ø6 H7 ↧10", True),
        ("CBORE Ø11 ↧8, M8 ↧10", True),
        ("Ø14 ↧5, M12x1.5 ↧18", False),
        ("M8 ↧16, Ø9 ↧2", False),
    ],
)
def test_a_wide_hole_that_leaves_next_to_no_thread_is_asked(text: str, asked: bool) -> None:
    """2 mm of thread are left in the first two, 13 and 14 mm in the others."""
    codes = {note.code for note in build_callout(text, "mm", 40.0)[1]}
    assert ("CHECK-THREAD-LEFT" in codes) is asked
