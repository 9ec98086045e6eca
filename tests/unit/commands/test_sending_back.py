"""What goes back to the drawing office: the marked copy and the letter."""

from __future__ import annotations

import io
import re
import zipfile
from pathlib import Path

import pytest
from make_example_inputs import FOLDER, ods_bytes
from openpyxl import Workbook, load_workbook
from openpyxl.comments import Comment
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Font
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet
from pypdf import PdfReader

from holesched.answers import proposed_answers
from holesched.cli import main
from holesched.pipeline import plan_file
from holesched.reports.base import RunStamp
from holesched.reports.question_letter import GROUPS, THE_REST, build_letter, group_of
from holesched.schedule.model import ReadOptions
from holesched.schedule.read_workbook import read_schedule
from holesched.shop.model import Shop

TITLE = [("Material", "EN AW-6082", "Thickness", "20 mm"), ("Units", "mm")]
HEADER = ("TAG", "X", "Y", "CALLOUT", "QTY")
ROWS = [
    *TITLE,
    HEADER,
    ("A1", 10, 20, "M8x1.5-6H ↧12", 1),
    ("A2", 30, 20, "Ø6.6 THRU", 1),
    ("A3", 30, 20, "=HYPERLINK(1)", 1),
]


def send(path: Path, folder: Path, *options: str) -> int:
    return main(["check", str(path), "--out", str(folder), *options])


def book_of(rows: list[tuple[object, ...]]) -> tuple[Workbook, Worksheet]:
    book = Workbook()
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    sheet.title = "Holes"
    for row in rows:
        sheet.append(list(row))
    return book, sheet


def as_text(sheet: Worksheet, address: str, text: str) -> None:
    sheet[address] = text
    sheet[address].data_type = "s"


def formulas(data: bytes) -> list[str]:
    """Every place of a workbook where something computes, by the elements that ISO/IEC 29500-1 has for it."""
    computing = re.compile(
        rb"<(?:f|formula|formula1|formula2|calculatedColumnFormula|cfRule|dataValidation|hyperlink|externalReference)\b"
        rb"|<definedName\b(?![^>]*name=\"_xlnm\.(?:Print_Titles|_FilterDatabase)\")"
    )
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        names = archive.namelist()
        found = [f"{name}: {match.decode()}" for name in names for match in computing.findall(archive.read(name))]
    return found + [name for name in names if "vba" in name.lower() or "external" in name.lower()]


def test_the_copy_of_a_workbook(tmp_path: Path) -> None:
    book, sheet = book_of(ROWS)
    as_text(sheet, "D6", "=HYPERLINK(1)")
    sheet["D4"].font = Font(bold=True, name="Arial")
    sheet["D4"].comment = Comment("as on the old drawing", "office")
    sheet.column_dimensions["D"].width = 33
    sheet["G1"] = "=2+2"
    sheet["G2"] = "note"
    book.save(tmp_path / "plate.xlsx")
    assert send(tmp_path / "plate.xlsx", tmp_path / "out", "--marked") == 3
    copy = tmp_path / "out" / "plate_questions.xlsx"
    assert [path.name for path in (tmp_path / "out").iterdir()] == ["plate_questions.xlsx"]
    marked = load_workbook(copy)
    cell = marked["Holes"]["D4"]
    assert cell.value == "M8x1.5-6H ↧12"
    assert cell.font.bold
    assert marked["Holes"].column_dimensions["D"].width == 33
    assert cell.fill.fill_type == "solid"
    assert cell.comment.text.startswith("as on the old drawing\n\nQuestion ")
    assert "ISO 261 lists no pitch of 1.5 mm for M8." in cell.comment.text
    assert "Suggestion: M8x1.25" in cell.comment.text
    assert "Meanwhile: not planned" in cell.comment.text
    assert marked["Holes"]["D6"].value == "=HYPERLINK(1)"
    assert marked["Holes"]["D6"].data_type == "s"
    listed = [row[1].value for row in marked["Questions"].iter_rows(min_row=2)]
    assert "plate.xlsx ! Holes ! D4" in listed
    assert formulas(copy.read_bytes()) == []


def test_the_copy_reads_as_the_original(tmp_path: Path) -> None:
    for name in ("manifold_block.xlsx", "bearing_housing.xlsx", "sensor_plate.ods"):
        assert send(FOLDER / name, tmp_path, "--marked") == 3
        original, _ = read_schedule(FOLDER / name, ReadOptions())
        copy, _ = read_schedule(tmp_path / f"{Path(name).stem}_questions.xlsx", ReadOptions())
        assert [(row.tag, row.callout, row.quantity, row.x_mm, row.ref.cell) for row in copy.rows] == [
            (row.tag, row.callout, row.quantity, row.x_mm, row.ref.cell) for row in original.rows
        ]
        assert copy.header.material == original.header.material


def test_nothing_in_the_copy_computes(tmp_path: Path) -> None:
    """Names, rules, validations, links and macros of the original stay behind; stored values stand for formulas."""
    book, sheet = book_of([*ROWS, ("A4", "=1+1", 20, "Ø5 THRU", 1)])
    sheet["D5"].hyperlink = "https://example.invalid/x"
    sheet.conditional_formatting.add("A1:A3", FormulaRule(formula=["A1=1"]))
    sheet.add_data_validation(DataValidation("list", formula1='"a,b"', sqref="A1"))
    book.defined_names["Auto_Open"] = DefinedName("Auto_Open", attr_text="Holes!$A$1")
    book.save(tmp_path / "plate.xlsx")
    with zipfile.ZipFile(tmp_path / "plate.xlsx", "a") as archive:
        archive.writestr("xl/vbaProject.bin", b"\xd0\xcf\x11\xe0 not even a macro")
    assert formulas((tmp_path / "plate.xlsx").read_bytes()) != []
    assert send(tmp_path / "plate.xlsx", tmp_path, "--marked") == 3
    data = (tmp_path / "plate_questions.xlsx").read_bytes()
    assert formulas(data) == []
    shown = load_workbook(tmp_path / "plate_questions.xlsx")["Holes"]["B7"]
    assert (shown.value, shown.data_type) == ("=1+1", "s")


def test_the_copy_of_a_text_file(tmp_path: Path) -> None:
    path = tmp_path / "pl[a]te.csv"
    rows = "Material,EN AW-6082\nUnits,mm\nTAG,X,Y,CALLOUT,NOTE\nA1,10,20,M8x1.5,=1+1\n+A2,30,20,Ø6 THRU,@SUM(1)\n"
    path.write_text(rows, encoding="utf-8")
    assert send(path, tmp_path, "--marked") == 3
    copy = tmp_path / "pl[a]te_questions.xlsx"
    sheet = load_workbook(copy).worksheets[0]
    assert sheet.title == "pl_a_te"
    assert [sheet["E4"].value, sheet["A5"].value, sheet["E5"].value] == ["=1+1", "+A2", "@SUM(1)"]
    assert {sheet[cell].data_type for cell in ("E4", "A5", "E5")} == {"s"}
    assert sheet["D4"].comment is not None
    assert formulas(copy.read_bytes()) == []


def test_the_copy_of_merged_and_unusual_cells(tmp_path: Path) -> None:
    book, sheet = book_of([*TITLE, HEADER, ("A1", 10, 20, "M8x1.5", 1), ("A2", 30, 20, None, 1)])
    sheet.merge_cells("D4:D5")
    book.save(tmp_path / "plate.xlsx")
    assert send(tmp_path / "plate.xlsx", tmp_path, "--marked") == 3
    cell = load_workbook(tmp_path / "plate_questions.xlsx")["Holes"]["D4"]
    assert cell.comment.text.count("Question ") >= 2
    (tmp_path / "table.ods").write_bytes(ods_bytes("Löcher", [*TITLE, HEADER, ("A1", 10, 20, "M8x1.5", 1)]))  # type: ignore[list-item]
    assert send(tmp_path / "table.ods", tmp_path, "--marked") == 3
    assert load_workbook(tmp_path / "table_questions.xlsx").sheetnames == ["Löcher", "Questions"]


def test_equal_files_give_equal_copies(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1000000000")
    for folder in ("one", "two"):
        assert send(FOLDER / "bearing_housing.xlsx", tmp_path / folder, "--marked", "--letter") == 3
    for ending in ("xlsx", "html", "pdf"):
        name = f"bearing_housing_questions.{ending}"
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes(), name


def test_the_letter(tmp_path: Path) -> None:
    assert send(FOLDER / "bearing_housing.xlsx", tmp_path, "--letter", "--marked") == 3
    page = (tmp_path / "bearing_housing_questions.html").read_text(encoding="utf-8")
    assert "Drawing query" in page
    assert "bearing_housing_questions.xlsx" in page
    assert "<h2>Threads</h2>" in page
    assert "bearing_housing.xlsx ! Holes ! C16" in page
    assert "4X 1/4-20 UNC-2B ↧.50" in page
    assert "4X 1/4-28 UNF-2B ↧.50" in page
    text = "\n".join(page.extract_text() for page in PdfReader(tmp_path / "bearing_housing_questions.pdf").pages)
    assert "Signature" in text


def test_each_answer_says_what_it_would_change() -> None:
    """UNC has the tap drill #7 by handbook charts, UNF #3; neither tap is used elsewhere in the housing."""
    path, shop, options = FOLDER / "bearing_housing.xlsx", Shop(), ReadOptions()
    job = plan_file(path, shop, options)
    letter = build_letter(job, shop, RunStamp.now("0"), proposed_answers(job, shop, options))
    (point,) = [point for group in letter.groups for point in group.points if group.title == "Threads"]
    coarse, fine = point.choices
    assert coarse.answer == "4X 1/4-20 UNC-2B ↧.50"
    assert fine.answer == "4X 1/4-28 UNF-2B ↧.50"
    assert "tap 1/4-20 UNC" in coarse.effect
    assert "extra gauges: 1/4-20 UNC-2B" in coarse.effect
    assert "tap 1/4-28 UNF" in fine.effect
    assert re.search(r"\d\.\d\d min a hole", fine.effect)


def test_a_question_about_several_cells_is_asked_once(tmp_path: Path) -> None:
    book, _ = book_of([*TITLE, HEADER, ("A1", 10, 20, "THREADED HOLE", 1), ("B1", 50, 20, "THREADED HOLE", 1)])
    book.save(tmp_path / "plate.xlsx")
    shop, options = Shop(), ReadOptions()
    job = plan_file(tmp_path / "plate.xlsx", shop, options)
    letter = build_letter(job, shop, RunStamp.now("0"), {})
    (point,) = [point for group in letter.groups for point in group.points]
    assert point.where == ("plate.xlsx ! Holes ! D4", "plate.xlsx ! Holes ! D5")
    assert letter.many == "1 question"


def test_nothing_is_written_without_questions(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    book, _ = book_of([*TITLE, HEADER, ("A1", 10, 20, "Ø6.6 THRU", 1)])
    book.save(tmp_path / "plate.xlsx")
    assert send(tmp_path / "plate.xlsx", tmp_path / "out", "--letter", "--marked") == 0
    assert not (tmp_path / "out").exists()
    assert "nothing to send back" in capsys.readouterr().out


def test_every_question_has_its_group() -> None:
    """Codes go to the first heading that fits; those that no heading names are about what is written."""
    assert group_of("SCHEDULE-CALLOUT-DATE") == "Cells that a spreadsheet has changed"
    assert group_of("CHECK-SAME-PLACE") == "Where the holes are"
    assert group_of("CHECK-THREAD-DEPTH") == "Figures that contradict each other"
    assert group_of("CALLOUT-WORD-UNKNOWN") == THE_REST
    assert len({title for title, _ in GROUPS}) == len(GROUPS)
