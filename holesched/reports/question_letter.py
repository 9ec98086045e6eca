"""The questions of a job as a letter to the drawing's owner: grouped, each with room for its answer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from holesched.notes import Note
from holesched.reports.answer_effects import Answers, Choice, at_stake, choices
from holesched.reports.base import RunStamp
from holesched.reports.job_header import Heading, heading
from holesched.reports.naming import show_of
from holesched.reports.open_points import Question, all_notes, open_points
from holesched.reports.show import Show, count
from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop

TITLE = "Drawing query"
TEMPLATE = "question_letter.html.j2"
GROUPS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("The part as a whole", ("MATERIAL-", "THICKNESS-", "SCHEDULE-UNIT-", "SCHEDULE-OTHER-", "SCHEDULE-TITLE-")),
    (
        "Cells that a spreadsheet has changed",
        (
            "SCHEDULE-CALLOUT-DATE",
            "SCHEDULE-CALLOUT-ERROR",
            "SCHEDULE-CALLOUT-FORM",
            "SCHEDULE-CALLOUT-RUNS",
            "SCHEDULE-CALLOUT-TYPE",
            "SCHEDULE-TAG-DAMAGED",
            "CELL-",
            "CALLOUT-REPAIRED",
        ),
    ),
    (
        "How many holes",
        ("COUNT-", "CALLOUT-COUNT-", "SCHEDULE-QUANTITY-", "SCHEDULE-TAG-", "SCHEDULE-TOTAL-", "SCHEDULE-LEGEND-"),
    ),
    (
        "Where the holes are",
        ("CHECK-SAME-", "CHECK-WALLS-", "CHECK-WEB-", "CHECK-PLACES-", "CHECK-EDGE", "SCHEDULE-PLACE-", "PATTERN-"),
    ),
    ("Rows that are open", ("ROW-", "SCHEDULE-ROW-", "SCHEDULE-CALLOUT-EMPTY", "SCHEDULE-CALLOUT-MERGED", "CALLOUT-EMPTY")),
    ("Figures that contradict each other", ("CHECK-", "SCHEDULE-DEPTH-", "DEPTH-", "TAP-", "DRILL-", "WALL-", "REAM-")),
    ("Threads", ("THREAD-",)),
)
"""Headings and the codes that belong under them, in the letter's order; the first that fits takes a question."""
THE_REST = "What is written"


@dataclass(frozen=True, slots=True)
class Point:
    """One question, asked of one cell or of several that it is the same for.

    `types` are the hole types of the process sheet; `choices` the answers it proposes; `stake` what its holes take as read.
    """

    numbers: str
    where: tuple[str, ...]
    types: str
    question: Question
    choices: tuple[Choice, ...]
    stake: str


@dataclass(frozen=True, slots=True)
class Group:
    """The questions of one kind."""

    title: str
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class QuestionLetter:
    """Everything the letter shows. `marked_copy` is the name of the workbook sent with it, "" without one."""

    head: Heading
    groups: tuple[Group, ...]
    many: str
    waiting: str
    marked_copy: str


def build_letter(job: JobPlan, shop: Shop, stamp: RunStamp, answers: Answers, marked_copy: str = "") -> QuestionLetter:
    """The letter of a job with at least one question."""
    show = show_of(job, shop)
    asked = [note for note in all_notes(job) if note.is_question]
    numbered = list(zip(asked, open_points(job, show).questions, strict=True))
    groups = []
    for title in dict.fromkeys([*(title for title, _ in GROUPS), THE_REST]):
        mine = [(note, question) for note, question in numbered if group_of(note.code) == title]
        points = tuple(_point(same, job, answers, show) for same in _same(mine))
        if points:
            groups.append(Group(title, points))
    holes = job.ledger.holes
    return QuestionLetter(
        head=heading(job, shop, stamp, TITLE, show),
        groups=tuple(groups),
        many=count(sum(len(group.points) for group in groups), "question"),
        waiting=f"{holes.in_question} of {count(holes.read, 'hole')}",
        marked_copy=marked_copy,
    )


def group_of(code: str) -> str:
    """The heading under which a note of that code stands."""
    return next((title for title, starts in GROUPS if code.startswith(starts)), THE_REST)


Numbered = tuple[Note, Question]


def _same(numbered: Sequence[Numbered]) -> list[list[Numbered]]:
    """Questions that differ only in their cell, together."""
    found: dict[tuple[str, str, str, str, str], list[Numbered]] = {}
    for note, question in numbered:
        key = (note.code, note.message, note.text, note.suggestion, note.assumed)
        found.setdefault(key, []).append((note, question))
    return list(found.values())


def _as_read(choice: Choice, question: Question, stake: str) -> bool:
    """Whether an answer is what is planned meanwhile: it says so, takes the same, or gives only another number."""
    return choice.answer.startswith(question.assumed) or stake.endswith(choice.effect) or choice.effect.endswith("a part")


def _lower(text: str) -> str:
    """A sentence as part of another; a size or a thread at its head keeps its letters."""
    return text[:1].lower() + text[1:] if text[1:2].islower() else text


def _point(same: Sequence[Numbered], job: JobPlan, answers: Answers, show: Show) -> Point:
    note, question = same[0]
    letters = {letter for _, each in same for letter in each.types.split(", ")}
    held = [hole for hole in job.holes if hole.type.letter in letters]
    proposed = choices(answers.get(note, ()), job, held, show)
    stake = at_stake(job, held, show) if question.planned else ""
    if proposed and stake:
        if not any(_as_read(choice, question, stake) for choice in proposed):
            proposed = (Choice(f"{question.text} (as it stands: {_lower(question.assumed)})", stake), *proposed)
        stake = ""
    return Point(
        numbers=", ".join(str(each.number) for _, each in same),
        where=tuple(dict.fromkeys(each.where for _, each in same)),
        types=", ".join(dict.fromkeys(each.types for _, each in same)),
        question=question,
        choices=proposed,
        stake=stake,
    )
