"""Reasons that several hole types give alike are said once, under the kind of work; a card keeps what is its own."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from holesched.cutting.model import CutStep
from holesched.notes import Reason
from holesched.reports.show import Show
from holesched.reports.source_list import SourceList
from holesched.sequence.model import JobPlan
from holesched.tooling.model import StepKind, Tool

Sentence = TypeVar("Sentence")

_RULES_TOO = re.compile(r" \([A-Z]\d+(?:, [A-Z]\d+)* too\)")
SHARED_FROM = 3
"""From so many hole types on a reason of the cards is said once for all of them; from two when no type differs."""

_WORK = {"spot": "spotting", "tap": "tapping", "bore": "boring", "spotface": "spotfacing", "counterbore": "counterboring"}


def work(kind: StepKind) -> str:
    """What a step of this kind is called as work: tapping, drilling, thread milling."""
    return _WORK.get(kind.value, f"{kind.value}ing")


def choices(cut: CutStep) -> tuple[Reason, ...]:
    """Why this tool, this depth, and which limit governed: what a card explains. What lost is told behind the cards, so
    reasons that differ in it only are one."""
    return tuple(reason._replace(rule="", rejected=()) for reason in (*cut.step.reasons, *cut.clamps))


def figures(cut: CutStep) -> tuple[Reason, ...]:
    """How speed, feed, load, time and life came about: what stands behind."""
    return cut.reasons


def said(reason: Reason, listed: SourceList, show: Show) -> tuple[str, str]:
    """A reason as it is printed: (decision, because with its source numbers)."""
    return show.running(reason.decision), f"{show.running(plainly(reason.because))}{listed.mark(reason.cites)}"


def plainly(because: str) -> str:
    """A reason without the numbers of further rules that ask for the same: those serve 'explain' and sheet.json."""
    return _RULES_TOO.sub("", because)


@dataclass(frozen=True, slots=True)
class TypeStep:
    """One step of one hole type, its number counted from 0."""

    letter: str
    number: int
    cut: CutStep

    @property
    def kind(self) -> StepKind:
        return self.cut.step.kind


def type_steps(job: JobPlan) -> list[TypeStep]:
    """All steps of all hole types, in the schedule's order."""
    return [
        TypeStep(hole.type.letter, number, cut)
        for hole in job.holes
        if hole.cut_plan is not None
        for number, cut in enumerate(hole.cut_plan.cuts)
    ]


def by_steps(
    steps: Sequence[TypeStep], sentences: Callable[[CutStep], Iterable[Sentence]]
) -> dict[tuple[int, ...], list[Sentence]]:
    """Sentences by the steps (their indexes, of one kind each time) that say them; those said by most come first."""
    said_by: dict[tuple[StepKind, Sentence], list[int]] = {}
    for index, step in enumerate(steps):
        for sentence in dict.fromkeys(sentences(step.cut)):
            said_by.setdefault((step.kind, sentence), []).append(index)
    groups: dict[tuple[int, ...], list[Sentence]] = {}
    for (_, sentence), found in said_by.items():
        groups.setdefault(tuple(found), []).append(sentence)
    kinds = list(dict.fromkeys(step.kind for step in steps))
    order = sorted(groups, key=lambda found: (kinds.index(steps[found[0]].kind), -len(found), found))
    return {found: groups[found] for found in order}


def steps_name(found: tuple[int, ...], steps: Sequence[TypeStep], numbers: Mapping[Tool, int]) -> str:
    """ "All tapping", or the kind of work with its hole types; a type that has several such steps is named with the tool."""
    kind = steps[found[0]].kind
    alike = [step for step in steps if step.kind is kind]
    if len(alike) == len(found):
        return f"All {work(kind)}"
    letters = [step.letter for step in alike]
    names = []
    for step in (steps[index] for index in found):
        number = numbers.get(step.cut.step.tool)
        names.append(f"{step.letter} T{number}" if letters.count(step.letter) > 1 and number is not None else step.letter)
    return f"{work(kind).capitalize()} {', '.join(dict.fromkeys(names))}"


@dataclass(frozen=True, slots=True)
class SharedReasons:
    """The reasons of the cards that are said once for several hole types: (whose they are, the reasons)."""

    groups: tuple[tuple[str, StepKind, tuple[Reason, ...]], ...]

    def own(self, cut: CutStep) -> list[Reason]:
        """The choices of a step that are its own."""
        shared = {reason for _, kind, reasons in self.groups if kind is cut.step.kind for reason in reasons}
        return [reason for reason in choices(cut) if reason not in shared]

    def lines(self, listed: SourceList, show: Show) -> tuple[tuple[str, tuple[tuple[str, str], ...]], ...]:
        """(whose, ((decision, because with its source numbers), ...)) for every group."""
        return tuple((name, tuple(said(reason, listed, show) for reason in reasons)) for name, _, reasons in self.groups)


def shared_reasons(job: JobPlan) -> SharedReasons:
    """The choices that at least three hole types explain alike, or two where there are no others of their kind."""
    steps = type_steps(job)
    numbers = {loaded.tool: loaded.number for loaded in job.loading}
    found = []
    for group, reasons in by_steps(steps, choices).items():
        kind, types = steps[group[0]].kind, {steps[index].letter for index in group}
        every = len(group) == sum(step.kind is kind for step in steps)
        if len(types) >= (2 if every else SHARED_FROM):
            found.append((steps_name(group, steps, numbers), kind, tuple(reasons)))
    return SharedReasons(tuple(found))
