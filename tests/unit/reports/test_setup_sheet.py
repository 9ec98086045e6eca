"""The set-up sheet: every tool with its pot, its hold and its hand."""

from __future__ import annotations

import re
from dataclasses import replace

import sample_job

from holesched.notes import Note, Severity
from holesched.reports import setup_sheet
from holesched.reports.base import RunStamp
from holesched.reports.html import render
from holesched.reports.lists import tool_rows
from holesched.reports.show import Show
from holesched.sequence.model import JobPlan
from holesched.shop.model import Machine, Shop


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
        expected = "HOLD" if loaded.letters == ("E",) else "HOLD E" if "E" in loaded.letters else ""
        assert tool.hold == expected, tool.tool


def test_single_rows_on_hold_are_counted_on_the_tool(job: JobPlan) -> None:
    first = replace(job.holes[0], held_rows=(sample_job.ref(9),))
    holds = {tool.types: tool.hold for tool in tool_rows(replace(job, holes=(first, *job.holes[1:])), Show("mm"))}
    assert holds["A"] == "HOLD A 1 row"
    assert "HOLD E, A 1 row" in holds.values()


def test_the_stamp_is_on_the_sheet(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    made = carousel(job, shop, stamp)
    for tool in tool_rows(job, Show("mm")):
        found = re.findall(r'<span class="hold">(.*?)</span>', row(made, tool.tool))
        assert found == ([tool.hold] if tool.hold else [])


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
