"""The dimensioned section as lines and labels in mm on paper."""

from __future__ import annotations

from itertools import pairwise
from math import hypot

import pytest

from holesched.pipeline import explain, read_options
from holesched.reports.show import Show
from holesched.reports.sketch.drawing import Drawing, Label, Pen, text_width
from holesched.reports.sketch.geometry import HEIGHT_MM, WIDTH_MM, section
from holesched.reports.sketch.hatch import hatching
from holesched.reports.sketch.profile import profile
from holesched.reports.sketch.svg import num, svg
from holesched.schedule.model import ReadOptions
from holesched.sequence.model import JobPlan
from holesched.shop.model import Machine, Shop
from holesched.tooling.model import StepKind

# ISO 5455:1979, clause 4, recommended scales (from memory)
RECOMMENDED = {"50:1", "20:1", "10:1", "5:1", "2:1", "1:1", "1:2", "1:5", "1:10", "1:20", "1:50", "1:100"}


def drawn(job: JobPlan, index: int, show: Show) -> Drawing:
    cut_plan = job.holes[index].cut_plan
    assert cut_plan is not None
    drawing = section(cut_plan.plan, show)
    assert drawing is not None
    return drawing


def texts(drawing: Drawing) -> set[str]:
    return {label.text for label in drawing.labels}


def test_a_blind_thread_shows_every_depth(job: JobPlan) -> None:
    """16 of thread, 20.375 drilled, the tip of the 140 degree point at 20.375 + 3.4 / tan 70 = 21.61."""
    assert texts(drawn(job, 0, Show("mm"))) == {"⌀6.8", "M8x1.25", "16 thread", "20.38 drill", "21.61 tip", "scale 1:1"}


def test_a_stepped_hole_shows_counterbore_and_thickness(job: JobPlan) -> None:
    assert texts(drawn(job, 1, Show("mm"))) == {"⌀11", "⌀18", "11", "40 part", "scale 1:2"}


def test_a_short_card_does_not_shrink_its_hole_to_nothing() -> None:
    """Opened in three steps on a weak spindle, the depths stand so high that no scale but 1:20 fits the lower box."""
    weak = Shop(machine=Machine(spindle_torque_nm=20.0, spindle_power_kw=2.0))
    drawing = drawn(explain("Ø20 H7 ↧40", weak, ReadOptions("mm", "EN-GJL-250", 120.0)), 0, Show("mm"))
    assert drawing.scale == "1:2"


def test_a_fit_and_a_cone_are_named(job: JobPlan) -> None:
    assert {"⌀8 H7", "⌀7.8", "12 ream"} <= texts(drawn(job, 2, Show("mm")))
    assert {"⌀10.4 × 90°", "⌀5.5"} <= texts(drawn(job, 5, Show("mm")))


def test_an_inch_job_is_dimensioned_in_inches(inch_job: JobPlan) -> None:
    assert {"1/4-20 UNC", "⌀0.201", "0.5 thread", "0.675 drill"} <= texts(drawn(inch_job, 0, Show("in")))


def test_a_decimal_comma_reaches_the_drawing(job: JobPlan) -> None:
    assert "⌀6,8" in texts(drawn(job, 0, Show("mm", comma=True)))


@pytest.mark.parametrize("index", range(6))
def test_it_fits_its_box_at_a_recommended_scale(job: JobPlan, index: int) -> None:
    drawing = drawn(job, index, Show("mm"))
    assert drawing.scale in RECOMMENDED
    assert drawing.width <= WIDTH_MM
    assert drawing.height <= HEIGHT_MM
    right, bottom = drawing.left + drawing.width, drawing.top + drawing.height
    for line in drawing.lines:
        for x, y in line.points:
            assert drawing.left <= x <= right
            assert drawing.top <= y <= bottom


@pytest.mark.parametrize("index", range(6))
def test_dimensions_are_to_scale(job: JobPlan, index: int) -> None:
    """The drilled wall is as long on paper as its depth times the scale says."""
    drawing = drawn(job, index, Show("mm"))
    upper, lower = drawing.scale.split(":")
    scale = int(upper) / int(lower)
    walls = [line for line in drawing.lines if line.pen is Pen.THICK and len(line.points) > 2]
    deepest = max(y for line in walls for _, y in line.points)
    cut_plan = job.holes[index].cut_plan
    assert cut_plan is not None
    tips = [step.tip_mm for step in cut_plan.plan.steps if step.tip_mm is not None and step.kind.value == "drill"]
    expected = 40.0 if cut_plan.plan.steps[-1].through or index in (1, 5) else max(tips)
    assert deepest == pytest.approx(expected * scale, abs=0.01)


def box(label: Label) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of a label."""
    wide, high = text_width(label.text), 2.6
    if label.turned:
        return label.x - high, label.y - wide / 2, label.x, label.y + wide / 2
    x0 = label.x - (wide / 2 if label.anchor == "middle" else 0)
    return x0, label.y - high, x0 + wide, label.y


def test_labels_do_not_fall_over_each_other(job: JobPlan) -> None:
    for index in range(6):
        drawing = drawn(job, index, Show("mm"))
        boxes = [box(label) for label in drawing.labels]
        for number, one in enumerate(boxes):
            for other in boxes[number + 1 :]:
                apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
                assert apart, (index, one, other)


def test_hatching_covers_the_area_once() -> None:
    """Length of all lines times their distance is the area they cover, whatever the polygon's shape."""
    shape = [(3.0, 0.0), (3.0, 20.0), (0.0, 25.0), (0.0, 40.0), (17.0, 40.0), (17.0, 0.0)]
    area = abs(sum(xa * yb - xb * ya for (xa, ya), (xb, yb) in pairwise([*shape, shape[0]]))) / 2
    spacing = 0.05
    total = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in (line.points for line in hatching(shape, spacing)))
    assert total * spacing == pytest.approx(area, rel=2e-3)


def test_svg_is_plain_and_escaped(job: JobPlan) -> None:
    text = svg(drawn(job, 0, Show("mm")), 'a "title" <b>')
    assert 'aria-label="a &quot;title&quot; &lt;b&gt;"' in text
    assert "<script" not in text
    assert text.count("<path") == 5  # hatching, thin, axis, thick, arrow heads
    assert [num(value) for value in (12.0, 3.5, -0.25, -0.001, 1.005)] == ["12", "3.5", "-0.25", "0", "1"]


FAR = [
    ("M8x1.25-6H ↧20 BOTH SIDES", 45.0),
    ("M8x1.25-6H ↧20 BOTH SIDES", 60.0),
    ("M12x1.75-6H ↧30 FROM FAR SIDE", 45.0),
    ("M12x1.75-6H ↧30 FROM FAR SIDE", 32.0),
    ("M16x1.5 ↧24 FROM FAR SIDE", 100.0),
    ("Ø20 H8 THRU, ⌴ Ø30 ↧10 FAR SIDE", 45.0),
    ("Ø6.6 THRU ⌴ Ø11 ↧6.5 BOTH SIDES", 30.0),
    ("M3 ↧6 FROM FAR SIDE", 10.0),
]


@pytest.mark.parametrize(("callout", "thickness_mm"), FAR)
def test_no_label_of_a_hole_from_the_far_face_meets_another(callout: str, thickness_mm: float) -> None:
    shop = Shop()
    job = explain(callout, shop, read_options(shop, material="C45", thickness_mm=thickness_mm))
    drawing = drawn(job, 0, Show("mm"))
    assert drawing.width <= WIDTH_MM
    assert drawing.height <= HEIGHT_MM
    boxes = [(label.text, box(label)) for label in drawing.labels]
    for number, (text, one) in enumerate(boxes):
        assert drawing.left <= one[0]
        assert drawing.top <= one[1]
        assert one[2] <= drawing.left + drawing.width
        assert one[3] <= drawing.top + drawing.height
        for other_text, other in boxes[number + 1 :]:
            apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
            assert apart, (text, other_text)


def test_a_depth_from_the_far_face_is_measured_from_there() -> None:
    """At 1:2 the far face of a part of 45 lies at 22.5 on paper, and thread, drill and tip are measured up from there."""
    shop = Shop()
    callout = "M12x1.75-6H ↧30 FROM FAR SIDE"
    job = explain(callout, shop, read_options(shop, material="C45", thickness_mm=45.0))
    cut_plan = job.holes[0].cut_plan
    assert cut_plan is not None
    drawing = drawn(job, 0, Show("mm"))
    assert drawing.scale == "1:2"
    arrows = {round(arrow.x, 6): set[float]() for arrow in drawing.arrows if arrow.dx == 0}
    for arrow in drawing.arrows:
        if arrow.dx == 0:
            arrows[round(arrow.x, 6)].add(round(arrow.y, 6))
    (drill,) = [step for step in cut_plan.plan.steps if step.kind.value == "drill"][-1:]
    assert drill.depth_mm is not None
    assert drill.tip_mm is not None
    for depth in (30.0, drill.depth_mm, drill.tip_mm):
        assert {22.5, round(22.5 - depth / 2, 6)} in arrows.values(), depth


def test_a_thread_from_the_far_face_is_drawn_at_the_far_face() -> None:
    """30 of thread from the far face of a part of 100, which is not cut short: from 70 to 100, its end above it."""
    shop = Shop()
    job = explain("M12x1.75-6H ↧30 FROM FAR SIDE", shop, read_options(shop, material="C45", thickness_mm=100.0))
    cut_plan = job.holes[0].cut_plan
    assert cut_plan is not None
    shape = profile(cut_plan.plan)
    assert shape is not None
    assert (shape.floor, shape.broken) == (100.0, False)
    (thread,) = shape.threads
    assert (thread.start, thread.end, thread.from_far) == (70.0, 100.0, True)
    assert shape.radius(99.9) > 0 == shape.radius(50.0)


def test_two_drills_of_one_size_are_one_hole_in_the_section() -> None:
    """A hole from the far side that a flat-ended drill finishes: each diameter once, and the depth that is left."""
    made = explain("M5 ↧9.5 FAR SIDE", Shop(), ReadOptions("mm", "316L", 12.7))
    drills = [cut.step for hole in made.holes for cut in hole.cuts if cut.step.kind is StepKind.DRILL]
    assert len({step.diameter_mm for step in drills}) < len(drills)
    labels = [label.text for label in drawn(made, 0, Show("mm")).labels]
    assert labels.count("⌀4.2") == 1
    first, last = (f"{step.depth_mm:g} drill" for step in drills)
    assert last in labels
    assert first not in labels


@pytest.mark.parametrize(("callout", "beside"), [("Ø7 THRU", True), ("Ø9 THRU ⌴ Ø15 ↧9", True), ("M8 ↧16", False)])
def test_a_short_cards_section_has_its_caption_beside_it(callout: str, beside: bool) -> None:
    """So that four plain holes stand on a page; a thread's card is longer than its section anyway."""
    drawing = drawn(explain(callout, Shop(), ReadOptions("mm", "C45", 40.0)), 0, Show("mm"))
    caption = next(label for label in drawing.labels if label.text.startswith("scale "))
    rightmost = max(x for line in drawing.lines for x, _ in line.points)
    assert (caption.x > rightmost) is beside
    assert caption.x + text_width(caption.text) <= drawing.left + drawing.width + 1e-6
    assert drawing.width <= WIDTH_MM
