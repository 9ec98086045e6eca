"""The holes of one part side by side: two at one place, and walls that meet."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain
from typing import NamedTuple

from holesched.callouts.caret import message
from holesched.callouts.model import Kind, Side
from holesched.features.completion import HEAD_KINDS, SUPPOSED
from holesched.features.findings import also_at, said_of_more
from holesched.features.model import Feature, Hole, HoleType, Member
from holesched.features.neighbours import overlapping
from holesched.notes import COMMON_PRACTICE, CellRef, Cite, Note, Severity

LEAST_WEB_DIAMETERS = 0.5
"""Wall between two holes, of the smaller one's diameter, that a wandering drill still leaves. Common practice, no source."""
SAME_PLACE_MM = 0.001
CROWDED = 12
"""So many pairs a hole, each hole in two of them, are no drawing's: of equal circles only six touch one. Geometry."""


@dataclass(frozen=True, slots=True)
class _Shape:
    """What of a hole type matters to its neighbours."""

    type: HoleType
    diameter_mm: float
    side: Side
    deep_mm: float
    rims_mm: tuple[float, float]
    """Diameters at the near and the far face, counterbores and countersinks with them; 0 where it does not come out."""
    reach_mm: float
    """Two holes have nothing to do with each other when they are as far apart as their reaches together."""


class _Placed(NamedTuple):
    """One hole at its place, X + Yj, when another is near."""

    shape: _Shape
    member: Member
    place_mm: complex


Finding = Callable[[_Placed, _Placed], Note]
"""Writes what is wrong between two holes, at the cell of the second."""


def check_places(types: Iterable[HoleType], thickness_mm: float | None) -> tuple[Note, ...]:
    """Rows at one place, and holes whose walls meet or come too near, each pair of types once with its first example.

    A note stands at the second hole's cell; `also` are the cells of all other holes that are like this. Where nearly all
    holes lie in each other, that is the one question, and only those at one place are looked at.
    """
    holes = _places_of(types)
    near = overlapping(holes.places_mm, holes.reaches_mm, CROWDED * len(holes.places_mm))
    crowded = (_crowded(holes),) if near is None else ()
    if near is None:
        one_place = [SAME_PLACE_MM / 2] * len(holes.places_mm)
        near = overlapping(holes.places_mm, one_place, CROWDED * len(holes.places_mm)) or []
    return (*crowded, *_findings(holes, near, thickness_mm))


def _findings(holes: _Places, near: Iterable[tuple[int, int]], thickness_mm: float | None) -> tuple[Note, ...]:
    first: dict[tuple[Finding, str, str], tuple[_Placed, _Placed]] = {}
    times: dict[tuple[Finding, str, str], int] = {}
    cells: dict[tuple[Finding, str, str], dict[CellRef, None]] = {}
    for one, other, pairs, members in _pairs(holes, near):
        finding = _finding(one, other, thickness_mm)
        if finding is not None:
            letters = sorted((one.shape.type.letter, other.shape.type.letter))
            key = (finding, letters[0], letters[1])
            first.setdefault(key, (one, other))
            times[key] = times.get(key, 0) + pairs
            cells.setdefault(key, {}).update((member.ref, None) for member in members)
    return tuple(_counted(key[0](*pair), times[key], cells[key]) for key, pair in first.items())


@dataclass(frozen=True, slots=True)
class _Places:
    """Where holes are and how far each reaches; further rows of one type at exactly one place stand under its number in
    `more`: in some exports every X and Y is 0."""

    holders: list[tuple[_Shape, Member]]
    places_mm: list[complex]
    reaches_mm: list[float]
    more: dict[int, list[Member]]


def _places_of(types: Iterable[HoleType]) -> _Places:
    """All places of all holes, numbered."""
    found = _Places([], [], [], {})
    places = found.places_mm
    for hole_type in types:
        placed = [member for member in hole_type.members if member.places_mm]
        if not placed:
            continue
        shape = _shape(hole_type)
        seen: dict[complex, int] = {}
        for member in placed:
            for x_mm, y_mm in member.places_mm:
                place = complex(x_mm, y_mm)
                number = seen.setdefault(place, len(places))
                if number == len(places):
                    places.append(place)
                    found.holders.append((shape, member))
                else:
                    found.more.setdefault(number, []).append(member)
        found.reaches_mm.extend([shape.reach_mm] * len(seen))
    return found


def _pairs(holes: _Places, near: Iterable[tuple[int, int]]) -> Iterator[tuple[_Placed, _Placed, int, Sequence[Member]]]:
    """Pairs of holes near enough to touch, the later hole second, with how many such pairs it stands for and their rows."""
    more = holes.more
    for later, earlier in sorted([*near, *((number, number) for number in more)]):
        one, other = (_Placed(*holes.holders[number], holes.places_mm[number]) for number in (earlier, later))
        ones, others = (1 + len(more.get(number, ())) for number in (earlier, later))
        if earlier == later:
            members = [one.member, *more[later]]
            yield one, other._replace(member=more[later][0]), ones * (ones - 1) // 2, members
        else:
            members = [one.member, other.member, *more.get(earlier, ()), *more.get(later, ())]
            yield one, other, ones * others, members


def _crowded(holes: _Places) -> Note:
    """Nearly all holes lie in each other: X and Y are hardly in the unit that they are read in."""
    shape, member = holes.holders[0]
    members = [*(member for _, member in holes.holders), *chain.from_iterable(holes.more.values())]
    rows = dict.fromkeys(member.ref for member in members)
    sentence = f"Most of {len(members)} holes lie within reach of dozens of others: are X and Y in another unit?"
    hint = "Give the unit of X and Y (inches read as mm lie 25.4 times too near), or check X, Y and the diameters."
    assumed = "planned as written; the walls between holes are not looked at"
    text = shape.type.hole.callout
    also = tuple(ref for ref in rows if ref != member.ref)
    return Note("CHECK-PLACES-CROWDED", Severity.ASK, sentence, hint, assumed, text, member.ref, also=also)


def _counted(note: Note, times: int, cells: Iterable[CellRef]) -> Note:
    """The note of the first pair, with the cells of the others that are like it."""
    noted = also_at(note, cells)
    return said_of_more(noted, f"{times} pairs of these holes are like this.") if times > 1 else noted


def wall_mm(hole: Hole) -> float:
    """The widest diameter a hole has below its openings, or of its openings when it has nothing else."""
    inner = [f.diameter.mm for f in hole.features if f.kind not in HEAD_KINDS]
    return max(inner or [f.diameter.mm for f in hole.features], default=0.0)


def _shape(hole_type: HoleType) -> _Shape:
    hole = hole_type.hole
    inner = [f for f in hole.features if f.kind not in HEAD_KINDS] or list(hole.features)
    sides = {f.side for f in inner}
    side = sides.pop() if len(sides) == 1 else Side.BOTH
    deep = max((math.inf if f.depth.through else f.depth.mm or 0.0 for f in inner), default=0.0)
    diameter, rims = wall_mm(hole), (_rim_mm(hole, Side.NEAR), _rim_mm(hole, Side.FAR))
    reach = max(diameter * (1 + LEAST_WEB_DIAMETERS), *rims, 2 * SAME_PLACE_MM) / 2
    return _Shape(hole_type, diameter, side, deep, rims, reach)


def _rim_mm(hole: Hole, face: Side) -> float:
    """The widest diameter that a hole has in one face; a spotface is as wide as it likes."""
    out = (f for f in hole.features if f.kind is not Kind.SPOTFACE and (f.side in (face, Side.BOTH) or f.depth.through))
    return max((f.diameter.mm for f in out), default=0.0)


def _finding(one: _Placed, other: _Placed, thickness_mm: float | None) -> Finding | None:
    """What is wrong between two holes, None: nothing."""
    first, second, apart = one.shape, other.shape, _apart_mm(one, other)
    if apart <= SAME_PLACE_MM:
        return _at_one_place(first, second)
    web = apart - (first.diameter_mm + second.diameter_mm) / 2
    least = LEAST_WEB_DIAMETERS * min(first.diameter_mm, second.diameter_mm)
    openings = openings_cut if _meeting(one, other, cut=True) else openings_meet if _meeting(one, other) else None
    if web >= least or _pass_each_other(first, second, thickness_mm) or (web > 0 and openings is openings_cut):
        return openings
    return walls_meet if web <= 0 else web_thin


def _at_one_place(first: _Shape, second: _Shape) -> Finding | None:
    """Two rows at one place are steps of one hole (drill and tap, hole and counterbore), opposite ends, or a slip."""
    if Side.BOTH not in (first.side, second.side) and first.side is not second.side:
        return None
    return same_axis if first is not second and _stack(first.type.hole, second.type.hole) else same_place


def _pass_each_other(first: _Shape, second: _Shape, thickness_mm: float | None) -> bool:
    """Whether two blind holes from opposite faces end before they reach each other's depth."""
    if Side.BOTH in (first.side, second.side) or first.side is second.side:
        return False
    if math.isinf(first.deep_mm + second.deep_mm):
        return False
    return thickness_mm is None or first.deep_mm + second.deep_mm < thickness_mm


def is_opening(feature: Feature) -> bool:
    """A counterbore, countersink or spotface, or the hole that was supposed for one."""
    return feature.kind in HEAD_KINDS or (feature.element is not None and SUPPOSED in feature.element.uses)


def _stack(one: Hole, other: Hole) -> bool:
    """Whether two holes can be steps of one: an opening on a hole, or a drill for a thread or ream of its own row."""
    for inner, outer in ((one, other), (other, one)):
        if all(is_opening(f) for f in outer.features) and any(f.kind not in HEAD_KINDS for f in inner.features):
            return True
        finished = [f for f in outer.features if f.kind in (Kind.TAP, Kind.REAM, Kind.BORE)]
        drilled = [f for f in inner.features if f.kind is Kind.DRILL]
        alone = len(drilled) == len(inner.features) and not any(f.kind is Kind.DRILL for f in outer.features)
        if finished and drilled and alone and drilled[0].diameter.mm < finished[0].diameter.mm:
            return True
    return False


def same_axis(one: _Placed, other: _Placed) -> Note:
    """Two rows at one place that can be steps of one hole."""
    sentence = f"{_at_place(one, other)}: read as steps of one hole, each planned by itself."
    return _watch("CHECK-SAME-AXIS", sentence, other, "Write the steps in one callout.")


def same_place(one: _Placed, other: _Placed) -> Note:
    """Two rows at one place."""
    sentence = f"{_at_place(one, other)}: one hole or two?"
    hint = "Check X and Y, or take one of the rows out."
    text, ref = other.shape.type.hole.callout, other.member.ref
    return Note("CHECK-SAME-PLACE", Severity.ASK, sentence, hint, "both planned", text, ref)


def walls_meet(one: _Placed, other: _Placed) -> Note:
    """No wall is left between two holes."""
    sentence = (
        f"{_between(one, other)}: their walls meet (diameters {one.shape.diameter_mm:g} and {other.shape.diameter_mm:g} mm)."
    )
    return _ask("CHECK-WALLS-MEET", sentence, other, "Check X and Y and the diameters.")


def web_thin(one: _Placed, other: _Placed) -> Note:
    """Less wall than half the smaller diameter."""
    web = _apart_mm(one, other) - (one.shape.diameter_mm + other.shape.diameter_mm) / 2
    sentence = f"only {web:.2f} mm of wall between them; a drill may break through, a forming tap bulges it."
    return _watch("CHECK-WEB-THIN", f"{_between(one, other)}: {sentence}", other, cite=COMMON_PRACTICE)


def openings_meet(one: _Placed, other: _Placed) -> Note:
    """Counterbores and countersinks that meet in a face."""
    return _watch("CHECK-OPENINGS-MEET", f"{_openings(one, other)}.", other, cite=COMMON_PRACTICE)


def openings_cut(one: _Placed, other: _Placed) -> Note:
    """An opening that cuts into the neighbour's own hole."""
    sentence = f"{_openings(one, other, cut=True)}, and one cuts into the other hole."
    return _ask("CHECK-OPENINGS-MEET", sentence, other, "Check X and Y, and the diameters of the openings.")


def _openings(one: _Placed, other: _Placed, cut: bool = False) -> str:
    first, second = _meeting(one, other, cut)[0]
    return f"{_between(one, other)}: their openings of {first:g} and {second:g} mm meet in the face"


def _meeting(one: _Placed, other: _Placed, cut: bool = False) -> list[tuple[float, float]]:
    """The diameters of the openings that meet in a face; `cut`: and reach into the other hole itself."""
    apart, first, second = _apart_mm(one, other), one.shape, other.shape
    return [
        (rim, other_rim)
        for rim, other_rim in zip(first.rims_mm, second.rims_mm, strict=True)
        if rim and other_rim and apart < (rim + other_rim) / 2
        if not cut or apart < max(rim + second.diameter_mm, other_rim + first.diameter_mm) / 2
    ]


def _apart_mm(one: _Placed, other: _Placed) -> float:
    return abs(one.place_mm - other.place_mm)


def _between(one: _Placed, other: _Placed) -> str:
    return f"{_name(one)} and {_name(other)}, {_apart_mm(one, other):.3f} mm apart"


def _at_place(one: _Placed, other: _Placed) -> str:
    x_mm, y_mm = other.place_mm.real, other.place_mm.imag
    return f"{_name(one)} and {_name(other)} are at one place (X {x_mm:g}, Y {y_mm:g})"


def _name(hole: _Placed) -> str:
    return f"hole {hole.member.tag}" if hole.member.tag else f"the hole of {hole.member.ref.cell}"


def _ask(code: str, sentence: str, hole: _Placed, hint: str) -> Note:
    text = hole.shape.type.hole.callout
    return Note(code, Severity.ASK, message(sentence, text), hint, "as written", text, hole.member.ref)


def _watch(code: str, sentence: str, hole: _Placed, hint: str = "", cite: Cite | None = None) -> Note:
    return Note(code, Severity.WATCH, sentence, hint, "", hole.shape.type.hole.callout, hole.member.ref, cite)
