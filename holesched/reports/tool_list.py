"""The workbook tool_list.xlsx: tools, operations, every schedule row, gauges, what to watch, questions and assumptions."""

from __future__ import annotations

from holesched.reports.base import RunStamp
from holesched.reports.job_header import heading
from holesched.reports.naming import show_of, tool_name
from holesched.reports.open_points import OpenPoints, open_points
from holesched.reports.overloads import STAMP, overloads
from holesched.reports.show import Show
from holesched.reports.workbook import Column, Table, Value
from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop
from holesched.units import in_hp, in_lbf_in, in_unit


def tables(job: JobPlan, shop: Shop) -> tuple[Table, ...]:
    """All sheets of the workbook. Numbers are numbers, in the job's unit; every row of the schedule is in one of them."""
    show = show_of(job, shop)
    points = open_points(job, show)
    return (
        _tools(job, show),
        _operations(job, show),
        _holes(job, show, points),
        _gauges(job, show),
        _watch(job, show, points),
        _questions(points),
        _assumptions(points),
    )


def _length(mm: float | None, show: Show) -> float | None:
    return None if mm is None else round(in_unit(mm, show.unit), _places(show) + 1)


def _places(show: Show) -> int:
    return 3 if show.unit == "mm" else 4


def _tools(job: JobPlan, show: Show) -> Table:
    unit, places = show.unit, _places(show)
    columns = (
        Column("Tool", 7),
        Column("Pot", 6),
        Column("Name", 38),
        Column("Detail", 46),
        Column("Hand", 7),
        Column(f"Diameter, {unit}", 11, places),
        Column("Holder", 28),
        Column(f"Stick-out, {unit}", 11, 2),
        Column("Operations", 14),
        Column("Hole types", 14),
        Column("Holes a part", 9),
        Column("Life, holes, low", 10),
        Column("Life, holes, high", 10),
    )
    rows: list[tuple[Value, ...]] = []
    for loaded in job.loading:
        name = tool_name(loaded.tool, show)
        low, high = loaded.life_holes if loaded.life_holes is not None else (None, None)
        rows.append(
            (
                f"T{loaded.number}",
                loaded.pot,
                name.title,
                name.detail,
                "LH" if loaded.tool.left_hand else "RH",
                _length(loaded.tool.diameter_mm, show),
                loaded.holder,
                _length(loaded.stick_out_mm, show),
                ", ".join(map(str, loaded.operations)),
                ", ".join(loaded.letters),
                loaded.holes,
                low,
                high,
            )
        )
    return Table("Tools", columns, tuple(rows))


def _operations(job: JobPlan, show: Show) -> Table:
    unit, places = show.unit, _places(show)
    speed, per_rev, rate = show.surface_unit, show.feed_per_rev_unit, show.feed_unit
    columns = (
        Column("Operation", 12),
        Column("Set-up", 7),
        Column("Kind", 13),
        Column("Tool", 7),
        Column("Name", 38),
        Column("Hole type", 9),
        Column("Holes", 7),
        Column("State", 16),
        Column(f"Depth, {unit}", 11, 2),
        Column(f"Tip depth, {unit}", 12, 2),
        Column(f"Speed, {speed}", 10, 1),
        Column("Spindle, rev/min", 10),
        Column(f"Feed, {per_rev}", 10, places + 1),
        Column(f"Feed, {rate}", 10, 2),
        Column("Coolant", 24),
        Column(f"Torque, {show.torque_unit}", 9, 2),
        Column(f"Power, {show.power_unit}", 9, 2),
        Column("Time a hole, min", 9, 3),
    )
    tools = {loaded.number: loaded.tool for loaded in job.loading}
    metric = show.unit == "mm"
    factor = 1.0 if metric else in_unit(1000, "in") / 12
    rows: list[tuple[Value, ...]] = []
    for operation in job.operations:
        title = tool_name(tools[operation.tool_number], show).title
        for target in operation.targets:
            cut, step = target.cut, target.cut.step
            rows.append(
                (
                    operation.number,
                    operation.set_up,
                    operation.kind.value,
                    f"T{operation.tool_number}",
                    title,
                    target.letter,
                    target.quantity,
                    ", ".join([*(["HOLD"] if target.on_hold else []), *([STAMP] if cut.overload else [])]),
                    "through" if step.through else _length(step.depth_mm, show),
                    _length(step.tip_mm, show),
                    round(cut.surface_m_per_min * factor, 1),
                    round(cut.spindle_rpm, 1),
                    round(in_unit(cut.feed_mm_per_rev, show.unit), 5),
                    round(in_unit(cut.feed_mm_per_min, show.unit), 4),
                    cut.coolant,
                    cut.torque_nm if metric or cut.torque_nm is None else in_lbf_in(cut.torque_nm),
                    cut.power_kw if metric or cut.power_kw is None else in_hp(cut.power_kw),
                    cut.time_min,
                )
            )
    return Table("Operations", columns, tuple(rows))


def _holes(job: JobPlan, show: Show, points: OpenPoints) -> Table:
    unit, places = show.unit, _places(show)
    columns = (
        Column("Cell", 8),
        Column("Tag", 10),
        Column("Hole type", 9),
        Column("Callout", 40),
        Column("Quantity", 9),
        Column(f"X, {unit}", 10, places),
        Column(f"Y, {unit}", 10, places),
        Column("State", 24),
        Column("Note", 40),
    )
    rows: list[tuple[int, tuple[Value, ...]]] = []
    for hole in job.holes:
        state = _state(hole.type.letter, hole.cut_plan is None, hole.on_hold, points)
        held = {ref.row for ref in hole.held_rows}
        for member in hole.type.members:
            x, y = member.places_mm[0] if len(member.places_mm) == 1 else (None, None)
            rows.append(
                (
                    member.ref.row,
                    (
                        member.ref.cell,
                        member.tag,
                        hole.type.letter,
                        hole.type.hole.callout,
                        member.count,
                        _length(x, show),
                        _length(y, show),
                        "HOLD" if state == "planned" and member.ref.row in held else state,
                        member.note,
                    ),
                )
            )
    for row in job.unread:
        rows.append((row.ref.row, (row.ref.cell, row.tag, "", row.text, row.count, None, None, "not planned", "")))
    for aside in job.set_aside:
        rows.append((aside.ref.row, (aside.ref.cell, "", "", aside.text, None, None, None, f"set aside: {aside.why}", "")))
    return Table("Holes", columns, tuple(row for _, row in sorted(rows, key=lambda row: row[0])))


def _state(letter: str, refused: bool, on_hold: bool, points: OpenPoints) -> str:
    numbers = ", ".join(str(number) for number in points.held_by.get(letter, ()))
    if refused:
        return f"not planned, question {numbers}" if numbers else "not planned"
    return f"HOLD, question {numbers}" if on_hold else "planned"


def _gauges(job: JobPlan, show: Show) -> Table:
    unit, places = show.unit, _places(show) + 1
    columns = (
        Column("Gauge", 22),
        Column("For", 24),
        Column(f"Size, {unit}", 11, places),
        Column(f"Its smallest, {unit}", 12, places),
        Column(f"Its largest, {unit}", 12, places),
        Column(f"Worn out below, {unit}", 12, places),
        Column("Use", 44),
        Column("Hole types", 14),
        Column("Source", 34),
    )
    rows: list[tuple[Value, ...]] = []
    for need in job.gauges:
        gauge = need.gauge
        low, high = gauge.tolerance_mm if gauge.tolerance_mm is not None else (None, None)
        rows.append(
            (
                gauge.kind,
                gauge.designation,
                _length(gauge.size_mm, show),
                _length(low, show),
                _length(high, show),
                _length(gauge.worn_mm, show),
                gauge.how,
                ", ".join(need.letters),
                str(gauge.cite),
            )
        )
    return Table("Gauges", columns, tuple(rows))


def foot(job: JobPlan, shop: Shop, stamp: RunStamp) -> str:
    """What the foot of every printed page says: what it belongs to, and which schedule it was made from."""
    head = heading(job, shop, stamp, "Tool list", show_of(job, shop))
    return f"{head.foot_title}, {head.foot_source} {head.fingerprint} {head.date}"


def _watch(job: JobPlan, show: Show, points: OpenPoints) -> Table:
    columns = (
        Column("Kind", 14),
        Column("Operation", 12),
        Column("Hole types", 14),
        Column("What", 70),
        Column("What helps", 50),
    )
    heavy = [(STAMP, _numbers(each.operations), each.types, each.text, each.suggestion) for each in overloads(job, show)]
    alike = [("look-alikes", None, each.types, each.text, each.suggestion) for each in points.lookalikes]
    watched = [("watch", None, each.types, _marked(each.text, each.marked), each.suggestion) for each in points.watch]
    return Table("Watch", columns, (*heavy, *alike, *watched))


def _numbers(operations: tuple[int, ...]) -> int | str:
    """One number as a number, several as a text."""
    return operations[0] if len(operations) == 1 else ", ".join(map(str, operations))


def _marked(text: str, marked: tuple[str, str, str] | None) -> str:
    """A sentence with the text it shows, the place that is meant in brackets."""
    return text if marked is None else f"{text} {marked[0]}[{marked[1]}]{marked[2]}"


def _questions(points: OpenPoints) -> Table:
    columns = (
        Column("No.", 6),
        Column("Hole types", 12),
        Column("Where", 34),
        Column("Text", 34),
        Column("Problem", 60),
        Column("Suggestion", 50),
        Column("Meanwhile", 34),
        Column("Answer", 30),
        Column("By, date", 16),
    )
    rows: list[tuple[Value, ...]] = []
    for q in points.questions:
        problem = _marked(q.problem, q.marked)
        rows.append((q.number, q.types, q.where, q.text, problem, q.suggestion, q.assumed, "", ""))
    return Table("Questions", columns, tuple(rows))


def _assumptions(points: OpenPoints) -> Table:
    columns = (
        Column("No.", 6),
        Column("Assumed", 70),
        Column("Source", 34),
        Column("Hole types", 12),
        Column("Where", 34),
        Column("Initials", 12),
    )
    rows = tuple((r.number, r.text, r.source, r.types, r.where, "") for r in points.assumed)
    return Table("Assumptions", columns, rows)
