"""Whole holes: which steps, in which order, how deep, and what is asked."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tooling_samples import CELL, codes, geometry, hole, material, one, plan, size, step, tap

from holesched.callouts.model import Depth, Kind, Side
from holesched.notes import Severity
from holesched.pipeline import explain
from holesched.resolve.model import ResolvedStep
from holesched.schedule.model import ReadOptions
from holesched.shop.model import Machine, Preferences, Shop, ShopTool
from holesched.standards.sizes import Limits
from holesched.tooling.choose import plan_tools, stated_drills
from holesched.tooling.model import StepKind, ToolPlan

M8 = "M8x1.25-6H"


def kinds(made: ToolPlan) -> list[str]:
    return [one.kind.value for one in made.steps]


def test_a_blind_thread_in_aluminium() -> None:
    made = plan(tap(M8, 16))
    assert kinds(made) == ["spot", "drill", "tap"]
    spot, drill, tapped = made.steps
    assert (spot.diameter_mm, spot.tip_mm) == (8.4, 4.2)
    assert (drill.tool.size, drill.depth_mm) == ("6.8", 21.0)
    assert drill.tip_mm == pytest.approx(21.0 + 6.8 / 2 / 2.1445069, abs=1e-4)  # 130 degree point: tan 65
    assert drill.fit is not None
    assert tapped.tool.flute_form == "spiral-flute"
    assert tapped.tool.chamfer is not None
    assert (tapped.depth_mm, tapped.tip_mm, tapped.travel_mm) == (16, 19.75, 21.75)
    assert codes(made) == []
    assert all(reason.rule and reason.because for one in made.steps for reason in one.reasons)


def test_a_through_thread_goes_past_the_far_face() -> None:
    """25 mm of thread, 5 threads of form B, half a diameter of male centre (ASME B18.29.2M) and 1 mm beyond."""
    tapped = one(plan(tap(M8)), StepKind.TAP)
    assert tapped.tool.flute_form == "spiral-point"
    assert (tapped.depth_mm, tapped.tip_mm) == (25, 25 + 5 * 1.25 + 4 + 1)
    assert tapped.through


def test_unknown_thickness_is_asked_once_and_leaves_through_depths_open() -> None:
    first, second = plan(tap(M8), thickness_mm=None), plan(tap("M6x1-6H"), thickness_mm=None)
    assert codes(first) == ["THICKNESS-MISSING"]
    assert first.notes == second.notes, "the same note for every hole, so that a job says it once"
    for made in first.steps[1:]:
        assert (made.depth_mm, made.tip_mm, made.travel_mm) == (None, None, None)


def test_a_blind_thread_in_a_part_of_unknown_thickness_is_told() -> None:
    made = plan(tap(M8, 16), thickness_mm=None)
    assert codes(made) == ["WALL-UNKNOWN"]
    assert made.budgets[0].wall_left_mm is None
    assert made.notes[0].severity is Severity.TOLD
    assert made.notes[0].ref == CELL


@pytest.mark.parametrize(("workpiece", "form"), [("EN-GJL-250", "D"), ("6061", "C")])
def test_a_deeper_drilled_hole_takes_a_longer_chamfer_in_straight_flutes_only(workpiece: str, form: str) -> None:
    """25 mm drilled under 16 mm of thread leave 6.2 threads."""
    made = plan(step(Kind.DRILL, size(6.8), 25), tap(M8, 16), workpiece=workpiece, thickness_mm=40)
    chamfer = one(made, StepKind.TAP).tool.chamfer
    assert chamfer is not None
    assert chamfer.form == form
    assert kinds(made) == ["spot", "drill", "tap"], "the stated drill is the tap drill"


@pytest.mark.parametrize(("stated", "threads"), [(21.0, 3.0), (20.9, 2.5), (20.375, 2.5), (20.3, 2.0), (19.75, 2.0)])
def test_the_longest_chamfer_that_fits(stated: float, threads: float) -> None:
    """Room under 16 mm: 3 + 1 pitches need 5.0, 2.5 + 1 need 4.375, 2 + 1 need 3.75 mm; calculated."""
    made = plan(step(Kind.DRILL, size(6.8), stated), tap(M8, 16))
    chamfer = one(made, StepKind.TAP).tool.chamfer
    assert chamfer is not None
    assert chamfer.threads == threads
    assert codes(made) == []
    assert made.budgets[0].clearance_mm >= 1.25 - 1e-6


def test_too_shallow_is_asked_and_the_tap_does_not_bottom() -> None:
    made = plan(step(Kind.DRILL, size(6.8), 17), tap(M8, 16))
    assert codes(made) == ["DEPTH-DRILL-TOO-SHALLOW"]
    drill, tapped = one(made, StepKind.DRILL), one(made, StepKind.TAP)
    assert drill.depth_mm == 17
    assert tapped.tip_mm is not None
    assert tapped.tip_mm < 17


def test_a_thin_part_first_shortens_the_chamfer_then_asks() -> None:
    calm, short, thin, broken = (plan(tap(M8, 16), thickness_mm=mm) for mm in (24, 23, 22, 19.4))
    chamfers = [one(made, StepKind.TAP).tool.chamfer for made in (calm, short, thin, broken)]
    assert [chamfer.threads for chamfer in chamfers if chamfer] == [3, 2.5, 3, 2]
    assert [codes(made) for made in (calm, short, thin, broken)] == [[], [], ["HOLE-FLAT-BOTTOM"], ["DEPTH-BREAKS-THROUGH"]]


def test_a_through_drill_under_a_blind_thread_lets_the_chips_out() -> None:
    made = plan(step(Kind.DRILL, size(6.8), through=True), tap(M8, 16))
    assert one(made, StepKind.TAP).tool.flute_form == "spiral-point"
    assert one(made, StepKind.DRILL).through
    assert made.budgets == ()


def test_a_stated_drill_outside_the_limits_is_asked_and_used() -> None:
    made = plan(step(Kind.DRILL, size(7), 22), tap(M8, 16))
    assert codes(made) == ["TAP-DRILL-STATED-OUTSIDE"]
    assert one(made, StepKind.DRILL).tool.size == "7"


def test_a_stated_drill_that_only_carbide_keeps_inside_becomes_carbide() -> None:
    """M6 and 5.15 mm: 5.20 mm in steel is over 5.153; so is 5.17 in carbide, which is asked; #7 (5.105) is not."""
    made = plan(step(Kind.DRILL, size(5.1054, "#7"), 20), tap("M6x1-6H", 12))
    assert codes(made) == []
    assert one(made, StepKind.DRILL).tool.material == "carbide"
    assert codes(plan(step(Kind.DRILL, size(5.15), 20), tap("M6x1-6H", 12))) == ["TAP-DRILL-STATED-OUTSIDE"]


def test_a_much_smaller_drill_is_a_hole_of_its_own() -> None:
    steps = (step(Kind.DRILL, size(3), through=True), tap(M8, 16))
    assert stated_drills(steps) == {}
    made = plan(*steps)
    assert [one.tool.size for one in made.steps if one.kind is StepKind.DRILL] == ["3", "6.8"]


def test_a_through_thread_with_a_blind_drill_is_asked() -> None:
    assert "TAP-THROUGH-DRILL-BLIND" in codes(plan(step(Kind.DRILL, size(6.8), 20), tap(M8)))


def test_a_counterbored_screw_hole() -> None:
    made = plan(step(Kind.DRILL, size(9), through=True), step(Kind.COUNTERBORE, size(15), 9))
    assert kinds(made) == ["spot", "drill", "counterbore"]
    bore = one(made, StepKind.COUNTERBORE)
    assert (bore.depth_mm, bore.tip_mm, bore.travel_mm, bore.start_mm) == (9, 9, 11, 0)


def test_a_thread_under_a_counterbore_starts_on_its_floor() -> None:
    made = plan(tap(M8, 20), step(Kind.COUNTERBORE, size(15), 5), thickness_mm=40)
    assert kinds(made) == ["spot", "drill", "counterbore", "countersink", "tap"]
    tapped, chamfer = one(made, StepKind.TAP), one(made, StepKind.COUNTERSINK)
    assert (tapped.start_mm, tapped.depth_mm, tapped.travel_mm) == (5, 20, 2 + 20 + 3.75 - 5)
    assert (chamfer.start_mm, chamfer.tip_mm) == (5, 9.2)
    assert codes(made) == ["DEPTH-FROM-FACE"]
    assert made.notes[0].severity is Severity.ASSUMED


def test_a_thread_inside_its_counterbore_is_asked() -> None:
    assert "DEPTH-INSIDE-COUNTERBORE" in codes(plan(tap(M8, 4), step(Kind.COUNTERBORE, size(15), 5)))


def test_a_countersunk_hole_gets_only_a_dimple_and_the_angle_is_part_of_the_tool() -> None:
    made = plan(step(Kind.DRILL, size(6.6), through=True), step(Kind.COUNTERSINK, size(13), angle_deg=82))
    assert kinds(made) == ["spot", "drill", "countersink"]
    assert made.steps[0].diameter_mm < 6.6
    cone = one(made, StepKind.COUNTERSINK)
    assert cone.tool.point_angle_deg == 82
    assert cone.tool.name == "82 degree countersink"
    assert cone.tip_mm == pytest.approx(13 / 2 / 0.8692867, abs=1e-4)  # tan 41 degrees


@pytest.mark.parametrize(
    ("hole", "rim", "angle", "fed"), [(6.6, 13.0, 90.0, 2 + 3.2), (6.6, 13.0, 82.0, 2 + 3.2 / 0.8692867)]
)
def test_a_cone_in_a_hole_is_fed_from_where_it_touches(hole: float, rim: float, angle: float, fed: float) -> None:
    """Geometry: (13 - 6.6) / 2 over tan(angle / 2), 2 mm of approach; from either face of a through hole."""
    for side in (Side.NEAR, Side.FAR):
        cone = one(
            plan(
                step(Kind.DRILL, size(hole), through=True),
                step(Kind.COUNTERSINK, size(rim), angle_deg=angle, side=side),
            ),
            StepKind.COUNTERSINK,
        )
        assert cone.travel_mm == pytest.approx(fed, abs=1e-4)


def test_a_spot_in_solid_metal_is_fed_from_the_face() -> None:
    spot = plan(tap(M8, 16)).steps[0]
    assert spot.travel_mm == pytest.approx(2 + 4.2)


def test_a_countersink_without_an_angle_is_asked() -> None:
    made = plan(step(Kind.DRILL, size(6.6), through=True), step(Kind.COUNTERSINK, size(13)))
    assert codes(made) == ["COUNTERSINK-ANGLE-MISSING"]


def test_both_sides_are_two_steps_and_a_second_set_up() -> None:
    made = plan(step(Kind.DRILL, size(6.6), through=True), step(Kind.COUNTERSINK, size(13), angle_deg=90, side=Side.BOTH))
    cones = [one for one in made.steps if one.kind is StepKind.COUNTERSINK]
    assert [one.step.side for one in cones if one.step] == [Side.NEAR, Side.FAR]
    assert codes(made) == ["SECOND-SETUP"]
    assert made.notes[0].severity is Severity.WATCH


def test_a_far_side_counterbore_comes_after_everything_of_the_near_side() -> None:
    made = plan(step(Kind.COUNTERBORE, size(15), 9, side=Side.FAR), tap(M8))
    assert kinds(made) == ["spot", "drill", "tap", "counterbore"]
    assert codes(made) == ["SECOND-SETUP"]
    assert made.notes[0].suggestion.endswith("set-up 2, or cut it from the near face with a tool that cuts back.")


def test_no_tool_cuts_a_thread_from_behind() -> None:
    made = plan(replace(tap(M8, 16.0), side=Side.FAR))
    (said,) = [note for note in made.notes if note.code == "SECOND-SETUP"]
    assert said.suggestion == "The part is turned over for it, set-up 2."


@pytest.mark.parametrize("through", [True, False])
def test_a_head_is_cut_from_behind_only_through_a_hole(through: bool) -> None:
    hole_step = step(Kind.DRILL, size(9), 20.0, through=through)
    made = plan(hole_step, step(Kind.COUNTERBORE, size(15), 8.0, side=Side.FAR), thickness_mm=60)
    (said,) = [note for note in made.notes if note.code == "SECOND-SETUP"]
    assert ("cuts back" in said.suggestion) == through


def test_a_spotface_follows_its_drill_and_a_missing_depth_is_assumed() -> None:
    """The pilot of its cutter runs in the drilled hole. Common practice, no source."""
    made = plan(step(Kind.SPOTFACE, size(20), None), step(Kind.DRILL, size(9), through=True))
    assert kinds(made) == ["spot", "drill", "spotface"]
    assert codes(made) == ["SPOTFACE-CLEAN-UP"]
    assert one(made, StepKind.DRILL).start_mm == 0
    assert "pilot" in one(made, StepKind.SPOTFACE).reasons[0].because


def test_a_slanted_face_is_spotfaced_before_it_is_drilled() -> None:
    made = plan(step(Kind.SPOTFACE, size(20), 1), step(Kind.DRILL, size(9), through=True), remarks=("ON SLANTED FACE",))
    assert kinds(made) == ["spotface", "spot", "drill"]
    assert made.steps[1].start_mm == 1


def test_a_spotfaced_thread_is_chamfered_after_the_spotface() -> None:
    made = plan(step(Kind.SPOTFACE, size(20), 1), tap(M8))
    assert kinds(made) == ["spot", "drill", "spotface", "countersink", "tap"]
    assert one(made, StepKind.COUNTERSINK).start_mm == 1


@pytest.mark.parametrize(
    ("workpiece", "material_of_cutter"),
    [("C45", "HSS-Co"), ("304", "HSS-Co"), ("alloy 718 aged", "carbide"), ("60 HRC", "carbide"), ("A390", "carbide")],
)
def test_countersinks_are_of_what_the_workpiece_needs(workpiece: str, material_of_cutter: str) -> None:
    made = plan(
        step(Kind.DRILL, size(6.6), through=True), step(Kind.COUNTERSINK, size(13), angle_deg=90), workpiece=workpiece
    )
    cone = one(made, StepKind.COUNTERSINK)
    assert cone.tool.material == material_of_cutter
    assert any(reason.decision == f"cutter material: {material_of_cutter}" for reason in cone.reasons)


def test_a_counterbore_without_a_depth_is_asked() -> None:
    made = plan(step(Kind.DRILL, size(9), through=True), step(Kind.COUNTERBORE, size(15), None))
    assert codes(made) == ["COUNTERBORE-DEPTH-MISSING"]


def test_a_reamed_hole_is_drilled_with_the_allowance_and_deeper_than_it_is_reamed() -> None:
    """6 H7, 0.15 to 0.20 mm for the reamer (common practice): 5.8 drills about 5.85."""
    made = plan(step(Kind.REAM, size(6), 12, zone="H7"))
    assert kinds(made) == ["spot", "drill", "ream"]
    drill, reamed = one(made, StepKind.DRILL), one(made, StepKind.REAM)
    assert drill.tool.size == "5.8"
    assert reamed.tool.limit == "H7"
    assert reamed.tip_mm is not None
    assert drill.depth_mm is not None
    assert reamed.depth_mm == 12
    assert reamed.tip_mm <= drill.depth_mm


def test_an_inch_reamer_takes_an_inch_drill() -> None:
    drill = one(plan(step(Kind.REAM, size(6.35, "1/4"), through=True, limits=Limits(6.35, 6.365))), StepKind.DRILL)
    assert drill.tool.size == "C"


def test_a_stated_drill_too_shallow_for_the_reamer_is_asked() -> None:
    made = plan(step(Kind.DRILL, size(5.8), 12), step(Kind.REAM, size(6), 12, zone="H7"))
    assert codes(made) == ["DEPTH-REAM-TOO-SHALLOW"]
    assert kinds(made) == ["spot", "drill", "ream"]


def test_a_stated_drill_that_leaves_the_reamer_nothing_is_watched() -> None:
    assert "REAM-ALLOWANCE" in codes(plan(step(Kind.DRILL, size(7.98), 20), step(Kind.REAM, size(8), 12, zone="H7")))


def test_large_holes_are_bored_after_a_drill_with_a_pilot() -> None:
    for kind in (Kind.BORE, Kind.REAM):
        made = plan(step(kind, size(36), through=True, zone="H7"))
        assert kinds(made) == ["spot", "drill", "drill", "bore"]
        assert [one.tool.size for one in made.steps if one.kind is StepKind.DRILL] == ["11", "32"]


def test_what_a_drill_leaves_too_much_of_is_opened_before_it_is_bored() -> None:
    """1 mm on the diameter is left to the boring bar: common practice, no source."""
    milled = plan(step(Kind.BORE, size(40), through=True, zone="H7"))
    assert [(one.kind.value, one.diameter_mm) for one in milled.steps[1:]] == [("drill", 20), ("mill", 39), ("bore", 40)]
    no_helix = Shop(machine=Machine(thread_milling=False))
    bored = plan(step(Kind.BORE, size(40), through=True, zone="H7"), shop=no_helix)
    assert [one.diameter_mm for one in bored.steps if one.kind is StepKind.BORE] == [35.5, 39, 40]
    stated = plan(step(Kind.DRILL, size(35), through=True), step(Kind.BORE, size(40), through=True, zone="H7"))
    assert "BORE-STOCK" in codes(stated)


def test_limits_decide_the_drill_its_material_and_at_last_the_reamer() -> None:
    """10 mm: +0.2 by a steel drill, +0.05 only by carbide, +0.015 by no drill."""
    wide, close, tight = (
        plan(step(Kind.DRILL, size(10), through=True, limits=Limits(10, high))) for high in (10.2, 10.05, 10.015)
    )
    assert one(wide, StepKind.DRILL).tool.material == "HSS-Co"
    assert one(close, StepKind.DRILL).tool.material == "carbide"
    assert kinds(tight) == ["spot", "drill", "ream"]
    assert codes(tight) == ["DRILL-FINISHED"]


def test_a_size_that_is_no_drill_is_asked() -> None:
    made = plan(step(Kind.DRILL, size(14.62), through=True))
    assert codes(made) == ["DRILL-SIZE-NOT-STANDARD"]
    assert one(made, StepKind.DRILL).tool.size in made.notes[0].assumed


@pytest.mark.parametrize(("mm", "name"), [(6.7564, "H"), (6.756, "H"), (7.144, "9/32"), (7.1, "7.1")])
def test_a_rounded_diameter_finds_its_drill(mm: float, name: str) -> None:
    made = plan(step(Kind.DRILL, size(mm), through=True))
    assert one(made, StepKind.DRILL).tool.size == name
    assert codes(made) == []


@pytest.mark.parametrize(
    ("depth", "pecks"), [(15, 1), (20, 2), (25, 3), (30, 5), (35, 7)], ids=["3 d", "4 d", "5 d", "6 d", "7 d"]
)
def test_pecks_grow_with_depth(depth: float, pecks: int) -> None:
    """5 mm drill; bites 3 then 1 d to 5 d, 2.5, 1.5, 1, 0.75, 0.5 d beyond. Common practice, no source."""
    drill = one(plan(step(Kind.DRILL, size(5), depth), thickness_mm=60), StepKind.DRILL)
    assert drill.pecks == pecks


@pytest.mark.parametrize(("grade", "pecks", "ducts"), [("carbide", 1, True), ("HSS-Co", 7, False), ("HSS", 7, False)])
def test_coolant_through_the_tool_needs_no_pecks_but_a_drill_with_ducts(grade: str, pecks: int, ducts: bool) -> None:
    """Drills of high-speed steel are stocked without: common practice, no source. The machine alone brings it nowhere."""
    shop = Shop(machine=Machine(through_tool_coolant=True), preferences=Preferences(drill_material=grade))
    drill = one(plan(step(Kind.DRILL, size(5), 35), thickness_mm=60, shop=shop), StepKind.DRILL)
    assert (drill.pecks, drill.tool.ducts, drill.coolant.endswith("through the tool")) == (pecks, ducts, ducts)
    assert drill.coolant_reasons[-1].rule == ("V20" if ducts else "V21")


def test_a_very_deep_hole_is_watched() -> None:
    assert codes(plan(step(Kind.DRILL, size(5), through=True), thickness_mm=60)) == ["HOLE-DEEP"]


def test_hardened_work_is_drilled_and_tapped_in_carbide_without_a_spot() -> None:
    made = plan(tap(M8), workpiece="hardened-45-55")
    assert kinds(made) == ["drill", "countersink", "tap"]
    assert {one.tool.material for one in made.steps if one.kind is not StepKind.COUNTERSINK} == {"carbide"}
    assert one(made, StepKind.TAP).tool.flute_form == "straight-flute"
    assert codes(made) == ["TAP-CARBIDE"]


NO_MILLING = Shop(machine=Machine(thread_milling=False))


def test_above_55_hrc_the_thread_is_milled_and_hardening_asked_about() -> None:
    made = plan(tap(M8), workpiece="hardened-55-62")
    assert kinds(made) == ["drill", "countersink", "thread mill"]
    assert codes(made) == ["THREAD-MILLED", "THREAD-MILL-DEEP", "THREAD-HARDENED"]
    assert one(made, StepKind.THREAD_MILL).reasons[0].rule == "P28"


def test_above_55_hrc_without_a_thread_mill_nothing_is_planned_but_the_hole() -> None:
    made = plan(tap(M8), workpiece="hardened-55-62", shop=NO_MILLING)
    assert kinds(made) == ["drill"]
    assert codes(made) == ["TAP-NONE-HOLDS"]
    assert made.notes[0].is_question
    assert "the machine does not mill threads" in made.notes[0].message


def test_above_m30_the_thread_is_milled() -> None:
    """Cutter 0.6 of 36 = 21.6 mm, with inserts; the tip lies one pitch under the thread."""
    made = plan(tap("M36x4-6H", 40), workpiece="C45", thickness_mm=80)
    milled = one(made, StepKind.THREAD_MILL)
    assert kinds(made) == ["spot", "drill", "drill", "countersink", "thread mill"]
    assert (milled.tool.size, milled.tool.material, milled.tool.flutes) == ("21.6 x P4", "carbide", 2)
    assert (milled.diameter_mm, milled.depth_mm, milled.tip_mm) == (36, 40, 44)
    assert codes(made) == ["THREAD-MILLED"]
    assert [reason.rule for reason in milled.reasons[:4]] == ["P23", "THREAD-MILL-SIZE", "THREAD-MILL-MATERIAL", "G10"]


def test_above_m30_a_machine_that_does_not_mill_taps_and_says_what_would_be_better() -> None:
    made = plan(tap("M36x4-6H"), workpiece="C45", thickness_mm=40, shop=NO_MILLING)
    assert one(made, StepKind.TAP).tool.size == "M36x4"
    (note,) = [note for note in made.notes if note.code == "TAP-THREAD-MILL"]
    assert "torque of a tap grows" in note.message
    assert "the machine does not mill threads" in note.message


def test_a_milled_blind_thread_needs_less_depth() -> None:
    """40 mm, 1 P for the mill's end and 1 P of clearance, P 4: 48.0 mm; a plug tap would take 56.0. Calculated."""
    milled, tapped = (
        plan(tap("M36x4-6H", 40), workpiece="C45", thickness_mm=90, shop=shop).budgets[0] for shop in (Shop(), NO_MILLING)
    )
    assert (milled.drilled_mm, milled.chamfer_mm, milled.clearance_mm) == (48.0, 0.0, 8.0)
    assert milled.governed_by.startswith("end of the thread mill and clearance")
    assert tapped.drilled_mm == 56.0


def test_a_hole_too_shallow_for_a_tap_may_be_milled() -> None:
    """M8, 16 deep, drilled 18.5: a bottoming tap needs 19.75, a thread mill 18.5. Calculated."""
    suggestion = plan(step(Kind.DRILL, size(6.8), 18.5), tap(M8, 16)).notes[0].suggestion
    assert "mill the thread, for which 18.5 mm are enough" in suggestion
    assert "mill" not in plan(step(Kind.DRILL, size(6.8), 18.4), tap(M8, 16)).notes[0].suggestion
    unable = plan(step(Kind.DRILL, size(6.8), 18.5), tap(M8, 16), shop=NO_MILLING)
    assert "mill" not in unable.notes[0].suggestion


@pytest.mark.parametrize(
    ("text", "size", "name"),
    [
        ("1 1/4-7 UNC-2B", "19 x 7 TPI", "thread mill"),
        ("G1 1/4", "25.1 x 11 TPI", "55 degree thread mill with inserts"),
        ("M42x2-6H", "25.2 x P2", "thread mill with inserts"),
    ],
)
def test_pitch_and_angle_are_part_of_the_thread_mill(text: str, size: str, name: str) -> None:
    tool = one(plan(tap(text, 30), workpiece="C45", thickness_mm=80), StepKind.THREAD_MILL).tool
    assert (tool.size, tool.name) == (size, name)


def test_a_taper_thread_too_heavy_to_tap_is_milled_with_a_cutter_of_its_form() -> None:
    """One turn of a cutter with the thread's taper, in a straight-drilled hole; proved by the plug as a tapped one is.
    Common practice, no source."""
    made = plan(tap("1 1/4-11.5 NPT", 30), workpiece="C45", thickness_mm=80, torque={"1 1/4-11.5 NPT": 2.0})
    milled = one(made, StepKind.THREAD_MILL)
    assert milled.tool.name == "1:16 taper thread mill with inserts"
    assert milled.tool.size.endswith("x 11.5 TPI NPT")
    assert {"THREAD-MILL-TAPER", "PIPE-STOP-BY-GAUGE"} <= set(codes(made))
    (stop,) = [note for note in made.notes if note.code == "PIPE-STOP-BY-GAUGE"]
    assert "open the radius offset until the plug enters so far" in stop.message
    assert not any(step.tool.before_thread for step in made.steps)
    through = plan(replace(tap("1 1/4-11.5 NPT"), through=True), thickness_mm=80, torque={"1 1/4-11.5 NPT": 2.0})
    (stop,) = [note for note in through.notes if note.code == "PIPE-STOP-BY-GAUGE"]
    assert stop.message.endswith("the hole is drilled through, the thread is not milled through.")
    unable = Shop(machine=Machine(thread_milling=False))
    tapped = plan(tap("1 1/4-11.5 NPT", 30), workpiece="C45", thickness_mm=80, shop=unable, torque={"1 1/4-11.5 NPT": 2.0})
    assert StepKind.TAP in [step.kind for step in tapped.steps]
    assert {"TAP-HAND-SET", "PIPE-STOP-BY-GAUGE"} <= set(codes(tapped))


def test_a_left_hand_milled_thread_takes_the_same_cutter() -> None:
    right, left = (one(plan(tap(text, 40), thickness_mm=80), StepKind.THREAD_MILL) for text in ("M36", "M36 LH"))
    assert right.tool == left.tool
    assert "THREAD-MILL-LEFT-HAND" in codes(plan(tap("M36 LH", 40), thickness_mm=80))


def test_a_shop_that_taps_by_hand_gets_sets_and_the_spindle_stands() -> None:
    shop = Shop(preferences=Preferences(tap_by_hand=True))
    made = plan(tap(M8, 16), shop=shop)
    tapped = made.steps[-1].tool
    assert tapped.by_hand
    assert tapped.chamfer is not None
    assert (tapped.flute_form, tapped.chamfer.name) == ("straight-flute", "bottoming")
    assert codes(made) == ["TAP-HAND-SET"]
    through = one(plan(tap(M8), shop=shop), StepKind.TAP).tool.chamfer
    assert through is not None
    assert through.name == "taper"
    assert not one(plan(tap(M8, 16)), StepKind.TAP).tool.by_hand


def test_a_shop_that_prefers_forming_gets_it_where_the_material_allows() -> None:
    shop = Shop(preferences=Preferences(prefer_forming=True))
    made = plan(tap(M8, 16), shop=shop)
    assert one(made, StepKind.TAP).tool.flute_form == "forming"
    assert one(made, StepKind.DRILL).tool.size == "7.4"
    assert codes(made) == ["TAP-DRILL-CLOSE", "TAP-FORMED"]
    assert one(plan(tap(M8, 16), shop=shop, workpiece="EN-GJL-250"), StepKind.TAP).tool.flute_form == "straight-flute"


def test_a_floating_holder_gets_a_pitch_more_of_clearance() -> None:
    made = plan(tap(M8, 16), shop=Shop(machine=Machine(rigid_tapping=False)), thickness_mm=40)
    assert made.budgets[0].clearance_mm == 2.5
    assert codes(made) == [], "the holder is told once for the job, with the cutting parameters"


def test_the_shops_own_drill_material_is_kept() -> None:
    shop = Shop(preferences=Preferences(drill_material="HSS"))
    drill = one(plan(tap(M8, 16), shop=shop), StepKind.DRILL)
    assert (drill.tool.material, drill.tool.point_angle_deg) == ("HSS", 118)
    assert any(reason.rule == "SHOP-DRILL-MATERIAL" for reason in drill.reasons)


def test_without_spot_drills_the_thread_is_still_chamfered() -> None:
    shop = Shop(preferences=Preferences(spot_drill=False))
    assert kinds(plan(tap(M8, 16), shop=shop)) == ["drill", "countersink", "tap"]
    assert kinds(plan(step(Kind.DRILL, size(9), through=True), shop=shop)) == ["drill"]


def test_tools_missing_from_the_crib_are_named() -> None:
    shop = Shop(crib=(ShopTool("drill", "6.8"), ShopTool("tap", "M8x1.25")))
    assert codes(plan(tap(M8, 16), shop=shop)) == []
    made = plan(tap("M6x1-6H", 12), shop=shop)
    assert codes(made) == ["TOOL-NOT-IN-CRIB", "TOOL-NOT-IN-CRIB"]
    assert made.notes[0].message == "drill 5 mm (HSS-Co) is not in the crib.", "a metric size on an inch sheet has its unit"


def test_what_is_remembered_for_a_shop_is_not_another_shops() -> None:
    """Shops that differ in nothing but their cribs have one hash."""
    small, other = Shop(crib=(ShopTool("drill", "6.8"),)), Shop(crib=(ShopTool("drill", "6.7"),))
    assert hash(small) == hash(other)
    for shop, drill in ((small, "6.8"), (other, "6.7"), (small, "6.8")):
        made = plan(tap(M8, 16), shop=shop)
        assert (one(made, StepKind.DRILL).tool.size, codes(made)) == (drill, [])


def test_words_of_the_drawing_change_the_tap() -> None:
    across = plan(tap(M8), remarks=("INTERSECTS CROSS HOLE",))
    assert one(across, StepKind.TAP).tool.flute_form == "straight-flute"
    assert "HOLE-INTERRUPTED" in codes(across)
    blocked = plan(tap("M10x1.5-6H"), remarks=("ROOM BEYOND 8 mm",))
    assert one(blocked, StepKind.TAP).tool.flute_form == "spiral-flute"
    assert "HOLE-BLOCKED" in codes(blocked)


def test_words_beside_the_row_change_the_tap_too() -> None:
    drawn = hole(tap("M10x1.5-6H"))
    noted = replace(drawn, type=replace(drawn.type, members=(replace(drawn.type.members[0], note="room beyond: 8 mm"),)))
    assert "HOLE-BLOCKED" in codes(plan_tools(noted, material("6061"), Shop()))
    assert "HOLE-BLOCKED" not in codes(plan_tools(drawn, material("6061"), Shop()))


def test_a_left_hand_thread_is_watched() -> None:
    made = plan(tap("M8x1.25-6H-LH"))
    assert one(made, StepKind.TAP).tool.left_hand
    assert codes(made) == ["TAP-LEFT-HAND"]


def test_every_drill_carries_its_expected_oversize() -> None:
    drill = one(plan(tap(M8, 16)), StepKind.DRILL)
    assert drill.fit is not None
    assert drill.fit.hole_mm == pytest.approx(drill.tool.diameter_mm + drill.tool.oversize_mm)


def test_an_unresolved_hole_has_no_steps() -> None:
    made = plan_tools(replace(hole(tap(M8)), steps=()), material("6061"), Shop())
    assert (made.steps, made.notes) == ((), ())


def test_a_flat_bottom_is_planned_where_the_point_alone_is_too_much() -> None:
    """Calculated: 16 + 2 x 1.25 + 1.25 are 19.75 drilled, the point of 130 degrees 1.59: it would break through 21 mm. Flat
    there is no room for more: 21 - 1 - 16 - 1.25 are 2.2 pitches."""
    made = plan(tap(M8, 16), thickness_mm=21)
    first, flat = (step for step in made.steps if step.kind is StepKind.DRILL)
    assert (first.tool.name, flat.tool.name) == ("drill", "flat-ended drill")
    assert flat.depth_mm == flat.tip_mm == 19.75
    assert first.tip_mm == pytest.approx(19.75)
    assert flat.travel_mm == pytest.approx(2.0 + 1.585, abs=0.01), "approach and the point"
    [budget] = made.budgets
    assert (budget.point_mm, budget.tip_mm, budget.wall_left_mm) == (0.0, 19.75, 1.25)
    [note] = made.notes
    assert (note.code, note.severity) == ("HOLE-FLAT-BOTTOM", Severity.WATCH)
    assert "would break through" in note.message
    assert "1.25 mm of wall are left" in note.message


def test_a_short_blind_thread_gives_up_the_room_for_chips_before_it_is_asked() -> None:
    """Calculated, M3x0.5 by 6: a millimetre for chips, or one pitch of 0.5 at least (ASME B18.29.2M), under a chamfer of 2
    pitches: 8.0 or 7.5 drilled. In 8.5 mm that leaves the least wall of 1 mm, flat; the point of 2.5 is 0.58 high. In 7.9
    even a thread mill, which needs 7.0, leaves too little."""
    roomy, tight, thin = (plan(tap("M3x0.5-6H", 6), workpiece="C45", thickness_mm=mm) for mm in (10, 8.5, 7.9))
    assert [made.budgets[0].clearance_mm for made in (roomy, tight, thin)] == [1.0, 0.5, 0.5]
    assert [made.budgets[0].drilled_mm for made in (tight, thin)] == [7.5, 7.5]
    assert [codes(made) for made in (roomy, tight, thin)] == [[], ["HOLE-FLAT-BOTTOM"], ["WALL-THIN"]]
    assert tight.budgets[0].wall_left_mm == 1.0
    drill = next(each for each in tight.steps if each.kind is StepKind.DRILL)
    assert [reason.rule for reason in drill.reasons if reason.rule.startswith("K")] == ["K20"]
    assert not any(reason.rule == "K20" for each in roomy.steps for reason in each.reasons)
    [asked] = thin.notes
    assert "0.40 mm of wall" in asked.message


@pytest.mark.parametrize(
    ("thickness_mm", "drilled_mm", "flat", "asked"),
    [(10.0, 7.5, False, []), (9.0, 6.5, False, []), (8.0, 6.5, True, ["HOLE-FLAT-BOTTOM"]), (7.0, 6.5, True, ["WALL-THIN"])],
)
def test_a_short_reamed_hole_gives_up_the_room_for_chips_before_it_is_asked(
    thickness_mm: float, drilled_mm: float, flat: bool, asked: list[str]
) -> None:
    """Calculated, 6 H7 by 5: 1.5 of lead and 1 for chips under it, the point of 5.8 is 1.35 high. 7.5 + 1.35 leave 1.15 of
    10 mm; 6.5 + 1.35 leave 1.15 of 9; 6.5 alone 1.5 of 8 and 0.5 of 7, where the least wall is 1."""
    made = plan(step(Kind.REAM, size(6), 5.0, zone="H7"), workpiece="C45", thickness_mm=thickness_mm)
    drills = [each for each in made.steps if each.kind is StepKind.DRILL]
    assert [drills[-1].depth_mm, drills[-1].tool.name == "flat-ended drill"] == [drilled_mm, flat]
    assert codes(made) == asked
    reamed = one(made, StepKind.REAM)
    assert reamed.depth_mm == 5.0
    assert reamed.tip_mm is not None
    assert reamed.tip_mm <= drilled_mm
    assert any(reason.rule == "K20" for reason in drills[0].reasons + drills[-1].reasons) == (drilled_mm == 6.5)


def test_a_reamed_hole_may_end_flat_too() -> None:
    """Calculated: 20 + 1.5 of lead are 21.5 drilled at the least, point of 7.8: 1.82; 0.68 of 24 mm would be left. Flat,
    there is room for 1 mm of chips too: 22.5, and 1.50 left."""
    made = plan(step(Kind.REAM, size(8), 20.0, zone="H7"), workpiece="C45", thickness_mm=24)
    assert [each.tool.name for each in made.steps if each.kind is StepKind.DRILL] == ["drill", "flat-ended drill"]
    [note] = [note for note in made.notes if note.code == "HOLE-FLAT-BOTTOM"]
    assert "1.50 mm of wall are left" in note.message


def test_a_stated_depth_whose_point_would_break_through_is_still_asked() -> None:
    made = plan(step(Kind.DRILL, size(6.8), 19.75), tap(M8, 16), thickness_mm=21)
    [note] = made.notes
    assert (note.code, note.severity) == ("DEPTH-BREAKS-THROUGH", Severity.ASK)
    assert "flat-ended drill: 1.25 mm" in note.assumed
    assert all(step.tip_mm is None or step.tip_mm <= 20.0 for step in made.steps)


def test_a_flat_bottom_does_not_help_where_the_cylinder_is_too_deep() -> None:
    made = plan(tap(M8, 16), thickness_mm=18)
    assert "flat" not in made.notes[0].suggestion
    assert [step.tool.name for step in made.steps if step.kind is StepKind.DRILL] == ["drill"]


def test_a_hole_shallower_than_its_point_is_not_drilled_first_and_finished_flat() -> None:
    """Up to 13 mm it is drilled and asked; above, milled flat inside the part, and said."""
    made = plan(step(Kind.DRILL, size(12), 2), thickness_mm=4)
    assert [step.depth_mm for step in made.steps if step.kind is StepKind.DRILL] == [2]
    assert "DEPTH-BREAKS-THROUGH" in codes(made)
    for wide_mm, deep_mm, thickness_mm in ((20, 3, 6), (30, 3, 5)):
        made = plan(step(Kind.DRILL, size(wide_mm), deep_mm), thickness_mm=thickness_mm)
        assert [step.kind for step in made.steps] == [StepKind.MILL]
        assert all(step.tip_mm is None or step.tip_mm <= deep_mm for step in made.steps)
        assert codes(made) == ["HOLE-FLAT-BOTTOM"]


def test_a_hole_milled_with_a_floor_too_thin_is_still_asked() -> None:
    made = plan(step(Kind.DRILL, size(30), 3), thickness_mm=3.2)
    assert [note.code for note in made.notes if note.is_question] == ["WALL-THIN"]


def test_a_hole_neither_through_nor_deep_is_asked() -> None:
    made = plan(step(Kind.DRILL, size(9), None))
    assert codes(made) == ["DEPTH-MISSING"]
    assert made.steps == ()


def test_every_step_says_why_and_from_where() -> None:
    for made in (
        plan(tap(M8, 20), step(Kind.COUNTERBORE, size(15), 5), thickness_mm=40),
        plan(step(Kind.SPOTFACE, size(30), 1), step(Kind.REAM, size(8), through=True, zone="H7"), workpiece="EN-GJL-250"),
        plan(step(Kind.BORE, size(40), through=True, zone="H7"), workpiece="C45"),
        plan(step(Kind.DRILL, size(6.6), through=True), step(Kind.COUNTERSINK, size(13), angle_deg=82)),
    ):
        for each in made.steps:
            assert each.reasons
            assert all(reason.cites for reason in each.reasons), [reason for reason in each.reasons if not reason.cites]


def test_through_tools_say_how_far_they_go() -> None:
    tapped = one(plan(tap(M8)), StepKind.TAP)
    (beyond,) = [reason for reason in tapped.reasons if reason.rule == "DEPTH-THROUGH"]
    assert beyond.decision == "past the far face: 11.25 mm"
    assert beyond.because.startswith("its chamfer of 6.25 mm and its male centre of 4.00 mm must be clear")


def test_iso_pipe_threads_take_metric_drills_and_wire_inserts_their_own() -> None:
    assert one(plan(tap("G1/4", 15), workpiece="EN-GJL-250"), StepKind.DRILL).tool.size == "11.7"
    insert = plan(tap("M8x1.25 STI", 15))
    assert one(insert, StepKind.DRILL).tool.size == "8.4"
    assert one(insert, StepKind.TAP).tool.size == "M8x1.25 STI"
    assert "TAP-FOR-INSERT" in codes(insert)
    assert kinds(insert) == ["spot", "drill", "countersink", "tap"]
    entrance = one(insert, StepKind.COUNTERSINK)
    assert entrance.tool.name == "120 degree countersink", "ASME B18.29.2M, NASM 33537 (from memory)"
    assert 9.624 <= entrance.diameter_mm <= 9.624 + 0.4, "STI major M8x1.25, ASME B18.29.2M"


def test_a_trapezoidal_thread_is_for_a_hand_set() -> None:
    made = plan(tap("Tr20x4-7H"), workpiece="C45", thickness_mm=30)
    assert "TAP-HAND-SET" in codes(made)
    names = [step.tool.name for step in made.steps if step.kind is StepKind.TAP]
    assert names == ["hand tap, first of the set", "hand tap, second of the set", "hand tap, finishing of the set"]


@pytest.mark.parametrize(
    ("depth_mm", "workpiece", "chamfers"),
    [
        (8.0, "C45", ["taper", "plug", "bottoming"]),
        (8.0, "1.4301", ["plug", "bottoming"]),
        (None, "C45", ["taper"]),
        (None, "1.4301", ["plug"]),
    ],
)
def test_hand_taps_go_in_turn_and_none_holds_a_pot(depth_mm: float | None, workpiece: str, chamfers: list[str]) -> None:
    """Machinery's Handbook, 26th edition, taps: taper, plug and bottoming in turn; no taper tap in what work-hardens."""
    made = plan(tap("M6x1-6H", depth_mm), workpiece=workpiece, shop=Shop(preferences=Preferences(tap_by_hand=True)))
    taps = [step for step in made.steps if step.kind is StepKind.TAP]
    assert [step.tool.chamfer.name for step in taps if step.tool.chamfer is not None] == chamfers
    assert all(step.tool.by_hand for step in taps)
    assert [step.finishes_thread for step in taps] == [False] * (len(taps) - 1) + [True]
    assert len({step.tip_mm for step in taps}) == 1
    assert taps[-1].depth_mm == (25.0 if depth_mm is None else depth_mm)
    depths = [step.depth_mm or 0.0 for step in taps]
    assert depths == sorted(depths)


@pytest.mark.parametrize(
    ("depth", "drilled", "threads"),
    [
        (Depth(mm=20), 20.0, 2.0),
        (Depth(mm=20, least=True), 21.0, 3.0),
        (Depth(mm=23, least=True), 23.0, 3.0),
        (Depth(mm=20, most=True), 19.75, 2.0),
        (Depth(mm=30, most=True), 21.0, 3.0),
    ],
    ids=["20", "20 MIN", "23 MIN", "20 MAX", "30 MAX"],
)
def test_min_and_max_leave_room_to_one_side(depth: Depth, drilled: float, threads: float) -> None:
    """M8, 16 deep; whether the drilled depth stands with its own diameter or as DRILL 20 MAX without one."""
    m8 = geometry(M8)
    with_size = plan(step(Kind.DRILL, size(6.8), depth.mm, depth=depth), tap(M8, 16), thickness_mm=40)
    without = plan(step(Kind.TAP, m8.spec.nominal, 16, thread=m8, pilot_depth=depth), thickness_mm=40)
    for made in (with_size, without):
        assert one(made, StepKind.DRILL).depth_mm == drilled
        chamfer = one(made, StepKind.TAP).tool.chamfer
        assert chamfer is not None
        assert chamfer.threads == threads
        assert codes(made) == []


def test_a_stated_drill_that_is_no_drill_size_is_asked() -> None:
    assert codes(plan(step(Kind.DRILL, size(6.83), 22), tap(M8, 16))) == ["DRILL-SIZE-NOT-STANDARD"]
    assert codes(plan(step(Kind.DRILL, size(5.83), 20), step(Kind.REAM, size(6), 12, zone="H7"))) == [
        "DRILL-SIZE-NOT-STANDARD"
    ]


def test_a_hole_from_both_sides_is_one_through_hole_or_two_blind_ones() -> None:
    through = plan(step(Kind.DRILL, size(9), through=True, side=Side.BOTH))
    assert kinds(through) == ["spot", "drill"]
    blind = plan(tap(M8, 10, side=Side.BOTH), thickness_mm=40)
    assert kinds(blind) == ["spot", "drill", "tap", "spot", "drill", "tap"]
    assert [each.step.side for each in blind.steps if each.step] == [Side.NEAR] * 2 + [Side.FAR] * 2
    assert codes(blind) == ["SECOND-SETUP"]


def test_a_diameter_that_means_a_named_drill_says_which() -> None:
    drill = one(plan(step(Kind.DRILL, size(7.144), through=True)), StepKind.DRILL)
    assert "meant for 9/32, the drill of 7.144 mm" in drill.reasons[0].because


def test_a_taper_thread_has_no_window_to_print() -> None:
    made = plan(tap("1/4-18 NPT", 12), thickness_mm=40)
    assert one(made, StepKind.DRILL).fit is None
    assert "PIPE-STOP-BY-GAUGE" in codes(made)


@pytest.mark.parametrize(("text", "named"), [("M8x1.25-6H", True), ("5/16-18 UNC-2B", True), ("M10x1.5-6H", False)])
def test_small_taps_say_whether_they_have_a_male_centre(text: str, named: bool) -> None:
    """ASME B18.29.2M: plug taps to 8 mm have a male centre, half a diameter for which the hole would be drilled deeper, or
    the tap travels further where the hole is open."""
    tapped = one(plan(tap(text, 16), thickness_mm=40), StepKind.TAP)
    assert tapped.tool.name.endswith("no male centre") is named
    assert ("TAP-CENTRE" in {reason.rule for reason in tapped.reasons}) is named
    through = one(plan(tap(text), thickness_mm=16), StepKind.TAP)
    assert through.tool.name.endswith(", male centre") is named
    assert through.tool.chamfer is not None
    assert through.tip_mm is not None
    centre_mm = through.tool.diameter_mm / 2 if named else 0.0
    chamfer_mm = through.tool.chamfer.threads * (through.tool.pitch_mm or 0)
    assert through.tip_mm == pytest.approx(16 + chamfer_mm + centre_mm + 1)


def test_no_tap_up_to_8_mm_is_reckoned_to_its_chamfer_without_saying_so() -> None:
    """Blind, drilled through under a blind thread, blocked, by hand: it has a centre that is reckoned with, or none."""
    by_hand = Shop(preferences=Preferences(tap_by_hand=True))
    drilled_through = (step(Kind.DRILL, size(5), through=True), tap("M6x1-6H", 10))
    blind = [plan(tap("M6x1-6H", 10), shop=shop) for shop in (Shop(), by_hand)]
    blocked = [plan(tap("M6x1-6H"), remarks=(said,)) for said in ("BLOCKED", "ROOM BEYOND 5 mm")]
    for made in (*blind, *blocked):
        assert all("no male centre" in each.tool.name for each in made.steps if each.kind is StepKind.TAP)
    tapped = one(plan(*drilled_through), StepKind.TAP)
    assert "no male centre" not in tapped.tool.name
    assert tapped.tip_mm == pytest.approx(10 + 5 + 3)


@pytest.mark.parametrize(("text", "clearance"), [("M3x0.5-6H", 1.0), ("M5x0.8-6H", 1.0), ("M6x1-6H", 1.0), (M8, 1.25)])
def test_under_a_small_tap_a_millimetre_is_left_for_chips(text: str, clearance: float) -> None:
    """The larger of one pitch (ASME B18.29.2M) and 1 mm (common practice, no source); a stated depth keeps to the pitch."""
    made = plan(tap(text, 8), thickness_mm=40)
    assert made.budgets[0].clearance_mm == pytest.approx(clearance)
    assert codes(plan(step(Kind.DRILL, size(2.5), 8.5), tap("M3x0.5-6H", 7), thickness_mm=40)) == []


def test_a_cone_past_the_far_face_is_watched() -> None:
    """M10 in 4 mm: the chamfer's rim is 10.5, a sharp point 5.25 mm down. Geometry of a 90 degree cone."""
    made = plan(tap("M10x1.5-6H"), thickness_mm=4)
    (note,) = [note for note in made.notes if note.code == "CONE-THROUGH"]
    assert note.severity is Severity.WATCH
    assert note.message.startswith("90 degree countersink")
    assert "1.2 mm past" in note.message
    assert "CONE-THROUGH" not in codes(plan(tap("M10x1.5-6H"), thickness_mm=8))


THIN = {
    "tapped": (tap(M8),),
    "large": (tap("M16x2-6H"),),
    "drilled": (step(Kind.DRILL, size(9), through=True),),
    "reamed": (step(Kind.REAM, size(20), through=True, zone="H7"),),
    "countersunk": (step(Kind.DRILL, size(6.6), through=True), step(Kind.COUNTERSINK, size(12), angle_deg=90)),
    "insert": (tap("STI-M6x1-5H"),),
}


@pytest.mark.parametrize("steps", THIN.values(), ids=THIN.keys())
@pytest.mark.parametrize("thickness_mm", [0.8, 1.5, 3.0, 5.0, 8.0, 20.0])
def test_a_spot_drill_stays_inside_a_thin_part(steps: tuple[ResolvedStep, ...], thickness_mm: float) -> None:
    """At least 0.5 mm, of the thinnest sheet half, is left for the drill to start on (common practice, no source); the
    chamfer that the spot cannot make is cut after drilling."""
    made = plan(*steps, thickness_mm=thickness_mm)
    spot = one(made, StepKind.SPOT)
    assert spot.tip_mm is not None
    assert 0 < spot.tip_mm <= max(thickness_mm - 0.5, thickness_mm / 2) + 1e-9
    drilled = next(index for index, each in enumerate(made.steps) if each.kind is StepKind.DRILL)
    chamfers = [index for index, each in enumerate(made.steps) if each.kind is StepKind.COUNTERSINK]
    makes_it = spot.diameter_mm > max(each.diameter_mm for each in made.steps if each.kind is not StepKind.SPOT)
    assert makes_it or (chamfers and min(chamfers) > drilled)


def test_a_spot_in_a_thin_part_says_why_the_chamfer_is_cut_after_it() -> None:
    """M8 in 3 mm: a cone to 8.4 mm would be 4.2 mm deep."""
    thin, thick = plan(tap(M8), thickness_mm=3), plan(tap(M8), thickness_mm=4.7)
    assert kinds(thin) == ["spot", "drill", "countersink", "tap"]
    assert "come out through the part" in one(thin, StepKind.COUNTERSINK).reasons[0].because
    assert kinds(thick) == ["spot", "drill", "tap"]


@pytest.mark.parametrize(("thickness", "asked"), [(3.0, True), (3.25, True), (5.0, False)])
def test_a_countersink_as_deep_as_the_part_is_asked(thickness: float, asked: bool) -> None:
    """90 degrees, 13.2 over 6.6 mm: (13.2 - 6.6) / 2 = 3.3 mm deep. Geometry."""
    made = plan(
        step(Kind.DRILL, size(6.6), through=True),
        step(Kind.COUNTERSINK, size(13.2), angle_deg=90),
        thickness_mm=thickness,
    )
    found = [note for note in made.notes if note.code == "COUNTERSINK-KNIFE-EDGE"]
    assert bool(found) is asked
    assert all(note.severity is Severity.ASK for note in found)


def test_countersinks_from_both_sides_share_the_part() -> None:
    made = plan(
        step(Kind.DRILL, size(6.6), through=True),
        step(Kind.COUNTERSINK, size(13.2), angle_deg=90, side=Side.BOTH),
        thickness_mm=6.0,
    )
    assert "COUNTERSINK-KNIFE-EDGE" in codes(made)


def test_a_tiny_hole_has_a_small_spot_drill() -> None:
    """Common practice, no source: the web of a 12 mm spot drill is as wide as an M1.6."""
    assert one(plan(tap("M1.6x0.35-6H", 3.0), thickness_mm=10), StepKind.SPOT).tool.diameter_mm == 6
    assert one(plan(tap("M3x0.5-6H", 6.0), thickness_mm=20), StepKind.SPOT).tool.diameter_mm == 12


@pytest.mark.parametrize(
    ("callout", "named"),
    [
        ("⌀6 H7 THRU", "ream Ø6 mm"),
        ("⌀4.5 THRU ⌴ ⌀8 ↧4.5", "drill Ø4.5 mm, counterbore Ø8 mm"),
        ("⌀4.5 THRU ⌵ ⌀9 X 90°", "drill Ø4.5 mm, countersink Ø9 mm"),
        ("⌀60 H7 THRU", "bore Ø60 mm"),
        ("M8 THRU", ""),
    ],
)
def test_work_without_a_thread_in_a_hardened_part_is_asked_about_as_a_thread_is(callout: str, named: str) -> None:
    """Above about 55 HRC (common practice, no source); of a thread its own rules speak."""
    for material_name, told in (("1.2379 60 HRC", named), ("1.2379 45 HRC", ""), ("C45", "")):
        (made,) = explain(callout, Shop(), ReadOptions("mm", material_name, 12)).holes
        notes = [note for note in made.notes if note.code == "HOLE-HARDENED"]
        assert [note.message.split(": ")[0] for note in notes] == ([told] if told else [])
        assert all("before hardening" in note.message for note in notes)


@pytest.mark.parametrize(
    ("callout", "drilled_in", "suggestion"),
    [
        ("M6-4H THRU", "HSS-Co", "Use a new, evenly ground drill, or one of carbide on a stiff machine."),
        ("5/8-18 UNJF-3B THRU", "carbide", "Use a new, evenly ground drill, or ream or bore the hole."),
    ],
)
def test_a_carbide_drill_close_to_the_limit_is_not_told_to_be_carbide(
    callout: str, drilled_in: str, suggestion: str
) -> None:
    (made,) = explain(callout, Shop(), ReadOptions("mm", "C45", 12)).holes
    (note,) = [note for note in made.notes if note.code == "TAP-DRILL-CLOSE"]
    assert note.suggestion == suggestion
    assert made.cut_plan is not None
    (drill,) = [cut.step for cut in made.cut_plan.cuts if cut.step.fit is not None]
    assert drill.tool.material == drilled_in
