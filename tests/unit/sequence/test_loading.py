"""Tools in the carousel: one life for a tool that makes several hole types."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from holesched.sequence.loading import _life


def target(quantity: int, life: tuple[float, float] | None) -> Any:
    return SimpleNamespace(quantity=quantity, cut=SimpleNamespace(tool_life_holes=life))


def test_each_hole_wears_its_own_share() -> None:
    """By hand: 3 holes of 100 to 200 and 1 of 50 to 100 wear 3/100 + 1/50 = 0.05 tools, so that 4 / 0.05 = 80 holes are a tool
    at the low life, 4 / (3/200 + 1/100) = 160 at the high one."""
    assert _life([target(3, (100.0, 200.0)), target(1, (50.0, 100.0))]) == pytest.approx((80, 160))


def test_one_life_is_kept_as_stated_and_none_is_not_guessed() -> None:
    assert _life([target(3, (70.0, 210.0)), target(5, (70.0, 210.0)), target(1, None)]) == (70.0, 210.0)
    assert _life([target(3, None)]) is None
    assert _life([]) is None
