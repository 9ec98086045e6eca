"""`holesched.standards` as other people's programs use it."""

from __future__ import annotations

import pytest

from holesched import standards
from holesched.standards import _MODULE_OF


def test_every_listed_name_is_there() -> None:
    assert sorted(standards.__all__) == sorted(_MODULE_OF)
    for name in standards.__all__:
        assert getattr(standards, name) is not None


def test_an_unknown_name_is_an_attribute_error() -> None:
    with pytest.raises(AttributeError, match="no attribute 'thread'"):
        _ = standards.thread


def test_the_example_of_the_docstring() -> None:
    call = standards.read_thread("M8x1.25-6H")
    assert call is not None
    answer = standards.complete(call)
    assert answer.spec is not None
    thread = standards.geometry(answer.spec)
    assert (round(thread.minor.min_mm, 3), round(thread.minor.max_mm or 0, 3)) == (6.647, 6.912)  # ISO 965-2 table
    assert len(standards.gauges_for(thread)) >= 4
    assert round(standards.hole_limits(8.0, "H7").max_mm or 0, 3) == 8.015  # ISO 286-2
    assert standards.read_thread("M8 and more") is None
