"""The story: workbook -> schedule -> callouts -> holes -> numbers -> tools -> cutting -> job. Values in, values out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from holesched.check import (
    check_file,
    job_notes,
    material_cells,
    no_search_for_cycles,
    read_options,
    understand,
    with_held_rows,
)
from holesched.cutting.model import CutAlternative, CutPlan
from holesched.cutting.parameters import in_full, plan_cutting
from holesched.cutting.reckoning import reckon
from holesched.cutting.trial import Trial
from holesched.features.build import build_holes
from holesched.features.model import HoleType, Member
from holesched.notes import CellRef, Note, Severity
from holesched.resolve.model import ResolvedHole
from holesched.schedule.model import JobHeader, ReadOptions, Schedule, ScheduleRow
from holesched.schedule.read_workbook import read_schedule
from holesched.sequence.model import JobPlan, PlannedHole
from holesched.sequence.plan import plan_job
from holesched.sequence.step_drills import Weighed, weighed, where_they_save
from holesched.shop.model import Shop
from holesched.standards.materials import Material
from holesched.tooling.alternatives import alternatives, step_drilled, thread_step
from holesched.tooling.choose import draft_tools, in_words
from holesched.tooling.reckoned import NOT_RECKONED, Reckoned
from holesched.tooling.rules import RuleBook
from holesched.tooling.shop_rules import rules_of
from holesched.tooling.step_drill import NO_TIME_SAVED
from holesched.units import LengthUnit

__all__ = [
    "check_file",
    "compare",
    "compare_step_drill",
    "explain",
    "plan_alone",
    "plan_file",
    "plan_schedule",
    "read_options",
]


def plan_file(path: Path, shop: Shop, options: ReadOptions) -> JobPlan:
    """A schedule file as a planned job. Raises CannotRead; everything a person can answer is a note in the JobPlan."""
    with no_search_for_cycles():
        schedule, notes = read_schedule(path, options)
        return plan_schedule(schedule, notes, shop)


def explain(callout: str, shop: Shop, options: ReadOptions) -> JobPlan:
    """One callout as a job of its own."""
    unit: LengthUnit = options.unit or "mm"
    stated = options.unit is not None
    thickness_mm = options.given_thickness_mm(unit)
    header = JobHeader(
        material=options.material or "", thickness_mm=thickness_mm, unit=unit, unit_stated=stated, lot=options.lot
    )
    row = ScheduleRow(CellRef("callout", "-", 1, 1), "", callout, unit, thickness_mm=thickness_mm)
    return plan_schedule(Schedule("callout", "-", "", header, (row,), (), 1), (), shop)


@no_search_for_cycles()
def plan_schedule(schedule: Schedule, read_notes: Sequence[Note], shop: Shop) -> JobPlan:
    """A schedule as a planned job."""
    built = build_holes(schedule, tuple(read_notes))
    rules = rules_of(shop)
    named_at = material_cells(schedule.rows)
    planned = _plan_holes(built.types, schedule.header, named_at, shop, rules)
    planned = with_held_rows(planned, read_notes, built)
    material, notes = job_notes(schedule, read_notes, built, planned)
    return plan_job(schedule, planned, built.unread, material, shop, notes, rules)


def plan_alone(hole_type: HoleType, header: JobHeader, shop: Shop) -> JobPlan:
    """One hole of a type as a job of its own; what was open about the type is left out."""
    row = ScheduleRow(CellRef("callout", "-", 1, 1), "", hole_type.hole.callout, header.unit)
    one = replace(hole_type, members=(Member(row.ref, "", 1),), notes=())
    rules = rules_of(shop)
    (planned,) = _plan_holes([one], header, {}, shop, rules)
    schedule = Schedule("callout", "-", "", header, (row,), (), 1)
    return plan_job(schedule, [planned], (), understand(one, header, {}).material, shop, planned.notes, rules)


def compare(job: JobPlan, shop: Shop) -> tuple[CutAlternative, ...]:
    """The processes for the first planned thread of a job, the chosen one first; none when no thread is planned."""
    rules = rules_of(shop)
    plans = (hole.cut_plan for hole in job.holes if hole.cut_plan is not None and thread_step(hole.cut_plan.plan))
    chosen = next(plans, None)
    if chosen is None or job.material is None:
        return ()
    _, reckoned = _settled(chosen.plan.resolved, job.material, job.header.lot, shop, rules)
    found = alternatives(chosen.plan, job.material, shop, rules, job.header.lot, reckoned)
    return tuple(
        CutAlternative(each, plan_cutting(each.plan, job.material, shop) if each.plan is not None else None)
        for each in found
    )


def compare_step_drill(job: JobPlan, shop: Shop) -> Weighed | None:
    """A step drill against separate tools in the first planned hole of a job that has two diameters for one."""
    rules = rules_of(shop)
    for hole in job.holes:
        if hole.cut_plan is None or job.material is None:
            continue
        _, reckoned = _settled(hole.cut_plan.plan.resolved, job.material, job.header.lot, shop, rules)
        found = step_drilled(hole.cut_plan.plan, job.material, shop, rules, job.header.lot, reckoned)
        if found is not None:
            apart, choice = found
            together = plan_cutting(choice.plan, job.material, shop) if choice.plan is not None else None
            return weighed(choice, hole.type.quantity, plan_cutting(apart, job.material, shop), together, shop.machine)
    return None


def _plan_holes(
    types: Iterable[HoleType], header: JobHeader, named_at: Mapping[str, CellRef], shop: Shop, rules: RuleBook
) -> list[PlannedHole]:
    """The hole types of a job through the stages; once more with separate tools where a step drill saves no time."""

    def separately(hole: PlannedHole) -> PlannedHole:
        return _plan_hole(hole.type, header, named_at, shop, rules, Reckoned(step_drill=NO_TIME_SAVED))

    planned = [_plan_hole(hole_type, header, named_at, shop, rules) for hole_type in types]
    return where_they_save(planned, separately, shop.machine)


def _plan_hole(
    hole_type: HoleType,
    header: JobHeader,
    named_at: Mapping[str, CellRef],
    shop: Shop,
    rules: RuleBook,
    reckoned: Reckoned = NOT_RECKONED,
) -> PlannedHole:
    """One hole type through the stages; the first refusal ends its way, and its notes say why."""
    understood = understand(hole_type, header, named_at)
    if understood.material is None:
        return PlannedHole(hole_type, None, understood.notes)
    cut_plan, _ = _settled(understood.resolved, understood.material, header.lot, shop, rules, reckoned)
    notes = (*understood.notes, *_not_yet_asked(cut_plan.plan.notes, understood.notes))
    if any(note.severity is Severity.REFUSED for note in cut_plan.plan.notes):
        return PlannedHole(hole_type, None, notes)
    return PlannedHole(hole_type, cut_plan, (*notes, *cut_plan.notes))


def _not_yet_asked(notes: Iterable[Note], before: Iterable[Note]) -> tuple[Note, ...]:
    """Without the drill that breaks through, where the depth as written does so already: one question, not two."""
    out = any(note.code == "CHECK-DEEPER-THAN-PART" for note in before)
    return tuple(note for note in notes if not (out and note.code == "DEPTH-BREAKS-THROUGH"))


def _settled(
    resolved: ResolvedHole,
    material: Material,
    lot: int | None,
    shop: Shop,
    rules: RuleBook,
    reckoned: Reckoned = NOT_RECKONED,
) -> tuple[CutPlan, Reckoned]:
    """The plan that stands, and what was `reckoned` before and on the way.

    What taps and drills ask of the machine is known only at the end, and may call for another process: then all is planned
    again.
    """
    while True:
        draft = draft_tools(resolved, material, shop, rules, lot=lot, reckoned=reckoned)
        trial = Trial(draft.steps, material, shop)
        more = reckon(trial, reckoned, rules)
        if more == reckoned:
            return in_full(in_words(draft), trial), reckoned
        reckoned = more
