"""The size by which a counterbore or spotface cutter is sold."""

from __future__ import annotations

import pytest

from holesched.pipeline import explain, read_options
from holesched.shop.model import Shop
from holesched.standards.sizes import Limits, Size
from holesched.tooling.cutters import sold_size
from holesched.tooling.model import StepKind

IN = 25.4


@pytest.mark.parametrize(
    ("called", "sold"),
    [
        # 7/16 = .4375, 17/32 = .53125, 23/32 = .71875, 1 3/16 = 1.1875, 5/16 = .3125: rounded up, down or to even
        (".438 in", "7/16"),
        (".531 in", "17/32"),
        (".719 in", "23/32"),
        ("1.188 in", "1 3/16"),
        (".312 in", "5/16"),
        (".313 in", "5/16"),
        (".4375 in", "7/16"),
        ("1.000 in", "1"),
        (".44 in", ".44 in"),
        (".440 in", ".440 in"),
        (".4380 in", ".4380 in"),
        ("1.060 in", "1.060 in"),
    ],
)
def test_a_decimal_that_is_a_fraction_rounded_is_that_fraction(called: str, sold: str) -> None:
    diameter = Size(float(called.removesuffix(" in")) * IN, called)
    found = sold_size(diameter, None)
    assert found.label == sold
    assert abs(found.mm - diameter.mm) <= 0.0005 * IN + 1e-9


def test_outside_the_callouts_limits_it_is_not() -> None:
    called = Size(0.438 * IN, ".438 in")
    assert sold_size(called, Limits(0.437 * IN, 0.439 * IN)).label == "7/16"
    assert sold_size(called, Limits(0.438 * IN, 0.440 * IN)) == called


@pytest.mark.parametrize("size", [Size(11.0, "11"), Size(11.125, "11.125"), Size(11.1125, "7/16")])
def test_a_metric_size_and_a_fraction_stay(size: Size) -> None:
    assert sold_size(size, None) == size


def test_the_counterbore_of_a_callout_is_the_one_that_is_sold() -> None:
    shop = Shop()
    job = explain("Ø.281 THRU ⌴Ø.438 ↧.26", shop, read_options(shop, unit="in", material="4140", thickness_mm=38.1))
    assert job.holes[0].cut_plan is not None
    (flat,) = [step for step in job.holes[0].cut_plan.plan.steps if step.kind is StepKind.COUNTERBORE]
    assert (flat.tool.size, flat.tool.diameter_mm, flat.diameter_mm) == ("7/16", 7 / 16 * IN, 7 / 16 * IN)
    assert flat.reasons[0].because.startswith("flat-ended; Ø.438 in is meant for 7/16 of 11.112 mm")
