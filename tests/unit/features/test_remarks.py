"""Remarks beside a callout about the hole: asked, never followed or ignored in silence. Common practice, no source."""

from __future__ import annotations

import pytest

from holesched.features.build import build_holes
from holesched.notes import CellRef, Severity
from holesched.schedule.model import JobHeader, Schedule, ScheduleRow


def _asked(callout: str, remark: str) -> list[str]:
    rows = (ScheduleRow(CellRef("a.xlsx", "Holes", 6, 2), "A", callout, "mm", 1, note=remark),)
    header = JobHeader(material="C45", thickness_mm=30, unit="mm", unit_stated=True)
    built = build_holes(Schedule("a.xlsx", "Holes", "", header, rows, (), 1), ())
    return [note.text for note in built.notes if note.code == "REMARK-OF-HOLE" and note.severity is Severity.ASK]


@pytest.mark.parametrize(
    ("callout", "remark"),
    [
        ("Ø40 +0.05/0", "bis 10 tief"),
        ("Ø40", "10 DEEP"),
        ("M6", "tap 12 deep"),
        ("Ø10", "far side"),
        ("Ø10", "beidseitig"),
        ("Ø10 THRU", "Sackloch"),
        ("Ø10 ↧20", "durchgehend"),
        ("M8 ↧16", "LH"),
        ("M8 ↧16", "wire insert"),
        ("M5x0.8-6H ↧10", "Draht 1,5d vorsehen"),
        ("M5x0.8-6H ↧10", "coil 2D"),
        ("Ø8 H7 ↧16", "for Ø10 pin"),
        ("Ø10 THRU", "CBORE Ø18 ↧9"),
        ("Ø5 THRU", "tapped"),
        ("Ø10 ↧20", "flat bottom"),
        ("Ø10", "深さ 12"),
        ("M8 ↧16", "angled 15°"),
    ],
)
def test_a_remark_that_adds_to_the_hole_is_asked(callout: str, remark: str) -> None:
    """The question stands at the callout's cell and shows what is written there."""
    assert _asked(callout, remark) == [callout]


@pytest.mark.parametrize(
    ("callout", "remark"),
    [
        ("M30 THRU", "durchgehend"),
        ("M30", "durchgehend"),
        ("M8 ↧20", "Sackloch, 20 tief"),
        ("M8 ↧20", "tapped hole for eye bolt"),
        ("Ø8 H7 ↧16", "dowels"),
        ("Ø8 H7 ↧16", "for Ø8 pin, reamed"),
        ("Ø6.6 THRU ⌴ Ø11 ↧6.8", "M6 socket head cap screws"),
        ("Ø6.6 THRU ⌴ Ø11 ↧6.8", "counterbore for M6 screws"),
        ("M8 LH ↧16", "left hand"),
        ("M8 ↧16", "valve ports"),
        ("M8 ↧16", "detail D, zone 4 D"),
        ("M8 ↧16", ""),
        ("M8 ↧16", "⌖ Ø0.1 Ⓜ A B C"),
        ("Ø8 H7 ↧16", "POS Ø0.1 A, Ra 1.6"),
    ],
)
def test_a_remark_that_says_the_same_or_nothing_of_the_hole_is_not(callout: str, remark: str) -> None:
    """Uses and repetitions stay what they are: remarks on the sheet."""
    assert _asked(callout, remark) == []


@pytest.mark.parametrize(("quantity", "asked"), [(3, []), (None, ["CALLOUT-COUNT-UNWRITTEN"])])
def test_holes_without_their_number_have_the_rows(quantity: int | None, asked: list[str]) -> None:
    row = ScheduleRow(CellRef("a.xlsx", "Holes", 6, 2), "A", "M16 HOLES THRU", "mm", quantity)
    header = JobHeader(material="C45", thickness_mm=30, unit="mm", unit_stated=True)
    (made,) = build_holes(Schedule("a.xlsx", "Holes", "", header, (row,), (), 1), ()).types
    assert [note.code for note in made.notes if note.is_question] == asked
    assert made.quantity == (quantity or 1)


def _insert(remark: str, callout: str = "1/4-28 STI THRU") -> tuple[list[str], float | None, str]:
    """The codes of the questions, the insert's length in diameters, and the note on where it was read."""
    rows = (ScheduleRow(CellRef("a.xlsx", "Holes", 6, 2), "A", callout, "in", 1, note=remark),)
    header = JobHeader(material="6061", thickness_mm=12.7, unit="in", unit_stated=True)
    built = build_holes(Schedule("a.xlsx", "Holes", "", header, rows, (), 1), ())
    (made,) = built.types
    notes = (*built.notes, *made.notes)
    told = next((note.message for note in notes if note.code == "INSERT-LENGTH-BESIDE"), "")
    return [note.code for note in notes if note.is_question], made.hole.features[0].insert_diameters, told


@pytest.mark.parametrize("remark", ["1.5D", "insert 1,5 x D", ".375 LONG", "0.375 LG", "9.5 mm long"])
def test_an_inserts_length_beside_its_callout_is_read(remark: str) -> None:
    """.375 in and 9.5 mm are 1.5 times 1/4 in (ASME B18.29.1, nominal lengths 1 to 3 diameters)."""
    asked, diameters, told = _insert(remark)
    assert (asked, diameters) == ([], 1.5)
    assert f"'{remark}'" in told


@pytest.mark.parametrize("remark", ["deburr", "", "4D", ".3 LONG"])
def test_a_remark_without_a_length_that_inserts_have_leaves_it_asked(remark: str) -> None:
    asked, diameters, told = _insert(remark)
    assert "CALLOUT-INSERT-LENGTH" in asked
    assert (diameters, told) == (None, "")


def test_a_remark_of_length_and_more_is_still_asked() -> None:
    asked, diameters, _ = _insert("1.5D, far side")
    assert (asked, diameters) == (["REMARK-OF-HOLE"], 1.5)


def test_the_callouts_own_length_stands() -> None:
    _, diameters, told = _insert("1.5D", "1/4-28 STI 2D THRU")
    assert (diameters, told) == (2.0, "")
