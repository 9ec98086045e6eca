"""The answers that questions themselves propose, each planned, so that a letter can say what it would change.

A suggestion often names whole threads or callouts ("1/4-20 UNC or 1/4-28 UNF?"). Each is put where the doubtful piece of the
callout stands and planned as one hole of the same material, thickness and unit.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from holesched.notes import Note
from holesched.pipeline import explain
from holesched.reports.answer_effects import Answer, Answers
from holesched.reports.open_points import Question, all_notes, open_points
from holesched.schedule.model import ReadOptions
from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop
from holesched.standards import threads
from holesched.units import LengthUnit

MOST = 4
"""Answers worked out for one question."""
_PROPOSING = ("THREAD-", "CELL-DATE", "SCHEDULE-CALLOUT-DATE", "SCHEDULE-CALLOUT-RUNS")
"""Codes whose suggestions name what may have been meant; those of other questions only name examples."""
_NO_PROPOSAL = ("THREAD-MISSING", "THREAD-OR-CLEARANCE")
_QUOTED = re.compile(r"(?<!\w)'([^'\n]+)'(?!\w)|Was it ([^?\n]+)\?")
_WORD = re.compile(r"(?<![\w/.#-])[\w#]")
_CLASS = re.compile(r"[ -]([1-3]B|\dGH?|\dH(?:\dH)?)(?: ?-?LH)?\s*$")


def proposed_answers(job: JobPlan, shop: Shop, options: ReadOptions) -> Answers:
    """The answers that the job's questions propose and that can be planned, for each question that proposes any."""
    asked = [note for note in all_notes(job) if note.is_question]
    found: dict[Note, list[Answer]] = {}
    for note, question in zip(asked, open_points(job).questions, strict=True):
        if not note.code.startswith(_PROPOSING) or note.code in _NO_PROPOSAL:
            continue
        for callout in list(dict.fromkeys(_callouts(question, job.header.unit)))[:MOST]:
            planned = explain(callout, shop, _around(note, job, options))
            if planned.holes and all(hole.cut_plan is not None for hole in planned.holes):
                found.setdefault(note, []).append(Answer(callout, planned))
    return found


def _around(note: Note, job: JobPlan, options: ReadOptions) -> ReadOptions:
    """Unit, material and thickness of the question's own hole, else of the job."""
    own = next((hole.type for hole in job.holes if note in hole.notes), None)
    material = own.material if own is not None else job.header.material
    thickness = own.thickness_mm if own is not None else job.header.thickness_mm
    return replace(options, unit=job.header.unit, material=material, thickness_mm=thickness)


def _callouts(question: Question, unit: LengthUnit) -> Iterator[str]:
    """The whole callouts that a question proposes: each named piece in the place of the doubtful thread."""
    quoted = [piece for pair in _QUOTED.findall(question.suggestion) for whole in pair for piece in whole.split(" or ")]
    pieces = [text.strip() for text in quoted if text.strip()] or [
        text for text, _ in _threads_in(question.suggestion, unit)
    ]
    if question.marked is None:
        yield from pieces
    elif question.shown:
        before, doubtful, after = question.marked
        thread, start = next(iter(_threads_in(doubtful, unit)), (doubtful, 0))
        written = _CLASS.search(thread)
        for piece in pieces:
            with_class = f"{piece}-{written[1]}" if written and not _CLASS.search(piece) else piece
            yield f"{before}{doubtful[:start]}{with_class}{doubtful[start + len(thread) :]}{after}"


def _threads_in(text: str, unit: LengthUnit) -> Iterator[tuple[str, int]]:
    """The thread designations of a text and where each starts, in its order."""
    end = 0
    for word in _WORD.finditer(text):
        found = threads.recognise(text, word.start(), unit) if word.start() >= end else None
        if found is not None:
            end = found[1]
            yield text[word.start() : end].rstrip(), word.start()
