"""A wide countersink in a short blind hole: its point would meet the bottom before its rim is cut. Geometry."""

from __future__ import annotations

import pytest

from holesched.pipeline import explain
from holesched.schedule.model import ReadOptions
from holesched.shop.model import Shop


@pytest.mark.parametrize(
    ("callout", "meets"),
    [
        ("M64x2 ↧20", False),  # rim 67.2: a sharp 90 degree point would be 33.6 deep, the hole 24; a small mill is 6.4 deep
        ("⌀60 ↧20 ⌵⌀67X90°", False),
        ("⌀60 ↧20 ⌵⌀67X60°", True),
        ("M64x2 THRU", False),
        ("M8 ↧16", False),
        ("⌀6 ↧3 ⌵⌀12X90°", True),  # 6 deep against 3 and the drill's point
        ("⌀6 ↧12 ⌵⌀12X90°", False),
    ],
)
def test_a_point_deeper_than_its_hole_is_watched(callout: str, *, meets: bool) -> None:
    (hole,) = explain(callout, Shop(), ReadOptions("mm", "C45", 80.0)).holes
    assert ("CONE-BOTTOM" in {note.code for note in hole.notes}) is meets
