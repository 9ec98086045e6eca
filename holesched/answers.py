"""The answers that questions themselves propose, each planned, so that a letter can say what it would change.

A suggestion often names whole threads or callouts ("1/4-20 UNC or 1/4-28 UNF?"). Each is put where the doubtful piece of the
callout stands and planned as one hole of the same material, thickness and unit. Other questions leave few answers whatever
they suggest: a hole shallower or through, one or two holes, tapped or clear; these are planned too. A question whose answer
may be anything proposes none.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace

from holesched.callouts.model import Depth, Kind
from holesched.callouts.threadcalls import INSERT_LENGTH
from holesched.features.model import Feature, Hole, HoleType
from holesched.notes import Note
from holesched.pipeline import explain, plan_alone
from holesched.reports.answer_effects import Answer, Answers
from holesched.reports.open_points import Question, all_notes, open_points
from holesched.reports.show import Show, count
from holesched.schedule.model import ReadOptions
from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop
from holesched.standards import threads
from holesched.standards.sizes import Size
from holesched.standards.threads.insert_depths import LENGTHS
from holesched.tooling.model import StepKind
from holesched.units import LengthUnit

MOST = 4
"""Answers worked out for one question."""
_PROPOSING = ("THREAD-", "CELL-DATE", "SCHEDULE-CALLOUT-DATE", "SCHEDULE-CALLOUT-RUNS")
"""Codes whose suggestions name what may have been meant; those of other questions only name examples."""
_QUOTED = re.compile(r"(?<!\w)'([^'\n]+)'(?!\w)|Was it ([^?\n]+)\?")
_BETWEEN = re.compile(r"[\s;,/]*(?:\bOR\b)?[\s;,/]*$", re.IGNORECASE)
_WORD = re.compile(r"(?<![\w/.#-])[\w#]")
_CLASS = re.compile(r"[ -]([1-3]B|\dGH?|\dH(?:\dH)?)(?: ?-?LH)?\s*$")


def proposed_answers(job: JobPlan, shop: Shop, options: ReadOptions) -> Answers:
    """The answers that the job's questions propose and that can be planned, for each question that proposes any."""
    asked = [note for note in all_notes(job) if note.is_question]
    found: dict[Note, list[Answer]] = {}
    for note, question in zip(asked, open_points(job).questions, strict=True):
        own = _own(note, job)
        texts = [Answer(text, explain(text, shop, _around(note, job, options))) for text in _texts(note, question, job.unit)]
        ways = [
            *texts,
            *(_other_holes(note, own, job, shop) if own else ()),
            *(_counts(note, own, job, shop) if own else ()),
        ]
        planned = [way for way in ways if way.job.holes and all(hole.cut_plan is not None for hole in way.job.holes)]
        if planned:
            found[note] = planned[:MOST]
    return found


def _own(note: Note, job: JobPlan) -> HoleType | None:
    """The hole type that a question is about: the one that carries it, else the one whose row it points at."""
    carries = next((hole.type for hole in job.holes if note in hole.notes), None)
    if carries is not None or note.ref is None:
        return carries
    return next((hole.type for hole in job.holes if note.ref in [member.ref for member in hole.type.members]), None)


def _texts(note: Note, question: Question, unit: LengthUnit) -> list[str]:
    """The whole callouts that a question proposes, each once."""
    found: Iterator[str] = iter(())
    if note.code in BY_WORDS:
        found = BY_WORDS[note.code](question, unit)
    elif note.code.startswith(_PROPOSING) and note.code != "THREAD-MISSING":
        found = _callouts(question, unit)
    return list(dict.fromkeys(found))[:MOST]


def _tapped_or_clear(question: Question, unit: LengthUnit) -> Iterator[str]:
    """Write TAP M8, or CLEARANCE FOR M8."""
    found = re.fullmatch(r"Write (TAP .+), or (CLEARANCE FOR .+)\.", question.suggestion)
    yield from found.groups() if found else ()


def _drilled_or_tapped(question: Question, unit: LengthUnit) -> Iterator[str]:
    """Ø8.5 FOR M10: the hole alone, or the thread cut in it as well."""
    found = re.fullmatch(r"Write (TAP .+) if it is cut\.", question.suggestion)
    if found and question.marked is not None and question.shown:
        before, _, after = question.marked
        hole = f"{before.rstrip()}{after}"
        yield from (hole, f"{hole}, {found[1]}")


def _insert_lengths(question: Question, unit: LengthUnit) -> Iterator[str]:
    """M8 STI THRU: with an insert of each length that is made."""
    if question.marked is not None and question.shown:
        before, step, after = question.marked
        yield from (f"{before}{step.rstrip()}, INSERT {length:g}D{after}" for length in LENGTHS)


def _either_thread(question: Question, unit: LengthUnit) -> Iterator[str]:
    """M6 ↧12 OR M8 ↧16: each thread with what stands behind it, up to the next."""
    starts = [start for _, start in _threads_in(question.text, unit)]
    for start, end in zip(starts, [*starts[1:], len(question.text)], strict=True):
        yield _BETWEEN.sub("", question.text[start:end])


def _named_step(question: Question, unit: LengthUnit) -> Iterator[str]:
    """Ø8 ↧12, Ø6 THRU: the second diameter as a counterbore, or as drilled."""
    if question.marked is not None and question.shown:
        before, step, after = question.marked
        yield from (f"{before}{word} {step}{after}" for word in ("CBORE", "DRILL"))


def _usual_angles(question: Question, unit: LengthUnit) -> Iterator[str]:
    """A countersink without its angle that ends the callout, at the two angles of the trade's screws."""
    if question.marked is None or not question.marked[2].strip():
        yield from (f"{question.text} X {angle}°" for angle in (82, 90))


BY_WORDS: dict[str, Callable[[Question, LengthUnit], Iterator[str]]] = {
    "THREAD-OR-CLEARANCE": _tapped_or_clear,
    "THREAD-OR-PILOT": _drilled_or_tapped,
    INSERT_LENGTH: _insert_lengths,
    "CHECK-TWO-THREADS": _either_thread,
    "CALLOUT-STEP-UNNAMED": _named_step,
    "CALLOUT-ANGLE-MISSING": _usual_angles,
}
"""Questions whose answers are other words of the callout."""


def _other_holes(note: Note, own: HoleType, job: JobPlan, shop: Shop) -> Iterator[Answer]:
    """The hole with another depth: a blind hole shallower or through, a long thread shorter in a hole drilled through."""
    deepest = max((feature.depth.mm or 0.0 for feature in own.hole.features), default=0.0)
    show = Show(job.unit)
    if note.code in ("DEPTH-BREAKS-THROUGH", "WALL-THIN") and deepest:
        less = re.search(r"([\d.]+) mm shallower", note.suggestion)
        if less and float(less[1]) < deepest:
            shallow = _with_depth(own, deepest, Depth(mm=deepest - float(less[1])))
            yield Answer(show.running(f"{less[1]} mm shallower"), plan_alone(shallow, job.header, shop))
    if note.code in ("DEPTH-BREAKS-THROUGH", "CHECK-DEEPER-THAN-PART") and deepest:
        yield Answer("through", plan_alone(_with_depth(own, deepest, Depth(through=True)), job.header, shop))
    if note.code == "CHECK-THREAD-LONG":
        long = re.search(r" to ([\d.]+) mm", note.suggestion)
        drill = _tap_drill(note, job)
        if long and drill is not None:
            hole = _shorter_thread(own.hole, float(long[1]), drill)
            words = show.running(f"{long[1]} mm of thread, drilled through")
            yield Answer(words, plan_alone(replace(own, hole=hole), job.header, shop))


def _with_depth(own: HoleType, deepest_mm: float, depth: Depth) -> HoleType:
    """The hole type with its deepest features at another depth."""
    features = (
        replace(feature, depth=depth) if feature.depth.mm == deepest_mm else feature for feature in own.hole.features
    )
    return replace(own, hole=replace(own.hole, features=tuple(features)))


def _tap_drill(note: Note, job: JobPlan) -> Size | None:
    """The size of the hole that was chosen before the thread that the question is about."""
    plans = [hole.cut_plan.plan for hole in job.holes if hole.cut_plan is not None and note in hole.notes]
    holes = [step for plan in plans for step in plan.steps if step.fit is not None and not step.kind.makes_thread]
    if len(holes) != 1:
        return None
    (made,) = holes
    drilled = made.kind is StepKind.DRILL
    return Size(made.diameter_mm, made.tool.size if drilled else f"{made.diameter_mm:g}")


def _shorter_thread(hole: Hole, thread_mm: float, drill: Size) -> Hole:
    """The hole with its through threads so long only, in a hole that is drilled through."""
    features: list[Feature] = []
    for feature in hole.features:
        if feature.kind is Kind.TAP and feature.depth.through:
            if not any(each.kind is Kind.DRILL and each.depth.through for each in hole.features):
                features.append(Feature(Kind.DRILL, drill, Depth(through=True)))
            feature = replace(feature, depth=Depth(mm=thread_mm))
        features.append(feature)
    return replace(hole, features=tuple(features))


def _counts(note: Note, own: HoleType, job: JobPlan, shop: Shop) -> Iterator[Answer]:
    """How many holes there may be: each number with what it takes."""
    numbers: list[int] = []
    if note.code in ("COUNT-DIFFERS", "COUNT-ROWS"):
        numbers = [int(number) for number in re.findall(r"(?:says|and) (\d+)\b", note.message)]
    elif note.code == "COUNT-PLACES":
        numbers = [*(int(number) for number in re.findall(r"^(\d+) holes", note.message)), 1]
    elif note.code == "CHECK-SAME-PLACE":
        places = [place for member in own.members for place in member.places_mm]
        numbers = [1, 2] if len(places) > len(set(places)) else []
    if len(set(numbers)) > 1:
        alone = plan_alone(own, job.header, shop)
        yield from (Answer(count(number, "hole"), alone, number) for number in dict.fromkeys(numbers))


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
