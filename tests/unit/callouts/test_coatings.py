"""Coatings in callouts: what is written of them, and that their thickness is never taken for a depth."""

from __future__ import annotations

import pytest

from holesched.callouts.parse import read_callout

MIL = 0.0254


@pytest.mark.parametrize(
    ("text", "kind", "least_mm", "most_mm", "holds"),
    [
        ("M8x1.25-6H ↧16 ZINC 8 µm", "ZINC", 0.008, None, ""),
        ("M8x1.25-6H ↧16 ZINC 8-12 µm", "ZINC", 0.008, 0.012, ""),
        ("M8x1.25-6H ↧16 AFTER ZINC PLATE 8 um", "AFTER ZINC PLATE", 0.008, None, "after"),
        ("M8x1.25-6H ↧16 AFTER ZINC 8 µm", "AFTER ZINC", 0.008, None, "after"),
        ("M8x1.25-6H ↧16 anodised 10 µm", "ANODISED", 0.010, None, ""),
        ("M8x1.25-6H ↧16 HARD ANODIZE 25 µm MAX", "HARD ANODIZE", None, 0.025, ""),
        ("M8x1.25-6H ↧16 VOR VERZINKEN, 8 µm", "VOR VERZINKEN", 0.008, None, "before"),
        ("M8x1.25-6H ↧16 12 µm ELECTROLESS NICKEL", "ELECTROLESS NICKEL", 0.012, None, ""),
        ("M8x1.25-6H ↧16 Fe/Zn8", "ZINC", 0.008, None, ""),
        ("1/4-20 UNC-2B ↧.5 PLATED 0.0003 IN", "PLATED", 0.00762, None, ""),
        ("1/4-20 UNC-2B ↧.5 AFTER PLATING .0003-.0005", "AFTER PLATING", 0.00762, 0.0127, "after"),
        ("M8x1.25-6H ↧16 MASK THREADS, ZINC 8 µm", "MASKED", 0.0, 0.0, ""),
        ("M8x1.25-6H ↧16 NO PLATING IN THREADS", "MASKED", 0.0, 0.0, ""),
        ('1/4-20 UNC-2B ↧.5 ZINC PLATE .0002-.0003"', "ZINC PLATE", 0.00508, 0.00762, ""),
        ("1/4-20 UNC-2B ↧.5 CADMIUM PLATE 0.5 MIL", "CADMIUM PLATE", round(0.5 * MIL, 6), None, ""),
    ],
)
def test_a_coating_is_read_with_its_thickness(
    text: str, kind: str, least_mm: float | None, most_mm: float | None, holds: str
) -> None:
    callout = read_callout(text, "in" if text.startswith("1/4") else "mm").callout
    assert callout is not None
    assert callout.coating is not None
    found = callout.coating
    assert (found.kind, found.least_mm, found.most_mm, found.holds) == (kind, least_mm, most_mm, holds)
    [element] = callout.elements
    assert element.depth is not None
    assert element.depth.mm == (12.7 if text.startswith("1/4") else 16.0)


def test_a_thickness_is_no_depth() -> None:
    callout = read_callout("M8-6H AFTER ZINC PLATE 8 um", "mm").callout
    assert callout is not None
    assert callout.elements[0].depth is None


@pytest.mark.parametrize("text", ["M8 THRU ZINC PLATED", "M8 THRU AFTER PLATING", "Ø8 H7 THRU BEFORE ANODIZE"])
def test_a_coating_without_thickness_is_asked(text: str) -> None:
    assert [note.code for note in read_callout(text, "mm").notes] == ["CALLOUT-COATING"]


def test_a_plain_hole_is_not_asked_about_its_coating() -> None:
    assert read_callout("Ø9 THRU ZINC PLATED", "mm").notes == ()


@pytest.mark.parametrize("text", ["M8 THRU BLACK OXIDE", "M8 ↧16 PASSIVATE", "M8 ↧16 MASK THREADS"])
def test_what_adds_nothing_to_a_thread_is_not_asked(text: str) -> None:
    assert read_callout(text, "mm").notes == ()
