"""Names of hole types: the drawing's own tags, never another hole's."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from holesched.features.naming import name_types


@pytest.mark.parametrize(
    ("tags", "others", "names"),
    [
        ([["A1", "A2"], ["B1", "B2"]], [], ("A", "B")),
        ([["A"], ["B"], ["L"]], ["J"], ("A", "B", "L")),
        ([["A1-A12"], ["B1, B3"]], [], ("A", "B")),
        ([["H1", "H2"], ["H3"]], [], ("A", "H3")),
        ([["A1", "A2"], ["A3", "A4"]], [], ("B", "C")),
        ([["", ""], [""]], [], ("A", "B")),
        ([["1"], ["2"], ["3", "4"]], [], ("1", "2", "A")),
        ([["A1"], ["B1"]], ["A2"], ("A1", "B")),
        ([["A"], ["B"], ["C", "D"]], ["E"], ("A", "B", "F")),
        ([["MOUNTING"], ["A"]], [], ("B", "A")),
        ([["a1"], ["A1"]], [], ("B", "C")),
    ],
)
def test_names(tags: list[list[str]], others: list[str], names: tuple[str, ...]) -> None:
    assert name_types(tags, others) == names


tag = st.text("ABab123-, ", max_size=4)


@given(st.lists(st.lists(tag, min_size=1, max_size=4), max_size=8), st.lists(tag, max_size=3))
def test_names_differ_and_no_name_is_the_tag_of_another_hole(tags: list[list[str]], others: list[str]) -> None:
    names = name_types(tags, others)
    assert len(set(names)) == len(names) == len(tags)
    for number, name in enumerate(names):
        strangers = [each.strip().upper() for other, group in enumerate(tags) if other != number for each in group]
        assert name not in [*strangers, *(each.strip().upper() for each in others)]
