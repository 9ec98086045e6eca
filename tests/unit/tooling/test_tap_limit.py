"""The tap's own tolerance for each class of thread."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tooling_samples import geometry

from holesched.tooling.tap_classes import h_limit_mm
from holesched.tooling.tap_limit import ONE_LARGER, UPPER_HALF, tap_limit

PLAIN = "as the class"


@pytest.mark.parametrize(
    ("thread", "where", "limit"),
    [
        ("M8x1.25-6H", PLAIN, "ISO 2 (6H)"),
        ("M8x1.25-6H", UPPER_HALF, "ISO 2 (6HX)"),
        ("M8x1.25-6H", ONE_LARGER, "ISO 3 (6G)"),
        ("M8x1.25-6G", PLAIN, "ISO 3 (6G)"),
        ("M8x1-5H", PLAIN, "ISO 1 (5H)"),
        ("M8x1.25-7H", PLAIN, "ISO 3 (7H)"),
    ],
)
def test_metric_classes(thread: str, where: str, limit: str) -> None:
    """ISO 2857, from memory: ISO 2 taps make 6H, ISO 3 make 6G; never an ISO 2 tap for 6G."""
    assert tap_limit(geometry(thread), where)[0] == limit


@pytest.mark.parametrize(
    ("thread", "limit"),
    [
        ("#2-56 UNC-2B", "H2"),
        ("#4-40 UNC-2B", "H3"),
        ("#10-32 UNF-2B", "H3"),
        ("1/4-20 UNC-2B", "H5"),
        ("1/4-28 UNF-2B", "H4"),
        ("3/8-24 UNF-2B", "H4"),
        ("1/2-13 UNC-2B", "H5"),
        ("1/2-13 UNC-1B", "H5"),
        ("1/4-20 UNC-3B", "H3"),
        ("1/2-13 UNC-3B", "H4"),
        ("1/2-20 UNF-3B", "H3"),
    ],
)
def test_h_limits(thread: str, limit: str) -> None:
    """ASME B94.9, starting limits for cut taps in average material; from memory."""
    assert tap_limit(geometry(thread), PLAIN)[0] == limit


@pytest.mark.parametrize("thread", ["1/4-20 UNC-2B", "#8-32 UNC-2B", "3/8-24 UNF-3B", "1-8 UNC-2B", "1 1/2-6 UNC-3B"])
@pytest.mark.parametrize("where", [PLAIN, UPPER_HALF, ONE_LARGER])
def test_an_h_tap_stays_inside_the_threads_own_tolerance(thread: str, where: str) -> None:
    """Machinery's Handbook 31, p. 972: H n ends n x 0.0005 in over basic; ASME B1.1 gives the thread's tolerance."""
    shape = geometry(thread)
    limit, reason, _ = tap_limit(shape, where)
    assert shape.pitch.max_mm is not None
    assert shape.pitch.min_mm + h_limit_mm(int(limit[1:]))[1] <= shape.pitch.max_mm + 1e-9
    assert reason.rule in ("TAP-LIMIT-H", "TAP-LIMIT-H-HALF")


def test_the_upper_half_is_a_step_up_only_from_the_lower_half() -> None:
    """Calculated: #10-24 2B has 0.0043 in, H3 ends at 0.0015; 1/4-20 2B has 0.0049 in, H5 ends at 0.0025."""
    assert tap_limit(geometry("#10-24 UNC-2B"), UPPER_HALF)[0] == "H4"
    assert tap_limit(geometry("1/4-20 UNC-2B"), UPPER_HALF)[0] == "H5"
    assert tap_limit(geometry("1/4-20 UNC-2B"), ONE_LARGER)[0] == "H6"


def test_h_limits_are_half_thousandths() -> None:
    """Machinery's Handbook 31, p. 972: 3/8-16 H1 has 0.3344 to 0.3349 in."""
    low, high = h_limit_mm(1)
    assert (round(low / 25.4, 4), round(high / 25.4, 4)) == (0.0, 0.0005)


def test_a_size_beyond_the_table_is_calculated_and_says_so() -> None:
    limit, reason, _ = tap_limit(geometry("1-8 UNC-2B"), PLAIN)
    assert limit.startswith("H")
    assert "calculated" in str(reason.cites[0])


def test_other_threads_have_one_kind_of_tap() -> None:
    assert tap_limit(geometry("1/4-18 NPT"), PLAIN)[0] == "standard"


@pytest.mark.parametrize("thread", ["3/4-6 ACME-2G", "1/2-10 ACME-3G", "G1/4", "M8x1.25 STI", "Tr20x4-7H"])
def test_a_thread_that_is_not_coated_asks_for_no_larger_tap(thread: str) -> None:
    """Least pitch diameter and basic are the same size in the standard (ASME B1.5: an internal thread's least pitch diameter
    is basic), each rounded; no coating has moved it."""
    shape = geometry(thread)
    assert tap_limit(shape, PLAIN)[2] is None
    larger = replace(shape, pitch=replace(shape.pitch, min_mm=shape.pitch.min_mm + 0.05))
    note = tap_limit(larger, PLAIN)[2]
    assert note is not None
    assert note.code == "TAP-LIMIT-TO-ORDER"
