"""The reasons behind the cards: how each figure came about and what was not chosen, each sentence said once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from holesched.cutting.model import CutStep
from holesched.notes import Cite, Reason
from holesched.reports.hole_cards import Moved
from holesched.reports.naming import tool_name
from holesched.reports.shared_reasons import by_steps, figures, plainly, steps_name, type_steps
from holesched.reports.show import Show
from holesched.reports.source_list import SourceList
from holesched.sequence.model import JobPlan

LOST_SHOWN = 4
"""So many of a decision's losers are printed; the machine-readable file has all."""
SHORT = 100
"""Sentences of so few letters are not drawn together for two steps: naming the two would be as long."""
NOT_ASKED_FOR = "no row asks for it"
"""How the rules of choice say that nothing spoke for a candidate: true, and no news on paper."""


@dataclass(frozen=True, slots=True)
class ReasonLine:
    """What one step's figures rest on, or what several steps of a kind share: `about` says which."""

    about: str
    figures: tuple[tuple[str, str], ...]
    """(decision, because with its source numbers)."""
    not_chosen: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Said:
    """One sentence: a decision with its reason, or (no decision) a candidate that lost; `counted`: how many more did."""

    decision: str
    text: str
    cites: tuple[Cite, ...] = ()
    counted: bool = False


def reason_lines(job: JobPlan, show: Show, listed: SourceList, moved: Moved) -> tuple[ReasonLine, ...]:
    """First what several steps of a kind have in common, the widest first, then each step's own, with those reasons that
    were `moved` here from its card."""
    steps = type_steps(job)
    numbers = {loaded.tool: loaded.number for loaded in job.loading}
    shared = {group: said for group, said in by_steps(steps, _sentences).items() if _worth_a_line(group, said)}
    lines = [_line(steps_name(group, steps, numbers), said, show, listed) for group, said in shared.items()]
    elsewhere: list[set[_Said]] = [set() for _ in steps]
    for group, said in shared.items():
        for index in group:
            elsewhere[index].update(said)
    for step, known in zip(steps, elsewhere, strict=True):
        own = [_Said(r.decision, plainly(r.because), r.cites) for r in moved.get((step.letter, step.number), ())]
        own += [sentence for sentence in dict.fromkeys(_sentences(step.cut)) if sentence not in known]
        if own:
            tool = step.cut.step.tool
            number = f"T{numbers[tool]} " if tool in numbers else ""
            lines.append(_line(f"{step.letter}\u2002{number}{tool_name(tool, show).title}", own, show, listed))
    return tuple(lines)


def _worth_a_line(group: tuple[int, ...], said: list[_Said]) -> bool:
    """Whether a line of its own saves more than it costs."""
    length = sum(len(each.decision) + len(each.text) for each in said)
    return (len(group) > 2 or (len(group) == 2 and length > SHORT)) and not all(each.counted for each in said)


def _sentences(cut: CutStep) -> Iterator[_Said]:
    for reason in figures(cut):
        yield _Said(reason.decision, reason.because, reason.cites)
    for reason in cut.step.reasons:
        yield from _lost(reason)


def _lost(reason: Reason) -> Iterator[_Said]:
    """The candidates that lost for a cause of their own; the last of a long list stand next to what was chosen."""
    lost = [f"{each.candidate}, {each.because}" for each in reason.rejected if not each.because.startswith(NOT_ASKED_FOR)]
    left_out = max(len(lost) - LOST_SHOWN, 0)
    yield from (_Said("", text) for text in lost[left_out:])
    if left_out:
        yield _Said("", f"{left_out} more for the {reason.decision.partition(':')[0]} (sheet.json)", counted=True)


def _line(about: str, sentences: Sequence[_Said], show: Show, listed: SourceList) -> ReasonLine:
    chosen = [each for each in sentences if each.decision]
    lost = [each for each in sentences if not each.decision]
    return ReasonLine(
        about,
        tuple((show.running(each.decision), f"{show.running(each.text)}{listed.mark(each.cites)}") for each in chosen),
        tuple(show.running(each.text) for each in lost),
    )
