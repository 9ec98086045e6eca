"""Dimension lines beside and above a section, in the manner of ISO 129-1: thin lines, closed arrow heads, text above the
line, the shortest dimension nearest to the part."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from holesched.reports.sketch.drawing import Arrow, Label, Line, Pen, text_width

FIRST, STEP, OVER, ARROW = 4.8, 4.7, 1.2, 2.2
"""Distance of the first dimension line, of the next, how far extension lines go past it, and the arrow head, in mm."""


@dataclass(frozen=True, slots=True)
class Span:
    """One thing to dimension, in mm on paper: from `start` to `end` along its direction; `edge` is how near to the axis its
    extension line at `end` begins. `back`: what is measured from `end`, with its text before `start` where it has no room
    between."""

    start: float
    end: float
    text: str
    edge: float
    back: bool = False


@dataclass(frozen=True, slots=True)
class Dimensioned:
    """What dimensioning added, and how far it reaches."""

    lines: tuple[Line, ...]
    arrows: tuple[Arrow, ...]
    labels: tuple[Label, ...]
    reach: float
    longest: float
    """The furthest position along the dimensions' own direction that a text or arrow takes."""
    least: float = 0.0
    """The position furthest back: above the part, or to the left."""


def depths(spans: Sequence[Span], beside: float) -> Dimensioned:
    """Depths, as vertical dimension lines to the right of x = `beside`, shortest first."""
    lines: list[Line] = []
    arrows: list[Arrow] = []
    labels: list[Label] = []
    longest = least = 0.0
    ordered = sorted(spans, key=lambda span: span.end - span.start)
    x = beside
    for number, span in enumerate(ordered):
        x = beside + FIRST + number * STEP
        first, last = (span.end, span.start) if span.back else (span.start, span.end)
        on = -1.0 if span.back else 1.0
        lines.append(Line(Pen.THIN, ((span.edge, last), (x + OVER, last))))
        room = span.end - span.start
        width = text_width(span.text)
        if room >= width + 2 * ARROW:
            tail, end, middle, inwards = first, last, (first + last) / 2, 1.0
        elif room >= 2 * ARROW + 0.5:
            tail, end, middle, inwards = first, last + on * (width + 1.5), last + on * (1 + width / 2), 1.0
        else:
            tail, end = first - on * (ARROW + 1.5), last + on * (ARROW + width + 1.5)
            middle, inwards = last + on * (ARROW + 0.5 + width / 2), -1.0
        lines.append(Line(Pen.THIN, ((x, tail), (x, end))))
        arrows += [Arrow(x, first, 0, -on * inwards), Arrow(x, last, 0, on * inwards)]
        labels.append(Label(x - 0.9, middle, span.text, turned=True, clear=end != last))
        longest, least = max(longest, end), min(least, end)
    if ordered:
        for start in sorted({span.end if span.back else span.start for span in ordered}):
            lines.append(Line(Pen.THIN, ((beside, start), (x + OVER, start))))
    return Dimensioned(tuple(lines), tuple(arrows), tuple(labels), x + OVER if ordered else beside, longest, least)


def diameters(spans: Sequence[Span], beyond: float, up: bool, left: bool = False) -> Dimensioned:
    """Diameters about the axis x = 0, as horizontal dimension lines above (`up`) or below y = `beyond`, smallest first.

    A span's `edge` is the y at which its extension lines begin. A text without room between them stands to the right, or to
    the `left`.
    """
    sign, side = -1.0 if up else 1.0, -1.0 if left else 1.0
    lines: list[Line] = []
    arrows: list[Arrow] = []
    labels: list[Label] = []
    widest = furthest = 0.0
    y = beyond
    for number, span in enumerate(sorted(spans, key=lambda span: span.end)):
        y = beyond + sign * (FIRST + number * STEP)
        radius = span.end
        for x in (-radius, radius):
            lines.append(Line(Pen.THIN, ((x, span.edge), (x, y + sign * OVER))))
        width = text_width(span.text)
        if 2 * radius >= width + 2 * ARROW:
            lines.append(Line(Pen.THIN, ((-radius, y), (radius, y))))
            arrows += [Arrow(-radius, y, -1, 0), Arrow(radius, y, 1, 0)]
            labels.append(Label(0.0, y - 0.9, span.text))
            widest = max(widest, radius)
        else:
            end = side * (radius + ARROW + width + 1.5)
            lines.append(Line(Pen.THIN, ((-side * (radius + ARROW + 1.5), y), (end, y))))
            arrows += [Arrow(-radius, y, 1, 0), Arrow(radius, y, -1, 0)]
            labels.append(Label(end + 1.0 if left else radius + ARROW + 0.5, y - 0.9, span.text, anchor="start", clear=True))
            widest, furthest = max(widest, radius, end), min(furthest, end)
    top = y + sign * 3.9 if spans else beyond
    return Dimensioned(tuple(lines), tuple(arrows), tuple(labels), top, widest, furthest)
