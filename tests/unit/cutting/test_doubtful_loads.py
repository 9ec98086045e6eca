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
