"""Taper pipe threads: tapped to the gauge whatever the drawing says, drilled deep enough, reamed 1:16 where it is tough.

L1 of ASME B1.20.1, Table 2: 1/8 0.1615 in, 1/4 0.2278 in; L3 three threads (from memory of the same standard); three
pitches of run-out below (common practice, no source).
"""

from __future__ import annotations

from pathlib import Path

import pytest
from tooling_samples import codes, one, plan, size, step, tap

from holesched.callouts.model import Kind
from holesched.notes import Severity
from holesched.pipeline import explain
from holesched.schedule.model import ReadOptions
from holesched.shop.model import Preferences, Shop
from holesched.tooling.model import StepKind, ToolPlan

PITCH_27, PITCH_18 = 25.4 / 27, 25.4 / 18
FULL_EIGHTH, FULL_QUARTER = 0.1615 * 25.4 + 3 * PITCH_27, 0.2278 * 25.4 + 3 * PITCH_18


def kinds(made: ToolPlan) -> list[str]:
    return [each.kind.value for each in made.steps]


def test_through_means_drilled_through_and_tapped_to_the_gauge() -> None:
    made = plan(tap("1/8-27 NPT"), thickness_mm=38.1)
    drill, tapped = one(made, StepKind.DRILL), one(made, StepKind.TAP)
    assert (drill.through, drill.depth_mm) == (True, 38.1)
    assert not tapped.through
    assert tapped.depth_mm == pytest.approx(FULL_EIGHTH, abs=1e-3)
    assert codes(made) == ["PIPE-STOP-BY-GAUGE"]
    note = made.notes[0]
    assert note.severity is Severity.WATCH
    assert "stop by gauge, not by dial" in note.message
    assert "not tapped through" in note.message


def test_a_written_depth_near_the_full_thread_is_drilled_with_room_for_the_run_out() -> None:
    made = plan(tap("1/4-18 NPT", 11), thickness_mm=40)
    assert one(made, StepKind.TAP).depth_mm == pytest.approx(FULL_QUARTER, abs=1e-3)
    assert (one(made, StepKind.DRILL).depth_mm or 0) >= FULL_QUARTER + 3 * PITCH_18
    assert codes(made) == ["PIPE-STOP-BY-GAUGE"]


@pytest.mark.parametrize("written", [5.0, 20.0])
def test_a_written_depth_that_is_another_thread_is_asked(written: float) -> None:
    made = plan(tap("1/4-18 NPT", written), thickness_mm=40)
    assert one(made, StepKind.TAP).depth_mm == pytest.approx(FULL_QUARTER, abs=1e-3)
    (asked,) = [note for note in made.notes if note.code == "PIPE-DEPTH-DIFFERS"]
    assert asked.severity is Severity.ASK
    assert f"{written:g} mm deep" in asked.message
    assert "10.0 mm" in asked.message


def test_a_part_thinner_than_the_full_thread_is_asked() -> None:
    for made in (plan(tap("1/4-18 NPT"), thickness_mm=6), plan(tap("1/4-18 NPT", 10), thickness_mm=6)):
        assert "PIPE-PART-THIN" in codes(made)
        assert one(made, StepKind.DRILL).through


def test_tough_material_is_reamed_before_the_tap() -> None:
    """27/64 before the 1:16 reamer, 7/16 without; general drill charts (from memory), ASME B94.9."""
    made = plan(tap("1/4-18 NPT"), workpiece="304", thickness_mm=30)
    assert kinds(made) == ["spot", "drill", "ream", "tap"]
    assert one(made, StepKind.DRILL).tool.size == "27/64"
    reamer = one(made, StepKind.REAM)
    assert (reamer.tool.name, reamer.tool.size) == ("1:16 taper reamer", "1/4 NPT")
    assert reamer.depth_mm == pytest.approx(FULL_QUARTER, abs=1e-3)
    assert any(reason.rule == "B20" for reason in reamer.reasons)
    assert kinds(plan(tap("1/4-18 NPT"), workpiece="C45", thickness_mm=30)) == ["spot", "drill", "tap"]
    assert one(plan(tap("1/4-18 NPT"), workpiece="C45"), StepKind.DRILL).tool.size == "7/16"


def test_a_stated_drill_is_not_reamed() -> None:
    made = plan(step(Kind.DRILL, size(11.1125, "7/16"), through=True), tap("1/4-18 NPT", 10), workpiece="304")
    assert kinds(made) == ["spot", "drill", "tap"]


@pytest.mark.parametrize("text", ["1/4-18 NPT", "1/4-18 NPTF-1", "1/4-18 PTF-SAE SHORT", "Rc 1/4"])
def test_no_aim_is_printed_where_the_chart_decides(text: str) -> None:
    for workpiece in ("304", "6061"):
        made = plan(tap(text), workpiece=workpiece)
        assert not [reason for each in made.steps for reason in each.reasons if reason.decision.startswith("tap drill aim")]


def test_a_parallel_pipe_thread_goes_through_and_is_proved_by_a_taper_gauge() -> None:
    made = plan(tap("Rp 1/4"), workpiece="C45")
    assert one(made, StepKind.TAP).through
    assert "PIPE-GAUGE" in codes(made)
    assert not {"PIPE-GAUGE", "PIPE-STOP-BY-GAUGE"} & set(codes(plan(tap("G1/4"), workpiece="C45")))


@pytest.mark.parametrize(
    ("callout", "workpiece", "interrupted"),
    [
        ("1/4-18 NPT", "304", True),
        ("Rc 3/8", "Cu-ETP", True),
        ("1/2-14 NPT", "EN AW-6082", True),
        ("1/8-27 NPT", "304", False),  # small ones are stocked with all their teeth
        ("1/4-18 NPT", "C45", False),
        ("1/4-18 NPT", "EN-GJL-250", False),
        ("G1/4 ↧12", "304", False),  # parallel
    ],
)
def test_a_taper_tap_has_every_other_tooth_where_metal_sticks_to_it(callout: str, workpiece: str, interrupted: bool) -> None:
    """Common practice, no source."""
    (hole,) = explain(callout, Shop(), ReadOptions("mm", workpiece, 60.0)).holes
    assert hole.cut_plan is not None
    tap = hole.cut_plan.cuts[-1].step
    assert tap.tool.every_other_tooth == interrupted
    assert tap.tool.name == ("interrupted-thread tap" if interrupted else tap.tool.name)
    assert tap.tool.flutes % 2 == 1 or not interrupted
    assert ("I20" in {reason.rule for reason in tap.reasons}) == interrupted


def test_every_other_tooth_takes_twice_the_chip_and_less_torque(tmp_path: Path) -> None:
    """The chip by geometry: 5 flutes with every other tooth cut as 2.5, 4 with all their teeth as 4."""
    rules = tmp_path / "own.csv"
    rules.write_text("id,effect,decides,verdict\nI20,off,,\n")
    taps = []
    for shop in (Shop(), Shop(preferences=Preferences(rules=str(rules)))):
        (hole,) = explain("1/4-18 NPT", shop, ReadOptions("mm", "304", 60.0)).holes
        assert hole.cut_plan is not None
        taps.append(hole.cut_plan.cuts[-1])
    interrupted, whole = taps
    assert interrupted.chip_load_mm is not None
    assert whole.chip_load_mm is not None
    assert interrupted.chip_load_mm / whole.chip_load_mm == pytest.approx(4 / 2.5)
    assert (interrupted.torque_nm or 0) < (whole.torque_nm or 0)
