"""What is gauged at the machine where a coating follows, beside what is gauged on the finished part."""

from __future__ import annotations

from holesched.pipeline import explain, read_options
from holesched.shop.model import Shop


def gauges(callout: str) -> dict[str, tuple[float, ...]]:
    shop = Shop()
    job = explain(callout, shop, read_options(shop, material="C45", thickness_mm=40.0))
    found: dict[str, tuple[float, ...]] = {}
    for need in job.gauges:
        found[need.gauge.designation] = (*found.get(need.gauge.designation, ()), need.gauge.size_mm)
    return found


def test_a_thread_has_two_sets() -> None:
    """Calculated: four times 8 and 12 um on the pitch diameter's limits, twice on the minor's."""
    found = gauges("M8x1.25-6H ↧16 AFTER ZINC 8-12 µm")
    assert found["M8x1.25-6H"] == (7.188, 7.348, 6.647, 6.912)
    assert found["M8x1.25-6H before coating"] == (7.236, 7.380, 6.671, 6.928)


def test_a_fit_has_two_sets() -> None:
    found = gauges("Ø8 H7 ↧20 AFTER NICKEL 8-10 µm")
    assert found["8 H7"] == (8.0, 8.015)
    assert found["8 before coating"] == (8.02, 8.031)


def test_without_a_coating_there_is_one() -> None:
    assert list(gauges("M8x1.25-6H ↧16")) == ["M8x1.25-6H"]
