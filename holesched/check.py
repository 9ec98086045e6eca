"""The first half of the story: workbook -> schedule -> callouts -> holes -> numbers. No tool is chosen here.

`check_file` ends with it and counts; `pipeline` goes on from it. It stands by itself so that a check starts quickly.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from holesched.features.build import build_holes
from holesched.features.model import BuiltHoles, HoleType
from holesched.notes import CellRef, Note, Severity
from holesched.resolve.model import ResolvedHole
from holesched.resolve.resolve import resolve_hole
from holesched.schedule.model import JobHeader, ReadOptions, Schedule, ScheduleRow
from holesched.schedule.read_workbook import read_schedule
from holesched.sequence.ledger import keep_ledger
from holesched.sequence.model import Ledger, PlannedHole
from holesched.shop.model import Shop
from holesched.standards.materials import Material, find_material
from holesched.units import LengthUnit


@dataclass(frozen=True, slots=True)
class CheckedSchedule:
    """A schedule read and understood, before anything is planned: `planned` in its ledger is what would be planned."""

    source: str
    unit: LengthUnit
    ledger: Ledger
    notes: tuple[Note, ...]


@dataclass(frozen=True, slots=True)
class Understood:
    """A hole type with its numbers, its material (None: no tool can be chosen for it), and what both left to say."""

    resolved: ResolvedHole
    material: Material | None
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


def check_file(path: Path, options: ReadOptions) -> CheckedSchedule:
    """A schedule file's ledger and notes; what tools and their depths would ask is not among them. Raises CannotRead."""
    with no_search_for_cycles():
        return _checked(path, options)


def _checked(path: Path, options: ReadOptions) -> CheckedSchedule:
    schedule, read_notes = read_schedule(path, options)
    built = build_holes(schedule, read_notes)
    named_at = material_cells(schedule.rows)
    understood = [understand(hole_type, schedule.header, named_at) for hole_type in built.types]
    holes = with_held_rows([PlannedHole(each.resolved.type, None, each.notes) for each in understood], read_notes, built)
    _, notes = job_notes(schedule, read_notes, built, holes)
    ledger = keep_ledger(schedule, holes, built.unread, before_planning=True)
    return CheckedSchedule(schedule.source, schedule.header.unit, ledger, notes)


@contextmanager
def no_search_for_cycles() -> Iterator[None]:
    """Python's search for values that refer to each other in a circle, put off while a schedule becomes many values.

    It would go through the hundred thousands of cells, rows and plans again and again, up to a third of the whole time, and
    find none: they are all plain values without a way back, freed as soon as nobody holds them.
    """
    searching = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if searching:
            gc.enable()


def material_cells(rows: Sequence[ScheduleRow]) -> dict[str, CellRef]:
    """Each material that rows give of their own, with the callout of the first row that does: its question stands there."""
    found: dict[str, CellRef] = {}
    for row in rows:
        if row.material:
            found.setdefault(row.material, row.ref)
    return found


def understand(hole_type: HoleType, header: JobHeader, named_at: Mapping[str, CellRef]) -> Understood:
    """A hole type resolved, with its material; `named_at` as material_cells gives it."""
    resolved = resolve_hole(hole_type)
    notes = (*hole_type.notes, *resolved.notes)
    material, material_notes = _material(hole_type.material, named_at.get(hole_type.material, header.material_ref))
    if any(note.severity is Severity.REFUSED for note in notes):
        return Understood(resolved, None, notes)
    return Understood(resolved, material, notes if material else (*notes, *material_notes))


def job_notes(
    schedule: Schedule, read_notes: Sequence[Note], built: BuiltHoles, holes: Sequence[PlannedHole]
) -> tuple[Material | None, tuple[Note, ...]]:
    """The part's material, and the notes of all stages in stage order.

    Each is said once: a question that many hole types raise about the whole job stands there once.
    """
    material, material_notes = _material(schedule.header.material, schedule.header.material_ref)
    rows = (note for row in built.unread for note in row.notes)
    notes = (*read_notes, *built.notes, *material_notes, *rows, *(note for hole in holes for note in hole.notes))
    return material, tuple(dict.fromkeys(notes))


def with_held_rows(holes: Sequence[PlannedHole], read_notes: Sequence[Note], built: BuiltHoles) -> list[PlannedHole]:
    """The holes, each with its rows that a question about single rows concerns; all where the unit is in question."""
    if any(note.is_question and note.code.startswith("SCHEDULE-UNIT") for note in read_notes):
        return [replace(hole, held_rows=tuple(member.ref for member in hole.type.members)) for hole in holes]
    notes = (*read_notes, *built.notes)
    questions = [note for note in notes if note.is_question and note.ref is not None]
    asked = {(ref.file, ref.sheet, ref.row) for note in questions for ref in (note.ref, *note.also) if ref is not None}
    return [replace(hole, held_rows=_rows_in(asked, hole.type)) for hole in holes] if asked else list(holes)


def _rows_in(asked: set[tuple[str, str, int]], hole_type: HoleType) -> tuple[CellRef, ...]:
    refs = (member.ref for member in hole_type.members)
    return tuple(ref for ref in refs if (ref.file, ref.sheet, ref.row) in asked)


def _material(text: str, ref: CellRef | None) -> tuple[Material | None, tuple[Note, ...]]:
    """The material, or the question that must be answered before any tap or speed can be chosen."""
    if not text.strip():
        problem = "No workpiece material is given: no tap, coating, speed or coolant can be chosen without one."
        remedy = "Write the material in the title block, or give --material."
        return None, (Note("MATERIAL-MISSING", Severity.REFUSED, problem, remedy, ref=ref),)
    answer = find_material(text)
    if answer.material is None:
        near = "; ".join(answer.suggestions)
        remedy = f"Perhaps: {near}." if near else "Give the material's standard name or number."
        note = Note("MATERIAL-UNKNOWN", Severity.REFUSED, f"{answer.how}.", remedy, text=text, ref=ref)
        return None, (note,)
    if answer.assumed:
        remedy = "Check the hardness before the first part."
        told = f"{answer.material.name}: {answer.assumed}."
        note = Note("MATERIAL-CONDITION-UNSTATED", Severity.WATCH, told, remedy, text=text, ref=ref)
        return answer.material, (note,)
    return answer.material, ()
