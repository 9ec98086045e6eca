"""The size of a pin or screw beside its hole is no second hole, and words of a clearance hole are never dropped.

Common practice, no source.
"""

from __future__ import annotations

import pytest

from holesched.callouts.model import Depth, Tolerance
from holesched.callouts.parse import read_callout


@pytest.mark.parametrize(
    ("text", "use"),
    [
        ("Ø6 H7 ↧12, für Zylinderstift Ø6", "Zylinderstift Ø6"),
        ("Ø6 H7 ↧12 für Zylinderstift 6x20", "Zylinderstift 6x20"),
        ("Ø6 H7, 12 tief, Zylinderstift 6 m6 x 20", "Zylinderstift 6 m6 x 20"),
        ("Ø6 H7 ↧12 FOR DOWEL 6 x 24 LG", "DOWEL 6 x 24 LG"),
    ],
)
def test_a_pins_size_is_no_hole(text: str, use: str) -> None:
    reading = read_callout(text, "mm")
    assert reading.callout is not None
    (hole,) = reading.callout.elements
    assert (hole.depth, hole.tolerance, hole.uses) == (Depth(12.0), Tolerance("H7"), (use,))
    assert not reading.notes


def test_another_size_behind_a_pin_stays_a_hole() -> None:
    callout = read_callout("Ø6 H7 ↧12 DOWEL, Ø5 THRU", "mm").callout
    assert callout is not None
    assert [element.diameter.mm for element in callout.elements if element.diameter] == [6.0, 5.0]


@pytest.mark.parametrize("text", ["2BA CLEAR", "2BA CLEARANCE HOLE", "1/4 BSW CLEAR", "G1/4 CLEARANCE"])
def test_a_thread_with_words_of_a_clearance_hole_is_asked(text: str) -> None:
    reading = read_callout(text, "mm")
    assert reading.callout is None
    assert [note.code for note in reading.notes] == ["THREAD-OR-CLEARANCE"]


@pytest.mark.parametrize("text", ["M8 x 25 MIN FULL THD", "M8x25 MIN", "M8x1.25x25 MIN", "M8 ↧25 MIN"])
def test_a_least_depth_stays_one(text: str) -> None:
    callout = read_callout(text, "mm").callout
    assert callout is not None
    assert [element.depth for element in callout.elements] == [Depth(25.0, least=True)]


@pytest.mark.parametrize(
    ("text", "limits"),
    [
        ("Ø10 H7 (10.015/10.000)", (10.0, 10.015)),
        ("Ø10 H7 [10.000 - 10.015]", (10.0, 10.015)),
        ("Ø10 (9.9-10.1)", (9.9, 10.1)),
    ],
)
def test_limits_in_brackets_behind_a_size(text: str, limits: tuple[float, float]) -> None:
    callout = read_callout(text, "mm").callout
    assert callout is not None
    (hole,) = callout.elements
    assert hole.tolerance is not None
    assert (hole.tolerance.low_mm, hole.tolerance.high_mm) == limits
    assert hole.tolerance.zone == ("H7" if "H7" in text else None)


@pytest.mark.parametrize("text", [".2500/.2505 REAM FOR 1/4 DOWEL", "Ø.250 REAM FOR 1/4 DOWEL PIN"])
def test_a_dowels_size_is_no_screws(text: str) -> None:
    reading = read_callout(text, "in")
    assert reading.callout is not None
    (hole,) = reading.callout.elements
    assert hole.uses[0].startswith("1/4 DOWEL")
    assert not reading.notes


@pytest.mark.parametrize("text", ["5/16-18 HELICAL INSERT X 1 1/2 D", "5/16-18 STI X 1-1/2D", "5/16-18 STI 1.5D"])
def test_a_length_in_diameters_may_be_a_fraction(text: str) -> None:
    callout = read_callout(text, "in").callout
    assert callout is not None
    assert [element.insert_diameters for element in callout.elements] == [1.5]
