"""The search for neighbours finds what comparing every circle with every other finds, and is never slow on like holes."""

from __future__ import annotations

from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from holesched.features.neighbours import overlapping

coordinates = st.one_of(st.integers(-9, 9).map(float), st.floats(-1e6, 1e6))
reaches = st.one_of(st.floats(0.001, 20), st.just(4.0), st.just(1e4))
circles = st.tuples(st.builds(complex, coordinates, coordinates), reaches)


@given(st.lists(circles, max_size=30))
def test_the_search_finds_what_comparing_all_finds(found: list[tuple[complex, float]]) -> None:
    pairs = [
        (later, earlier)
        for earlier, later in combinations(range(len(found)), 2)
        if abs(found[earlier][0] - found[later][0]) < found[earlier][1] + found[later][1]
    ]
    places, radii = [place for place, _ in found], [reach for _, reach in found]
    assert overlapping(places, radii, len(pairs)) == sorted(pairs)
    if pairs:
        assert overlapping(places, radii, len(pairs) - 1) is None
