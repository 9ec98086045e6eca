"""The font that ships: what it must be able to write, and that its licence is beside it."""

from __future__ import annotations

from importlib.resources import files
from io import BytesIO

import pytest
from fontTools.ttLib import TTFont

from holesched.reports.html import FONTS
from holesched.reports.sketch.drawing import TEXT_MM, text_width
from holesched.resources import template_bytes


@pytest.fixture(params=[name for name, _ in FONTS])
def font(request: pytest.FixtureRequest) -> TTFont:
    return TTFont(BytesIO(template_bytes(request.param)))


def test_it_has_the_signs_of_drawings(font: TTFont) -> None:
    cmap = font.getBestCmap()
    assert [sign for sign in "⌀⌴⌵↧→□Øµ±×°–−≤≥" if ord(sign) not in cmap] == []


def test_figures_are_of_one_width(font: TTFont) -> None:
    """So that columns of numbers stand under each other."""
    cmap = font.getBestCmap()
    assert len({font["hmtx"][cmap[ord(figure)]][0] for figure in "0123456789"}) == 1


def test_the_signs_are_drawn(font: TTFont) -> None:
    cmap = font.getBestCmap()
    for sign in "⌀⌴⌵↧":
        glyph = font["glyf"][cmap[ord(sign)]]
        assert glyph.numberOfContours >= 1
        assert glyph.yMax > 400


def test_widths_are_not_underestimated() -> None:
    """The sketches' estimate of a label's width is at least the regular font's own, so that labels stay apart."""
    font = TTFont(BytesIO(template_bytes(FONTS[0][0])))
    cmap = font.getBestCmap()
    for text in ("M8x1.25", "16 thread", "20.38 drill", "21.61 tip", "⌀10.4 × 90°", "40 part", "1/4-20", "⌀8 H7", "12 ream"):
        own = sum(font["hmtx"][cmap[ord(char)]][0] for char in text) / font["head"].unitsPerEm * TEXT_MM
        assert own <= text_width(text) * 1.02, text


def test_the_licence_ships_with_it() -> None:
    text = files("holesched.templates").joinpath("OFL.txt").read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in text
    assert text.startswith("Copyright 2020")
