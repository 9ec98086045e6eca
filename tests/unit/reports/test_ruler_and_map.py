"""The depth ruler and the hole map."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import pytest
import sample_job

from holesched.reports.process_sheet import build
from holesched.reports.show import Show
from holesched.reports.sketch.hole_map import HEIGHT_MM, WIDTH_MM, Mark, frame, hole_map
from holesched.reports.sketch.ruler import ruler, sentence, stretches
from holesched.sequence.model import JobPlan
from holesched.tooling.model import DepthBudget

# M8x1.25, 16 of full thread, form C (2.5 threads), one pitch of room, 6.8 drill with a 140 degree point, part 40 thick
BUDGET = DepthBudget(16.0, 3.125, 1.25, 20.375, 1.2375, 21.6125, 18.3875, "full thread + chamfer + one pitch")


def test_the_stretches_fill_the_thickness() -> None:
    parts = stretches(BUDGET)
    assert [part.name for part in parts] == ["full thread", "chamfer", "room", "point", "wall left"]
    assert all(one.end == pytest.approx(other.start) for one, other in pairwise(parts))
    assert (parts[0].start, parts[-1].end) == (0.0, pytest.approx(40.0))


def test_the_ruler_is_to_scale() -> None:
    drawing = ruler(BUDGET, Show("mm"))
    numbers = {label.text: label.x for label in drawing.labels}
    assert numbers["16"] / numbers["40"] == pytest.approx(16 / 40)


@pytest.mark.parametrize(
    ("wall", "end"),
    [
        (18.3875, "18.39 left under the tip"),
        (None, "thickness not given, material left under the tip: ______"),
        (-1.6125, "THROUGH the far face by 1.61"),
    ],
)
def test_the_sentence_says_what_is_left(wall: float | None, end: str) -> None:
    text = sentence(replace(BUDGET, wall_left_mm=wall), Show("mm"))
    assert text.startswith("full thread 16, tap chamfer 3.12, room 1.25: drilled 20.38 (governed by full thread")
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
