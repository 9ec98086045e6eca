"""What goes back to the drawing office: the marked copy of its workbook, and the questions as a letter."""

from __future__ import annotations

from pathlib import Path

from holesched.notes import Note
from holesched.reports.answer_effects import Answers
from holesched.reports.base import RunStamp
from holesched.reports.html import render
from holesched.reports.marked_copy import marked_copy
from holesched.reports.outputs import put_files
from holesched.reports.pdf import letters_missing
from holesched.reports.question_letter import TEMPLATE, build_letter
from holesched.reports.write import letters_note, pdf_or_why
from holesched.schedule.model import ReadOptions
from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop


def write_questions(
    job: JobPlan,
    shop: Shop,
    stamp: RunStamp,
    target: Path,
    *,
    marked_from: tuple[Path, ReadOptions] | None,
    answers: Answers | None,
) -> tuple[tuple[Path, ...], tuple[Note, ...]]:
    """Writes <target>_questions.xlsx, .html and .pdf; returns the files and what to say.

    `marked_from` is the file that the job was read from, and how; None: no marked copy. `answers` are those that the letter
    proposes; None: no letter. Raises CannotWrite, and then nothing has changed.
    """
    name = f"{target.name}_questions"
    contents: dict[str, bytes] = {}
    notes: tuple[Note, ...] = ()
    if marked_from is not None:
        contents[f"{name}.xlsx"] = marked_copy(*marked_from, job, shop, stamp)
    if answers is not None:
        html = render(TEMPLATE, build_letter(job, shop, stamp, answers, f"{name}.xlsx" if marked_from else ""), stamp)
        contents[f"{name}.html"] = html.encode("utf-8")
        with letters_missing() as letters:
            pdf, notes = pdf_or_why(html, stamp)
        notes += letters_note(letters)
        if pdf is not None:
            contents[f"{name}.pdf"] = pdf
    return put_files(target.parent, contents), notes
