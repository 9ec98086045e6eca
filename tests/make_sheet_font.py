"""Make the sheet's font from its open-licence original: run by hand, once; the result ships in templates/.

    python tests/make_sheet_font.py FOLDER_WITH_THE_ORIGINAL_TTF_FILES

What is changed: figures of equal width become the ordinary figures (no font feature is needed in a table), the signs of
drawings that the original lacks are drawn (diameter, counterbore, countersink, depth, arrow, box), hinting and unused
layout features are dropped, and the family gets a name of its own, as the licence allows.
"""

from __future__ import annotations

import sys
from pathlib import Path

from fontTools import subset
from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont

TEMPLATES = Path(__file__).resolve().parent.parent / "templates"
FAMILY = "Holesched Sheet"
WEIGHTS = {"Regular": 80, "Bold": 130}
"""Original style -> thickness of the drawn strokes, that of the original's hyphen."""
CIRCLE = 0.5523
"""Control-point distance of a quarter circle drawn as a cubic, as a part of its radius."""

Point = tuple[float, float]


def polygon(pen: Cu2QuPen, points: list[Point]) -> None:
    pen.moveTo(points[0])
    for point in points[1:]:
        pen.lineTo(point)
    pen.closePath()


def bar(pen: Cu2QuPen, x0: float, y0: float, x1: float, y1: float) -> None:
    polygon(pen, [(x0, y0), (x0, y1), (x1, y1), (x1, y0)])


def slanted(pen: Cu2QuPen, start: Point, end: Point, thickness: float) -> None:
    """A straight stroke with square ends."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = (dx * dx + dy * dy) ** 0.5
    nx, ny = -dy / length * thickness / 2, dx / length * thickness / 2
    polygon(
        pen,
        [
            (start[0] + nx, start[1] + ny),
            (end[0] + nx, end[1] + ny),
            (end[0] - nx, end[1] - ny),
            (start[0] - nx, start[1] - ny),
        ],
    )


def circle(pen: Cu2QuPen, x: float, y: float, radius: float, clockwise: bool) -> None:
    r, way = radius, -radius if clockwise else radius
    c, bend = radius * CIRCLE, way * CIRCLE
    pen.moveTo((x + r, y))
    pen.curveTo((x + r, y + bend), (x + c, y + way), (x, y + way))
    pen.curveTo((x - c, y + way), (x - r, y + bend), (x - r, y))
    pen.curveTo((x - r, y - bend), (x - c, y - way), (x, y - way))
    pen.curveTo((x + c, y - way), (x + r, y - bend), (x + r, y))
    pen.closePath()


def diameter(pen: Cu2QuPen, t: float) -> int:
    circle(pen, 360, 334, 270, True)
    circle(pen, 360, 334, 270 - t, False)
    slanted(pen, (120, -40), (600, 708), t)
    return 720


def counterbore(pen: Cu2QuPen, t: float) -> int:
    bar(pen, 70, 0, 70 + t, 520)
    bar(pen, 650 - t, 0, 650, 520)
    bar(pen, 70, 0, 650, t)
    return 720


def countersink(pen: Cu2QuPen, t: float) -> int:
    slanted(pen, (90, 540), (360, 40), t)
    slanted(pen, (360, 40), (630, 540), t)
    return 720


def depth(pen: Cu2QuPen, t: float) -> int:
    bar(pen, 70, 668 - t, 530, 668)
    bar(pen, 300 - t / 2, 180, 300 + t / 2, 668)
    polygon(pen, [(300, 0), (130, 250), (470, 250)])
    return 600


def arrow(pen: Cu2QuPen, t: float) -> int:
    bar(pen, 70, 300 - t / 2, 520, 300 + t / 2)
    polygon(pen, [(740, 300), (480, 130), (480, 470)])
    return 800


def box(pen: Cu2QuPen, t: float) -> int:
    bar(pen, 70, 0, 670, 600)
    polygon(pen, [(70 + t, t), (670 - t, t), (670 - t, 600 - t), (70 + t, 600 - t)])
    return 740


SIGNS = {0x2300: diameter, 0x2334: counterbore, 0x2335: countersink, 0x21A7: depth, 0x2192: arrow, 0x25A1: box, 0x2610: box}


def draw_signs(font: TTFont, thickness: float) -> None:
    for code, draw in SIGNS.items():
        name = f"uni{code:04X}"
        glyph_pen = TTGlyphPen(None)
        width = draw(Cu2QuPen(glyph_pen, max_err=1.0, reverse_direction=False), thickness)
        glyph = glyph_pen.glyph()
        font["glyf"][name] = glyph
        glyph.recalcBounds(font["glyf"])
        font["hmtx"][name] = (width, glyph.xMin)
        for table in font["cmap"].tables:
            if table.isUnicode():
                table.cmap[code] = name


def equal_figures(font: TTFont) -> None:
    """Point the figures' code points at the glyphs of equal width."""
    for table in font["cmap"].tables:
        for code, name in list(table.cmap.items()):
            if 0x30 <= code <= 0x39 and not name.endswith(".tf"):
                table.cmap[code] = f"{name}.tf"


def rename(font: TTFont, style: str) -> None:
    names = font["name"]
    notice = names.getDebugName(0)
    names.names = []
    for number, text in {
        0: f"{notice} Changed in figures, signs and name; see OFL.txt.",
        1: FAMILY,
        2: style,
        4: f"{FAMILY} {style}",
        5: "Version 1",
        6: f"{FAMILY.replace(' ', '')}-{style}",
        13: "SIL Open Font License, Version 1.1",
    }.items():
        names.setName(text, number, 3, 1, 0x409)


def make(original: Path, style: str, thickness: float) -> Path:
    font = TTFont(original, recalcTimestamp=False)
    equal_figures(font)
    draw_signs(font, thickness)
    options = subset.Options(
        layout_features=["kern", "mark", "mkmk", "ccmp", "locl"], hinting=False, name_IDs=["*"], notdef_outline=True
    )
    chooser = subset.Subsetter(options)
    chooser.populate(unicodes=sorted(font.getBestCmap()))
    chooser.subset(font)
    rename(font, style)
    font.flavor = "woff2"
    target = TEMPLATES / f"sheet-{style.lower()}.woff2"
    font.save(target)
    return target


def main() -> None:
    folder = Path(sys.argv[1])
    for style, thickness in WEIGHTS.items():
        (original,) = folder.glob(f"*-{style}.ttf")
        target = make(original, style, thickness)
        print(target.name, target.stat().st_size)


if __name__ == "__main__":
    main()
