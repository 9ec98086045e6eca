"""The depth ruler of a blind tapped hole: where its depth goes, to scale, as numbers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from holesched.reports.show import Show
from holesched.reports.sketch.drawing import Drawing, Label, Line, Pen, Point, text_width
from holesched.reports.sketch.hatch import hatching
from holesched.tooling.model import DepthBudget

LENGTH_MM, BAR_MM, BEYOND_MM = 76.0, 3.6, 6.0
"""The longest ruler, its height, and the room to its right; a shorter one leaves room for the name of a thin wall."""
WALL_MM = 18.0
"""The wall left takes no more of the ruler; a thicker one is drawn broken, so that what is above it can be read."""
ROW_MM, TICK_MM, GAP_MM = 3.2, 1.2, 1.2
"""Between rows of words or numbers, from the bar to the first row, and between two that stand side by side."""
FULL_THREAD, POINT, WALL = "full thread", "point", "wall left"
BLANK = "______"
"""Where what is measured is written in; a sheet has a box there."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """One part of the depth, from `start` to `end` in mm below the face."""

    name: str
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class _Name:
    """A word over the ruler: its place, and the width of what it names."""

    x: float
    text: str
    room: float


def stretches(budget: DepthBudget) -> tuple[Stretch, ...]:
    """Full thread, tap chamfer, clearance, drill point and, when the thickness is known, the wall left."""
    chamfered = budget.full_thread_mm + budget.chamfer_mm
    found = [
        Stretch(FULL_THREAD, 0.0, budget.full_thread_mm),
        Stretch("chamfer", budget.full_thread_mm, min(chamfered, budget.drilled_mm)),
        Stretch("clearance", chamfered, budget.drilled_mm),
        Stretch(POINT, budget.drilled_mm, budget.tip_mm),
    ]
    if budget.wall_left_mm is not None:
        found.append(Stretch(WALL, budget.tip_mm, budget.tip_mm + budget.wall_left_mm))
    return tuple(stretch for stretch in found if stretch.end - stretch.start > 1e-6)


def ruler(budget: DepthBudget, show: Show) -> Drawing:
    """The ruler as a drawing: every part named above it, every depth below it, the wall left at its end.

    A wall of unknown thickness is an empty box to fill in; what lies beyond it and is passed by the tip is a thick line.
    """
    parts = stretches(budget)
    wall = budget.wall_left_mm
    last = "measure" if wall is None else f"{show.short(wall)} left" if wall > 0 else budget.wall_to.upper()
    scale = LENGTH_MM / max(part.end for part in parts)
    wall_mm = WALL_MM if wall is None else min(max(wall, 0.0) * scale, WALL_MM)
    broken = wall is not None and wall * scale > WALL_MM
    far = LENGTH_MM if text_width(last) < wall_mm else LENGTH_MM + BEYOND_MM - text_width(last)
    wall_mm = wall_mm if wall is None or broken else wall_mm * far / LENGTH_MM
    scale = (far - wall_mm) / budget.tip_mm
    tip = budget.tip_mm * scale
    lines: list[Line] = []
    names: list[_Name] = []
    depths: list[tuple[float, str]] = []
    for part in parts:
        start, end = part.start * scale, part.end * scale
        if part.name != WALL:
            lines += _bar(part.name, start, end)
            names.append(_Name((start + end) / 2, part.name, end - start))
        if part.name in (FULL_THREAD, POINT) or part.end == budget.drilled_mm:
            depths.append((end, show.short(part.end)))
    if wall is None:
        lines.append(Line(Pen.THIN, _box(tip, far)))
        names.append(_Name((tip + far) / 2, last, far - tip))
    elif wall > 0:
        lines += _wall(tip, far, broken)
        names.append(_Name((tip + far) / 2, last, far - tip))
        depths.append((far, show.short(budget.tip_mm + wall)))
    else:
        face = (budget.tip_mm + wall) * scale
        lines.append(Line(Pen.THICK, ((face, -1.0), (face, BAR_MM + 1.0))))
        names.append(_Name(face, last, 0.0))
    above, highest = _named(sorted(names, key=lambda name: name.x))
    below, lowest = _numbered(sorted(depths))
    top, bottom = highest - 2.6, lowest + 0.9
    labels = tuple(item for item in (*above, *below) if isinstance(item, Label))
    ticks = tuple(item for item in (*above, *below) if isinstance(item, Line))
    return Drawing(-4.0, top, LENGTH_MM + BEYOND_MM + 4.0, bottom - top, (*lines, *ticks), (), labels)


def in_words(budget: DepthBudget, show: Show) -> str:
    """The same in words, with what governs the drilled depth."""
    clearance = budget.drilled_mm - budget.full_thread_mm - budget.chamfer_mm
    chamfer = f"tap chamfer {show.short(budget.chamfer_mm)}, " if budget.chamfer_mm else ""
    governed = show.running(budget.governed_by)
    text = (
        f"full thread {show.short(budget.full_thread_mm)}, {chamfer}"
        f"clearance {show.short(clearance)}: drilled {show.short(budget.drilled_mm)} (governed by {governed}); "
        f"point {show.short(budget.point_mm)}: tip at {show.short(budget.tip_mm)}"
    )
    return f"{text}; {wall_in_words(budget.wall_left_mm, budget.wall_to, show)}"


def wall_in_words(wall_mm: float | None, wall_to: str, show: Show) -> str:
    """What is left under a tip, or room to write it in where the part's thickness is unknown."""
    if wall_mm is None:
        return f"thickness not given, material left under the tip: {BLANK}"
    if wall_mm <= 0:
        return f"PAST the {wall_to} by {show.short(-wall_mm)}"
    return f"{show.short(wall_mm)} left under the tip"


def _named(names: Sequence[_Name]) -> tuple[list[Label | Line], float]:
    """The names over the bar, and the highest baseline.

    A name with room stands over the middle of its part; another flies like a flag to the right of a pole, so high that
    neither its pole nor any other passes through a name.
    """
    placed: list[tuple[int, float, float]] = []
    found: list[Label | Line] = []
    for name in reversed(names):
        width = text_width(name.text)
        fits = width < name.room
        start = name.x - width / 2 if fits else name.x
        end, row = start + width + GAP_MM, 0
        while any(start_of < end if row_of == row else pole < end for row_of, start_of, pole in placed if row_of >= row):
            row += 1
        placed.append((row, start, name.x))
        y = -TICK_MM - ROW_MM * row
        found.append(Label(start + 0.5, y, name.text, anchor="start"))
        if not fits:
            found.append(Line(Pen.THIN, ((name.x, BAR_MM / 3), (name.x, y - 2.2))))
    return found, -TICK_MM - ROW_MM * max(row for row, _, _ in placed)


def _numbered(depths: Sequence[tuple[float, str]]) -> tuple[list[Label | Line], float]:
    """The depths under the bar's ends of stretches, in as many rows as keep them apart; and the lowest baseline."""
    ends: list[float] = []
    found: list[Label | Line] = []
    for x, text in depths:
        half = text_width(text) / 2
        row = next((number for number, taken in enumerate(ends) if x - half > taken + GAP_MM), len(ends))
        ends[row : row + 1] = [x + half]
        y = BAR_MM + TICK_MM + 2.9 + ROW_MM * row
        found += [Label(x, y, text, clear=row == 0), Line(Pen.THIN, ((x, BAR_MM), (x, y - 2.6)))]
    return found, BAR_MM + TICK_MM + 2.9 + ROW_MM * (len(ends) - 1)


def _box(start: float, end: float) -> tuple[Point, ...]:
    return ((start, 0.0), (end, 0.0), (end, BAR_MM), (start, BAR_MM), (start, 0.0))


def _wall(start: float, end: float, broken: bool) -> list[Line]:
    """The wall hatched; broken in its middle where it is longer than drawn."""
    if not broken:
        return [*hatching(_box(start, end)[:4], 1.6), Line(Pen.THIN, _box(start, end))]
    middle = (start + end) / 2
    left, right = middle - 1.0, middle + 1.0
    lines = [*hatching(_box(start, left)[:4], 1.6), *hatching(_box(right, end)[:4], 1.6)]
    lines += [Line(Pen.THIN, ((a, y), (b, y))) for a, b in ((start, left), (right, end)) for y in (0.0, BAR_MM)]
    lines += [Line(Pen.THIN, ((x + 0.5, -0.8), (x - 0.5, BAR_MM + 0.8))) for x in (left, right)]
    return [*lines, Line(Pen.THIN, ((end, 0.0), (end, BAR_MM)))]


def _bar(name: str, start: float, end: float) -> list[Line]:
    """A stretch of the bar: thread ruled across, the point drawn as a point, the rest blank."""
    if name == POINT:
        return [Line(Pen.THICK, ((start, 0.0), (end, BAR_MM / 2), (start, BAR_MM), (start, 0.0)))]
    box = Line(Pen.THICK, _box(start, end))
    if name == FULL_THREAD:
        turns = [start + 1.5 * n for n in range(1, int((end - start) / 1.5) + 1) if start + 1.5 * n < end]
        return [box, *(Line(Pen.THIN, ((x, 0.0), (x, BAR_MM))) for x in turns)]
    return [box]
