"""The takeoff as tables of numbers, for its workbook and its csv."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from io import StringIO
from pathlib import PurePath

from holesched.reports.naming import naming_tools
from holesched.reports.open_points import open_points
from holesched.reports.show import Show
from holesched.reports.takeoff_counts import count_gauges, count_holes, count_tools, job_name
from holesched.reports.workbook import Column, Table, Value
from holesched.sequence.model import JobPlan

NOT_IN_IT = (
    "Not in it: material, fixtures, loading and setting up, programming, first-off and gauging time, deburring, washing, "
    "coating, outside work, scrap, prices."
)
BASIS = (
    "Counted from the schedules as they stand: holes on hold are counted and timed as planned meanwhile; rows that gave no "
    "hole, and types that are not planned, have no minutes and no tools.",
    "Minutes: cutting, tapping by hand included, moving between holes and changing tools, at starting values.",
    "Tools to consume: holes over tool life, rounded up; low at the long life, high at the short one. Tool lives are "
    "planning values; broken tools and spares are not in it.",
    NOT_IN_IT,
)


def takeoff_tables(jobs: Sequence[JobPlan], lot: int, show: Show) -> tuple[Table, ...]:
    """The takeoff of `lot` parts of each job as tables of numbers; tool names are written as `show` says."""
    return (
        _jobs_table(jobs, lot),
        _holes_table(jobs, lot),
        _tools_table(jobs, lot, show),
        _gauges_table(jobs),
        _notes_table(jobs, show),
    )


def _jobs_table(jobs: Sequence[JobPlan], lot: int) -> Table:
    columns = (
        Column("Part", 18),
        Column("Revision", 9),
        Column("Schedule", 28),
        Column("Material", 22),
        Column("Holes read", 8),
        Column("Holes planned", 9),
        Column("Holes in question", 9),
        Column("Rows read", 8),
        Column("Rows planned", 9),
        Column("Rows in question", 9),
        Column("Rows set aside", 9),
        Column("Open questions", 10),
        Column("Tools", 7),
        Column("Lot", 7),
        Column("Minutes a part", 9, 2),
        Column("Minutes a lot", 10, 1),
    )
    rows: list[tuple[Value, ...]] = []
    for job in jobs:
        read, holes = job.ledger.rows, job.ledger.holes
        rows.append(
            (
                job_name(job),
                job.header.revision,
                PurePath(job.source).name,
                job.header.material,
                holes.read,
                holes.planned,
                holes.in_question,
                read.read,
                read.planned,
                read.in_question,
                read.set_aside,
                sum(note.is_question for note in job.notes),
                len(job.loading),
                lot,
                round(job.time.total_min, 4),
                round(job.time.total_min * lot, 3),
            )
        )
    return Table("Jobs", columns, tuple(rows))


def _holes_table(jobs: Sequence[JobPlan], lot: int) -> Table:
    columns = (
        Column("Made", 14),
        Column("Size", 24),
        Column("Holes a part", 9),
        Column("Holes a lot", 9),
        Column("Of these on hold, a part", 10),
        Column("Jobs", 40),
    )
    rows = tuple(
        (line.kind, line.size, line.per_part, line.per_part * lot, line.on_hold, ", ".join(line.jobs))
        for line in count_holes(jobs)
    )
    return Table("Holes", columns, rows)


def _tools_table(jobs: Sequence[JobPlan], lot: int, show: Show) -> Table:
    columns = (
        Column("Kind", 13),
        Column("Name", 38),
        Column("Detail", 46),
        Column("Holes a part", 9),
        Column("Holes a lot", 9),
        Column("Life, holes, low", 10),
        Column("Life, holes, high", 10),
        Column("Tools, low", 8),
        Column("Tools, high", 8),
        Column("Jobs", 40),
    )
    rows: list[tuple[Value, ...]] = []
    for line in count_tools(jobs, lot, show):
        low, high = line.life if line.life is not None else (None, None)
        count = (line.per_part, line.per_part * lot, low, high, line.tools_low, line.tools_high)
        rows.append((line.tool.kind.value, line.title, line.detail, *count, ", ".join(line.jobs)))
    return Table("Tools", columns, tuple(rows))


def _gauges_table(jobs: Sequence[JobPlan]) -> Table:
    columns = (Column("Gauge", 22), Column("For", 26), Column("Size, mm", 11, 4), Column("Jobs", 40))
    rows = tuple((line.kind, line.designation, round(line.size_mm, 4), ", ".join(line.jobs)) for line in count_gauges(jobs))
    return Table("Gauges", columns, rows)


def _notes_table(jobs: Sequence[JobPlan], show: Show) -> Table:
    columns = (Column("Sort", 12), Column("Job", 18), Column("Where", 34), Column("Text", 90))
    rows: list[tuple[Value, ...]] = []
    for job in jobs:
        points = open_points(job, naming_tools(Show(job.header.unit, show.comma), job))
        rows += [("assumed", job_name(job), remark.where, remark.text) for remark in points.assumed]
        rows += [("question", job_name(job), question.where, question.problem) for question in points.questions]
    rows += [("basis", "", "", text) for text in BASIS]
    return Table("Assumptions", columns, tuple(rows))


def csv_bytes(tables: Sequence[Table]) -> bytes:
    """All tables under each other, each with its name before the row and its headings first; UTF-8 with a byte order mark.

    A text that a spreadsheet would run as a formula gets an apostrophe before it.
    """
    out = StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    for table in tables:
        writer.writerow([table.name, *(column.title for column in table.columns)])
        for row in table.rows:
            writer.writerow([table.name, *(_plain(value) for value in row)])
    return out.getvalue().encode("utf-8-sig")


def _plain(value: Value) -> Value:
    if isinstance(value, str) and value and (value[0] in "\t\r" or value.lstrip()[:1] in ("=", "+", "-", "@")):
        return f"'{value}"
    return value
