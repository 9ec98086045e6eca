"""What taps near to breaking need is done before the rest of the part: a tap that breaks then costs little of it.

A hole's tools up to such a tap come first. What other holes ask of the same tools is done with them where it needs nothing
else before; where it does, the tool comes once more, later, and a part takes a tool change more. How many of these a part
may take is the shop's to say. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from holesched.cutting.model import CHANGE, CutStep
from holesched.sequence.order import Run, danger_of, in_turn, run_of
from holesched.tooling.model import StepKind

_Part = tuple[int, int]
"""A hole's number and a set-up: what is done to one hole without turning the part over."""


def runs_with_risky_first(holes: Sequence[Sequence[CutStep]], more_changes: float) -> list[list[Run]]:
    """The run of each cut of each hole, those that come `first` marked, with at most so many tool changes more.

    The taps nearest to breaking are seen to first. A tap turned by hand waits for the bench.
    """
    runs_of = [[run_of(cut) for cut in cuts] for cuts in holes]
    runs: dict[_Part, list[Run]] = {}
    needed: dict[_Part, int] = {}
    danger: dict[_Part, float] = {}
    for number, cuts in enumerate(holes):
        for cut, run in in_turn(cuts, runs_of[number]):
            part = number, run.set_up
            mine = runs.setdefault(part, [])
            mine.append(run)
            if is_risky(cut):
                needed[part] = len(mine)
                danger[part] = max(danger.get(part, 0.0), danger_of(cut))
    first: dict[_Part, int] = {}
    for part in sorted(needed, key=lambda part: -danger[part]):
        wanted = _with_others(runs, {**first, part: max(needed[part], first.get(part, 0))})
        if _twice(runs, wanted) <= more_changes:
            first = wanted
    for (number, set_up), count in first.items():
        its = runs_of[number]
        places = [place for place, run in enumerate(its) if run.set_up == set_up and not run.tool.by_hand]
        for place in places[:count]:
            its[place] = replace(its[place], first=True)
    return runs_of


def is_risky(cut: CutStep) -> bool:
    """Whether it is a tap in the spindle that is near to breaking."""
    step = cut.step
    return step.kind is StepKind.TAP and not step.tool.by_hand and cut.risk is not None and cut.risk.band == CHANGE


def _with_others(runs: Mapping[_Part, Sequence[Run]], first: Mapping[_Part, int]) -> dict[_Part, int]:
    """What comes first, and of every other hole what the same tools can do with it."""
    taken = {run for part, count in first.items() for run in runs[part][:count]}

    def free(mine: Sequence[Run]) -> int:
        return next((number for number, run in enumerate(mine) if run not in taken), len(mine))

    return {part: max(first.get(part, 0), free(mine)) for part, mine in runs.items()}


def _twice(runs: Mapping[_Part, Sequence[Run]], first: Mapping[_Part, int]) -> int:
    """How many runs come first for some holes and later for others."""
    early = {run for part, mine in runs.items() for run in mine[: first[part]]}
    late = {run for part, mine in runs.items() for run in mine[first[part] :]}
    return len(early & late)
