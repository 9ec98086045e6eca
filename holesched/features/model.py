"""Holes as the drawing means them: callouts made whole with what standards supply, rows of one type brought together."""

from __future__ import annotations

from dataclasses import dataclass

from holesched.callouts.model import Circle, Coating, Depth, Element, Kind, Side, Tolerance
from holesched.notes import CellRef, Note
from holesched.standards.sizes import Size
from holesched.standards.threads.base import ThreadSpec
from holesched.units import LengthUnit


@dataclass(frozen=True, slots=True)
class Feature:
    """One thing to make, complete in the drawing's terms.

    `depth` is always present (through when nothing was written, with an assumption noted); without mm and not through, the
    depth is what cleans up (a spotface) or follows from the diameter (a countersink). `thread` for taps only; a tap's
    `diameter` is the thread's nominal size. `element` is what was written. `pilot_depth` is the drilled depth that the
    callout states for a tap whose pilot hole it gives no diameter (M4 ↧8 MAX DRILL 10.5). `insert_diameters` is the length
    of a wire insert over its screw's diameter, one of those the standard lists; None: not written.
    """

    kind: Kind
    diameter: Size
    depth: Depth
    tolerance: Tolerance | None = None
    angle_deg: float | None = None
    thread: ThreadSpec | None = None
    side: Side = Side.NEAR
    element: Element | None = None
    pilot_depth: Depth | None = None
    insert_diameters: float | None = None


@dataclass(frozen=True, slots=True)
class Hole:
    """One axis with its features in the order written. Two rows with equal holes and material are of one type."""

    features: tuple[Feature, ...]
    callout: str
    circle: Circle | None = None
    remarks: tuple[str, ...] = ()
    coating: Coating | None = None


@dataclass(frozen=True, slots=True)
class Member:
    """One row of a hole type: its cell, tag, number of holes and places (as many as are known, at most `count`)."""

    ref: CellRef
    tag: str
    count: int
    places_mm: tuple[tuple[float, float], ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True)
class HoleType:
    """All rows that ask for the same hole in the same material. `letter` names it on the sheets: the drawing's own tag
    where its rows share one, else a letter that no tag begins with."""

    letter: str
    hole: Hole
    members: tuple[Member, ...]
    material: str
    thickness_mm: float | None
    notes: tuple[Note, ...] = ()
    """What reading and building it left to say, each with the cell of the first row it concerns."""
    of_its_size: int = 0
    """Number of holes of this size in one part, however deep: the same drills make them. 0 where nobody counted."""
    drawn_in: LengthUnit = "mm"
    """The unit of its drawing."""

    @property
    def remarks(self) -> tuple[str, ...]:
        """What the drawing says beside sizes and depths: in the callout, and in the remarks of its rows."""
        return (*self.hole.remarks, *dict.fromkeys(member.note for member in self.members if member.note))

    @property
    def quantity(self) -> int:
        """Number of holes of this type in one part."""
        return sum(member.count for member in self.members)


@dataclass(frozen=True, slots=True)
class UnreadRow:
    """A row whose callout gave no hole at all: counted, asked about, never planned. `count` is its holes as far as known."""

    ref: CellRef
    tag: str
    text: str
    count: int
    notes: tuple[Note, ...]


@dataclass(frozen=True, slots=True)
class BuiltHoles:
    """All rows of a schedule, as hole types in order of first appearance, and the rows that gave none."""

    types: tuple[HoleType, ...]
    unread: tuple[UnreadRow, ...]
    notes: tuple[Note, ...] = ()
    """Notes on the schedule as a whole (look-alike threads, ...)."""
