"""Rows become hole types: grouped, counted, every one accounted for."""

from __future__ import annotations

import math
import time
from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from holesched.callouts.model import Kind
from holesched.features.build import build_callout, build_holes
from holesched.features.model import BuiltHoles
from holesched.features.quantities import on_circle
from holesched.notes import CellRef, Note, Severity
from holesched.schedule.model import JobHeader, Schedule, ScheduleRow


def _row(number: int, callout: str, tag: str = "", **more: Any) -> ScheduleRow:
    return ScheduleRow(CellRef("job.xlsx", "Holes", number, 3), tag, callout, more.pop("unit", "mm"), **more)


def _built(rows: Sequence[ScheduleRow], **header: Any) -> BuiltHoles:
    schedule = Schedule("job.xlsx", "Holes", "0", JobHeader(**header), tuple(rows), (), len(rows))
    return build_holes(schedule, ())


def _codes(notes: Sequence[Note]) -> list[str]:
    return sorted(note.code for note in notes)


def test_rows_with_equal_holes_are_one_type_however_they_are_spelled() -> None:
    rows = [_row(2, "M6x1-6H ↧12", "A1"), _row(3, "Ø10 THRU", "B1"), _row(4, "M6 x 1.0 - 6H 12 DEEP", "A2")]
    built = _built(rows)
    assert [(each.letter, [member.tag for member in each.members]) for each in built.types] == [
        ("A", ["A1", "A2"]),
        ("B", ["B1"]),
    ]
    assert built.types[0].quantity == 2
    assert built.unread == ()


def test_material_and_thickness_part_the_types() -> None:
    rows = [_row(2, "M6 THRU"), _row(3, "M6 THRU", material="C45"), _row(4, "M6 THRU", thickness_mm=5.0)]
    built = _built(rows, material="AlMg3", thickness_mm=20.0)
    assert [(each.material, each.thickness_mm) for each in built.types] == [("AlMg3", 20.0), ("C45", 20.0), ("AlMg3", 5.0)]


def test_uses_that_change_the_work_part_the_types() -> None:
    assert len(_built([_row(2, "Ø16 ↧25"), _row(3, "Ø16 ↧25 FLAT BOTTOM")]).types) == 2


def test_letters_go_on_after_z() -> None:
    built = _built([_row(n, f"Ø{3 + n / 10:g} THRU") for n in range(2, 32)])
    assert [each.letter for each in built.types][25:28] == ["Z", "AA", "AB"]


def test_what_a_standard_supplies_is_assumed_and_not_asked() -> None:
    (hole_type,) = _built([_row(2, "M8")]).types
    supplied = ["CALLOUT-THROUGH-ASSUMED", "THREAD-CLASS-ASSUMED", "THREAD-HAND-ASSUMED", "THREAD-PITCH-ASSUMED"]
    assert _codes(hole_type.notes) == supplied
    assert {note.severity for note in hole_type.notes} == {Severity.ASSUMED}
    assert all(note.ref is not None and note.ref.cell == "C2" and note.text == "M8" for note in hole_type.notes)
    assert all(note.cite is not None for note in hole_type.notes)


@pytest.mark.parametrize("text", ["M8x1.25-6H RH \u21a716", "M8x1.25-6H LH \u21a716"])
def test_a_written_hand_is_not_assumed(text: str) -> None:
    (hole_type,) = _built([_row(2, text)]).types
    assert "THREAD-HAND-ASSUMED" not in _codes(hole_type.notes)


def test_a_right_hand_written_or_not_is_one_type() -> None:
    assert len(_built([_row(2, "M8 RH THRU"), _row(3, "M8 THRU"), _row(4, "M8 LH THRU")]).types) == 2


def test_what_no_standard_supplies_is_never_assumed() -> None:
    """Common practice is no standard: it may watch, tell or ask, but nobody initials it as assumed."""
    texts = (
        "5",
        "(4) M6",
        "Ø5 +0.1",
        "6.6 THRU",
        "M8",
        "Ø10",
        "CLEARANCE FOR M8",
        "M8 SHCS CBORE",
        "1/4-20",
        "G 1/4",
        "SF Ø20",
    )
    for text in texts:
        for note in build_callout(text, "mm")[1]:
            assert note.severity is not Severity.ASSUMED or (note.cite is not None and note.cite.standard), (text, note)


def test_an_assumption_is_said_once_a_type() -> None:
    (hole_type,) = _built([_row(2, "M8"), _row(3, "M8x1.25")]).types
    assert _codes(hole_type.notes).count("THREAD-CLASS-ASSUMED") == 1


def test_a_refused_row_is_unread_and_counted() -> None:
    built = _built([_row(2, "M8x1.5-6H", "A", quantity=4), _row(3, "TBD", "B1, B2")])
    assert built.types == ()
    assert [(row.tag, row.count, row.text) for row in built.unread] == [("A", 4, "M8x1.5-6H"), ("B1, B2", 2, "TBD")]
    assert [note.ref.cell for row in built.unread for note in row.notes if note.ref] == ["C2", "C3"]
    assert all(note.severity is Severity.REFUSED for row in built.unread for note in row.notes)


@pytest.mark.parametrize(("callout", "holes"), [("4X M6 @ 30°", 4), ("2X M8 FINE", 2), ("M8x1.5 3 PLCS", 3), ("M8 FINE", 1)])
def test_a_refused_callout_keeps_the_count_that_was_read(callout: str, holes: int) -> None:
    assert [row.count for row in _built([_row(2, callout, "A")]).unread] == [holes]


def test_unread_rows_of_one_text_each_keep_their_own_cell() -> None:
    built = _built([_row(2, "TBD"), _row(3, "M6"), _row(4, "TBD")])
    assert [row.ref.row for row in built.unread] == [2, 4]
    assert [note.ref.row for row in built.unread for note in row.notes if note.ref] == [2, 4]


def test_a_deleted_row_stands_for_no_hole() -> None:
    (row,) = _built([_row(2, "DELETED", quantity=4)]).unread
    assert row.count == 0
    assert [note.severity for note in row.notes] == [Severity.TOLD]


def test_inch_sizes_in_a_schedule_that_says_millimetres_are_asked() -> None:
    assumed = _built([_row(2, "Ø.250 THRU")]).types[0].notes
    asked = _built([_row(2, "Ø.250 THRU")], unit_stated=True).types[0].notes
    assert [note.severity for note in assumed if note.code == "CALLOUT-INCH-ASSUMED"] == [Severity.ASSUMED]
    assert [note.severity for note in asked if note.code == "CALLOUT-INCH-ASSUMED"] == [Severity.ASK]


def test_references_are_followed_and_asked() -> None:
    rows = [_row(2, "M6 ↧12", "A"), _row(3, "Ø9 THRU", "B"), _row(4, "DO.", "C"), _row(5, "SAME AS A", "D")]
    built = _built(rows)
    assert [[member.tag for member in each.members] for each in built.types] == [["A", "D"], ["B", "C"]]
    found = [(note.code, note.severity, note.assumed, note.ref.row) for note in built.notes if note.ref]
    assert found == [
        ("ROW-REFERENCE", Severity.ASK, "Ø9 THRU", 4),
        ("ROW-REFERENCE", Severity.ASK, "M6 ↧12", 5),
    ]


def test_a_reference_that_leads_nowhere_is_refused() -> None:
    built = _built([_row(2, "DO.", "A"), _row(3, "SAME AS Q", "B"), _row(4, "SEE NOTE 7", "C")])
    assert [note.code for row in built.unread for note in row.notes] == ["ROW-DITTO", "ROW-SAME-AS", "ROW-ELSEWHERE"]


@pytest.mark.parametrize(
    ("rows", "counts", "codes"),
    [
        ([("4X M6", {})], [4], []),
        ([("4X M6", {"quantity": 4})], [4], []),
        ([("M6", {"quantity": 4})], [4], []),
        ([("M6", {"tag": "A1-A4"})], [4], []),
        ([("4X M6", {"tag": "A1-A4"})], [4], []),
        ([("M6", {})], [1], []),
        ([("4X M6", {"quantity": 3})], [3], ["COUNT-DIFFERS"]),
        ([("4X M6", {"tag": "A1-A3"})], [4], ["COUNT-DIFFERS"]),
        ([("M6", {"tag": "A1-A3", "quantity": 4})], [4], ["COUNT-DIFFERS"]),
        ([("M6 TYP", {})], [1], ["COUNT-TYPICAL"]),
        ([("M6 TYP", {"quantity": 6})], [6], []),
        ([("4X M6", {"x_mm": 0.0, "y_mm": 0.0})], [4], ["COUNT-PLACES"]),
        ([("4X M6", {"x_mm": float(x), "y_mm": 0.0}) for x in (0, 50, 100, 150)], [1, 1, 1, 1], []),
        ([("4X M6", {"x_mm": float(x), "y_mm": 0.0, "quantity": 1}) for x in (0, 50, 100, 150)], [1, 1, 1, 1], []),
        ([("4X M6", {"tag": f"A{n}"}) for n in (1, 2, 3, 4)], [1, 1, 1, 1], []),
        ([("2X M6", {"tag": tag}) for tag in ("A1", "A2", "B1", "B2")], [1, 1, 1, 1], []),
        ([("4X M6", {"x_mm": float(x), "y_mm": 0.0}) for x in (0, 50, 100)], [1, 1, 1], ["COUNT-ROWS"] * 3),
        ([("4X M6", {"tag": tag}) for tag in ("A", "B")], [4, 4], []),
    ],
)
def test_quantities(rows: list[tuple[str, dict[str, Any]]], counts: list[int], codes: list[str]) -> None:
    """Quantity column, the callout's own count, tags and rows agree, or it is asked."""
    built = _built([_row(number, text, **dict(more)) for number, (text, more) in enumerate(rows, start=2)])
    (hole_type,) = built.types
    assert [member.count for member in hole_type.members] == counts
    assert [note.code for note in built.notes if note.code.startswith("COUNT")] == codes
    assert all(note.severity is Severity.ASK and note.ref is not None for note in built.notes)


def test_a_bolt_circle_about_a_known_centre_is_set_out() -> None:
    built = _built([_row(2, "6X M8 ↧16 EQ SP ON Ø80 BC", x_mm=100.0, y_mm=50.0)])
    (member,) = built.types[0].members
    assert member.count == 6
    assert member.places_mm[0] == (140.0, 50.0)
    assert len(set(member.places_mm)) == 6
    assert all(math.isclose(math.dist(place, (100, 50)), 40, abs_tol=1e-6) for place in member.places_mm)
    assert [(note.code, note.severity) for note in built.notes] == [("PATTERN-FIRST-ANGLE", Severity.WATCH)]


@given(st.integers(2, 60), st.floats(1, 500))
def test_places_on_a_circle_are_equally_far_apart(count: int, diameter_mm: float) -> None:
    places = on_circle((0.0, 0.0), diameter_mm, count)
    chord = diameter_mm * math.sin(math.pi / count)
    gaps = [math.dist(places[i], places[i - 1]) for i in range(count)]
    assert all(math.isclose(gap, chord, abs_tol=1e-5) for gap in gaps)


def test_the_deviation_of_a_depth_by_what_is_left_needs_the_thickness() -> None:
    text = "Ø9 THRU, C'BORE Ø15 TO LEAVE 12"
    known = _built([_row(2, text)], thickness_mm=20.0).types[0]
    assert known.hole.features[1].depth.mm == 8.0
    assert "DEPTH-FROM-THICKNESS" in _codes(known.notes)
    open_ = _built([_row(2, text)]).types[0]
    assert [note.severity for note in open_.notes if note.code == "DEPTH-BY-THICKNESS"] == [Severity.REFUSED]


def test_the_drilled_depth_without_a_diameter_goes_with_the_thread() -> None:
    hole, notes, _ = build_callout("M4x0.7-6H ↧8 MAX DRILL 10.5", "mm")
    assert hole is not None
    (tap,) = hole.features
    assert tap.pilot_depth is not None
    assert (tap.pilot_depth.mm, tap.pilot_depth.most) == (10.5, True)
    assert "CALLOUT-DRILL-LIMIT" in _codes(notes)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Ø10", Kind.DRILL),
        ("Ø10 ±0.1", Kind.DRILL),
        ("Ø10 H11", Kind.DRILL),
        ("Ø8 H7", Kind.REAM),
        ("Ø8 H7 BORE", Kind.BORE),
        ("Ø8 H7 DRILL", Kind.DRILL),
        ("Ø50 H7", Kind.BORE),
        ("Ø8 +0.02/0", Kind.REAM),
        ("Ø25.00/25.02 BORE", Kind.BORE),
        ("Ø.2500/.2505", Kind.REAM),
    ],
)
def test_the_process_follows_from_the_tolerance_only_where_none_is_written(text: str, kind: Kind) -> None:
    """Common practice, no source: IT11 and coarser is drilled, finer is reamed, or bored above the largest reamer."""
    hole, _, _ = build_callout(text, "mm")
    assert hole is not None
    assert hole.features[0].kind is kind


def test_ten_thousand_unlike_rows_take_less_than_two_seconds() -> None:
    rows = [
        _row(n, f"M8x1.25-6H ↧{10 + n % 30}.{n}", f"A{n}", x_mm=20.0 * (n % 100), y_mm=20.0 * (n // 100))
        for n in range(1, 10_001)
    ]
    begin = time.process_time()
    built = _built(rows)
    assert time.process_time() - begin < 4.0, "twice the target of two seconds, for busy machines"
    assert sum(each.quantity for each in built.types) == 10_000


@given(st.permutations(["M6 ↧12", "Ø10 THRU", "TBD", "M6 ↧12 ", "4X Ø5", "asdf", "DO.", "SAME AS A1"]))
def test_no_row_is_lost_in_any_order(texts: list[str]) -> None:
    built = _built([_row(number, text, f"A{number}") for number, text in enumerate(texts, start=2)])
    placed = [member.ref for each in built.types for member in each.members] + [row.ref for row in built.unread]
    assert sorted(ref.row for ref in placed) == list(range(2, 2 + len(texts)))


def test_holes_of_one_size_are_counted_whatever_their_depth() -> None:
    """The same drills make them; a countersink or counterbore over them changes nothing."""
    texts = ("4X M8 ↧16", "6X M8 THRU", "2X M8x1 THRU", "3X ⌀9 THRU ⌴ ⌀15 ↧9", "5X ⌀9 THRU")
    built = _built([_row(number, text) for number, text in enumerate(texts, start=2)])
    assert [each.of_its_size for each in built.types] == [10, 10, 2, 8, 8]
