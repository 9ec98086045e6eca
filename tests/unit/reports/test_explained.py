"""`explain` as text: every number a planner would look up for one callout."""

from __future__ import annotations

import pytest

from holesched.pipeline import explain, read_options
from holesched.reports.explained import explained
from holesched.shop.model import Shop


def text(callout: str, material: str = "6061-T6", thickness_mm: float | None = 40.0) -> str:
    shop = Shop()
    return explained(explain(callout, shop, read_options(shop, material=material, thickness_mm=thickness_mm)))


@pytest.mark.parametrize(
    ("callout", "said"),
    [
        ("M8x1.25-6H ↧16", "minor diameter    6.647 to 6.912 mm   (basic 6.647)"),  # ISO 965-2
        ("M8x1.25-6H ↧16", "engagement"),
        ("M8x1.25-6H ↧16", "= drilled depth   21.00 mm"),
        ("M8x1.25-6H ↧16", "not-go thread plug M8x1.25-6H  7.3480 mm"),
        ("1/4-18 NPT", "gauge plane       5.79 mm"),  # ASME B1.20.1: L1 = 0.2278 in
        ("1/4-18 NPT", "7/16 to tap a straight hole, 27/64 before a 1:16 taper reamer"),  # ASME B94.9; general charts
        ("M8 STI ↧16", "full thread 13.2, drilled at least 23.5 mm for a plug tap, 17.0 for a bottoming one"),  # B18.29.2M
        ("Ø8 H7 ↧20", "limits            8.000 to 8.015 mm"),  # ISO 286-2
        ("M8x1.5", "open: not planned"),
    ],
)
def test_what_is_said(callout: str, said: str) -> None:
    assert said in text(callout)


def test_every_choice_has_its_reason_and_what_lost() -> None:
    whole = text("M8x1.25-6H ↧16")
    assert "why   flute form: spiral-flute" in whole
    assert "not spiral-point" in whole
    assert "[F" in whole


def test_an_unknown_thickness_is_said_and_no_pass() -> None:
    assert "wall left         unknown: no thickness given" in text("M8x1.25-6H ↧16", thickness_mm=None)
