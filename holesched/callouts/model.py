"""A callout understood: what is written, with the place of each part; nothing assumed, nothing looked up."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum
from typing import NamedTuple

from holesched.notes import Note
from holesched.standards.sizes import Size
from holesched.standards.threads.base import ThreadCall

WALLS_WRITTEN = ("THRU", "THROUGH", "ONE WALL", "BREAK INTO", "BREAKS INTO")
"""What a remark begins with that says through which walls a hole goes, or into what."""


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


class Span(NamedTuple):
    """Characters [start, end) of the callout's own text."""

    start: int
    end: int


class Depth(NamedTuple):
    """A written depth. `through`: THRU; otherwise `mm` is a length. `least`/`most`: MIN or MAX was written.

    A thread may have both (M6 THRU ↧8): the hole goes through, its thread is so long.

    `tolerance_mm` are the written deviations (low, high) of the depth itself. `leaving_mm` is a depth given by what is left
    under it (TO LEAVE 12): it becomes a depth once the part's thickness is known. Neither: the depth is open (a spotface
    that only cleans up, a countersink given by its diameter).
    """

    mm: float | None = None
    through: bool = False
    least: bool = False
    most: bool = False
    tolerance_mm: tuple[float, float] | None = None
    leaving_mm: float | None = None


class Tolerance(NamedTuple):
    """A written tolerance on a diameter: a zone ("H7"), or limits of size in mm, or both (then they must agree)."""

    zone: str | None = None
    low_mm: float | None = None
    high_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Element:
    """One step as written.

    `diameter` is None for a tap, and for a step whose size follows from `fastener` ("M8 SHCS"), is left to the shop (the
    pilot hole of DRILL 20 DEEP) or is missing. `depth` None: not written. `angle_deg` is a countersink's included angle,
    `chamfer_mm` the leg of a chamfer (0.5x45°), `insert_diameters` a wire insert's length over its screw's diameter (1.5D).
    `tap_limit` is the limit of the tap itself as it is stated (H3, D5).
    `stated`: the process was written (DRILL, REAM), not only a diameter. `uses` keeps plain words ("dowel", "at assembly",
    "flat bottom", "tap drill", "blind"). `span` and `thread_text`, the thread's designation as written, are not compared.
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
    stated: bool = False
    chamfer_mm: float | None = None
    insert_diameters: float | None = None
    tap_limit: str = ""
    thread_text: str = field(default="", compare=False)
    span: Span = field(default=Span(0, 0), compare=False)


@dataclass(frozen=True, slots=True)
class Circle:
    """A bolt circle: diameter in mm, and whether the holes are said to be equally spaced."""

    diameter_mm: float
    equal: bool = True


@dataclass(frozen=True, slots=True)
class Coating:
    """A coating as written: `text` whole, `kind` its words in capitals ("ZINC PLATE").

    `least_mm` and `most_mm` are its thickness on one surface as far as written; one number alone is the least.
    `holds` says whether the sizes hold "before" or "after" it, "" when nothing is said.
    """

    text: str
    kind: str
    least_mm: float | None = None
    most_mm: float | None = None
    holds: str = ""

    @property
    def thickness_known(self) -> bool:
        """Whether any thickness is written."""
        return self.least_mm is not None or self.most_mm is not None


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
    coating: Coating | None = None


class CalloutReading(NamedTuple):
    """What reading a text gave: the callout, or None with a REFUSED note that shows the text with a caret.

    Notes carry no cell: a text is read once for all the cells that hold it. `counted` is the quantity read before
    a callout was refused.
    """

    callout: Callout | None
    notes: tuple[Note, ...] = ()
    counted: int | None = None
