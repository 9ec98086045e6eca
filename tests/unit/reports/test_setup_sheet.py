"""The set-up sheet: every tool with its pot, its hold and its hand."""

from __future__ import annotations

import re
from dataclasses import replace

import sample_job

from holesched.notes import Note, Severity
from holesched.pipeline import explain, read_options
from holesched.reports import setup_sheet
from holesched.reports.base import RunStamp
from holesched.reports.below_the_part import Below, below
from holesched.reports.html import render
from holesched.reports.lists import tool_rows
from holesched.reports.show import Show
from holesched.schedule.model import ReadOptions
from holesched.sequence.model import JobPlan
from holesched.shop.model import Machine, Preferences, Shop


def page(job: JobPlan, shop: Shop, stamp: RunStamp) -> str:
    return render(setup_sheet.REPORT.template, setup_sheet.build(job, shop, stamp), stamp)


def carousel(job: JobPlan, shop: Shop, stamp: RunStamp) -> str:
    made = page(job, shop, stamp)
    return made[made.index("<h2>Carousel") : made.index("<h2>Setting")]


def row(made: str, tool: str) -> str:
    return next(found for found in re.findall(r"<tr.*?</tr>", made, re.DOTALL) if f">{tool}</td>" in found)


def test_it_has_a_line_a_tool(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    made = carousel(job, shop, stamp)
    for loaded in job.loading:
        assert f'<td class="no">{loaded.pot}</td>' in row(made, f"T{loaded.number}")
    assert made.count('class="box"') == 2 * len(job.loading)
    assert "E: HOLD – question 1; 1 row: NOT PLANNED – question 2." in page(job, shop, stamp)


def test_a_left_hand_tool_is_boxed(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    made = carousel(job, shop, stamp)
    (left,) = [loaded for loaded in job.loading if loaded.tool.left_hand]
    assert re.findall(r'<tr class="boxed">.*?<td class="no">(T\d+)</td>', made) == [f"T{left.number}"]
    assert made.count('class="lh"') == 1


def test_every_tool_says_what_it_must_wait_for(job: JobPlan) -> None:
    """E is on hold: its own tools are stamped HOLD, those that it shares HOLD E."""
    for tool, loaded in zip(tool_rows(job, Show("mm")), job.loading, strict=True):
        expected = ("HOLD",) if loaded.letters == ("E",) else ("HOLD E",) if "E" in loaded.letters else ()
        assert tool.stamps == expected, tool.tool


def test_single_rows_on_hold_are_counted_on_the_tool(job: JobPlan) -> None:
    first = replace(job.holes[0], held_rows=(sample_job.ref(9),))
    holds = {tool.types: tool.stamps for tool in tool_rows(replace(job, holes=(first, *job.holes[1:])), Show("mm"))}
    assert holds["A"] == ("HOLD A 1 row",)
    assert ("HOLD E, A 1 row",) in holds.values()


def test_the_stamp_is_on_the_sheet(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    made = carousel(job, shop, stamp)
    for tool in tool_rows(job, Show("mm")):
        found = re.findall(r'<span class="hold">(.*?)</span>', row(made, tool.tool))
        assert found == list(tool.stamps)


def test_tools_without_a_pot_stand_apart(job: JobPlan, stamp: RunStamp) -> None:
    loading = tuple(replace(loaded, pot=loaded.pot if loaded.number <= 10 else None) for loaded in job.loading)
    made = carousel(replace(job, loading=loading), Shop(machine=Machine(pots=10)), stamp)
    first, second = made.split("No pot: second loading")
    assert re.findall(r">(T\d+)</td>", first) == [f"T{n}" for n in range(1, 11)]
    assert re.findall(r">(T\d+)</td>", second) == ["T11", "T12", "T13"]
    assert "No pot" not in carousel(job, Shop(), stamp)


def test_what_to_watch_is_there_too(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    note = Note("HOLE-DEEP", Severity.WATCH, "Drill 5: 9 diameters deep.", ref=sample_job.ref(8))
    assert "Drill 5: 9 diameters deep." in page(replace(job, notes=(*job.notes, note)), shop, stamp)


def through(job: JobPlan, thickness_mm: float | None) -> dict[str, float]:
    """By hole type, how far the longest tool comes through a part of this thickness; from the steps' own figures."""
    past: dict[str, float] = {}
    for operation in job.operations:
        for target in operation.targets:
            tip = target.cut.step.tip_mm
            if tip is not None and thickness_mm is not None and tip > thickness_mm:
                past[target.letter] = max(past.get(target.letter, 0.0), tip - thickness_mm)
    return past


def test_the_room_under_the_part_is_that_of_the_tool_that_comes_through_farthest(job: JobPlan, stamp: RunStamp) -> None:
    past = through(job, job.header.thickness_mm)
    found = below(job, Show("mm"))
    stated = float(found.clearance.split()[2])
    assert max(past.values()) <= stated < max(past.values()) + 0.1, "rounded up, never down"
    assert found.holes.split(", ") == [hole.type.letter for hole in job.holes if hole.type.letter in past]
    (deepest,) = [letter for letter, much in past.items() if much == max(past.values())]
    assert f" in {deepest} (operation " in found.clearance
    assert found.clearance in page(job, Shop(), stamp)


def test_the_room_is_in_inches_and_rounded_up_for_an_inch_job(job: JobPlan) -> None:
    past = max(through(job, job.header.thickness_mm).values()) / 25.4
    words = below(job, Show("in")).clearance.split()
    assert words[3] == "in:"
    assert past <= float(words[2]) < past + 0.01


def test_without_a_thickness_the_room_is_to_be_measured(job: JobPlan) -> None:
    """A through step of a part of unknown thickness has no tip; a blind hole alone needs no room."""
    unknown = replace(job, header=replace(job.header, thickness_mm=None))
    open_steps = tuple(
        replace(
            operation,
            targets=tuple(
                replace(t, cut=replace(t.cut, step=replace(t.cut.step, tip_mm=None))) if t.cut.step.through else t
                for t in operation.targets
            ),
        )
        for operation in unknown.operations
    )
    holes = tuple(replace(hole, type=replace(hole.type, thickness_mm=None)) for hole in job.holes)
    found = below(replace(unknown, operations=open_steps, holes=holes), Show("mm"))
    assert found.clearance.startswith("thickness not given: measure for T")
    blind = tuple(
        replace(operation, targets=tuple(t for t in operation.targets if t.letter == "A")) for operation in open_steps
    )
    assert below(replace(unknown, operations=blind, holes=holes), Show("mm")) == Below("no tool comes through", "none")


def test_a_long_list_of_hole_types_is_cut_short(job: JobPlan) -> None:
    """Eight stand as they are; of nine six, and how many more: the operations name them all."""
    for many, expected in ((8, "T8"), (9, "T6 and 3 more")):
        letters = tuple(f"T{number}" for number in range(1, many + 1))
        loading = (replace(job.loading[0], letters=letters), *job.loading[1:])
        assert tool_rows(replace(job, loading=loading), Show("mm"))[0].types.split(", ")[-1] == expected


def by_hand(*callouts: str) -> tuple[JobPlan, Shop]:
    shop = Shop(preferences=Preferences(tap_by_hand=True))
    (callout,) = callouts
    return explain(callout, shop, read_options(shop, material="C45", thickness_mm=12.0)), shop


def test_minutes_at_the_bench_are_no_minutes_at_the_machine(stamp: RunStamp) -> None:
    job, shop = by_hand("M8x1.25-6H THRU")
    assert 0 < job.time.by_hand_min < job.time.total_min
    at_machine = f"{job.time.total_min - job.time.by_hand_min:.2f} min a part at the machine"
    assert f"{at_machine}, {job.time.by_hand_min:.2f} by hand at the bench." in page(job, shop, stamp)


def test_a_job_without_hand_work_is_all_at_the_machine(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    assert f"{job.time.total_min:.2f} min a part at the machine.</p>" in page(job, shop, stamp)


def test_a_hand_tap_needs_no_room_in_the_fixture() -> None:
    """It comes through farther than the drill, at the bench: the room under the part is the drill's."""
    job, _ = by_hand("M8x1.25-6H THRU")
    tools = {loaded.number: loaded.tool for loaded in job.loading}
    deepest = max(
        (target.cut.step.tip_mm or 0.0, operation.number)
        for operation in job.operations
        for target in operation.targets
        if not tools[operation.tool_number].by_hand
    )
    hand = max(
        target.cut.step.tip_mm or 0.0
        for operation in job.operations
        for target in operation.targets
        if tools[operation.tool_number].by_hand
    )
    assert hand > deepest[0] > 12.0
    assert f"(operation {deepest[1]})" in below(job, Show("mm")).clearance


def test_the_room_under_a_small_through_tap_is_reckoned_to_the_end_of_its_male_centre(stamp: RunStamp) -> None:
    """M8 in 10 mm: 5 threads of chamfer, 6.25 mm, a male centre of half a diameter (ASME B18.29.2M) and 1 mm beyond."""
    made = explain("M8-6H THRU", Shop(), ReadOptions("mm", "C45", 10.0))
    assert below(made, Show("mm")).clearance.startswith("at least 11.3 mm: T3 in A")
    assert "Set: length measured to the foremost point, that of a tap’s male centre included." in page(made, Shop(), stamp)
