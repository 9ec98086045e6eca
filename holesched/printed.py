"""Jobs and checked schedules as lines for a terminal."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from holesched.notes import CellRef, Note, Severity
from holesched.units import LengthUnit

if TYPE_CHECKING:
    from holesched.check import CheckedSchedule
    from holesched.sequence.model import JobPlan

_CONTROLS = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")

_CELLS = 6
"""How many cells of one question are named."""


def check_text(checked: CheckedSchedule | JobPlan) -> str:
    """The ledger, every question in full, and what to look at."""
    rows, holes = checked.ledger.rows, checked.ledger.holes
    questions = _asked_once(checked.notes)
    lines = [
        checked.source,
        f"  rows      {rows.read} read = {rows.planned} to plan + {rows.in_question} in question"
        f" + {rows.set_aside} set aside",
        f"  holes     {holes.read} read = {holes.planned} to plan + {holes.in_question} in question",
        f"  questions {len(questions)}",
    ]
    lines += [line for note, place in questions for line in _question(note, place or checked.source, checked.unit)]
    watched = [note for note in checked.notes if note.severity is Severity.WATCH]
    lines += [
        f"  look at   {note.ref or checked.source}: {_said(note.message, note, checked.unit).splitlines()[0]}"
        for note in watched
    ]
    return plain("\n".join(lines))


def _said(text: str, note: Note, unit: LengthUnit) -> str:
    """A note's text with inches for an inch job, the cell that it quotes left as it is."""
    if unit == "mm":
        return text
    from holesched.reports.show import Show  # not before it is needed: 'check' is quick

    return Show(unit).running(text, (note.text,))


def _asked_once(notes: Iterable[Note]) -> list[tuple[Note, str]]:
    """The questions with their places; what is asked of the same text in many cells is asked once."""
    alike: dict[tuple[str, ...], list[Note]] = {}
    for note in notes:
        if note.is_question:
            alike.setdefault((note.code, note.message, note.text, note.assumed), []).append(note)
    return [(found[0], _places([note.ref for note in found if note.ref is not None])) for found in alike.values()]


def _places(refs: Sequence[CellRef]) -> str:
    """The first cell in full, then those of the same sheet: "a.csv!a!B4, B7, B9 and 8 more"."""
    cells = [str(ref) if number == 0 else ref.cell for number, ref in enumerate(refs)]
    return ", ".join(cells[:_CELLS]) + (f" and {len(cells) - _CELLS} more" if len(cells) > _CELLS else "")


def _question(note: Note, place: str, unit: LengthUnit) -> list[str]:
    """A question's place, then its text, problem, suggestion and what is assumed, each from one column on."""
    said = (
        ("text", note.text),
        ("problem", _said(note.message, note, unit)),
        ("suggestion", _said(note.suggestion, note, unit)),
        ("meanwhile", _said(note.assumed, note, unit) or ("not planned" if note.severity is Severity.REFUSED else "")),
    )
    indent = "\n" + 18 * " "
    return [
        f"    {place}",
        *(f"      {what:<10}  {text.replace(chr(10), indent)}" for what, text in said if text),
    ]


def summary(job: JobPlan) -> str:
    """Rows, holes, tools, time and questions of a job, as a few aligned lines."""
    rows, holes = job.ledger.rows, job.ledger.holes
    questions = _asked_once(job.notes)
    lines = [
        job.source,
        f"  rows      {rows.read} read = {rows.planned} planned + {rows.in_question} in question"
        f" + {rows.set_aside} set aside",
        f"  holes     {holes.read} read = {holes.planned} planned + {holes.in_question} in question",
        f"  tools     {len(job.loading)}",
        f"  time      {_time(job)}",
        f"  questions {len(questions)}",
    ]
    lines += [
        f"    {place or job.source}: {_said(note.message, note, job.unit).splitlines()[0]}" for note, place in questions
    ]
    return plain("\n".join(lines))


def _time(job: JobPlan) -> str:
    """Minutes a part; where a step has no depth, and so no time, what is known of them."""
    total = f"{job.time.total_min:.1f} min a part"
    return total if job.time.is_whole else f"more than {total}: not every depth is known"


def plain(text: str) -> str:
    """What stands in a file cannot move a terminal's cursor or turn its letters round."""
    return _CONTROLS.sub("\ufffd", text.replace("\t", " "))
