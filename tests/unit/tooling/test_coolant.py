"""Coolants by the rules: every step of every material has one, magnesium never water, deep holes through the tool."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tooling_samples import Kind, material, one, plan, size, step, tap

from holesched.notes import Standing
from holesched.shop.model import Machine, Preferences, Shop
from holesched.standards.materials import Material, all_materials
from holesched.tooling.choose import plan_tools
from holesched.tooling.model import StepKind
from holesched.tooling.rules import standard_rules
from holesched.tooling.shop_rules import laid_over

M8 = "M8x1.25-6H"
FORMING = Shop(preferences=Preferences(prefer_forming=True))
BY_HAND = Shop(preferences=Preferences(tap_by_hand=True))
THROUGH = Shop(machine=Machine(through_tool_coolant=True))


@pytest.mark.parametrize("workpiece", all_materials(), ids=lambda workpiece: workpiece.key)
def test_every_step_has_a_coolant_with_its_reason(workpiece: Material) -> None:
    drawn = plan(tap(M8, 16), step(Kind.REAM, size(10), 12, zone="H7")).resolved
    for shop in (Shop(), FORMING, BY_HAND, THROUGH):
        for made in plan_tools(drawn, workpiece, shop).steps:
            assert made.coolant
            assert made.coolant_reasons[0].decision == f"coolant: {made.coolant}" or len(made.coolant_reasons) == 2
            assert all(reason.cites for reason in made.coolant_reasons)


@pytest.mark.parametrize("workpiece", ["AZ31B", "AZ91D"])
def test_magnesium_gets_no_water_whatever_the_shop_writes(workpiece: str) -> None:
    """TM 43-0106: water feeds a magnesium fire."""
    drawn = plan(tap(M8, 16), step(Kind.REAM, size(10), 12, zone="H7")).resolved
    own = laid_over(
        'decides,verdict,rank\ncoolant,"emulsion 8 %, flood",501\ncoolant,"dry, or emulsion",500\n',
        "own.csv",
        standard_rules(),
    )
    for shop in (Shop(), FORMING, BY_HAND, THROUGH):
        for book in (None, own):
            for made in plan_tools(drawn, material(workpiece), shop, book).steps:
                assert "emulsion" not in made.coolant
                assert made.coolant.endswith("no water")
    assert one(plan_tools(drawn, material("C45"), Shop(), own), StepKind.TAP).coolant == "emulsion 8 %, flood"


def test_the_reason_names_the_manual_and_what_lost() -> None:
    reason = plan(tap(M8, 16), workpiece="AZ31B").steps[0].coolant_reasons[0]
    assert reason.rule == "Q60"
    assert (reason.cites[0].standard, reason.cites[0].standing) == ("TM 43-0106, magnesium machining", Standing.PUBLISHED)
    assert [lost.rule for lost in reason.rejected if "emulsion" in lost.candidate] == ["Q70"]


@pytest.mark.parametrize(
    ("workpiece", "drilled", "tapped"),
    [
        ("C45", "emulsion 6-8 %, flood", "emulsion 8-10 %, flood"),
        ("42CrMo4", "emulsion 8-10 %, flood", "cutting oil or emulsion 10-12 %"),
        ("304", "emulsion 8-10 %, flood, never interrupted", "cutting oil, or emulsion 10-12 % with EP additive"),
        ("EN-GJL-250", "dry with air, or emulsion 5-6 %", "dry with air, or emulsion 6-8 %"),
        ("6061", "emulsion 6-10 %, flood", "emulsion 8-10 % or cutting oil"),
        ("Cu-ETP", "emulsion 6-8 % without active sulphur, flood", "cutting oil without active sulphur"),
        ("POM", "air", "air"),
        ("GRP", "dry with dust extraction", "dry with dust extraction"),
    ],
)
def test_usual_fluids(workpiece: str, drilled: str, tapped: str) -> None:
    """Common practice, no source."""
    made = plan(tap(M8, 16), workpiece=workpiece)
    assert (one(made, StepKind.DRILL).coolant, one(made, StepKind.TAP).coolant) == (drilled, tapped)


JET = ("flood", "emulsion", "mist", "through the tool", "high pressure")


@pytest.mark.parametrize("workpiece", all_materials(), ids=lambda workpiece: workpiece.key)
def test_nothing_is_asked_of_a_machine_that_it_has_not(workpiece: Material) -> None:
    """Coolant by hand, or none, is no jet; and without ducts in its spindle none comes through a tool."""
    drawn = plan(tap(M8, 16), step(Kind.REAM, size(10), 12, zone="H7"), step(Kind.DRILL, size(6), 30)).resolved
    for supply, no_such in (("hand", JET), ("none", JET), ("flood", JET[3:])):
        for way in (Machine(coolant=supply), Machine(coolant=supply, rigid_tapping=False, thread_milling=False)):
            for made in plan_tools(drawn, workpiece, Shop(way)).steps:
                assert not any(word in made.coolant for word in no_such), f"{made.kind}: {made.coolant} by {supply}"


def test_forming_and_hand_taps_want_oil() -> None:
    """Common practice, no source."""
    assert one(plan(tap(M8, 16), shop=FORMING), StepKind.TAP).coolant.startswith("cutting oil")
    assert "brush" in one(plan(tap(M8), shop=BY_HAND, workpiece="C45"), StepKind.TAP).coolant


@pytest.mark.parametrize(
    ("workpiece", "fluid"),
    [
        ("PC", "air"),  # oil crazes it under the tap's stress
        ("PMMA", "air"),
        ("AZ91D", "mineral oil, or dry; no water"),
        ("CuZn39Pb3", "dry, or a little oil by brush"),
        ("EN-GJL-250", "dry, or a little oil by brush"),
        ("Cu-ETP", "cutting oil or paste without active sulphur, by brush"),
        ("EN-GJS-500-7", "cutting oil or paste, by brush"),
        ("C45", "cutting oil or paste, by brush"),
    ],
)
@pytest.mark.parametrize("supply", ["flood", "none", "hand"])
def test_who_taps_by_hand_is_told_the_coolant_of_the_step(workpiece: str, fluid: str, supply: str) -> None:
    """Common practice, no source."""
    shop = Shop(Machine(coolant=supply), Preferences(tap_by_hand=True))
    made = plan(tap(M8, 16), workpiece=workpiece, shop=shop)
    tapped = [step.coolant for step in made.steps if step.kind is StepKind.TAP]
    (told,) = [note for note in made.notes if note.code == "TAP-HAND-SET"]
    assert set(tapped) == {fluid}
    assert told.suggestion.endswith(f"Coolant: {fluid}.")


@pytest.mark.parametrize(("depth", "supplied"), [(14, False), (21, True)])
def test_deep_holes_get_it_through_the_tool_where_the_machine_can(depth: float, supplied: bool) -> None:
    """Deeper than 3 diameters; common practice, no source."""
    shop = replace(THROUGH, preferences=Preferences(drill_material="carbide"))
    made = one(plan(step(Kind.DRILL, size(6), depth), thickness_mm=60, shop=shop), StepKind.DRILL)
    assert made.tool.ducts == supplied
    assert made.coolant.endswith("through the tool") == supplied
    assert "flood" not in made.coolant or not supplied
    assert "through" not in one(plan(step(Kind.DRILL, size(6), depth), thickness_mm=60), StepKind.DRILL).coolant


def test_a_shop_that_keeps_steel_drills_with_ducts_says_so_in_a_row() -> None:
    own = laid_over(
        "decides,verdict,depth_d,given\ncoolant supply,through the tool,3.01..,steel drill\n", "own.csv", standard_rules()
    )
    drawn = plan(step(Kind.DRILL, size(6), 35), thickness_mm=60).resolved
    for book, ducts in ((None, False), (own, True)):
        drill = one(plan_tools(drawn, material("C45"), THROUGH, book), StepKind.DRILL)
        assert (drill.tool.ducts, drill.pecks == 1) == (ducts, ducts)


def test_a_tool_too_thin_for_ducts_has_none() -> None:
    shop = replace(THROUGH, preferences=Preferences(drill_material="carbide"))
    drill = one(plan(step(Kind.DRILL, size(2.5), 15), thickness_mm=60, shop=shop), StepKind.DRILL)
    assert not drill.tool.ducts
    assert drill.pecks > 1


def test_a_deep_tap_with_coolant_through_it_is_another_tool() -> None:
    shop = replace(THROUGH, preferences=FORMING.preferences)
    for thickness, ducts in ((20.0, True), (10.0, False)):
        made = one(plan(tap("M5x0.8-6H"), thickness_mm=thickness, shop=shop), StepKind.TAP)
        assert (made.tool.ducts, made.coolant.endswith("through the tool")) == (ducts, ducts)


def test_oil_is_not_led_through_the_tool() -> None:
    made = plan(tap("M4x0.7-6H"), workpiece="CuZn37", shop=THROUGH, thickness_mm=14)
    assert one(made, StepKind.TAP).coolant == "cutting oil without active sulphur"
