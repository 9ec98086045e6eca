"""What every step of one hole's plan needs to know: the hole, the workpiece, the shop and the rules."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from holesched.callouts.model import Kind, Side
from holesched.notes import Note, Severity
from holesched.resolve.model import ResolvedHole, ResolvedStep
from holesched.shop.model import Shop
from holesched.tooling.case import HoleCase
from holesched.tooling.cutters import Grade
from holesched.tooling.model import DepthBudget
from holesched.tooling.reckoned import NOT_RECKONED, Reckoned
from holesched.tooling.rules import RuleBook
from holesched.tooling.surroundings import Surroundings, surroundings
from holesched.tooling.work import Work

THICKNESS_MISSING = Note(
    "THICKNESS-MISSING",
    Severity.ASK,
    "The part's thickness is not known: through holes have no depth for the control.",
    suggestion="Give the thickness in the title block, in the row, or with --thickness.",
    assumed="Through steps are planned without depth.",
)
"""The same value for every hole, so that a job says it once."""


OF_THE_JOB = ("SAFETY-RULE-OFF",)
"""Notes that concern the shop and no single hole."""


@dataclass(frozen=True, slots=True)
class Setting:
    """One hole in one shop. `case` knows workpiece, machine and what the hole's wall is like.

    `grade` is what its drills are made of, `cutter` what its spot drills, countersinks and counterbores are. `remarks` are
    the drawing's words beside sizes and depths. `reckoned` is what the loads of an earlier plan have shown.
    """

    resolved: ResolvedHole
    case: HoleCase
    shop: Shop
    book: RuleBook
    grade: Grade
    cutter: Grade
    remarks: tuple[str, ...]
    reckoned: Reckoned = NOT_RECKONED

    @property
    def thickness_mm(self) -> float | None:
        return self.resolved.thickness_mm

    @property
    def group(self) -> str:
        return self.case.group

    @property
    def around(self) -> Surroundings:
        """What the drawing's words say of the hole's faces, its wall and the room beyond it."""
        return surroundings(self.remarks)

    @property
    def slanted(self) -> bool:
        """Whether the face may be slanted that the hole is entered from, so that the drill needs a flat to start on."""
        return "slanted entry" in self.case.wall


@dataclass(frozen=True, slots=True)
class Planned:
    """What planning one feature gave."""

    works: tuple[Work, ...] = ()
    notes: tuple[Note, ...] = ()
    budgets: tuple[DepthBudget, ...] = field(default=())


def at_hole(note: Note, resolved: ResolvedHole) -> Note:
    """A note with the hole's cell and text; what concerns the whole job stays without a place."""
    if note == THICKNESS_MISSING or note.code in OF_THE_JOB:
        return note
    member = resolved.type.members[0] if resolved.type.members else None
    return replace(note, text=resolved.type.hole.callout, ref=member.ref if member is not None else None)


def floor_mm(step: ResolvedStep, steps: Sequence[ResolvedStep]) -> float:
    """Depth of the floor a step starts on: the deepest wider counterbore or spotface of its side; 0 at the face."""
    return max(
        (
            other.depth_mm
            for other in steps
            if other.kind in (Kind.COUNTERBORE, Kind.SPOTFACE)
            and not other.through
            and other.depth_mm is not None
            and on_side(other, step.side)
            and other.diameter.mm > step.diameter.mm
        ),
        default=0.0,
    )


def on_side(step: ResolvedStep, side: Side) -> bool:
    """Whether a step is made from that side, or from both."""
    return step.side in (side, Side.BOTH) or side is Side.BOTH


def name_of(step: ResolvedStep) -> str:
    """What a note calls a step."""
    return step.thread.spec.designation if step.thread is not None else f"{step.kind.value} Ø{step.diameter.named}"
