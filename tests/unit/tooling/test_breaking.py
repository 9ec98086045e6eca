"""A tap that would take much of the torque that breaks it is not only watched: a larger drill inside the limits, and where
that is not enough a thread mill. The shares are the rules' own (common practice, no source)."""

from __future__ import annotations

from pathlib import Path

import pytest

from holesched.cutting.model import CutStep
from holesched.notes import Reason
from holesched.pipeline import compare, explain
from holesched.schedule.model import ReadOptions
from holesched.sequence.model import JobPlan
from holesched.shop.model import Machine, Preferences, Shop

WITHOUT = "id,effect,decides,verdict\n" + "".join(
    f"{rule},off,{of},\n"
    for of, rules in (("process", ("P35", "P36", "P61")), ("tap drill aim", ("A24", "A25")))
    for rule in rules
)


def planned(callout: str, workpiece: str, shop: Shop | None = None) -> JobPlan:
    return explain(callout, shop or Shop(), ReadOptions("mm", workpiece, 40.0))


def steps(job: JobPlan) -> tuple[CutStep, CutStep]:
    """The drill of the thread, and what finishes the thread."""
    (hole,) = job.holes
    assert hole.cut_plan is not None
    drills = [cut for cut in hole.cut_plan.cuts if cut.step.fit is not None]
    (last,) = [cut for cut in hole.cut_plan.cuts if cut.step.finishes_thread]
    return drills[-1], last


def reason(cut: CutStep, decision: str) -> Reason:
    return next(reason for reason in cut.step.reasons if reason.decision.startswith(decision))


def own(tmp_path: Path, text: str) -> Shop:
    path = tmp_path / "own.csv"
    path.write_text(text)
    return Shop(preferences=Preferences(rules=str(path)))


def test_a_larger_drill_is_taken_where_the_tap_would_be_strained(tmp_path: Path) -> None:
    """#6-32 in 11SMn30: the usual #36 leaves 0.51 of the torque that breaks the tap, #34 inside the limits 0.40."""
    before, strained = steps(planned("#6-32 UNC ↧5", "11SMn30", own(tmp_path, WITHOUT)))
    drill, tap = steps(planned("#6-32 UNC ↧5", "11SMn30"))
    assert (before.step.tool.size, drill.step.tool.size) == ("#36", "#34")
    assert strained.risk is not None
    assert tap.risk is not None
    assert tap.risk.index < 0.5 < strained.risk.index
    assert tap.step.process == "cut"
    aim = reason(drill, "tap drill aim")
    assert aim.rule == "A24"
    assert "more than half of the torque that breaks it" in aim.because
    assert drill.step.fit is not None
    assert drill.step.fit.hole_mm <= drill.step.fit.window_mm[1]


@pytest.mark.parametrize(
    ("callout", "workpiece", "rule", "share"),
    [
        ("#6-32 UNC ↧6", "42CrMo4+QT", "P35", 1.0),
        ("#10-24 UNC ↧9.6", "X5CrNi18-10", "P35", 0.8),
        ("1/4-20 UNC ↧12.7", "42CrMo4+QT", "P35", 0.8),
        ("M2 ↧4", "X5CrNi18-10", "P35", 0.8),  # else a set by hand
        ("M4 THRU", "hardened-45-55", "P35", 0.8),
        ("M12 THRU", "hardened-45-55", "P61", 0.5),  # carbide breaks without warning
        ("M3 ↧6", "N07718-SA", "P36", 0.5),  # its torque may be twice the estimate
        ("M2 ↧4", "Ti-6Al-4V", "P36", 0.5),
        ("#10-24 UNC ↧9.6", "Ti-2", "P36", 0.5),
    ],
)
def test_where_the_largest_drill_is_not_enough_the_thread_is_milled(
    callout: str, workpiece: str, rule: str, share: float, tmp_path: Path
) -> None:
    _, strained = steps(planned(callout, workpiece, own(tmp_path, WITHOUT)))
    assert strained.risk is not None
    assert strained.risk.index >= share
    job = planned(callout, workpiece)
    _, milled = steps(job)
    assert milled.step.process == "thread mill"
    assert reason(milled, "process").rule == rule
    assert [each.choice.process for each in compare(job, Shop()) if each.choice.chosen] == ["thread mill"]


@pytest.mark.parametrize("callout", ["M3 ↧6", "M4 ↧8", "M5 ↧10", "M8 ↧16"])
def test_what_every_shop_taps_in_quenched_steel_is_tapped(callout: str) -> None:
    """Common practice, no source."""
    assert steps(planned(callout, "42CrMo4+QT"))[1].step.process == "cut"


@pytest.mark.parametrize(
    ("callout", "workpiece"),
    [
        ("#6-32 UNC ↧7", "1018"),
        ("#10-24 UNC ↧9.6", "1018"),
        ("#10-24 UNC ↧9.6", "C45"),
        ("1/4-20 UNC ↧12.7", "X5CrNi18-10"),
        ("M3 ↧6", "X5CrNi18-10"),
        ("M6 ↧12", "Ti-6Al-4V"),
    ],
)
def test_what_every_shop_taps_every_day_is_tapped(callout: str, workpiece: str) -> None:
    """Common practice, no source."""
    assert steps(planned(callout, workpiece))[1].step.process == "cut"


@pytest.mark.parametrize(("lot", "process"), [(None, "hand set"), (10, "hand set"), (11, "cut"), (5000, "cut")])
def test_a_tiny_thread_in_tough_metal_is_tapped_by_hand_in_a_few_parts(lot: int | None, process: str) -> None:
    """Where it comes near to breaking and no thread is milled; common practice, no source. A lot takes the machine."""
    job = explain("M2 ↧4", Shop(machine=Machine(thread_milling=False)), ReadOptions("mm", "304", 10.0, lot=lot))
    assert steps(job)[1].step.process == process
    for calm in ("M2.5 ↧5", "M2 THRU"):
        job = explain(calm, Shop(machine=Machine(thread_milling=False)), ReadOptions("mm", "304", 10.0, lot=lot))
        assert steps(job)[1].step.process == "cut"


def test_a_shop_that_forms_does_so_in_a_lot_of_tiny_threads() -> None:
    forming = Shop(preferences=Preferences(prefer_forming=True))
    job = explain("M2 THRU", forming, ReadOptions("mm", "304", 4.0, lot=5000))
    assert steps(job)[1].step.process == "form"


@pytest.mark.parametrize(
    "shop", [Shop(Machine(thread_milling=False)), Shop(Machine(thread_milling=False), Preferences(tap_by_hand=True))]
)
def test_a_hand_set_near_to_breaking_is_a_question(shop: Shop) -> None:
    """Where no thread is milled: M2 in 304 takes 89 % by an estimate that is good to 40 %; M3 by hand 44 %, watched."""
    job = planned("M2 ↧4", "X5CrNi18-10", shop)
    _, tap = steps(job)
    assert tap.step.tool.by_hand
    assert tap.risk is not None
    assert 0.8 <= tap.risk.index < 1
    (asked,) = [note for note in job.holes[0].notes if note.code.startswith("TAP-RISK")]
    assert asked.code == "TAP-RISK-BY-HAND"
    assert asked.is_question
    assert asked.message.startswith("M2x0.4, by hand, is near to breaking its tap: when worn, the tap takes about 89 % ")
    assert asked.message.endswith("of the torque that breaks it, and the estimate is good to 40 %.")
    assert asked.suggestion.endswith("Or have the thread milled where that is done, or ask for a larger one.")
    larger = planned("M3 ↧6", "X5CrNi18-10", shop)
    assert not any(note.is_question for note in larger.holes[0].notes)


def test_where_no_thread_is_milled_it_is_tapped_with_the_largest_drill_and_watched() -> None:
    drill, tap = steps(planned("M4 ↧8", "42CrMo4+QT", Shop(machine=Machine(thread_milling=False))))
    assert tap.step.process == "cut"
    assert reason(drill, "tap drill aim").rule == "A25"
    (hole,) = planned("M4 ↧8", "42CrMo4+QT", Shop(machine=Machine(thread_milling=False))).holes
    assert any(note.code == "TAP-RISK" for note in hole.notes)


def test_a_tap_that_is_calm_keeps_the_usual_drill() -> None:
    drill, tap = steps(planned("M8 ↧12", "C45"))
    assert tap.step.process == "cut"
    assert reason(drill, "tap drill aim").rule == "A10"


def test_a_shop_sets_its_own_margin(tmp_path: Path) -> None:
    """M8 in C45 takes about a fifth of what breaks its tap: a cautious shop mills from a tenth on, any other range works."""
    cautious = "id,decides,verdict,breaking,given\nP35,process,thread mill,0.1..,larger drill\n"
    assert steps(planned("M8 ↧12", "C45", own(tmp_path, cautious)))[1].step.process == "thread mill"
    outright = "decides,verdict,breaking\nprocess,thread mill,0.1..0.4\n"
    assert steps(planned("M8 ↧12", "C45", own(tmp_path, outright)))[1].step.process == "thread mill"


def test_a_forming_tap_is_told_by_what_a_cutting_one_would_take() -> None:
    """#6-32 in 16MnCr5: forming takes a quarter more of what breaks its stronger tap, so it is struck, and cutting too."""
    _, tap = steps(planned("#6-32 UNC ↧7", "16MnCr5", Shop(preferences=Preferences(prefer_forming=True))))
    assert tap.step.process == "thread mill"
    lost = {each.candidate: each.rule for each in reason(tap, "process").rejected}
    assert lost["form"] == "P59"


@pytest.mark.parametrize(
    ("callout", "workpiece"),
    [("M1.6 ↧3", "S355J2"), ("M1.6 ↧3", "X12CrS13"), ("#6-32 UNC ↧7", "C60"), ("#6-32 UNC ↧7", "X8CrNiS18-9")],
)
@pytest.mark.parametrize("lot", [None, 5000])
def test_what_was_too_much_to_form_is_not_formed_because_a_larger_drill_eased_the_cutting_tap(
    callout: str, workpiece: str, lot: int | None
) -> None:
    forming = Shop(preferences=Preferences(prefer_forming=True))
    _, last = steps(explain(callout, forming, ReadOptions("mm", workpiece, 40.0, lot=lot)))
    assert last.step.process in ("cut", "thread mill")
    assert last.risk is None or last.risk.index < 1
    lost = {each.candidate: each.rule for each in reason(last, "process").rejected}
    assert lost["form"] in ("P59", "P63")


def test_no_trapezoidal_thread_is_cut_with_a_carbide_tap() -> None:
    """In hardened work no set is turned by hand and no tap made: it is milled, and asked about where none is milled."""
    _, milled = steps(planned("Tr20x4 THRU", "hardened-45-55"))
    assert reason(milled, "process").rule == "P38"
    (hole,) = planned("Tr20x4 THRU", "hardened-45-55", Shop(machine=Machine(thread_milling=False))).holes
    assert any(note.code == "TAP-NONE-HOLDS" and note.is_question for note in hole.notes)
    assert hole.cut_plan is not None
    assert not any(cut.step.kind.makes_thread for cut in hole.cut_plan.cuts)


@pytest.mark.parametrize("callout", ["M2x0.4-6H ↧5", "M1.6 ↧3"])
@pytest.mark.parametrize("workpiece", ["42CrMo4", "X5CrNi18-10"])
def test_a_tap_that_would_break_is_milled_or_not_to_be_run(callout: str, workpiece: str) -> None:
    """Whether cut in the spindle or with a set by hand, which the rules choose for small threads in stainless steel."""
    _, mill = steps(planned(callout, workpiece))
    assert mill.step.process == "thread mill" or (mill.risk is not None and mill.risk.index < 1)
    job = planned(callout, workpiece, Shop(machine=Machine(thread_milling=False)))
    _, tap = steps(job)
    assert tap.risk is not None
    assert [note.code for note in tap.overload] == (["TAP-BREAKS"] if tap.risk.index >= 1 else [])
    told = [note for note in job.holes[0].notes if note.code.startswith(("TAP-RISK", "TAP-BREAKS"))]
    near = "TAP-RISK-BY-HAND" if tap.step.tool.by_hand else "TAP-RISK"
    assert [note.code for note in told] == ["TAP-BREAKS" if tap.risk.index >= 1 else near]
    if tap.risk.index >= 1:
        assert told[0].message.endswith("of the torque that breaks it: not to be run as it stands.")
        assert told[0].suggestion.endswith("Or have the thread milled where that is done, or ask for a larger one.")


def test_a_shop_that_taps_by_hand_mills_what_would_break() -> None:
    """M1.6 in 18CrNiMo7-6: 184 % of the torque that breaks the tap, worn (calculated)."""
    by_hand = Preferences(tap_by_hand=True)
    assert steps(planned("M1.6 ↧3", "18CrNiMo7-6", Shop(preferences=by_hand)))[1].step.process == "thread mill"
    unable = Shop(Machine(thread_milling=False), by_hand)
    assert [note.code for note in steps(planned("M1.6 ↧3", "18CrNiMo7-6", unable))[1].overload] == ["TAP-BREAKS"]


@pytest.mark.parametrize(
    ("callout", "asked"),
    [("M8 THRU", True), ("STI M6 ↧9", True), ("1/4-18 NPT", False), ("Tr16x4 THRU", False), ("M24 THRU", False)],
)
def test_in_a_large_lot_a_formed_thread_is_asked_for_only_where_one_can_be_formed(callout: str, asked: bool) -> None:
    """Taper and trapezoidal profiles are not formed, nor sizes from M20 (common practice, no source)."""
    (hole,) = explain(callout, Shop(), ReadOptions("mm", "6061-T6", 25.4, lot=500)).holes
    assert any(note.code == "TAP-LOT-FORM" for note in hole.notes) == asked
