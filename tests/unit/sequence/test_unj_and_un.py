"""UNJ and UN of one size and class: an internal UNJ thread has only a larger minor diameter (ASME B1.15, from memory)."""

from __future__ import annotations

from holesched.notes import CellRef
from holesched.pipeline import plan_schedule
from holesched.schedule.model import JobHeader, Schedule, ScheduleRow
from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop
from holesched.tooling.model import StepKind


def job_of(*rows: str) -> JobPlan:
    read = tuple(ScheduleRow(CellRef("made.csv", "-", 2 + n, 1), f"A{n}", text, "in") for n, text in enumerate(rows))
    header = JobHeader(material="6061", thickness_mm=19.05, unit="in", unit_stated=True)
    return plan_schedule(Schedule("made.csv", "-", "", header, read, (), len(read)), (), Shop())


def taps(job: JobPlan) -> list[str]:
    return [loaded.tool.size for loaded in job.loading if loaded.tool.kind is StepKind.TAP]


def test_one_tap_and_one_pair_of_thread_plugs_two_drills_and_two_pairs_of_plain_plugs() -> None:
    job = job_of("1/4-28 UNJF-3B ↧.38", "1/4-28 UNF-3B ↧.38")
    assert taps(job) == ["1/4-28 UNF"]
    tapped = [step.diameter_mm for hole in job.holes if hole.cut_plan for step in hole.cut_plan.plan.steps if step.fit]
    assert tapped[0] > tapped[1]
    kinds = [(need.gauge.kind, len(need.letters)) for need in job.gauges]
    assert [count for kind, count in kinds if "thread plug" in kind] == [2, 2]
    assert [count for kind, count in kinds if "plain plug" in kind] == [1, 1, 1, 1]


def test_what_is_mistaken_is_the_drill() -> None:
    (note,) = [note for note in job_of("1/4-28 UNJF-3B ↧.38", "1/4-28 UNF-3B ↧.38").notes if note.code == "CHECK-LOOKALIKE"]
    assert note.message.endswith("one size and pitch, two minor diameters. Two drills, two pairs of plain plugs.")


def test_another_class_has_its_own_tap_where_its_limits_ask_for_it() -> None:
    """3B takes H2 or H3, 2B a larger one; ASME B94.9, from memory."""
    job = job_of("1/4-28 UNJF-3B ↧.38", "1/4-28 UNF-2B ↧.38")
    limits = {loaded.tool.limit for loaded in job.loading if loaded.tool.kind is StepKind.TAP}
    assert len(taps(job)) == len(limits)
    assert set(taps(job)) == {"1/4-28 UNF"}
