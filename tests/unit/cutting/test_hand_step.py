"""A thread tapped by hand: no speed, but torque, time and life."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from cutting_samples import codes, cut, cut_plan, tap, tap_step

from holesched.cutting.hand_step import SECONDS_A_TAP, SECONDS_A_TURN
from holesched.errors import BadTable
from holesched.pipeline import explain
from holesched.schedule.model import ReadOptions
from holesched.shop.model import Machine, Preferences, Shop
from holesched.tooling.model import StepKind, Tool


def hand(**more: Any) -> Tool:
    return tap(form="straight-flute", by_hand=True, **more)


def test_nothing_turns() -> None:
    found = cut(tap_step(hand(), 6.8, through=True), of="C45")
    assert (found.spindle_rpm, found.surface_m_per_min, found.feed_mm_per_min) == (0, 0, 0)
    assert found.feed_mm_per_rev == 1.25
    assert found.power_kw is None
    assert found.reached_rpm is None
    assert found.torque_nm is not None
    assert any(reason.decision == "speed: by hand" for reason in found.reasons)


def test_time_of_one_tap() -> None:
    """12 mm at a pitch of 1.25 are 9.6 turns."""
    for through in (False, True):
        found = cut(tap_step(hand(), 6.8, through=through))
        assert found.time_min * 60 == pytest.approx(SECONDS_A_TAP + 9.6 * SECONDS_A_TURN)


def test_chips_turned_back_do_not_pack() -> None:
    shallow, deep = (cut(tap_step(hand(), 6.8, depth_mm=mm)).torque_nm for mm in (8.0, 24.0))
    assert shallow == deep


def test_a_hand_tap_needs_no_floating_holder() -> None:
    assert "CUT-FLOATING-HOLDER" not in codes(cut_plan(tap_step(hand(), 6.8), machine=Machine(rigid_tapping=False)))


def test_unknown_depth_gives_no_time() -> None:
    step = tap_step(hand(), 6.8, through=True, tip_mm=None, travel_mm=None)
    assert cut(step).time_min == 0


def test_what_lowers_the_risk_needs_no_machine() -> None:
    """Nobody forms or mills a thread with a hand wrench."""
    step = tap_step(hand(), 6.6, (6.6, 6.9), depth_mm=24.0)
    risk, powered = cut(step, of="304").risk, cut(tap_step(tap(), 6.6, (6.6, 6.9), depth_mm=24.0), of="304").risk
    assert risk is not None
    assert powered is not None
    assert any("hread mill" in remedy for remedy in powered.remedies)
    assert risk.remedies
    assert not any("hread mill" in remedy or "orming" in remedy or "chamfer" in remedy for remedy in risk.remedies)


def test_nobody_turns_more_than_a_tap_wrench_gives() -> None:
    """150 N in each hand on a wrench of 1 m are 150 N m (common practice, no source). Tr40x7 in C45: half of a groove of
    40 - 33 mm takes over 400 N m; Tr20x4, 90. Where no thread is milled the set stands as too heavy."""
    unable = Shop(Machine(thread_milling=False))
    for callout, heavy in (("Tr40x7 THRU", True), ("Tr20x4 THRU", False)):
        (hole,) = explain(callout, unable, ReadOptions("mm", "C45", 40)).holes
        assert hole.cut_plan is not None
        taps = [each for each in hole.cut_plan.cuts if each.step.kind is StepKind.TAP]
        assert len(taps) == 3
        for each in taps:
            assert (each.torque_nm or 0) > 150 if heavy else (each.torque_nm or 0) < 150
            assert [note.code for note in each.overload] == (["CUT-HAND-OVER"] if heavy else [])
        (told,) = [note for note in hole.notes if note.code == "TAP-HAND-SET"]
        assert ("Nobody turns this set" in told.message) == heavy


def test_a_shop_that_taps_by_hand_mills_what_is_too_heavy_for_a_person() -> None:
    """M36 in C45 takes about 280 N m; where no thread is milled it stands as too heavy."""
    wanted = Preferences(tap_by_hand=True)
    (milled,) = explain("M36 THRU", Shop(preferences=wanted), ReadOptions("mm", "C45", 30)).holes
    assert milled.cut_plan is not None
    assert milled.cut_plan.cuts[-1].step.kind is StepKind.THREAD_MILL
    (heavy,) = explain("M36 THRU", Shop(Machine(thread_milling=False), wanted), ReadOptions("mm", "C45", 30)).holes
    assert heavy.cut_plan is not None
    (note,) = heavy.cut_plan.cuts[-1].overload
    assert "single-point tool" in note.suggestion
    assert "Thread-mill" not in note.suggestion


def test_a_shop_says_what_its_people_turn(tmp_path: Path) -> None:
    """The limit of a hand set is a row of the rules as any other: a shop replaces it, and its reason and source are told."""
    rules = tmp_path / "own.csv"
    rules.write_text("id,decides,verdict,because\nY10,most torque by hand,800 N m,two people on a wrench of 2.7 m\n")
    shop = Shop(preferences=Preferences(rules=str(rules)))
    (hole,) = explain("Tr40x7 THRU", shop, ReadOptions("mm", "C45", 40)).holes
    assert hole.cut_plan is not None
    taps = [each for each in hole.cut_plan.cuts if each.step.kind is StepKind.TAP]
    assert [each.overload for each in taps] == [(), (), ()]
    (reason,) = [reason for reason in taps[0].reasons if reason.rule == "Y10"]
    assert reason.decision == "most torque by hand: 800 N m"
    assert reason.because == "two people on a wrench of 2.7 m"
    assert reason.cites[0].standard == "own.csv"


@pytest.mark.parametrize("verdict", ["much", "0 N m", "-3 N m", "100 lbf", "nan N m", "inf N m"])
def test_a_limit_is_a_number_with_its_unit(tmp_path: Path, verdict: str) -> None:
    rules = tmp_path / "own.csv"
    rules.write_text(f"decides,verdict\nmost torque by hand,{verdict}\n")
    with pytest.raises(BadTable, match="write a number above 0 and its unit: 10 N·m"):
        explain("Tr40x7 THRU", Shop(preferences=Preferences(rules=str(rules))), ReadOptions("mm", "C45", 40))


@pytest.mark.parametrize(("torque", "process"), [("0.01..0.1", "thread mill"), ("0.1..", "cut"), ("..0.1", "thread mill")])
def test_a_row_fires_at_any_share_of_the_spindles_torque(tmp_path: Path, torque: str, process: str) -> None:
    """M8 in C45 takes about 4 N m, a twentieth of the machine's 70."""
    rules = tmp_path / "own.csv"
    rules.write_text(f"decides,verdict,torque\nprocess,thread mill,{torque}\n")
    (hole,) = explain("M8 ↧12", Shop(preferences=Preferences(rules=str(rules))), ReadOptions("mm", "C45", 40)).holes
    assert hole.cut_plan is not None
    assert hole.cut_plan.cuts[-1].step.process == process


@pytest.mark.parametrize(("callout", "newton_metres"), [("Rc1/4", 29), ("1/4-18 NPT", 51)])
def test_a_taper_thread_too_heavy_for_the_spindle_is_tapped_by_hand_with_its_one_tap(
    callout: str, newton_metres: int
) -> None:
    weak = Shop(Machine(spindle_torque_nm=12, spindle_power_kw=2.2, axis_thrust_n=1500, thread_milling=False))
    (hole,) = explain(callout, weak, ReadOptions("mm", "42CrMo4", 45)).holes
    assert hole.cut_plan is not None
    (tap,) = [cut for cut in hole.cut_plan.cuts if cut.step.kind is StepKind.TAP]
    assert tap.step.tool.by_hand
    assert tap.step.reasons[0].rule == "P39"
    assert tap.step.tool.chamfer is not None
    assert tap.step.tool.chamfer.threads == 3  # a taper tap's own, not shared in a set
    assert round(tap.torque_nm or 0) == newton_metres
    assert tap.overload == ()
    (told,) = [note for note in hole.notes if note.code == "TAP-HAND-SET"]
    assert told.message.endswith(": the spindle cannot turn this tap. Tap it by hand.")
    assert not any("than a person turns" in note.message for note in hole.notes)


def test_what_the_spindle_cannot_turn_is_tapped_by_hand_where_no_thread_is_milled() -> None:
    """M16 in C45 takes about 24 N m: too much for a spindle of 15, little for a person. M30 nobody turns, and it is said."""
    weak = Shop(Machine(spindle_torque_nm=15, spindle_power_kw=2.2, axis_thrust_n=2000, thread_milling=False))
    (light,) = explain("M16 THRU", weak, ReadOptions("mm", "C45", 40)).holes
    assert light.cut_plan is not None
    last = light.cut_plan.cuts[-1]
    assert last.step.tool.by_hand
    assert last.step.reasons[0].rule == "P39"
    assert last.overload == ()
    (told,) = [note for note in light.notes if note.code == "TAP-HAND-SET"]
    assert "Tap it by hand" in told.message
    (heavy,) = explain("M30 THRU", weak, ReadOptions("mm", "C45", 40)).holes
    assert heavy.cut_plan is not None
    assert [note.code for note in heavy.cut_plan.cuts[-1].overload] == ["CUT-HAND-OVER"]
    (told,) = [note for note in heavy.notes if note.code == "TAP-HAND-SET"]
    assert told.message == "M30x3.5-6H: the spindle cannot turn this tap. Nobody turns this set by hand."


def test_the_taps_of_a_trapezoidal_set_share_the_chip_and_speak_once() -> None:
    """Half, about a third and about a fifth of it, together the whole (common practice, no source); what lowers the risk
    stands with the first, which takes most."""
    unable = Shop(Machine(thread_milling=False))
    (hole,) = explain("Tr20x4 THRU", unable, ReadOptions("mm", "42CrMo4", 45)).holes
    assert hole.cut_plan is not None
    first, second, last = [cut for cut in hole.cut_plan.cuts if cut.step.kind is StepKind.TAP]
    whole = 2 * (first.torque_nm or 0)
    assert [(cut.torque_nm or 0) / whole for cut in (first, second, last)] == pytest.approx([0.5, 0.3, 0.2])
    assert first.risk is not None
    assert first.risk.band == "watch"
    (note,) = [note for note in hole.notes if note.code == "TAP-RISK"]
    assert f"{first.risk.index * 100:.0f} %" in note.message
    assert [bool(cut.risk.remedies) for cut in (first, second, last) if cut.risk] == [
        bool(first.risk.remedies),
        False,
        False,
    ]


def test_what_lowers_the_risk_of_a_set_stands_with_its_last_tap() -> None:
    """The taps of a set for a blind metric hole are of one diameter: each is loaded alike."""
    (hole,) = explain("M5 ↧12", Shop(preferences=Preferences(tap_by_hand=True)), ReadOptions("mm", "304", 40)).holes
    assert hole.cut_plan is not None
    *earlier, last = [cut for cut in hole.cut_plan.cuts if cut.step.kind is StepKind.TAP]
    assert earlier
    assert last.risk is not None
    assert last.risk.remedies
    assert all(cut.risk is not None and not cut.risk.remedies for cut in earlier)
