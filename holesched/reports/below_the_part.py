"""How far tools come out under the part: the room that fixture and parallels must leave, and below which holes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from holesched.reports.show import Show
from holesched.sequence.model import JobPlan
from holesched.units import in_unit


@dataclass(frozen=True, slots=True)
class Below:
    """`clearance` is the least room with the tool that asks for it; `holes` the hole types that tools come through."""

    clearance: str
    holes: str


@dataclass(frozen=True, slots=True)
class _Way:
    """One tool in one hole type that it goes through; `past_mm` None where the part's thickness is not known."""

    operation: int
    tool: str
    letter: str
    past_mm: float | None


def below(job: JobPlan, show: Show) -> Below:
    """What the set-up sheet says of the room under the part, rounded up to 0.1 mm or 0.01 in."""
    ways = list(_ways(job))
    crossed = {way.letter for way in ways}
    letters = ", ".join(hole.type.letter for hole in job.holes if hole.type.letter in crossed)
    if not ways:
        return Below("no tool comes through", "none")
    known = [(way.past_mm, way) for way in ways if way.past_mm is not None]
    unknown = list(dict.fromkeys(way.tool for way in ways if way.past_mm is None))
    measure = f"thickness not given: measure for {', '.join(unknown)}" if unknown else ""
    if not known:
        return Below(measure, letters)
    past, way = max(known, key=lambda each: each[0])
    places, unit = (1, "mm") if show.unit == "mm" else (2, "in")
    room = ceil(round(in_unit(past, show.unit) * 10**places, 6)) / 10**places
    least = f"at least {show.number(room, places)} {unit}: {way.tool} in {way.letter} (operation {way.operation})"
    return Below("; ".join(part for part in (least, measure) if part), letters)


def _ways(job: JobPlan) -> Iterator[_Way]:
    thickness = {hole.type.letter: hole.type.thickness_mm or job.header.thickness_mm for hole in job.holes}
    for operation in job.operations:
        for target in operation.targets:
            step, floor = target.cut.step, thickness[target.letter]
            if step.tool.by_hand:
                continue  # at the bench, out of the fixture
            past = step.tip_mm - floor if step.tip_mm is not None and floor is not None else None
            if step.through if past is None else past > 0:
                yield _Way(operation.number, f"T{operation.tool_number}", target.letter, past)
