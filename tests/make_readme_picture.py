"""Make the picture of the README: run by hand when the sheets' look has changed; the result is committed.

    python tests/make_readme_picture.py

Page 1 of the manifold's process sheet and, under it, its first page of cards, as a printer would put them on paper. Needs
pdftoppm (Debian: poppler-utils).
"""

from __future__ import annotations

import subprocess
import tempfile
from datetime import date
from pathlib import Path

from PIL import Image
from pypdf import PdfReader

from holesched import __version__
from holesched.pipeline import plan_file, read_options
from holesched.reports import process_sheet
from holesched.reports.base import RunStamp
from holesched.reports.html import render
from holesched.reports.pdf import to_pdf
from holesched.shop.model import Shop

INPUTS = Path(__file__).resolve().parent.parent / "example_inputs"
PICTURE = INPUTS / "process_sheet.png"
STAMP = RunStamp(date(2026, 1, 2), __version__)
WIDE, EDGE, GAP = 1200, 24, 24
"""Pixels: the picture's width, the margin that is left of the paper's, and the grey between the two pages."""
GREYS = 8


def pages(folder: Path) -> tuple[Path, Path]:
    """Page 1 of the process sheet and its first page with a blind tapped hole, as PNG files."""
    shop = Shop()
    job = plan_file(INPUTS / "manifold_block.xlsx", shop, read_options(shop))
    html = render(process_sheet.REPORT.template, process_sheet.build(job, shop, STAMP), STAMP)
    (folder / "sheet.pdf").write_bytes(to_pdf(html, STAMP))
    subprocess.run(
        ["pdftoppm", "-png", "-gray", "-scale-to-x", str(2 * WIDE), "-scale-to-y", "-1", "sheet.pdf", "page"],
        cwd=folder,
        check=True,
    )
    texts = [page.extract_text() for page in PdfReader(folder / "sheet.pdf").pages]
    cards = next(number for number, text in enumerate(texts) if "full thread" in text)
    found = sorted(folder.glob("page-*.png"))
    return found[0], found[cards]


def trimmed(page: Path) -> Image.Image:
    """A page at the picture's width, its white edges cut to EDGE."""
    with Image.open(page) as opened:
        image = opened.convert("L")
    left, top, right, bottom = image.point(lambda level: 255 if level < 250 else 0).getbbox() or (0, 0, *image.size)
    image = image.crop((left - EDGE, top - EDGE, right + EDGE, bottom + EDGE))
    return image.resize((WIDE, round(image.height * WIDE / image.width)), Image.Resampling.LANCZOS)


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        first, cards = map(trimmed, pages(Path(folder)))
    picture = Image.new("L", (WIDE, first.height + GAP + cards.height), 200)
    picture.paste(first, (0, 0))
    picture.paste(cards, (0, first.height + GAP))
    picture.quantize(GREYS).save(PICTURE, optimize=True)
    print(f"{PICTURE.name}: {picture.width} x {picture.height}, {PICTURE.stat().st_size / 1000:.0f} kB")


if __name__ == "__main__":
    main()
