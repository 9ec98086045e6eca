"""A callout understood: what is written, with the place of each part; nothing assumed, nothing looked up."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum

from holesched.notes import Note
from holesched.standards.sizes import Size
from holesched.standards.threads.base import ThreadCall


class Kind(Enum):
    """What is to be made. The values are those of the machine-readable output."""

    DRILL = "drill"
    REAM = "ream"
    BORE = "bore"
    COUNTERBORE = "counterbore"
    COUNTERSINK = "countersink"
    SPOTFACE = "spotface"
    TAP = "tap"


class Side(Enum):
    """The face a step is made from."""

    NEAR = "near"
    FAR = "far"
    BOTH = "both"


@dataclass(frozen=True, slots=True)
class Span:
    """Characters [start, end) of the callout's own text."""

    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Depth:
    """A written depth. `through`: THRU; otherwise `mm` is a length. `least`/`most`: MIN or MAX was written."""

    mm: float | None = None
    through: bool = False
    least: bool = False
    most: bool = False


@dataclass(frozen=True, slots=True)
class Tolerance:
    """A written tolerance on a diameter: a zone ("H7"), or limits of size in mm, or both (then they must agree)."""

    zone: str | None = None
    low_mm: float | None = None
    high_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Element:
    """One step as written.

    `diameter` is None for a tap, and for a step whose size follows from `fastener` ("M8 socket head cap screw") or is
    missing. `depth` None: not written. `angle_deg` is a countersink's included angle. `uses` keeps plain words that change
    nothing ("dowel", "at assembly"). `span` is not compared.
    """

    kind: Kind
    diameter: Size | None = None
    tolerance: Tolerance | None = None
    depth: Depth | None = None
    angle_deg: float | None = None
    thread: ThreadCall | None = None
    side: Side = Side.NEAR
    fastener: str | None = None
    uses: tuple[str, ...] = ()
    span: Span = field(default=Span(0, 0), compare=False)


@dataclass(frozen=True, slots=True)
class Circle:
    """A bolt circle: diameter in mm, and whether the holes are said to be equally spaced."""

    diameter_mm: float
    equal: bool = True


@dataclass(frozen=True, slots=True)
class Callout:
    """A whole callout: `count` is its own quantity (4X), None when not written; `typical` when TYP is."""

    text: str
    elements: tuple[Element, ...]
    count: int | None = None
    typical: bool = False
    circle: Circle | None = None
    remarks: tuple[str, ...] = ()
    """Words kept as they are: surface texture, geometric tolerance, process notes."""


@dataclass(frozen=True, slots=True)
class CalloutReading:
    """What reading a text gave: the callout, or None with a REFUSED note that shows the text with a caret.

    Notes carry no cell: a text is read once for all the cells that hold it.
    """

    callout: Callout | None
    notes: tuple[Note, ...] = ()
