"""Lips dubbed in free-cutting brass, which grabs, a slender point in acrylic, which cracks. Common practice, no source."""

from __future__ import annotations

from math import radians, tan

import pytest
from tooling_samples import Kind, material, one, plan, size, step, tap

from holesched.reports.naming import tool_name
from holesched.reports.show import Show
from holesched.shop.model import Preferences, Shop
from holesched.tooling.choose import plan_tools
from holesched.tooling.model import StepKind
from holesched.tooling.rules import standard_rules
from holesched.tooling.shop_rules import laid_over


@pytest.mark.parametrize(
    ("workpiece", "detail", "rule"),
    [
        ("CuZn39Pb3", "lips dubbed, HSS-Co, 130° point, 2 flutes", "E31"),
        ("PMMA", "lips dubbed, HSS-Co, 90° point, 2 flutes", "E32"),
        ("CuZn37", "HSS-Co, 130° point, 2 flutes", ""),
        ("POM", "HSS-Co, 130° point, 2 flutes", ""),
        ("C45", "HSS-Co, TiN, 130° point, 2 flutes", ""),
    ],
)
def test_the_tool_list_orders_the_point_and_the_reason_stands_with_it(workpiece: str, detail: str, rule: str) -> None:
    drill = one(plan(step(Kind.DRILL, size(8), 20), thickness_mm=40, workpiece=workpiece), StepKind.DRILL)
    name = tool_name(drill.tool, Show("mm"))
    assert (name.title, name.detail) == ("drill 8", detail)
    assert [reason.rule for reason in drill.reasons if reason.decision.startswith("drill point")] == ([rule] if rule else [])


def test_carbide_has_no_rake_to_take_away() -> None:
    carbide = Shop(preferences=Preferences(drill_material="carbide"))
    brass = plan(step(Kind.DRILL, size(8), 20), thickness_mm=40, workpiece="CuZn39Pb3", shop=carbide)
    assert one(brass, StepKind.DRILL).tool.name == "drill"


def test_the_depth_counts_the_point_that_is_ground() -> None:
    """By hand: half the diameter over the tangent of half the angle."""
    blind = plan(step(Kind.DRILL, size(8), 20), thickness_mm=40, workpiece="PMMA")
    drill = one(blind, StepKind.DRILL)
    assert drill.tip_mm == pytest.approx(20 + 4 / tan(radians(45)))
    threaded = plan(tap("M8x1.25-6H", 12), thickness_mm=40, workpiece="PMMA")
    (budget,) = threaded.budgets
    tapped = max((made for made in threaded.steps if made.kind is StepKind.DRILL), key=lambda made: made.diameter_mm)
    assert budget.point_mm == pytest.approx(tapped.diameter_mm / 2 / tan(radians(45)), abs=1e-4)
    assert budget.tip_mm == pytest.approx(tapped.tip_mm)


def test_a_shop_grinds_its_own() -> None:
    own = laid_over(
        'decides,verdict,material\ndrill point,"lips dubbed, 118 degree point",N4\n', "own.csv", standard_rules()
    )
    drawn = plan(step(Kind.DRILL, size(8), 20), thickness_mm=40).resolved
    drill = one(plan_tools(drawn, material("CuZn39Pb3"), Shop(), own), StepKind.DRILL)
    assert (drill.tool.name, drill.tool.point_angle_deg) == ("drill, lips dubbed", 118.0)
