"""Blind holes without a thread: how deep they come, and what is left under them; no thickness is never a pass."""

from __future__ import annotations

import pytest
from tooling_samples import Kind, plan, size, step, tap

from holesched.callouts.model import Side
from holesched.reports.card_facts import end_in_words
from holesched.reports.show import Show

MM = Show("mm")


def test_the_wall_under_a_drilled_hole_is_to_the_tip() -> None:
    """By hand: a 130 degree point of 10 mm is 5 / tan 65 = 2.33 mm high, and 30 - 20 - 2.33 = 7.67 mm are left."""
    (end,) = plan(step(Kind.DRILL, size(10), 20), thickness_mm=30).ends
    assert (end.full_mm, end.drilled_mm) == (20, 20)
    assert end.tip_mm == pytest.approx(22.33, abs=0.005)
    assert end_in_words(end, MM) == "full ⌀10 to 20; tip at 22.33; 7.67 left under the tip"


def test_a_reamed_hole_counts_its_drill_and_the_room_under_the_reamer() -> None:
    made = plan(step(Kind.REAM, size(5), 12, zone="H7"), thickness_mm=30)
    (end,) = made.ends
    assert end.full_mm == 12
    assert end.drilled_mm > 12
    assert end.tip_mm == max(part.tip_mm or 0.0 for part in made.steps)
    assert end.wall_left_mm == pytest.approx(30 - end.tip_mm)
    assert f"drilled {MM.short(end.drilled_mm)}" in end_in_words(end, MM)


@pytest.mark.parametrize("kind", [Kind.DRILL, Kind.REAM])
def test_unknown_thickness_leaves_room_to_write_the_wall_in(kind: Kind) -> None:
    (end,) = plan(step(kind, size(5), 12, zone="H7" if kind is Kind.REAM else None), thickness_mm=None).ends
    assert end.wall_left_mm is None
    assert end_in_words(end, MM).endswith("material left under the tip: ______")


def test_a_tip_that_comes_out_says_so() -> None:
    (end,) = plan(step(Kind.DRILL, size(10), 31), thickness_mm=30).ends
    assert end_in_words(end, MM).endswith("PAST the far face by 3.33")


def test_a_thread_has_its_budget_and_a_through_hole_no_end() -> None:
    assert plan(tap("M8x1.25-6H", 16), thickness_mm=30).ends == ()
    assert plan(step(Kind.REAM, size(5), zone="H7", through=True), thickness_mm=30).ends == ()
    assert plan(step(Kind.DRILL, size(5), through=True), step(Kind.DRILL, size(9), 6), thickness_mm=30).ends == ()


def test_only_what_comes_deepest_has_a_wall_under_it() -> None:
    (end,) = plan(step(Kind.DRILL, size(9), 6), step(Kind.DRILL, size(5), 20), thickness_mm=30).ends
    assert end.drawn.diameter.mm == 5


def test_between_two_faces_the_wall_is_to_the_other_tip() -> None:
    near, far = plan(step(Kind.DRILL, size(10), 10), step(Kind.DRILL, size(10), 8, side=Side.FAR), thickness_mm=30).ends
    assert near.wall_left_mm == far.wall_left_mm == pytest.approx(30 - 10 - 8 - 2 * 2.33, abs=0.01)
    assert near.wall_to == "tip from the other side"
