"""A pilot runs in a drilled hole, never in a finished thread or bore, nor in solid metal: common practice, no source."""

from __future__ import annotations

import pytest

from holesched.pipeline import explain
from holesched.schedule.model import ReadOptions
from holesched.sequence.model import JobPlan
from holesched.shop.model import Machine, Preferences, Shop
from holesched.tooling.model import OPENING, StepKind, ToolStep
from holesched.tooling.pilots import FLAT_CUTTER, PILOTED, WITHOUT

THREAD, FINISHED, SOLID, DRILLED = "in the finished thread", "score the finished hole", "no hole for one", "drilled before"
BY_HAND = Shop(Machine(thread_milling=False), Preferences(tap_by_hand=True))


def flat_cutters(callout: str, shop: Shop | None = None) -> list[tuple[ToolStep, list[ToolStep]]]:
    """Every flat cutter with the steps before it, all steps in the order of work."""
    job: JobPlan = explain(callout, shop or Shop(), ReadOptions("mm", "C45", 40.0))
    steps = [cut.step for hole in job.holes for cut in hole.cuts]
    return [(step, steps[:index]) for index, step in enumerate(steps) if step.kind in PILOTED]


@pytest.mark.parametrize(
    ("callout", "runs"),
    [
        ("Ø9 THRU, CBORE Ø15 ↧5", [DRILLED]),
        ("Ø9 THRU, CBORE Ø15 ↧5 BOTH SIDES", [DRILLED, DRILLED]),
        ("M8 ↧16, CBORE Ø15 ↧5", [DRILLED]),
        ("M8 THRU, CBORE Ø18 ↧5 BOTH SIDES", [DRILLED, THREAD]),
        ("M8 THRU, SF Ø18 FAR SIDE", [THREAD]),
        ("Ø6.8 THRU, M8 ↧16, CBORE Ø18 ↧5 FAR SIDE", [DRILLED]),  # the thread does not come out there
        ("Ø20 H8 THRU, CBORE Ø30 ↧5 BOTH SIDES", [DRILLED, DRILLED]),  # the reamer comes after both
        ("Ø8 H7 ↧12, CBORE Ø15 ↧5", [DRILLED]),
        ("BORE Ø20 H7 THRU, CBORE Ø30 ↧5", [FINISHED]),
        ("Ø9 ↧20, CBORE Ø15 ↧5 FAR SIDE", [SOLID]),
        ("CBORE Ø15 ↧5", [SOLID]),
        ("Ø9 THRU, SF Ø18 ON SLANTED FACE", [SOLID]),
    ],
)
def test_what_a_pilot_runs_in(callout: str, runs: list[str]) -> None:
    found = flat_cutters(callout)
    whys = [reason.because for step, _ in found for reason in step.reasons if reason.rule == FLAT_CUTTER]
    assert [next(word for word in (THREAD, FINISHED, SOLID, DRILLED) if word in why) for why in whys] == runs
    assert [step.tool.name.endswith(WITHOUT) for step, _ in found] == [run != DRILLED for run in runs]
    for step, before in found:
        made = [other for other in before if other.kind in OPENING or other.kind.makes_thread]
        holes = [other for other in made if other.through or other.side is step.side]
        if not step.tool.name.endswith(WITHOUT):
            assert holes
            assert max(holes, key=lambda other: other.diameter_mm).kind is StepKind.DRILL


def test_what_a_person_taps_at_the_bench_is_not_there_yet() -> None:
    ((cutter, before),) = flat_cutters("M8 THRU, CBORE Ø18 ↧5 FAR SIDE", BY_HAND)
    assert any(step.tool.by_hand for step in before), "in the plan of one hole the thread stands before it"
    assert not cutter.tool.name.endswith(WITHOUT)


def test_with_and_without_a_pilot_are_two_tools_in_two_pots() -> None:
    job = explain("M8 THRU, CBORE Ø18 ↧5 BOTH SIDES", Shop(), ReadOptions("mm", "C45", 40.0))
    names = [loaded.tool.called for loaded in job.loading if loaded.tool.kind is StepKind.COUNTERBORE]
    assert sorted(names) == ["counterbore 18 mm", "counterbore without pilot 18 mm"]
