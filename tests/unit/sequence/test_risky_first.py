"""The taps nearest to breaking before more work is put into the part. Common practice, no source: a machinist runs the
risky hole through while the part is still cheap, and takes a tool change or two for it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from test_order import cut

from holesched.callouts.model import Side
from holesched.cutting.model import CutStep, TapRisk
from holesched.notes import CellRef
from holesched.pipeline import plan_schedule
from holesched.reports.process_sheet import _order
from holesched.reports.show import Show
from holesched.schedule.model import JobHeader, Schedule, ScheduleRow
from holesched.sequence.model import JobPlan
from holesched.sequence.order import order_runs
from holesched.sequence.risky_first import runs_with_risky_first
from holesched.shop.model import Preferences, Shop
from holesched.tooling.model import StepKind

SPOT, SINK = cut(StepKind.SPOT, 10), cut(StepKind.COUNTERSINK, 10.4)


def tap(diameter_mm: float, index: float) -> CutStep:
    band = "change" if index > 0.5 else "watch"
    return replace(cut(StepKind.TAP, diameter_mm, 2.0), risk=TapRisk(index, band, 4.0))


def drill(diameter_mm: float) -> CutStep:
    return cut(StepKind.DRILL, diameter_mm)


RISKY = [SPOT, drill(5), SINK, tap(6, 0.7)]
CALM = [SPOT, drill(6.8), SINK, tap(8, 0.3)]
BORE = [SPOT, drill(20), cut(StepKind.REAM, 21)]


def order(*holes: list[CutStep], changes: int = 2) -> list[str]:
    runs = order_runs(holes, runs_with_risky_first(holes, changes))
    return [f"{run.kind.value} {run.tool.diameter_mm:g}" for run in runs]


def test_the_whole_chain_of_the_risky_tap_comes_first() -> None:
    """The countersink serves the calm hole too, which is not drilled then: it comes again, one change more."""
    assert order(CALM, BORE, RISKY) == [
        *("spot 10", "drill 5", "countersink 10.4", "tap 6"),
        *("drill 20", "drill 6.8", "countersink 10.4", "tap 8", "ream 21"),
    ]


def test_no_more_changes_than_the_shop_takes() -> None:
    """With none to spare the calm hole's drill comes before the one countersink, or nothing comes first at all."""
    assert order(CALM, BORE, RISKY, changes=0) == order(CALM, BORE, [*RISKY[:-1], tap(6, 0.4)], changes=0)
    assert order(CALM, BORE, RISKY, changes=1).count("countersink 10.4") == 2


def test_where_it_costs_no_change_it_needs_none() -> None:
    bare = [SPOT, drill(5), tap(6, 0.7)]
    assert order(CALM, BORE, bare, changes=0)[:3] == ["spot 10", "drill 5", "tap 6"]


def test_what_the_same_tools_do_without_waiting_is_done_with_them() -> None:
    same_drill = [SPOT, drill(5), cut(StepKind.COUNTERBORE, 9)]
    runs = runs_with_risky_first([same_drill, RISKY], 2)
    assert [run.first for run in runs[0]] == [True, True, False]
    assert order(same_drill, RISKY).count("drill 5") == 1


def test_calm_taps_and_hand_taps_change_nothing() -> None:
    by_hand = replace(RISKY[-1], step=replace(RISKY[-1].step, tool=replace(RISKY[-1].step.tool, by_hand=True)))
    for holes in ([CALM, BORE], [CALM, BORE, [*RISKY[:-1], by_hand]]):
        assert order_runs(holes, runs_with_risky_first(holes, 2)) == order_runs(holes)


def test_every_hole_keeps_its_order_and_loses_nothing() -> None:
    far = [replace(each, step=replace(each.step, side=Side.FAR)) for each in RISKY]
    holes = [CALM, BORE, RISKY, [*CALM, *far], [SPOT, drill(3.3), SINK, tap(4, 0.9)]]
    runs_of = runs_with_risky_first(holes, 2)
    runs = order_runs(holes, runs_of)
    assert len(runs) == len(set(runs))
    for mine, cuts in zip(runs_of, holes, strict=True):
        assert [(run.kind, run.tool) for run in mine] == [(each.step.kind, each.step.tool) for each in cuts]
        assert [runs.index(run) for run in mine] == sorted(runs.index(run) for run in mine)


def job_of(shop: Shop, *rows: str, lot: int | None = None) -> JobPlan:
    header = JobHeader(material="316L", thickness_mm=50.0, lot=lot)
    read = tuple(ScheduleRow(CellRef("made.csv", "-", 2 + n, 1), f"A{n}", text, "mm") for n, text in enumerate(rows))
    return plan_schedule(Schedule("made.csv", "-", "", header, read, (), len(read)), (), shop)


ROWS = ("⌀20 H7 THRU", "1/4-20 UNC-2B ↧12.7", "⌀30 THRU")


@pytest.mark.parametrize("first", [True, False])
def test_the_sheet_says_why_and_a_shop_may_switch_it_off(first: bool) -> None:
    job = job_of(Shop(preferences=Preferences(risky_taps_first=first)), *ROWS)
    taps = [place for place, operation in enumerate(job.operations) if operation.kind is StepKind.TAP]
    drills = [place for place, operation in enumerate(job.operations) if operation.kind is StepKind.DRILL]
    told = _order(job, Show("mm"))
    assert any(operation.first for operation in job.operations) == first == told.startswith("Operations 10 to")
    assert (taps[0] < drills[-1]) == first == ("(Y30); here none more." in told)
    assert sorted(target.letter for operation in job.operations for target in operation.targets) == sorted(
        hole.type.letter for hole in job.holes for _ in hole.cuts
    )


def test_a_large_lot_and_a_shop_may_want_no_change_more(tmp_path: Path) -> None:
    """A countersink under the risky hole and under a calm one: two changes for it in a small lot, one in a large one."""
    rows = ("1/4-20 UNC-2B ↧12.7 ⌵ ⌀9", "⌀8 THRU ⌵ ⌀9", "⌀30 THRU")
    own = tmp_path / "own.csv"
    own.write_text("decides,verdict\nchanges for risky taps,0 changes\n", encoding="utf-8")

    def sinks(shop: Shop, lot: int | None) -> list[str]:
        job = job_of(shop, *rows, lot=lot)
        told = job.risky_first
        return [
            told.rule if told is not None else "",
            *(o.kind.value for o in job.operations if o.kind is StepKind.COUNTERSINK),
        ]

    assert sinks(Shop(), 20) == ["Y30", "countersink", "countersink"]
    assert sinks(Shop(), 800).count("countersink") == 1
    assert sinks(Shop(preferences=Preferences(rules=str(own))), 20).count("countersink") == 1
