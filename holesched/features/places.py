"""The holes of one part side by side: two at one place, walls that meet, and threads that are mistaken for each other."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from itertools import combinations, product
from statistics import median

from holesched.callouts.caret import message
from holesched.callouts.model import Kind, Side
from holesched.features.completion import HEAD_KINDS
from holesched.features.model import Hole, HoleType, Member
from holesched.notes import COMMON_PRACTICE, Note, Severity
from holesched.standards.threads.base import ThreadSpec
from holesched.tables import table

LEAST_WEB_DIAMETERS = 0.5
"""Wall between two holes, of the smaller one's diameter, that a wandering drill still leaves. Common practice, no source."""
SAME_PLACE_MM = 0.001
MOST_CELLS = 4096
"""Cells of the grid that a hole may reach over."""


@dataclass(frozen=True, slots=True)
class _Placed:
    """One hole at its place."""

    type: HoleType
    member: Member
    x_mm: float
    y_mm: float
    diameter_mm: float
    side: Side
    deep_mm: float
    rims_mm: tuple[float, float]
    """Diameters at the near and the far face, counterbores and countersinks with them; 0 where it does not come out."""


def check_places(types: Iterable[HoleType], thickness_mm: float | None) -> tuple[Note, ...]:
    """Rows at one place, and holes whose walls meet or come too near, each pair of types once with its first example."""
    placed = [hole for each in types for hole in _placed(each)]
    together: dict[tuple[str, str, str], tuple[Note, int]] = {}
    for one, other in _neighbours(placed):
        found = _pair(one, other, thickness_mm)
        if found is None:
            continue
        key = (found.code, *sorted((one.type.letter, other.type.letter)))
        first, times = together.get((key[0], key[1], key[2]), (found, 0))
        together[(key[0], key[1], key[2])] = (first, times + 1)
    return tuple(_counted(note, times) for note, times in together.values())


def _counted(note: Note, times: int) -> Note:
    if times == 1:
        return note
    first, _, rest = note.message.partition("\n")
    first = f"{first} {times} pairs of these holes are like this."
    return replace(note, message=f"{first}\n{rest}" if rest else first)


def wall_mm(hole: Hole) -> float:
    """The widest diameter a hole has below its openings, or of its openings when it has nothing else."""
    inner = [f.diameter.mm for f in hole.features if f.kind not in HEAD_KINDS]
    return max(inner or [f.diameter.mm for f in hole.features], default=0.0)


def _placed(hole_type: HoleType) -> Iterator[_Placed]:
    hole = hole_type.hole
    diameter = wall_mm(hole)
    inner = [f for f in hole.features if f.kind not in HEAD_KINDS] or list(hole.features)
    sides = {f.side for f in inner}
    side = sides.pop() if len(sides) == 1 else Side.BOTH
    deep = max((math.inf if f.depth.through else f.depth.mm or 0.0 for f in inner), default=0.0)
    rims = (_rim_mm(hole, Side.NEAR), _rim_mm(hole, Side.FAR))
    for member in hole_type.members:
        for x_mm, y_mm in member.places_mm:
            yield _Placed(hole_type, member, x_mm, y_mm, diameter, side, deep, rims)


def _rim_mm(hole: Hole, face: Side) -> float:
    """The widest diameter that a hole has in one face; a spotface is as wide as it likes."""
    out = (f for f in hole.features if f.kind is not Kind.SPOTFACE and (f.side in (face, Side.BOTH) or f.depth.through))
    return max((f.diameter.mm for f in out), default=0.0)


def _neighbours(placed: list[_Placed]) -> Iterator[tuple[_Placed, _Placed]]:
    """Pairs near enough to touch, the later hole second.

    Each hole lies in the cells of a grid that it and its web reach over; the cells are as wide as half of the holes reach,
    so that one wide bore among many small holes costs nothing. Holes out of all proportion are compared with every other.
    """
    reaches = [max(hole.diameter_mm, *hole.rims_mm) * (1 + LEAST_WEB_DIAMETERS) / 2 for hole in placed]
    step = max(2 * median(reaches), 1.0) if reaches else 1.0
    grid: dict[tuple[int, int], list[int]] = defaultdict(list)
    wide: list[int] = []
    for number, (hole, reach) in enumerate(zip(placed, reaches, strict=True)):
        columns, rows = (
            range(math.floor((at - reach) / step), math.floor((at + reach) / step) + 1) for at in (hole.x_mm, hole.y_mm)
        )
        cells = list(product(columns, rows)) if len(columns) * len(rows) <= MOST_CELLS else []
        near = set(wide).union(*(grid.get(cell, ()) for cell in cells)) if cells else range(number)
        for other in sorted(near):
            yield placed[other], hole
        for cell in cells:
            grid[cell].append(number)
        if not cells:
            wide.append(number)


def _pair(one: _Placed, other: _Placed, thickness_mm: float | None) -> Note | None:
    """What is wrong between two holes; the second is the one the note stands at."""
    apart = math.hypot(one.x_mm - other.x_mm, one.y_mm - other.y_mm)
    if apart <= SAME_PLACE_MM:
        return _same_place(one, other)
    web = apart - (one.diameter_mm + other.diameter_mm) / 2
    least = LEAST_WEB_DIAMETERS * min(one.diameter_mm, other.diameter_mm)
    rims = _rims(one, other, apart)
    if web >= least or _pass_each_other(one, other, thickness_mm) or (web > 0 and rims is not None and rims.is_question):
        return rims
    text, ref = other.type.hole.callout, other.member.ref
    where = f"{_name(one)} and {_name(other)}, {apart:.3f} mm apart"
    if web <= 0:
        sentence = f"{where}: their walls meet (diameters {one.diameter_mm:g} and {other.diameter_mm:g} mm)."
        shown = message(sentence, text)
        return Note("CHECK-WALLS-MEET", Severity.ASK, shown, "Check X and Y and the diameters.", "as written", text, ref)
    sentence = f"{where}: only {web:.2f} mm of wall between them; a drill may break through, a forming tap bulges it."
    return Note("CHECK-WEB-THIN", Severity.WATCH, sentence, "", "", text, ref, COMMON_PRACTICE)


def _rims(one: _Placed, other: _Placed, apart: float) -> Note | None:
    """Counterbores and countersinks that meet in a face; one that cuts into the neighbour's own hole is asked about."""
    for first, second in zip(one.rims_mm, other.rims_mm, strict=True):
        if not first or not second or apart >= (first + second) / 2:
            continue
        into = apart < max(first + other.diameter_mm, second + one.diameter_mm) / 2
        sentence = (
            f"{_name(one)} and {_name(other)}, {apart:.3f} mm apart: their openings of {first:g} and {second:g} mm meet in "
            f"the face{', and one cuts into the other hole' if into else ''}."
        )
        text, ref = other.type.hole.callout, other.member.ref
        if into:
            hint = "Check X and Y, and the diameters of the openings."
            return Note("CHECK-OPENINGS-MEET", Severity.ASK, message(sentence, text), hint, "as written", text, ref)
        return Note("CHECK-OPENINGS-MEET", Severity.WATCH, sentence, "", "", text, ref, COMMON_PRACTICE)
    return None


def _name(hole: _Placed) -> str:
    return f"hole {hole.member.tag}" if hole.member.tag else f"the hole of {hole.member.ref.cell}"


def _pass_each_other(one: _Placed, other: _Placed, thickness_mm: float | None) -> bool:
    """Whether two blind holes from opposite faces end before they reach each other's depth."""
    if Side.BOTH in (one.side, other.side) or one.side is other.side:
        return False
    if math.isinf(one.deep_mm + other.deep_mm):
        return False
    return thickness_mm is None or one.deep_mm + other.deep_mm < thickness_mm


def _same_place(one: _Placed, other: _Placed) -> Note | None:
    """Two rows at one place are steps of one hole (drill and tap, hole and counterbore), opposite ends, or a slip."""
    text, ref = other.type.hole.callout, other.member.ref
    if Side.BOTH not in (one.side, other.side) and one.side is not other.side:
        return None
    where = f"{_name(one)} and {_name(other)} are at one place (X {other.x_mm:g}, Y {other.y_mm:g})"
    if one.type is not other.type and _stack(one.type.hole, other.type.hole):
        sentence = f"{where}: read as steps of one hole, each planned by itself."
        return Note("CHECK-SAME-AXIS", Severity.WATCH, sentence, "Write the steps in one callout.", "", text, ref)
    sentence = f"{where}: one hole or two?"
    hint = "Check X and Y, or take one of the rows out."
    return Note("CHECK-SAME-PLACE", Severity.ASK, sentence, hint, "both planned", text, ref)


def _stack(one: Hole, other: Hole) -> bool:
    """Whether two holes can be steps of one: an opening on a hole, or a drill for a thread or ream of its own row."""
    for inner, outer in ((one, other), (other, one)):
        if all(f.kind in HEAD_KINDS for f in outer.features) and any(f.kind not in HEAD_KINDS for f in inner.features):
            return True
        finished = [f for f in outer.features if f.kind in (Kind.TAP, Kind.REAM, Kind.BORE)]
        drilled = [f for f in inner.features if f.kind is Kind.DRILL]
        alone = len(drilled) == len(inner.features) and not any(f.kind is Kind.DRILL for f in outer.features)
        if finished and drilled and alone and drilled[0].diameter.mm < finished[0].diameter.mm:
            return True
    return False


@cache
def _lookalikes() -> dict[frozenset[str], str]:
    """Pairs of thread names, and what happens when one is taken for the other."""
    return {frozenset((row["first"], row["second"])): row["what_happens"] for row in table("thread_lookalikes.csv").rows}


def check_lookalikes(types: Iterable[HoleType]) -> tuple[Note, ...]:
    """Threads of one schedule that are mistaken for each other: another system's neighbour, or another pitch of one size."""
    first: dict[str, tuple[ThreadSpec, HoleType]] = {}
    for hole_type in types:
        for feature in hole_type.hole.features:
            if feature.thread is not None:
                first.setdefault(feature.thread.name, (feature.thread, hole_type))
    notes = []
    cite = table("thread_lookalikes.csv").cite()
    for (one, one_type), (other, other_type) in combinations(first.values(), 2):
        what = _lookalikes().get(frozenset((one.name, other.name)))
        if what is None and abs(one.nominal.mm - other.nominal.mm) < 1e-6:
            what = "one size, two pitches" if one.pitch_mm != other.pitch_mm else "one size and pitch, two forms of thread"
        if what is not None:
            names = f"{one.name} (holes {one_type.letter}) and {other.name} (holes {other_type.letter})"
            sentence = f"Look-alike threads: {names}: {what}. Two taps, two gauges."
            ref, text = other_type.members[0].ref, other_type.hole.callout
            notes.append(Note("CHECK-LOOKALIKE", Severity.WATCH, sentence, "Mark the taps.", "", text, ref, cite))
    return tuple(notes)
