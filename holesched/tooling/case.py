"""One thread to be made, as the rules see it: hole, thread, material and machine, nothing else."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from holesched.features.model import Hole
from holesched.shop.model import Shop
from holesched.standards.materials import Material
from holesched.standards.threads.base import ThreadGeometry
from holesched.units import LengthUnit

HOLES = ("blind", "through", "blocked")
"""blocked: through, but chips find no room beyond the far side."""
WALLS = ("whole", "interrupted", "slanted entry", "slanted exit")
"""Of a hole through a slanted face, of which nobody says whether it is the near or the far one, both are said."""
THREADS = ("parallel", "taper", "trapezoidal", "insert", "left-hand", "no largest minor")
LATER = ("coating", "heat treatment")
"""What is done to the part after its threads are cut."""
MACHINES = (
    "rigid", "float", "through-tool coolant", "coolant by hand", "no coolant", "forming wanted", "by hand",
    "no thread milling",
)  # fmt: skip

_SAYS = {
    "hole": "hole",
    "chip": "chip",
    "wall": "wall",
    "trait": "traits",
    "thread": "thread",
    "machine": "machine",
    "later": "later",
}
_COUNTS = {
    "hb": "hardness_hb", "size_mm": "size_mm", "depth_d": "depth_d", "room_p": "room_p", "torque": "torque",
    "breaking": "breaking", "lot": "lot",
}  # fmt: skip
"""Condition columns of the table -> fields of the case."""

_HEAT_WORDS = (
    "BEFORE HEAT", "BEFORE HARD", "BEFORE CARBURI", "BEFORE NITRID", "HARDEN AFTER", "HARDENED AFTER", "HEAT TREAT AFTER",
    "HEAT TREATED AFTER", "THEN HARDEN", "THEN HEAT", "CASE HARDEN", "CARBURI", "VOR DEM HÄRT", "VOR HÄRT",
    "EINSATZGEH", "EINSATZH",
)  # fmt: skip
"""Words that put a heat treatment behind the thread. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class HoleCase:
    """What the conditions of a rule are compared with.

    `size_mm` is the thread's nominal size, `depth_d` the thread's length over it (None: thickness unknown), `room_p` how
    many threads of chamfer fit under the full thread with the clearance taken off (None: the depth is ours to set),
    `hardness_hb` the middle of the material's range.
    """

    hole: str
    wall: frozenset[str]
    thread: frozenset[str]
    size_mm: float
    depth_d: float | None
    room_p: float | None
    group: str
    subgroup: str
    chip: str
    traits: frozenset[str]
    hardness_hb: float
    machine: frozenset[str]
    torque: float | None = None
    """What a cutting tap would take of the spindle's torque, as a share of it; None before it has been reckoned."""
    breaking: float | None = None
    """What it would take of the torque that breaks it, likewise."""
    lot: int | None = None
    """Parts in the lot; None when the schedule does not say."""
    holes: int | None = None
    """Holes of its size in the lot, likewise."""
    cutters_in: LengthUnit = "mm"
    """The unit of the sizes in which its spot drills, countersinks and end mills are sold."""
    later: frozenset[str] = frozenset()
    """What is done to the part after the thread is cut."""

    def words(self, column: str) -> frozenset[str]:
        """The case's words for a condition column of the table."""
        found = getattr(self, _SAYS[column])
        return found if isinstance(found, frozenset) else frozenset((found,))

    def number(self, column: str) -> float | None:
        """The case's number for a range column of the table; None when it is not known."""
        found: float | None = getattr(self, _COUNTS[column])
        return found

    def told(self) -> str:
        """The case in words, for a message."""
        deep = "" if self.depth_d is None else f", {self.depth_d:.1f} D deep"
        return f"a {self.hole} hole of {self.size_mm:g} mm{deep} in {self.subgroup} of {self.hardness_hb:.0f} HB"

    def by_holes(self) -> HoleCase:
        """The same case as drills, reamers and cutters see it: what pays for one is the number of its holes in the lot, not
        that of parts."""
        return replace(self, lot=self.holes)

    def with_room(self, room_p: float | None) -> HoleCase:
        """The same case, with so many threads of room for the chamfer."""
        return self if room_p == self.room_p else replace(self, room_p=room_p)


def thread_words(geometry: ThreadGeometry) -> frozenset[str]:
    """What kind of thread it is, in the table's words."""
    spec = geometry.spec
    if geometry.taper:
        kind = "taper"
    elif spec.series in ("Tr", "ACME", "STUB ACME"):
        kind = "trapezoidal"
    elif spec.series.startswith("STI"):
        kind = "insert"
    else:
        kind = "parallel"
    words = {kind: True, "left-hand": spec.left_hand, "no largest minor": geometry.minor.max_mm is None}
    return frozenset(word for word, holds in words.items() if holds)


def machine_words(shop: Shop) -> frozenset[str]:
    """What the shop's machine and habits are, in the table's words."""
    words = {"rigid" if shop.machine.rigid_tapping else "float"}
    if shop.machine.through_tool_coolant:
        words.add("through-tool coolant")
    if shop.machine.coolant != "flood":
        words.add("coolant by hand" if shop.machine.coolant == "hand" else "no coolant")
    if shop.preferences.prefer_forming:
        words.add("forming wanted")
    if shop.preferences.tap_by_hand:
        words.add("by hand")
    if not shop.machine.thread_milling:
        words.add("no thread milling")
    return frozenset(words)


def later_words(hole: Hole, remarks: Iterable[str]) -> frozenset[str]:
    """What is done to the part after its threads, in the table's words."""
    words = {"coating"} if hole.coating is not None else set()
    return frozenset(words | {"heat treatment"} if any(map(_is_before_heat, remarks)) else words)


def _is_before_heat(remark: str) -> bool:
    text = remark.upper()
    return any(word in text for word in _HEAT_WORDS)


def job_case(shop: Shop, lot: int | None) -> HoleCase:
    """A case for what is decided once for a job, which hangs on machine and lot alone."""
    none = frozenset[str]()
    return HoleCase("through", none, none, 0.0, None, None, "", "", "", none, 0.0, machine_words(shop), lot=lot)


def material_case(
    material: Material, shop: Shop, lot: int | None = None, holes: int | None = None, cutters_in: LengthUnit = "mm"
) -> HoleCase:
    """A case for decisions that hang on material and machine only (drills, reamers): no thread, a plain through hole."""
    return HoleCase(
        hole="through",
        wall=frozenset(("whole",)),
        thread=frozenset(("parallel",)),
        size_mm=10.0,
        depth_d=None,
        room_p=None,
        group=material.group,
        subgroup=material.subgroup,
        chip=material.chip,
        traits=material.traits,
        hardness_hb=material.middle_hb,
        machine=machine_words(shop),
        lot=lot,
        holes=holes,
        cutters_in=cutters_in,
    )
