"""Where a printed table has twice the specific energy of ours (DISAGREEMENTS.md), the torque's reason says so."""

from __future__ import annotations

import pytest

from holesched.pipeline import explain, read_options
from holesched.shop.model import Shop
from holesched.tooling.model import StepKind


@pytest.mark.parametrize(
    ("material", "doubtful"), [("GG25", False), ("GGG40", True), ("Ti-6Al-4V", True), ("C45", False), ("6082-T6", False)]
)
def test_a_taps_torque_says_how_good_it_is(material: str, *, doubtful: bool) -> None:
    (hole,) = explain("M8 ↧16", Shop(), read_options(Shop(), material=material, thickness_mm=40.0)).holes
    assert hole.cut_plan is not None
    tap = next(cut for cut in hole.cut_plan.cuts if cut.step.kind is StepKind.TAP)
    told = " ".join(reason.because for reason in tap.reasons)
    assert ("it may be twice this" in told) is doubtful
    assert ("good to 40 %" in told) is not doubtful


@pytest.mark.parametrize(
    ("callout", "material", "band"),
    [
        ("M8 ↧16", "Ti-6Al-4V", "watch"),
        ("M6 ↧12", "Ti-6Al-4V", "change"),
        ("M12 ↧24", "EN-GJS-700-2", "watch"),
        ("M3 ↧6", "EN-GJS-700-2", "change"),
        ("M16 ↧32", "EN-GJS-700-2", "calm"),
        ("M8 ↧16", "EN-GJL-250", "calm"),  # 0.19: its force is read, not doubted
        ("M8 ↧16", "C45", "watch"),  # 0.30
    ],
)
def test_where_the_torque_may_be_twice_the_tap_is_watched_from_half(callout: str, material: str, band: str) -> None:
    (hole,) = explain(callout, Shop(), read_options(Shop(), material=material, thickness_mm=60.0)).holes
    assert hole.cut_plan is not None
    tap = next(cut for cut in hole.cut_plan.cuts if cut.step.kind is StepKind.TAP)
    assert tap.risk is not None
    assert tap.risk.band == band
    doubted = bool(tap.risk.may_be_twice)
    assert doubted == (tap.risk.factors[-1] == "in ductile iron, titanium and nickel it may be twice this")
    told = [note.message for note in hole.notes if note.code == "TAP-RISK"]
    assert len(told) == (band != "calm")
    assert all(("it may be twice this" in message) == doubted for message in told)
