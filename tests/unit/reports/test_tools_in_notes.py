"""A tool in a note is called as the tool list calls it, and no metric size on an inch sheet stands without its unit."""

from __future__ import annotations

import re

import pytest

from holesched.notes import CellRef
from holesched.pipeline import explain, plan_schedule
from holesched.reports.explained import explained
from holesched.reports.lists import tool_rows
from holesched.reports.naming import show_of
from holesched.reports.open_points import open_points
from holesched.reports.overloads import overloads
from holesched.schedule.model import JobHeader, ReadOptions, Schedule, ScheduleRow
from holesched.sequence.model import JobPlan
from holesched.shop.model import Machine, Preferences, Shop
from holesched.units import LengthUnit

WEAK = Shop(
    preferences=Preferences(cutters_in="mm"),
    machine=Machine(spindle_power_kw=1.5, spindle_torque_nm=12.0, axis_thrust_n=2000.0, thread_milling=False),
)
CALLOUTS = (
    "1 1/2-6 UNC-2B THRU",
    "Ø.500 THRU ⌴Ø.812 ↧.5",
    "Ø.281 THRU ⌵Ø.531 X 82°",
    "1/4-20 UNC-2B ↧.25",
    "Ø.0625 THRU",
    "Ø15 mm ↧30 mm",
    "Ø42 mm THRU ⌵Ø80 mm X 90°",
    "Ø2.5 H7 ↧.8",
)
BARE = re.compile(
    r"(?:drill|mill|bar|head|reamer|countersink|counterbore|cutter|Ø) ?\d+(?:\.\d+)?(?![\d./°]| ?(?:mm|in)\b| \d| to \d)"
)
"""A tool or hole with a number behind it that is no fraction and has no unit."""


def planned(unit: LengthUnit) -> JobPlan:
    rows = tuple(
        ScheduleRow(CellRef("job.csv", "job", line, 2), f"A{line}", callout, "in", x_mm=50.0 * line, y_mm=10.0)
        for line, callout in enumerate(CALLOUTS, start=2)
    )
    header = JobHeader(material="4140", thickness_mm=38.1, unit=unit, unit_stated=True)
    return plan_schedule(Schedule("job.csv", "job", "", header, rows, (), len(rows)), (), WEAK)


def said(job: JobPlan) -> list[str]:
    """Every sentence of a sheet's notes."""
    show = show_of(job, WEAK)
    points = open_points(job, show)
    heavy = [text for each in overloads(job, show) for text in (each.text, each.suggestion)]
    asked = [text for each in points.questions for text in (each.problem, each.suggestion, each.assumed)]
    remarks = (*points.lookalikes, *points.watch, *points.assumed, *points.told)
    return heavy + asked + [text for each in remarks for text in (each.text, each.suggestion, each.assumed)]


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_a_load_names_its_tool_as_the_tool_list_does(unit: LengthUnit) -> None:
    job = planned(unit)
    titles = {row.title for row in tool_rows(job, show_of(job, WEAK))}
    named = {text.partition(": ")[0] for text in said(job) if re.search(r": \d+ (?:N·m|lbf·in)", text)}
    machined = {name for name in named if re.match(r"[a-z0-9°-]+ ?[a-z ]* \S*\d", name)}
    assert len(machined) > 5
    assert machined <= titles
    metric = r"(?:drill|countersink) [\d.]+" + (r" mm \([\d.]+ in\)" if unit == "in" else "")
    assert any(re.search(f"{metric}$", name) for name in named)


def test_no_note_of_an_inch_job_gives_a_size_without_its_unit() -> None:
    texts = said(planned("in"))
    assert [found[0] for text in texts if (found := BARE.search(text))] == []
    assert BARE.search("drill 15: 8 N·m")
    assert BARE.search("Ø15 is a standard drill")


def test_explain_does_so_too() -> None:
    text = explained(explain("Ø8 mm ↧80 mm", Shop(), ReadOptions("in", "4140", 101.6)))
    assert "drill 8 mm (0.3150 in): 10.0 diameters deep." in text
    assert "Ø0.315 in (8 mm) is a standard drill" in text


def test_a_spot_drill_is_not_taken_for_a_drill_of_its_size() -> None:
    show = show_of(planned("in"), WEAK)
    assert show.running("90 degree spot drill 12 mm: 8 mm") == "90° spot drill 12 mm (0.4724 in): 0.315 in (8 mm)"
    assert show.running("'drill 15 mm'") == "'drill 15 mm'", "somebody's own words"
