"""What the size of the lot changes. Common practice, no source; the rules themselves stand in the decision table of
tests/published/trade_facts.csv."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tooling_samples import Kind, hole, material, one, size, step, tap

from holesched.cutting.parameters import plan_cutting
from holesched.shop.model import Machine, Preferences, Shop
from holesched.standards.sizes import Limits
from holesched.tooling.choose import plan_tools
from holesched.tooling.model import StepKind, ToolPlan


def planned(lot: int | None, shop: Shop | None = None, workpiece: str = "C45") -> ToolPlan:
    return plan_tools(hole(tap("M24x1.5-6H", 30)), material(workpiece), shop or Shop(), lot=lot)


def codes(made: ToolPlan) -> set[str]:
    return {note.code for note in made.notes}


@pytest.mark.parametrize(
    ("lot", "drilled_in"), [(None, "HSS-Co"), (1, "HSS-Co"), (49, "HSS-Co"), (50, "carbide"), (200, "carbide")]
)
def test_a_drill_that_may_cut_over_the_limit_is_carbide_in_a_lot(lot: int | None, drilled_in: str) -> None:
    """M24x1.5-6H: a drill 22.5 of HSS-Co may cut 22.70 mm, over the largest minor diameter 22.676 (ISO 965-1); one of
    carbide at most 22.55."""
    made = planned(lot)
    drill = [step for step in made.steps if step.kind is StepKind.DRILL and step.fit is not None][-1]
    assert (drill.tool.size, drill.tool.material) == ("22.5", drilled_in)
    assert ("TAP-DRILL-CLOSE" in codes(made)) == (drilled_in == "HSS-Co")
    rules = {reason.rule for reason in drill.reasons}
    assert ("D23" in rules) == (drilled_in == "carbide")


@pytest.mark.parametrize(
    ("workpiece", "pays_from"),
    [
        ("EN AW-6082", 1500),
        ("C45", 300),
        ("EN-GJL-250", 300),
        ("316L", 100),
        ("42CrMo4", 100),
        ("17-4PH", 50),
        ("N06625", 6),
    ],
)
def test_carbide_drills_pay_by_the_holes_of_their_size_in_the_lot(workpiece: str, pays_from: int) -> None:
    """One part with many holes is as good as many parts with one; common practice, no source, the rows say why."""
    bare = hole(tap("M8x1.25-6H", 12))
    for parts, a_part, steel in ((pays_from, 1, False), (1, pays_from, False), (pays_from - 1, 1, True), (1, 1, True)):
        drawn = replace(bare, type=replace(bare.type, of_its_size=a_part))
        drill = one(plan_tools(drawn, material(workpiece), Shop(), lot=parts), StepKind.DRILL)
        assert (drill.tool.material == "HSS-Co") == steel, (parts, a_part)
    assert (
        one(
            plan_tools(replace(bare, type=replace(bare.type, of_its_size=5000)), material(workpiece), Shop()), StepKind.DRILL
        ).tool.material
        == "HSS-Co"
    )


@pytest.mark.parametrize("workpiece", ["316L", "C45", "EN AW-6082"])
def test_a_carbide_drill_saves_the_seconds_that_its_row_says(workpiece: str) -> None:
    """The rows' reasons hold for our own times: a hole of 8 mm, 20 deep."""
    drawn, seconds = hole(step(Kind.DRILL, size(8), 20)), []
    for grade in ("HSS-Co", "carbide"):
        shop = Shop(preferences=Preferences(drill_material=grade))
        made = plan_cutting(plan_tools(drawn, material(workpiece), shop), material(workpiece), shop)
        seconds.append(60 * next(cut.time_min for cut in made.cuts if cut.step.kind is StepKind.DRILL))
    least, most = {"316L": (15, 20), "C45": (5, 10), "EN AW-6082": (1, 2)}[workpiece]
    assert least <= round(seconds[0] - seconds[1]) <= most


def test_a_shop_that_asks_for_its_drills_keeps_them() -> None:
    made = planned(900, Shop(preferences=Preferences(drill_material="HSS-Co")))
    assert "TAP-DRILL-CLOSE" in codes(made)


@pytest.mark.parametrize(("lot", "made_of"), [(1, "HSS-Co"), (50, "carbide")])
def test_a_lot_in_titanium_is_drilled_in_carbide(lot: int, made_of: str) -> None:
    made = plan_tools(hole(tap("M8x1.25-6H", 12)), material("Ti-6Al-4V"), Shop(), lot=lot)
    drill = one(made, StepKind.DRILL)
    assert drill.tool.material == made_of
    assert ("D25" in {reason.rule for reason in drill.reasons}) == (made_of == "carbide")


@pytest.mark.parametrize(
    ("workpiece", "machine", "made_of"),
    [
        ("Ti-6Al-4V", Machine(coolant="hand"), "HSS-Co"),
        ("Ti-6Al-4V", Machine(rigid_tapping=False), "HSS-Co"),
        ("C45", Machine(coolant="none"), "HSS-Co"),
        ("C45", Machine(rigid_tapping=False), "HSS-Co"),
        ("N06625", Machine(coolant="hand"), "HSS-Co"),
        ("EN AW-6082", Machine(coolant="hand"), "HSS-Co"),
        ("CuZn39Pb3", Machine(coolant="hand"), "carbide"),  # cut dry anyway
        ("EN-GJL-250", Machine(coolant="hand", rigid_tapping=False), "carbide"),
        ("GRP", Machine(coolant="none", rigid_tapping=False), "carbide"),
        ("hardened-45-55", Machine(coolant="hand", rigid_tapping=False), "carbide"),
        ("C45", Machine(), "carbide"),
        ("Ti-6Al-4V", Machine(), "carbide"),
    ],
)
def test_no_carbide_drill_without_steady_coolant_or_on_a_slack_machine(
    workpiece: str, machine: Machine, made_of: str
) -> None:
    """Common practice, no source: but for iron, glass and hard work, where steel does not last or dry is usual."""
    made = plan_tools(hole(tap("M8x1.25-6H", 12)), material(workpiece), Shop(machine), lot=5000)
    assert {step.tool.material for step in made.steps if step.kind is StepKind.DRILL} == {made_of}


REAMED = step(Kind.REAM, size(8), 16, limits=Limits(8, 8.015))


@pytest.mark.parametrize(
    ("workpiece", "pays_from"),
    [
        ("EN AW-6082", 3000),
        ("C45", 600),
        ("EN-GJS-400-15", 600),
        ("316L", 200),
        ("42CrMo4", 200),
        ("Ti-6Al-4V", 100),
        ("N06625", 20),
    ],
)
def test_reamers_and_countersinks_pay_in_carbide_by_the_holes_of_their_size(workpiece: str, pays_from: int) -> None:
    """Common practice, no source; the rows say why. A reamer that lasts 20 to 80 holes was planned for 5000."""
    pecked = (step(Kind.DRILL, size(5), 40), step(Kind.COUNTERSINK, size(9), angle_deg=90.0))  # so no step drill makes both
    for lot, made_of in ((pays_from, "carbide"), (pays_from - 1, "HSS")):
        for drawn, kind in (((REAMED,), StepKind.REAM), (pecked, StepKind.COUNTERSINK)):
            made = one(plan_tools(hole(*drawn), material(workpiece), Shop(), lot=lot), kind)
            assert made.tool.material.partition("-")[0] == made_of, (lot, kind)


@pytest.mark.parametrize(("workpiece", "least", "most"), [("C45", 4, 8), ("316L", 10, 20), ("EN AW-6082", 0.5, 2)])
def test_a_carbide_reamer_saves_the_seconds_that_its_row_says(workpiece: str, least: float, most: float) -> None:
    seconds = []
    for lot in (1, 5000):
        made = plan_tools(hole(REAMED), material(workpiece), Shop(), lot=lot)
        cuts = plan_cutting(made, material(workpiece), Shop()).cuts
        seconds.append(60 * next(cut.time_min for cut in cuts if cut.step.kind is StepKind.REAM))
    assert least <= seconds[0] - seconds[1] <= most


@pytest.mark.parametrize("machine", [Machine(coolant="hand"), Machine(coolant="none"), Machine(rigid_tapping=False)])
@pytest.mark.parametrize("workpiece", ["C45", "Ti-6Al-4V"])
def test_no_carbide_reamer_or_cutter_below_40_hrc_without_steady_coolant_or_on_a_slack_machine(
    machine: Machine, workpiece: str
) -> None:
    drawn = hole(REAMED)
    drawn = replace(drawn, type=replace(drawn.type, of_its_size=1))
    made = plan_tools(drawn, material(workpiece), Shop(machine), lot=5000)
    assert "carbide" not in {each.tool.material for each in made.steps}
    made = plan_tools(hole(REAMED), material("hardened-45-55"), Shop(machine), lot=5000)
    assert {each.tool.material for each in made.steps} == {"carbide"}


def test_where_carbide_may_not_drill_a_close_hole_is_reamed() -> None:
    """No steel drill holds 0.05 mm; a carbide one does (drill_oversize.csv)."""
    close = step(Kind.DRILL, size(10), 12, limits=Limits(10, 10.05))
    finished = {
        machine.coolant: plan_tools(hole(close), material("C45"), Shop(machine)).steps[-1].tool
        for machine in (Machine(), Machine(coolant="hand"))
    }
    assert (finished["flood"].kind, finished["flood"].material) == (StepKind.DRILL, "carbide")
    assert finished["hand"].kind is StepKind.REAM
