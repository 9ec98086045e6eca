"""Writes example_inputs/: three invented jobs and a shop file. `python tests/make_example_inputs.py [folder]`.

Each job carries one deliberate mistake that the sheet must turn into a question:
manifold_block.xlsx    M12 in row H1: the stated drilled depth, with its point, breaks through the 50 mm block
bearing_housing.xlsx   row J: 1/4-20 is UNC, not UNF
sensor_plate.ods       row D2 stands at the place of row D1

The parts, their numbers and the shop are invented. Running it again gives the same cells, and the same bytes with the
same openpyxl and zlib.
"""

from __future__ import annotations

import io
import re
import sys
import zipfile
from collections.abc import Iterable, Sequence
from datetime import datetime
from pathlib import Path
from xml.sax.saxutils import escape

from openpyxl import Workbook
from openpyxl.styles import Alignment, Font
from openpyxl.worksheet.worksheet import Worksheet

from holesched.shop.read_toml import sample_shop_toml

Row = Sequence[str | float | int | None]
FOLDER = Path(__file__).resolve().parent.parent / "example_inputs"
INVENTED = "Invented example: not a real part"
FIXED = (1980, 1, 1, 0, 0, 0)
"""Date of every member of an archive, so that the bytes do not change with the day."""


def holes(letter: str, callout: str, places: Iterable[tuple[float, float]], note: str = "") -> list[Row]:
    """One row a hole: tag, X, Y, callout, quantity, note."""
    return [(f"{letter}{number}", x, y, callout, 1, note or None) for number, (x, y) in enumerate(places, start=1)]


def manifold_block() -> list[Row]:
    """A valve manifold, 180 x 120 x 50 mm, wrought aluminium; origin at the lower left corner. One row a hole."""
    stations = (36, 72, 108, 144)
    edge = [(8, 8), (49, 8), (90, 8), (131, 8), (172, 8), (172, 43), (172, 77), (172, 112), (131, 112), (90, 112), (49, 112),
            (8, 112), (8, 77), (8, 43)]  # fmt: skip
    clamps = [(x + dx, y) for x in stations for dx in (-11, 11) for y in (38, 82)]
    ports = [(x, y) for x in stations for y in (48, 60, 72)]
    feet = [(x, y) for y in (24, 96) for x in (24, 66, 114, 150)]
    table = [
        *holes("A", "M6-6H ↧12", edge, "cover plate"),
        *holes("B", "M5-6H ↧10", clamps, "valve clamps"),
        *holes("C", "M10x1.25-6H ↧20", [(45, 22), (135, 22), (45, 98), (135, 98)], "test points"),
        *holes("D", "Ø6.8 THRU; M8-6H ↧16", [(90, 24), (90, 52), (90, 68), (90, 96)], "fixture"),
        *holes("E", "Ø6.6 THRU ⌴ Ø11 ↧6.8", feet, "M6 socket head cap screws"),
        *holes("F", "Ø8 H7 ↧16", [(18, 60), (162, 60)], "dowels"),
        *holes("G", "Ø6 H7 THRU", [(54, 60), (126, 60)], "dowels"),
        *holes("H", "Ø10.2 ↧48; M12-6H ↧28", [(164, 30)], "swivel ring"),
        *holes("K", "Ø7 ↧32", ports, "valve ports"),
    ]
    return [
        ("Part number", "MB-1042", None, "Drawing", "MB-1042-02"),
        ("Part name", "Valve manifold block", None, "Rev", "C"),
        ("Material", "EN AW-6082 T6", None, "Thickness", "50 mm"),
        ("Units", "mm", None, "Lot", 25),
        (INVENTED,),
        (),
        ("HOLE TABLE",),
        ("TAG", "X", "Y", "CALLOUT", "QTY", "NOTE"),
        *table,
        ("TOTAL", None, None, None, len(table), None),
        ("NOTE: BREAK ALL EDGES 0.3 X 45°. X0 Y0 = LOWER LEFT CORNER.",),
    ]


def bearing_housing() -> list[Row]:
    """A bearing housing of grey cast iron, inch. One row a hole type, no places."""
    return [
        ("Invented example: not a real part",),
        ("PART NO: BH-2207", None, "REV: A"),
        ("PART NAME: Bearing housing", None, "DWG NO: BH-2207-1"),
        ("MATERIAL: Gray iron ASTM A48 Class 35", None, "THICKNESS: 1.50 in"),
        ("ALL DIMENSIONS IN INCHES",),
        (),
        ("HOLE", "QTY", "HOLE SIZE", "REMARKS"),
        ("A", 4, "4X Ø.531 THRU ⌴ SF Ø1.06 ↧.06", "base, 1/2 bolts"),
        ("B", 6, "6X 3/8-16 UNC-2B ↧.88", "bearing cap"),
        ("C", 4, "4X Ø.281 THRU ⌴ Ø.438 ↧.26", "1/4 socket head cap screws"),
        ("D", 2, "2X Ø.2500 +.0005/-.0000 REAM ↧.62", "dowels"),
        ("E", 4, "4X #10-32 UNF-2B ↧.38", "seal retainer"),
        ("F", 4, "4X 8-32 UNC-2B ↧.32", "name plate"),
        ("G", 4, "4X Ø.257 THRU ⌵ Ø.507 X 82°", "guard, 1/4 flat head"),
        ("H", 1, "1/8-27 NPT THRU", "grease"),
        ("J", 4, "4X 1/4-20 UNF-2B ↧.50", "sensor bracket"),
        ("K", 2, "2X 1/2-13 UNC-2B THRU", "jack screws"),
        ("L", 8, "8X 5/16-18 UNC-2B ↧.62", "end cover"),
        ("M", 2, "2X #7 DRILL THRU", "vents"),
        (None, 45, "TOTAL HOLES", None),
    ]


def sensor_plate() -> list[Row]:
    """A sensor plate, 80 x 60 x 12 mm, stainless steel; German header, decimal comma in the callouts."""
    corners = [(6, 6), (40, 6), (74, 6), (74, 54), (40, 54), (6, 54)]
    clamps = [(x, y) for y in (18, 42) for x in (18, 30, 50, 62)]
    table = [
        *holes("A", "Ø2,5 durch; M3-6H ↧6", corners, "Deckel"),
        *holes("B", "M4x0,5-6H ↧8", clamps, "Klemmung"),
        *holes("C", "M8x1-6H durch", [(24, 30), (40, 30), (56, 30)], "Sensor"),
        *holes("D", "Ø4 H7 durch", [(12, 30), (12, 30)], "Passstift"),
        *holes("E", "Ø3 H7 ↧6", [(12, 48.5), (68, 11.5)], "Passstift"),
        *holes("F", "Ø4,5 durch ⌴ Ø8 ↧4,4", [(24, 8), (56, 8), (24, 52), (56, 52)], "Zylinderschraube M4"),
    ]
    return [
        ("Teilenummer", "SP-318", None, "Index", "B"),
        ("Benennung", "Sensorplatte", None, "Zeichnung", "SP-318-00"),
        ("Werkstoff", "1.4404 (316L)", None, "Dicke", "12 mm"),
        (f"{INVENTED} (erfundenes Beispiel)",),
        (),
        ("Pos", "X [mm]", "Y [mm]", "Bohrung", "Anzahl", "Bemerkung"),
        *table,
    ]


def xlsx_bytes(title: str, rows: Sequence[Row], widths: Sequence[float]) -> bytes:
    """The rows as a workbook that reads well; texts are stored as texts."""
    book = Workbook()
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    sheet.title = title
    for row in rows:
        sheet.append(list(row))
    header = next(number for number, row in enumerate(rows, start=1) if len(row) > 3 and {"TAG", "HOLE"} & set(row))
    for cells in sheet.iter_rows():
        for cell in cells:
            cell.alignment = Alignment(vertical="top", wrap_text=cell.row >= header and cell.column_letter != "A")
            if isinstance(cell.value, str):
                cell.number_format = "@"
            if cell.row == header:
                cell.font = Font(bold=True)
    for letter, width in zip("ABCDEF", widths, strict=False):
        sheet.column_dimensions[letter].width = width
    sheet.freeze_panes = f"A{header + 1}"
    book.properties.creator = "holesched"
    book.properties.created = datetime(*FIXED)
    written = io.BytesIO()
    book.save(written)
    return _with_fixed_dates(written.getvalue())


def _with_fixed_dates(data: bytes) -> bytes:
    """The same archive with every date in it set to FIXED."""
    stamp = datetime(*FIXED).strftime("%Y-%m-%dT%H:%M:%SZ").encode()
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        members = {name: archive.read(name) for name in archive.namelist()}
    core = members["docProps/core.xml"]
    members["docProps/core.xml"] = re.sub(rb"(<dcterms:modified[^>]*>)[^<]*", rb"\g<1>" + stamp, core)
    return _archive(members)


def ods_bytes(title: str, rows: Sequence[Row]) -> bytes:
    """The rows as a minimal OpenDocument spreadsheet (OASIS OpenDocument 1.3, parts 2 and 3)."""
    lines = "".join(f"<table:table-row>{''.join(map(_ods_cell, row)) or _ods_cell(None)}</table:table-row>" for row in rows)
    spaces = {"office": "office", "table": "table", "text": "text", "style": "style", "manifest": "manifest"}
    names = " ".join(f'xmlns:{k}="urn:oasis:names:tc:opendocument:xmlns:{v}:1.0"' for k, v in spaces.items())
    kind = "application/vnd.oasis.opendocument.spreadsheet"
    content = (
        f'<?xml version="1.0" encoding="UTF-8"?><office:document-content {names} office:version="1.3"><office:body>'
        f'<office:spreadsheet><table:table table:name="{escape(title)}">{lines}</table:table></office:spreadsheet>'
        "</office:body></office:document-content>"
    )
    entries = "".join(
        f'<manifest:file-entry manifest:full-path="{path}" manifest:media-type="{media}"/>'
        for path, media in (("/", kind), ("content.xml", "text/xml"))
    )
    start = f'<?xml version="1.0" encoding="UTF-8"?><manifest:manifest {names} manifest:version="1.3">'
    manifest = f"{start}{entries}</manifest:manifest>"
    return _archive({"mimetype": kind.encode(), "content.xml": content.encode(), "META-INF/manifest.xml": manifest.encode()})


def _ods_cell(value: str | float | int | None) -> str:
    if value is None:
        return "<table:table-cell/>"
    if isinstance(value, str):
        return f'<table:table-cell office:value-type="string"><text:p>{escape(value)}</text:p></table:table-cell>'
    return f'<table:table-cell office:value-type="float" office:value="{value}"><text:p>{value}</text:p></table:table-cell>'


def _archive(members: dict[str, bytes]) -> bytes:
    """A zip archive of the members in their order; the mimetype is stored, as OpenDocument wants it."""
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w") as archive:
        for name, data in members.items():
            entry = zipfile.ZipInfo(name, FIXED)
            entry.compress_type = zipfile.ZIP_STORED if name == "mimetype" else zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, data)
    return written.getvalue()


def shop_toml() -> str:
    """The commented sample with an invented shop's name set."""
    return sample_shop_toml().replace('# shop_name = ""', 'shop_name = "Example machine shop (invented)"')


def example_inputs() -> dict[str, bytes]:
    """File name -> content of every example."""
    return {
        "manifold_block.xlsx": xlsx_bytes("HOLE TABLE", manifold_block(), (14, 22, 8, 26, 14, 26)),
        "bearing_housing.xlsx": xlsx_bytes("Holes", bearing_housing(), (8, 8, 38, 28)),
        "sensor_plate.ods": ods_bytes("Bohrungen", sensor_plate()),
        "shop.toml": shop_toml().encode(),
    }


def main() -> None:
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else FOLDER
    folder.mkdir(parents=True, exist_ok=True)
    for name, data in example_inputs().items():
        (folder / name).write_bytes(data)
        print(folder / name)


if __name__ == "__main__":
    main()
