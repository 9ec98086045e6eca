"""Depths that no usual tool reaches are asked, once a hole, with the figures. The reaches: common practice, no source."""

from __future__ import annotations

import pytest

from holesched.notes import Note
from holesched.pipeline import explain
from holesched.schedule.model import ReadOptions
from holesched.shop.model import Preferences, Shop


def notes(callout: str, thickness_mm: float, material: str = "C45") -> dict[str, Note]:
    (hole,) = explain(callout, Shop(), ReadOptions("mm", material, thickness_mm)).holes
    found = [note for note in hole.notes if note.code in ("TOOL-REACH", "HOLE-DEEP", "MILL-REACH", "THREAD-MILL-DEEP")]
    assert len({note.code for note in found}) == len(found)
    return {note.code: note for note in found}


@pytest.mark.parametrize(
    ("callout", "thickness_mm", "codes"),
    [
        ("Ø10 ↧70", 150.0, set()),
        ("Ø10 ↧100", 150.0, {"HOLE-DEEP"}),
        ("Ø10 ↧150", 200.0, {"HOLE-DEEP"}),  # 15 diameters
        ("Ø10 ↧151", 200.0, {"TOOL-REACH"}),
        ("Ø1 THRU", 40.0, {"TOOL-REACH"}),
        ("Ø10 H7 ↧160", 200.0, {"TOOL-REACH"}),
        ("Ø40 ↧120", 200.0, {"MILL-REACH"}),  # 6 diameters of the end mill of 20
        ("Ø40 ↧121", 200.0, {"TOOL-REACH"}),
        ("Ø50 THRU", 3000.0, {"TOOL-REACH"}),
    ],
)
def test_how_deep_a_tool_reaches(callout: str, thickness_mm: float, codes: set[str]) -> None:
    assert set(notes(callout, thickness_mm)) == codes


def test_a_thread_milled_deeper_than_its_cutter_reaches() -> None:
    """40 mm with a cutter of 6 mm are 6.7 of its diameters; 16 mm are tapped."""
    asked = notes("M8 ↧40", 60.0, "42CrMo4")["TOOL-REACH"]
    assert asked.is_question
    assert "40 mm deep, 6.7 of its diameters" in asked.message
    assert "shorter thread" in asked.suggestion
    assert asked.ref is not None
    assert notes("M8 ↧16", 60.0, "42CrMo4") == {}


@pytest.mark.parametrize(
    ("workpiece", "process"),
    [
        ("EN-GJL-250", "cut"),
        ("EN-GJS-500-7", "cut"),
        ("CuZn39Pb3", "cut"),
        ("C45", "thread mill"),
        ("EN AW-6082", "thread mill"),
    ],
)
def test_only_long_chips_are_too_much_for_a_tap_in_a_deep_blind_hole(workpiece: str, process: str) -> None:
    """Common practice, no source: a tap of M6 in iron, brass or other short chips goes 5 diameters deep."""
    (hole,) = explain("M6 ↧30", Shop(), ReadOptions("mm", workpiece, 60.0)).holes
    assert hole.cut_plan is not None
    assert hole.cut_plan.cuts[-1].step.process == process
    assert ("TOOL-REACH" in notes("M6 ↧30", 60.0, workpiece)) == (process == "thread mill")


def test_a_deep_hole_is_formed_where_the_shop_forms() -> None:
    """Forming makes no chips. Common practice, no source."""
    forming = Shop(preferences=Preferences(prefer_forming=True))
    (hole,) = explain("M6 ↧24", forming, ReadOptions("mm", "EN AW-6082", 60.0)).holes
    assert hole.cut_plan is not None
    assert hole.cut_plan.cuts[-1].step.process == "form"


def test_all_tools_of_a_hole_are_one_question_with_the_worst_first() -> None:
    """600 mm: 30 diameters of the drill of 20, 24 of the end mill of 25, 12 of the bar of 50."""
    message = notes("Ø50 H7 THRU", 600.0)["TOOL-REACH"].message
    places = [message.index(figure) for figure in ("24.0 of its", "30.0 of its", "12.0 of its")]
    assert places == sorted(places)


@pytest.mark.parametrize(("deep_mm", "offered"), [(11.0, True), (11.1, False)])
def test_milling_is_a_way_out_of_a_short_hole_only_as_deep_as_the_cutter_reaches(deep_mm: float, offered: bool) -> None:
    """M3 with a cutter of 2.2 mm, five diameters deep, in a hole one millimetre deeper than its thread."""
    (hole,) = explain(f"Ø2.5 ↧{deep_mm + 1:g}; M3 ↧{deep_mm:g}", Shop(), ReadOptions("mm", "EN-GJL-250", 40.0)).holes
    (asked,) = [note for note in hole.notes if note.code == "DEPTH-DRILL-TOO-SHALLOW"]
    assert ("mill the thread" in asked.suggestion) == offered
