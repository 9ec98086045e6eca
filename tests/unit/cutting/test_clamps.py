"""The machine's limits: each holds, each says so, none is passed in silence."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from cutting_samples import STRONG, codes, cut, cut_plan, drill, step, tap, tap_step

from holesched.cutting.clamp import EFFICIENCY, available_torque_nm, base_rpm
from holesched.cutting.model import CutStep
from holesched.errors import BadTable
from holesched.notes import COMMON_PRACTICE, Reason, Standing
from holesched.pipeline import explain
from holesched.schedule.model import ReadOptions
from holesched.shop.model import Machine, Preferences, Shop
from holesched.tooling.model import Limit, StepKind


def rules(found: CutStep) -> list[str]:
    return [reason.rule for reason in found.clamps]


def test_spindle_max() -> None:
    found = cut(step(drill(1, "carbide"), 2.0), of="6061")
    assert found.spindle_rpm == 8000
    assert rules(found) == ["CLAMP-SPINDLE-MAX"]
    assert "8000 is the spindle's highest speed" in found.clamps[0].because
    assert found.clamps[0].cites[0].standing is Standing.SHOP
    assert found.surface_m_per_min < found.speed_low_m_per_min


def test_tapping_max() -> None:
    found = cut(tap_step(tap(3, 0.5), 2.5, depth_mm=5.0), of="6061")
    assert found.spindle_rpm == 3000
    assert rules(found) == ["CLAMP-TAPPING-MAX"]
    assert found.feed_mm_per_min == 1500


def test_spindle_min_and_too_fast_for_the_tool() -> None:
    fast = replace(STRONG, spindle_min_rpm=500)
    plan = cut_plan(step(drill(40), 10.0), of="4140", machine=fast)
    assert plan.cuts[0].spindle_rpm == 500
    assert rules(plan.cuts[0]) == ["CLAMP-SPINDLE-MIN"]
    assert codes(plan) == ["CUT-SPINDLE-MIN"]
    slightly = replace(STRONG, spindle_min_rpm=980)
    assert codes(cut_plan(step(drill(8), 10.0), machine=slightly)) == []


def test_feed_max_lowers_a_drills_feed_and_a_taps_speed() -> None:
    slow = replace(STRONG, feed_max_mm_per_min=100)
    drilled = cut(step(drill(8), 10.0), machine=slow)
    assert rules(drilled) == ["CLAMP-FEED-MAX"]
    assert drilled.feed_mm_per_rev == 0.105  # 100 / 950, cut off at thousandths
    assert drilled.feed_mm_per_min <= 100
    tapped = cut(tap_step(tap(), 6.8), machine=slow)
    assert rules(tapped) == ["CLAMP-FEED-MAX"]
    assert tapped.feed_mm_per_rev == 1.25
    assert tapped.feed_mm_per_min == 1.25 * tapped.spindle_rpm <= 100


def test_thrust_lowers_the_feed() -> None:
    weak = replace(STRONG, axis_thrust_n=2500)
    free, held = cut(step(drill(10), 10.0), machine=STRONG), cut(step(drill(10), 10.0), machine=weak)
    assert free.thrust_n is not None
    assert free.thrust_n > 2500
    assert rules(held) == ["CLAMP-THRUST"]
    assert held.thrust_n is not None
    assert held.thrust_n <= 2500
    assert 0.5 * free.feed_mm_per_rev <= held.feed_mm_per_rev < free.feed_mm_per_rev


def test_thrust_beyond_half_feed_is_told() -> None:
    plan = cut_plan(step(drill(20), 10.0), machine=replace(STRONG, axis_thrust_n=500))
    assert codes(plan) == ["CUT-THRUST-OVER"]
    assert plan.cuts[0].thrust_n is not None
    assert plan.cuts[0].thrust_n > 500


def test_torque_lowers_a_drills_feed() -> None:
    weak = replace(STRONG, spindle_torque_nm=50)
    found = cut(step(drill(20), 10.0), machine=weak)
    assert rules(found) == ["CLAMP-TORQUE"]
    assert found.torque_nm is not None
    assert found.torque_nm <= 50


def test_a_tap_that_the_spindle_cannot_turn_is_told() -> None:
    plan = cut_plan(tap_step(tap(20, 2.5), 17.5), of="4140", machine=replace(STRONG, spindle_torque_nm=40))
    assert "CUT-TORQUE-OVER" in codes(plan)
    assert plan.cuts[0].feed_mm_per_rev == 2.5
    (note,) = [note for note in plan.notes if note.code == "CUT-TORQUE-OVER"]
    assert "Thread-mill" in note.suggestion


def test_torque_above_seventy_per_cent_is_watched() -> None:
    needed = cut(tap_step(tap(12, 1.75), 10.2), machine=STRONG).torque_nm
    assert needed is not None
    for share, expected in ((0.5, []), (0.8, ["CUT-TORQUE-HIGH"]), (1.1, ["CUT-TORQUE-OVER"])):
        plan = cut_plan(tap_step(tap(12, 1.75), 10.2), machine=replace(STRONG, spindle_torque_nm=needed / share))
        assert [code for code in codes(plan) if code.startswith("CUT-TORQUE")] == expected


def test_power_lowers_the_speed_not_the_feed() -> None:
    free = cut(step(drill(12, "carbide"), 12.0), machine=STRONG)
    assert free.power_kw is not None
    weak = replace(STRONG, spindle_power_kw=free.power_kw / 2 / EFFICIENCY, spindle_torque_nm=60.0)
    plan = cut_plan(step(drill(12, "carbide"), 12.0), machine=weak)
    held = plan.cuts[0]
    assert rules(held) == ["CLAMP-POWER"]
    assert codes(plan) == ["CUT-POWER-LIMITED"]
    assert held.feed_mm_per_rev == free.feed_mm_per_rev
    assert held.power_kw is not None
    assert held.power_kw <= free.power_kw / 2
    assert held.torque_nm == free.torque_nm


def test_torque_at_speed() -> None:
    """Constant torque to the base speed, constant power above (9550 P / n)."""
    machine = Machine()
    base = base_rpm(machine)
    assert available_torque_nm(machine, base / 2) == machine.spindle_torque_nm
    assert available_torque_nm(machine, base) == pytest.approx(machine.spindle_torque_nm)
    assert available_torque_nm(machine, 2 * base) == pytest.approx(machine.spindle_torque_nm / 2)


def test_no_limit_no_clamp() -> None:
    assert rules(cut(step(drill(8), 10.0))) == []


def test_a_tap_near_the_spindles_torque_is_told_with_its_figures_and_its_way_out() -> None:
    needed = cut(tap_step(tap(12, 1.75), 10.2), machine=STRONG).torque_nm
    assert needed is not None
    plan = cut_plan(tap_step(tap(12, 1.75), 10.2), machine=replace(STRONG, spindle_torque_nm=needed / 0.8))
    (note,) = [note for note in plan.notes if note.code == "CUT-TORQUE-HIGH"]
    assert "80 % of it, and a tap's torque is estimated to 40 %." in note.message
    assert note.suggestion.startswith("Thread-mill it, or use a stronger machine; else watch the load meter")


KEPT = Limit(0.9, Reason("most of the machine: 90 %", "a tenth in hand", "Y20", (COMMON_PRACTICE,)))


@pytest.mark.parametrize(
    ("share", "watched"),
    [(0.5, []), (0.75, []), (0.95, []), (1.4, []), (1.7, ["CUT-TORQUE-HIGH"]), (2.5, ["CUT-TORQUE-OVER"])],
)
def test_what_a_rule_has_fed_less_is_nothing_to_watch(share: float, watched: list[str]) -> None:
    """Up to 90 % of the spindle's torque a drill is fed by design: a page of such notes hid the tap that matters. It is
    watched where half its feed still takes more, as 1.7 times the torque does."""
    needed = cut(step(drill(20), 10.0), machine=STRONG).torque_nm
    assert needed is not None
    machine = replace(STRONG, spindle_torque_nm=needed / share)
    plan = cut_plan(step(drill(20), 10.0, limit=KEPT), machine=machine)
    assert codes(plan) == watched
    assert ("CLAMP-TORQUE" in rules(plan.cuts[0])) == (share > 0.9)


@pytest.mark.parametrize(("field", "rule"), [("axis_thrust_n", "CLAMP-THRUST"), ("spindle_torque_nm", "CLAMP-TORQUE")])
def test_a_drill_that_takes_nearly_all_of_the_machine_is_fed_less(field: str, rule: str) -> None:
    """At 95 % of what the machine gives nothing clamps it by itself; where a rule keeps a tenth in hand it is fed less."""
    free = cut(step(drill(20), 10.0), machine=STRONG)
    needed = free.thrust_n if field == "axis_thrust_n" else free.torque_nm
    assert needed is not None
    machine = replace(STRONG, **{field: needed / 0.95})
    assert cut(step(drill(20), 10.0), machine=machine).clamps == ()
    held = cut(step(drill(20), 10.0, limit=KEPT), machine=machine)
    assert rules(held) == [rule]
    assert "of which 90% may be asked (Y20: a tenth in hand)" in held.clamps[0].because
    assert COMMON_PRACTICE in held.clamps[0].cites
    now = held.thrust_n if field == "axis_thrust_n" else held.torque_nm
    assert now is not None
    assert now <= 0.9 * needed / 0.95
    assert 0.5 * free.feed_mm_per_rev <= held.feed_mm_per_rev < free.feed_mm_per_rev


def test_where_half_the_feed_does_not_help_a_drill_that_just_fits_is_fed_fully() -> None:
    free = cut(step(drill(20), 10.0), machine=STRONG)
    assert free.torque_nm is not None
    tight = Limit(0.3, KEPT.reason)
    held = cut(step(drill(20), 10.0, limit=tight), machine=replace(STRONG, spindle_torque_nm=free.torque_nm / 0.99))
    assert held.clamps == ()
    assert held.feed_mm_per_rev == free.feed_mm_per_rev
    assert held.overload == ()


def test_power_kept_in_hand_lowers_the_speed() -> None:
    free = cut(step(drill(12, "carbide"), 12.0), machine=STRONG)
    assert free.power_kw is not None
    weak = replace(STRONG, spindle_power_kw=free.power_kw / 0.95 / EFFICIENCY, spindle_torque_nm=60.0)
    assert cut(step(drill(12, "carbide"), 12.0), machine=weak).clamps == ()
    held = cut(step(drill(12, "carbide"), 12.0, limit=KEPT), machine=weak)
    assert rules(held) == ["CLAMP-POWER"]
    assert held.power_kw is not None
    assert held.power_kw <= 0.9 * EFFICIENCY * weak.spindle_power_kw + 1e-9


def test_a_shop_says_how_much_of_its_machine_may_be_asked(tmp_path: Path) -> None:
    """Ø16 into 42CrMo4: with less of the spindle in hand it is fed less, with hardly any of it drilled in steps."""
    found = {}
    for percent in (100, 80, 20):
        rules_file = tmp_path / "own.csv"
        rules_file.write_text(f"decides,verdict\nmost of the machine,{percent} %\n")
        shop = Shop(preferences=Preferences(rules=str(rules_file)))
        (hole,) = explain("⌀16 THRU", shop, ReadOptions("mm", "42CrMo4", 20)).holes
        assert hole.cut_plan is not None
        found[percent] = [each for each in hole.cut_plan.cuts if each.step.kind is StepKind.DRILL]
    assert [len(drills) for drills in found.values()][:2] == [1, 1]
    assert found[80][0].feed_mm_per_rev < found[100][0].feed_mm_per_rev
    assert len(found[20]) > 1


@pytest.mark.parametrize("verdict", ["120 %", "0 %", "90", "90 N m"])
def test_no_more_than_the_machine_gives_may_be_asked(tmp_path: Path, verdict: str) -> None:
    rules_file = tmp_path / "own.csv"
    rules_file.write_text(f"decides,verdict\nmost of the machine,{verdict}\n")
    with pytest.raises(BadTable, match="is no number of %"):
        explain("⌀16 THRU", Shop(preferences=Preferences(rules=str(rules_file))), ReadOptions("mm", "C45", 20))
