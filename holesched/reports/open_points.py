"""Notes as a sheet shows them: questions numbered for the drawing's owner, assumptions to initial, warnings."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from holesched.cutting.model import CHANGE, OVERLOAD, TapRisk
from holesched.notes import CellRef, Note, Severity
from holesched.reports.naming import place
from holesched.reports.show import Show, count
from holesched.sequence.model import JobPlan, PlannedHole

WHOLE_JOB = "whole job"
OF_TOOLS = ("TAP-", "CUT-")
"""Codes of notes that quote no cell: their figures are ours, like those of a reason."""
IN_MM = Show("mm")
LOOKALIKE = "CHECK-LOOKALIKE"
"""The code of the notes on threads that are taken for one another; they stand before all others."""
STANDS_ELSEWHERE = (*OVERLOAD, LOOKALIKE, "CAROUSEL-FULL")
"""Codes of notes that have a box of their own on the sheets."""
SAID_BY = {"CHECK-HOLE-DEEP": "HOLE-DEEP"}
"""Codes of notes that say nothing where one of the other code speaks of the same hole."""
TAP_RISK = "TAP-RISK"
"""The code of the notes that rank before all others to watch, by their taps' risk of breaking."""


@dataclass(frozen=True, slots=True)
class Question:
    """One thing that only the drawing's owner can settle. `types` are hole-type letters, or what else it concerns."""

    number: int
    where: str
    text: str
    problem: str
    marked: tuple[str, str, str] | None
    """The text before, at and after the place that was not understood, where the message shows one with carets."""
    suggestion: str
    assumed: str
    types: str
    planned: bool

    @property
    def shown(self) -> bool:
        """Whether the marked text is the whole text, which then stands there once and marked."""
        return self.marked is not None and "".join(self.marked).strip() == self.text.strip()


@dataclass(frozen=True, slots=True)
class Remark:
    """An assumption, a warning or a record: said once, with all hole types and the number of further places."""

    number: int
    text: str
    marked: tuple[str, str, str] | None
    assumed: str
    suggestion: str
    source: str
    types: str
    where: str


@dataclass(frozen=True, slots=True)
class OpenPoints:
    """A job's notes by what they ask of the reader; `held_by` gives a hole type's question numbers."""

    questions: tuple[Question, ...]
    lookalikes: tuple[Remark, ...]
    watch: tuple[Remark, ...]
    assumed: tuple[Remark, ...]
    told: tuple[Remark, ...]
    held_by: dict[str, tuple[int, ...]]


def all_notes(job: JobPlan) -> tuple[Note, ...]:
    """Every note of the job once, in the order in which the stages left them."""
    found = [*job.notes]
    for hole in job.holes:
        found += hole.notes
    for row in job.unread:
        found += row.notes
    return tuple(dict.fromkeys(found))


def open_points(job: JobPlan, show: Show = IN_MM) -> OpenPoints:
    """The job's notes, numbered and drawn together; what to watch is ranked, the tap nearest to breaking first.

    What the machine cannot do is no matter of watching: see overloads.py.
    """
    notes = all_notes(job)
    concerned = _Concerned(job)
    asked = [note for note in notes if note.is_question]
    questions = tuple(_question(number, note, concerned, show) for number, note in enumerate(asked, start=1))
    held: dict[str, list[int]] = {}
    for question, note in zip(questions, asked, strict=True):
        for letter in concerned.letters(note):
            held.setdefault(letter, []).append(question.number)
    return OpenPoints(
        questions,
        _remarks([note for note in notes if note.code == LOOKALIKE], Severity.WATCH, concerned, show),
        _remarks(_ranked(_to_watch(notes, job), job), Severity.WATCH, concerned, show, _cheapest(job)),
        _remarks(notes, Severity.ASSUMED, concerned, show),
        _remarks(notes, Severity.TOLD, concerned, show),
        {letter: tuple(numbers) for letter, numbers in held.items()},
    )


def _to_watch(notes: Iterable[Note], job: JobPlan) -> list[Note]:
    """What stands under "watch": neither what stands before it, nor what another note of the same hole says."""
    once: set[Note] = set()
    needed: set[Note] = set()
    for hole in job.holes:
        codes = {note.code for note in hole.notes}
        for note in hole.notes:
            (once if SAID_BY.get(note.code) in codes else needed).add(note)
    return [note for note in notes if note.code not in STANDS_ELSEWHERE and not (note in once and note not in needed)]


def _cheapest(job: JobPlan) -> dict[Note, str]:
    """For a note on the risk of a tap the cheapest remedy, and of a tap near to breaking the last and surest too: all of
    them stand on the hole type's card."""
    found: dict[Note, str] = {}
    for hole in job.holes:
        risks = [cut.risk for cut in hole.cuts if cut.risk is not None and cut.risk.remedies]
        remedies = {" ".join(risk.remedies): _shortened(risk) for risk in risks}
        found.update({note: remedies[note.suggestion] for note in hole.notes if note.suggestion in remedies})
    return found


def _shortened(risk: TapRisk) -> str:
    first, last = risk.remedies[0], risk.remedies[-1]
    return first if risk.band != CHANGE or first == last else f"{first} {last}"


def _ranked(notes: Iterable[Note], job: JobPlan) -> list[Note]:
    """Notes with those on the risk of breaking a tap first, the highest first; the others in their own order."""
    risk: dict[Note, float] = {}
    for hole in job.holes:
        indexes = [cut.risk.index for cut in hole.cuts if cut.risk is not None]
        for note in hole.notes:
            if note.code == TAP_RISK and indexes:
                risk[note] = max(risk.get(note, 0.0), *indexes)
    return sorted(notes, key=lambda note: -risk.get(note, 0.0))


class _Concerned:
    """Which hole types a note speaks of: those that carry it, else the one whose row it points at."""

    def __init__(self, job: JobPlan) -> None:
        self._by_note: dict[Note, list[str]] = {}
        self._by_row: dict[tuple[str, str, int], str] = {}
        self._unread = {(row.ref.file, row.ref.sheet, row.ref.row) for row in job.unread}
        self._refused = {hole.type.letter for hole in job.holes if hole.cut_plan is None}
        for hole in job.holes:
            for note in hole.notes:
                self._by_note.setdefault(note, []).append(hole.type.letter)
            for member in hole.type.members:
                self._by_row[_row(member.ref)] = hole.type.letter
        threads = [step.thread for hole in job.holes for step in hole.type.hole.features]
        self._names = tuple({f"{thread.designation}: " for thread in threads if thread is not None})

    def unnamed(self, note: Note) -> str:
        """The note's message without the thread that it begins with."""
        name = next((name for name in self._names if note.message.startswith(name)), "")
        return note.message.removeprefix(name)

    def letters(self, note: Note) -> list[str]:
        found = self._by_note.get(note)
        if found is None and note.ref is not None and _row(note.ref) in self._by_row:
            found = [self._by_row[_row(note.ref)]]
        return list(dict.fromkeys(found or []))

    def words(self, note: Note) -> str:
        letters = self.letters(note)
        if letters:
            return ", ".join(letters)
        return "row" if note.ref is not None and _row(note.ref) in self._unread else WHOLE_JOB

    def planned(self, note: Note) -> bool:
        letters = self.letters(note)
        return note.severity is Severity.ASK and not self._refused.issuperset(letters or ["none"])


def _row(ref: CellRef) -> tuple[str, str, int]:
    return (ref.file, ref.sheet, ref.row)


def _question(number: int, note: Note, concerned: _Concerned, show: Show) -> Question:
    problem, marked = _marked(note.message)
    cell = (note.text,)
    return Question(
        number,
        place(note.ref) or WHOLE_JOB,
        note.text,
        show.running(problem, cell),
        marked,
        show.running(note.suggestion, cell),
        show.running(note.assumed.rstrip(". "), cell),
        concerned.words(note),
        concerned.planned(note),
    )


def _marked(message: str) -> tuple[str, tuple[str, str, str] | None]:
    """A message whose last lines are a text and carets under it: the sentence, and the text cut at the carets."""
    *sentence, text, carets = ["", *message.splitlines()] if message.count("\n") else ["", message, ""]
    if not carets.strip() or carets.strip().strip("~^"):
        return message, None
    start, end = len(carets) - len(carets.lstrip()), len(carets.rstrip())
    return "\n".join(sentence).strip(), (text[:start].lstrip(), text[start:end] or "␣", text[end:])


def _remarks(
    notes: Iterable[Note],
    severity: Severity,
    concerned: _Concerned,
    show: Show,
    shorter: Mapping[Note, str] = MappingProxyType({}),
) -> tuple[Remark, ...]:
    """Notes that say the same of several rows are one remark; `shorter` suggestions stand in place of a note's own.

    What is said of several threads is said without their names: the letters of their hole types stand before it.
    """
    same: dict[tuple[str, str, str, str, str], list[Note]] = {}
    for note in notes:
        if note.severity is severity:
            source = str(note.cite) if note.cite is not None else ""
            same.setdefault((note.code, concerned.unnamed(note), note.assumed, note.suggestion, source), []).append(note)
    found = []
    for number, ((code, said_of_all, assumed, suggestion, source), group) in enumerate(same.items(), start=1):
        messages = {note.message for note in group}
        message = messages.pop() if len(messages) == 1 else said_of_all
        words = dict.fromkeys(word for note in group for word in concerned.words(note).split(", "))
        first = place(group[0].ref)
        more = f" and {len(group) - 1} more" if len(group) > 1 and first else ""
        text, marked = _marked(message)
        cells = tuple(note.text for note in group)
        said = [show.running(each, cells) for each in (text, assumed, shorter.get(group[0], suggestion))]
        if code.startswith(OF_TOOLS):
            said[0] = show.running(text)
        found.append(Remark(number, said[0], marked, said[1], said[2], source, ", ".join(words), f"{first}{more}"))
    return tuple(found)


def hold_text(hole: PlannedHole, points: OpenPoints) -> str:
    """What is stamped on a hole type that waits for an answer; "" when it does not."""
    numbers = points.held_by.get(hole.type.letter, ())
    if not (hole.on_hold or hole.cut_plan is None or (numbers and hole.held_rows)):
        return ""
    word = "question" if len(numbers) == 1 else "questions"
    listed = f" – {word} {', '.join(str(number) for number in numbers)}" if numbers else ""
    if hole.cut_plan is None:
        return f"NOT PLANNED{listed}"
    if hole.on_hold:
        return f"HOLD{listed}"
    return f"HOLD {len(hole.held_rows)} of {len(hole.type.members)} rows{listed}"


def held(job: JobPlan, points: OpenPoints) -> tuple[tuple[str, str], ...]:
    """Everything that must not be cut yet: hole types on hold by letter, and the rows that gave no hole."""
    found = [(hole.type.letter, hold_text(hole, points)) for hole in job.holes]
    if job.unread:
        numbers = [str(question.number) for question in points.questions if question.types == "row"]
        word = "question" if len(numbers) == 1 else "questions"
        rows = count(len(job.unread), "row")
        found.append((rows, f"NOT PLANNED – {word} {', '.join(numbers)}" if numbers else "NOT PLANNED"))
    return tuple((what, hold) for what, hold in found if hold)
