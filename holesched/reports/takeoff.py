"""The takeoff for the estimator: what a lot needs in holes, minutes, tools and gauges, and what the figures rest on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path, PurePath

from holesched.notes import Note
from holesched.reports.base import RunStamp
from holesched.reports.html import render
from holesched.reports.open_points import open_points
from holesched.reports.outputs import put_files
from holesched.reports.show import NOT_KNOWN, Show, show_for
from holesched.reports.takeoff_counts import GaugeSum, ToolSum, count_gauges, count_holes, count_tools, job_name
from holesched.reports.takeoff_tables import BASIS, csv_bytes, takeoff_tables
from holesched.reports.workbook import workbook
from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop
from holesched.tooling.model import StepKind

TITLE = "Takeoff"


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
class Line:
    """One counted thing: what it is, how many a part and a lot, and what else is known of it."""

    what: str
    detail: str
    per_part: str
    per_lot: str
    extra: str
    jobs: str


@dataclass(frozen=True, slots=True)
class Takeoff:
    """Everything the takeoff shows, as text."""

    title: str
    shop_name: str
    lot: int
    paper: str
    version: str
    fingerprint: str
    jobs: tuple[JobLine, ...]
    total_per_part: str
    total_per_lot: str
    holes: tuple[Line, ...]
    taps: tuple[Line, ...]
    drills: tuple[Line, ...]
    others: tuple[Line, ...]
    gauges: tuple[Line, ...]
    assumed: tuple[tuple[str, str], ...]
    questions: tuple[tuple[str, str], ...]
    basis: tuple[str, ...]


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
        contents["takeoff.xlsx"] = workbook(tables, stamp)
    if "csv" in formats:
        contents["takeoff.csv"] = csv_bytes(tables)
    return put_files(folder, contents), ()


def build_takeoff(jobs: Sequence[JobPlan], shop: Shop, lot: int, stamp: RunStamp) -> Takeoff:
    """The takeoff of `lot` parts of each job."""
    show = _show(jobs, shop)
    tools = count_tools(jobs, lot, show)
    minutes = sum(job.time.total_min for job in jobs)
    fingerprint = sha256("".join(job.sha256 for job in jobs).encode()).hexdigest() if len(jobs) > 1 else jobs[0].sha256
    return Takeoff(
        title=TITLE,
        shop_name=shop.report.shop_name,
        lot=lot,
        paper=shop.report.paper,
        version=stamp.version,
        fingerprint=fingerprint[:12],
        jobs=tuple(_job_line(job, lot, show) for job in jobs),
        total_per_part=show.minutes(minutes),
        total_per_lot=show.hours(minutes * lot),
        holes=tuple(
            Line(
                f"{line.kind} {line.size}",
                "",
                str(line.per_part),
                str(line.per_part * lot),
                str(line.on_hold) if line.on_hold else "",
                ", ".join(line.jobs),
            )
            for line in count_holes(jobs)
        ),
        taps=tuple(_tool_line(tool, lot) for tool in tools if tool.tool.kind is StepKind.TAP),
        drills=tuple(_tool_line(tool, lot) for tool in tools if tool.tool.kind is StepKind.DRILL),
        others=tuple(_tool_line(tool, lot) for tool in tools if tool.tool.kind not in (StepKind.TAP, StepKind.DRILL)),
        gauges=tuple(_gauge_line(gauge, show) for gauge in count_gauges(jobs)),
        assumed=tuple((job_name(job), remark.text) for job in jobs for remark in open_points(job).assumed),
        questions=tuple(
            (f"{job_name(job)}, {question.where}", question.problem)
            for job in jobs
            for question in open_points(job).questions
        ),
        basis=BASIS,
    )


def _show(jobs: Sequence[JobPlan], shop: Shop) -> Show:
    """Inches only when every job is in inches: sizes keep their own names either way."""
    return show_for("in" if all(job.header.unit == "in" for job in jobs) else "mm", shop)


def _job_line(job: JobPlan, lot: int, show: Show) -> JobLine:
    rows, holes = job.ledger.rows, job.ledger.holes
    return JobLine(
        part=job_name(job),
        revision=job.header.revision,
        name=job.header.part_name,
        material=job.header.material,
        source=PurePath(job.source).name,
        rows=f"{rows.read} = {rows.planned} + {rows.in_question} + {rows.set_aside}",
        holes=f"{holes.read} = {holes.planned} + {holes.in_question}",
        tools=len(job.loading),
        questions=sum(note.is_question for note in job.notes),
        per_part=show.minutes(job.time.total_min),
        per_lot=show.hours(job.time.total_min * lot),
    )


def _tool_line(line: ToolSum, lot: int) -> Line:
    low, high = line.tools_low, line.tools_high
    needed = NOT_KNOWN if low is None else str(low) if low == high else f"{low} to {high}"
    return Line(line.title, line.detail, str(line.per_part), str(line.per_part * lot), needed, ", ".join(line.jobs))


def _gauge_line(line: GaugeSum, show: Show) -> Line:
    return Line(f"{line.kind} {line.designation}", "", "", "", show.fine(line.size_mm), ", ".join(line.jobs))
