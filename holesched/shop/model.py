"""The shop: its machine, its tools and its habits. All lengths mm, times s or min as named, speeds as named."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Machine:
    """A machining centre's limits. The defaults are an invented, ordinary 3-axis vertical centre."""

    name: str = "3-axis machining centre (default values)"
    spindle_max_rpm: float = 8000.0
    spindle_min_rpm: float = 50.0
    tapping_max_rpm: float = 3000.0
    spindle_power_kw: float = 11.0
    spindle_torque_nm: float = 70.0
    """Largest torque, available from standstill up to the base speed; above it power limits torque."""
    feed_max_mm_per_min: float = 10000.0
    rapid_mm_per_min: float = 24000.0
    axis_thrust_n: float = 5000.0
    tool_change_s: float = 5.0
    """Chip to chip."""
    positioning_s: float = 0.8
    """Settling per move, on top of the rapid's own time."""
    spindle_acceleration_rev_per_s2: float = 40.0
    pots: int = 24
    rigid_tapping: bool = True
    through_tool_coolant: bool = False
    max_tool_diameter_mm: float = 80.0


@dataclass(frozen=True, slots=True)
class Preferences:
    """What the shop usually does where the drawing leaves it free.

    `drill_material` is "auto" (by workpiece), "HSS", "HSS-Co" or "carbide"; `prefer_forming` allows forming taps where
    the material does; `tip_clearance_pitches` is the room kept under the tap's last thread; `wall_warning_mm` the least
    material left under a blind hole before it is asked; `spot_drill` whether holes are spotted.
    """

    drill_material: str = "auto"
    prefer_forming: bool = False
    spot_drill: bool = True
    tip_clearance_pitches: float = 1.0
    wall_warning_mm: float = 1.0
    approach_mm: float = 2.0
    breakthrough_mm: float = 1.0
    """How far a through tool goes past the far face, beyond its point or chamfer."""
    stickout_clearance_mm: float = 10.0
    """Holder face to part, at full depth."""


@dataclass(frozen=True, slots=True)
class ReportStyle:
    """How sheets look: paper "A4" or "Letter", the shop's own name on top, a decimal "point" or "comma"."""

    paper: str = "A4"
    shop_name: str = ""
    decimal: str = "point"


@dataclass(frozen=True, slots=True)
class Schedules:
    """How drawings come in: `columns` maps a header of the shop's own exports to one of our fields."""

    columns: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class ShopTool:
    """A drill or tap in stock; an empty crib means that any standard size may be bought."""

    kind: str
    size: str
    material: str = ""


@dataclass(frozen=True, slots=True)
class Shop:
    """Everything a shop file may say; the default is a shop that has said nothing."""

    machine: Machine = field(default_factory=Machine)
    preferences: Preferences = field(default_factory=Preferences)
    report: ReportStyle = field(default_factory=ReportStyle)
    schedules: Schedules = field(default_factory=Schedules)
    crib: tuple[ShopTool, ...] = ()
