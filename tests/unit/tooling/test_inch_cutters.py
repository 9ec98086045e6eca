"""Spot drills, countersinks and end mills in the sizes that the shop has: an inch shop has no 10.4 mm countersink. Sizes are
common practice, no source, or from memory, as their table says."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tooling_samples import material

from holesched.pipeline import explain
from holesched.reports.naming import tool_name
from holesched.reports.show import Show
from holesched.schedule.model import ReadOptions
from holesched.shop.model import Preferences, Shop
from holesched.tooling.case import material_case
from holesched.tooling.cutters import countersink, cutter_grade, end_mill, spot_drill
from holesched.tooling.model import StepKind, Tool
from holesched.tooling.rules import standard_rules
from holesched.units import LengthUnit

CUTTERS = (StepKind.SPOT, StepKind.COUNTERSINK, StepKind.MILL)
CALLOUTS = ("1/4-20 UNC-2B THRU", ".266 THRU ⌵ .531x82°", "2.000 ↧.50", "3/8-16 UNC-2B ↧.75 ⌵ .400x90°")


def cutters(callout: str, unit: LengthUnit, preferences: Preferences | None = None) -> list[Tool]:
    shop = Shop(preferences=preferences or Preferences())
    job = explain(callout, shop, ReadOptions(unit, "C45", 30.0))
    return [cut.step.tool for hole in job.holes for cut in hole.cuts if cut.step.kind in CUTTERS]


@pytest.mark.parametrize("callout", CALLOUTS)
def test_an_inch_drawing_has_inch_cutters_unless_the_shop_says_otherwise(callout: str) -> None:
    inch, metric = (cutters(callout, "in", Preferences(cutters_in=kept)) for kept in ("by the drawing", "mm"))
    assert inch
    assert cutters(callout, "in", Preferences(cutters_in="in")) == inch
    for tool in inch:
        eighths = tool.diameter_mm / 25.4 * 16
        assert eighths == pytest.approx(round(eighths)), tool
        assert not tool.bare_mm
    assert all(tool.bare_mm for tool in metric)
    assert len(inch) == len(metric)


def test_a_metric_drawing_keeps_metric_cutters_unless_the_shop_is_inch() -> None:
    assert all(tool.bare_mm for tool in cutters("M8 ↧16", "mm"))
    assert not any(tool.bare_mm for tool in cutters("M8 ↧16", "mm", Preferences(cutters_in="in")))


def test_they_are_called_by_their_inch_size() -> None:
    (spot,) = [tool for tool in cutters("1/4-20 UNC-2B ↧.50", "in") if tool.kind is StepKind.SPOT]
    assert tool_name(spot, Show("in")).title == "90° spot drill 1/2 (0.5000 in)"


@pytest.mark.parametrize(
    ("needed_mm", "sunk"),
    [(6.0, "1/4"), (9.5, "3/8"), (9.6, "1/2"), (30.0, "1 1/4"), (50.8, "2"), (55.0, "2 1/4")],
)
def test_the_next_inch_size_covers_a_cone(needed_mm: float, sunk: str) -> None:
    """By hand: 3/8 in is 9.525 mm; above the largest of the table the next quarter of an inch is made to order."""
    case = replace(material_case(material("C45"), Shop()), cutters_in="in")
    grade = cutter_grade(case, standard_rules())
    tool = countersink(needed_mm, 90.0, case, grade)
    assert (tool.size, tool.diameter_mm >= needed_mm - 0.005) == (sunk, True)
    spot = spot_drill(needed_mm, case, grade)
    assert (spot is None) == (needed_mm > 25.4)
    mill = end_mill(needed_mm, 10.0, case, standard_rules())
    assert mill is not None
    assert mill.diameter_mm <= 0.6 * needed_mm + 1e-9
