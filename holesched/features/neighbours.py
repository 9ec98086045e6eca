"""Which circles of a plane overlap, without comparing each with every other.

A place is a complex number, X + Yj: the distance of two is abs(one - other).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from itertools import combinations_with_replacement
from math import frexp

_HALF = (0j, 1 + 0j, -1 + 1j, 1j, 1 + 1j)
"""A cell and half of those around it; the other half finds the pair from its own side."""
_ALL = (*_HALF, -1 + 0j, 1 - 1j, -1j, -1 - 1j)


def overlapping(places_mm: Sequence[complex], reaches_mm: Sequence[float], most: int) -> list[tuple[int, int]] | None:
    """The pairs of circles (by number, the later one first) nearer to each other than their radii together, in order; None
    where there are more than `most`, found out without looking at them all.

    Circles of like size, between two powers of four, lie by their centres in one grid of cells so wide that only the cells
    around can hold one that overlaps. So one wide bore among many small holes costs no more than any other hole. A grid
    holds the last circle of each cell, `before` the one that came before it in its cell, -1 when there is none: no lists,
    since most cells hold one hole.
    """
    grids: dict[int, dict[complex, int]] = defaultdict(dict)
    before: list[int] = []
    for number, place in enumerate(places_mm):
        size = frexp(reaches_mm[number])[1] // 2
        width, grid = 4.0 ** (size + 1), grids[size]
        cell = complex(place.real // width, place.imag // width)
        before.append(grid.get(cell, -1))
        grid[cell] = number
    found: set[tuple[int, int]] = set()
    for small, wide in combinations_with_replacement(sorted(grids), 2):
        around, shrunk, steps = grids[wide], 4.0 ** (small - wide), _HALF if small == wide else _ALL
        for cell, last in grids[small].items():
            centre = cell if small == wide else complex(cell.real * shrunk // 1, cell.imag * shrunk // 1)
            for step in steps:
                other = around.get(centre + step, -1)
                while other >= 0:
                    one = last
                    while one >= 0:
                        if one != other and abs(places_mm[one] - places_mm[other]) < reaches_mm[one] + reaches_mm[other]:
                            found.add((one, other) if one > other else (other, one))
                        one = before[one]
                    if len(found) > most:
                        return None
                    other = before[other]
    return sorted(found)
