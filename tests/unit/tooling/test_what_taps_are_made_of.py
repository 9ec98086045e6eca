"""What a tap is made of and coated with where that hangs on how it makes the thread. Common practice, no source."""

from __future__ import annotations

import pytest
from tooling_samples import hole, material, one, tap

from holesched.shop.model import Machine, Preferences, Shop
from holesched.tooling.choose import plan_tools
from holesched.tooling.model import StepKind, Tool

FAST = Machine(through_tool_coolant=True)


def tapped(thread: str, workpiece: str, shop: Shop, lot: int | None = None) -> Tool:
    return one(plan_tools(hole(tap(thread, 9)), material(workpiece), shop, lot=lot), StepKind.TAP).tool


@pytest.mark.parametrize(
    ("workpiece", "cut"), [("EN AW-6082", "bright"), ("CuZn37", "bright"), ("AlSi10Mg", "nitride"), ("ZP0400", "bright")]
)
def test_a_forming_tap_is_not_bright_where_metal_sticks_to_it(workpiece: str, cut: str) -> None:
    """Bright cuts soft metal well; formed, it is welded to the tap at once."""
    assert tapped("M6x1-6H", workpiece, Shop(preferences=Preferences(prefer_forming=True))).treatment == "CrN"
    assert tapped("M6x1-6H", workpiece, Shop()).treatment == cut


@pytest.mark.parametrize(("workpiece", "made_of"), [("AlSi10Mg", "carbide"), ("EN-GJL-250", "carbide")])
def test_carbide_taps_are_for_fast_cutting_of_stock_threads(workpiece: str, made_of: str) -> None:
    """Formed they run no faster than steel ones, and none is stocked for pipe, inserts or left hand."""
    assert tapped("M6x1-6H", workpiece, Shop(FAST), 5000).material == made_of
    for thread in ("M6x1-6H-LH", "M6 STI", "Rc 3/8"):
        assert tapped(thread, workpiece, Shop(FAST), 5000).material == "HSS-E-PM"


def test_a_forming_tap_in_die_cast_aluminium_is_steel() -> None:
    forming = Shop(FAST, Preferences(prefer_forming=True))
    assert tapped("M6x1-6H", "AlSi10Mg", forming, 5000).material == "HSS-E-PM"
