"""Windows of a tapped hole's drill: class, engagement, forming."""

from __future__ import annotations

from dataclasses import replace

import pytest

from holesched.standards import threads
from holesched.standards.sizes import Limits
from holesched.standards.thread_window import (
    engagement_window,
    formed_minor_mm,
    forming_hole,
    forming_window,
    minor_window,
)
from holesched.standards.threads import ThreadGeometry


def geometry_of(text: str, unit: str = "mm") -> ThreadGeometry:
    found = threads.recognise(text, 0, unit)
    assert found is not None
    spec = threads.complete(found[0]).spec
    assert spec is not None
    return threads.geometry(spec)


M6 = "M6x1-6H"


def test_class_window() -> None:
    assert minor_window(geometry_of(M6)) == Limits(4.917, 5.153)


@pytest.mark.parametrize(
    ("engagement_mm", "low", "high"),
    [(2, 4.917, 5.035), (2.01, 4.976, 5.094), (4, 4.976, 5.094), (9, 5.035, 5.153), (9.1, 5.094, 5.212), (40, 5.094, 5.212)],
)
def test_longer_threads_get_larger_holes(engagement_mm: float, low: float, high: float) -> None:
    """Machinery's Handbook, p. 2170: steps at 1/3, 2/3 and 1 1/2 diameters; T = 0.236."""
    assert engagement_window(geometry_of(M6), engagement_mm) == Limits(low, high)


def test_forming_window() -> None:
    """75 % below, the crest at minor min + 1.25 T above: M6 5.49 to 5.587, advised 5.558."""
    window = forming_window(geometry_of(M6))
    assert (window.low_mm, window.target_mm) == (5.49, 5.558)
    assert abs(formed_minor_mm(6, 1, window.high_mm) - (4.917 + 1.25 * 0.236)) < 1e-6
    assert [cite.standard for cite in window.cites] == ["Machinery's Handbook", "DIN 13-50"]


@pytest.mark.parametrize("text", ["M1-5H", "M3-6H", "M8-4H", "M8-7H", "M10x1-6H", "M24-6G", "M64-6H", "M8-6H"])
def test_forming_windows_are_in_order_and_larger_than_cutting(text: str) -> None:
    geometry = geometry_of(text)
    window = forming_window(geometry)
    assert window.low_mm <= window.target_mm <= window.high_mm
    assert geometry.minor.max_mm is not None
    assert window.high_mm > geometry.minor.max_mm


def test_refusals() -> None:
    geometry = geometry_of(M6)
    endless = replace(geometry, minor=Limits(4.917, None))
    with pytest.raises(ValueError, match="no largest minor diameter"):
        engagement_window(endless, 6)
    with pytest.raises(ValueError, match="more than nothing"):
        engagement_window(geometry, 0)
    with pytest.raises(ValueError, match="not formed"):
        forming_window(replace(geometry, taper=1 / 16))
    with pytest.raises(ValueError, match="write 65 for 65 %"):
        forming_hole(6, 1, 0.65)
