"""The whole job: operations in order, tools in pots, and what is left open. What reports may show is here."""

from __future__ import annotations

from dataclasses import dataclass

from holesched.cutting.model import CutPlan, CutStep
from holesched.features.model import HoleType, UnreadRow
from holesched.notes import CellRef, Note, Reason
from holesched.schedule.model import JobHeader, SetAside
from holesched.standards.gauges import Gauge
from holesched.standards.materials import Material
from holesched.tooling.model import StepKind, Tool
from holesched.units import LengthUnit


@dataclass(frozen=True, slots=True)
class Target:
    """What one operation does to one hole type: the step, and whether the type is on hold (an open question)."""

    letter: str
    quantity: int
    cut: CutStep
    on_hold: bool


@dataclass(frozen=True, slots=True)
class Operation:
    """One tool's run over the part: `number` in gaps of ten, targets in the order they are made.

    `time_min` covers cutting and positioning of all targets in one part; `change_min` the tool change before it (0 when the
    tool is already in the spindle).
    """

    number: int
    kind: StepKind
    tool_number: int
    targets: tuple[Target, ...]
    time_min: float
    change_min: float
    path_mm: float
    """Length of the rapid moves between known places; 0 when no places are known."""
    set_up: int = 1
    """1: the face the schedule is drawn from; 2: the part turned over, for steps from the far side."""
    first: bool = False
    """Whether a tap near to breaking waits for it: it comes before the rest of its set-up."""

    @property
    def holes(self) -> int:
        return sum(target.quantity for target in self.targets)


@dataclass(frozen=True, slots=True)
class LoadedTool:
    """A tool in its pot. `stick_out_mm` is what its deepest hole needs (None: part thickness unknown)."""

    number: int
    pot: int | None
    """None when the carousel is full; 1 for every tool where there is no changer."""
    tool: Tool
    holder: str
    stick_out_mm: float | None
    operations: tuple[int, ...]
    letters: tuple[str, ...]
    holes: int
    life_holes: tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class GaugeNeed:
    """One gauge and the hole types it proves."""

    gauge: Gauge
    letters: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RowCount:
    """read = planned + in_question + set_aside, always."""

    read: int
    planned: int
    in_question: int
    set_aside: int


@dataclass(frozen=True, slots=True)
class HoleCount:
    """read = planned + in_question, always. A hole in question is counted there even when it is planned on hold."""

    read: int
    planned: int
    in_question: int


@dataclass(frozen=True, slots=True)
class Ledger:
    """Rows and holes, in and out."""

    rows: RowCount
    holes: HoleCount


@dataclass(frozen=True, slots=True)
class JobTime:
    """Minutes for one part: cutting, moving between holes, changing tools; `by_hand_min` is what of the cutting a
    person does with hand taps, away from the spindle."""

    cutting_min: float
    positioning_min: float
    tool_change_min: float
    by_hand_min: float = 0.0
    is_whole: bool = True
    """False where some step has no depth, and so no time: the part takes longer than this."""

    @property
    def total_min(self) -> float:
        return self.cutting_min + self.positioning_min + self.tool_change_min


@dataclass(frozen=True, slots=True)
class PlannedHole:
    """A hole type with all that was decided about it. `cut_plan` None: no operations until a question is answered.

    `held_rows` are the cells of single rows in question (two holes at one place) while the type itself is clear.
    """

    type: HoleType
    cut_plan: CutPlan | None
    notes: tuple[Note, ...]
    held_rows: tuple[CellRef, ...] = ()

    @property
    def cuts(self) -> tuple[CutStep, ...]:
        """Its steps with their cutting parameters; none where it is not planned."""
        return self.cut_plan.cuts if self.cut_plan is not None else ()

    @property
    def on_hold(self) -> bool:
        """Whether the whole type waits for an answer: of its own, or in every one of its rows."""
        return any(note.is_question for note in self.notes) or 0 < len(self.type.members) == len(self.held_rows)


@dataclass(frozen=True, slots=True)
class JobPlan:
    """One schedule, planned. `notes` holds every note of every stage in stage order, then row order."""

    source: str
    sheet: str
    sha256: str
    header: JobHeader
    material: Material | None
    holes: tuple[PlannedHole, ...]
    unread: tuple[UnreadRow, ...]
    set_aside: tuple[SetAside, ...]
    operations: tuple[Operation, ...]
    loading: tuple[LoadedTool, ...]
    gauges: tuple[GaugeNeed, ...]
    time: JobTime
    ledger: Ledger
    notes: tuple[Note, ...]
    risky_first: Reason | None = None
    """Why some operations come before the rest, for the taps nearest to breaking; None where none do."""

    @property
    def unit(self) -> LengthUnit:
        """The unit in which the schedule is written and its sheets are shown."""
        return self.header.unit
