"""Holes against the outline of their part: too near an edge, across it, or beyond it.

The outline is two lengths; where its origin lies the places of the holes must show, and where they do not it is asked.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from holesched.callouts.caret import message
from holesched.features.findings import also_at, said_of_more
from holesched.features.model import HoleType, Member
from holesched.features.places import LEAST_WEB_DIAMETERS, wall_mm
from holesched.notes import CellRef, Note, Severity
from holesched.schedule.model import JobHeader

SLACK_MM = 0.001
DATUMS = (("the lower edge", 0.0), ("the middle", 0.5), ("the upper edge", 1.0))
"""Where the origin of an axis may lie, as a share of the side below it."""


class _Near(NamedTuple):
    """One hole at its place, its diameter below the face and the widest one in a face."""

    type: HoleType
    member: Member
    place_mm: tuple[float, float]
    inner_mm: float
    widest_mm: float


class _Side(NamedTuple):
    """One side of the outline: from `low` to `high` along its axis; `name` is X or Y."""

    name: str
    low_mm: float
    high_mm: float


def check_edges(types: Iterable[HoleType], header: JobHeader) -> tuple[Note, ...]:
    """Questions about holes near, across or beyond the part's edges, each kind once a hole type; () without an outline."""
    if header.outline_mm is None:
        return ()
    placed = [hole for each in types for hole in _placed(each)]
    if not placed:
        return ()
    sides: list[_Side] = []
    for axis, name in enumerate("XY"):
        found = _side(name, header.outline_mm[axis], [hole.place_mm[axis] for hole in placed])
        if found is None:
            return (_open_datum(name, header, [hole.place_mm[axis] for hole in placed]),)
        sides.append(found)
    if _fits_turned(sides, header.outline_mm, placed):
        return (_turned(header),)
    first: dict[tuple[str, str], Note] = {}
    more: dict[tuple[str, str], dict[CellRef, None]] = {}
    for hole in placed:
        note = _finding(hole, sides)
        if note is not None:
            key = (note.code, hole.type.letter)
            first.setdefault(key, note)
            more.setdefault(key, {})[hole.member.ref] = None
    return tuple(_with_others(note, more[key]) for key, note in first.items())


def _placed(hole_type: HoleType) -> Iterator[_Near]:
    hole = hole_type.hole
    inner, widest = wall_mm(hole), max(feature.diameter.mm for feature in hole.features)
    for member in hole_type.members:
        for place in member.places_mm:
            yield _Near(hole_type, member, place, inner, widest)


def _side(name: str, length_mm: float, places_mm: Sequence[float]) -> _Side | None:
    """Where the side lies on its axis; None: its origin may be at more than one place.

    Where no origin holds all holes, the one that their signs show: some are beyond the edge.
    """
    lowest, highest = min(places_mm), max(places_mm)
    fitting = [
        share
        for _, share in DATUMS
        if lowest >= -share * length_mm - SLACK_MM and highest <= (1 - share) * length_mm + SLACK_MM
    ]
    if len(fitting) > 1:
        return None
    share = fitting[0] if fitting else 0.0 if lowest >= 0 else 1.0 if highest <= 0 else 0.5
    return _Side(name, 0.0 - share * length_mm, (1 - share) * length_mm)


def _open_datum(name: str, header: JobHeader, places_mm: Sequence[float]) -> Note:
    assert header.outline_mm is not None
    length = header.outline_mm["XY".index(name)]
    sentence = (
        f"The part is {length:g} mm along {name}, the holes lie between {name} {min(places_mm):g} and {max(places_mm):g}: "
        "is the origin at an edge or in the middle? Without it no hole is held against the edges."
    )
    hint = "State where X0 Y0 is."
    return Note("SCHEDULE-PLACE-DATUM", Severity.ASK, sentence, hint, "not checked", "", header.outline_ref)


def _fits_turned(sides: Sequence[_Side], outline_mm: tuple[float, float], placed: Sequence[_Near]) -> bool:
    """Whether the holes fit the outline only with its sides exchanged."""
    if all(_beyond(hole, sides) is None for hole in placed):
        return False
    turned = [_side(name, outline_mm[1 - axis], [h.place_mm[axis] for h in placed]) for axis, name in enumerate("XY")]
    known = [side for side in turned if side is not None]
    return len(known) == 2 and all(_beyond(hole, known) is None for hole in placed)


def _turned(header: JobHeader) -> Note:
    assert header.outline_mm is not None
    long, wide = header.outline_mm
    sentence = f"The holes lie in the outline of {long:g} x {wide:g} mm only if {long:g} mm is along Y: is it?"
    hint = "Write the outline as X x Y, or check the places."
    return Note("CHECK-EDGE-TURNED", Severity.ASK, sentence, hint, "not checked", "", header.outline_ref)


def _beyond(hole: _Near, sides: Sequence[_Side]) -> _Side | None:
    """The side that a hole's centre lies beyond."""
    for place, side in zip(hole.place_mm, sides, strict=True):
        if not side.low_mm - SLACK_MM <= place <= side.high_mm + SLACK_MM:
            return side
    return None


def _finding(hole: _Near, sides: Sequence[_Side]) -> Note | None:
    """What is wrong between a hole and the nearest edge."""
    text = hole.type.hole.callout
    where = f"hole {hole.member.tag}" if hole.member.tag else f"the hole of {hole.member.ref.cell}"
    where = f"{where} at X {hole.place_mm[0]:g}, Y {hole.place_mm[1]:g}"
    beyond = _beyond(hole, sides)
    if beyond is not None:
        sentence = f"{where} lies beyond the part, which goes from {beyond.name} {beyond.low_mm:g} to {beyond.high_mm:g} mm."
        hint = "Check X and Y, the outline and the origin."
        return _ask("CHECK-EDGE-OUTSIDE", sentence, hole, text, hint)
    nearest, side = min(
        (min(place - side.low_mm, side.high_mm - place), side) for place, side in zip(hole.place_mm, sides, strict=True)
    )
    wall = nearest - hole.widest_mm / 2
    least = LEAST_WEB_DIAMETERS * hole.inner_mm
    if wall >= least - SLACK_MM:
        return None
    reach = f"its widest diameter is {hole.widest_mm:g} mm, the edge {nearest:g} mm away along {side.name}"
    if wall <= 0:
        sentence = f"{where} cuts the part's edge: {reach}."
        return _ask("CHECK-EDGE-CUT", sentence, hole, text, "Check the place, the diameter and the outline.")
    sentence = (
        f"{where} leaves {wall:.2f} mm of wall to the edge: {reach}; {least:g} mm (half the hole) is the least advised."
    )
    return _ask("CHECK-EDGE-NEAR", sentence, hole, text, "Confirm it, or move the hole.")


def _ask(code: str, sentence: str, hole: _Near, text: str, hint: str) -> Note:
    return Note(code, Severity.ASK, message(sentence, text), hint, "as written", text, hole.member.ref)


def _with_others(note: Note, cells: Iterable[CellRef]) -> Note:
    """The note of the first hole, with the cells of the others that are like it."""
    noted = also_at(note, cells)
    return said_of_more(noted, f"{len(noted.also)} more of these rows are like this.") if noted.also else noted
