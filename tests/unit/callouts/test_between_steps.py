"""What stands between two sizes or two steps belongs to the right one, or is asked. Common practice, no source."""

from __future__ import annotations

import pytest

from holesched.callouts.model import Side
from holesched.callouts.parse import read_callout
from holesched.features.build import build_callout


@pytest.mark.parametrize(
    ("text", "hole_mm", "circle_mm"),
    [
        ("6X Ø9 BC Ø80", 9.0, 80.0),
        ("3x Ø5 TK Ø40", 5.0, 40.0),
        ("Ø80 BC Ø9 THRU 6X", 9.0, 80.0),
        ("6-φ9 PCD80", 9.0, 80.0),
        ("6-φ9 P.C.D.80 等分", 9.0, 80.0),
        ("6X Ø9 ON Ø80 BC", 9.0, 80.0),
        ("4 trous Ø6,6 équidistants sur Ø80", 6.6, 80.0),
        ("4 taladros Ø6,6 equidistantes en Ø80", 6.6, 80.0),
        ("4 x Ø6,6 sur Ø80 primitif", 6.6, 80.0),
    ],
)
def test_hole_and_circle(text: str, hole_mm: float, circle_mm: float) -> None:
    callout = read_callout(text, "mm").callout
    assert callout is not None
    assert [element.diameter.mm for element in callout.elements if element.diameter] == [hole_mm]
    assert callout.circle is not None
    assert callout.circle.diameter_mm == circle_mm


@pytest.mark.parametrize(
    ("text", "depth_mm", "count"),
    [
        ("M8x1.25x15 DEEP 4 HOLES", 15.0, 4),
        ("M8x15 DEEP 4 PLCS", 15.0, 4),
        ("TAP M8 x 15 DP 4 PL", 15.0, 4),
        ("M8x1.25x15 DEEP 4X", 15.0, 4),
        ("M8x1.25x15 DP", 15.0, 1),
    ],
)
def test_depth_and_quantity(text: str, depth_mm: float, count: int) -> None:
    hole, notes, holes = build_callout(text, "mm")
    assert hole is not None
    assert (hole.features[0].depth.mm, holes) == (depth_mm, count)
    assert not [note.code for note in notes if note.is_question]


@pytest.mark.parametrize(
    ("text", "size_mm", "depth_mm", "count"),
    [
        ("F DRILL THRU (4) PLCS", 6.5278, None, 4),
        ("#10-32 UNF-2B X .38 DP (4) HLS", 4.826, 9.652, 4),
        ("1/4-20 UNC-2B .50 MIN. THD. DEPTH", 6.35, 12.7, 1),
        (".3125/.3130 REAM", 7.9375, None, 1),
        ("82° CSK .53 DIA", 13.462, None, 1),
    ],
)
def test_quantities_limits_and_angles_in_inches(text: str, size_mm: float, depth_mm: float | None, count: int) -> None:
    hole, notes, holes = build_callout(text, "in")
    assert hole is not None
    assert [feature.diameter.mm for feature in hole.features] == [size_mm]
    assert (hole.features[0].depth.mm, holes) == (depth_mm, count)
    assert not [note.code for note in notes if note.is_question]


def test_two_lengths_of_one_thread_are_refused() -> None:
    assert [note.code for note in build_callout("M8x1.25x15 DP 20", "mm")[1]] == ["DEPTH-TWICE"]


@pytest.mark.parametrize(
    ("text", "asked"),
    [
        ("4-φ6.6 通し 裏面より φ11 ザグリ 深6.5", set()),
        ("Ø6.6 THRU, FAR SIDE CBORE Ø11 ↧6.5", set()),
        ("Ø6.6 THRU, CBORE Ø11 ↧6.5 FAR SIDE", set()),
        ("Ø6.6 durch, von hinten Senkung Ø11 6,5 tief", set()),
        ("Ø6.6 THRU FAR SIDE CBORE Ø11 ↧6.5", {"CALLOUT-SIDE-DOUBTFUL"}),
        ("Ø6.6 THRU FAR SIDE ⌴ Ø11 ↧6.5", {"CALLOUT-SIDE-DOUBTFUL"}),
    ],
)
def test_a_side_behind_a_through_hole_is_the_next_steps(text: str, asked: set[str]) -> None:
    hole, notes, _ = build_callout(text, "mm")
    assert hole is not None
    assert [feature.side for feature in hole.features] == [Side.NEAR, Side.FAR]
    assert {note.code for note in notes if note.is_question} == asked


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("2 x 2 x M6", "COUNT-TWICE"),
        ("8X Ø11 ON BC 80, BC 90", "CIRCLE-TWICE"),
        ("M8x1.25 x 15/13 DEEP", "DEPTH-TWICE"),
        ("8H7x12 (13)", "CALLOUT-EQUIVALENT-DIFFERS"),
        ("CLEARANCE FOR M8 x 13", "CALLOUT-DEPTH-DOUBTFUL"),
        ("CLEARANCE FOR M8x1.5", "FASTENER-SIZE-DOUBTFUL"),
        ("Ø10/13 H7", "CHECK-TWO-HOLES"),
        ("M8 ↧80", "CHECK-DEPTH"),
        ("(Ø8)", "CALLOUT-REFERENCE"),
        ("(2X M6)", "CALLOUT-REFERENCE"),
        ("M8 ↧5/8", "CALLOUT-UNIT-DOUBTFUL"),
        ("Ø12 ↧15/16", "CALLOUT-UNIT-DOUBTFUL"),
        ("M8 ↧15/20", "CALLOUT-DEPTH-DOUBTFUL"),
        ("Ø9 THRU ⌴ Ø15 ↧80", "CHECK-DEPTH"),
    ],
)
def test_a_second_number_is_never_swallowed(text: str, code: str) -> None:
    assert {note.code for note in build_callout(text, "mm")[1] if note.is_question} == {code}


@pytest.mark.parametrize("text", ["CLEARANCE FOR M8x30 SHCS", "Ø7.8 THRU, Ø8 H7", "DRILL 10 THRU, REAM 13 H7", "M8 ↧64"])
def test_what_is_meant_is_not_asked(text: str) -> None:
    assert not [note.code for note in build_callout(text, "mm")[1] if note.is_question]


def test_thread_and_drill_behind_a_slash() -> None:
    hole, _, _ = build_callout("M6x10/14", "mm")
    assert hole is not None
    (tap,) = hole.features
    assert tap.pilot_depth is not None
    assert (tap.depth.mm, tap.pilot_depth.mm) == (10.0, 14.0)


@pytest.mark.parametrize(
    ("text", "deviations"), [("M6 x 12+2", (0.0, 2.0)), ("M6 x 12 +2/0", (0.0, 2.0)), ("M6x12±0.5", (-0.5, 0.5))]
)
def test_a_deviation_behind_a_threads_length_is_that_of_its_depth(text: str, deviations: tuple[float, float]) -> None:
    callout = read_callout(text, "mm").callout
    assert callout is not None
    (tap,) = callout.elements
    assert tap.depth is not None
    assert (tap.depth.mm, tap.depth.tolerance_mm) == (12.0, deviations)
