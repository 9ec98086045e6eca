"""The hole map: every known place as a dot to scale, named by its hole type's letter. Built for ten thousand holes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from math import floor, log10

from holesched.reports.show import Show
from holesched.reports.sketch.drawing import text_width
from holesched.reports.sketch.svg import FONT, num
from holesched.units import in_unit

WIDTH_MM, HEIGHT_MM, LOW_MM = 238.0, 138.0, 104.0
"""The map's box; the lower one is enough for a clear map of few holes."""
LEAST_DOT_MM, MOST_DOT_MM = 1.1, 9.0
CLEARED_MM = 3.4
"""Height of what is cleared of the grid behind a letter."""
CLEAR, FEW = 100, 300
"""Up to CLEAR holes the map is a low one; up to FEW every one may be named, beyond that letters stand on a coarser net."""


@dataclass(frozen=True, slots=True)
class Mark:
    """All holes of one type: letter, diameter at the face, places in mm, and whether it waits for an answer."""

    letter: str
    diameter_mm: float
    places: tuple[tuple[float, float], ...]
    on_hold: bool


@dataclass(frozen=True, slots=True)
class Frame:
    """How the part's coordinates lie on the paper."""

    scale: float
    left: float
    top: float
    width: float
    height: float
    grid: float

    def at(self, place: tuple[float, float]) -> tuple[float, float]:
        return ((place[0] - self.left) * self.scale, (self.top - place[1]) * self.scale)


def frame(marks: Sequence[Mark], unit_mm: float) -> Frame | None:
    """The frame of all places, with a margin and round grid lines (`unit_mm`: 1 or 25.4); None when no place is known."""
    xs = [x for mark in marks for x, _ in mark.places]
    ys = [y for mark in marks for _, y in mark.places]
    if not xs:
        return None
    margin = 0.04 * max(max(xs) - min(xs), max(ys) - min(ys)) + max(mark.diameter_mm for mark in marks)
    wide, high = max(xs) - min(xs) + 2 * margin, max(ys) - min(ys) + 2 * margin
    scale = min(WIDTH_MM / wide, (LOW_MM if len(xs) <= CLEAR else HEIGHT_MM) / high)
    grid = _round_step(28.0 / scale / unit_mm) * unit_mm
    return Frame(scale, min(xs) - margin, max(ys) + margin, wide * scale, high * scale, grid)


def hole_map(marks: Sequence[Mark], show: Show) -> str | None:
    """The map as SVG text; None when the schedule gives no places."""
    known = [mark for mark in marks if mark.places]
    fit = frame(known, 1.0 if show.unit == "mm" else 25.4)
    if fit is None:
        return None
    cleared, letters = _letters(known, fit)
    box = f"-16 -3 {num(fit.width + 22)} {num(fit.height + 12)}"
    size = f'width="{num(fit.width + 22)}mm" height="{num(fit.height + 12)}mm"'
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}" {size} role="img" aria-label="hole map" '
        f'font-family="{FONT}, sans-serif" font-size="3.2">',
        _grid(fit, show),
        cleared,
    ]
    for mark in known:
        size_mm = min(max(mark.diameter_mm * fit.scale, LEAST_DOT_MM), MOST_DOT_MM)
        dots = "".join(f"M{num(x)} {num(y)}h0" for x, y in map(fit.at, mark.places))
        parts.append(_dots(dots, size_mm, "#000"))
        if not mark.on_hold:
            parts.append(_dots(dots, max(size_mm - 0.7, 0.4), "#fff"))
    return "".join([*parts, letters, "</svg>"])


def _dots(path: str, size: float, colour: str) -> str:
    """Round-capped strokes of no length: by far the cheapest dots for a PDF writer."""
    return f'<path fill="none" stroke="{colour}" stroke-linecap="round" stroke-width="{num(size)}" d="{path}"/>'


def _letters(marks: Sequence[Mark], fit: Frame) -> tuple[str, str]:
    """Letters beside the dots, where they do not fall over each other, and before them what clears the grid behind them;
    every type's first hole is named first."""
    many = sum(len(mark.places) for mark in marks) > FEW
    net_x, net_y = (14.0, 11.0) if many else (5.2, 3.6)
    taken: set[tuple[int, int]] = set()
    texts, behind = [], []
    order = [(mark, mark.places[0]) for mark in marks]
    order += [(mark, place) for mark in marks for place in mark.places[1:]]
    for mark, place in order:
        x, y = fit.at(place)
        beside = min(max(mark.diameter_mm * fit.scale, LEAST_DOT_MM), MOST_DOT_MM) / 2
        cell = (floor((x + beside) / net_x), floor(y / net_y))
        if cell in taken:
            continue
        taken.add(cell)
        left, base = x + beside + 0.5, y - beside * 0.4
        texts.append(f'<text x="{num(left)}" y="{num(base)}">{escape(mark.letter)}</text>')
        behind.append(f"M{num(left + 1.1)} {num(base - 1.1)}H{num(left + max(1.1, text_width(mark.letter) - 1.1))}")
    return _dots("".join(behind), CLEARED_MM, "#fff"), f'<g font-weight="700">{"".join(texts)}</g>'


def _grid(fit: Frame, show: Show) -> str:
    """Grid lines at round coordinates, with their values at the left and below."""
    lines, texts = [], []
    right, bottom = fit.left + fit.width / fit.scale, fit.top - fit.height / fit.scale
    for step in range(_first(fit.left, fit.grid), floor(right / fit.grid) + 1):
        x = (step * fit.grid - fit.left) * fit.scale
        lines.append(f"M{num(x)} 0V{num(fit.height)}")
        texts.append(f'<text x="{num(x)}" y="{num(fit.height + 4.6)}" text-anchor="middle">{_value(step, fit, show)}</text>')
    for step in range(_first(bottom, fit.grid), floor(fit.top / fit.grid) + 1):
        y = (fit.top - step * fit.grid) * fit.scale
        lines.append(f"M0 {num(y)}H{num(fit.width)}")
        texts.append(f'<text x="-1.5" y="{num(y + 1.1)}" text-anchor="end">{_value(step, fit, show)}</text>')
    border = f"M0 0H{num(fit.width)}V{num(fit.height)}H0Z"
    return (
        f'<path fill="none" stroke="#000" stroke-width=".1" stroke-dasharray="1 1" d="{"".join(lines)}"/>'
        f'<path fill="none" stroke="#000" stroke-width=".18" d="{border}"/>{"".join(texts)}'
        f'<text x="{num(fit.width - 1)}" y="{num(fit.height + 8.4)}" text-anchor="end">X, {show.length_unit}</text>'
        f'<text x="-12" y="1" font-size="3.2">Y</text>'
    )


def _value(step: int, fit: Frame, show: Show) -> str:
    return show.number(in_unit(step * fit.grid, show.unit), 2, least=0)


def _first(low: float, grid: float) -> int:
    return -floor(-low / grid)


def _round_step(rough: float) -> float:
    """The next of 1, 2, 5, 10 ... at or above `rough`."""
    power = 10 ** floor(log10(rough))
    return float(next(power * factor for factor in (1, 2, 5, 10) if power * factor >= rough * (1 - 1e-9)))
