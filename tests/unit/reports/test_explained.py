"""`explain` as text: every number a planner would look up for one callout."""

from __future__ import annotations

import re

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
        ("M8x1.25-6H ↧16", "minor diameter    6.647 to 6.912 mm   (basic 6.647 mm)"),  # ISO 965-2
        ("M8x1.25-6H ↧16", "engagement"),
        ("M8x1.25-6H ↧16", "= drilled depth   21.00 mm"),
        ("M8x1.25-6H ↧16", "not-go thread plug M8x1.25-6H  7.3480 mm"),
        ("M8x1.25-6H ↧16", "its own limits 7.1945 to 7.2055 mm; worn out below 7.1825 mm"),  # ISO 1502
        ("Ø8 H7 ↧20", "its own limits 8.0015 to 8.0033 mm; worn out below 8.0000 mm"),  # GB/T 1957
        ("1/4-18 NPT", "gauge plane       0.228 in (5.79 mm)"),  # ASME B1.20.1: L1 = 0.2278 in
        ("1/4-18 NPT", "7/16 to tap a straight hole, 27/64 before a 1:16 taper reamer"),  # ASME B94.9; general charts
        (
            "M8 STI ↧16",
            "full thread 13.2 mm, drilled at least 23.5 mm for a plug tap, 17.0 mm for a bottoming one",
        ),  # B18.29.2M
        ("Ø8 H7 ↧20", "limits            8.000 to 8.015 mm"),  # ISO 286-2
        ("M8x1.5", "open: not planned"),
        ("1/4-20 UNC-2B ↧.5", "pitch diameter    0.2175 to 0.2224 in (5.524 to 5.649 mm)"),  # ASME B1.1, Table 2
        ("1/4-20 UNC-2B ↧.5", "full thread       0.500 in (12.70 mm)"),
        ("1/4-20 UNC-2B ↧.5", "feed              0.05 in/rev ="),  # 1/20 in a turn
        ("Ø.250 THRU", "Ø.250"),
        ("G1/4 ↧12", "mm deep"),  # a pipe thread of metric drawings too
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


def test_an_inch_callout_is_in_inches_unless_mm_are_asked_for() -> None:
    """Nothing of it is in mm alone: every metric figure has its inches beside it, before or behind."""
    shop = Shop()
    callout = "3/8-16 UNC-2B ↧.75"
    whole = text(callout)
    alone = [line for line in whole.splitlines() if re.search(r"\d mm\b(?!\))", line) and " in" not in line]
    assert not alone
    asked = explained(explain(callout, shop, read_options(shop, unit="mm", material="6061-T6")))
    assert " in (" not in asked
    assert "= drilled depth   25.40 mm" in asked
    assert " in/min" not in text("M8x1.25-6H ↧16")


def test_what_a_row_of_the_rules_watches_is_told_with_its_id() -> None:
    """So that a shop that wants it otherwise finds the row to change."""
    said = text("M6 ↧18", material="C45")
    assert "[TAP-DEEP, W10; common practice, no source]" in said
