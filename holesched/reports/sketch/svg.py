"""A drawing as SVG text: one path a line weight, fixed decimals, no style sheet (a PDF writer reads attributes best)."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from holesched.reports.sketch.dimensions import ARROW
from holesched.reports.sketch.drawing import TEXT_MM, Arrow, Drawing, Label, Line, Pen, text_width

FONT = "Holesched Sheet"
STROKES = {
    Pen.HATCH: 'stroke-width=".13"',
    Pen.THIN: 'stroke-width=".18"',
    Pen.AXIS: 'stroke-width=".18" stroke-dasharray="4 .8 .6 .8"',
    Pen.THICK: 'stroke-width=".5" stroke-linejoin="round" stroke-linecap="round"',
}


def svg(drawing: Drawing, title: str) -> str:
    """The drawing as one inline SVG element, sized in mm so that its scale is true on paper."""
    box = f"{num(drawing.left)} {num(drawing.top)} {num(drawing.width)} {num(drawing.height)}"
    size = f'width="{num(drawing.width)}mm" height="{num(drawing.height)}mm"'
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}" {size} role="img" aria-label="{escape(title)}" '
        f'font-family="{FONT}, sans-serif" font-size="{TEXT_MM}">'
    ]
    for pen, stroke in STROKES.items():
        path = "".join(_path(line) for line in drawing.lines if line.pen is pen)
        if path:
            parts.append(f'<path fill="none" stroke="#000" {stroke} d="{path}"/>')
    if drawing.arrows:
        parts.append(f'<path d="{"".join(_head(arrow) for arrow in drawing.arrows)}"/>')
    parts += [_clearing(label) for label in drawing.labels if label.clear]
    parts += [_text(label) for label in drawing.labels]
    return "".join([*parts, "</svg>"])


def num(value: float) -> str:
    """A coordinate with two decimals at most: 12, 3.5, -0.25."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _path(line: Line) -> str:
    return "M" + "L".join(f"{num(x)} {num(y)}" for x, y in line.points)


def _head(arrow: Arrow) -> str:
    """A closed, filled head of about 20 degrees."""
    back_x, back_y = arrow.x - ARROW * arrow.dx, arrow.y - ARROW * arrow.dy
    across_x, across_y = -0.42 * arrow.dy, 0.42 * arrow.dx
    corners: Iterable[tuple[float, float]] = (
        (arrow.x, arrow.y),
        (back_x + across_x, back_y + across_y),
        (back_x - across_x, back_y - across_y),
    )
    return "M" + "L".join(f"{num(x)} {num(y)}" for x, y in corners) + "Z"


def _clearing(label: Label) -> str:
    """White ground behind a text that stands where lines pass."""
    width, height = text_width(label.text) + 0.3, 2.9
    left, top = label.x - 0.3, label.y - 2.5
    if label.turned:
        left, top, width, height = label.x - 2.5, label.y - width / 2, height, width
    box = f'x="{num(left)}" y="{num(top)}" width="{num(width)}" height="{num(height)}"'
    return f'<rect {box} fill="#fff"/>'


def _text(label: Label) -> str:
    turn = f' transform="rotate(-90 {num(label.x)} {num(label.y)})"' if label.turned else ""
    anchor = "" if label.anchor == "start" else f' text-anchor="{label.anchor}"'
    return f'<text x="{num(label.x)}" y="{num(label.y)}"{anchor}{turn}>{escape(label.text)}</text>'
