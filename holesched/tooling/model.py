"""Tools and the steps that make one hole with them. Lengths mm, angles degrees."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from holesched.callouts.model import Side
from holesched.notes import Note, Reason
from holesched.resolve.model import ResolvedHole, ResolvedStep
from holesched.standards.sizes import Size, with_unit

TAPER_REAMER = "1:16 taper reamer"
"""Name of the reamer that goes before a taper pipe tap."""
MINOR_REAMER = "reamer before the tap"
"""Name of the reamer that brings the hole inside a thread's minor-diameter limits where no drill does."""


BACK_CHAMFER = "back chamfer tool"
"""How the name begins of the tool that goes through a hole and chamfers its far edge on the way back."""
FAR_FACE = "far face"
"""What lies beyond the wall under a blind hole, where nothing comes from there."""
FLAT_DEG = 180.0
"""Point angle of a flat-ended drill."""


class StepKind(Enum):
    """What a tool does to a hole. The order of the members is not the order of work."""

    SPOT = "spot"
    DRILL = "drill"
    MILL = "mill"
    COUNTERBORE = "counterbore"
    COUNTERSINK = "countersink"
    SPOTFACE = "spotface"
    BORE = "bore"
    REAM = "ream"
    TAP = "tap"
    THREAD_MILL = "thread mill"

    __hash__ = object.__hash__
    """Of the member itself, of which there is one: an Enum's own spells its name for every tool that is looked up."""

    @property
    def makes_thread(self) -> bool:
        """Whether the step leaves a thread."""
        return self in (StepKind.TAP, StepKind.THREAD_MILL)


OPENING = (StepKind.DRILL, StepKind.MILL, StepKind.BORE, StepKind.REAM)
"""The kinds of steps that make a hole, or make it wider, over its depth."""
CONES = (StepKind.SPOT, StepKind.COUNTERSINK)
"""The kinds of steps that leave a cone, which is as deep as its rim is wide."""
WORKING_ORDER = (
    StepKind.SPOT,
    StepKind.DRILL,
    StepKind.MILL,
    StepKind.BORE,
    StepKind.SPOTFACE,
    StepKind.COUNTERBORE,
    StepKind.COUNTERSINK,
    StepKind.TAP,
    StepKind.THREAD_MILL,
    StepKind.REAM,
)
"""In one hole as over the whole part, common practice, no source: spot, drill, mill, bore, spotface and counterbore, whose
pilot runs in the drilled hole, countersink, the thread, and the reamer last, because chips of the thread would score its
wall."""


def place_in_order(kind: StepKind, *, before_thread: bool, starts_drill: bool) -> float:
    """Where a step stands in WORKING_ORDER: a flat that a drill starts on comes first, a reamer before the thread that it
    prepares."""
    if starts_drill:
        return -1
    return WORKING_ORDER.index(StepKind.BORE) + 0.5 if before_thread else WORKING_ORDER.index(kind)


@dataclass(frozen=True, slots=True)
class Chamfer:
    """A tap's lead: the trade's name (taper, plug, semi-bottoming, bottoming), the DIN 2197 form letter, and its threads."""

    name: str
    form: str
    threads: float


@dataclass(frozen=True, slots=True)
class Shoulder:
    """The second diameter of a step drill: how wide, at which included angle (180 flat), and how far its small end lies
    behind the drill's tip; that step length may be longer than asked by `over_mm`, never shorter."""

    diameter_mm: float
    angle_deg: float
    length_mm: float
    over_mm: float


@dataclass(frozen=True, slots=True)
class Tool:
    """One tool, by everything that makes it another tool: equal values share a pot.

    `size` is what is printed ("6.8", "#7", "M8x1.25", "6 x P1.25" for a thread mill); `flute_form` "spiral-point",
    "spiral-flute", "straight-flute", "forming" for taps, else ""; `limit` the tap's tolerance class ("ISO 2 (6H)", "H3") or
    the reamer's fit ("H7"); `oversize_mm` is how much larger than itself a drill is expected to cut.
    """

    kind: StepKind
    diameter_mm: float
    size: str
    material: str
    treatment: str = "bright"
    flutes: int = 2
    point_angle_deg: float | None = None
    flute_form: str = ""
    chamfer: Chamfer | None = None
    pitch_mm: float | None = None
    limit: str = ""
    left_hand: bool = False
    oversize_mm: float = 0.0
    name: str = ""
    """For people: "drill", "90 degree spot drill", "spiral-point tap" ..."""
    every_other_tooth: bool = False
    """Of taps only: whether every other tooth of its thread is left out (an interrupted-thread tap)."""
    by_hand: bool = False
    """Turned by hand and never by the spindle."""
    shoulder: Shoulder | None = None
    """Of step drills only; `diameter_mm` and `size` are then those of the small diameter."""
    ducts: bool = False
    """Whether coolant comes through it, which it must be ordered for."""

    def __hash__(self) -> int:
        """Of what tells most tools apart: a job looks its tools up all the time."""
        return hash((self.size, self.material, self.name, self.limit))

    @property
    def bare_mm(self) -> bool:
        """Whether its size is its diameter in mm, written without the unit."""
        return self.sized == f"{self.size} mm"

    @property
    def sized(self) -> str:
        """Its size with the unit where that is a number alone: 6.8 mm, 1 in, 7.1 mm x 16 TPI, #7, M8x1.25."""
        if self.kind is StepKind.THREAD_MILL:
            return self.size.replace(" x", " mm x", 1)
        return with_unit(self.size, self.diameter_mm)

    @property
    def called(self) -> str:
        """What notes and reasons call it, a metric size with its unit: "drill 6.8 mm", "drill #7". A sheet puts its own
        name for the tool in that place."""
        name = (self.name or self.kind.value).partition(", ")[0]
        second = "" if self.shoulder is None else f" / {self.shoulder.diameter_mm:.4g} mm"
        return f"{name} {self.sized}{second}"

    @property
    def widest_mm(self) -> float:
        """Its largest diameter."""
        return self.diameter_mm if self.shoulder is None else self.shoulder.diameter_mm

    @property
    def flat_ended(self) -> bool:
        """Whether it is a drill without a point, which leaves a flat bottom."""
        return self.kind is StepKind.DRILL and self.point_angle_deg == FLAT_DEG

    @property
    def cuts_back(self) -> bool:
        """Whether it goes through the hole and cuts the far edge from there, so that the part is not turned over."""
        return self.name.startswith(BACK_CHAMFER)

    @property
    def process(self) -> str:
        """How it makes a thread, in the rules' words: cut, form, hand set or thread mill; "" for other tools."""
        if self.kind is StepKind.THREAD_MILL:
            return "thread mill"
        if self.kind is not StepKind.TAP:
            return ""
        return "hand set" if self.by_hand else "form" if self.flute_form == "forming" else "cut"

    @property
    def before_thread(self) -> bool:
        """Whether it is a reamer that prepares a thread instead of finishing a hole."""
        return self.kind is StepKind.REAM and self.name.partition(", ")[0] in (TAPER_REAMER, MINOR_REAMER)


@dataclass(frozen=True, slots=True)
class TapDrillFit:
    """How a tap drill sits in the minor-diameter limits: expected hole, window, and percentage of thread."""

    hole_mm: float
    window_mm: tuple[float, float]
    percent: float
    """At the expected hole."""
    percent_at_limits: tuple[float, float]
    """At the smallest and the largest permitted minor diameter."""
    largest: tuple[Size, float] | None = None
    """The largest drill whose hole stays inside, and that hole, mm; None where the hole is set to size."""


@dataclass(frozen=True, slots=True)
class DepthBudget:
    """Where the depth of a blind threaded hole goes, from the face down; `wall_left_mm` None when thickness is unknown.

    drilled = full_thread + chamfer + clearance unless the callout states its own; tip = drilled + point. A thread mill has
    no chamfer: what its end needs is part of the clearance.
    """

    full_thread_mm: float
    chamfer_mm: float
    clearance_mm: float
    drilled_mm: float
    point_mm: float
    tip_mm: float
    wall_left_mm: float | None
    governed_by: str
    wall_to: str = FAR_FACE
    """What lies beyond that wall."""


@dataclass(frozen=True, slots=True)
class BlindEnd:
    """Where a blind hole without a thread ends: how deep it is called for, how deep at its drill's full diameter, how deep
    the tip comes and what is left under it, None when the part's thickness is unknown."""

    drawn: ResolvedStep
    full_mm: float
    drilled_mm: float
    tip_mm: float
    wall_left_mm: float | None
    wall_to: str
    """What lies beyond that wall."""


@dataclass(frozen=True, slots=True)
class Limit:
    """The most that a step may ask, as a rule has it: N·m of a hand tap, a share of what the machine gives of a drill."""

    value: float
    reason: Reason


@dataclass(frozen=True, slots=True)
class ToolStep:
    """One tool's work in one hole.

    `depth_mm` is the depth of full diameter (drill, ream, counterbore), of full thread (tap, thread mill) or of the tool's
    tip (spot, countersink), None only for a through step in a part of unknown thickness. `tip_mm` is how deep the tool's
    tip goes, which the control is given (None likewise). `travel_mm` is the fed distance, approach and overrun included; a
    cone in a hole that is there already is fed from where it touches the hole's rim.
    `start_mm` is where the face lies that the tool meets (the floor of a counterbore, else 0).
    """

    kind: StepKind
    tool: Tool
    step: ResolvedStep | None
    """The resolved step it finishes or prepares; None for spotting."""
    diameter_mm: float
    through: bool
    depth_mm: float | None
    tip_mm: float | None
    travel_mm: float | None
    start_mm: float = 0.0
    side: Side = Side.NEAR
    """The face that it belongs to, and that its depths are from."""
    pecks: int = 1
    pecks_short: bool = False
    """Whether a peck only breaks the chip and leaves the drill in the hole."""
    fit: TapDrillFit | None = None
    reasons: tuple[Reason, ...] = ()
    coolant: str = ""
    coolant_reasons: tuple[Reason, ...] = ()
    unfinished: bool = False
    """Whether it leaves the thread to a later tap of a hand set."""
    also: ToolStep | None = None
    """What the shoulder of a step drill makes in the same stroke, as the step that a tool of its own would make."""
    limit: Limit | None = None
    """What bounds its load beside the machine itself; None where no rule does."""

    @property
    def parts(self) -> tuple[ToolStep, ...]:
        """It, and what its shoulder makes in the same stroke."""
        return (self,) if self.also is None else (self, self.also)

    @property
    def turned_over(self) -> bool:
        """Whether the part must be turned over for it."""
        return self.side is Side.FAR and not self.tool.cuts_back

    @property
    def finishes_thread(self) -> bool:
        """Whether the thread is whole after it."""
        return self.kind.makes_thread and not self.unfinished

    @property
    def process(self) -> str:
        """How a thread is made, in the rules' words; "" for other steps."""
        return self.tool.process


@dataclass(frozen=True, slots=True)
class ToolPlan:
    """All steps of one hole type in the order of work, with the blind tap's depth budget or the end of another blind hole,
    and what is open."""

    resolved: ResolvedHole
    steps: tuple[ToolStep, ...]
    budgets: tuple[DepthBudget, ...] = ()
    ends: tuple[BlindEnd, ...] = ()
    notes: tuple[Note, ...] = ()

    @property
    def parts(self) -> tuple[ToolStep, ...]:
        """All steps, and what the shoulder of a step drill makes with one of them."""
        return tuple(part for step in self.steps for part in step.parts)


@dataclass(frozen=True, slots=True)
class Alternative:
    """One process for a hole's thread: the rule that decided on it and why; `plan` None where a rule strikes it."""

    process: str
    chosen: bool
    rule: str
    because: str
    plan: ToolPlan | None
    asked: bool = False
    """Whether some rule asks for it."""
