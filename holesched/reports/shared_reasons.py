"""Reasons that hold for every hole type with such a step are said once; a card keeps what is its own."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from holesched.cutting.model import CutStep
from holesched.notes import Reason
from holesched.reports.source_list import SourceList
from holesched.sequence.model import JobPlan
from holesched.tooling.model import StepKind

WORK = {
    StepKind.SPOT: "All spotting",
    StepKind.DRILL: "All drilling",
    StepKind.COUNTERBORE: "All counterboring",
    StepKind.COUNTERSINK: "All countersinking",
    StepKind.SPOTFACE: "All spotfacing",
    StepKind.BORE: "All boring",
    StepKind.REAM: "All reaming",
    StepKind.TAP: "All tapping",
}


def choices(cut: CutStep) -> tuple[Reason, ...]:
    """Why this tool, this depth, and which limit governed: what a card explains."""
    return (*cut.step.reasons, *cut.clamps)


def figures(cut: CutStep) -> tuple[Reason, ...]:
    """How speed, feed, load, time and life came about: what stands behind."""
    return cut.reasons


@dataclass(frozen=True, slots=True)
class SharedReasons:
    """Reasons by the kind of step that all hole types with such a step give for it."""

    by_kind: dict[StepKind, tuple[Reason, ...]]

    def own(self, cut: CutStep, reasons: Iterable[Reason]) -> list[Reason]:
        """Those of `reasons` that are this step's own."""
        shared = set(self.by_kind.get(cut.step.kind, ()))
        return [reason for reason in reasons if reason not in shared]

    def lines(self, listed: SourceList) -> tuple[tuple[str, tuple[tuple[str, str], ...]], ...]:
        """(work, ((decision, because with its source numbers), ...)) for every kind of step that shares any."""
        return tuple(
            (WORK[kind], tuple((reason.decision, f"{reason.because}{listed.mark(reason.cites)}") for reason in reasons))
            for kind, reasons in self.by_kind.items()
            if reasons
        )


def shared_reasons(job: JobPlan, pick: Callable[[CutStep], tuple[Reason, ...]]) -> SharedReasons:
    """What `pick` gives alike for every step of a kind, for kinds that at least two hole types have."""
    steps: dict[StepKind, list[set[Reason]]] = {}
    order: dict[StepKind, dict[Reason, None]] = {}
    types: dict[StepKind, set[str]] = {}
    for hole in job.holes:
        for cut in hole.cut_plan.cuts if hole.cut_plan is not None else ():
            kind = cut.step.kind
            steps.setdefault(kind, []).append(set(pick(cut)))
            order.setdefault(kind, {}).update(dict.fromkeys(pick(cut)))
            types.setdefault(kind, set()).add(hole.type.letter)
    return SharedReasons(
        {
            kind: tuple(reason for reason in order[kind] if all(reason in each for each in found))
            for kind, found in steps.items()
            if len(types[kind]) > 1
        }
    )
