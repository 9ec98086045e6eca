"""The order of operations: every hole's own order of steps kept, one run per tool, the phases of a machinist's habit.

Common practice, no source: flats a drill starts on, spotting, drilling, boring, spotfaces and counterbores, whose pilots
run in the drilled holes, countersinks, tapping, and reaming last, because tapping chips score a reamed wall; a taper reamer
goes before its thread. What risky_first.py marks as `first` comes before all else in its set-up. Among taps the one most
likely to break comes first, before more value is put into the part. What is tapped by hand comes last of all, at the bench:
the part does not go back into the machine for a reamer.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from holesched.cutting.model import CutStep
from holesched.tooling.model import StepKind, Tool, place_in_order


@dataclass(frozen=True, slots=True)
class Run:
    """One tool's run from one face: what becomes an operation."""

    set_up: int
    kind: StepKind
    tool: Tool
    first: bool = False
    """Whether a tap near to breaking waits for it: it comes before the rest of its set-up."""


def set_up_of(cut: CutStep) -> int:
    """2 for a step that the part is turned over for, else 1."""
    return 2 if cut.step.turned_over else 1


def run_of(cut: CutStep) -> Run:
    """The run a step belongs to."""
    return Run(set_up_of(cut), cut.step.kind, cut.step.tool)


def in_turn(cuts: Iterable[CutStep], runs: Iterable[Run]) -> list[tuple[CutStep, Run]]:
    """A hole's steps with their runs in its own order, what is done by hand behind the rest."""
    return sorted(zip(cuts, runs, strict=True), key=lambda turn: turn[1].tool.by_hand)


def order_runs(holes: Iterable[Sequence[CutStep]], runs_of: Sequence[Sequence[Run]] | None = None) -> tuple[Run, ...]:
    """All runs of a job in working order; `holes` are the steps of each hole type in that hole's own order, `runs_of` the
    run of each of them (None: one run a tool).

    Where two holes ask for the same two tools in opposite order, the phases decide.
    """
    places: dict[Run, int] = {}
    danger: list[float] = []
    flats: set[int] = set()
    after: list[set[int]] = []
    waiting: list[set[int]] = []
    for number, cuts in enumerate(holes):
        chain = []
        own = [run_of(cut) for cut in cuts] if runs_of is None else runs_of[number]
        turns = in_turn(cuts, own)
        for cut, run in turns:
            place = places.setdefault(run, len(places))
            if place == len(danger):
                danger.append(0.0)
                after.append(set())
                waiting.append(set())
            danger[place] = max(danger[place], danger_of(cut))
            chain.append(place)
        kinds = [cut.step.kind for cut, _ in turns]
        drilled = kinds.index(StepKind.DRILL) if StepKind.DRILL in kinds else 0
        flats.update(place for place, kind in zip(chain[:drilled], kinds, strict=False) if kind is StepKind.SPOTFACE)
        for earlier, later in pairwise(chain):
            if earlier != later:
                after[earlier].add(later)
                waiting[later].add(earlier)
    runs = tuple(places)
    ranks = [_rank(run, danger[place], place in flats) for place, run in enumerate(runs)]
    return tuple(runs[place] for place in _topological(after, waiting, ranks))


def danger_of(cut: CutStep) -> float:
    """How near a tap comes to breaking: its risk, or where that is unknown its torque in proportion to its size."""
    if cut.step.kind is not StepKind.TAP:
        return 0.0
    if cut.risk is not None:
        return cut.risk.index
    return (cut.torque_nm or 0.0) / cut.step.tool.diameter_mm**3


class _Told:
    """A tool's whole description, compared by its text: it is spelt out only where all else is equal."""

    __slots__ = ("tool",)

    def __init__(self, tool: Tool) -> None:
        self.tool = tool

    def __lt__(self, other: _Told) -> bool:
        return repr(self.tool) < repr(other.tool)


_Rank = tuple[bool, int, bool, float, float, float, _Told]


def _rank(run: Run, danger: float, is_flat: bool) -> _Rank:
    """By hand last; set-up, what comes first, phase, the tap most likely to break, the largest tool. `is_flat`: a drill
    starts on it."""
    phase = place_in_order(run.kind, before_thread=run.tool.before_thread, starts_drill=is_flat)
    return (run.tool.by_hand, run.set_up, not run.first, phase, -danger, -run.tool.diameter_mm, _Told(run.tool))


def _topological(after: Sequence[set[int]], waiting: Sequence[set[int]], ranks: Sequence[_Rank]) -> Iterator[int]:
    """Places in `ranks`, each after all that it waits for, the lowest rank first."""
    left = [set(before) for before in waiting]
    ready = [(ranks[place], place) for place, before in enumerate(left) if not before]
    heapq.heapify(ready)
    done: set[int] = set()
    while len(done) < len(left):
        if not ready:  # two holes want opposite orders: the phases break the ring
            stuck = min((place for place in range(len(left)) if place not in done), key=lambda place: ranks[place])
            ready.append((ranks[stuck], stuck))
        _, place = heapq.heappop(ready)
        if place in done:
            continue
        done.add(place)
        yield place
        for later in after[place]:
            left[later].discard(place)
            if not left[later] and later not in done:
                heapq.heappush(ready, (ranks[later], later))
