"""The process sheet: page 1 for the person at the machine, then a card a hole type, the map, the lists and the reasons."""

from __future__ import annotations

from dataclasses import dataclass

from holesched.reports.base import Report, RunStamp
from holesched.reports.cautions import cautions
from holesched.reports.hole_cards import Card, cards
from holesched.reports.job_header import Heading, heading
from holesched.reports.lists import GaugeRow, ReasonRow, ToolRow, gauge_rows, reason_rows, source_lines, tool_rows
from holesched.reports.open_points import OpenPoints, held, open_points
from holesched.reports.operations import OperationRow, Times, operation_rows, times
from holesched.reports.show import Show, count, show_for
from holesched.reports.sketch.hole_map import Mark, hole_map
from holesched.sequence.model import JobPlan, PlannedHole
from holesched.shop.model import Shop

QUESTIONS_ON_PAGE_1 = 4


@dataclass(frozen=True, slots=True)
class ProcessSheet:
    """Everything the process sheet shows, as text and SVG."""

    head: Heading
    show: Show
    points: OpenPoints
    held: tuple[tuple[str, str], ...]
    short_questions: bool
    """Too many questions for page 1: there only the holes on hold are named, and the questions follow in full."""
    cautions: tuple[str, ...]
    operations: tuple[OperationRow, ...]
    coolant: str
    """The coolant of all operations, when it is one; "" when the operations differ."""
    times: Times
    two_faces: bool
    cards: tuple[Card, ...]
    map: str
    map_note: str
    tools: tuple[ToolRow, ...]
    pots_note: str
    gauges: tuple[GaugeRow, ...]
    reasons: tuple[ReasonRow, ...]
    sources: tuple[str, ...]
    set_aside: tuple[tuple[str, str, str], ...]


def build(job: JobPlan, shop: Shop, stamp: RunStamp) -> ProcessSheet:
    """The process sheet of a job."""
    show = show_for(job.header.unit, shop)
    points = open_points(job)
    made = cards(job, points, show)
    drawn, note = _map(job, show)
    operations = operation_rows(job, show)
    coolants = {row.coolant for row in operations}
    return ProcessSheet(
        head=heading(job, shop, stamp, REPORT.title, show),
        show=show,
        points=points,
        held=held(job, points),
        short_questions=len(points.questions) > QUESTIONS_ON_PAGE_1,
        cautions=cautions(job),
        operations=operations,
        coolant=coolants.pop() if len(coolants) == 1 else "",
        times=times(job.time, show),
        two_faces=any(operation.set_up > 1 for operation in job.operations),
        cards=made,
        map=drawn,
        map_note=note,
        tools=tool_rows(job, show),
        pots_note=pots_note(job, shop),
        gauges=gauge_rows(job, show),
        reasons=reason_rows(job),
        sources=source_lines(job),
        set_aside=tuple((row.ref.cell, row.why, row.text) for row in job.set_aside if row.text.strip()),
    )


def pots_note(job: JobPlan, shop: Shop) -> str:
    """The warning when the carousel is too small; "" when it is not."""
    without = [loaded for loaded in job.loading if loaded.pot is None]
    if not without:
        return ""
    numbers = ", ".join(f"T{loaded.number}" for loaded in without)
    return (
        f"{len(job.loading)} tools for {shop.machine.pots} pots: {numbers} have no pot. "
        "A second loading, or fewer tools, is needed."
    )


def _map(job: JobPlan, show: Show) -> tuple[str, str]:
    """The hole map and the sentence under it."""
    marks = [_mark(hole) for hole in job.holes]
    drawn = hole_map(marks, show) or ""
    shown = sum(len(mark.places) for mark in marks)
    total = sum(hole.type.quantity for hole in job.holes)
    if not drawn:
        return "", "The schedule gives no coordinates: there is no hole map."
    note = f"{count(shown, 'hole')} at the places in the schedule, seen on the near face."
    if total > shown:
        note += f" {total - shown} of {total} have no coordinates and are not on the map."
    if any(mark.on_hold and mark.places for mark in marks):
        note += " Black: on hold."
    if shown > 300:
        note += " Letters are left out where they would fall over each other."
    return drawn, note


def _mark(hole: PlannedHole) -> Mark:
    widest = max((feature.diameter.mm for feature in hole.type.hole.features), default=1.0)
    places = tuple(place for member in hole.type.members for place in member.places_mm)
    return Mark(hole.type.letter, widest, places, hole.on_hold or hole.cut_plan is None)


REPORT = Report("process_sheet", "Process sheet", "process_sheet.html.j2", build, ("html", "pdf"))
