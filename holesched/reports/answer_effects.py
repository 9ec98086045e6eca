"""What an answer to a question would change: tools, gauges and minutes, taken from planned jobs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from holesched.notes import Note
from holesched.reports.naming import tool_name
from holesched.reports.show import Show, count
from holesched.sequence.model import JobPlan, PlannedHole


@dataclass(frozen=True, slots=True)
class Answer:
    """One way to settle a question: the callout it would be, or in words what it would be, planned by itself as one hole.

    `holes`: how many holes there would be of it, where that is the question.
    """

    callout: str
    job: JobPlan
    holes: int | None = None


Answers = Mapping[Note, Sequence[Answer]]
"""The answers that a question itself proposes; a question that proposes none is missing."""


@dataclass(frozen=True, slots=True)
class Choice:
    """An answer with a box to tick: what would be written, and what that takes."""

    answer: str
    effect: str


def choices(answers: Sequence[Answer], job: JobPlan, held: Sequence[PlannedHole], show: Show) -> tuple[Choice, ...]:
    """Each answer with its tools, gauges and minutes; what other holes than the `held` ones need anyway is left out."""
    tools, gauges = _of_others(job, {hole.type.letter for hole in held}, show)
    return tuple(Choice(" ".join(answer.callout.split()), _effect(answer, tools, gauges, show)) for answer in answers)


def _of_others(job: JobPlan, letters: set[str], show: Show) -> tuple[set[str], set[str]]:
    """Names of the tools and gauges that hole types other than these need."""
    tools = {tool_name(tool.tool, show).title for tool in job.loading if not letters.issuperset(tool.letters)}
    return tools, {need.gauge.designation for need in job.gauges if not letters.issuperset(need.letters)}


def _effect(answer: Answer, tools: set[str], gauges: set[str], show: Show) -> str:
    job = answer.job
    minutes = sum(cut.time_min for hole in job.holes if hole.cut_plan for cut in hole.cut_plan.cuts)
    if answer.holes is not None:
        each = f"{answer.holes} × {show.minutes(minutes)} = " if answer.holes != 1 else ""
        return f"{each}{show.minutes(answer.holes * minutes)} min a part"
    return _text(f"{show.minutes(minutes)} min a hole", _own_tools(job, tools, show), _own_gauges(job, gauges))


def at_stake(job: JobPlan, held: Sequence[PlannedHole], show: Show) -> str:
    """What holes planned on hold take as they were read, and what no other hole needs; "" when none is planned."""
    planned = [(hole, hole.cut_plan) for hole in held if hole.cut_plan is not None]
    if not planned:
        return ""
    many = sum(hole.type.quantity for hole, _ in planned)
    minutes = sum(hole.type.quantity * cut.time_min for hole, plan in planned for cut in plan.cuts)
    tools, gauges = _of_others(job, {hole.type.letter for hole, _ in planned}, show)
    time = f"{count(many, 'hole')}, {show.minutes(minutes / many)} min a hole"
    return _text(time, _own_tools(job, tools, show), _own_gauges(job, gauges))


def _own_tools(job: JobPlan, others: set[str], show: Show) -> list[str]:
    names = (tool_name(tool.tool, show).title for tool in job.loading)
    return list(dict.fromkeys(name for name in names if name not in others))


def _own_gauges(job: JobPlan, others: set[str]) -> list[str]:
    return list(dict.fromkeys(need.gauge.designation for need in job.gauges if need.gauge.designation not in others))


def _text(time: str, tools: Sequence[str], gauges: Sequence[str]) -> str:
    parts = [
        time,
        f"extra tools: {', '.join(tools)}" if tools else "no extra tool",
        f"extra gauges: {', '.join(gauges)}" if gauges else "",
    ]
    return "; ".join(part for part in parts if part)
