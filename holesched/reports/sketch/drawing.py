"""What a sketch is made of, in mm on paper: lines by their weight, arrow heads, labels. x to the right, y down."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

Point = tuple[float, float]

TEXT_MM = 3.2
"""Height of the type in a sketch: 9 points."""


class Pen(Enum):
    """Line types of ISO 128: outlines thick; dimensions, hatching and thread lines thin; axes dashed and dotted."""

    THICK = "thick"
    THIN = "thin"
    HATCH = "hatch"
    AXIS = "axis"


@dataclass(frozen=True, slots=True)
class Line:
    """A line through two or more points."""

    pen: Pen
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Arrow:
    """A filled arrow head with its tip at (x, y), pointing along (dx, dy), a unit vector."""

    x: float
    y: float
    dx: float
    dy: float


@dataclass(frozen=True, slots=True)
class Label:
    """Text with its baseline's middle (anchor "middle") or start at (x, y); `turned` reads from the right-hand side, `clear`
    has a white ground because lines pass there."""

    x: float
    y: float
    text: str
    anchor: str = "middle"
    turned: bool = False
    clear: bool = False


@dataclass(frozen=True, slots=True)
class Drawing:
    """A finished sketch: the box it needs, what is in it, and its scale as a drawing states it ("2:1")."""

    left: float
    top: float
    width: float
    height: float
    lines: tuple[Line, ...]
    arrows: tuple[Arrow, ...] = ()
    labels: tuple[Label, ...] = ()
    scale: str = ""


def text_width(text: str) -> float:
    """A generous estimate of a label's width in mm, from the sheet font's usual advance widths."""
    return sum(0.25 if char in ".,:;'|il " else 0.82 if char in "MW⌀mw" else 0.64 for char in text) * TEXT_MM
