"""The usual cautions of a shop's sheets: short, true, and only those that the job calls for. Common practice, no source."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from holesched.sequence.model import JobPlan
from holesched.tooling.model import StepKind, ToolStep


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution, and when it is printed."""

    text: str
    when: Callable[[JobPlan], bool]


def _steps(job: JobPlan) -> list[ToolStep]:
    return [cut.step for hole in job.holes if hole.cut_plan is not None for cut in hole.cut_plan.cuts]


def _always(job: JobPlan) -> bool:
    return True


def _through(job: JobPlan) -> bool:
    return any(step.through for step in _steps(job))


def _blind(job: JobPlan) -> bool:
    return any(not step.through and step.kind is StepKind.DRILL for step in _steps(job))


def _left_hand(job: JobPlan) -> bool:
    return any(step.tool.left_hand for step in _steps(job))


def _open(job: JobPlan) -> bool:
    return any(note.is_question for note in job.notes)


def _two_faces(job: JobPlan) -> bool:
    return any(operation.set_up > 1 for operation in job.operations)


def _has(trait: str) -> Callable[[JobPlan], bool]:
    return lambda job: job.material is not None and trait in job.material.traits


CAUTIONS = (
    Caution(
        "The drawing governs. Limits of the machine, holder and tool makers, and local rules, stand above this sheet.",
        _always,
    ),
    Caution("HOLD: do not cut before the question is answered in writing.", _open),
    Caution(
        "Starting values. Prove out clear of the part, then at reduced override, first hole of each tool in single block; "
        "stop if the load rises.",
        _always,
    ),
    Caution("Left-hand taps: check before the first hole that the cycle turns the other way.", _left_hand),
    Caution("Two faces: set zero, clearance and clamps again after turning the part.", _two_faces),
    Caution("Through holes: clearance under the part; it may lift as the tool breaks through.", _through),
    Caution("Blind holes: clear chips before tapping; cover the hole before blowing out.", _blind),
    Caution(
        "Chips of this material can burn: sharp tools, no dwell, chips dry in a covered can, an extinguisher for metal "
        "fires at hand; never water or foam.",
        _has("fire"),
    ),
    Caution("Dust of this material is harmful: extraction, and the local rules.", _has("dust")),
    Caution(
        "Eye protection. No gloves or loose cloth near a turning spindle. Chips by hook or brush, never by hand.", _always
    ),
    Caution("A broken tap or drill is under stress: face shield. Fluids: follow their safety data sheets.", _always),
)


def cautions(job: JobPlan) -> tuple[str, ...]:
    """The cautions that this job calls for, most important first."""
    return tuple(caution.text for caution in CAUTIONS if caution.when(job))
