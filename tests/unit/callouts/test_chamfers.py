"""A chamfer by its leg is in the unit of its callout, whichever way it is written: base + 2 c is plain geometry."""

from __future__ import annotations

from typing import Literal

import pytest

from holesched.features.build import build_callout


@pytest.mark.parametrize(
    ("text", "unit", "base_mm", "leg_mm"),
    [
        ("Ø8 THRU, 0,5x45°", "mm", 8.0, 0.5),
        ("Ø8 THRU 0.5 mm x 45°", "mm", 8.0, 0.5),
        ("Ø8 THRU C0.5", "mm", 8.0, 0.5),
        ("Ø8 THRU CHAM C1", "mm", 8.0, 1.0),
        ("M6 C0.5", "mm", 6.0, 0.5),
        ("Ø10 BORE 0.5x45°", "mm", 10.0, 0.5),
        ("1/4-20 UNC-2B THRU, 0.03 x 45°", "in", 6.35, 0.762),
        ("1/4-20 UNC-2B THRU, .03 x 45° CHAM", "in", 6.35, 0.762),
        ("Ø.25 THRU, .015 X 45° CHAMFER", "in", 6.35, 0.381),
        ("Ø.25 THRU 1/32 x 45°", "in", 6.35, 0.79375),
        ("Ø.25 THRU C.03", "in", 6.35, 0.762),
    ],
)
def test_legs(text: str, unit: Literal["mm", "in"], base_mm: float, leg_mm: float) -> None:
    hole, notes, _ = build_callout(text, unit)
    assert hole is not None
    assert [round(each.diameter.mm, 5) for each in hole.features] == [base_mm, round(base_mm + 2 * leg_mm, 5)]
    assert hole.features[1].angle_deg == 90.0
    assert not [note.code for note in notes if note.is_question]


def test_a_chamfer_wider_than_its_hole_is_asked() -> None:
    """C1 in inches would be a chamfer of 25.4 mm on a hole of 6.35 mm."""
    asked = {note.code for note in build_callout("Ø.25 THRU C1", "in")[1] if note.is_question}
    assert asked == {"CHECK-CHAMFER-WIDE"}


def test_deviations_before_their_size_are_looked_at_too() -> None:
    for text in ("Ø8 +15/0", "+15/0 Ø8 THRU"):
        assert [note.code for note in build_callout(text, "mm")[1]] == ["SIZE-DEVIATION"]


@pytest.mark.parametrize(
    ("text", "unit", "mm"),
    [("M8 CSK BOTH SIDES", "mm", 8.4), ("M10 ↧20 angesenkt", "mm", 10.5), ("1/4-20 UNC CSK", "in", 6.6675)],
)
def test_a_countersink_without_its_size_on_a_thread_is_asked(text: str, unit: Literal["mm", "in"], mm: float) -> None:
    """1.05 times the thread's diameter, the most of DIN 76-1 (from memory)."""
    hole, notes, _ = build_callout(text, unit)
    assert hole is not None
    cone = hole.features[-1]
    assert round(cone.diameter.mm, 2) == round(mm, 2)
    assert "CALLOUT-COUNTERSINK-OPEN" in {note.code for note in notes if note.is_question}
