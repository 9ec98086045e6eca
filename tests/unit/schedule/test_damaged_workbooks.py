"""Workbooks whose cells no longer hold what was typed: each becomes a question on its own cell, never a silent hole."""

from __future__ import annotations

from datetime import datetime, time
from pathlib import Path

import pytest
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.styles import Font
from openpyxl.worksheet.worksheet import Worksheet
from written_files import HEADER, SHEET, callouts, changed, codes, members_of, ods_file, read, xlsx_file, zipped

from holesched.errors import CannotRead
from holesched.notes import Note, Severity

TITLE = ("Units", "mm")


def rows(*sizes: object, unit: str = "mm") -> list[tuple[object, ...]]:
    """One row a hole with the given callout cells, from row 3 on."""
    return [("Units", unit), HEADER, *((f"A{n}", 10.0 * n, 20.0, size, 1, None) for n, size in enumerate(sizes, start=1))]


def only(notes: tuple[Note, ...]) -> Note:
    (note,) = [note for note in notes if note.code != "SCHEDULE-COLUMNS"]
    return note


@pytest.mark.parametrize(
    ("day", "number_format", "unit", "shown", "proposed"),
    [
        (datetime(1932, 10, 1), "mmm-yy", "in", "Oct-32", "'10-32'."),
        (datetime(2024, 5, 16), "d-mmm", "in", "16-May", "'5/16' or '16.5'."),
        (datetime(2024, 5, 8), "d-mmm", "mm", "8-May", "'8.5' or '5/8'."),
        (datetime(2016, 3, 8), "m/d/yyyy", "in", "2016-03-08", "'3/8-16' or '3/8' or '8.3'."),
        (datetime(2016, 3, 8, 12), 'yyyy-mm-dd\\ hh:mm "Uhr"', "in", "2016-03-08", "'3/8-16' or '3/8' or '8.3'."),
    ],
)
def test_dates(tmp_path: Path, day: datetime, number_format: str, unit: str, shown: str, proposed: str) -> None:
    def change(sheet: Worksheet) -> None:
        sheet["D3"].number_format = number_format

    schedule, notes = read(xlsx_file(tmp_path, rows(day, "M6", unit=unit), change))
    note = only(notes)
    assert callouts(schedule) == ["", "M6"]
    assert (note.code, note.severity, note.text) == ("SCHEDULE-CALLOUT-DATE", Severity.REFUSED, shown)
    assert note.ref == schedule.rows[0].ref
    assert note.suggestion == f"Most likely it was {proposed} Format the column as Text before typing it again."
    assert schedule.rows[0].x_mm is not None


def test_serial_numbers_and_times(tmp_path: Path) -> None:
    schedule, notes = read(xlsx_file(tmp_path, rows(11963, time(4, 40), True, 6.8)))
    assert callouts(schedule) == ["", "", "", "6.8"]
    assert codes(notes) == ["SCHEDULE-CALLOUT-DATE D3", "SCHEDULE-CALLOUT-TYPE D4", "SCHEDULE-CALLOUT-TYPE D5"]
    assert "'10-32'" in notes[1].suggestion


def test_errors_and_formulas_without_a_result(tmp_path: Path) -> None:
    path = xlsx_file(tmp_path, rows("=M8", "=A1", "M6"))
    changed(path, SHEET, b'<c r="D3"><f>M8</f><v /></c>', b'<c r="D3" t="e"><f>M8</f><v>#NAME?</v></c>')
    schedule, notes = read(path)
    assert callouts(schedule) == ["", "", "M6"]
    assert codes(notes) == ["SCHEDULE-CALLOUT-ERROR D3", "SCHEDULE-CALLOUT-FORMULA D4"]
    assert [note.text for note in notes[1:]] == ["#NAME?", "=A1"]
    assert all(note.severity is Severity.REFUSED for note in notes[1:])


def test_what_was_typed_with_a_leading_sign_is_proposed(tmp_path: Path) -> None:
    """A spreadsheet takes +M8x1-6H for a formula of names that it does not know."""
    path = xlsx_file(tmp_path, rows("=+M8x1-6H", "=NA()", "=SUM(A1:A2)*2"))
    for cell, formula in (("D3", b"+M8x1-6H"), ("D4", b"NA()"), ("D5", b"SUM(A1:A2)*2")):
        old = b'<c r="' + cell.encode() + b'"><f>' + formula + b"</f><v /></c>"
        changed(path, SHEET, old, old.replace(b'"><f>', b'" t="e"><f>').replace(b"<v />", b"<v>#NAME?</v>"))
    _, notes = read(path)
    assert codes(notes) == [f"SCHEDULE-CALLOUT-ERROR D{row}" for row in (3, 4, 5)]
    assert notes[1].suggestion.startswith("Most likely it was 'M8x1-6H'. A callout that starts with")
    assert all(note.suggestion.startswith("A callout that starts with") for note in notes[2:])


def test_formulas_are_read_by_their_stored_result(tmp_path: Path) -> None:
    path = xlsx_file(tmp_path, rows("=B9"))
    changed(path, SHEET, b'<c r="D3"><f>B9</f><v /></c>', b'<c r="D3" t="str"><f>B9</f><v>M6-6H THRU</v></c>')
    schedule, notes = read(path)
    assert callouts(schedule) == ["M6-6H THRU"]
    assert codes(notes) == []


def test_a_last_row_of_nothing_but_a_bare_formula_is_not_lost(tmp_path: Path) -> None:
    path = xlsx_file(tmp_path, [*rows("M6"), (None, None, None, "=M8")])
    schedule, notes = read(path)
    assert callouts(schedule) == ["M6", ""]
    assert schedule.rows_read == 2
    assert "SCHEDULE-CALLOUT-FORMULA D4" in codes(notes)


def test_error_in_ods(tmp_path: Path) -> None:
    path = ods_file(tmp_path, rows("#NAME?", "M6"))
    old = b'<table:table-cell office:value-type="string"><text:p>#NAME?'
    new = b'<table:table-cell office:value-type="string" calcext:value-type="error"><text:p>#NAME?'
    changed(path, "content.xml", old, new)
    changed(path, "content.xml", b"<office:document-content ", b'<office:document-content xmlns:calcext="urn:calcext" ')
    schedule, notes = read(path)
    assert callouts(schedule) == ["", "M6"]
    assert codes(notes) == ["SCHEDULE-CALLOUT-ERROR D3"]


@pytest.mark.parametrize(
    ("value", "number_format", "shown"),
    [
        (8.5, '"Ø"0.0', "Ø8.5"),
        (8.5, "\\Ø0.00", "Ø8.50"),
        (0.3125, "# ?/?", "5/16"),
        (0.02, "0%", "2%"),
        (12, '0" THRU"', "12 THRU"),
    ],
)
def test_signs_that_live_in_the_number_format(tmp_path: Path, value: float, number_format: str, shown: str) -> None:
    def change(sheet: Worksheet) -> None:
        sheet["D3"].number_format = number_format

    schedule, notes = read(xlsx_file(tmp_path, rows(value), change))
    note = only(notes)
    assert callouts(schedule) == [shown]
    assert (note.code, note.severity, note.text) == ("SCHEDULE-CALLOUT-FORMAT", Severity.ASK, shown)


@pytest.mark.parametrize("number_format", ["0.00", "General", "#,##0.0", "@", "0.00E+00", "0.0_)", "[Red]0.0"])
def test_plain_number_formats_add_nothing(tmp_path: Path, number_format: str) -> None:
    def change(sheet: Worksheet) -> None:
        sheet["D3"].number_format = number_format

    schedule, notes = read(xlsx_file(tmp_path, rows(8.5), change))
    assert callouts(schedule) == ["8.5"]
    assert codes(notes) == []


def raised(up: str, down: str) -> CellRichText:
    return CellRichText(
        "Ø8", TextBlock(InlineFont(vertAlign="superscript"), up), TextBlock(InlineFont(vertAlign="subscript"), down)
    )


def test_raised_and_lowered_figures_do_not_run_together(tmp_path: Path) -> None:
    struck = CellRichText("M6", TextBlock(InlineFont(strike=True), "x1"), TextBlock(InlineFont(), "x0.75"))
    schedule, notes = read(
        xlsx_file(tmp_path, rows(raised("+0.02", "0"), struck, CellRichText("M6", TextBlock(InlineFont(b=True), "x1"))))
    )
    assert callouts(schedule) == ["", "", "M6x1"]
    assert codes(notes) == ["SCHEDULE-CALLOUT-RUNS D3", "SCHEDULE-CALLOUT-RUNS D4"]
    assert notes[1].suggestion == "Most likely it was 'Ø8 +0.02/0'. Write it in one line."
    assert notes[1].text == "Ø8+0.020"
    assert notes[2].suggestion == "Most likely it was 'M6x0.75'. Write it in one line."


def test_raised_figures_in_shared_strings(tmp_path: Path) -> None:
    """Other writers keep texts apart from the cells; the runs are found there too."""
    path = xlsx_file(tmp_path, rows("RAISED", "M6"))
    members = members_of(path)
    run = '<r><t>Ø8</t></r><r><rPr><vertAlign val="superscript"/></rPr><t>H7</t></r>'
    main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    members["xl/sharedStrings.xml"] = f'<sst xmlns="{main}"><si><t>x</t></si><si>{run}</si></sst>'.encode()
    sheet = members[SHEET].decode()
    old = '<c r="D3" t="inlineStr"><is><t>RAISED</t></is></c>'
    assert old in sheet
    members[SHEET] = sheet.replace(old, '<c r="D3" t="s"><v>1</v></c>').encode()
    relation = (
        '<Relationship Id="rIdS" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings" '
    )
    relations = members["xl/_rels/workbook.xml.rels"].decode()
    if "sharedStrings" not in relations:
        relations = relations.replace("</Relationships>", f'{relation}Target="sharedStrings.xml"/></Relationships>')
    members["xl/_rels/workbook.xml.rels"] = relations.encode()
    path.write_bytes(zipped(members))
    schedule, notes = read(path)
    assert callouts(schedule) == ["", "M6"]
    assert "'Ø8 H7'" in only(notes).suggestion


def test_struck_rows_are_set_aside_and_asked(tmp_path: Path) -> None:
    def change(sheet: Worksheet) -> None:
        for cell in sheet[4]:
            cell.font = Font(strike=True)
        sheet["F3"].font = Font(strike=True)

    schedule, notes = read(xlsx_file(tmp_path, [*rows("M6", "M8"), ("A3", 1, 1, "M5", 1, "old")], change))
    assert callouts(schedule) == ["M6", "M5"]
    assert [(entry.why, entry.ref.cell) for entry in schedule.set_aside] == [("deleted", "D4")]
    assert codes(notes) == ["SCHEDULE-ROW-STRUCK D4"]
    assert schedule.rows_read == 3


def test_merged_callouts_are_asked(tmp_path: Path) -> None:
    schedule, notes = read(
        xlsx_file(tmp_path, rows("M6-6H ↧12", None, None, "M8", None), lambda sheet: sheet.merge_cells("D3:D5"))
    )
    assert callouts(schedule) == ["M6-6H ↧12", "M6-6H ↧12", "M6-6H ↧12", "M8", ""]
    assert codes(notes) == ["SCHEDULE-CALLOUT-MERGED D4", "SCHEDULE-CALLOUT-MERGED D5", "SCHEDULE-CALLOUT-EMPTY D7"]
    assert [note.severity for note in notes[1:]] == [Severity.ASK, Severity.ASK, Severity.REFUSED]


def test_a_merged_callout_that_is_damaged_is_not_passed_on(tmp_path: Path) -> None:
    schedule, notes = read(xlsx_file(tmp_path, rows(datetime(1932, 10, 1), None), lambda sheet: sheet.merge_cells("D3:D4")))
    assert callouts(schedule) == ["", ""]
    assert codes(notes) == ["SCHEDULE-CALLOUT-DATE D3", "SCHEDULE-CALLOUT-EMPTY D4"]


def test_hidden_rows_columns_and_sheets_are_read_and_named(tmp_path: Path) -> None:
    def change(sheet: Worksheet) -> None:
        for number in (4, 5, 7):
            sheet.row_dimensions[number].hidden = True
        sheet.column_dimensions["B"].hidden = True
        sheet.parent.create_sheet("Cover").append(["Hello"])
        sheet.parent.active = 1
        sheet.sheet_state = "hidden"

    schedule, notes = read(xlsx_file(tmp_path, rows("M6", "M6", "M6", "M6", "M6"), change))
    assert len(schedule.rows) == 5
    assert codes(notes) == [
        "SCHEDULE-SHEET-NOT-READ -",
        "SCHEDULE-HIDDEN-SHEET D2",
        "SCHEDULE-HIDDEN-ROWS D4",
        "SCHEDULE-HIDDEN-COLUMNS B2",
    ]
    assert "4-5, 7" in notes[3].message
    assert all(note.severity in (Severity.TOLD, Severity.WATCH) for note in notes)


def test_hidden_rows_of_ods(tmp_path: Path) -> None:
    path = ods_file(tmp_path, rows("M6", "M8"))
    row = b'<table:table-row><table:table-cell office:value-type="string"><text:p>A2'
    changed(path, "content.xml", row, row.replace(b"<table:table-row>", b'<table:table-row table:visibility="collapse">'))
    _, notes = read(path)
    assert codes(notes) == ["SCHEDULE-HIDDEN-ROWS D4"]


def test_damaged_tags_and_title_entries(tmp_path: Path) -> None:
    day = datetime(2024, 1, 2)
    table = [("Part number", day), ("Units", "mm"), HEADER, (day, 1, 2, "M6", 1, None)]
    schedule, notes = read(xlsx_file(tmp_path, table))
    assert callouts(schedule) == ["M6"]
    assert codes(notes) == ["SCHEDULE-TITLE-DAMAGED B1", "SCHEDULE-TAG-DAMAGED A4"]


def test_ods_whose_elements_do_not_end(tmp_path: Path) -> None:
    """Found by the fuzzer: the quick reader waited for an end that never came."""
    path = ods_file(tmp_path, rows("M6", "M8"))
    content = members_of(path)["content.xml"]
    for cut in (b"</table:table-row></table:table>", b"</table:table>", b"</text:p>"):
        changed(ods_file(tmp_path, rows("M6", "M8")), "content.xml", cut, b"<table:table-row" + cut[-14:])
        assert content.count(cut)
        with pytest.raises(CannotRead, match="damaged"):
            read(path)
