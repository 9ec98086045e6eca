"""A flat-ended drill: fed less than one with a point, and it stands at depth until its floor is level."""

from __future__ import annotations

from dataclasses import replace

import pytest
from cutting_samples import STRONG, cut, drill, step

from holesched.cutting import formulas
from holesched.cutting.model import CutStep
from holesched.notes import Standing
from holesched.tooling.model import FLAT_DEG


def _pair(of: str = "C45", diameter_mm: float = 10.0) -> tuple[CutStep, CutStep]:
    pointed = drill(diameter_mm)
    first = step(pointed, 57.0)
    flat = step(replace(pointed, point_angle_deg=FLAT_DEG, name="flat-ended drill"), 60.0, travel_mm=5.0)
    return cut(first, of=of, machine=STRONG), cut(first, flat, of=of, machine=STRONG)


@pytest.mark.parametrize("of", ["C45", "304", "6061", "EN-GJL-250"])
@pytest.mark.parametrize("diameter_mm", [3.0, 10.0, 20.0])
def test_it_runs_slower_and_is_fed_less_than_the_drill_before_it(of: str, diameter_mm: float) -> None:
    """Common practice, no source: a drill without a point is fed at little more than half."""
    pointed, flat = _pair(of, diameter_mm)
    assert flat.surface_m_per_min < pointed.surface_m_per_min
    assert flat.feed_mm_per_rev <= 0.7 * pointed.feed_mm_per_rev


def test_the_reason_for_its_feed_stands_with_its_standing() -> None:
    _, flat = _pair()
    (feed,) = [reason for reason in flat.reasons if reason.rule == "CUT-FEED"]
    assert "x0.60 flat-ended" in feed.because
    assert any(cite.standing is Standing.COMMON_PRACTICE for cite in feed.cites)


def test_it_stands_for_two_turns_at_depth() -> None:
    _, flat = _pair()
    fed = formulas.feed_time_min(5.0, flat.spindle_rpm, flat.feed_mm_per_rev)
    out = 5.0 / 24000
    assert flat.time_min == pytest.approx(fed + out + 2 / flat.spindle_rpm)
    (bottom,) = [reason for reason in flat.reasons if reason.rule == "CUT-FLAT-BOTTOM"]
    assert bottom.decision == "at the flat bottom: stands for 2 turns"


def test_it_does_not_stand_still_in_work_that_hardens() -> None:
    _, flat = _pair("304")
    fed = formulas.feed_time_min(5.0, flat.spindle_rpm, flat.feed_mm_per_rev)
    assert flat.time_min == pytest.approx(fed + 5.0 / 24000)
    assert "at the flat bottom: no dwell" in [reason.decision for reason in flat.reasons]


def test_a_drill_with_a_point_says_nothing_of_it() -> None:
    pointed, _ = _pair()
    assert not any(reason.rule == "CUT-FLAT-BOTTOM" for reason in pointed.reasons)
