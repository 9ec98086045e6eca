"""What a verdict costs: `python tests/bench/verdict.py [holes]`.

Distinct tapped holes (materials x threads x depths), each explained as a job of its own: callout read, limits, tools with
all that lost, depths, cutting data, loads, risk, time, order. CPU time of one process; the first holes, which load the
tables, are timed apart. The target is a millisecond a hole, ten seconds for ten thousand. On a machine that others use too,
the least of several runs (third line) tells more than the sum of one (second line). Then the verdict alone, without the
reading before it and the job after it. The slowest follow with what makes them, and how often a hole was planned: what its
tools ask of the machine may call for another plan. Then the same holes in a shop with some hundred drills in its crib, and
last, all in one schedule: one job.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Sequence
from random import Random
from typing import Any
from unittest.mock import patch

from holesched import pipeline
from holesched.cutting.model import CutPlan
from holesched.notes import CellRef
from holesched.pipeline import explain, plan_schedule
from holesched.schedule.model import JobHeader, ReadOptions, Schedule, ScheduleRow
from holesched.shop.model import Shop, ShopTool
from holesched.standards import drill_sizes, iso261
from holesched.standards.materials import all_materials
from holesched.tooling.reckoned import Reckoned

HOLES = 10_000
TARGET_MS = 1.0
WARM = 400
RUNS = 7
QUANTILES = (50, 84, 95, 99)
SLOWEST = 5
DEPTHS_D = (1.0, 1.5, 2.0, 2.5)
Case = tuple[str, ReadOptions]


def distinct() -> list[Case]:
    """Every metric thread from M3 to M24 in every material, in four depths, shuffled once and for all."""
    cases = [
        (f"M{size.diameter_mm:g}x{pitch:g}-6H ↧{size.diameter_mm * deep:g}", material.key, 3 * size.diameter_mm + 20)
        for size in iso261.sizes().values()
        if 3 <= size.diameter_mm <= 24
        for pitch in size.pitches_mm
        for material in all_materials()
        for deep in DEPTHS_D
    ]
    Random(1).shuffle(cases)
    return [(callout, ReadOptions("mm", material, thickness_mm)) for callout, material, thickness_mm in cases]


def cpu_ms(cases: Sequence[Case], shop: Shop) -> list[float]:
    """CPU time of each hole."""
    found = []
    for callout, options in cases:
        start = time.process_time_ns()
        explain(callout, shop, options)
        found.append((time.process_time_ns() - start) / 1e6)
    return found


def least_ms(cases: Sequence[Case], shop: Shop) -> list[float]:
    """The least CPU time of each hole in several runs."""
    least = cpu_ms(cases, shop)
    for _ in range(RUNS):
        least = [min(pair) for pair in zip(least, cpu_ms(cases, shop), strict=True)]
    return least


def verdict_ms(cases: Sequence[Case], shop: Shop) -> list[float]:
    """The least CPU time of each hole's verdict alone: from known limits to a plan with loads, times and reasons."""
    took_ms: list[float] = []
    settle = pipeline._settled

    def timed(*args: Any) -> tuple[CutPlan, Reckoned]:
        start = time.process_time_ns()
        settled = settle(*args)
        took_ms.append((time.process_time_ns() - start) / 1e6)
        return settled

    with patch.object(pipeline, "_settled", timed):
        cpu_ms(list(cases) * (RUNS + 1), shop)
    return [min(took_ms[index :: len(cases)]) for index in range(len(cases))]


def plans_of(case: Case, shop: Shop) -> int:
    """How often a hole was planned before a plan stood."""
    with patch.object(pipeline, "draft_tools", wraps=pipeline.draft_tools) as planned:
        explain(case[0], shop, case[1])
    return planned.call_count


def full_crib() -> Shop:
    """Every usual drill in three materials."""
    sizes = drill_sizes.series("metric-preferred")
    return Shop(crib=tuple(ShopTool("drill", size.label, of) for of in ("HSS", "HSS-Co", "carbide") for size in sizes))


def one_job(holes: int) -> Schedule:
    """So many distinct holes in one part: every size and pitch, each a little deeper than the one before."""
    sizes = [(s.diameter_mm, p) for s in iso261.sizes().values() if 3 <= s.diameter_mm <= 24 for p in s.pitches_mm]
    callouts = [
        f"M{mm:g}x{pitch:g}-6H ↧{mm * (1 + 0.005 * deeper):.2f}"
        for deeper in range(holes // len(sizes) + 1)
        for mm, pitch in sizes
    ][:holes]
    refs = (CellRef("bench.csv", "-", number, 1) for number in range(1, holes + 1))
    rows = tuple(ScheduleRow(ref, "", callout, "mm", thickness_mm=90) for ref, callout in zip(refs, callouts, strict=True))
    header = JobHeader(material="C45", thickness_mm=90, unit="mm", unit_stated=True)
    return Schedule("bench.csv", "-", "", header, rows, (), len(rows))


def main() -> None:
    wanted = int(sys.argv[1]) if len(sys.argv) > 1 else HOLES
    cases, shop = distinct(), Shop()
    first = cpu_ms(cases[:WARM], shop)
    print(f"first {WARM} holes: {sum(first):.0f} ms, the first of all {first[0]:.0f} ms")
    each = sorted(cpu_ms(cases[WARM : WARM + wanted], shop))
    mean, slow = sum(each) / len(each), each[len(each) * 99 // 100]
    print(f"{len(each)} distinct holes: {sum(each) / 1000:.1f} s; {mean:.2f} ms a hole, 99 of 100 in {slow:.2f} ms")
    least = least_ms(cases[:WARM], shop)
    ranked = sorted(zip(least, cases[:WARM], strict=True), key=lambda timed: -timed[0])
    under = sum(one < TARGET_MS for one in least) / WARM
    at = ", ".join(f"{share} of 100 in {ranked[WARM - WARM * share // 100][0]:.2f} ms" for share in QUANTILES)
    print(f"least of {RUNS + 1} runs: {sum(least) / WARM:.2f} ms a hole, {under:.0%} under {TARGET_MS:g} ms; {at}")
    alone = sorted(verdict_ms(cases[:WARM], shop))
    under = sum(one < TARGET_MS for one in alone) / WARM
    mean, slow = sum(alone) / WARM, alone[-1]
    print(f"the verdict alone: {mean:.2f} ms a hole, {under:.0%} under {TARGET_MS:g} ms; the slowest {slow:.2f} ms")
    again = sum(plans_of(case, shop) > 1 for case in cases[:WARM]) / WARM
    print(f"{again:.0%} planned more than once; the slowest:")
    for took_ms, (callout, options) in ranked[:SLOWEST]:
        steps = explain(callout, shop, options).holes[0].cut_plan
        what = ", ".join(cut.step.tool.name or cut.step.kind.value for cut in steps.cuts) if steps is not None else "asked"
        print(f"  {took_ms:.2f} ms  {callout} in {options.material}, {plans_of((callout, options), shop)} plans: {what}")
    stocked = full_crib()
    print(f"with {len(stocked.crib)} drills in the crib: {sum(least_ms(cases[:WARM], stocked)) / WARM:.2f} ms a hole")
    schedule, start = one_job(wanted), time.process_time()
    plan_schedule(schedule, (), shop)
    print(f"one job of {wanted} distinct holes: {time.process_time() - start:.1f} s")


if __name__ == "__main__":
    main()
