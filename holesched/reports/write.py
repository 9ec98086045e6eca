"""All documents of one job, written together."""

from __future__ import annotations

import json
from pathlib import Path

from holesched.notes import Note, Severity
from holesched.reports import REPORTS
from holesched.reports.base import RunStamp
from holesched.reports.html import render
from holesched.reports.outputs import put_files
from holesched.reports.pdf import PdfUnavailable, letters_missing, to_pdf
from holesched.reports.sheet_json import job_json
from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop

WORKBOOK, MACHINE_READABLE = "tool_list.xlsx", "sheet.json"


def write_reports(
    job: JobPlan, shop: Shop, folder: Path, formats: frozenset[str], stamp: RunStamp
) -> tuple[tuple[Path, ...], tuple[Note, ...]]:
    """Writes the job's documents in `formats` (of html, pdf, xlsx, json) into `folder`; returns the files and what to say.

    Where no PDF can be made on this machine the rest is still written and a note says how to get it. Raises CannotWrite, and
    then nothing has changed.
    """
    contents: dict[str, bytes] = {}
    notes: list[Note] = []
    wanted = set(formats)
    with letters_missing() as letters:
        for report in REPORTS:
            if not wanted.intersection(report.formats):
                continue
            html = render(report.template, report.build(job, shop, stamp), stamp)
            asked = wanted.intersection(report.formats)
            pdf, missing = pdf_or_why(html, stamp) if "pdf" in asked else (None, ())
            notes += missing
            if "html" in asked or (missing and "html" in report.instead):
                contents[f"{report.key}.html"] = html.encode("utf-8")
            if pdf is not None:
                contents[f"{report.key}.pdf"] = pdf
    notes += letters_note(letters)
    if "xlsx" in wanted:
        from holesched.reports.tool_list import foot, tables
        from holesched.reports.workbook import workbook

        contents[WORKBOOK] = workbook(tables(job, shop), stamp, foot(job, shop, stamp), shop.report.paper)
    if "json" in wanted:
        contents[MACHINE_READABLE] = json_bytes(job_json(job, stamp))
    written = put_files(folder, contents)
    return written, (*dict.fromkeys(notes), *_old_files(folder, contents))


def json_bytes(value: object) -> bytes:
    """JSON as it is written: readable, UTF-8, one line feed at the end."""
    return (json.dumps(value, ensure_ascii=False, indent=1) + "\n").encode("utf-8")


def pdf_or_why(html: str, stamp: RunStamp) -> tuple[bytes | None, tuple[Note, ...]]:
    """The PDF, or why there is none."""
    try:
        return to_pdf(html, stamp), ()
    except PdfUnavailable as problem:
        said = f"{problem.problem[0].upper()}{problem.problem[1:]}."
        return None, (Note("REPORT-PDF-UNAVAILABLE", Severity.TOLD, said, suggestion=problem.remedy),)


def letters_note(letters: set[str]) -> tuple[Note, ...]:
    """Letters that stand as boxes in the PDF because this machine has no font for them."""
    if not letters:
        return ()
    some = " ".join(sorted(letters)[:12])
    message = f"In the PDF boxes stand for {len(letters)} letters that no font of this machine has: {some}."
    remedy = "Install a font that has them (Debian, for Japanese, Chinese and Korean: fonts-noto-cjk) and run again."
    return (Note("REPORT-LETTERS-MISSING", Severity.WATCH, message, suggestion=remedy),)


def _old_files(folder: Path, contents: dict[str, bytes]) -> tuple[Note, ...]:
    """A document of an earlier run beside the new ones may show another revision: it is left there, and said so."""
    names = [f"{report.key}.{ending}" for report in REPORTS for ending in ("html", "pdf")]
    old = [name for name in (*names, WORKBOOK, MACHINE_READABLE) if name not in contents and (folder / name).exists()]
    if not old:
        return ()
    message = f"{', '.join(old)} in this folder: from an earlier run and not written anew."
    return (Note("REPORT-OLD-FILE", Severity.TOLD, message, suggestion="Remove what is out of date."),)
