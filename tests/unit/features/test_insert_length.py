"""A wire insert's length goes from the callout to the resolved hole, in diameters and in mm.

Expected lengths are the nominal ones of ASME B18.29.1 and B18.29.2M: 1, 1.5, 2, 2.5 or 3 screw diameters.
"""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import pytest

from holesched.features.build import build_callout
from holesched.features.model import Feature, HoleType, Member
from holesched.notes import CellRef
from holesched.resolve.resolve import resolve_hole

REF = CellRef(Path("x.csv").name, "x", 1, 1)


def tap_of(text: str, unit: Literal["mm", "in"] = "mm") -> tuple[Feature, float | None, set[str]]:
    """The tapped feature, its insert's length in mm, and the codes of the questions."""
    hole, notes, _ = build_callout(text, unit)
    assert hole is not None
    resolved = resolve_hole(HoleType("A", hole, (Member(REF, "A1", 1),), "", None))
    (step,) = [step for step in resolved.steps if step.thread is not None]
    return step.feature, step.insert_mm, {note.code for note in notes if note.is_question}


@pytest.mark.parametrize(
    ("text", "diameters", "mm"),
    [
        ("M8 STI x 1.5D", 1.5, 12.0),
        ("M8x1.25 STI x 2D THRU", 2.0, 16.0),
        ("M8 HELICAL INSERT 2D ↧20", 2.0, 16.0),
        ("M10x1.5 STI 15 DEEP INSERT 1.5D", 1.5, 15.0),
        ("M10x1.5 STI ↧15, INSERT 1.5D LONG", 1.5, 15.0),
        ("M8 STI ↧18 (1.5 x D)", 1.5, 12.0),
        ("M8x1.25 STI ↧16, INSERT 12 LONG", 1.5, 12.0),
        ("M8 WIRE INSERT 12 LG", 1.5, 12.0),
        ("M8 STI\nHELICAL INSERT M8x1.25x12", 1.5, 12.0),
        ("EG M8 16 tief 1,5d", 1.5, 12.0),
    ],
)
def test_metric_lengths(text: str, diameters: float, mm: float) -> None:
    feature, insert_mm, _ = tap_of(text)
    assert feature.insert_diameters == diameters
    assert insert_mm == mm


@pytest.mark.parametrize(
    ("text", "diameters", "inches"),
    [("1/4-20 STI x 1.5D", 1.5, 0.375), ("#10-32 HELICAL INSERT .285 LONG", 1.5, 0.285), ("1/4-20 UNC STI 2D", 2.0, 0.5)],
)
def test_inch_lengths(text: str, diameters: float, inches: float) -> None:
    feature, insert_mm, _ = tap_of(text, "in")
    assert feature.insert_diameters == diameters
    assert insert_mm is not None
    assert round(insert_mm / 25.4, 3) == inches


def test_depth_and_length_are_kept_apart() -> None:
    feature, insert_mm, _ = tap_of("#10-32 HELICAL INSERT .285 LONG ↧.50", "in")
    assert (feature.depth.mm, round(insert_mm or 0, 3)) == (12.7, 7.239)


def test_a_length_no_insert_has_is_asked() -> None:
    feature, insert_mm, asked = tap_of("M8 STI 4D")
    assert (feature.insert_diameters, insert_mm) == (None, None)
    assert "INSERT-LENGTH" in asked


def test_without_a_length_it_is_open() -> None:
    feature, insert_mm, asked = tap_of("M8 STI ↧16")
    assert (feature.insert_diameters, insert_mm) == (None, None)
    assert "CALLOUT-INSERT" in asked
