"""Tools in the carousel: one life for a tool that makes several hole types."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from holesched.sequence.loading import _life, load_carousel, number_tools
from holesched.shop.model import Machine, Shop
from holesched.tooling.model import StepKind, Tool


def target(quantity: int, life: tuple[float, float] | None) -> Any:
    return SimpleNamespace(quantity=quantity, cut=SimpleNamespace(tool_life_holes=life))


def test_each_hole_wears_its_own_share() -> None:
    """By hand: 3 holes of 100 to 200 and 1 of 50 to 100 wear 3/100 + 1/50 = 0.05 tools, so that 4 / 0.05 = 80 holes are a
    tool at the low life, 4 / (3/200 + 1/100) = 160 at the high one."""
    assert _life([target(3, (100.0, 200.0)), target(1, (50.0, 100.0))]) == pytest.approx((80, 160))


def test_one_life_is_kept_as_stated_and_none_is_not_guessed() -> None:
    assert _life([target(3, (70.0, 210.0)), target(5, (70.0, 210.0)), target(1, None)]) == (70.0, 210.0)
    assert _life([target(3, None)]) is None
    assert _life([]) is None


def test_taps_for_the_bench_come_last_and_hold_no_pot() -> None:
    """Two tools for the spindle and two pots: nothing is too many, whatever lies on the bench."""
    drill = Tool(StepKind.DRILL, 5.0, "5", "HSS-Co")
    taper, plug = (Tool(StepKind.TAP, 6.0, "M6x1", "HSS-E", by_hand=True, name=name) for name in ("taper", "plug"))
    spot = Tool(StepKind.SPOT, 12.0, "12", "HSS-Co")
    numbers = number_tools([spot, taper, drill, plug])
    assert [tool.name or tool.size for tool in numbers] == ["12", "5", "taper", "plug"]
    loaded, notes = load_carousel(numbers, (), Shop(machine=Machine(pots=2)))
    assert [tool.pot for tool in loaded] == [1, 2, None, None]
    assert notes == ()


def test_one_pot_is_a_machine_without_a_changer() -> None:
    """Forty tools are not thirty-nine too many for it: each goes into the spindle by hand, of any diameter."""
    tools = [Tool(StepKind.DRILL, float(size), f"{size}", "HSS-Co") for size in (5, 8, 90)]
    tap = Tool(StepKind.TAP, 6.0, "M6x1", "HSS-E", by_hand=True)
    loaded, notes = load_carousel(number_tools([*tools, tap]), (), Shop(machine=Machine(pots=1)))
    assert [tool.pot for tool in loaded] == [1, 1, 1, None]
    assert notes == ()
    _, told = load_carousel(number_tools(tools), (), Shop(machine=Machine(pots=2)))
    assert [note.code for note in told] == ["CAROUSEL-FULL", "CAROUSEL-TOO-LARGE"]
