"""The takeoff for the estimator: what a lot needs in holes, minutes, tools and gauges, and what the figures rest on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path, PurePath

from holesched.notes import Note
from holesched.reports.base import RunStamp
from holesched.reports.html import render
from holesched.reports.naming import show_of
from holesched.reports.open_points import OpenPoints, open_points
from holesched.reports.operations import MORE_THAN
from holesched.reports.outputs import put_files
from holesched.reports.show import NOT_KNOWN, Show, count, show_for
from holesched.reports.takeoff_counts import GaugeSum, HoleSum, ToolSum, count_gauges, count_holes, count_tools, job_name
from holesched.reports.takeoff_tables import BASIS, NOT_IN_IT, csv_bytes, takeoff_tables
from holesched.reports.workbook import workbook
from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop
from holesched.tooling.model import StepKind

TITLE = "Takeoff"
FIRST = 5
"""So many parts, questions and assumptions stand at the head; all of them behind."""


@dataclass(frozen=True, slots=True)
class JobLine:
    """One schedule in the takeoff."""

    part: str
    revision: str
    name: str
    material: str
    source: str
    rows: str
    holes: str
    tools: int
    questions: int
    per_part: str
    per_lot: str


@dataclass(frozen=True, slots=True)
class HoleLine:
    """Holes of one size."""

    what: str
    per_part: str
    per_lot: str
    on_hold: str
    jobs: str


@dataclass(frozen=True, slots=True)
class ToolLine:
    """One tool: its holes, its life in holes, and how many a lot consumes, low to high."""

    what: str
    detail: str
    per_part: str
    per_lot: str
    life: str
    low: str
    high: str
    jobs: str


@dataclass(frozen=True, slots=True)
class GaugeLine:
    """All gauges for one thread or fit."""

    what: str
    gauges: tuple[tuple[str, str], ...]
    """(kind, size)."""
    jobs: str


@dataclass(frozen=True, slots=True)
class Said:
    """A question, or an assumption with all jobs that rest on it."""

    where: str
    text: str


@dataclass(frozen=True, slots=True)
class Takeoff:
    """Everything the takeoff shows, as text."""

    title: str
    parts: str
    shop_name: str
    lot: int
    paper: str
    version: str
    fingerprint: str
    unit: str
    jobs: tuple[JobLine, ...]
    totals: tuple[tuple[str, str], ...]
    """(what, how many): the summary."""
    holes: tuple[HoleLine, ...]
    holes_note: str
    tools: tuple[tuple[str, str, tuple[ToolLine, ...]], ...]
    """(anchor, heading, lines) for taps, drills and other tools."""
    gauges: tuple[GaugeLine, ...]
    assumed: tuple[Said, ...]
    questions: tuple[Said, ...]
    first: int
    """So many questions and assumptions stand in the summary; all of them behind."""
    basis: tuple[str, ...]
    not_in_it: str


def write_takeoff(
    jobs: Sequence[JobPlan], shop: Shop, lot: int, folder: Path, formats: frozenset[str], stamp: RunStamp
) -> tuple[tuple[Path, ...], tuple[Note, ...]]:
    """Writes takeoff.html, takeoff.xlsx and takeoff.csv, those of `formats`, into `folder`. Raises CannotWrite."""
    value = build_takeoff(jobs, shop, lot, stamp)
    contents: dict[str, bytes] = {}
    if "html" in formats:
        contents["takeoff.html"] = render("takeoff.html.j2", value, stamp).encode("utf-8")
    tables = takeoff_tables(jobs, lot, _show(jobs, shop)) if formats & {"xlsx", "csv"} else ()
    if "xlsx" in formats:
        foot = f"Takeoff {value.parts}, lot {lot}, {value.fingerprint} {stamp.date.isoformat()}"
        contents["takeoff.xlsx"] = workbook(tables, stamp, foot, value.paper)
    if "csv" in formats:
        contents["takeoff.csv"] = csv_bytes(tables)
    return put_files(folder, contents), ()


def build_takeoff(jobs: Sequence[JobPlan], shop: Shop, lot: int, stamp: RunStamp) -> Takeoff:
    """The takeoff of `lot` parts of each job."""
    show = _show(jobs, shop)
    tools, holes, gauges = count_tools(jobs, lot, show), count_holes(jobs), count_gauges(jobs)
    minutes = sum(job.time.total_min for job in jobs)
    least = "" if all(job.time.is_whole for job in jobs) else MORE_THAN
    fingerprint = sha256("".join(job.sha256 for job in jobs).encode()).hexdigest() if len(jobs) > 1 else jobs[0].sha256
    points = [(job, open_points(job, show_of(job, shop))) for job in jobs]
    groups = (
        ("taps", "Taps", [tool for tool in tools if tool.tool.kind is StepKind.TAP]),
        ("drills", "Drills", [tool for tool in tools if tool.tool.kind is StepKind.DRILL]),
        ("others", "Other tools", [tool for tool in tools if tool.tool.kind not in (StepKind.TAP, StepKind.DRILL)]),
    )
    read = sum(job.ledger.holes.read for job in jobs)
    return Takeoff(
        title=TITLE,
        parts=_parts(jobs),
        shop_name=shop.report.shop_name,
        lot=lot,
        paper=shop.report.paper,
        version=stamp.version,
        fingerprint=fingerprint[:12],
        unit=show.length_unit,
        jobs=tuple(_job_line(job, lot, show) for job in jobs),
        totals=(
            ("Holes, one part of each", str(read)),
            ("Holes for the lot", str(read * lot)),
            ("Minutes, one part of each", f"{least}{show.minutes(minutes)}"),
            ("Time for the lot", f"{least}{show.hours(minutes * lot)}"),
            *((f"{heading} for the lot", _consumed(lines)) for _, heading, lines in groups),
            ("Gauges", str(len(gauges))),
        ),
        holes=tuple(_hole_line(line, lot) for line in holes),
        holes_note=_several_rows(sum(line.per_part for line in holes), read),
        tools=tuple((key, heading, tuple(_tool_line(tool, lot, show) for tool in lines)) for key, heading, lines in groups),
        gauges=_gauge_lines(gauges, show),
        assumed=_assumed(points),
        questions=tuple(
            Said(f"{job_name(job)}, {question.where}", question.problem)
            for job, found in points
            for question in found.questions
        ),
        first=FIRST,
        basis=tuple(text for text in BASIS if text != NOT_IN_IT),
        not_in_it=NOT_IN_IT,
    )


def _parts(jobs: Sequence[JobPlan]) -> str:
    """The parts' names; the first few of many."""
    names = list(dict.fromkeys(job_name(job) for job in jobs))
    return ", ".join(names) if len(names) <= FIRST else f"{', '.join(names[:3])} and {len(names) - 3} more"


def _consumed(tools: Sequence[ToolSum]) -> str:
    """Tools that the lot wears out, low to high, and how many kinds have no stated life."""
    known = [tool for tool in tools if tool.life is not None]
    unknown = len(tools) - len(known)
    low, high = sum(tool.tools_low or 0 for tool in known), sum(tool.tools_high or 0 for tool in known)
    text = _low_to_high(low, high) if known or not tools else ""
    more = f"{count(unknown, 'kind')} without a stated life" if unknown else ""
    return " and ".join(part for part in (text, more) if part)


def _low_to_high(low: int, high: int) -> str:
    return str(low) if low == high else f"{low} to {high}"


def _assumed(points: Sequence[tuple[JobPlan, OpenPoints]]) -> tuple[Said, ...]:
    """Each assumption once, with its jobs."""
    same: dict[str, dict[str, None]] = {}
    for job, found in points:
        for remark in found.assumed:
            same.setdefault(remark.text, {})[job_name(job)] = None
    return tuple(Said(", ".join(names), text) for text, names in same.items())


def _show(jobs: Sequence[JobPlan], shop: Shop) -> Show:
    """Inches only when every job is in inches: sizes keep their own names either way."""
    return show_for("in" if all(job.header.unit == "in" for job in jobs) else "mm", shop)


def _materials(job: JobPlan) -> str:
    """What the holes are made in: the title block's material, or those that the rows give."""
    return ", ".join(dict.fromkeys(hole.type.material for hole in job.holes)) or job.header.material


def _job_line(job: JobPlan, lot: int, show: Show) -> JobLine:
    rows, holes = job.ledger.rows, job.ledger.holes
    least = "" if job.time.is_whole else MORE_THAN
    return JobLine(
        part=job_name(job),
        revision=job.header.revision,
        name=job.header.part_name,
        material=_materials(job),
        source=PurePath(job.source).name,
        rows=f"{rows.read} = {rows.planned} + {rows.in_question} + {rows.set_aside}",
        holes=f"{holes.read} = {holes.planned} + {holes.in_question}",
        tools=len(job.loading),
        questions=sum(note.is_question for note in job.notes),
        per_part=f"{least}{show.minutes(job.time.total_min)}",
        per_lot=f"{least}{show.hours(job.time.total_min * lot)}",
    )


def _several_rows(listed: int, read: int) -> str:
    """That the rows add to more than the holes, where they do."""
    if listed <= read:
        return ""
    return (
        f"A hole of several steps, such as a counterbored one, stands in a row for each: the {listed} here are {read} holes."
    )


def _hole_line(line: HoleSum, lot: int) -> HoleLine:
    hold = str(line.on_hold) if line.on_hold else ""
    return HoleLine(f"{line.kind} {line.size}", str(line.per_part), str(line.per_part * lot), hold, ", ".join(line.jobs))


def _tool_line(line: ToolSum, lot: int, show: Show) -> ToolLine:
    low, high = line.tools_low, line.tools_high
    return ToolLine(
        line.title,
        line.detail,
        str(line.per_part),
        str(line.per_part * lot),
        " to ".join(map(show.lasting, dict.fromkeys(line.life))) if line.life is not None else NOT_KNOWN,
        str(low) if low is not None else NOT_KNOWN,
        str(high) if high is not None else NOT_KNOWN,
        ", ".join(line.jobs),
    )


def _gauge_lines(gauges: Sequence[GaugeSum], show: Show) -> tuple[GaugeLine, ...]:
    """Gauges by what they prove, each job once."""
    sets: dict[str, list[GaugeSum]] = {}
    for gauge in gauges:
        sets.setdefault(gauge.designation, []).append(gauge)
    return tuple(
        GaugeLine(
            name,
            tuple((gauge.kind, show.fine(gauge.size_mm)) for gauge in found),
            ", ".join(dict.fromkeys(job for gauge in found for job in gauge.jobs)),
        )
        for name, found in sets.items()
    )
