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
    extension line at `end` begins."""

    start: float
    end: float
    text: str
    edge: float


@dataclass(frozen=True, slots=True)
class Dimensioned:
    """What dimensioning added, and how far it reaches."""

    lines: tuple[Line, ...]
    arrows: tuple[Arrow, ...]
    labels: tuple[Label, ...]
    reach: float
    longest: float
    """The furthest position along the dimensions' own direction that a text or arrow takes."""


def depths(spans: Sequence[Span], beside: float) -> Dimensioned:
    """Depths, as vertical dimension lines to the right of x = `beside`, shortest first."""
    lines: list[Line] = []
    arrows: list[Arrow] = []
    labels: list[Label] = []
    longest = 0.0
    ordered = sorted(spans, key=lambda span: span.end - span.start)
    x = beside
    for number, span in enumerate(ordered):
        x = beside + FIRST + number * STEP
        lines.append(Line(Pen.THIN, ((span.edge, span.end), (x + OVER, span.end))))
        room = span.end - span.start
        width = text_width(span.text)
        if room >= width + 2 * ARROW:
            lines.append(Line(Pen.THIN, ((x, span.start), (x, span.end))))
            arrows += [Arrow(x, span.start, 0, -1), Arrow(x, span.end, 0, 1)]
            labels.append(Label(x - 0.9, (span.start + span.end) / 2, span.text, turned=True))
            longest = max(longest, span.end)
        elif room >= 2 * ARROW + 0.5:
            lines.append(Line(Pen.THIN, ((x, span.start), (x, span.end + width + 1.5))))
            arrows += [Arrow(x, span.start, 0, -1), Arrow(x, span.end, 0, 1)]
            labels.append(Label(x - 0.9, span.end + 1 + width / 2, span.text, turned=True))
            longest = max(longest, span.end + width + 1.5)
        else:
            lines.append(Line(Pen.THIN, ((x, span.start - ARROW - 1.5), (x, span.end + ARROW + width + 1.5))))
            arrows += [Arrow(x, span.start, 0, 1), Arrow(x, span.end, 0, -1)]
            labels.append(Label(x - 0.9, span.end + ARROW + 0.5 + width / 2, span.text, turned=True))
            longest = max(longest, span.end + ARROW + width + 1.5)
    if ordered:
        for start in sorted({span.start for span in ordered}):
            lines.append(Line(Pen.THIN, ((beside, start), (x + OVER, start))))
    return Dimensioned(tuple(lines), tuple(arrows), tuple(labels), x + OVER if ordered else beside, longest)


def diameters(spans: Sequence[Span], beyond: float, up: bool) -> Dimensioned:
    """Diameters about the axis x = 0, as horizontal dimension lines above (`up`) or below y = `beyond`, smallest first.

    A span's `edge` is the y at which its extension lines begin.
    """
    sign = -1.0 if up else 1.0
    lines: list[Line] = []
    arrows: list[Arrow] = []
    labels: list[Label] = []
    widest = 0.0
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
            far = radius + ARROW + width + 1.5
            lines.append(Line(Pen.THIN, ((-radius - ARROW - 1.5, y), (far, y))))
            arrows += [Arrow(-radius, y, 1, 0), Arrow(radius, y, -1, 0)]
            labels.append(Label(radius + ARROW + 0.5, y - 0.9, span.text, anchor="start", clear=True))
            widest = max(widest, far)
    top = y + sign * 3.9 if spans else beyond
    return Dimensioned(tuple(lines), tuple(arrows), tuple(labels), top, widest)
