"""Threads whose standard sets the minor diameter no largest size are never formed: the hole goes by that size."""

from __future__ import annotations

import pytest

from holesched.pipeline import compare, explain
from holesched.schedule.model import ReadOptions
from holesched.shop.model import Preferences, Shop


@pytest.mark.parametrize("callout", ["3/8 NPSC THRU", "1/4 NPSL THRU", "1/8 NPSF THRU", "1/8 NPSI LH THRU"])
@pytest.mark.parametrize("prefer_forming", [False, True])
def test_no_thread_without_a_largest_minor_diameter_is_formed(callout: str, prefer_forming: bool) -> None:
    """ASME B1.20.1, Table 4, gives NPSC a least minor diameter only."""
    shop = Shop(preferences=Preferences(prefer_forming=prefer_forming))
    job = explain(callout, shop, ReadOptions("in", "6061-T6", 25.4))
    ways = {way.choice.process: way.choice for way in compare(job, shop)}
    assert ways["form"].plan is None
    assert ways["form"].rule == "P60"
    assert next(process for process, choice in ways.items() if choice.chosen) == "cut"
