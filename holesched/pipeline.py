"""The story: workbook -> schedule -> callouts -> holes -> numbers -> tools -> cutting -> job. Values in, values out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from holesched.callouts.model import Callout
from holesched.cutting.parameters import plan_cutting
from holesched.features.build import build_holes
from holesched.features.model import BuiltHoles, HoleType
from holesched.notes import CellRef, Note, Severity
from holesched.resolve.model import ResolvedHole
from holesched.resolve.resolve import resolve_hole
from holesched.schedule.model import JobHeader, ReadOptions, Schedule, ScheduleRow
from holesched.schedule.read_workbook import read_schedule
from holesched.sequence.ledger import keep_ledger
from holesched.sequence.model import JobPlan, Ledger, PlannedHole
from holesched.sequence.plan import plan_job
from holesched.shop.model import Shop
from holesched.standards.materials import Material, find_material
from holesched.tooling.choose import plan_tools
from holesched.units import LengthUnit

__all__ = ["Callout", "CheckedSchedule", "check_file", "explain", "plan_file", "plan_schedule", "read_options"]


@dataclass(frozen=True, slots=True)
class CheckedSchedule:
    """A schedule read and understood, before anything is planned: `planned` in its ledger is what would be planned."""

    source: str
    ledger: Ledger
    notes: tuple[Note, ...]


def read_options(
    shop: Shop,
    *,
    unit: LengthUnit | None = None,
    material: str | None = None,
    thickness_mm: float | None = None,
    sheet: str | None = None,
    encoding: str | None = None,
) -> ReadOptions:
    """What the command line and the shop file know better than the schedule."""
    known = shop.schedules
    return ReadOptions(unit, material, thickness_mm, known.columns, known.symbols, sheet, encoding)


def plan_file(path: Path, shop: Shop, options: ReadOptions) -> JobPlan:
    """A schedule file as a planned job. Raises CannotRead; everything a person can answer is a note in the JobPlan."""
    schedule, notes = read_schedule(path, options)
    return plan_schedule(schedule, notes, shop)


def check_file(path: Path, options: ReadOptions) -> CheckedSchedule:
    """A schedule file's ledger and notes without any tool: what tools and their depths would ask is not among them.

    Raises CannotRead.
    """
    schedule, read_notes = read_schedule(path, options)
    built = build_holes(schedule, read_notes)
    understood = [_understood(hole_type, schedule.header) for hole_type in built.types]
    holes = _with_held_rows([PlannedHole(each.resolved.type, None, each.notes) for each in understood], read_notes, built)
    _, notes = _job_notes(schedule, read_notes, built, holes)
    return CheckedSchedule(schedule.source, keep_ledger(schedule, holes, built.unread, before_planning=True), notes)


def explain(callout: str, shop: Shop, options: ReadOptions) -> JobPlan:
    """One callout as a job of its own."""
    unit: LengthUnit = options.unit or "mm"
    header = JobHeader(material=options.material or "", thickness_mm=options.thickness_mm, unit=unit, unit_stated=True)
    row = ScheduleRow(CellRef("callout", "-", 1, 1), "", callout, unit, thickness_mm=options.thickness_mm)
    return plan_schedule(Schedule("callout", "-", "", header, (row,), (), 1), (), shop)


def plan_schedule(schedule: Schedule, read_notes: Sequence[Note], shop: Shop) -> JobPlan:
    """A schedule as a planned job."""
    built = build_holes(schedule, tuple(read_notes))
    planned = [_plan_hole(hole_type, schedule.header, shop) for hole_type in built.types]
    planned = _with_held_rows(planned, read_notes, built)
    material, notes = _job_notes(schedule, read_notes, built, planned)
    return plan_job(schedule, planned, built.unread, material, shop, notes)


@dataclass(frozen=True, slots=True)
class _Understood:
    """A hole type resolved, its material (None: no tool can be chosen), and what both left to say."""

    resolved: ResolvedHole
    material: Material | None
    notes: tuple[Note, ...]


def _understood(hole_type: HoleType, header: JobHeader) -> _Understood:
    resolved = resolve_hole(hole_type)
    notes = (*hole_type.notes, *resolved.notes)
    material, material_notes = _material(hole_type.material, header)
    if any(note.severity is Severity.REFUSED for note in notes):
        return _Understood(resolved, None, notes)
    return _Understood(resolved, material, notes if material else (*notes, *material_notes))


def _plan_hole(hole_type: HoleType, header: JobHeader, shop: Shop) -> PlannedHole:
    """One hole type through the stages; the first refusal ends its way, and its notes say why."""
    understood = _understood(hole_type, header)
    if understood.material is None:
        return PlannedHole(hole_type, None, understood.notes)
    plan = plan_tools(understood.resolved, understood.material, shop)
    notes = (*understood.notes, *plan.notes)
    if any(note.severity is Severity.REFUSED for note in plan.notes):
        return PlannedHole(hole_type, None, notes)
    cut_plan = plan_cutting(plan, understood.material, shop)
    return PlannedHole(hole_type, cut_plan, (*notes, *cut_plan.notes))


def _job_notes(
    schedule: Schedule, read_notes: Sequence[Note], built: BuiltHoles, holes: Sequence[PlannedHole]
) -> tuple[Material | None, tuple[Note, ...]]:
    """The part's material, and the notes of all stages in stage order, each said once."""
    material, material_notes = _material(schedule.header.material, schedule.header)
    rows = (note for row in built.unread for note in row.notes)
    notes = (*read_notes, *built.notes, *material_notes, *rows, *(note for hole in holes for note in hole.notes))
    return material, _merged(notes)


def _material(text: str, header: JobHeader) -> tuple[Material | None, tuple[Note, ...]]:
    """The material, or the question that must be answered before any tap or speed can be chosen."""
    if not text.strip():
        problem = "No workpiece material is given: no tap, coating, speed or coolant can be chosen without one."
        remedy = "Write the material in the title block, or give --material."
        return None, (Note("MATERIAL-MISSING", Severity.REFUSED, problem, remedy, ref=header.material_ref),)
    answer = find_material(text)
    if answer.material is None:
        near = "; ".join(answer.suggestions)
        remedy = f"Perhaps: {near}." if near else "Give the material's standard name or number."
        note = Note("MATERIAL-UNKNOWN", Severity.REFUSED, f"{answer.how}.", remedy, text=text, ref=header.material_ref)
        return None, (note,)
    if answer.assumed:
        remedy = "Check the hardness before the first part."
        told = f"{answer.material.name}: {answer.assumed}."
        note = Note("MATERIAL-CONDITION-UNSTATED", Severity.WATCH, told, remedy, text=text, ref=header.material_ref)
        return answer.material, (note,)
    return answer.material, ()


def _with_held_rows(holes: Sequence[PlannedHole], read_notes: Sequence[Note], built: BuiltHoles) -> list[PlannedHole]:
    single = (*read_notes, *built.notes)
    return [replace(hole, held_rows=_held_rows(hole.type, single)) for hole in holes]


def _held_rows(hole_type: HoleType, notes: Sequence[Note]) -> tuple[CellRef, ...]:
    """The type's rows that a question about single rows concerns."""
    asked = {(note.ref.file, note.ref.sheet, note.ref.row) for note in notes if note.is_question and note.ref is not None}
    refs = [member.ref for member in hole_type.members]
    return tuple(ref for ref in refs if (ref.file, ref.sheet, ref.row) in asked)


def _merged(notes: Sequence[Note]) -> tuple[Note, ...]:
    """Notes in order, each said once: a question that many hole types raise about the whole job stands there once."""
    return tuple(dict.fromkeys(notes))
