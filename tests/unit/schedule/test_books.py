"""Files of every kind are opened by their content; hostile, damaged and oversized ones get a sentence."""

from __future__ import annotations

import io
import struct
import tracemalloc
import zipfile
import zlib
from pathlib import Path

import make_corpus
import pytest
from written_files import HEADER, SHEET, callouts, changed, codes, members_of, ods_file, read, text_file, xlsx_file, zipped

from holesched.errors import BadSettings, CannotRead
from holesched.schedule import limits

ROWS = [("Units", "mm"), HEADER, ("A1", 10, 20, "M6-6H ↧12", 1, ""), ("A2", 30, 20, "Ø6.6 THRU", 1, "x")]
CSV = "Units,mm\nTAG,X,Y,CALLOUT,QTY,NOTE\nA1,10,20,M6-6H ↧12,1,\nA2,30,20,Ø6.6 THRU,1,x\n"
HERE = Path(__file__).parent


def same(path: Path) -> None:
    """The table of ROWS, whatever the file."""
    schedule, notes = read(path)
    assert [(row.tag, row.x_mm, row.y_mm, row.callout, row.quantity, row.note) for row in schedule.rows] == [
        ("A1", 10.0, 20.0, "M6-6H ↧12", 1, ""),
        ("A2", 30.0, 20.0, "Ø6.6 THRU", 1, "x"),
    ]
    assert [row.ref.cell for row in schedule.rows] == ["D3", "D4"]
    assert (schedule.rows_read, schedule.set_aside, codes(notes)) == (2, (), [])
    assert schedule.source == path.name
    assert len(schedule.sha256) == 64


def refused(path: Path, sentence: str) -> None:
    with pytest.raises(CannotRead, match=sentence) as caught:
        read(path)
    assert path.name in caught.value.where
    assert caught.value.problem.endswith(".")


def test_xlsx(tmp_path: Path) -> None:
    same(xlsx_file(tmp_path, ROWS))


def test_xlsm_is_a_workbook_whose_macros_are_not_looked_at(tmp_path: Path) -> None:
    path = xlsx_file(tmp_path, ROWS, name="table.xlsm")
    path.write_bytes(zipped({**members_of(path), "xl/vbaProject.bin": b"\xd0\xcf\x11\xe0 not even a macro"}))
    same(path)


def test_ods(tmp_path: Path) -> None:
    same(ods_file(tmp_path, ROWS))


@pytest.mark.parametrize("name", ["table.csv", "table.tsv", "table.txt", "table.xls"])
def test_text_by_content_whatever_its_name(tmp_path: Path, name: str) -> None:
    same(text_file(tmp_path, CSV, name=name))


def test_workbook_under_a_wrong_name(tmp_path: Path) -> None:
    same(xlsx_file(tmp_path, ROWS, name="table.csv"))


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be"])
@pytest.mark.parametrize("separator", ";,\t|")
def test_encodings_and_separators(tmp_path: Path, encoding: str, separator: str) -> None:
    same(text_file(tmp_path, CSV.replace(",", separator), encoding))


def test_declared_separator(tmp_path: Path) -> None:
    schedule, _ = read(text_file(tmp_path, "sep=|\n" + CSV.replace(",", "|")))
    assert callouts(schedule) == ["M6-6H ↧12", "Ø6.6 THRU"]


def test_western_text_is_told(tmp_path: Path) -> None:
    text = "Pos;X [mm];Y [mm];Bohrung;Stück;Bemerkung\nA;10;20;Ø6,6 durch;2;Länge\n"
    schedule, notes = read(text_file(tmp_path, text, "cp1252"))
    assert callouts(schedule) == ["Ø6,6 durch"]
    assert codes(notes) == ["SCHEDULE-ENCODING D2"]


def test_japanese_text_is_told(tmp_path: Path) -> None:
    text = "記号,X,Y,加工,個数\nA,10,20,M6 深さ12,4\nB,30,20,10ｷﾘ 通し,2\n"
    schedule, notes = read(text_file(tmp_path, text, "cp932"), unit="mm")
    assert callouts(schedule) == ["M6 深さ12", "10ｷﾘ 通し"]
    assert codes(notes) == ["SCHEDULE-ENCODING D2"]


def test_encoding_that_is_given(tmp_path: Path) -> None:
    text = "Pos,X,Y,Bohrung\nA,1,2,Ø6 skrz díru ř\n"
    schedule, _ = read(text_file(tmp_path, text, "utf-8"), encoding="utf-8")
    assert callouts(schedule) == ["Ø6 skrz díru ř"]
    with pytest.raises(CannotRead, match="in no encoding"):
        read(text_file(tmp_path, text, "utf-8"), encoding="ascii")
    with pytest.raises(CannotRead, match="in no encoding"):
        read(text_file(tmp_path, text, "utf-8"), encoding="klingon")


def test_xls(tmp_path: Path) -> None:
    """small.xls was written with xlwt 1.3.0: Part No INV-1, Units inch, two rows."""
    schedule, notes = read(HERE / "small.xls")
    assert callouts(schedule) == ["1/4-20 UNC-2B THRU", "10-32 UNF-2B"]
    assert schedule.rows[1].x_mm == 38.1
    assert schedule.header.part_number == "INV-1"
    assert codes(notes) == []


def test_xls_with_far_cells_is_refused_before_it_is_laid_out() -> None:
    """far_cells.xls was written with xlwt 1.3.0: cells A1 and IV65536, 16 million cells when laid out."""
    refused(HERE / "far_cells.xls", "16,777,216 cells")


def test_damaged_xls(tmp_path: Path) -> None:
    data = (HERE / "small.xls").read_bytes()
    for number, cut in enumerate((520, 1000, len(data) // 2)):
        path = tmp_path / f"cut{number}.xls"
        path.write_bytes(data[:cut])
        refused(path, "damaged|no hole table|no sheet")


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        (b"", "it is empty"),
        (b"   \n\n", "it is empty"),
        (b"%PDF-1.7 ...", "a PDF document"),
        (b"\x89PNG\r\n\x1a\n", "a picture"),
        (b"<html><table><tr><td>TAG</td></tr></table>", "a web page"),
        (b"{\\rtf1 TAG}", "a text document"),
        (b"PK\x03\x04 and no more", "its archive cannot be opened"),
        (bytes(range(1, 32)) * 40, "neither a workbook nor a text"),
        (b"hello,world\n1,2\n", "no hole table was found: no row has header words"),
        (b"X,Y\n1,2\n", "Row 1 of sheet 'file' comes nearest, with 'X', 'Y'"),
        (b"TAG,X,Y,CALLOUT\n", "a header but no row"),
        (b"TAG,X,Y,CALLOUT\n,,,\nTOTAL,,,\n", "a header but no row"),
        (b'TAG,CALLOUT\nA,"M6\n' + b"x" * 140_000, "cannot be split into cells|characters"),
    ],
)
def test_what_is_no_schedule(tmp_path: Path, data: bytes, sentence: str) -> None:
    path = tmp_path / "file.csv"
    path.write_bytes(data)
    refused(path, sentence)


def test_no_file_and_no_folder(tmp_path: Path) -> None:
    refused(tmp_path, "no schedule in this folder")
    refused(tmp_path / "none.xlsx", "no such file")


def test_own_header_words_must_name_fields(tmp_path: Path) -> None:
    with pytest.raises(BadSettings, match="'calout' is no field"):
        read(text_file(tmp_path, CSV), columns=(("FEATURE SPEC", "calout"),))


def test_limits_of_file_rows_and_cells(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    long_cell = text_file(tmp_path, CSV + f"A3,1,2,{'M6 ' * 700},1,\n")
    refused(long_cell, "a cell holds 2,100 characters, more than the 2,000")
    refused(xlsx_file(tmp_path, [*ROWS, ("A3", 1, 2, "M6 " * 700, 1, "")]), "a cell holds 2,100 characters")
    monkeypatch.setattr(limits, "ROWS", 3)
    refused(text_file(tmp_path, CSV), "4 rows, more than the 3")
    refused(xlsx_file(tmp_path, ROWS), "4 rows, more than the 3")
    refused(ods_file(tmp_path, ROWS), "4 rows, more than the 3")
    monkeypatch.setattr(limits, "FILE_BYTES", 10)
    refused(text_file(tmp_path, CSV), "bytes, more than the 10")
    monkeypatch.undo()
    monkeypatch.setattr(limits, "SHEETS", 0)
    refused(xlsx_file(tmp_path, ROWS), "1 sheets, more than the 0")


def test_far_cells_are_refused_before_they_are_laid_out(tmp_path: Path) -> None:
    path = xlsx_file(tmp_path, ROWS, lambda sheet: sheet.cell(1_048_576, 16_384, "far"))
    refused(path, "1,048,576 rows, more than")
    path = xlsx_file(tmp_path, [*ROWS, *[("A", 1)] * 500], lambda sheet: sheet.cell(3, 16_384, "far"))
    refused(path, "cells, more than the 4,000,000")


def test_far_cells_without_a_value_do_no_harm(tmp_path: Path) -> None:
    def change(sheet: object) -> None:
        sheet.cell(90_000, 2_000).number_format = "0.0"  # type: ignore[attr-defined]

    same(xlsx_file(tmp_path, ROWS, change))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b'<c r="A1"', b"<c r='XFD1048576'"),
        (b'<c r="A1"', b'<c x="&gt;" r="XFD1048576"'),
        (b'<c r="A1"', b'<c\nr = "XFD1048576"'),
        (b'<row r="1">', b'<row r="1048576">'),
    ],
)
def test_far_cells_in_unusual_xml_are_found_too(tmp_path: Path, old: bytes, new: bytes) -> None:
    path = changed(xlsx_file(tmp_path, ROWS), SHEET, old, new)
    if b"row" in old:
        changed(path, SHEET, b'<c r="A1"', b"<c")
    refused(path, "more than")


def test_unusual_xml_is_read_all_the_same(tmp_path: Path) -> None:
    """Prefixed names, single quotation marks and cells without address, as some writers make them."""
    path = xlsx_file(tmp_path, ROWS)
    members = members_of(path)
    xml = members[SHEET].decode()
    start = xml.index("<sheetData>")
    names = ("row", "c", "is", "t", "v", "sheetData")
    body = xml[start : xml.index("</sheetData>") + len("</sheetData>")]
    for name in names:
        body = (
            body.replace(f"<{name}>", f"<x:{name}>")
            .replace(f"<{name} ", f"<x:{name} ")
            .replace(f"</{name}>", f"</x:{name}>")
        )
    main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    members[SHEET] = f'<x:worksheet xmlns:x="{main}">{body}</x:worksheet>'.encode()
    path.write_bytes(zipped(members))
    same(path)


def test_ods_repeats_are_counted_before_they_are_written_out(tmp_path: Path) -> None:
    row = b"<table:table-row>"
    many = b'<table:table-row table:number-rows-repeated="1000000">'
    refused(changed(ods_file(tmp_path, ROWS), "content.xml", row, many), "rows, more than the 100,000")
    wide = b'<table:table-cell table:number-columns-repeated="16000"/><table:table-cell'
    path = changed(ods_file(tmp_path, [*ROWS, *[("A", 1)] * 400]), "content.xml", b"<table:table-cell", wide)
    refused(path, "cells, more than the 4,000,000")
    odd = b"<table:table-row table:number-rows-repeated='1000000'>"
    refused(changed(ods_file(tmp_path, ROWS), "content.xml", row, odd), "a repeat in it cannot be read")


def test_ods_filling_repeats_do_no_harm(tmp_path: Path) -> None:
    filling = (
        b'<table:table-row table:number-rows-repeated="1048572"><table:table-cell table:number-columns-repeated="16384"/>'
        b"</table:table-row></table:table>"
    )
    same(changed(ods_file(tmp_path, ROWS), "content.xml", b"</table:table>", filling))


@pytest.mark.parametrize("encoding", ["ascii", "utf-16"])
def test_document_types_are_refused(tmp_path: Path, encoding: str) -> None:
    declaration = '<!DOCTYPE a [<!ENTITY x "boom">]>'.encode(encoding)
    path = xlsx_file(tmp_path, ROWS)
    refused(changed(path, SHEET, b"<worksheet", declaration + b"<worksheet"), "declares a document type")
    path = ods_file(tmp_path, ROWS)
    start = b"<office:document-content"
    refused(changed(path, "content.xml", start, declaration + start), "declares a document type")


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
def test_unknown_encodings_are_refused(tmp_path: Path, encoding: str) -> None:
    """Each part that is read, before any parser asks Python for the encoding."""
    for path, member in ((xlsx_file(tmp_path, ROWS), SHEET), (ods_file(tmp_path, ROWS), "content.xml")):
        members = members_of(path)
        body = members[member].partition(b"?>")[2].decode()
        members[member] = f'<?xml version="1.0" encoding="UTF-0"?>{body}'.encode(encoding)
        path.write_bytes(zipped(members))
        refused(path, "in an encoding that workbooks do not use")


def test_damaged_members(tmp_path: Path) -> None:
    path = xlsx_file(tmp_path, ROWS)
    refused(changed(path, "xl/workbook.xml", b"<workbook", b"<workbook <"), "list of sheets cannot be read")
    members = members_of(xlsx_file(tmp_path, ROWS))
    members[SHEET] = members[SHEET][: len(members[SHEET]) // 2]
    path.write_bytes(zipped(members))
    refused(path, "damaged")
    members = members_of(xlsx_file(tmp_path, ROWS))
    del members[SHEET]
    path.write_bytes(zipped(members))
    refused(path, "damaged|no hole table")


def test_members_packed_otherwise_or_encrypted(tmp_path: Path) -> None:
    path = tmp_path / "table.xlsx"
    members = members_of(xlsx_file(tmp_path, ROWS))
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w", zipfile.ZIP_BZIP2) as archive:
        for name, data in members.items():
            archive.writestr(name, data)
    path.write_bytes(written.getvalue())
    refused(path, "packed in a way that workbooks do not use")
    data = bytearray(zipped(members))
    entry = data.index(b"PK\x01\x02")
    data[entry + 8] |= 1
    path.write_bytes(bytes(data))
    refused(path, "protected by a password")


def test_two_members_of_one_name(tmp_path: Path) -> None:
    """What was checked must be what is read."""
    path = tmp_path / "table.xlsx"
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w") as archive:
        for name, data in members_of(xlsx_file(tmp_path, ROWS)).items():
            archive.writestr(name, data)
        archive.writestr(SHEET.upper(), b"<worksheet/>")
    path.write_bytes(written.getvalue())
    refused(path, "two parts of its archive have one name")


def bomb(inflated: int, declared: int) -> bytes:
    """An archive whose sheet inflates to `inflated` zeros, and which declares another size."""
    packer = zlib.compressobj(9, zlib.DEFLATED, -15)
    zeros = b" " * (1 << 20)
    packed = b"".join([packer.compress(zeros) for _ in range(inflated >> 20)]) + packer.flush()
    name = SHEET.encode()
    fixed = struct.pack("<HHHHHIIIHH", 20, 0, 8, 0, 33, 0, len(packed), declared, len(name), 0)
    local = b"PK\x03\x04" + fixed + name + packed
    central = b"PK\x01\x02" + struct.pack("<H", 20) + fixed + struct.pack("<HHHII", 0, 0, 0, 0, 0) + name
    end = b"PK\x05\x06" + struct.pack("<HHHHIIH", 0, 0, 1, 1, len(central), len(local), 0)
    return local + central + end


@pytest.mark.parametrize("declared", [1000, 100 << 20])
def test_an_archive_that_inflates_too_far_is_refused_in_bounded_memory(tmp_path: Path, declared: int) -> None:
    path = tmp_path / "bomb.xlsx"
    path.write_bytes(bomb(100 << 20, declared))
    assert path.stat().st_size < 200_000
    tracemalloc.start()
    refused(path, "unpacks to more than 300 times its size")
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 60_000_000


def test_the_sum_of_all_members_is_limited(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(limits, "INFLATED_BYTES", 5_000)
    refused(xlsx_file(tmp_path, ROWS), "larger than the 0 MB")


def test_too_many_members(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(limits, "ARCHIVE_MEMBERS", 3)
    refused(xlsx_file(tmp_path, ROWS), "parts, more than the 3")


@pytest.mark.parametrize("address", ["AAAAAAAAAAAAAAAD4", "D99999999", "d4", "4", "D-4", ""])
def test_cells_at_no_address(tmp_path: Path, address: str) -> None:
    """The quick reader would lay out a sheet as far as it takes such an address to be."""
    path = changed(xlsx_file(tmp_path, ROWS), SHEET, b'<c r="D4"', f'<c r="{address}"'.encode())
    refused(path, f"a cell is said to be at '{address}'")
    refused(
        changed(path, SHEET, b'<c r="A1" t="inlineStr"', b'<c t="inlineStr" r="A1"'), f"a cell is said to be at '{address}'"
    )


def test_short_files_that_would_fill_the_memory(tmp_path: Path) -> None:
    """A text of a megabyte that three thousand cells refer to; a number of spaces; a table in a cell of itself."""
    parts = make_corpus.members(make_corpus.workbook({"Holes": make_corpus.TABLE}))
    make_corpus.shared_strings(parts)
    number = parts[make_corpus.STRINGS].count(b"<si>")
    long = b"<si><t>" + b"x y " * 250_000 + b"</t></si></sst>"
    parts[make_corpus.STRINGS] = parts[make_corpus.STRINGS].replace(b"</sst>", long)
    cells = b"".join(b'<row r="%d"><c r="A%d" t="s"><v>%d</v></c></row>' % (row, row, number) for row in range(20, 3020))
    parts[SHEET] = parts[SHEET].replace(b"</sheetData>", cells + b"</sheetData>")
    path = tmp_path / "long.xlsx"
    path.write_bytes(zipped(parts))
    refused(path, "more than the 200,000,000 that are read")
    rows = (("TAG", "CALLOUT"), ("A", "M6 THRU"))
    for content, message in (
        (b'<text:s text:c="900000000"/>M6', "900,000,000 characters"),
        (b"<text:s text:c='x'/>M6", "a number of spaces cannot be read"),
        (b"<table:table table:name='Holes'><table:table-row/></table:table>M6", "a table of its own"),
    ):
        refused(changed(ods_file(tmp_path, rows), "content.xml", b"M6", content), message)


def test_a_sheet_that_is_listed_and_missing(tmp_path: Path) -> None:
    """Its rows would be lost without a word beside a sheet that is there."""
    parts = make_corpus.members(make_corpus.workbook({"View A": ROWS, "View B": ROWS}))
    del parts["xl/worksheets/sheet2.xml"]
    path = tmp_path / "half.xlsx"
    path.write_bytes(zipped(parts))
    refused(path, "its sheet 'View B' is missing")


def test_a_text_of_nothing_but_separators(tmp_path: Path) -> None:
    refused(text_file(tmp_path, "TAG,CALLOUT\n" + ("," * 5_000 + "\n") * 1_000), "more than the 4,000,000")
