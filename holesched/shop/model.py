"""The shop: its machine, its tools and its habits. All lengths mm, times s or min as named, speeds as named.

To add a setting, add a field here: reader, check of unknown keys and the documented sample follow from the fields.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any, TypeVar, cast

from holesched.notes import Cite, Standing
from holesched.standards import drill_sizes
from holesched.standards.drill_sizes import Oversize

T = TypeVar("T")


def setting(default: T, says: str, *, least: float = 0.0, choices: tuple[str, ...] = ()) -> T:
    """A field with what the sample file says of it, the least value it may have, or the words it may be."""
    field_any = cast(Any, field)
    return cast(T, field_any(default=default, metadata={"says": says, "least": least, "choices": choices}))


@dataclass(frozen=True, slots=True)
class Machine:
    """A machining centre's limits. The defaults are an invented, ordinary 3-axis vertical centre."""

    name: str = setting("3-axis machining centre (default values)", "As it is called on the sheets.")
    spindle_max_rpm: float = setting(8000.0, "Highest spindle speed.", least=1.0)
    spindle_min_rpm: float = setting(50.0, "Lowest spindle speed.")
    tapping_max_rpm: float = setting(3000.0, "Highest spindle speed for tapping.", least=1.0)
    spindle_power_kw: float = setting(11.0, "Continuous spindle power.", least=0.01)
    spindle_torque_nm: float = setting(
        70.0, "Largest torque, from standstill up to the base speed; above it power limits torque.", least=0.1
    )
    feed_max_mm_per_min: float = setting(10000.0, "Highest feed rate.", least=1.0)
    rapid_mm_per_min: float = setting(24000.0, "Rapid traverse.", least=1.0)
    axis_thrust_n: float = setting(5000.0, "Largest thrust of the spindle's axis.", least=1.0)
    tool_change_s: float = setting(5.0, "Tool change, chip to chip.")
    positioning_s: float = setting(0.8, "Settling at each move, on top of the rapid's own time.")
    spindle_acceleration_rev_per_s2: float = setting(40.0, "How quickly the spindle gains speed.", least=0.1)
    pots: int = setting(24, "Pots of the carousel; 1: there is no changer, tools are changed by hand.", least=1)
    rigid_tapping: bool = setting(True, "Synchronised tapping; false: a holder with length compensation is needed.")
    thread_milling: bool = setting(True, "Threads may be milled: the control moves on a helix.")
    through_tool_coolant: bool = setting(False, "Coolant through the spindle.")
    coolant: str = setting(
        "flood",
        "How coolant reaches the work: a jet, by hand with brush or bottle, or none.",
        choices=("flood", "hand", "none"),
    )
    max_tool_diameter_mm: float = setting(80.0, "Largest tool that a pot takes.", least=1.0)
    hour_costs: float = setting(0.0, "What an hour of it costs, in the currency of the prices; 0: not said.")

    @property
    def has_changer(self) -> bool:
        """Whether it changes its tools itself."""
        return self.pots > 1


GRADES = (
    "", "4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9", "A2-50", "A2-70", "A2-80", "A4-50", "A4-70",
    "A4-80", "SAE 2", "SAE 5", "SAE 8", "A574",
)  # fmt: skip
"""Property classes and grades of screws, as screw_grades.csv has them; "" for none."""


@dataclass(frozen=True, slots=True)
class Preferences:
    """What the shop usually does where the drawing leaves it free.

    `drill_material` is "auto" (by workpiece), "HSS", "HSS-Co" or "carbide"; `prefer_forming` allows forming taps where
    the material does; `tap_by_hand` is for a shop that taps at the bench; `tip_clearance_pitches` is the room kept under the
    tap's last thread; `wall_warning_mm` the least material left under a blind hole before it is asked; `spot_drill` whether
    holes are spotted.
    """

    drill_material: str = setting(
        "auto", "Tool material of drills; auto: by the workpiece.", choices=("auto", "HSS", "HSS-Co", "carbide")
    )
    cutters_in: str = setting(
        "by the drawing",
        "Sizes in which you keep spot drills, countersinks and end mills.",
        choices=("by the drawing", "mm", "in"),
    )
    prefer_forming: bool = setting(False, "Forming taps where the material allows them.")
    rules: str = setting(
        "", "Your own rules: a csv file beside this one, laid over the standard rules ('shop-sample --rules' prints those)."
    )
    tap_by_hand: bool = setting(False, "Threads are tapped by hand, with sets of taps, not in the machine.")
    spot_drill: bool = setting(True, "Spot holes before drilling.")
    risky_taps_first: bool = setting(
        True,
        "What a tap near to breaking needs is done before the rest of the part: a broken one then costs little of it.",
    )
    far_edge: str = setting(
        "by hand",
        "How the far edge of a through thread is broken where the drawing asks for no chamfer; a back chamfer tool makes "
        "the far countersinks that it asks for, too.",
        choices=("by hand", "turned over", "back chamfer tool"),
    )
    screw_grade: str = setting(
        "", "Strength of the screws that go into tapped holes; empty: threads are not judged by it.", choices=GRADES
    )
    tip_clearance_pitches: float = setting(1.0, "Room under the tap's chamfer, in pitches.")
    wall_warning_mm: float = setting(1.0, "Least material under a blind hole before it is asked.")
    approach_mm: float = setting(2.0, "Where feed begins above the face.")
    breakthrough_mm: float = setting(1.0, "How far a through tool goes past the far face, beyond its point or chamfer.")
    stickout_clearance_mm: float = setting(10.0, "Holder face to part, at full depth.")


@dataclass(frozen=True, slots=True)
class ReportStyle:
    """How sheets look: paper "A4" or "Letter", the shop's own name on top, a decimal "point" or "comma"."""

    paper: str = setting("A4", "Paper of the sheets.", choices=("A4", "Letter"))
    shop_name: str = setting("", "Your shop's name, printed on top of each sheet.")
    currency: str = setting("", "Currency of the prices, as it is printed.")
    decimal: str = setting("point", "Decimal sign on the sheets.", choices=("point", "comma"))


@dataclass(frozen=True, slots=True)
class Schedules:
    """How drawings come in: `columns` maps a header of the shop's own exports to one of our fields, `symbols` a drawing
    system's own code in a callout to what it stands for."""

    columns: tuple[tuple[str, str], ...] = ()
    symbols: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class ShopTool:
    """A drill or tap in stock; an empty crib means that any standard size may be bought."""

    kind: str
    size: str
    material: str = ""


PRICED = (
    *("drill", "step drill", "counterbore", "countersink"),
    *("cutting tap", "forming tap", "thread mill", "hand set"),
)
"""Kinds of tools that may have a price."""


@dataclass(frozen=True, slots=True)
class Price:
    """What one tool costs. An empty `size` or `material` stands for every one; the closest entry counts."""

    kind: str
    price: float
    size: str = ""
    material: str = ""


@dataclass(frozen=True, slots=True)
class DrillOversize:
    """How much over its own size a drill of the shop cuts, in place of the standard table's figure (drill_oversize.csv)."""

    material: str = setting("", "Drill material; empty: every one.", choices=("", "HSS", "HSS-Co", "carbide"))
    from_mm: float = setting(0.0, "Smallest drill that this holds for.")
    below_mm: float = setting(1000.0, "Drill from which it no longer holds.", least=0.001)
    expected_mm: float = setting(0.0, "What a hole usually measures over its drill.")
    worst_mm: float = setting(0.0, "What it measures over its drill at worst.")


OVERSIZE_CITE = Cite("shop file", place="oversize", standing=Standing.SHOP)


@dataclass(frozen=True, slots=True)
class Shop:
    """Everything a shop file may say; the default is a shop that has said nothing."""

    machine: Machine = field(default_factory=Machine)
    preferences: Preferences = field(default_factory=Preferences)
    report: ReportStyle = field(default_factory=ReportStyle)
    schedules: Schedules = field(default_factory=Schedules)
    crib: tuple[ShopTool, ...] = ()
    prices: tuple[Price, ...] = ()
    oversizes: tuple[DrillOversize, ...] = ()
    workpiece: str = ""
    """The sub-group of materials that is drilled, where drills cut otherwise in it than in metal; no file says it."""

    def __hash__(self) -> int:
        """Of its machine and habits: what is remembered for a shop is looked up without going through its whole crib."""
        return hash((self.machine, self.preferences))

    def oversize(self, diameter_mm: float, material: str) -> Oversize:
        """How much over its own size a drill cuts, in mm: the shop's own figure (its first entry that fits), else the
        standard table's. Raises as `drill_sizes.oversize` does."""
        for own in self.oversizes:
            if own.material in ("", material) and own.from_mm <= diameter_mm < own.below_mm:
                return Oversize(own.expected_mm, own.worst_mm, OVERSIZE_CITE)
        return drill_sizes.oversize(diameter_mm, material, self.workpiece)

    def drilling_in(self, subgroup: str) -> Shop:
        """The shop as its drills cut in a material of that sub-group."""
        return replace(self, workpiece=subgroup) if subgroup in drill_sizes.drilled_otherwise() else self

    def price_of(self, kind: str, size: str, material: str) -> float | None:
        """The price of a tool: of its size and material, else of its size, else of its kind; None when there is none."""
        fitting = [
            entry
            for entry in self.prices
            if entry.kind == kind and entry.size in ("", size) and entry.material in ("", material)
        ]
        return max(fitting, key=lambda entry: (entry.size != "", entry.material != "")).price if fitting else None
