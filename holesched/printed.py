"""Jobs and checked schedules as lines for a terminal."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from holesched.notes import Note, Severity
from holesched.units import LengthUnit

if TYPE_CHECKING:
    from holesched.check import CheckedSchedule
    from holesched.sequence.model import JobPlan

_CONTROLS = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")


def check_text(checked: CheckedSchedule | JobPlan) -> str:
    """The ledger, every question in full, and what to look at."""
    rows, holes = checked.ledger.rows, checked.ledger.holes
    questions = [note for note in checked.notes if note.is_question]
    lines = [
        checked.source,
        f"  rows      {rows.read} read = {rows.planned} to plan + {rows.in_question} in question"
        f" + {rows.set_aside} set aside",
        f"  holes     {holes.read} read = {holes.planned} to plan + {holes.in_question} in question",
        f"  questions {len(questions)}",
    ]
    lines += [line for note in questions for line in _question(note, checked.source, checked.unit)]
    watched = [note for note in checked.notes if note.severity is Severity.WATCH]
    lines += [
        f"  look at   {note.ref or checked.source}: {' '.join(_said(note.message, note, checked.unit).split())}"
        for note in watched
    ]
    return plain("\n".join(lines))


def _said(text: str, note: Note, unit: LengthUnit) -> str:
    """A note's text with inches for an inch job, the cell that it quotes left as it is."""
    if unit == "mm":
        return text
    from holesched.reports.show import Show  # not before it is needed: 'check' is quick

    return Show(unit).running(text, (note.text,))


def _question(note: Note, source: str, unit: LengthUnit) -> list[str]:
    """A question's place, then its text, problem, suggestion and what is assumed, each from one column on."""
    said = (
        ("text", note.text),
        ("problem", _said(note.message, note, unit)),
        ("suggestion", _said(note.suggestion, note, unit)),
        ("meanwhile", _said(note.assumed, note, unit) or ("not planned" if note.severity is Severity.REFUSED else "")),
    )
    indent = "\n" + 18 * " "
    return [
        f"    {note.ref or source}",
        *(f"      {what:<10}  {text.replace(chr(10), indent)}" for what, text in said if text),
    ]


def summary(job: JobPlan) -> str:
    """Rows, holes, tools, time and questions of a job, as a few aligned lines."""
    rows, holes = job.ledger.rows, job.ledger.holes
    questions = [note for note in job.notes if note.is_question]
    lines = [
        job.source,
        f"  rows      {rows.read} read = {rows.planned} planned + {rows.in_question} in question"
        f" + {rows.set_aside} set aside",
        f"  holes     {holes.read} read = {holes.planned} planned + {holes.in_question} in question",
        f"  tools     {len(job.loading)}",
        f"  time      {job.time.total_min:.1f} min a part",
        f"  questions {len(questions)}",
    ]
    lines += [f"    {note.ref or job.source}: {_said(note.message, note, job.unit).splitlines()[0]}" for note in questions]
    return plain("\n".join(lines))


def plain(text: str) -> str:
    """What stands in a file cannot move a terminal's cursor or turn its letters round."""
    return _CONTROLS.sub("\ufffd", text.replace("\t", " "))
