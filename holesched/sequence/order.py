"""The order of operations: every hole's own order of steps kept, one run per tool, the phases of a machinist's habit.

Common practice, no source: flats a drill starts on, spotting, drilling, boring, spotfaces and counterbores, whose pilots
run in the drilled holes, countersinks, tapping, and reaming last, because tapping chips score a reamed wall; a taper reamer
goes before its thread. Among taps the one most likely to break comes first, before more value is put into the part.
"""

from __future__ import annotations

import heapq
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from holesched.callouts.model import Side
from holesched.cutting.model import CutStep
from holesched.tooling.model import StepKind, Tool, place_in_order


@dataclass(frozen=True, slots=True)
class Run:
    """One tool's run from one face: what becomes an operation."""

    set_up: int
    kind: StepKind
    tool: Tool


def set_up_of(cut: CutStep) -> int:
    """2 for a step from the far side, else 1. A step from both sides belongs to the first; its note says the rest."""
    return 2 if cut.step.step is not None and cut.step.step.side is Side.FAR else 1


def run_of(cut: CutStep) -> Run:
    """The run a step belongs to."""
    return Run(set_up_of(cut), cut.step.kind, cut.step.tool)


def order_runs(holes: Iterable[Sequence[CutStep]]) -> tuple[Run, ...]:
    """All runs of a job in working order; `holes` are the steps of each hole type in that hole's own order.

    Where two holes ask for the same two tools in opposite order, the phases decide.
    """
    after: dict[Run, set[Run]] = defaultdict(set)
    waiting: dict[Run, set[Run]] = defaultdict(set)
    danger: dict[Run, float] = defaultdict(float)
    flats: set[Run] = set()
    for cuts in holes:
        runs = [run_of(cut) for cut in cuts]
        for run, cut in zip(runs, cuts, strict=True):
            waiting.setdefault(run, set())
            danger[run] = max(danger[run], _danger(cut))
        drilled = next((at for at, run in enumerate(runs) if run.kind is StepKind.DRILL), 0)
        flats.update(run for run in runs[:drilled] if run.kind is StepKind.SPOTFACE)
        for earlier, later in pairwise(runs):
            if earlier != later:
                after[earlier].add(later)
                waiting[later].add(earlier)
    ranks = {run: _rank(run, danger[run], run in flats) for run in waiting}
    return tuple(_topological(after, waiting, ranks))


def _danger(cut: CutStep) -> float:
    """How near a tap comes to breaking: its risk, or where that is unknown its torque in proportion to its size."""
    if cut.step.kind is not StepKind.TAP:
        return 0.0
    if cut.risk is not None:
        return cut.risk.index
    return (cut.torque_nm or 0.0) / cut.step.tool.diameter_mm**3


_Rank = tuple[int, float, float, float, str]


def _rank(run: Run, danger: float, is_flat: bool) -> _Rank:
    """Set-up, phase, then the tap most likely to break, then the largest tool first. `is_flat`: a drill starts on it."""
    phase = place_in_order(run.kind, before_thread=run.tool.before_thread, starts_drill=is_flat)
    return (run.set_up, phase, -danger, -run.tool.diameter_mm, repr(run.tool))


def _topological(
    after: Mapping[Run, set[Run]], waiting: Mapping[Run, set[Run]], ranks: Mapping[Run, _Rank]
) -> Iterable[Run]:
    left = {run: set(before) for run, before in waiting.items()}
    ready = [(ranks[run], run) for run, before in left.items() if not before]
    heapq.heapify(ready)
    done: set[Run] = set()
    while len(done) < len(left):
        if not ready:  # two holes want opposite orders: the phases break the ring
            stuck = min((run for run in left if run not in done), key=lambda run: ranks[run])
            ready.append((ranks[stuck], stuck))
        _, run = heapq.heappop(ready)
        if run in done:
            continue
        done.add(run)
        yield run
        for later in after.get(run, ()):
            left[later].discard(run)
            if not left[later] and later not in done:
                heapq.heappush(ready, (ranks[later], later))
