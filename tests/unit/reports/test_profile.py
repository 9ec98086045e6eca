"""The section's shape as numbers; expected values are worked out by hand from the steps."""

from __future__ import annotations

from dataclasses import replace
from math import radians, tan

import pytest

from holesched.callouts.model import Side
from holesched.reports.sketch.profile import Piece, envelope, profile
from holesched.sequence.model import JobPlan
from holesched.tooling.model import ToolPlan


def near(points: list[tuple[float, float]]) -> object:
    """Corner points equal to within a nanometre."""
    return tuple(pytest.approx(point, abs=1e-6) for point in points)


def plan(job: JobPlan, index: int) -> ToolPlan:
    cut_plan = job.holes[index].cut_plan
    assert cut_plan is not None
    return cut_plan.plan


def test_a_blind_tapped_hole(job: JobPlan) -> None:
    """M8x1.25 16 deep: spot to 8, drill 6.8 to 16 + 2.5 P + 1 P = 20.375, a 140 degree point below it, thread to 16."""
    shape = profile(plan(job, 0))
    assert shape is not None
    tip = 20.375 + 3.4 / tan(radians(70))
    chamfer = 4.0 - 3.4
    assert shape.outline == near([(0, 4), (chamfer, 3.4), (20.375, 3.4), (tip, 0)])
    (thread,) = shape.threads
    assert (thread.radius, thread.start, thread.end) == (4.0, 0.0, 16.0)
    assert shape.broken
    assert shape.floor > tip


def test_a_counterbored_through_hole_has_one_step(job: JobPlan) -> None:
    shape = profile(plan(job, 1))
    assert shape is not None
    assert shape.outline == near([(0, 9), (11, 9), (11, 5.5), (40, 5.5)])
    assert not shape.broken
    assert shape.floor == 40.0


def test_a_countersink_meets_its_hole(job: JobPlan) -> None:
    """90 degrees from 10.4 to 5.5: (10.4 - 5.5) / 2 = 2.45 deep."""
    shape = profile(plan(job, 5))
    assert shape is not None
    assert shape.outline == near([(0, 5.2), (2.45, 2.75), (40, 2.75)])


def test_the_far_side_is_drawn_below(job: JobPlan) -> None:
    made = plan(job, 1)
    bore = made.steps[1]
    assert bore.step is not None
    far = replace(made, steps=(made.steps[0], replace(bore, side=Side.FAR)))
    shape = profile(far)
    assert shape is not None
    assert shape.outline == near([(0, 5.5), (29, 5.5), (29, 9), (40, 9)])


def test_an_unknown_thickness_breaks_off(inch_job: JobPlan) -> None:
    shape = profile(plan(inch_job, 0))
    assert shape is not None
    assert shape.broken


def test_a_plan_without_steps_has_no_profile(job: JobPlan) -> None:
    assert profile(replace(plan(job, 0), steps=())) is None


def test_the_envelope_takes_the_widest_at_every_depth() -> None:
    cone, hole = Piece(0, 5, 5, 0), Piece(0, 20, 2, 2)
    assert envelope([cone, hole], 20) == near([(0, 5), (3, 2), (20, 2)])


def test_a_hole_too_deep_is_open_below(job: JobPlan) -> None:
    """The far face stays where it is: a 40 part, drilled to 44.375 with its point, is cut through at 40."""
    made = plan(job, 0)
    deeper = tuple(
        replace(step, depth_mm=44.375, tip_mm=45.6) if step.kind.value == "drill" else step for step in made.steps
    )
    shape = profile(replace(made, steps=deeper))
    assert shape is not None
    assert (shape.floor, shape.broken) == (40.0, False)
    assert shape.outline[-1] == pytest.approx((40.0, 3.4))
    assert shape.shows_depth(44.375), "it is still dimensioned"


def test_the_far_side_of_an_unknown_thickness_is_drawn_at_a_face(job: JobPlan) -> None:
    made = plan(job, 1)
    bore = made.steps[1]
    assert bore.step is not None
    steps = (
        replace(made.steps[0], depth_mm=None, tip_mm=None),
        replace(bore, side=Side.FAR),
    )
    shape = profile(replace(made, resolved=replace(made.resolved, thickness_mm=None), steps=steps))
    assert shape is not None
    assert not shape.broken
    assert shape.outline[-1] == pytest.approx((shape.floor, 9.0))


def test_a_pilot_hole_opened_later_is_not_seen(job: JobPlan) -> None:
    shape = profile(plan(job, 1))
    assert shape is not None
    assert shape.shows_radius(9.0)
    assert not shape.shows_radius(4.0)
