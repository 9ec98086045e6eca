"""One drill with two diameters in place of a drill and the tool over it: where it is planned, its lengths, and where not."""

from __future__ import annotations

from dataclasses import replace
from math import radians, tan

import pytest
from tooling_samples import codes, hole, material, one, size, step, tap

from holesched.callouts.model import Kind, Side
from holesched.notes import Severity
from holesched.resolve.model import ResolvedStep
from holesched.shop.model import Machine, Preferences, Shop, ShopTool
from holesched.standards.threads.insert_depths import countersink_mm
from holesched.tooling.choose import plan_tools
from holesched.tooling.model import StepKind, ToolPlan, ToolStep
from holesched.tooling.opening import TOO_HEAVY
from holesched.tooling.reckoned import Reckoned
from holesched.tooling.rules import RuleBook, standard_rules
from holesched.tooling.shop_rules import laid_over
from holesched.tooling.step_drill import LENGTH_OVER_MM, NO_TIME_SAVED

LARGE_LOT = 1000
SCREW = (step(Kind.DRILL, size(6.6), through=True), step(Kind.COUNTERBORE, size(11), 6.8))
COUNTERSUNK = (step(Kind.DRILL, size(6.6), through=True), step(Kind.COUNTERSINK, size(12.6), angle_deg=90))
COAXIAL = (step(Kind.DRILL, size(6.6), through=True), step(Kind.DRILL, size(11), 10))


def planned(
    *steps: ResolvedStep,
    lot: int | None = LARGE_LOT,
    workpiece: str = "C45",
    thickness_mm: float | None = 25.0,
    remarks: tuple[str, ...] = (),
    shop: Shop | None = None,
    rules: RuleBook | None = None,
    found: str = "",
) -> ToolPlan:
    drawn = hole(*steps, thickness_mm=thickness_mm, remarks=remarks)
    return plan_tools(drawn, material(workpiece), shop or Shop(), rules, lot=lot, reckoned=Reckoned(step_drill=found))


def stepped(plan: ToolPlan) -> list[ToolStep]:
    return [each for each in plan.steps if each.also is not None]


@pytest.mark.parametrize("drawn", [SCREW, COUNTERSUNK, COAXIAL, (tap("M8x1.25-6H", 16.0),)])
@pytest.mark.parametrize("lot", [None, 100])
def test_small_lots_have_separate_tools(drawn: tuple[ResolvedStep, ...], lot: int | None) -> None:
    plan = planned(*drawn, lot=lot)
    assert not stepped(plan)
    assert "HOLE-STEP-DRILL" not in codes(plan)


@pytest.mark.parametrize(
    ("drawn", "kind", "angle_deg", "shoulder_mm", "wide_mm"),
    [
        (SCREW, StepKind.COUNTERBORE, 180.0, 6.8, 11.0),
        (COUNTERSUNK, StepKind.COUNTERSINK, 90.0, (12.6 - 6.6) / 2, 12.8),
        (COAXIAL, StepKind.DRILL, 140.0, 10 + (11 - 6.6) / 2 / tan(radians(70)), 11.0),
        ((tap("M8x1.25-6H", 16.0),), StepKind.COUNTERSINK, 90.0, (1.05 * 8 - 6.8) / 2, 8.7),
    ],
)
def test_in_a_large_lot_one_tool_makes_both_diameters(
    drawn: tuple[ResolvedStep, ...], kind: StepKind, angle_deg: float, shoulder_mm: float, wide_mm: float
) -> None:
    """The shoulder stands where its feature wants it when the tip is at the depth given: tip = shoulder + step length (plane
    geometry), and the hole is as deep as a drill alone would make it."""
    apart, together = (
        planned(*drawn, lot=None, shop=Shop(preferences=Preferences(drill_material="carbide"))),
        planned(*drawn),
    )
    (both,) = stepped(together)
    tool, also = both.tool, both.also
    assert tool.shoulder is not None
    assert also is not None
    assert (tool.name, also.kind, tool.shoulder.angle_deg) == ("step drill", kind, angle_deg)
    assert tool.shoulder.diameter_mm == pytest.approx(wide_mm)
    assert tool.shoulder.diameter_mm >= also.diameter_mm
    assert both.tip_mm == pytest.approx(shoulder_mm + tool.shoulder.length_mm, abs=1e-5)
    drill = next(each for each in apart.steps if each.kind is StepKind.DRILL and each.diameter_mm == both.diameter_mm)
    assert (both.tip_mm, both.depth_mm, both.travel_mm) == (drill.tip_mm, drill.depth_mm, drill.travel_mm)
    kinds = [(each.kind, each.diameter_mm) for each in together.parts]
    assert sorted(kinds, key=str) == sorted([(each.kind, each.diameter_mm) for each in apart.steps], key=str), (
        "nothing that two tools made is lost"
    )


def test_its_order_says_both_diameters_the_angle_and_the_step_length() -> None:
    (note,) = [note for note in planned(*SCREW).notes if note.code == "HOLE-STEP-DRILL"]
    assert note.severity is Severity.WATCH
    (both,) = stepped(planned(*SCREW))
    shoulder = both.tool.shoulder
    assert shoulder is not None
    assert (both.tool.diameter_mm, shoulder.diameter_mm, shoulder.angle_deg, shoulder.over_mm) == (6.6, 11, 180, 0.2)
    assert shoulder.length_mm == pytest.approx(20.4011, abs=0.00005), "25 + 3.3 / tan 70 + 1 beyond - 6.8, by hand"
    (reason,) = [reason for reason in both.reasons if reason.rule == "H31"]
    assert [lost.candidate for lost in reason.rejected] == ["separate tools"]


def test_a_wire_inserts_entrance_keeps_its_120_degrees() -> None:
    (both,) = stepped(planned(tap("M8x1.25 STI", 15.0)))
    assert both.tool.shoulder is not None
    assert both.tool.shoulder.angle_deg == 120
    limits = countersink_mm(8.0, 1.25)
    assert both.also is not None
    assert limits.min_mm <= both.also.diameter_mm <= (limits.max_mm or 0.0)


def test_the_reason_for_a_chamfer_is_not_lost_with_its_tool() -> None:
    (both,) = stepped(planned(tap("M8x1.25-6H", 16.0)))
    assert "entry chamfer to 8.40 mm" in both.reasons[0].because


def struck_by(plan: ToolPlan) -> str:
    """The row that struck the step drill which another asked for."""
    apart = [made for made in plan.steps if made.also is None]
    (reason,) = [each for made in apart for each in made.reasons if each.decision == "stepped hole: separate tools"]
    assert reason.because.startswith("no step drill: ")
    assert [lost.candidate for lost in reason.rejected] == ["step drill"]
    return reason.rule


@pytest.mark.parametrize(
    ("rule", "plan"),
    [
        ("H40", planned(*SCREW, workpiece="1.2379 60 HRC")),
        ("H41", planned(*SCREW, remarks=("DRILLED THROUGH CROSS HOLE",))),
        ("H41", planned(*SCREW, remarks=("SLANTED ENTRY",))),
        ("H42", planned(*SCREW, thickness_mm=40.0)),
        ("H43", planned(*SCREW, tap("M8x1.25-6H", 12.0, side=Side.FAR))),
        ("H44", planned(tap("M8x1.25-6H", 16.0), thickness_mm=16 + 5 + 1.24 + 1.1)),
        ("H45", planned(*SCREW, found=TOO_HEAVY)),
        ("H46", planned(*SCREW, found=NO_TIME_SAVED)),
    ],
)
def test_where_a_step_drill_is_wrong_the_row_that_strikes_it_is_told(rule: str, plan: ToolPlan) -> None:
    assert struck_by(plan) == rule


def test_short_pecks_and_coolant_through_the_tool_leave_it_in_the_hole() -> None:
    assert stepped(planned(*SCREW))[0].pecks_short
    assert stepped(planned(*SCREW, thickness_mm=40.0, shop=Shop(machine=Machine(through_tool_coolant=True))))


def test_the_longest_tool_that_may_come_leaves_the_least_wall() -> None:
    for thickness_mm in (22.0, 23.0, 23.4, 23.45, 24.0):
        plan = planned(tap("M8x1.25-6H", 16.0), thickness_mm=thickness_mm)
        for both in stepped(plan):
            assert both.tip_mm is not None
            assert thickness_mm - both.tip_mm - LENGTH_OVER_MM >= Preferences().wall_warning_mm - 0.005
    assert stepped(plan)


def drilled(mm: float, depth_mm: float | None = None) -> ResolvedStep:
    return step(Kind.DRILL, size(mm), depth_mm, through=depth_mm is None)


def counterbored(mm: float, depth_mm: float, side: Side = Side.NEAR) -> ResolvedStep:
    return step(Kind.COUNTERBORE, size(mm), depth_mm, side=side)


@pytest.mark.parametrize(
    ("why", "drawn"),
    [
        ("the second diameter is over twice the first", (drilled(5), counterbored(11, 5))),
        ("the second is as deep as the first", (drilled(8, 10), counterbored(11, 10))),
        ("the drill follows a pilot", (drilled(22), counterbored(33, 10))),
        ("the two are made from two faces", (drilled(6.6), counterbored(11, 6.8, Side.FAR))),
    ],
)
def test_where_no_one_tool_has_both_diameters_nothing_is_said(why: str, drawn: tuple[ResolvedStep, ...]) -> None:
    plan = planned(*drawn)
    assert not stepped(plan), why
    assert not [each for made in plan.steps for each in made.reasons if "stepped" in each.decision]


def test_a_reamer_follows_it() -> None:
    plan = planned(step(Kind.REAM, size(8), through=True, zone="H7"), counterbored(14, 5))
    assert [(each.kind, each.diameter_mm) for each in plan.steps] == [(StepKind.DRILL, 7.8), (StepKind.REAM, 8.0)]
    assert [each.diameter_mm for each in stepped(plan)] == [7.8]


def test_without_a_thickness_there_is_no_step_length() -> None:
    assert not stepped(planned(*SCREW, thickness_mm=None))


def test_of_three_diameters_two_are_made_together() -> None:
    plan = planned(
        step(Kind.DRILL, size(6.6), through=True),
        step(Kind.COUNTERBORE, size(11), 6.8),
        step(Kind.COUNTERSINK, size(12), angle_deg=90),
    )
    assert [(each.kind, each.diameter_mm) for each in plan.parts] == [
        (StepKind.DRILL, 6.6), (StepKind.COUNTERBORE, 11.0), (StepKind.COUNTERSINK, 12.0),
    ]  # fmt: skip
    assert len(plan.steps) == 2


def test_a_shop_may_ask_for_it_in_any_lot_or_never_have_it() -> None:
    wanted = "id,decides,effect,verdict\n,stepped hole,choose,step drill\n"
    assert stepped(planned(*SCREW, lot=1, rules=laid_over(wanted, "own.csv", standard_rules())))
    never = "id,decides,effect,verdict\n,stepped hole,never,step drill\n"
    assert not stepped(planned(*SCREW, rules=laid_over(never, "own.csv", standard_rules())))
    over_pecks = "id,effect,decides,verdict\nH42,off,stepped hole,step drill\n"
    deep = planned(*SCREW, thickness_mm=40.0, rules=laid_over(over_pecks, "own.csv", standard_rules()))
    assert stepped(deep)


def test_a_knife_edge_is_asked_as_with_two_tools() -> None:
    thin = planned(*COUNTERSUNK, thickness_mm=3.0)
    assert "COUNTERSINK-KNIFE-EDGE" in codes(thin)


def test_the_crib_is_not_searched_for_a_tool_that_is_ordered() -> None:
    shop = replace(Shop(), crib=(ShopTool("drill", "6.6"),))
    assert "TOOL-NOT-IN-CRIB" not in codes(planned(*SCREW, shop=shop))


def test_the_tap_drill_stays_the_tap_drill() -> None:
    (both,) = stepped(planned(tap("M8x1.25-6H", 16.0)))
    apart = planned(tap("M8x1.25-6H", 16.0), found=NO_TIME_SAVED)
    assert both.fit == one(apart, StepKind.DRILL).fit
