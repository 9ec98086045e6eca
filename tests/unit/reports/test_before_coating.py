"""The card of a hole that is coated later: the limits at the machine beside those of the drawing."""

from __future__ import annotations

import pytest

from holesched.pipeline import explain, read_options
from holesched.reports.card_facts import card_facts
from holesched.reports.show import Show
from holesched.reports.source_list import SourceList
from holesched.shop.model import Shop


@pytest.mark.parametrize(
    ("callout", "text"),
    [
        ("M8x1.25-6H ↧16 AFTER ZINC 8-12 µm", "minor ⌀ 6.671 to 6.928; pitch ⌀ 7.236 to 7.380 mm"),
        ("Ø8 H7 ↧20 AFTER NICKEL 8-10 µm", "⌀ 8.020 to 8.031 mm"),
    ],
)
def test_the_limits_before_coating_stand_on_the_card(callout: str, text: str) -> None:
    shop = Shop()
    job = explain(callout, shop, read_options(shop, material="C45", thickness_mm=40.0))
    facts = dict(card_facts(job.holes[0], Show("mm"), SourceList()))
    assert facts["At the machine, before coating"] == text
