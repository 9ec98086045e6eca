"""Hatching of a cut face: thin lines at 45 degrees inside a polygon (ISO 128), as pure numbers."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import ceil

from holesched.reports.sketch.drawing import Line, Pen, Point


def hatching(polygon: Sequence[Point], spacing: float) -> list[Line]:
    """Lines from lower left to upper right inside `polygon` (mm on paper), `spacing` apart at right angles.

    A line is the set of points of one x + y; its pieces inside are found by the even-odd rule.
    """
    step = spacing * 2**0.5
    sums = [x + y for x, y in polygon]
    lines = []
    number = ceil(min(sums) / step)
    while number * step < max(sums):
        level = number * step
        crossings = sorted(_crossings(polygon, level))
        for start, end in zip(crossings[::2], crossings[1::2], strict=False):
            if end - start > 0.05:
                lines.append(Line(Pen.HATCH, ((start, level - start), (end, level - end))))
        number += 1
    return lines


def _crossings(polygon: Sequence[Point], level: float) -> list[float]:
    """x of every point where the polygon's edge crosses x + y = level; an end point counts with its upper edge only."""
    found = []
    for (xa, ya), (xb, yb) in pairwise([*polygon, polygon[0]]):
        a, b = xa + ya - level, xb + yb - level
        if (a < 0) != (b < 0):
            found.append(xa + (xb - xa) * a / (a - b))
    return found
