"""Thermoplastics close in behind the tool: common practice, no source."""

from __future__ import annotations

import pytest
from tooling_samples import Kind, one, plan, size, step, tap

from holesched.shop.model import DrillOversize, Shop
from holesched.tooling.model import StepKind

PLASTICS = ("PEEK", "PE", "PA", "PC", "PMMA")


@pytest.mark.parametrize("workpiece", PLASTICS)
def test_a_drill_makes_its_own_size_in_plastic(workpiece: str) -> None:
    made = plan(step(Kind.DRILL, size(5), through=True), workpiece=workpiece)
    drill = one(made, StepKind.DRILL)
    assert drill.tool.oversize_mm == 0
    (called,) = [reason for reason in drill.reasons if reason.rule == "DRILL-AS-CALLED"]
    assert called.because.endswith("its hole comes out about 5.00 mm")
    in_metal = one(plan(step(Kind.DRILL, size(5), through=True)), StepKind.DRILL)
    assert in_metal.tool.oversize_mm == 0.05
    threaded = one(plan(tap("M8x1.25-6H", 16), workpiece=workpiece), StepKind.DRILL)
    assert threaded.fit is not None
    assert threaded.fit.hole_mm == threaded.tool.diameter_mm


def test_what_a_shop_has_measured_holds_in_plastic_too() -> None:
    measured = Shop(oversizes=(DrillOversize("", 0, 100, -0.02, 0.01),))
    made = plan(step(Kind.DRILL, size(5), through=True), workpiece="PEEK", shop=measured)
    assert one(made, StepKind.DRILL).tool.oversize_mm == -0.02


@pytest.mark.parametrize("workpiece", PLASTICS)
def test_who_reams_or_taps_plastic_is_told_that_it_closes_in(workpiece: str) -> None:
    reamed = plan(step(Kind.REAM, size(4), through=True, zone="H7"), workpiece=workpiece)
    (note,) = [note for note in reamed.notes if note.code == "REAM-IN-PLASTIC"]
    assert note.message.startswith("ream Ø4 mm: ")
    assert "closes in behind it" in note.message
    tapped = plan(tap("M6x1-6H", 12), workpiece=workpiece)
    assert [note.code for note in tapped.notes] == ["TAP-IN-PLASTIC"]
    assert one(tapped, StepKind.TAP).tool.limit == "ISO 3 (6G)"


@pytest.mark.parametrize("workpiece", ["CuZn39Pb3", "GRP"])
def test_metal_and_filled_plastic_do_not_close_in(workpiece: str) -> None:
    made = plan(step(Kind.REAM, size(4), through=True, zone="H7"), tap("M6x1-6H", 12), workpiece=workpiece)
    assert not any("PLASTIC" in note.code for note in made.notes)
