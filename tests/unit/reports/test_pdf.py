"""The PDF, read back with pypdf."""

from __future__ import annotations

import hashlib
import io
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader

from holesched.notes import CellRef
from holesched.pipeline import plan_schedule
from holesched.reports import process_sheet, setup_sheet
from holesched.reports.base import Report, RunStamp
from holesched.reports.html import render
from holesched.reports.pdf import PdfUnavailable, letters_missing, to_pdf
from holesched.reports.write import write_reports
from holesched.schedule.model import JobHeader, Schedule, ScheduleRow
from holesched.sequence.model import JobPlan
from holesched.shop.model import ReportStyle, Shop

A4, LETTER = (842, 595), (792, 612)
"""Landscape, in points."""


@pytest.fixture(scope="module")
def pages(job: JobPlan, shop: Shop, stamp: RunStamp) -> list[str]:
    report = process_sheet.REPORT
    written = to_pdf(render(report.template, report.build(job, shop, stamp), stamp), stamp)
    return [page.extract_text() for page in PdfReader(io.BytesIO(written)).pages]


def test_every_page_says_what_it_belongs_to(pages: list[str]) -> None:
    """Part, revision, sheet n of m, source, fingerprint, date and the census."""
    assert len(pages) > 3
    for number, text in enumerate(pages, start=1):
        for words in (
            "VB-2047 revision C",
            f"Sheet {number} of {len(pages)}",
            "valve_block.xlsx 3f1a3f1a3f1a 2026-01-02",
            "45 rows in the table = 38 planned + 5 in question + 2 set aside",
            "45 holes in the table = 38 planned + 7 in question",
        ):
            assert words in text, (number, words)


def test_page_one_has_questions_cautions_and_operations(pages: list[str]) -> None:
    for words in ("Open questions", "D31", "HOLD until answered", "The drawing governs", "Operations", "90° spot drill 10"):
        assert words in pages[0]


def test_the_signs_of_drawings_come_out_as_text(pages: list[str]) -> None:
    text = "\n".join(pages)
    assert "⌀11 THRU ⌴⌀18 ↧11" in text
    assert "⌵⌀10.4x90°" in text
    assert "20.38 drill" in text, "labels of the sketch"


def test_no_page_is_nearly_empty(pages: list[str]) -> None:
    assert all(len(text) > 350 for text in pages)


@pytest.mark.parametrize(("paper", "size"), [("A4", A4), ("Letter", LETTER)])
def test_paper_and_fonts(job: JobPlan, stamp: RunStamp, paper: str, size: tuple[int, int]) -> None:
    """The sheet's own font is inside; nothing depends on what the machine has."""
    report = setup_sheet.REPORT
    value = report.build(job, Shop(report=ReportStyle(paper=paper)), stamp)
    reader = PdfReader(io.BytesIO(to_pdf(render(report.template, value, stamp), stamp)))
    page = reader.pages[0]
    assert (round(page.mediabox.width), round(page.mediabox.height)) == size
    fonts = [font.get_object()["/BaseFont"] for font in page["/Resources"]["/Font"].values()]
    assert fonts
    assert all("Holesched" in font for font in fonts)


def test_the_date_inside_is_the_stamps(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    report = setup_sheet.REPORT
    reader = PdfReader(io.BytesIO(to_pdf(render(report.template, report.build(job, shop, stamp), stamp), stamp)))
    assert reader.metadata is not None
    assert str(reader.metadata["/CreationDate"]).startswith("D:20260102")
    assert reader.metadata.title == "Set-up sheet VB-2047 revision C"


ANOTHER_PROCESS = """
import hashlib, sys
from datetime import date
sys.path.insert(0, sys.argv[1])
import sample_job
from holesched.reports import setup_sheet
from holesched.reports.base import Report, RunStamp
from holesched.reports.html import render
from holesched.reports.pdf import to_pdf
from holesched.shop.model import Shop
stamp = RunStamp(date(2026, 1, 2), "0.1.0")
report = setup_sheet.REPORT
html = render(report.template, report.build(sample_job.sample_job(), Shop(), stamp), stamp)
print(hashlib.sha256(to_pdf(html, stamp)).hexdigest())
"""


def test_two_processes_give_the_same_bytes(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    report = setup_sheet.REPORT
    here = hashlib.sha256(to_pdf(render(report.template, report.build(job, shop, stamp), stamp), stamp)).hexdigest()
    folder = str(Path(__file__).parent)
    command = [sys.executable, "-c", ANOTHER_PROCESS, folder]
    there = subprocess.run(command, capture_output=True, text=True, check=True, env={"PYTHONHASHSEED": "7", "PATH": ""})
    assert there.stdout.strip() == here


def test_nothing_outside_the_document_is_read(tmp_path: Path, stamp: RunStamp) -> None:
    """A file: address is not followed; the same style inside a data: address is."""
    secret = tmp_path / "secret.css"
    secret.write_text('p::after { content: "leaked" }')

    def words(address: str) -> str:
        html = f'<!DOCTYPE html><link rel="stylesheet" href="{address}"><p>body</p>'
        return PdfReader(io.BytesIO(to_pdf(html, stamp))).pages[0].extract_text()

    assert "leaked" not in words(secret.as_uri())
    assert "leaked" in words("data:text/css,p::after%20%7B%20content:%20'leaked'%20%7D")


def test_without_pango_the_message_says_how_to_get_it(monkeypatch: pytest.MonkeyPatch, stamp: RunStamp) -> None:
    monkeypatch.setitem(sys.modules, "weasyprint", None)
    with pytest.raises(PdfUnavailable) as caught:
        to_pdf("<p>x</p>", stamp)
    assert "libpango-1.0-0" in str(caught.value)
    assert "brew install pango" in str(caught.value)
    assert "MSYS2" in str(caught.value)


def test_letters_without_a_font_are_found(stamp: RunStamp) -> None:
    """U+10FFFD, for private use, is in no font; those of the sheet's own font are never missing."""
    with letters_missing() as missing:
        to_pdf("<p>\U0010fffd</p>", stamp)
    assert missing == {"\U0010fffd"}
    with letters_missing() as missing:
        to_pdf("<p>A</p>", stamp)
    assert missing == set()


def test_they_are_said_once_for_all_documents(job: JobPlan, stamp: RunStamp, tmp_path: Path) -> None:
    named = replace(job, header=replace(job.header, part_name="\U0010fffd"))
    _, notes = write_reports(named, Shop(), tmp_path, frozenset({"pdf"}), stamp)
    (note,) = notes
    assert note.code == "REPORT-LETTERS-MISSING"
    assert "\U0010fffd" in note.message
    assert "fonts-noto-cjk" in note.suggestion


@pytest.mark.parametrize("report", [process_sheet.REPORT, setup_sheet.REPORT], ids=lambda report: report.key)
def test_the_cautions_stand_together_under_their_heading(report: Report, job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    """Every line of theirs begins in the column of the heading, on its page."""
    cautions = report.build(job, shop, stamp).cautions
    written = to_pdf(render(report.template, report.build(job, shop, stamp), stamp), stamp)
    places: list[tuple[int, str, float]] = []
    for number, page in enumerate(PdfReader(io.BytesIO(written)).pages):
        page.extract_text(visitor_text=lambda text, _c, at, _f, _s, n=number: places.append((n, text.strip(), at[4])))
    ((page_no, _, left),) = [place for place in places if place[1] == "Cautions"]
    for caution in cautions:
        first = [place for place in places if place[1] and caution.startswith(place[1]) and len(place[1]) > 20]
        assert first, caution
        assert any(number == page_no and 0 <= at - left < 60 for number, _, at in first), caution


def test_four_plain_holes_stand_on_one_page(stamp: RunStamp) -> None:
    rows = tuple(
        ScheduleRow(CellRef("plain.csv", "plain", line, 2), f"A{line}", f"Ø{size:g} THRU", "mm")
        for line, size in enumerate((5, 5.5, 6.6, 7, 9, 10, 11, 12), start=2)
    )
    header = JobHeader(material="C45", thickness_mm=40.0, unit="mm", unit_stated=True)
    job = plan_schedule(Schedule("plain.csv", "plain", "", header, rows, (), len(rows)), (), Shop())
    report = process_sheet.REPORT
    written = to_pdf(render(report.template, report.build(job, Shop(), stamp), stamp), stamp)
    texts = [page.extract_text() for page in PdfReader(io.BytesIO(written)).pages]
    assert max(text.count("Tags") for text in texts) == 4
