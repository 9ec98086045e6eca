"""Outlines as title blocks write them, and that SIZE heads a table more often than it names an outline."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import pytest

from holesched.schedule.model import ReadOptions
from holesched.schedule.outline import read_outline
from holesched.schedule.read_workbook import read_schedule


@pytest.mark.parametrize(
    ("text", "unit", "sides"),
    [
        ("200x120", "mm", (200.0, 120.0)),
        ("200 x 120 x 30", "mm", (200.0, 120.0)),
        ("200 × 120 × 30 mm", "in", (200.0, 120.0)),
        ("8 x 5 in", "mm", (203.2, 127.0)),
        ("8 x 5 x 1/2", "in", (203.2, 127.0)),
        ('8.5" x 11"', "mm", (215.9, 279.4)),
        ("200 L x 120 W x 30 T", "mm", (200.0, 120.0)),
        ("200,5 x 120", "mm", (200.5, 120.0)),
        ("A3", "mm", None),
        ("Ø80 x 20", "mm", None),
        ("200", "mm", None),
        ("M8x1.25", "mm", None),
        ("mm", "mm", None),
    ],
)
def test_outlines(text: str, unit: Literal["mm", "in"], sides: tuple[float, float] | None) -> None:
    assert read_outline(text, unit) == sides


HOLES = "TAG,X,Y,SIZE,QTY\nA1,10,20,Ø6.6 THRU,1\nA2,190,100,Ø6.6 THRU,1\n"


@pytest.mark.parametrize(
    ("above", "sides"),
    [
        ("Units,mm\nSize,200 x 120 x 30\n", (200.0, 120.0)),
        ("Units,mm\nBlank: 200x120x30\n", (200.0, 120.0)),
        ("Units,mm\nDimensions,200 x 120 x 30 mm\n", (200.0, 120.0)),
        ("Einheit,mm\nAbmessungen,200 x 120 x 30\n", (200.0, 120.0)),
        ("Units,mm\nOverall length,200\nOverall width,120\n", (200.0, 120.0)),
        ("Units,inch\nOutline,8 x 5\n", (203.2, 127.0)),
        ("Units,mm\nSize: A3\n", None),
        ("Units,mm\n", None),
    ],
)
def test_title_blocks(tmp_path: Path, above: str, sides: tuple[float, float] | None) -> None:
    path = tmp_path / "plate.csv"
    path.write_text(above + HOLES, encoding="utf-8")
    schedule, _ = read_schedule(path, ReadOptions())
    assert schedule.header.outline_mm == sides
    assert [row.callout for row in schedule.rows] == ["Ø6.6 THRU", "Ø6.6 THRU"]


def test_the_callers_outline_counts(tmp_path: Path) -> None:
    path = tmp_path / "plate.csv"
    path.write_text("Units,mm\nSize,200 x 120\n" + HOLES, encoding="utf-8")
    schedule, _ = read_schedule(path, ReadOptions(outline="300x150"))
    assert schedule.header.outline_mm == (300.0, 150.0)
