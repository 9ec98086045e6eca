"""The machine-readable results: sheet.json for a job, one object for a callout. Field names are stable; the JSON Schema
sheet.schema.json in the package's data describes both."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from holesched.callouts.model import Depth, Tolerance
from holesched.cutting.model import CutStep
from holesched.features.build import status_of
from holesched.features.model import Feature, Hole
from holesched.notes import CellRef, Note, Reason, Severity
from holesched.reports.base import RunStamp
from holesched.reports.naming import sources, tool_name
from holesched.reports.open_points import all_notes
from holesched.reports.show import Show
from holesched.sequence.model import GaugeNeed, JobPlan, LoadedTool, PlannedHole
from holesched.standards.sizes import Limits
from holesched.standards.threads.base import ThreadGeometry, ThreadSpec
from holesched.tooling.model import Shoulder, StepKind, ToolStep

SCHEMA = "holesched-sheet-1"

Json = dict[str, Any]


def callout_json(text: str, hole: Hole | None, notes: Sequence[Note], count: int | None) -> Json:
    """One callout: what it asks for, what a standard supplied, and what must be asked.

    `hole` is None when nothing could be made of it. Status "ok": nothing to ask; "question": something must be asked;
    "error": the text makes no sense.
    """
    return {
        "callout": text,
        "status": status_of(hole, notes),
        "count": count,
        "features": [_feature(feature, _geometry(feature.thread)) for feature in hole.features] if hole is not None else [],
        "assumed": _assumed(notes),
        "questions": [_question(note) for note in notes if note.is_question],
    }


def job_json(job: JobPlan, stamp: RunStamp) -> Json:
    """The whole job as one object."""
    header, rows, holes = job.header, job.ledger.rows, job.ledger.holes
    numbers = {loaded.tool: loaded.number for loaded in job.loading}
    operations: dict[tuple[int, str], int] = {}
    for operation in job.operations:
        for target in operation.targets:
            operations.setdefault((operation.tool_number, target.letter), operation.number)
    planned = [_hole(hole, numbers, operations) for hole in job.holes]
    return {
        "schema": SCHEMA,
        "job": {
            "part_number": header.part_number,
            "part_name": header.part_name,
            "drawing": header.drawing,
            "revision": header.revision,
            "material": job.material.key if job.material is not None else None,
            "material_written": header.material,
            "thickness_mm": _mm(header.thickness_mm),
            "unit": header.unit,
            "lot": header.lot,
            "source": job.source,
            "sheet": job.sheet,
            "sha256": job.sha256,
            "date": stamp.date.isoformat(),
            "version": stamp.version,
        },
        "ledger": {
            "rows": {
                "read": rows.read,
                "planned": rows.planned,
                "in_question": rows.in_question,
                "set_aside": rows.set_aside,
            },
            "holes": {"read": holes.read, "planned": holes.planned, "in_question": holes.in_question},
        },
        "holes": planned + [_unread(row.ref, row.tag, row.text, row.count) for row in job.unread],
        "tools": [_tool(loaded) for loaded in job.loading],
        "gauges": [_gauge(need) for need in job.gauges],
        "assumed": _assumed(all_notes(job)),
        "questions": [_question(note) for note in all_notes(job) if note.is_question],
        "time": {
            "cutting_min": _n(job.time.cutting_min),
            "positioning_min": _n(job.time.positioning_min),
            "tool_change_min": _n(job.time.tool_change_min),
            "by_hand_min": _n(job.time.by_hand_min),
            "total_min": _n(job.time.total_min),
        },
    }


def _assumed(notes: Iterable[Note]) -> list[str]:
    return list(dict.fromkeys(note.message for note in notes if note.severity is Severity.ASSUMED))


def _question(note: Note) -> Json:
    ref = note.ref
    where = {"file": ref.file, "sheet": ref.sheet, "cell": ref.cell} if ref else {"file": "", "sheet": "", "cell": ""}
    return {
        "where": where,
        "text": note.text,
        "problem": note.message,
        "suggestion": note.suggestion,
        "assumed": note.assumed,
    }


def _geometry(spec: ThreadSpec | None) -> ThreadGeometry | None:
    if spec is None:
        return None
    from holesched.standards import threads

    return threads.geometry(spec)


def _feature(feature: Feature, geometry: ThreadGeometry | None) -> Json:
    return {
        "kind": feature.kind.value,
        "diameter_mm": _mm(feature.diameter.mm),
        "tolerance": _tolerance(feature.tolerance),
        "depth_mm": _depth(feature.depth),
        "angle_deg": feature.angle_deg,
        "thread": _thread(geometry) if geometry is not None else None,
    }


def _tolerance(tolerance: Tolerance | None) -> str | list[float | None] | None:
    if tolerance is None:
        return None
    if tolerance.zone is not None:
        return tolerance.zone
    return [_mm(tolerance.low_mm), _mm(tolerance.high_mm)]


def _depth(depth: Depth) -> float | str | None:
    return "through" if depth.through else _mm(depth.mm)


def _thread(geometry: ThreadGeometry) -> Json:
    spec = geometry.spec
    return {
        "series": spec.series,
        "designation": spec.designation,
        "pitch_mm": _mm(spec.pitch_mm),
        "class": spec.thread_class,
        "hand": "LH" if spec.left_hand else "RH",
        "major_mm": _mm(geometry.basic_major_mm),
        "pitch_diameter_mm": _limits(geometry.pitch),
        "minor_mm": _limits(geometry.minor),
    }


def _limits(limits: Limits) -> list[float | None]:
    return [_mm(limits.min_mm), _mm(limits.max_mm)]


def _hole(hole: PlannedHole, numbers: dict[Any, int], operations: dict[tuple[int, str], int]) -> Json:
    members = hole.type.members
    cuts = hole.cuts
    geometries: dict[int, ThreadGeometry | None] = {}
    if hole.cut_plan is not None:
        for step in hole.cut_plan.plan.resolved.steps:
            geometries[id(step.feature)] = step.thread
    return {
        "type": hole.type.letter,
        "tags": [member.tag for member in members],
        "cell": members[0].ref.cell if members else "",
        "callout": hole.type.hole.callout,
        "quantity": hole.type.quantity,
        "on_hold": hole.on_hold,
        "features": [
            _feature(f, geometries[id(f)] if id(f) in geometries else _geometry(f.thread)) for f in hole.type.hole.features
        ],
        "operations": [_operation(cut, hole.type.letter, numbers, operations) for cut in cuts],
    }


def _unread(ref: CellRef, tag: str, text: str, count: int) -> Json:
    """A row that gave no hole stands among the holes all the same: the quantities add up to the ledger's holes."""
    return {
        "type": None,
        "tags": [tag],
        "cell": ref.cell,
        "callout": text,
        "quantity": count,
        "on_hold": True,
        "features": [],
        "operations": [],
    }


def _operation(cut: CutStep, letter: str, numbers: dict[Any, int], operations: dict[tuple[int, str], int]) -> Json:
    step = cut.step
    number = numbers.get(step.tool)
    title = tool_name(step.tool, Show("mm")).title
    return {
        "number": operations.get((number, letter)) if number is not None else None,
        "kind": step.kind.value,
        "tool": f"T{number} {title}" if number is not None else title,
        "diameter_mm": _mm(step.diameter_mm),
        "depth_mm": "through" if step.through else _mm(step.depth_mm),
        "also": _also(step.also) if step.also is not None else None,
        "speed_m_min": _n(cut.surface_m_per_min),
        "spindle_rev_min": _n(cut.spindle_rpm),
        "feed_mm_rev": _mm(cut.feed_mm_per_rev),
        "feed_mm_min": _n(cut.feed_mm_per_min),
        "torque_nm": _n(cut.torque_nm),
        "power_kw": _n(cut.power_kw),
        "time_min": _n(cut.time_min),
        "coolant": cut.coolant,
        "reasons": [_reason(reason) for reason in (*step.reasons, *cut.reasons, *cut.clamps, *_overload(cut))],
    }


def _also(also: ToolStep) -> Json:
    """What the shoulder of a step drill makes in the same stroke; a cone at the face has no depth of its own."""
    depth_mm = None if also.kind is StepKind.COUNTERSINK else also.depth_mm
    return {"kind": also.kind.value, "diameter_mm": _mm(also.diameter_mm), "depth_mm": _mm(depth_mm)}


def _overload(cut: CutStep) -> list[Reason]:
    """What the machine cannot do, as reasons: no program that reads the sheet may miss it."""
    return [Reason("overload: not to be run as it stands", note.message, note.code) for note in cut.overload]


def _reason(reason: Reason) -> Json:
    return {
        "decision": reason.decision,
        "why": reason.because,
        "rule": reason.rule,
        "source": sources(reason.cites),
        "instead_of": [f"{lost.candidate}: {lost.because}" for lost in reason.rejected],
    }


def _tool(loaded: LoadedTool) -> Json:
    tool = loaded.tool
    name = tool_name(tool, Show("mm"))
    return {
        "number": loaded.number,
        "pot": loaded.pot,
        "kind": tool.kind.value,
        "tool": name.title,
        "detail": name.detail,
        "size": tool.size,
        "diameter_mm": _mm(tool.diameter_mm),
        "shoulder": _shoulder(tool.shoulder) if tool.shoulder is not None else None,
        "hand": "LH" if tool.left_hand else "RH",
        "holder": loaded.holder,
        "stick_out_mm": _mm(loaded.stick_out_mm),
        "operations": list(loaded.operations),
        "types": list(loaded.letters),
        "holes": loaded.holes,
        "life_holes": [_n(life) for life in loaded.life_holes] if loaded.life_holes is not None else None,
    }


def _shoulder(shoulder: Shoulder) -> Json:
    return {
        "diameter_mm": _mm(shoulder.diameter_mm),
        "angle_deg": shoulder.angle_deg,
        "length_mm": _mm(shoulder.length_mm),
        "length_over_mm": shoulder.over_mm,
    }


def _gauge(need: GaugeNeed) -> Json:
    gauge = need.gauge
    return {
        "kind": gauge.kind,
        "designation": gauge.designation,
        "size_mm": _mm(gauge.size_mm),
        "own_limits_mm": [_mm(size) for size in gauge.tolerance_mm] if gauge.tolerance_mm is not None else None,
        "worn_below_mm": _mm(gauge.worn_mm),
        "use": gauge.how,
        "types": list(need.letters),
        "source": str(gauge.cite),
    }


def _mm(value: float | None) -> float | None:
    """A length to a hundredth of a micrometre: below any tolerance, above the noise of floats."""
    return None if value is None else round(value, 5)


def _n(value: float | None) -> float | None:
    return None if value is None else round(value, 4)
