"""Makes schedule files as they come from outside: messy, mangled, broken and hostile. `python tests/make_corpus.py FOLDER`.

tests/corpus/files.csv says what must come of each. All parts are invented. Each maker takes the path to write to.
"""

from __future__ import annotations

import io
import re
import struct
import sys
import zipfile
import zlib
from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from pathlib import Path

from make_example_inputs import ods_bytes
from openpyxl import Workbook
from openpyxl.styles import Font
from openpyxl.worksheet.worksheet import Worksheet

Rows = Sequence[Sequence[object]]
Maker = Callable[[Path], object]
TITLE: Rows = [("Part number", "INV-7"), ("Material", "EN AW-6082", "", "Thickness", "20 mm"), ("Units", "mm")]
HEADER = ("TAG", "X", "Y", "CALLOUT", "QTY", "NOTE")
HOLES: Rows = [("A1", 10, 20, "M6-6H ↧12", 1, ""), ("A2", 40, 20, "M6-6H ↧12", 1, ""), ("B1", 70, 20, "Ø6.6 THRU", 1, "x")]
TABLE: Rows = [*TITLE, HEADER, *HOLES]
SHEET, STRINGS = "xl/worksheets/sheet1.xml", "xl/sharedStrings.xml"
STORED = Path(__file__).parent / "unit" / "schedule"
OLD_XLS = STORED / "small.xls"


def separated(rows: Rows, separator: str = ",", ends: str = "\n") -> str:
    """Rows as a separated text; cells with a separator, a quotation mark or a line break in quotation marks."""

    def cell(value: object) -> str:
        text = str(value)
        return '"' + text.replace('"', '""') + '"' if set(text) & {separator, '"', "\n", "\r"} else text

    return ends.join(separator.join(map(cell, row)) for row in rows) + ends


def text(rows: Rows, encoding: str = "utf-8", separator: str = ",", before: str = "", ends: str = "\n") -> Maker:
    return lambda path: path.write_bytes((before + separated(rows, separator, ends)).encode(encoding))


def raw(data: bytes) -> Maker:
    return lambda path: path.write_bytes(data)


def sheets(named: dict[str, Rows], change: Callable[[Workbook], object] | None = None) -> Maker:
    return lambda path: path.write_bytes(workbook(named, change))


def workbook(sheets: dict[str, Rows], change: Callable[[Workbook], object] | None = None) -> bytes:
    """A workbook of openpyxl; texts that begin with = are formulas, as openpyxl has it."""
    book = Workbook()
    active = book.active
    assert isinstance(active, Worksheet)
    book.remove(active)
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append([None if value == "" else value for value in row])
    if change:
        change(book)
    written = io.BytesIO()
    book.save(written)
    return written.getvalue()


def xlsx(rows: Rows, change: Callable[[Worksheet], object] | None = None) -> Maker:
    """One sheet, "Holes"; `change` marks it before it is saved."""
    marked = None if change is None else lambda book: change(book["Holes"])
    return lambda path: path.write_bytes(workbook({"Holes": rows}, marked))


def members(data: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def packed(parts: Iterable[tuple[str, bytes]]) -> bytes:
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in parts:
            archive.writestr(name, data)
    return written.getvalue()


def with_members(change: Callable[[dict[str, bytes]], object], rows: Rows = TABLE) -> Maker:
    """A workbook whose archive has been changed by hand."""

    def make(path: Path) -> None:
        parts = members(workbook({"Holes": rows}))
        change(parts)
        path.write_bytes(packed(parts.items()))

    return make


def replaced(member: str, old: bytes, new: bytes, rows: Rows = TABLE) -> Maker:
    def change(parts: dict[str, bytes]) -> None:
        assert old in parts[member], f"{old!r} is not in {member}"
        parts[member] = parts[member].replace(old, new)

    return with_members(change, rows)


def bomb(inflated: int) -> bytes:
    """An archive whose sheet inflates to `inflated` spaces and declares a thousand bytes."""
    packer = zlib.compressobj(9, zlib.DEFLATED, -15)
    piece = b" " * (1 << 20)
    content = b"".join([packer.compress(piece) for _ in range(inflated >> 20)]) + packer.flush()
    name = SHEET.encode()
    fixed = struct.pack("<HHHHHIIIHH", 20, 0, 8, 0, 33, 0, len(content), 1000, len(name), 0)
    local = b"PK\x03\x04" + fixed + name + content
    central = b"PK\x01\x02" + struct.pack("<H", 20) + fixed + struct.pack("<HHHII", 0, 0, 0, 0, 0) + name
    return local + central + b"PK\x05\x06" + struct.pack("<HHHHIIH", 0, 0, 1, 1, len(central), len(local), 0)


def merged_header(sheet: Worksheet) -> None:
    """Two header rows, the upper one merged over the lower."""
    sheet.merge_cells("B4:C4")
    for column in "ADEF":
        sheet.merge_cells(f"{column}4:{column}5")


def hidden(sheet: Worksheet) -> None:
    sheet.row_dimensions[6].hidden = True
    sheet.column_dimensions["F"].hidden = True


def hidden_sheet(book: Workbook) -> None:
    book["Holes"].sheet_state = "hidden"


def quoted(row: Sequence[object]) -> Sequence[object]:
    """Numbers as texts behind the sign that keeps them texts."""
    return [f"'{value}" if isinstance(value, int) else value for value in row]


def dates(sheet: Worksheet) -> None:
    """5/16 and 10-32 as a spreadsheet keeps them once it has taken them for dates."""
    sheet["D5"], sheet["D6"] = datetime(2026, 5, 16), datetime(1932, 10, 1)
    sheet["D5"].number_format, sheet["D6"].number_format = "d-mmm", "mmm-yy"


def bare_formula(sheet: Worksheet) -> None:
    sheet["D5"] = '="M6-6H"&" ↧12"'


def error(sheet: Worksheet) -> None:
    sheet["D5"].value, sheet["D5"].data_type = "#NAME?", "e"


def diameter_in_format(sheet: Worksheet) -> None:
    sheet["D7"], sheet["D7"].number_format = 6.6, '"Ø"0.0'


def struck(sheet: Worksheet) -> None:
    for column in "ABCDEF":
        sheet[f"{column}6"].font = Font(strike=True)


def shared_strings(parts: dict[str, bytes]) -> None:
    """Texts moved out of their cells into a list of their own, as most programs write them (openpyxl does not)."""
    texts: list[bytes] = []

    def number(match: re.Match[bytes]) -> bytes:
        texts.append(match[2])
        return match[1] + b't="s"><v>%d</v></c>' % (len(texts) - 1)

    parts[SHEET] = re.sub(rb'(<c\b[^>]*)t="inlineStr"><is>(.*?)</is></c>', number, parts[SHEET])
    main = b"http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    items = b"".join(b"<si>" + text + b"</si>" for text in texts)
    parts[STRINGS] = b'<sst xmlns="' + main + b'" count="%d">' % len(texts) + items + b"</sst>"
    kind = b"http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings"
    link = b'<Relationship Id="rIdS" Type="' + kind + b'" Target="sharedStrings.xml"/></Relationships>'
    name = "xl/_rels/workbook.xml.rels"
    parts[name] = parts[name].replace(b"</Relationships>", link)
    of_strings = b"application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"
    entry = b'<Override PartName="/xl/sharedStrings.xml" ContentType="' + of_strings + b'"/></Types>'
    parts["[Content_Types].xml"] = parts["[Content_Types].xml"].replace(b"</Types>", entry)


def raised_runs(parts: dict[str, bytes]) -> None:
    """Ø8 with +0.015 raised and 0 lowered: three runs that read "Ø8+0.0150" when they are joined."""
    shared_strings(parts)
    runs = (
        "<r><t>Ø8</t></r><r><rPr><vertAlign val='superscript'/></rPr><t>+0.015</t></r>"
        "<r><rPr><vertAlign val='subscript'/></rPr><t>0</t></r>"
    ).replace("'", '"')
    plain = "<t>Ø6.6 THRU</t>".encode()
    assert plain in parts[STRINGS]
    parts[STRINGS] = parts[STRINGS].replace(plain, runs.encode())


def entity_in_strings(parts: dict[str, bytes]) -> None:
    """An entity that would read a file of the machine."""
    shared_strings(parts)
    parts[STRINGS] = b'<!DOCTYPE a [<!ENTITY x SYSTEM "file:///etc/hostname">]>' + parts[STRINGS].replace(
        b"x</t>", b"&x;</t>"
    )


def macros(parts: dict[str, bytes]) -> None:
    """A macro part as a macro-enabled workbook declares it; its content is no macro."""
    parts["xl/vbaProject.bin"] = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1 not even a macro"
    kinds = parts["[Content_Types].xml"].replace(
        b"</Types>", b'<Default Extension="bin" ContentType="application/vnd.ms-office.vbaProject"/></Types>'
    )
    parts["[Content_Types].xml"] = kinds
    name = "xl/_rels/workbook.xml.rels"
    kind = b"http://schemas.microsoft.com/office/2006/relationships/vbaProject"
    link = b'<Relationship Id="rIdM" Type="' + kind + b'" Target="vbaProject.bin"/></Relationships>'
    parts[name] = parts[name].replace(b"</Relationships>", link)


def outside_names(parts: dict[str, bytes]) -> None:
    parts["../../outside.txt"] = b"an archive's names are not paths"
    parts["/absolute.txt"] = b"nor these"


def duplicate_member(path: Path) -> None:
    parts = members(workbook({"Holes": TABLE}))
    path.write_bytes(packed([*parts.items(), (SHEET.upper(), b"<worksheet/>")]))


def protected(path: Path) -> None:
    """The container of a workbook with a password, by the name of its stream (MS-OFFCRYPTO 2.3.1, from memory)."""
    data = bytearray(OLD_XLS.read_bytes())
    start = data.index("Workbook".encode("utf-16-le"))
    data[start : start + 36] = "EncryptedPackage".encode("utf-16-le").ljust(36, b"\0")
    path.write_bytes(bytes(data))


def with_holes(*rows: Sequence[object], title: Rows = TITLE, header: Sequence[str] = HEADER) -> Rows:
    return [*title, header, *rows]


def side_by_side() -> Rows:
    left = [*HEADER[:5]]
    rows: list[Sequence[object]] = [*TITLE, (*left, "", *left)]
    rows.append(("A1", 10, 20, "M6-6H ↧12", 1, "", "B1", 10, 60, "Ø6.6 THRU", 1))
    rows.append(("A2", 40, 20, "M6-6H ↧12", 1, "", "B2", 40, 60, "Ø6.6 THRU", 1))
    rows.append(("", "", "", "", "", "", "B3", 70, 60, "Ø6.6 THRU", 1))
    return rows


def on_its_side() -> Rows:
    table = [HEADER[:5], *[row[:5] for row in HOLES]]
    return [*TITLE, *[[row[column] for row in table] for column in range(5)]]


def renamed(*words: str) -> Rows:
    """The table under other header words; the title block in English."""
    return [*TITLE, words, *HOLES]


def german() -> Rows:
    title = [("Teilenummer", "INV-7"), ("Werkstoff", "EN AW-6082", "", "Dicke", "20 mm"), ("Einheit", "mm")]
    rows = [
        ("A1", "10,5", "20", "M6-6H 12 tief", "1", "für Stützen"),
        ("A2", "40,5", "20", "Ø6,6 durch", "1", ""),
        ("A3", "70", "20", "Ø8 H7 durch", "1", "größer"),
    ]
    return [*title, ("Pos", "X [mm]", "Y [mm]", "Bohrung", "Anzahl", "Bemerkung"), *rows]


def japanese() -> Rows:
    rows = [
        ("A1", 10, 20, "M6 深さ12", 1, "表面"),
        ("A2", 40, 20, "6.6キリ 通し", 1, "取付穴"),
        ("A3", 70, 20, "M8 通し", 1, ""),
    ]
    title = [("材質", "EN AW-6082", "", "板厚", "20 mm"), ("単位", "mm")]
    return [*title, ("記号", "X", "Y", "加工", "個数", "備考"), *rows]


def contradictions() -> Rows:
    callouts = (
        "Ø9 ↧30, M8-6H ↧12",
        "M6-6H ↧15, Ø5 ↧12",
        "Ø8 ↧25",
        "Ø9 THRU ⌴ Ø8 ↧5",
        "Ø8.2 THRU, REAM Ø8 H7 THRU",
        "Ø7.4 THRU, M8-6H THRU",
    )
    return with_holes(*[(f"A{number}", 20 * number, 20, callout, 1) for number, callout in enumerate(callouts, start=1)])


def romance(words: Sequence[str], title: Sequence[str], through: str, blind: str) -> Rows:
    """A table in French, Spanish or Italian, with decimal commas."""
    material, thickness, unit = title
    rows = [("A1", "10,5", "20", f"M6 {blind} 12", "1"), ("A2", "40", "20", f"Ø6,6 {through}", "1")]
    return [(material, "EN AW-6082", "", thickness, "20 mm"), (unit, "mm"), words, *rows]


def days_from_1904(path: Path) -> None:
    parts = members(workbook({"Holes": TABLE}, lambda book: dates(book["Holes"])))
    assert b"<workbookPr />" in parts["xl/workbook.xml"]
    parts["xl/workbook.xml"] = parts["xl/workbook.xml"].replace(b"<workbookPr />", b'<workbookPr date1904="1" />')
    parts[SHEET] = parts[SHEET].replace(b"<v>46158</v>", b"<v>44696</v>").replace(b"<v>11963</v>", b"<v>10501</v>")
    path.write_bytes(packed(parts.items()))


def formats(sheet: Worksheet) -> None:
    """A fit and a diameter sign in the number format, and an X that is in inches by its format alone."""
    sheet["D5"], sheet["D5"].number_format = 8, '"Ø"0" H7"'
    sheet["D7"], sheet["D7"].number_format = 6.6, "[$⌀-407]0.0"
    sheet["B7"], sheet["B7"].number_format = 3.5, '0.0" in"'


def filtered(sheet: Worksheet) -> None:
    sheet.auto_filter.ref = "A4:F7"
    sheet.row_dimensions[5].hidden = True
    sheet.column_dimensions.group("B", "C", hidden=True)


def very_hidden_sheet(book: Workbook) -> None:
    book["Holes"].sheet_state = "veryHidden"


PLACED = ("TAG", "X", "Y", "CALLOUT")
COUNTED = ("TAG", "CALLOUT", "QTY")

MAKERS: dict[str, Maker] = {
    "utf8.csv": text(TABLE),
    "utf8_mark.csv": text(TABLE, "utf-8-sig"),
    "utf16_mark.csv": text(TABLE, "utf-16"),
    "utf16_bare.csv": text(TABLE, "utf-16-le"),
    "western.csv": text(german(), "cp1252", ";"),
    "shift_jis.csv": text(japanese(), "cp932"),
    "semicolons_decimal_commas.csv": text(german(), "utf-8", ";"),
    "tabs.tsv": text(TABLE, separator="\t"),
    "bars.csv": text(TABLE, separator="|"),
    "declared_separator.csv": text(TABLE, separator=";", before="sep=;\n"),
    "windows_line_ends.csv": text(TABLE, ends="\r\n"),
    "line_breaks_in_cells.csv": text(
        with_holes(("A1", 10, 20, "Ø6.6 THRU\n⌴ Ø11 ↧6.8", 1), ("A2", 40, 20, "M6-6H\n↧12", 1))
    ),
    "english.xlsx": xlsx(renamed("HOLE", "X LOC", "Y LOC", "HOLE SIZE", "NO. REQD", "REMARKS")),
    "german.xlsx": xlsx(german()),
    "french.csv": text(renamed("Rep.", "X", "Y", "Désignation", "Qté", "Remarque")),
    "spanish.csv": text(renamed("Pos.", "X", "Y", "Taladro", "Cantidad", "Nota")),
    "italian.csv": text(renamed("Pos.", "X", "Y", "Foro", "Q.tà", "Note")),
    "japanese.xlsx": xlsx(japanese()),
    "units_row.xlsx": xlsx([*TITLE[:2], HEADER, ("", "mm", "mm", "mm", "", ""), *HOLES]),
    "units_in_header.csv": text([*TITLE[:2], ("TAG", "X (in)", "Y (in)", "CALLOUT (mm)", "QTY", "NOTE"), *HOLES]),
    "merged_header.xlsx": xlsx(
        [*TITLE, ("TAG", "POSITION", "", "CALLOUT", "QTY", "NOTE"), ("", "X", "Y", "", "", ""), *HOLES], merged_header
    ),
    "far_from_the_corner.xlsx": xlsx([*TITLE, *[()] * 20, *[("",) * 7 + tuple(row) for row in (HEADER, *HOLES)]]),
    "shuffled_columns.csv": text([*TITLE, HEADER[::-1], *[tuple(row)[::-1] for row in HOLES]]),
    "two_tables.xlsx": xlsx([*TABLE, (), ("HOLE TABLE, VIEW B",), HEADER, ("C1", 10, 60, "Ø8 H7 THRU", 1)]),
    "side_by_side.csv": text(side_by_side()),
    "on_its_side.xlsx": xlsx(on_its_side()),
    "header_below.csv": text([*TITLE, *HOLES[::-1], HEADER]),
    "several_sheets.xlsx": sheets({"Cover": [("Invented",)], "Holes": TABLE, "Notes": [("Break edges",)]}),
    "two_sheets_with_tables.xlsx": sheets({"View A": TABLE, "View B": [HEADER, ("C1", 10, 60, "Ø8 H7 THRU", 1)]}),
    "repeated_header.csv": text([*TABLE, HEADER, ("C1", 10, 60, "Ø8 H7 THRU", 1, "")]),
    "blank_total_note.csv": text([*TABLE, (), ("TOTAL", "", "", "", 3), ("NOTE: BREAK ALL EDGES",)]),
    "total_disagrees.csv": text([*TABLE, ("TOTAL", "", "", "", 4)]),
    "deleted_rows.csv": text([*TABLE, ("C1", 10, 60, "DELETED", 1, "")]),
    "hidden_row_and_column.xlsx": xlsx(TABLE, hidden),
    "hidden_sheet.xlsx": sheets({"Cover": [("Invented",)], "Holes": TABLE}, hidden_sheet),
    "tag_ranges.csv": text(with_holes(("A1-A12", "M6-6H ↧12"), ("B1, B3", "Ø6.6 THRU"), header=("TAG", "CALLOUT"))),
    "tag_range_doubtful.csv": text(with_holes(("1-4", "M6-6H ↧12"), header=("TAG", "CALLOUT"))),
    "quantity_against_callout.csv": text(with_holes(("A", "4X M6-6H ↧12", 6), header=("TAG", "CALLOUT", "QTY"))),
    "quantity_against_tags.csv": text(with_holes(("A1-A4", "M6-6H ↧12", 6), header=("TAG", "CALLOUT", "QTY"))),
    "quantity_in_every_row.csv": text(with_holes(*[(f"A{n}", 20 * n, 20, "M6-6H ↧12", 4) for n in range(1, 5)])),
    "ditto.csv": text(with_holes(("A1", 10, 20, "M6-6H ↧12", 1), ("A2", 40, 20, "〃", 1), ("A3", 70, 20, "SAME AS A1", 1))),
    "bolt_circle.csv": text(with_holes(("A", 50, 50, "6X M6-6H ↧12 EQ SP ON Ø80 BC", 6))),
    "same_place.csv": text(with_holes(("A1", 10, 20, "M6-6H ↧12", 1), ("B1", 10, 20, "Ø6.6 THRU", 1))),
    "walls_meet.csv": text(with_holes(("A1", 10, 20, "Ø10 THRU", 1), ("A2", 16, 20, "Ø10 THRU", 1))),
    "look_alikes.csv": text(with_holes(("A1", 10, 20, "M5-6H ↧10", 1), ("B1", 40, 20, "#10-32 UNF-2B ↧10", 1))),
    "contradictions.csv": text(contradictions()),
    "no_material.csv": text([("Units", "mm"), HEADER, *HOLES]),
    "no_units.csv": text([*TITLE[:2], HEADER, ("A1", 10, 20, "Ø8", 1, ""), ("A2", 40, 20, "Ø6 THRU", 1, "")]),
    "empty_callout.csv": text(with_holes(("A1", 10, 20, "M6-6H ↧12", 1), ("A2", 40, 20, "", 1))),
    "one_coordinate.csv": text(with_holes(("A1", 10, "", "M6-6H ↧12", 1), ("A2", 40, 20, "Ø6.6 THRU", 1))),
    "merged_callout.xlsx": xlsx(
        with_holes(("A1", 10, 20, "M6-6H ↧12", 1), ("A2", 40, 20, "", 1)), lambda sheet: sheet.merge_cells("D5:D6")
    ),
    "dates.xlsx": xlsx(TABLE, dates),
    "date_serial.csv": text(with_holes(("A1", 10, 20, "11963", 1), ("A2", 40, 20, "Ø6.6 THRU", 1))),
    "date_words.csv": text(with_holes(("A1", 10, 20, "Oct-32", 1), ("A2", 40, 20, "08.Mai", 1))),
    "formula_without_value.xlsx": xlsx(TABLE, bare_formula),
    "error_value.xlsx": xlsx(TABLE, error),
    "diameter_in_format.xlsx": xlsx(TABLE, diameter_in_format),
    "shared_strings.xlsx": with_members(shared_strings),
    "raised_runs.xlsx": with_members(raised_runs),
    "struck_row.xlsx": xlsx(TABLE, struck),
    "numbers_as_text.csv": text([*TITLE, HEADER, *map(quoted, HOLES)]),
    "macros.xlsm": with_members(macros),
    "old.xls": lambda path: path.write_bytes(OLD_XLS.read_bytes()),
    "traps.xls": lambda path: path.write_bytes((STORED / "traps.xls").read_bytes()),
    "traps.ods": lambda path: path.write_bytes((STORED / "traps.ods").read_bytes()),
    "open_document.ods": raw(ods_bytes("Holes", [tuple(None if v == "" else v for v in row) for row in TABLE])),  # type: ignore[misc]
    "workbook_called.csv": xlsx(TABLE),
    "names_outside_archive.xlsx": with_members(outside_names),
    "formulas_as_text.csv": text(
        with_holes(("=1+1", 10, 20, "Ø6.6 THRU", 1, "=HYPERLINK(1)"), ("+A2", 40, 20, "@SUM(1)", 1, "-1"))
    ),
    "markup_as_text.csv": text(with_holes(("<b>A1</b>", 10, 20, "Ø6.6 THRU", 1, "<script>alert(1)</script>"))),
    "utf16_big_end.csv": text(german(), "utf-16-be", ";", before="\ufeff"),
    "utf16_tabs_japanese.tsv": text(japanese(), "utf-16", "\t"),
    "one_byte_of_another_encoding.csv": raw(separated(TABLE).encode() + b"C1,10,60,M8-6H THRU,1,caf\xe9\n"),
    "ambiguous_comma.csv": text(with_holes(("A1", "1,250", "20", "Ø6.6 THRU"), header=PLACED), separator=";"),
    "three_tables.csv": text(
        [
            *TITLE,
            (*PLACED, "", *PLACED),
            ("A1", 10, 20, "M6-6H ↧12", "", "B1", 30, 40, "Ø6.6 THRU"),
            (),
            COUNTED,
            ("C", "Ø8 THRU", 4),
        ]
    ),
    "lower_left_table.csv": text(
        [
            *TITLE,
            ("", "", "", "", *PLACED),
            ("", "", "", "", "A1", 10, 20, "M6-6H ↧12"),
            (*COUNTED, "", "A2", 10, 50, "M6-6H ↧12"),
            ("B", "Ø8 THRU", 3, "", "A3", 50, 50, "M6-6H ↧12"),
        ]
    ),
    "sorted_with_its_header.csv": text(
        [*TITLE, (), ("S1", 10, 20, "Ø8 THRU"), PLACED, ("U1", 40, 20, "Ø8 THRU"), ("U2", 70, 20, "Ø8 THRU")]
    ),
    "two_languages.csv": text(renamed("TAG / 記号", "X", "Y", "CALLOUT / 加工", "QTY (個数)", "NOTE / 備考")),
    "french_whole.csv": text(
        romance(("Repère", "Cote X", "Cote Y", "Perçage", "Qté"), ("Matière", "Épaisseur", "Unités"), "débouchant", "prof"),
        separator=";",
    ),
    "spanish_whole.csv": text(
        romance(
            ("Ref.", "Coordenada X", "Coordenada Y", "Agujero", "Cant."),
            ("Material", "Espesor", "Unidades"),
            "pasante",
            "prof.",
        ),
        "cp1252",
        ";",
    ),
    "italian_whole.csv": text(
        romance(("Rif.", "Quota X", "Quota Y", "Foro", "Quantità"), ("Materiale", "Spessore", "Unità"), "passante", "prof."),
        separator=";",
    ),
    "units_row_with_dashes.csv": text([*TITLE[:2], HEADER[:5], ("-", "mm", "mm", "mm", "-"), *[row[:5] for row in HOLES]]),
    "centimetres.csv": text([*TITLE[:2], ("Units", "cm"), HEADER, ("A1", 1, 2, "Ø6.6 THRU", 1)]),
    "subtotals.csv": text(
        with_holes(
            ("A", "M6-6H ↧12", 4),
            ("SUBTOTAL", "", 4),
            ("B", "Ø6.6 THRU", 2),
            ("SUBTOTAL", "", 2),
            ("TOTAL", "", 6),
            header=COUNTED,
        )
    ),
    "hole_in_a_note.csv": text(with_holes(("A", "M6-6H ↧12", 4), ("NOTE: 4X M8 THRU FROM FAR SIDE",), header=COUNTED)),
    "tag_lists.csv": text(
        with_holes(
            ("A1-A3, A7", "M6-6H ↧12"),
            ("B1 thru B4", "Ø6.6 THRU"),
            ("C1;C2", "Ø5 THRU"),
            ("D1...D3", "Ø4 THRU"),
            header=("TAG", "CALLOUT"),
        )
    ),
    "tag_twice.csv": text(with_holes(("A1-A4", "M6-6H ↧12"), ("A3-A6", "Ø6.6 THRU"), header=("TAG", "CALLOUT"))),
    "merged_tag.xlsx": xlsx(
        with_holes(("A", 10, 20, "Ø6.6 THRU", 1), ("", 40, 20, "Ø6.6 THRU", 1)), lambda sheet: sheet.merge_cells("A5:A6")
    ),
    "merged_quantity.xlsx": xlsx(
        with_holes(("A", "Ø6.6 THRU", 4), ("B", "Ø5 THRU", ""), header=COUNTED), lambda sheet: sheet.merge_cells("C5:C6")
    ),
    "days_from_1904.xlsx": days_from_1904,
    "number_formats.xlsx": xlsx(TABLE, formats),
    "filtered.xlsx": xlsx(TABLE, filtered),
    "very_hidden.xlsx": sheets({"Cover": [("Invented",)], "Holes": TABLE}, very_hidden_sheet),
    "full_width.csv": text(
        [*TITLE, ("ＴＡＧ", "Ｘ", "Ｙ", "ＣＡＬＬＯＵＴ"), ("Ａ１", "１０", "２０．５", "Ｍ６－６Ｈ　深さ１２")]
    ),
    "two_units_a_cell.csv": text(
        with_holes(
            ("A1", "25.4 [1.000]", "50.8 [2.000]", "Ø6.35 [.250] THRU"),
            ("A2", "25.4 [1.100]", 90, "Ø6.35 THRU"),
            header=PLACED,
        )
    ),
    "step_in_a_row_of_its_own.csv": text(with_holes(("A1", 10, 20, "Ø9 THRU", 1), ("", "", "", "⌴ Ø15 ↧8", ""))),
    "shop.toml": raw(b"[machine]\nname = 'TAG, CALLOUT'\n"),
    "archive.zip": raw(packed([("table.csv", separated(TABLE).encode())])),
    "table.numbers": raw(packed([("Index/Document.iwa", b"not read")])),
    "letter.odt": raw(packed([("content.xml", b"<office:text/>")])),
    "document_type.xlsx": replaced(SHEET, b"<worksheet", b'<!DOCTYPE a [<!ENTITY x "boom">]><worksheet'),
    "entity_in_strings.xlsx": with_members(entity_in_strings),
    "bomb.xlsx": lambda path: path.write_bytes(bomb(100 << 20)),
    "truncated.xlsx": lambda path: path.write_bytes(workbook({"Holes": TABLE})[:-400]),
    "half_a_sheet.xlsx": with_members(lambda parts: parts.update({SHEET: parts[SHEET][: len(parts[SHEET]) // 2]})),
    "duplicate_member.xlsx": duplicate_member,
    "far_cell.xlsx": xlsx(TABLE, lambda sheet: sheet.cell(1_048_576, 16_384, "far")),
    "protected.xls": protected,
    "empty.csv": raw(b""),
    "folder.xlsx": lambda path: path.mkdir(),
    "junk.csv": raw(bytes(range(1, 32)) * 40),
    "nul_bytes.csv": raw(separated(TABLE).encode().replace(b"M6", b"M\x006")),
    "picture.csv": raw(b"\x89PNG\r\n\x1a\n" + bytes(40)),
    "web_page.xls": raw(b"<html><table><tr><td>TAG</td><td>CALLOUT</td></tr></table></html>"),
    "unclosed_quote.csv": raw(separated(TABLE).encode() + b'C1,10,60,"' + b"M6 " * 50_000),
    "long_cell.csv": text(with_holes(("A1", 10, 20, "M6 " * 700, 1))),
    "no_table.csv": raw(b"hello,world\n1,2\n"),
    "header_alone.csv": text([*TITLE, HEADER]),
    "too_many_rows.csv": lambda path: path.write_bytes((separated([*TITLE, HEADER]) + "A1,1,2,M6,1,\n" * 100_001).encode()),
}
"""File name -> how it is made."""


def main() -> None:
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    for name, make in MAKERS.items():
        make(folder / name)
        print(folder / name)


if __name__ == "__main__":
    main()
