"""What a check is told of the part, what it finds, and how it looks at steps."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from holesched.callouts.model import Kind, Side
from holesched.features.model import Feature, Hole
from holesched.notes import CellRef, Cite, Note, Severity
from holesched.standards import threads


@dataclass(frozen=True, slots=True)
class Part:
    """What a check may know of the part: its thickness and its material as written."""

    thickness_mm: float | None
    material: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """What a check found wrong with one feature."""

    code: str
    severity: Severity
    sentence: str
    feature: Feature
    suggestion: str = ""
    assumed: str = ""
    cite: Cite | None = None


def deep_mm(feature: Feature) -> float | None:
    """A feature's depth as a number: through is endless; None: open."""
    return float("inf") if feature.depth.through else feature.depth.mm


def same_side(one: Feature, other: Feature) -> bool:
    """Whether two features are made from one face."""
    return one.side is other.side or Side.BOTH in (one.side, other.side)


def covers(wide: Feature, narrow: Feature) -> bool:
    """Whether the wider feature is made as deep as the narrower, from its side, or through."""
    deep, deeper = deep_mm(narrow), deep_mm(wide)
    meets = same_side(wide, narrow) or wide.depth.through
    return meets and deep is not None and deeper is not None and deeper >= deep


def depth_text(value: float | None) -> str:
    """A depth for people: 12 mm, or through."""
    return "through" if value == float("inf") else f"{value:g} mm"


def taps(hole: Hole) -> Iterator[Feature]:
    """The hole's threads."""
    return (feature for feature in hole.features if feature.kind is Kind.TAP)


def major_mm(tap: Feature) -> float:
    """A thread's basic major diameter; of a pipe thread not its nominal size."""
    return threads.geometry(tap.thread).basic_major_mm if tap.thread is not None else tap.diameter.mm


def also_at(note: Note, cells: Iterable[CellRef]) -> Note:
    """The note with the other cells that it holds for."""
    return replace(note, also=tuple(cell for cell in cells if cell != note.ref))


def said_of_more(note: Note, sentence: str) -> Note:
    """The note with one sentence more, before the callout that it shows."""
    first, line_break, shown = note.message.partition("\n")
    return replace(note, message=f"{first} {sentence}{line_break}{shown}")
