"""The way from hole to hole: a short path over the places, and the time the moves take."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from holesched.shop.model import Machine

Place = tuple[float, float]

NEAREST_UP_TO = 250
"""Places up to which the nearest next one is looked for; beyond, strips are as short and far quicker."""

UNKNOWN_MOVE_S = 1.5
"""A move between holes whose places are not given: 0.8 to 2 s (common practice, no source)."""


def path(places: Sequence[Place]) -> tuple[Place, ...]:
    """The places in an order that is short to travel, starting nearest the origin."""
    if len(places) < 3:
        return tuple(sorted(places, key=lambda place: (math.hypot(*place), place)))
    return _nearest(places) if len(places) <= NEAREST_UP_TO else _strips(places)


def length_mm(places: Sequence[Place]) -> float:
    """Length of the straight moves from each place to the next, in mm."""
    return sum(math.dist(one, two) for one, two in pairwise(places))


def moves_min(places: Sequence[Place], holes: int, machine: Machine) -> tuple[float, float]:
    """(minutes, mm) to move between `holes` holes, of which `places` are known, at the machine's rapid rate."""
    ordered = path(places)
    travelled_mm = length_mm(ordered)
    unknown = holes - len(ordered)
    seconds = len(ordered) * machine.positioning_s + unknown * UNKNOWN_MOVE_S
    return seconds / 60 + travelled_mm / machine.rapid_mm_per_min, travelled_mm


def _nearest(places: Sequence[Place]) -> tuple[Place, ...]:
    left = sorted(places)
    here = min(left, key=lambda place: (math.hypot(*place), place))
    left.remove(here)
    ordered = [here]
    while left:
        here = min(left, key=lambda place, here=here: (math.dist(place, here), place))  # type: ignore[misc]
        left.remove(here)
        ordered.append(here)
    return tuple(ordered)


def _strips(places: Sequence[Place]) -> tuple[Place, ...]:
    """Up one strip and down the next; strips about as wide as the spacing of the holes."""
    low, high = min(x for x, _ in places), max(x for x, _ in places)
    bottom, top = min(y for _, y in places), max(y for _, y in places)
    width = max(math.sqrt(3 * max((high - low) * (top - bottom), 1.0) / len(places)), 1e-9)

    def place_in_strip(place: Place) -> tuple[int, float, float]:
        strip = int((place[0] - low) / width)
        return strip, place[1] if strip % 2 == 0 else -place[1], place[0]

    return tuple(sorted(places, key=place_in_strip))
