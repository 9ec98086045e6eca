"""Holes that no one drill makes: in steps, milled on a helix, bored or reamed. Limits of size from ASME B1.1 and ISO 965-1
as our tables have them (compared in tests/published); which tool the trade takes: common practice, no source."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import pi

import pytest

from holesched.cutting.helix_step import Helix
from holesched.cutting.model import CutPlan
from holesched.pipeline import compare, explain
from holesched.schedule.model import ReadOptions
from holesched.sequence.model import JobPlan
from holesched.shop.model import Machine, Preferences, Shop
from holesched.standards import iso261, unified_series
from holesched.tooling.model import CONES, StepKind

NO_HELIX = Shop(machine=Machine(thread_milling=False))
TOUGH = "4340 32-36 HRC"


def planned(callout: str, *, material: str = TOUGH, shop: Shop | None = None, thickness_mm: float = 50.8) -> JobPlan:
    return explain(callout, shop or Shop(), ReadOptions("in", material, thickness_mm))


def cuts(job: JobPlan) -> CutPlan:
    (hole,) = job.holes
    assert hole.cut_plan is not None, job.holes[0].notes
    return hole.cut_plan


def work(job: JobPlan) -> list[tuple[str, float]]:
    """What each tool does and to which diameter, spots and chamfers left out."""
    cones = (StepKind.SPOT, StepKind.COUNTERSINK)
    return [(cut.step.kind.value, cut.step.diameter_mm) for cut in cuts(job).cuts if cut.step.kind not in cones]


def codes(job: JobPlan) -> set[str]:
    return {note.code for note in job.holes[0].notes}


def test_a_large_hole_before_a_thread_is_milled_to_the_middle_of_its_limits() -> None:
    """ASME B1.1, 2 1/4-12 UN-2B: minor diameter 2.160 to 2.178 in (from memory); the middle is 2.169 in = 55.09 mm."""
    job = planned("2.250-12 UN-2B THRU")
    assert work(job) == [("drill", 14.0), ("drill", 20.0), ("mill", 55.09), ("thread mill", pytest.approx(57.15))]
    milled = next(cut for cut in cuts(job).cuts if cut.step.kind is StepKind.MILL)
    assert milled.step.tool.diameter_mm == 25.4  # 0.6 x 55.09 = 33.05: the largest inch one there is
    assert milled.step.fit is not None
    assert milled.step.fit.hole_mm == 55.09
    assert any(reason.rule == "O30" for reason in milled.step.reasons)
    assert not any(cut.overload for cut in cuts(job).cuts)


def test_without_a_helix_it_is_bored_in_passes() -> None:
    job = planned("2.250-12 UN-2B THRU", shop=NO_HELIX)
    bores = [mm for kind, mm in work(job) if kind == "bore"]
    assert bores[-1] == 55.09
    assert all(larger - smaller <= 6.0 for smaller, larger in zip([32.0, *bores], bores, strict=False))
    assert max(mm for kind, mm in work(job) if kind == "drill") == 32.0
    assert not any(cut.overload for cut in cuts(job).cuts if cut.step.kind is not StepKind.TAP)
    roughing = {cut.step.tool for cut in cuts(job).cuts if cut.step.kind is StepKind.BORE}
    assert len(roughing) == 2  # one head for all passes before the last


@pytest.mark.parametrize("callout", ["⌀1.25 THRU", "⌀1.25 ↧1.5"])
def test_a_drill_that_is_too_heavy_follows_smaller_ones(callout: str) -> None:
    """1 1/4 in into 4340 takes 123 N m of the spindle's 70 after its pilot alone."""
    job = planned(callout)
    drills = [mm for kind, mm in work(job) if kind == "drill"]
    assert drills == sorted(drills)
    assert len(drills) > 2
    assert drills[-1] == pytest.approx(31.75)
    assert not any(cut.overload for cut in cuts(job).cuts)
    strong = planned(callout, shop=Shop(machine=Machine(spindle_torque_nm=400.0, axis_thrust_n=20000.0)))
    assert len([mm for kind, mm in work(strong) if kind == "drill"]) == 2  # the pilot alone


def test_a_large_plain_hole_is_made_as_called_and_no_drill_is_asked_for() -> None:
    """Of 38.37 mm there is no drill, and none is needed; two limits are met in their middle."""
    called = planned("⌀38.37 mm THRU")
    assert work(called)[-1] == ("mill", 38.37)
    assert "DRILL-SIZE-NOT-STANDARD" not in codes(called)
    between = planned("⌀40.0-40.4 mm THRU")
    assert work(between)[-1] == ("mill", 40.2)


def test_a_stated_hole_before_a_large_thread_is_made_as_stated() -> None:
    job = planned("⌀55.1 mm THRU, 2.250-12 UN-2B ↧1.0")
    assert ("mill", 55.1) in work(job)
    assert not {"DRILL-SIZE-NOT-STANDARD", "TAP-DRILL-CLOSE"} & codes(job)


def test_where_steps_do_not_help_the_rest_is_milled() -> None:
    weak = Shop(machine=Machine(spindle_power_kw=3.0, spindle_torque_nm=20.0, axis_thrust_n=2500.0))
    job = planned("⌀28 mm THRU", shop=weak)
    assert work(job)[-1] == ("mill", 28.0)
    assert any(reason.rule == "O31" for cut in cuts(job).cuts for reason in cut.step.reasons)
    assert not any(cut.overload for cut in cuts(job).cuts)


def test_a_milled_blind_hole_ends_flat() -> None:
    """The drill before it ends with its point where the hole ends, and the depth budget has no point."""
    job = planned("2.250-12 UN-2B ↧1.0")
    (budget,) = cuts(job).plan.budgets
    assert budget.point_mm == 0.0
    assert budget.tip_mm == budget.drilled_mm
    for cut in cuts(job).cuts:
        if cut.step.kind in (StepKind.DRILL, StepKind.MILL):
            assert cut.step.tip_mm is not None
            assert cut.step.tip_mm <= budget.drilled_mm + 1e-5


def test_limits_between_two_drills_are_no_question() -> None:
    """Above the largest drill, and between two drills of a middle size."""
    for callout, how in (("M110x4-6H THRU", "mill"), ("1 5/16-28 UN-2B THRU", "mill")):
        job = planned(callout)
        assert "TAP-DRILL-NONE" not in codes(job)
        assert work(job)[-2][0] == how
        fit = next(cut.step.fit for cut in cuts(job).cuts if cut.step.kind.value == how)
        assert fit is not None
        low, high = fit.window_mm
        assert low < fit.hole_mm < high
        assert fit.hole_mm == pytest.approx((low + high) / 2, abs=0.005)


def test_a_small_hole_between_two_drills_is_reamed_before_its_tap() -> None:
    """M4x0.5-4H, ISO 965-1: minor diameter 3.459 to 3.549 mm (90 µm, grade 4); an HSS drill cuts too far over its size."""
    shop = Shop(preferences=Preferences(drill_material="HSS"))
    job = planned("M4x0.5-4H ↧8 mm", material="6061", shop=shop)
    assert [kind for kind, _ in work(job)] == ["drill", "ream", "tap"]
    drill, ream, tap = (cut.step for cut in cuts(job).cuts if cut.step.kind is not StepKind.SPOT)
    assert ream.diameter_mm == 3.5
    assert 0.05 <= ream.diameter_mm - drill.diameter_mm <= 0.3
    assert ream.tool.before_thread
    (budget,) = cuts(job).plan.budgets
    assert ream.tip_mm == pytest.approx(budget.drilled_mm)
    assert tap.depth_mm is not None
    assert ream.depth_mm is not None
    assert ream.depth_mm >= tap.depth_mm


def every_thread() -> list[str]:
    found = [f"M{size.diameter_mm:g}x{pitch:g}-6H" for size in iso261.sizes().values() for pitch in size.pitches_mm]
    inch = [f"{s.name}-{tpi:g} {series}-2B" for s in unified_series.sizes().values() for tpi, series in s.series.items()]
    return [*found, *inch[::2]]


@pytest.mark.parametrize(("shop", "depth"), [(Shop(), "THRU"), (Shop(), "↧30 mm"), (NO_HELIX, "↧30 mm")])
def test_no_parallel_thread_of_the_tables_overloads_a_drill_or_has_no_hole(shop: Shop, depth: str) -> None:
    """Every metric and every second Unified thread in a tough steel on the default machine."""
    for text in every_thread():
        job = planned(f"{text} {depth}", shop=shop)
        if not job.holes or job.holes[0].cut_plan is None:  # ISO 965-1 has no 6H there: asked
            assert text.startswith("M"), text
            assert float(text[1:].partition("x")[0]) < 2.5, text
            continue
        assert "TAP-DRILL-NONE" not in codes(job), text
        for cut in cuts(job).cuts:
            assert not (cut.overload and cut.step.kind in (StepKind.DRILL, StepKind.MILL)), text
            fit = cut.step.fit
            if fit is not None:
                assert fit.window_mm[0] - 1e-9 <= fit.hole_mm <= fit.window_mm[1] + 1e-9, text


def test_the_processes_compared_have_the_same_hole() -> None:
    job = planned("2.250-12 UN-2B THRU")
    for way in compare(job, Shop()):
        if way.cut_plan is not None:
            assert not any(cut.overload for cut in way.cut_plan.cuts if cut.step.kind is StepKind.DRILL)


def test_rings_of_a_helix() -> None:
    """Geometry: 20 to 55 mm with a 16 mm cutter in rings of at most 6.4 mm: three of 5.83 mm. The rings' metal is the hole's
    less the drill's."""
    helix = Helix(55.0, 20.0, 16.0, 50.0)
    assert helix.passes == 3
    assert helix.ring_mm == pytest.approx(35 / 6)
    assert helix.diameter_mm(3) == pytest.approx(55.0)
    assert helix.sink_mm(1) == pytest.approx(0.052408 * pi * (20 + 35 / 3 - 16), rel=1e-4)  # tan 3 degrees = 0.052408
    areas = [pi / 4 * (helix.diameter_mm(n) ** 2 - helix.diameter_mm(n - 1) ** 2) for n in (1, 2, 3)]
    assert sum(areas) == pytest.approx(pi / 4 * (55**2 - 20**2))
    assert helix.heaviest == 3
    assert helix.volume_mm3(3) == pytest.approx(areas[2] * helix.sink_mm(3))
    solid = Helix(55.0, 0.0, 25.0, 50.0)  # the first ring to 40 mm takes the whole disc
    assert solid.volume_mm3(1) == pytest.approx(pi / 4 * 40**2 * 0.052408 * pi * 15, rel=1e-4)
    assert Helix(55.0, 20.0, 16.0, 100.0).edge_path_mm() > helix.edge_path_mm()


def in_mm(callout: str) -> JobPlan:
    return explain(callout, Shop(), ReadOptions("mm", "C45", 40.0))


def test_a_large_counterbore_is_milled_on_a_helix() -> None:
    job = in_mm("⌀91 THRU CBORE ⌀127 ↧ 15")
    assert work(job)[-2:] == [("mill", 91.0), ("mill", 127.0)]
    floor = cuts(job).cuts[-1]
    assert floor.step.depth_mm == floor.step.tip_mm == 15
    assert any(reason.rule == "O30" for reason in floor.step.reasons)
    assert not any(cut.overload for cut in cuts(job).cuts)
    assert not any(note.code == "CAROUSEL-TOO-LARGE" for note in job.notes)


def test_a_counterbore_that_the_machine_can_cut_keeps_its_cutter() -> None:
    job = in_mm("⌀11 THRU CBORE ⌀18 ↧ 11")
    assert work(job)[-1] == ("counterbore", 18.0)


def test_no_hole_in_steps_takes_nearly_all_the_torque_while_a_step_is_left() -> None:
    """One step more from 90 % of the torque on; with three steps it stays, as long as it is not over."""
    most = 0.9 * Machine().spindle_torque_nm
    seen = 0
    for tenths in range(205, 320, 5):
        made = [cut for cut in cuts(in_mm(f"⌀{tenths / 10:g} THRU")).cuts if cut.step.kind is StepKind.DRILL]
        sizes = {cut.step.diameter_mm for cut in made}
        seen += len(sizes) > 2
        if 2 <= len(sizes) <= 3:
            assert max(cut.torque_nm or 0 for cut in made) < most, tenths
    assert seen


def test_a_wide_shallow_hole_is_milled_from_solid_with_a_large_cutter() -> None:
    """By hand: the largest mill up to 0.6 x 55 = 33 mm is 25. (55 - 25) / 2 = 15 mm are two rings of 7.5 (0.4 x 25 = 10 at
    most). Inside it sinks tan 3 deg x pi x 15 = 2.47 mm in a turn, so 3 mm take two turns and a level one; outside twice as
    much: one and a level one. The edge goes pi x (3 x 40 + 2 x 55) = 722.6 mm, the centre 30/55 of that."""
    job = in_mm("⌀55 ↧3")
    assert work(job) == [("mill", 55.0)]
    (cut,) = cuts(job).cuts
    assert cut.step.tool.diameter_mm == 25.0
    assert any(reason.rule == "O51" for reason in cut.step.reasons)
    assert cut.time_min == pytest.approx(722.6 * 30 / 55 / cut.feed_mm_per_min, abs=0.02)


@pytest.mark.parametrize("callout", ["⌀55 ↧3 FLAT BOTTOM", "⌀40 ↧8", "⌀55 ↧20", "M64x2 ↧20", "⌀40H7 ↧10"])
def test_a_wide_shallow_hole_of_any_kind_is_made_to_its_depth(callout: str) -> None:
    job = in_mm(callout)
    made = [cut.step for cut in cuts(job).cuts if cut.step.kind is StepKind.MILL]
    assert made
    assert all(step.tool.diameter_mm <= 0.6 * step.diameter_mm for step in made)


def test_a_deep_wide_hole_is_drilled_first() -> None:
    assert work(in_mm("⌀55 ↧30"))[0][0] == "drill"


def test_without_a_helix_nothing_is_milled_from_solid() -> None:
    (hole,) = explain("⌀55 ↧3", NO_HELIX, ReadOptions("mm", "C45", 40.0)).holes
    assert hole.cut_plan is not None
    assert not any(cut.step.kind is StepKind.MILL for cut in hole.cut_plan.cuts)


def test_a_little_wider_never_costs_many_times_more() -> None:
    """The shallow hole that is milled because no drill is that large, against the drill one size below."""
    drilled, milled = (sum(cut.time_min for cut in cuts(in_mm(f"⌀{mm} ↧3")).cuts) for mm in (32, 33))
    assert milled < 6 * drilled


def test_a_weak_spindle_lets_the_end_mill_sink_less_in_a_turn() -> None:
    """10 N m: shallower turns, and more of them, instead of a load that the spindle does not give."""
    weak = Shop(machine=Machine(spindle_power_kw=3.0, spindle_torque_nm=10.0))
    (hole,) = explain("⌀100 ↧20", weak, ReadOptions("mm", "C45", 40.0)).holes
    assert hole.cut_plan is not None
    (mill,) = hole.cut_plan.cuts
    assert not mill.overload
    assert mill.time_min > cuts(in_mm("⌀100 ↧20")).cuts[0].time_min


def test_the_ring_begins_at_the_drilled_hole() -> None:
    """A hole drilled wider than the cutter is where its first ring begins, not the cutter's own diameter."""
    (cut,) = [cut for cut in cuts(in_mm("⌀91 THRU CBORE ⌀127 ↧ 15")).cuts if cut.step.diameter_mm == 127.0]
    assert any("from 91 mm on" in reason.because for reason in cut.reasons)


@pytest.mark.parametrize("mm", [150, 200])
def test_a_pass_too_heavy_for_the_spindle_is_halved_from_where_it_is(mm: int) -> None:
    """Ø200 into tough 4340: at 6 mm a pass it takes 98 N m of the spindle's 70; from 140 mm on 3 mm are taken."""
    job = planned(f"⌀{mm} mm THRU", shop=NO_HELIX)
    bores = [cut for cut in cuts(job).cuts if cut.step.kind is StepKind.BORE]
    assert not any(cut.overload for cut in cuts(job).cuts)
    sizes = [cut.step.diameter_mm for cut in bores]
    taken = [larger - smaller for smaller, larger in zip([32.0, *sizes], sizes, strict=False)]
    assert sizes[-1] == mm
    assert max(taken) <= 6.0 + 1e-9
    assert max(taken) > 5.8
    assert 0 < min(taken) <= 3.0 + 1e-9
    because = [reason.because for cut in bores for reason in cut.step.reasons if reason.rule == "BORE-PASS"]
    assert any(text.endswith("and here 3 mm: in a heavier one the machine has not enough torque") for text in because)
    high = [note for note in job.holes[0].notes if note.code == "CUT-TORQUE-HIGH" and note.message.startswith("bore")]
    assert len(high) <= 2  # the head and the bar, each in its heaviest pass
    assert "BORE-PASSES" in codes(job)


def test_a_bar_keeps_what_the_rules_keep_of_the_machine() -> None:
    """M64x4 in grey iron on a spindle of 20 N m: the last pass took 98 % of it, more than the 90 % that may be asked."""
    weak = Shop(machine=Machine(spindle_power_kw=2.0, spindle_torque_nm=20.0, thread_milling=False, rigid_tapping=False))
    (found,) = explain("M64x4-6H ↧90", weak, ReadOptions("mm", "EN-GJL-250", 120.0)).holes
    assert found.cut_plan is not None
    bores = [cut for cut in found.cut_plan.cuts if cut.step.kind is StepKind.BORE]
    assert len(bores) > 6
    assert all((cut.torque_nm or 0.0) <= 0.9 * 20.0 for cut in bores)


def test_passes_are_halved_twice_and_then_it_stands_as_too_heavy() -> None:
    weak = Shop(machine=Machine(thread_milling=False, spindle_torque_nm=8.0, axis_thrust_n=2000.0))
    bores = [cut for cut in cuts(planned("⌀100 mm THRU", shop=weak)).cuts if cut.step.kind is StepKind.BORE]
    sizes = [cut.step.diameter_mm for cut in bores]
    assert all(larger - smaller > 1.3 for smaller, larger in pairwise(sizes))
    assert bores[-1].overload


@pytest.mark.parametrize(
    ("workpiece", "treatment"), [("C45", "TiAlN"), ("Ti-6Al-4V", "bright"), ("6061", "bright"), ("N07718", "TiAlN")]
)
def test_an_end_mill_is_coated_as_a_carbide_drill_is(workpiece: str, treatment: str) -> None:
    """Coatings with titanium take up titanium and aluminium and build an edge (common practice, no source)."""
    mill = next(cut for cut in cuts(planned("⌀60 mm THRU", material=workpiece)).cuts if cut.step.kind is StepKind.MILL)
    assert mill.step.tool.treatment == treatment


def test_a_carbide_drill_takes_no_pilot() -> None:
    """It centres itself, and in a pilot's hole its corners break (common practice, no source): Ø25 in silicon-rich aluminium
    is drilled in one stroke, in mild steel by a drill of HSS-Co behind its pilot."""
    assert work(planned("⌀25 mm THRU", material="EN AC-48100")) == [("drill", 25.0)]
    assert [kind for kind, _ in work(planned("⌀25 mm THRU", material="S235JR"))] == ["drill", "drill"]
    hard = [mm for kind, mm in work(planned("⌀30 mm THRU", material="17-4PH-H900")) if kind == "drill"]
    assert hard[0] > 15  # steps, for the thrust, but no pilot as small as a web


WEAK = Machine(spindle_torque_nm=12.0, spindle_power_kw=2.2, axis_thrust_n=1500.0, thread_milling=False)


def cones(job: JobPlan) -> list[tuple[StepKind, float]]:
    return [(cut.step.kind, cut.step.diameter_mm) for cut in cuts(job).cuts if cut.step.kind in CONES]


@pytest.mark.parametrize(("callout", "rim_mm"), [("⌀20 THRU", 21.0), ("M20x2.5-6H THRU", 21.0), ("⌀14 ↧20", 15.0)])
def test_a_spot_too_heavy_for_the_machine_is_small_and_the_edge_chamfered_later(callout: str, rim_mm: float) -> None:
    """A cone of 21 mm into solid C45 takes 44 N m and 4400 N at 0.187 mm/rev by the Kienzle functions, worn (calculated)."""
    usual = planned(callout, material="C45", shop=Shop())
    assert cones(usual) == [(StepKind.SPOT, pytest.approx(rim_mm))]
    weak = planned(callout, material="C45", shop=Shop(machine=WEAK))
    (spot, spot_mm), (chamfer, chamfer_mm) = cones(weak)
    assert (spot, chamfer, chamfer_mm) == (StepKind.SPOT, StepKind.COUNTERSINK, pytest.approx(rim_mm))
    kinds = [cut.step.kind for cut in cuts(weak).cuts]
    assert kinds.index(StepKind.COUNTERSINK) > kinds.index(StepKind.DRILL)
    drills = [mm for kind, mm in work(weak) if kind == "drill"]
    assert spot_mm == pytest.approx(0.7 * min(drills), abs=0.01)  # it still starts the drill that follows
    why = [reason for cut in cuts(weak).cuts for reason in cut.step.reasons if reason.rule == "CHAMFER"]
    assert "a spot so wide takes more torque or thrust than the machine gives" in why[0].because
    assert not any(cut.overload for cut in cuts(weak).cuts if cut.step.kind in CONES)


@pytest.mark.parametrize(
    ("callout", "helix", "remedy"),
    [
        ("⌀32 THRU ⌵ ⌀37.8 X 90°", False, "Turn the cone on a lathe, or use"),
        ("⌀32 THRU ⌵ ⌀37.8 X 82°", True, "Turn the cone on a lathe or mill it on a helix, or use"),
        ("M36x4 THRU", False, "Chamfer it by hand, or use"),
    ],
)
def test_a_countersink_too_heavy_for_the_machine_is_said(callout: str, helix: bool, remedy: str) -> None:
    job = planned(callout, material="C45", shop=Shop(machine=replace(WEAK, thread_milling=helix)))
    (heavy,) = [cut for cut in cuts(job).cuts if cut.step.kind is StepKind.COUNTERSINK]
    assert [note.code for note in heavy.overload] == ["CUT-TORQUE-OVER"]
    assert heavy.overload[0].suggestion.startswith(remedy)
    assert "CUT-TORQUE-OVER" in codes(job)


@pytest.mark.parametrize("helix", [True, False])
def test_a_drill_that_is_carbide_for_its_size_alone_is_not_drilled_in_steps(helix: bool) -> None:
    """Rp3/8: 14.95 mm, which a drill of HSS-Co cuts too far over. One of carbide takes more thrust than the machine gives;
    behind another drill it would lose its corners: milled or bored, behind drills of the usual grade."""
    machine = Machine(thread_milling=helix)
    job = planned("Rp3/8 ↧14", material="42CrMo4", shop=Shop(machine=machine), thickness_mm=45)
    drills = [cut.step.tool.material for cut in cuts(job).cuts if cut.step.kind is StepKind.DRILL]
    assert set(drills) == {"HSS-Co"}
    assert ("mill" if helix else "bore") in [kind for kind, _ in work(job)]
    strong = planned("Rp3/8 ↧14", material="42CrMo4", shop=Shop(machine=STRONG_THRUST), thickness_mm=45)
    assert [cut.step.tool.material for cut in cuts(strong).cuts if cut.step.kind is StepKind.DRILL] == ["carbide"]


STRONG_THRUST = Machine(axis_thrust_n=20_000.0, spindle_torque_nm=200.0)
