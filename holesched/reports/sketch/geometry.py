"""The dimensioned section of one hole type: profile and steps in, lines and labels in mm on paper out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from holesched.callouts.model import Side
from holesched.reports.show import Show
from holesched.reports.sketch.dimensions import FIRST, Dimensioned, Span, depths, diameters
from holesched.reports.sketch.drawing import TEXT_MM, Drawing, Label, Line, Pen, Point, text_width
from holesched.reports.sketch.hatch import hatching
from holesched.reports.sketch.profile import Profile, profile
from holesched.tooling.model import StepKind, ToolPlan, ToolStep

WIDTH_MM, HEIGHT_MM, PLAIN_HEIGHT_MM, CAPTION_MM = 58.0, 62.0, 46.0, 4.0
"""The box a sketch has on its card, its caption under it included; the lower one is for a hole without a thread, whose card
is short: with the caption beside the sketch four stand on a page."""
SCALES = ((20, 1), (10, 1), (5, 1), (2, 1), (1, 1), (1, 2), (1, 5), (1, 10), (1, 20), (1, 50))
"""Recommended scales of ISO 5455, largest first."""
HATCH_MM = 2.2
READABLE_MM = 2.0
"""A hole is not drawn narrower than this for the sake of the lower box."""


@dataclass(frozen=True, slots=True)
class _Sizes:
    """What is to be dimensioned, in mm on the part: depths, and by their face diameters (radius, depth, text)."""

    depths: tuple[Span, ...]
    near: tuple[tuple[float, float, str], ...]
    far: tuple[tuple[float, float, str], ...]


def section(plan: ToolPlan, show: Show) -> Drawing | None:
    """The section of a hole type at the largest recommended scale that fits its box; None when nothing is planned."""
    shape = profile(plan)
    if shape is None:
        return None
    sizes = _sizes(plan, shape, show)
    unsure = plan.resolved.thickness_mm is None and not shape.broken
    tall = None
    for upper, lower in SCALES:
        drawing, beside = _draw(shape, sizes, upper / lower, f"{upper}:{lower}", unsure)
        height_mm = drawing.height + (CAPTION_MM if beside else 0)
        if drawing.width > WIDTH_MM or height_mm > HEIGHT_MM:
            continue
        if shape.threads or height_mm <= PLAIN_HEIGHT_MM:
            return drawing if tall is None or 2 * shape.widest * upper / lower >= READABLE_MM else tall
        tall = tall or drawing
    return tall or drawing


def _sizes(plan: ToolPlan, shape: Profile, show: Show) -> _Sizes:
    thickness = plan.resolved.thickness_mm
    down: list[Span] = []
    near: list[tuple[float, float, str]] = []
    far: list[tuple[float, float, str]] = []
    for step in plan.parts:
        radius = step.diameter_mm / 2
        if step.kind is StepKind.SPOT or step.unfinished or not (step.kind.makes_thread or shape.shows_radius(radius)):
            continue
        from_far = step.side is Side.FAR
        (far if from_far else near).append((radius, step.start_mm, _diameter_text(step, show)))
        depth = step.depth_mm if step.kind is not StepKind.COUNTERSINK else None
        if not step.through and depth is not None:
            if not step.kind.makes_thread and not shape.shows_depth(depth, from_far):
                continue
            down.append(_depth(shape, depth, f"{show.short(depth)}{_word(step)}", radius, from_far))
            if step.kind is StepKind.DRILL and step.tip_mm is not None and step.tip_mm - depth > 0.05:
                down.append(_depth(shape, step.tip_mm, f"{show.short(step.tip_mm)} tip", 0.0, from_far))
    if thickness is not None and not shape.broken:
        down.append(Span(0.0, thickness, f"{show.short(thickness)} part", 0.0))
    return _Sizes(tuple(dict.fromkeys(down)), _each_once(near), _each_once(far))


def _each_once(sizes: list[tuple[float, float, str]]) -> tuple[tuple[float, float, str], ...]:
    """Each diameter where it begins first: two drills of one size make one hole."""
    found: dict[tuple[float, str], float] = {}
    for radius, start, text in sizes:
        found[radius, text] = min(start, found.get((radius, text), start))
    return tuple((radius, start, text) for (radius, text), start in found.items())


def _depth(shape: Profile, depth: float, text: str, radius: float, from_far: bool) -> Span:
    """A depth from the face that the step is made from."""
    return Span(shape.floor - depth, shape.floor, text, radius, True) if from_far else Span(0.0, depth, text, radius)


def _diameter_text(step: ToolStep, show: Show) -> str:
    if step.kind.makes_thread:
        return step.step.thread.spec.name if step.step is not None and step.step.thread is not None else step.tool.size
    text = f"⌀{show.number(step.diameter_mm if show.unit == 'mm' else step.diameter_mm / 25.4, 3, least=0)}"
    zone = step.step.feature.tolerance.zone if step.step is not None and step.step.feature.tolerance is not None else None
    if step.kind in (StepKind.REAM, StepKind.BORE) and zone:
        return f"{text} {zone}"
    if step.kind is StepKind.COUNTERSINK and step.step is not None and step.step.angle_deg is not None:
        return f"{text} × {step.step.angle_deg:g}°"
    return text


def _word(step: ToolStep) -> str:
    if step.kind.makes_thread:
        return " thread"
    words = {StepKind.DRILL: " drill", StepKind.MILL: " mill", StepKind.REAM: " ream", StepKind.BORE: " bore"}
    return words.get(step.kind, "")


def _draw(shape: Profile, sizes: _Sizes, scale: float, name: str, unsure: bool) -> tuple[Drawing, bool]:
    """The section at one scale, and whether its caption stands beside it; `unsure`: the far face is drawn although the
    thickness is not known. The axis is x = 0, the near face y = 0."""
    floor = shape.floor * scale
    outline = [(z * scale, r * scale) for z, r in shape.outline]
    widest = shape.widest * scale
    half = widest + max(6.0, min(0.7 * widest, 14.0))
    lines = [*_part(outline, floor, half, shape.broken), *_hole(outline, floor), *_threads(shape, scale)]
    axis_end = floor + (1 if shape.broken or sizes.far else 3)
    lines.append(Line(Pen.AXIS, ((0.0, -3.0), (0.0, axis_end))))

    down = depths([replace(s, start=s.start * scale, end=s.end * scale, edge=s.edge * scale) for s in sizes.depths], half)
    above = _beyond([Span(-r * scale, r * scale, text, z * scale) for r, z, text in sizes.near], 0.0, down.least, half)
    below = _beyond([Span(-r * scale, r * scale, text, floor) for r, _, text in sizes.far], floor, down.longest, half)
    groups: tuple[Dimensioned, ...] = (down, above, below)
    lines += [line for group in groups for line in group.lines]
    top = min(above.reach, down.least) - 0.5
    left = min(-half - 2, above.least - 1, below.least - 1)
    right = max(down.reach, above.longest, below.longest) + 1
    lowest = max([floor, *(span.end * scale for span in sizes.depths)])
    bottom = max(lowest + 1, axis_end + 0.6, down.longest + 0.8, below.reach + 1)
    caption = f"scale {name}{', thickness not given' if unsure else ''}"
    beside = not shape.threads and right + 1 + text_width(caption) - left <= WIDTH_MM
    told = Label(right + 1, bottom - 0.8, caption, anchor="start")
    if beside:
        right += 1 + text_width(caption)
    else:
        right = max(right, text_width(caption) - half + 1)
        apart = 0.8 if text_width(caption) < 2 * half + FIRST - TEXT_MM else 4.4
        bottom = max(lowest + 4.4, axis_end + 3.6, down.longest + apart, below.reach + 4)
        told = Label(-half, bottom - 0.8, caption, anchor="start")
    drawing = Drawing(
        left,
        top,
        right - left,
        bottom - top,
        tuple(lines),
        tuple(arrow for group in groups for arrow in group.arrows),
        (
            *(label for group in groups for label in group.labels),
            told,
        ),
        name,
    )
    return drawing, beside


def _beyond(spans: Sequence[Span], face: float, texts_to: float, half: float) -> Dimensioned:
    """The diameters beyond a face; with their texts to the left where the depths' own texts come out beyond it (as far as
    `texts_to`) and would meet them."""
    up = face == 0.0
    found = diameters(spans, face, up)
    meets = found.longest > half + FIRST - TEXT_MM - 1.0 and (texts_to < face if up else texts_to > face)
    return diameters(spans, face, up, left=True) if meets else found


def _part(outline: list[Point], floor: float, half: float, broken: bool) -> list[Line]:
    """Faces, break lines and hatching of the part around the hole."""
    lines = [Line(Pen.THICK, ((-half, 0.0), (half, 0.0)))]
    lines += [Line(Pen.THIN, _zigzag((x, 0.0), (x, floor))) for x in (-half, half)]
    if broken:
        lines.append(Line(Pen.THIN, _zigzag((-half, floor), (half, floor))))
    else:
        lines.append(Line(Pen.THICK, ((-half, floor), (half, floor))))
    wall = [(r, z) for z, r in outline]
    if wall[-1][1] < floor:
        wall += [(0.0, wall[-1][1]), (0.0, floor)] if wall[-1][0] > 0 else [(0.0, floor)]
    right = [*wall, (half, floor), (half, 0.0)]
    lines += hatching(right, HATCH_MM)
    lines += hatching([(-x, y) for x, y in right], HATCH_MM)
    return lines


def _hole(outline: list[Point], floor: float) -> list[Line]:
    """The walls of the hole on both sides, and the edges seen behind the cut, one across at every corner."""
    lines = []
    for side in (1.0, -1.0):
        lines.append(Line(Pen.THICK, tuple((side * r, z) for z, r in outline)))
    widest: dict[float, float] = {}
    for z, r in outline:
        widest[z] = max(r, widest.get(z, 0.0))
    for z, r in widest.items():
        if 0.0 < z < floor and r > 0.0:
            lines.append(Line(Pen.THICK, ((-r, z), (r, z))))
    return lines


def _threads(shape: Profile, scale: float) -> list[Line]:
    """A thread as ISO 6410-1 draws it: the major diameter as thin lines, the end of the full thread as a thick line."""
    lines = []
    for thread in shape.threads:
        start = max(thread.start, _chamfer_end(shape.outline, thread.radius))
        end = min(thread.end, _chamfer_end(shape.outline[::-1], thread.radius))
        if start >= end:
            continue
        radius = thread.radius * scale
        lines += [Line(Pen.THIN, ((x, start * scale), (x, end * scale))) for x in (radius, -radius)]
        last = start if thread.from_far else end
        if 0.0 < last < shape.floor and last in (thread.start, thread.end):
            lines.append(Line(Pen.THICK, ((-radius, last * scale), (radius, last * scale))))
    return lines


def _chamfer_end(outline: Sequence[Point], radius: float) -> float:
    """The depth at which a hole, followed from one of its ends, first is as narrow as `radius`."""
    for (z0, r0), (z1, r1) in pairwise(outline):
        if r0 <= radius:
            return z0
        if r1 <= radius and r0 > r1:
            return z0 + (z1 - z0) * (r0 - radius) / (r0 - r1)
    return outline[-1][0]


def _zigzag(start: Point, end: Point) -> tuple[Point, ...]:
    """A break line of ISO 128: straight and thin, with one zigzag, clear of the axis."""
    (xa, ya), (xb, yb) = start, end
    length = ((xb - xa) ** 2 + (yb - ya) ** 2) ** 0.5
    if length < 8:
        return (start, end)
    ux, uy = (xb - xa) / length, (yb - ya) / length
    mx, my = xa + 0.28 * (xb - xa), ya + 0.28 * (yb - ya)

    def at(along: float, across: float) -> Point:
        return (mx + along * ux - across * uy, my + along * uy + across * ux)

    return (start, at(-1.2, 0), at(-0.5, 1.3), at(0.5, -1.3), at(1.2, 0), end)
