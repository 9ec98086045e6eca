"""Invented jobs for the report tests, built by hand: a valve block in mm and a small inch job. The figures are plausible
and consistent with each other; they prove nothing about drilling."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import tan

from holesched.callouts.model import Depth, Element, Kind, Side, Span, Tolerance
from holesched.cutting.model import CutPlan, CutStep
from holesched.features.model import Feature, Hole, HoleType, Member, UnreadRow
from holesched.notes import COMMON_PRACTICE, CellRef, Cite, Note, Reason, Rejected, Severity, Standing
from holesched.resolve.model import ResolvedHole, ResolvedStep
from holesched.schedule.model import JobHeader, SetAside
from holesched.sequence.model import (
    GaugeNeed,
    HoleCount,
    JobPlan,
    JobTime,
    Ledger,
    LoadedTool,
    Operation,
    PlannedHole,
    RowCount,
    Target,
)
from holesched.standards.gauges import Gauge
from holesched.standards.materials import Material
from holesched.standards.sizes import Limits, Size
from holesched.standards.threads.base import ThreadGeometry, ThreadSpec
from holesched.tooling.model import Chamfer, DepthBudget, StepKind, TapDrillFit, Tool, ToolPlan, ToolStep

FILE = "valve_block.xlsx"
THICKNESS = 40.0
ISO965 = Cite("ISO 965-1", "2013", "Table 5", Standing.FROM_MEMORY)
DIN2197 = Cite("DIN 2197", "", "form C")
PLUG = Chamfer("semi-bottoming", "C", 2.5)
LONG = Chamfer("plug", "B", 4.5)

ALUMINIUM = Material(
    key="EN AW-6082-T6",
    name="wrought aluminium, AlSi1MgMn, T6",
    group="N",
    subgroup="N1",
    hardness_hb=(90.0, 100.0),
    chip="long",
    traits=frozenset({"gummy"}),
    kc11_n_per_mm2=700.0,
    mc=0.23,
    tensile_mpa=310.0,
)


def ref(row: int) -> CellRef:
    return CellRef(FILE, "Holes", row, 4)


def spot(diameter: float = 10.0) -> Tool:
    return Tool(StepKind.SPOT, diameter, f"{diameter:g}", "HSS-E", point_angle_deg=90.0, name="90° spot drill")


def drill(mm: float, label: str = "") -> Tool:
    return Tool(StepKind.DRILL, mm, label or f"{mm:g}", "carbide", "bright", 2, 140.0, oversize_mm=0.02, name="drill")


def tap(size: str, mm: float, pitch: float, form: str, chamfer: Chamfer, left: bool = False) -> Tool:
    return Tool(
        StepKind.TAP, mm, size, "HSS-E", "bright", 3, None, form, chamfer, pitch, "ISO 2 (6H)", left, name=f"{form} tap"
    )


def metric(size: str, d: float, p: float, minor: tuple[float, float], left: bool = False) -> ThreadGeometry:
    spec = ThreadSpec(
        "iso-metric",
        "M",
        size,
        f"{size}-6H" + ("-LH" if left else ""),
        Size(d, f"{d:g}"),
        p,
        None,
        "6H",
        left,
    )
    return ThreadGeometry(
        spec,
        d,
        d - 0.6495 * p,
        d - 1.0825 * p,
        Limits(d, None),
        Limits(d - 0.6495 * p, d - 0.6495 * p + 0.16),
        Limits(*minor),
        (ISO965,),
    )


def point(tool: Tool) -> float:
    angle = tool.point_angle_deg or 180.0
    return tool.diameter_mm / 2 / tan(angle / 2 * 3.141592653589793 / 180)


def reason(decision: str, because: str, rule: str, *cites: Cite, rejected: tuple[Rejected, ...] = ()) -> Reason:
    return Reason(decision, because, rule, cites or (COMMON_PRACTICE,), rejected)


def step(
    kind: Kind,
    diameter: Size,
    depth: Depth,
    *,
    thread: ThreadGeometry | None = None,
    limits: Limits | None = None,
    zone: str | None = None,
    angle: float | None = None,
    written: bool = True,
    side: Side = Side.NEAR,
) -> ResolvedStep:
    tolerance = Tolerance(zone) if zone else None
    element = Element(kind, diameter, tolerance, depth, angle, span=Span(0, 1)) if written else None
    feature = Feature(kind, diameter, depth, tolerance, angle, thread.spec if thread else None, side, element)
    mm = THICKNESS if depth.through else depth.mm
    return ResolvedStep(feature, kind, diameter, limits, depth.through, mm, angle, thread, side, (ISO965,))


def cut(work: ToolStep, v: float, f: float, coolant: str = "emulsion 6-8 %") -> CutStep:
    rpm = min(8000.0, 1000 * v / 3.141592653589793 / work.diameter_mm)
    rpm = float(int(rpm))
    is_tap = work.kind is StepKind.TAP
    rate = rpm * (work.tool.pitch_mm if is_tap and work.tool.pitch_mm else f)
    clamped = (
        (reason("spindle speed: 8000 rev/min", "the machine's limit governs", "CUT-SPINDLE-MAX"),) if rpm == 8000 else ()
    )
    return CutStep(
        work,
        v * 0.8,
        v,
        v * 1.2,
        rpm * 3.141592653589793 * work.diameter_mm / 1000,
        rpm,
        rate / rpm,
        rate,
        coolant,
        4.1 if is_tap else 1.2,
        None if is_tap else 640.0,
        0.6,
        0.06 if is_tap else None,
        (work.travel_mm or 10.0) / rate * (2 if is_tap else 1),
        (3000.0, 15000.0) if is_tap else (1000.0, 3000.0),
        reached_rpm=rpm if is_tap else None,
        reasons=(
            reason(
                f"cutting speed: {v:g} m/min",
                "start value of the range for wrought aluminium",
                "CUT-SPEED-TABLE",
                Cite("cutting speeds", "", "group N1", Standing.FROM_MEMORY),
            ),
        ),
        clamps=clamped,
    )


def spotted(chamfer_to: float) -> ToolStep:
    tip = chamfer_to / 2
    return ToolStep(
        StepKind.SPOT, spot(), None, chamfer_to, False, tip, tip, tip + 2,
        reasons=(reason(f"spot: 90° to {chamfer_to:g} mm", "the spot also makes the chamfer", "SPOT-CHAMFER"),),
    )  # fmt: skip


def tapped_blind(
    size: str, d: float, p: float, minor: tuple[float, float], drill_mm: float, thread_mm: float, left: bool = False
) -> tuple[tuple[ResolvedStep, ...], tuple[ToolStep, ...], tuple[DepthBudget, ...]]:
    geometry = metric(size, d, p, minor, left)
    resolved = step(Kind.TAP, Size(d, f"{d:g}"), Depth(thread_mm), thread=geometry)
    chamfer, tool = PLUG.threads * p, drill(drill_mm)
    drilled = thread_mm + chamfer + p
    tip = drilled + point(tool)
    percent = 76.98 * (d - drill_mm - 0.02) / p
    fit = TapDrillFit(drill_mm + 0.02, minor, percent, (76.98 * (d - minor[0]) / p, 76.98 * (d - minor[1]) / p))
    budget = DepthBudget(
        thread_mm, chamfer, p, drilled, point(tool), tip, THICKNESS - tip, "full thread + chamfer + one pitch of room"
    )
    lost = (
        Rejected("spiral-point", "TAP-CHIP-ROOM", "it pushes chips into the closed end"),
        Rejected("straight-flute", "TAP-LONG-CHIP", "long chips need a flute that lifts them"),
    )
    works = (
        spotted(d),
        ToolStep(
            StepKind.DRILL, tool, resolved, drill_mm, False, drilled, tip, tip + 2, fit=fit,
            reasons=(
                reason(f"tap drill: {drill_mm:g} mm", "with 0.02 mm oversize it lies inside the 6H minor limits",
                       "TAP-DRILL-WINDOW", ISO965),
                reason(f"drilled depth: {drilled:.1f} mm", "full thread + chamfer + one pitch of room", "DEPTH-BUDGET",
                       DIN2197),
            ),
        ),
        ToolStep(
            StepKind.TAP, tap(size, d, p, "spiral-flute", PLUG, left), resolved, d, False, thread_mm,
            thread_mm + chamfer, thread_mm + chamfer + 2 * p,
            reasons=(reason("tap: spiral-flute", "it lifts long chips out of a blind hole", "TAP-BLIND-LONG-CHIP",
                            rejected=lost),),
        ),
    )  # fmt: skip
    return (resolved,), works, (budget,)


def tapped_through(size: str, d: float, p: float, minor: tuple[float, float], drill_mm: float, left: bool):
    geometry = metric(size, d, p, minor, left)
    resolved = step(Kind.TAP, Size(d, f"{d:g}"), Depth(through=True), thread=geometry)
    tool = drill(drill_mm)
    fit = TapDrillFit(drill_mm + 0.02, minor, 76.98 * (d - drill_mm - 0.02) / p, (83.3, 65.2))
    tip = THICKNESS + point(tool) + 1
    works = (
        spotted(d),
        ToolStep(StepKind.DRILL, tool, resolved, drill_mm, True, THICKNESS, tip, tip + 2, pecks=4, fit=fit),
        ToolStep(
            StepKind.TAP, tap(size, d, p, "spiral-point", LONG, left), resolved, d, True, THICKNESS,
            THICKNESS + LONG.threads * p + 1, THICKNESS + LONG.threads * p + 3,
            reasons=(reason("tap: spiral-point", "through hole: chips go ahead of the tap", "TAP-THROUGH-LONG-CHIP"),),
        ),
    )  # fmt: skip
    return (resolved,), works, ()


def counterbored():
    through = step(Kind.DRILL, Size(11.0, "11"), Depth(through=True))
    bore = step(Kind.COUNTERBORE, Size(18.0, "18"), Depth(11.0))
    tool = drill(11.0)
    tip = THICKNESS + point(tool) + 1
    cutter = Tool(StepKind.COUNTERBORE, 18.0, "18", "HSS-E", flutes=3, name="counterbore")
    works = (
        ToolStep(StepKind.DRILL, tool, through, 11.0, True, THICKNESS, tip, tip + 2, pecks=2),
        ToolStep(StepKind.COUNTERBORE, cutter, bore, 18.0, False, 11.0, 11.0, 13.0),
    )
    return (through, bore), works, ()


def reamed():
    resolved = step(Kind.REAM, Size(8.0, "8"), Depth(12.0), limits=Limits(8.0, 8.015), zone="H7")
    tool = drill(7.8)
    reamer = Tool(StepKind.REAM, 8.0, "8", "HSS-E", flutes=6, limit="H7", name="reamer")
    works = (
        spotted(8.6),
        ToolStep(StepKind.DRILL, tool, resolved, 7.8, False, 16.0, 16.0 + point(tool), 18.0 + point(tool)),
        ToolStep(StepKind.REAM, reamer, resolved, 8.0, False, 12.0, 13.5, 15.5),
    )
    return (resolved,), works, ()


def countersunk():
    through = step(Kind.DRILL, Size(5.5, "5.5"), Depth(through=True))
    sink = step(Kind.COUNTERSINK, Size(10.4, "10.4"), Depth((10.4 - 5.5) / 2), angle=90.0)
    tool = drill(5.5)
    tip = THICKNESS + point(tool) + 1
    works = (
        ToolStep(StepKind.DRILL, tool, through, 5.5, True, THICKNESS, tip, tip + 2, pecks=6),
        ToolStep(
            StepKind.COUNTERSINK,
            Tool(StepKind.COUNTERSINK, 16.0, "16", "HSS-E", flutes=3, point_angle_deg=90.0, name="90° countersink"),
            sink, 10.4, False, 5.2, 5.2, 7.2,
        ),
    )  # fmt: skip
    return (through, sink), works, ()


def grid(x: float, y: float, dx: float, dy: float, nx: int, ny: int) -> tuple[tuple[float, float], ...]:
    return tuple((x + i * dx, y + j * dy) for j in range(ny) for i in range(nx))


TOO_DEEP = Note(
    "DEPTH-WALL",
    Severity.ASK,
    "The drill's point would come within 0.8 mm of the far face (tip at 39.2 mm, part 40 mm thick)",
    suggestion="Shorten the full thread to 28 mm, or confirm that the hole may go through",
    assumed="30 mm of full thread, drilled 34.4 mm deep",
    text="M10x1.25-6H ↧30",
    ref=ref(31),
)
UNREAD = Note(
    "CALLOUT-UNREAD",
    Severity.REFUSED,
    "A size was expected after ⌀:\n    ⌀ THRU\n      ^",
    suggestion="Write the diameter after the sign",
    text="⌀ THRU",
    ref=ref(50),
)
PITCH = Note(
    "THREAD-CLASS-ASSUMED",
    Severity.ASSUMED,
    "M8x1.25 has no class: 6H",
    assumed="6H",
    text="M8x1.25 ↧16",
    ref=ref(8),
    cite=ISO965,
)
HAND = Note(
    "THREAD-LEFT-HAND",
    Severity.WATCH,
    "Left-hand thread: left-hand tap and gauges, and the spindle turns the other way",
    text="M6x1-6H-LH THRU",
    ref=ref(24),
)

TYPES = (
    ("A", "M8x1.25 ↧16", tapped_blind("M8x1.25", 8, 1.25, (6.647, 6.912), 6.8, 16.0), grid(20, 20, 30, 60, 6, 2), (PITCH,)),
    ("B", "⌀11 THRU ⌴⌀18 ↧11", counterbored(), grid(12, 12, 176, 116, 2, 2), ()),
    ("C", "⌀8 H7 ↧12", reamed(), ((30.0, 70.0), (170.0, 70.0)), ()),
    ("D", "M6x1-6H-LH THRU", tapped_through("M6x1", 6, 1.0, (4.917, 5.153), 5.0, True), grid(60, 60, 25, 20, 4, 1), (HAND,)),
    ("E", "M10x1.25-6H ↧30", tapped_blind("M10x1.25", 10, 1.25, (8.647, 8.912), 8.8, 30.0),
     grid(60, 110, 25, 0, 4, 1), (TOO_DEEP,)),
    ("F", "⌀5.5 THRU ⌵⌀10.4x90°", countersunk(), grid(35, 40, 18, 60, 8, 2), ()),
)  # fmt: skip
SPEEDS = {
    StepKind.SPOT: (80.0, 0.1), StepKind.DRILL: (200.0, 0.18), StepKind.TAP: (30.0, 0.0), StepKind.REAM: (40.0, 0.25),
    StepKind.COUNTERBORE: (60.0, 0.1), StepKind.COUNTERSINK: (50.0, 0.1),
}  # fmt: skip
ORDER = [StepKind.SPOT, StepKind.DRILL, StepKind.COUNTERBORE, StepKind.COUNTERSINK, StepKind.TAP, StepKind.REAM]


def planned_holes() -> Iterator[PlannedHole]:
    row = 8
    for letter, text, (resolved, works, budgets), places, notes in TYPES:
        members = tuple(Member(ref(row + n), f"{letter}{n + 1}", 1, (place,), "") for n, place in enumerate(places))
        row += len(places)
        kind = HoleType(letter, Hole(tuple(r.feature for r in resolved), text), members, "", THICKNESS, notes)
        plan = ToolPlan(ResolvedHole(kind, resolved, THICKNESS), works, budgets)
        cuts = tuple(cut(work, *SPEEDS[work.kind]) for work in works)
        yield PlannedHole(kind, CutPlan(plan, cuts), notes)


def operations(holes: tuple[PlannedHole, ...]) -> tuple[tuple[Operation, ...], tuple[LoadedTool, ...]]:
    runs: dict[Tool, list[Target]] = {}
    for hole in holes:
        if hole.cut_plan:
            for made in hole.cut_plan.cuts:
                target = Target(hole.type.letter, hole.type.quantity, made, hole.on_hold)
                runs.setdefault(made.step.tool, []).append(target)
    tools = sorted(runs, key=lambda t: (ORDER.index(t.kind), -t.diameter_mm if t.kind is StepKind.DRILL else t.diameter_mm))
    ops, loaded = [], []
    for number, tool in enumerate(tools, start=1):
        targets = tuple(runs[tool])
        minutes = sum(t.quantity * (t.cut.time_min + 0.015) for t in targets)
        ops.append(Operation(number * 10, tool.kind, number, targets, minutes, 5 / 60, 400.0))
        reach = max(t.cut.step.tip_mm or 0.0 for t in targets) + 10
        loaded.append(
            LoadedTool(
                number, number, tool, "collet chuck ER 32" if tool.kind is not StepKind.TAP else "synchronous tap holder",
                reach, (number * 10,), tuple(t.letter for t in targets), sum(t.quantity for t in targets),
                targets[0].cut.tool_life_holes,
            )
        )  # fmt: skip
    return tuple(ops), tuple(loaded)


def gauges() -> tuple[GaugeNeed, ...]:
    iso1502 = Cite("ISO 1502", "1996", "", Standing.FROM_MEMORY)
    fit = Cite("ISO 286-2", "2010", "H7")
    return (
        GaugeNeed(Gauge("go thread plug", "M8x1.25-6H", 7.188, iso1502, how="enters by hand over the full thread"), ("A",)),
        GaugeNeed(Gauge("not-go thread plug", "M8x1.25-6H", 7.348, iso1502, how="enters two turns at most"), ("A",)),
        GaugeNeed(Gauge("go plain plug", "M8x1.25-6H minor", 6.647, ISO965, how="enters"), ("A",)),
        GaugeNeed(Gauge("not-go plain plug", "M8x1.25-6H minor", 6.912, ISO965, how="does not enter"), ("A",)),
        GaugeNeed(Gauge("go thread plug", "M6x1-6H-LH", 5.35, iso1502), ("D",)),
        GaugeNeed(Gauge("go plain plug", "8 H7", 8.0, fit, (8.0015, 8.0040), "enters"), ("C",)),
        GaugeNeed(Gauge("not-go plain plug", "8 H7", 8.015, fit, (8.0135, 8.0165), "does not enter"), ("C",)),
    )


def sample_job() -> JobPlan:
    """A valve block: 45 holes of six types, one type on hold, one row that could not be read."""
    holes = tuple(planned_holes())
    ops, loaded = operations(holes)
    header = JobHeader(
        "VB-2047", "Valve block", "D-20471", "C", "EN AW-6082-T6", ref(3), THICKNESS, ref(4), "mm", True, 25,
        (("Customer", "an invented customer"),),
    )  # fmt: skip
    unread = (UnreadRow(ref(50), "G1", "⌀ THRU", 3, (UNREAD,)),)
    aside = (SetAside(ref(1), "title", "HOLE SCHEDULE"), SetAside(ref(52), "total", "TOTAL 45"))
    rows = sum(len(h.type.members) for h in holes)
    asked_rows = sum(len(h.type.members) for h in holes if h.on_hold) + 1
    total = sum(h.type.quantity for h in holes) + 3
    asked = sum(h.type.quantity for h in holes if h.on_hold) + 3
    ledger = Ledger(RowCount(rows + 1 + 2, rows + 1 - asked_rows, asked_rows, 2), HoleCount(total, total - asked, asked))
    cutting = sum(op.time_min for op in ops)
    return JobPlan(
        FILE, "Holes", "3f1a" * 16, header, ALUMINIUM, holes, unread, aside, ops, loaded, gauges(),
        JobTime(cutting - 0.9, 0.9, sum(op.change_min for op in ops)), ledger, (PITCH, HAND, TOO_DEEP, UNREAD),
    )  # fmt: skip


def inch_job() -> JobPlan:
    """The valve block's first type as an inch job, with a number drill and thickness unknown."""
    job = sample_job()
    geometry = ThreadGeometry(
        ThreadSpec("unified", "UNC", "1/4-20 UNC", "1/4-20 UNC-2B", Size(6.35, "1/4"), 1.27, 20.0, "2B"),
        6.35, 5.5245, 4.9759, Limits(6.35, None), Limits(5.5245, 5.6515), Limits(4.9784, 5.2578),
        (Cite("ASME B1.1", "2003", "Table 2"),),
    )  # fmt: skip
    resolved = step(Kind.TAP, Size(6.35, "1/4"), Depth(12.7), thread=geometry)
    tool = drill(5.1054, "#7")
    works = (
        ToolStep(
            StepKind.DRILL, tool, resolved, 5.1054, False, 17.15, 17.15 + point(tool), 20.0,
            fit=TapDrillFit(5.1254, (4.9784, 5.2578), 74.2, (83.1, 66.2)),
        ),
        ToolStep(
            StepKind.TAP, tap("1/4-20", 6.35, 1.27, "spiral-flute", PLUG), resolved, 6.35, False, 12.7, 15.9, 18.5
        ),
    )  # fmt: skip
    kind = HoleType("A", Hole((resolved.feature,), "1/4-20 UNC-2B ↧.50"), job.holes[0].type.members, "", None)
    budget = DepthBudget(12.7, 3.175, 1.27, 17.145, 0.93, 18.07, None, "full thread + chamfer + one pitch of room")
    plan = ToolPlan(ResolvedHole(kind, (resolved,), None), works, (budget,))
    hole = PlannedHole(kind, CutPlan(plan, tuple(cut(work, *SPEEDS[work.kind]) for work in works)), ())
    ops, loaded = operations((hole,))
    header = replace(job.header, unit="in", thickness_mm=None, part_number="BH-310", part_name="Bearing housing")
    count = len(kind.members)
    ledger = Ledger(RowCount(count, count, 0, 0), HoleCount(count, count, 0))
    return replace(
        job, header=header, holes=(hole,), unread=(), set_aside=(), operations=ops, loading=loaded, gauges=(),
        ledger=ledger, notes=(), source="bearing_housing.csv",
    )  # fmt: skip


def many_rows(rows: int) -> JobPlan:
    """The valve block with `rows` rows of its first type: few types, many places."""
    job = sample_job()
    first = job.holes[0]
    members = tuple(
        Member(CellRef(FILE, "Holes", 8 + n, 4), f"A{n + 1}", 1, ((float(n % 200) * 5, float(n // 200) * 5),))
        for n in range(rows)
    )
    return replace(job, holes=(replace(first, type=replace(first.type, members=members)), *job.holes[1:]))
