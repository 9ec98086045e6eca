"""The depth ruler of a blind tapped hole: where its depth goes, to scale, as numbers."""

from __future__ import annotations

from dataclasses import dataclass

from holesched.reports.show import Show
from holesched.reports.sketch.drawing import Drawing, Label, Line, Pen, Point, text_width
from holesched.reports.sketch.hatch import hatching
from holesched.tooling.model import DepthBudget

LENGTH_MM, BAR_MM = 84.0, 3.6


@dataclass(frozen=True, slots=True)
class Stretch:
    """One part of the depth, from `start` to `end` in mm below the face."""

    name: str
    start: float
    end: float


def stretches(budget: DepthBudget) -> tuple[Stretch, ...]:
    """Full thread, tap chamfer, clearance, drill point and, when the thickness is known, the wall left."""
    chamfered = budget.full_thread_mm + budget.chamfer_mm
    found = [
        Stretch("full thread", 0.0, budget.full_thread_mm),
        Stretch("chamfer", budget.full_thread_mm, min(chamfered, budget.drilled_mm)),
        Stretch("room", chamfered, budget.drilled_mm),
        Stretch("point", budget.drilled_mm, budget.tip_mm),
    ]
    if budget.wall_left_mm is not None:
        found.append(Stretch("wall left", budget.tip_mm, budget.tip_mm + budget.wall_left_mm))
    return tuple(stretch for stretch in found if stretch.end - stretch.start > 1e-6)


def ruler(budget: DepthBudget, show: Show) -> Drawing:
    """The ruler as a drawing; its words stand where there is room for them, the sentence beside it has them all."""
    parts = stretches(budget)
    scale = LENGTH_MM / parts[-1].end
    lines: list[Line] = []
    labels: list[Label] = []
    taken = -100.0
    for part in parts:
        start, end = part.start * scale, part.end * scale
        lines += _bar(part.name, start, end)
        width = text_width(part.name)
        if end - start >= width + 1:
            labels.append(Label((start + end) / 2, -1.0, part.name))
        number = show.short(part.end)
        if end - text_width(number) / 2 > taken + 1.5:
            lines.append(Line(Pen.THIN, ((end, BAR_MM), (end, BAR_MM + 1.4))))
            labels.append(Label(end, BAR_MM + 4.3, number))
            taken = end + text_width(number) / 2
    return Drawing(-4.0, -4.6, LENGTH_MM + 12.0, BAR_MM + 9.2, tuple(lines), (), tuple(labels))


def sentence(budget: DepthBudget, show: Show) -> str:
    """The same in words, with what governs the drilled depth."""
    room = budget.drilled_mm - budget.full_thread_mm - budget.chamfer_mm
    chamfer = f"tap chamfer {show.short(budget.chamfer_mm)}, " if budget.chamfer_mm else ""
    governed = show.running(budget.governed_by)
    text = (
        f"full thread {show.short(budget.full_thread_mm)}, {chamfer}"
        f"room {show.short(room)}: drilled {show.short(budget.drilled_mm)} (governed by {governed}); "
        f"point {show.short(budget.point_mm)}: tip at {show.short(budget.tip_mm)}"
    )
    if budget.wall_left_mm is None:
        return f"{text}; thickness not given, material left under the tip: ______"
    if budget.wall_left_mm <= 0:
        return f"{text}; THROUGH the far face by {show.short(-budget.wall_left_mm)}"
    return f"{text}; {show.short(budget.wall_left_mm)} left under the tip"


def _bar(name: str, start: float, end: float) -> list[Line]:
    """A stretch of the bar: thread ruled across, wall hatched, the point drawn as a point, the rest blank."""
    box: tuple[Point, ...] = ((start, 0.0), (end, 0.0), (end, BAR_MM), (start, BAR_MM), (start, 0.0))
    if name == "point":
        return [Line(Pen.THICK, ((start, 0.0), (end, BAR_MM / 2), (start, BAR_MM), (start, 0.0)))]
    if name == "full thread":
        turns = [start + 1.5 * n for n in range(1, int((end - start) / 1.5) + 1) if start + 1.5 * n < end]
        return [Line(Pen.THICK, box), *(Line(Pen.THIN, ((x, 0.0), (x, BAR_MM))) for x in turns)]
    if name == "wall left":
        return [*hatching(box[:4], 1.6), Line(Pen.THIN, box)]
    return [Line(Pen.THICK, box)]
