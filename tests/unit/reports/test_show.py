"""Numbers as text."""

from __future__ import annotations

import pytest

from holesched.reports.show import Show, count
from holesched.standards.sizes import Limits

MM, INCH, COMMA = Show("mm"), Show("in"), Show("mm", comma=True)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (MM.length(21.0), "21.00"),
        (MM.length(None), "–"),
        (COMMA.length(20.375), "20,38"),
        (INCH.length(12.7), "0.500"),
        (MM.short(21.0), "21"),
        (MM.short(6.8), "6.8"),
        (MM.short(-0.001), "0"),
        (MM.short(-1.5), "−1.5"),
        (MM.fine(6.6471), "6.647"),
        # 1/4-20 UNC-2B minor diameter 0.1960 to 0.2070 in (ASME B1.1, from memory)
        (INCH.limits(Limits(0.196 * 25.4, 0.207 * 25.4)), "0.1960 to 0.2070"),
        (MM.limits(Limits(8.0, None)), "8.000 min"),
        (MM.surface(30.0), "30.0"),
        (MM.surface(171.2), "171"),
        # 1 ft = 0.3048 m: 30.48 m/min is 100 ft/min
        (INCH.surface(30.48), "100"),
        (MM.percent(73.6), "74 %"),
        (MM.hours(125), "2 h 05 min"),
        (MM.hours(59.4), "59 min"),
        (MM.torque(0.62), "0.62"),
        (MM.torque(12.34), "12.3"),
    ],
)
def test_numbers(text: str, expected: str) -> None:
    assert text == expected


def test_a_taps_feed_is_printed_exactly() -> None:
    """Pitch times speed to the last place: 1193 rev/min at P 1.25 is 1491.25 mm/min, at 20 threads an inch 59.65 in/min."""
    assert MM.feed(1193 * 1.25, exact=True) == "1491.25"
    assert MM.feed(1193 * 1.25, exact=False) == "1491"
    assert INCH.feed(1193 / 20 * 25.4, exact=True) == "59.65"
    assert MM.feed_per_rev(1.25, exact=True) == "1.25"
    assert MM.feed_per_rev(25.4 / 13, exact=True) == "1.9538"
    assert INCH.feed_per_rev(25.4 / 16, exact=True) == "0.0625"
    assert INCH.feed_per_rev(0.2, exact=False) == "0.0079"


def test_words() -> None:
    assert count(1, "hole") == "1 hole"
    assert count(2, "hole") == "2 holes"
