"""The way from hole to hole."""

from __future__ import annotations

import math
from itertools import permutations

from hypothesis import given
from hypothesis import strategies as st

from holesched.sequence.path import UNKNOWN_MOVE_S, length_mm, moves_min, path
from holesched.shop.model import Machine

places = st.lists(st.tuples(st.floats(-500, 500), st.floats(-500, 500)), min_size=1, max_size=400)


@given(places)
def test_every_place_is_visited_once(given_places: list[tuple[float, float]]) -> None:
    assert sorted(path(given_places)) == sorted(given_places)


def test_a_ring_is_walked_round() -> None:
    ring = [(100 * math.cos(i * math.pi / 4), 100 * math.sin(i * math.pi / 4)) for i in range(8)]
    shuffled = [ring[i] for i in (0, 5, 2, 7, 4, 1, 6, 3)]
    chord = 2 * 100 * math.sin(math.pi / 8)
    assert math.isclose(length_mm(path(shuffled)), 7 * chord)


def test_short_paths_against_trying_every_order() -> None:
    """Reference: exhaustive search. The nearest-neighbour way is at most a quarter longer on these layouts."""
    layouts = [
        [(0, 0), (0, 40), (60, 40), (60, 0), (30, 20), (30, 60)],
        [(10, 10), (90, 10), (10, 90), (90, 90), (50, 50)],
        [(float(x), 0.0) for x in (0, 70, 20, 50, 10, 90)],
    ]
    for layout in layouts:
        best = min(length_mm(order) for order in permutations(layout))
        assert length_mm(path(layout)) <= 1.25 * best


def test_a_large_grid_costs_little_more_than_its_rows() -> None:
    grid = [(10.0 * x, 10.0 * y) for x in range(40) for y in range(40)]
    least = 10.0 * (len(grid) - 1)
    assert length_mm(path(grid)) < 1.6 * least


def test_moves_take_rapid_and_settling_time() -> None:
    machine = Machine(rapid_mm_per_min=10_000, positioning_s=0.6)
    minutes, travelled = moves_min([(0, 0), (100, 0)], 2, machine)
    assert travelled == 100
    assert math.isclose(minutes, 2 * 0.6 / 60 + 100 / 10_000)


def test_unplaced_holes_cost_a_flat_move() -> None:
    minutes, travelled = moves_min([], 4, Machine())
    assert travelled == 0
    assert math.isclose(minutes, 4 * UNKNOWN_MOVE_S / 60)
