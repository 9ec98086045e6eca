"""Cutting parameters of each step, clamped to the machine. Speeds m/min and rev/min, feeds mm, forces N, power kW."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from holesched.notes import Cite, Note, Reason
from holesched.tooling.model import Alternative, ToolPlan, ToolStep

CHANGE = "change"
"""The band of the taps that are nearest to breaking."""
HAND_OVER = "CUT-HAND-OVER"
TAP_BREAKS = "TAP-BREAKS"
OVERLOAD = ("CUT-TORQUE-OVER", "CUT-THRUST-OVER", HAND_OVER, TAP_BREAKS)
"""Codes of the notes on what the machine, a person at a tap wrench, or the tap itself cannot do."""


@dataclass(frozen=True, slots=True)
class TapRisk:
    """How near a tap comes to breaking: its torque, worn, over the torque that breaks it.

    `band` is "calm" (below 0.25), "watch" or "change" (above 0.5), from half of these where the torque `may_be_twice` the
    estimate. `factors` are what makes it, in words with their values;
    `remedies` what lowers it, cheapest first.
    """

    index: float
    band: str
    breaking_torque_nm: float
    factors: tuple[str, ...] = ()
    remedies: tuple[str, ...] = ()
    may_be_twice: str = ""
    """That it may, in words."""


@dataclass(frozen=True, slots=True)
class ThreadMilling:
    """How a thread is milled: cutter, both feeds, the path of the cutter's centre, and the time in the cut.

    `centre_radius_mm` is the circle that the centre runs on, `arc_radius_mm` the half circles of entry and exit; the path
    rises by `rise_mm` in each full turn and by a quarter of it in each half circle, or sinks (`downwards`) in a left-hand
    thread. `passes` are turns at growing radius, `levels` turns one above another where the thread is longer than the
    cutter. The feed of the centre is what a control without compensation is given, that of the edge what the tooth sees.
    """

    cutter_mm: float
    teeth: int
    length_mm: float
    surface_m_per_min: float
    spindle_rpm: float
    tooth_feed_mm: float
    edge_feed_mm_per_min: float
    centre_feed_mm_per_min: float
    centre_radius_mm: float
    arc_radius_mm: float
    rise_mm: float
    downwards: bool
    passes: int
    levels: int
    time_min: float
    cites: tuple[Cite, ...]


@dataclass(frozen=True, slots=True)
class CutStep:
    """One step with its parameters.

    `speed_low/start/high` are the table's range corrected for the case; `surface_m_per_min` is what really runs after the
    machine's limits; `clamps` say which limit governed. Torque, thrust and power are estimates with their source;
    None where no formula serves. `time_min` is for one hole, without positioning.
    """

    step: ToolStep
    speed_low_m_per_min: float
    speed_start_m_per_min: float
    speed_high_m_per_min: float
    surface_m_per_min: float
    spindle_rpm: float
    feed_mm_per_rev: float
    feed_mm_per_min: float
    coolant: str
    torque_nm: float | None
    thrust_n: float | None
    power_kw: float | None
    chip_load_mm: float | None
    """Load per tooth: for a tap, the chip thickness of one chamfer tooth."""
    time_min: float
    tool_life_holes: tuple[float, float] | None = None
    """Holes per tool, low and high."""
    reached_rpm: float | None = None
    """For taps: the spindle speed really reached before it must reverse."""
    reasons: tuple[Reason, ...] = ()
    clamps: tuple[Reason, ...] = ()
    risk: TapRisk | None = None
    """For taps only."""
    torque_share: float | None = None
    """Torque over what the spindle gives at that speed."""
    overload: tuple[Note, ...] = ()
    """What the machine cannot do, which gives less torque or thrust, or the tap, which breaks at less. Such a step is not to
    be run as it stands."""
    milling: ThreadMilling | None = None
    """For thread mills only; `feed_mm_per_min` is then the feed of the cutter's centre."""

    @property
    def breaking_share(self) -> float | None:
        """A tap's torque over what breaks it; None for other tools."""
        return self.risk.index if self.risk is not None else None

    @property
    def cites(self) -> tuple[Cite, ...]:
        """What the reasons rest on, each source once."""
        return tuple(dict.fromkeys(cite for reason in self.reasons for cite in reason.cites))


class Loaded(Protocol):
    """A step with what it asks of the machine, and the notes that say that it is too much."""

    @property
    def step(self) -> ToolStep: ...
    @property
    def torque_nm(self) -> float | None: ...
    @property
    def thrust_n(self) -> float | None: ...
    @property
    def torque_share(self) -> float | None: ...
    @property
    def breaking_share(self) -> float | None: ...
    @property
    def overload(self) -> tuple[Note, ...]: ...


@dataclass(frozen=True, slots=True)
class CutPlan:
    """A hole type's steps with parameters."""

    plan: ToolPlan
    cuts: tuple[CutStep, ...]
    notes: tuple[Note, ...] = ()


@dataclass(frozen=True, slots=True)
class CutAlternative:
    """One process for a hole's thread with its parameters; `cut_plan` None where a rule strikes it."""

    choice: Alternative
    cut_plan: CutPlan | None
