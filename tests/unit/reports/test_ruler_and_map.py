"""The depth ruler and the hole map."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import combinations, pairwise

import pytest
import sample_job

from holesched.reports.process_sheet import build
from holesched.reports.show import Show
from holesched.reports.sketch.drawing import Pen, text_width
from holesched.reports.sketch.hole_map import HEIGHT_MM, WIDTH_MM, Mark, frame, hole_map
from holesched.reports.sketch.ruler import BAR_MM, in_words, ruler, stretches
from holesched.sequence.model import JobPlan
from holesched.tooling.model import DepthBudget
from holesched.units import LengthUnit

# M8x1.25, 16 of full thread, form C (2.5 threads), one pitch of room, 6.8 drill with a 140 degree point, part 40 thick
BUDGET = DepthBudget(16.0, 3.125, 1.25, 20.375, 1.2375, 21.6125, 18.3875, "full thread + chamfer + one pitch")


def test_the_stretches_fill_the_thickness() -> None:
    parts = stretches(BUDGET)
    assert [part.name for part in parts] == ["full thread", "chamfer", "clearance", "point", "wall left"]
    assert all(one.end == pytest.approx(other.start) for one, other in pairwise(parts))
    assert (parts[0].start, parts[-1].end) == (0.0, pytest.approx(40.0))


def test_the_ruler_is_to_scale() -> None:
    drawing = ruler(BUDGET, Show("mm"))
    numbers = {label.text: label.x for label in drawing.labels}
    assert numbers["16"] / numbers["21.61"] == pytest.approx(16 / 21.6125)
    assert numbers["20.38"] / numbers["21.61"] == pytest.approx(20.375 / 21.6125)


def test_a_thin_wall_is_to_scale_and_a_thick_one_broken() -> None:
    """The wall takes 18 mm of the 76 mm ruler at most; a thinner one is drawn as it is, and its name stands beyond it."""
    thin, thick = (
        {label.text: label.x for label in ruler(replace(BUDGET, wall_left_mm=wall), Show("mm")).labels}
        for wall in (2.0, 100.0)
    )
    assert thin["21.61"] / thin["23.61"] == pytest.approx(21.6125 / 23.6125)
    assert thick["21.61"] == pytest.approx(76 - 18.0)
    assert "2 left" in thin
    assert "100 left" in thick


def test_every_part_of_the_depth_is_named_and_no_name_meets_another() -> None:
    for wall, last in ((18.3875, "18.39 left"), (None, "measure"), (-1.0, "FAR FACE")):
        drawn = ruler(replace(BUDGET, wall_left_mm=wall), Show("mm"))
        named = [label for label in drawn.labels if not label.text[0].isdigit() or label.text.endswith("left")]
        assert {label.text for label in named} == {"full thread", "chamfer", "clearance", "point", last}
        for one, other in combinations(named, 2):
            apart = (
                abs(one.y - other.y) > 3
                or one.x + text_width(one.text) < other.x
                or other.x + text_width(other.text) < one.x
            )
            assert apart, (one.text, other.text)


@pytest.mark.parametrize("wall", [0.4, 1.18, 2.0, 4.0, 18.0, None, -1.0])
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_no_pole_passes_through_a_name(wall: float | None, unit: LengthUnit) -> None:
    """A pole is an upright thin line from within the bar; a name stands from its baseline to 2.3 mm above it."""
    drawn = ruler(replace(BUDGET, wall_left_mm=wall), Show(unit))
    poles = [line.points for line in drawn.lines if len(line.points) == 2 and line.points[0][1] == pytest.approx(BAR_MM / 3)]
    assert poles
    for (x, _), (_, top) in poles:
        for label in drawn.labels:
            assert label.anchor != "start" or label.x + text_width(label.text) <= drawn.left + drawn.width + 1e-6
            inside = label.x + 0.2 < x < label.x + text_width(label.text) - 0.2 and label.y < 0
            assert not (inside and top < label.y), label.text


def test_a_wall_of_unknown_thickness_is_an_empty_box() -> None:
    """A thin outline behind the tip and nothing in it: never hatched like material that is there."""
    drawn = ruler(replace(BUDGET, wall_left_mm=None), Show("mm"))
    assert not any(line.pen is Pen.HATCH for line in drawn.lines)
    assert any(line.pen is Pen.THIN and len(line.points) == 5 and line.points[1][0] == 76.0 for line in drawn.lines)


@pytest.mark.parametrize(
    ("wall", "end"),
    [
        (18.3875, "18.39 left under the tip"),
        (None, "thickness not given, material left under the tip: ______"),
        (-1.6125, "PAST the far face by 1.61"),
    ],
)
def test_the_sentence_says_what_is_left(wall: float | None, end: str) -> None:
    text = in_words(replace(BUDGET, wall_left_mm=wall), Show("mm"))
    assert text.startswith("full thread 16, tap chamfer 3.12, clearance 1.25: drilled 20.38 (governed by full thread")
    assert text.endswith(end)


def test_no_wall_is_not_drawn_as_a_wall() -> None:
    assert [part.name for part in stretches(replace(BUDGET, wall_left_mm=-1.0))][-1] == "point"


MARKS = (
    Mark("A", 8.0, ((0.0, 0.0), (100.0, 50.0)), False),
    Mark("B", 11.0, ((100.0, 0.0),), True),
)


def test_every_place_is_on_the_map_once() -> None:
    text = hole_map(MARKS, Show("mm"))
    assert text is not None
    black, white = (
        re.findall(r'stroke="#000" stroke-linecap="round"[^>]*d="([^"]*)"', text),
        re.findall(r'stroke="#fff"[^>]*d="([^"]*)"', text),
    )
    assert sum(path.count("h0") for path in black) == 3
    assert sum(path.count("h0") for path in white) == 2, "holes on hold stay black"
    assert re.findall(r">([AB])</text>", text).count("A") == 2


def test_no_grid_line_passes_through_a_letter() -> None:
    """It is cleared behind every letter, and before the dots, of which nothing is taken away."""
    text = hole_map(MARKS, Show("mm"))
    assert text is not None
    (cleared,) = re.findall(r'stroke="#fff" stroke-linecap="round" stroke-width="3.4" d="([^"]*)"', text)
    letters = [tuple(map(float, place)) for place in re.findall(r'<text x="([^"]*)" y="([^"]*)">[AB]<', text)]
    spots = [tuple(map(float, place)) for place in re.findall(r"M([^ ]*) ([^H]*)H", cleared)]
    assert [(x + 1.1, y - 1.1) for x, y in letters] == [pytest.approx(spot) for spot in spots]
    assert text.index(cleared) < text.index("h0")


def test_the_map_lies_as_the_part_does() -> None:
    """X to the right, Y up, equal scale both ways, all of it inside the paper."""
    fit = frame(MARKS, 1.0)
    assert fit is not None
    (x0, y0), (x1, y1) = fit.at((0.0, 0.0)), fit.at((100.0, 50.0))
    assert (x1 - x0) / 100 == pytest.approx((y0 - y1) / 50) == pytest.approx(fit.scale)
    assert x1 > x0
    assert y1 < y0
    assert fit.width <= WIDTH_MM + 1e-9
    assert fit.height <= HEIGHT_MM + 1e-9


def test_an_inch_map_has_round_inches() -> None:
    text = hole_map((Mark("A", 6.35, ((0.0, 0.0), (127.0, 50.8)), False),), Show("in"))
    assert text is not None
    assert ">5</text>" in text
    assert "X, in" in text


def test_no_places_no_map() -> None:
    assert hole_map((Mark("A", 8.0, (), False),), Show("mm")) is None


def test_all_holes_at_one_place() -> None:
    assert hole_map((Mark("A", 8.0, ((5.0, 5.0), (5.0, 5.0)), False),), Show("mm")) is not None


def test_ten_thousand_holes_stay_small(job: JobPlan, shop, stamp) -> None:  # type: ignore[no-untyped-def]
    sheet = build(sample_job.many_rows(10_000), shop, stamp)
    assert sheet.map.count("h0") == 2 * 10_030 - 4
    assert sheet.map.count("<text") < 500
    assert "Letters are left out" in sheet.map_note
    assert len(sheet.cards) == len(job.holes), "rows that share a callout share a card"
