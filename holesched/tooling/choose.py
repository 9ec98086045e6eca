"""Resolved holes become plans: every feature its tools, in working order, with depths, reasons and what is open."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from holesched.callouts.model import Kind, Side
from holesched.notes import Cite, Note, Severity, Standing
from holesched.resolve.model import ResolvedHole, ResolvedStep
from holesched.shop.model import Shop
from holesched.standards import drill_sizes
from holesched.standards.materials import Material
from holesched.tooling.between_sides import between_note, reaches_mm, wall_between
from holesched.tooling.blind_end import blind_ends
from holesched.tooling.case import HoleCase, material_case
from holesched.tooling.chamfer import with_milled_cones
from holesched.tooling.coating import BeforeCoating, before_coating, with_reason
from holesched.tooling.cones import cone_notes
from holesched.tooling.cutters import Grade, cutter_grade, cutters_in, drill_grade
from holesched.tooling.engagement import short_thread_note
from holesched.tooling.entry import entry_works
from holesched.tooling.far_edge import with_far_edges
from holesched.tooling.far_face import within_room
from holesched.tooling.finishing import bored, finished
from holesched.tooling.floors import floor_notes
from holesched.tooling.guards import guard_notes
from holesched.tooling.model import Tool, ToolPlan, ToolStep
from holesched.tooling.placing import placed
from holesched.tooling.plain import cone_feature, drill_feature, ended_flat, flat_feature
from holesched.tooling.reach import reach_notes
from holesched.tooling.ream_last import reamed_last
from holesched.tooling.reckoned import NOT_RECKONED, Reckoned
from holesched.tooling.rules import RuleBook, standard_rules
from holesched.tooling.setting import Planned, Setting, at_hole, floor_mm, name_of, on_side
from holesched.tooling.step_drill import with_step_drills
from holesched.tooling.surroundings import surroundings
from holesched.tooling.tap_drill import choose_tap_drill
from holesched.tooling.tapping import tapped
from holesched.tooling.wall_notes import wall_notes
from holesched.tooling.without_thread import without_thread_notes
from holesched.tooling.work import Work
from holesched.units import LengthUnit

__all__ = ["Draft", "choose_tap_drill", "draft_tools", "in_words", "plan_tools"]

FROM_FACE_CITE = Cite(
    "ASME Y14.5", "2018", "depth of a hole: of full diameter, from the outer surface", Standing.FROM_MEMORY
)
PRE_REAM_SHARE = 0.85
"""A stated drill at least this share of a finished diameter is its pre-drill. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Draft:
    """The steps of a hole as far as their loads need them, with what `in_words` makes the whole plan of."""

    drawn: ResolvedHole
    before: BeforeCoating
    material: Material
    setting: Setting
    planned: tuple[Planned, ...]
    steps: tuple[ToolStep, ...]
    orders: tuple[Note, ...]


def plan_tools(
    resolved: ResolvedHole,
    material: Material,
    shop: Shop,
    rules: RuleBook | None = None,
    *,
    lot: int | None = None,
    reckoned: Reckoned = NOT_RECKONED,
) -> ToolPlan:
    """The tools and steps of one hole type, near side first, with depth budgets, reasons and notes.

    `rules` are the shop's own book over the standard one (rules.rule_book); None: the standard rules. `lot` is the number of
    parts. `reckoned` is what the loads of an earlier draft have shown.
    """
    return in_words(draft_tools(resolved, material, shop, rules, lot=lot, reckoned=reckoned))


def draft_tools(
    resolved: ResolvedHole,
    material: Material,
    shop: Shop,
    rules: RuleBook | None = None,
    *,
    lot: int | None = None,
    reckoned: Reckoned = NOT_RECKONED,
) -> Draft:
    """The steps of `plan_tools` before anything is said of them: their loads may yet call for others."""
    book, shop = rules if rules is not None else standard_rules(), shop.drilling_in(material.subgroup)
    a_part = resolved.type.of_its_size or resolved.type.quantity
    case, grade, cutter = _of_workpiece(
        material, shop, lot, None if lot is None else lot * a_part, cutters_in(resolved.type, shop), book
    )
    before = before_coating(resolved)
    drawn, resolved = resolved, before.resolved
    remarks = resolved.type.remarks
    walls = surroundings(remarks).walls
    case = case if walls == case.wall else replace(case, wall=walls)
    setting = Setting(resolved, case, shop, book, grade, cutter, remarks, reckoned)
    pilots = stated_drills(resolved.steps)
    planned = [
        with_reason(within_room(sided, setting, pilots.get(index), _feature), before.reasons[index])
        for index, step in enumerate(resolved.steps)
        if not any(step is pilot for pilot in pilots.values())
        for sided in _by_side(step)
    ]
    works: list[Work] = [work for part in planned for work in part.works]
    for side in (Side.NEAR, Side.FAR):
        works += entry_works(works, resolved.steps, side, setting)
    works = reamed_last(with_far_edges(with_milled_cones(works, setting), setting))
    steps, orders = with_step_drills(placed(works, setting), setting)
    return Draft(drawn, before, material, setting, tuple(planned), steps, tuple(orders))


def in_words(draft: Draft) -> ToolPlan:
    """The plan of a draft that stands, with all that the shop and the drawing's owner are told and asked."""
    setting, steps, planned = draft.setting, draft.steps, draft.planned
    resolved, shop = setting.resolved, setting.shop
    notes = [*draft.before.notes, *(note for part in planned for note in part.notes)]
    notes += _depths_from_face(resolved.steps)
    notes += _sides(resolved.steps, steps)
    notes = reach_notes(notes, steps)
    notes += cone_notes(steps, setting.thickness_mm)
    notes += floor_notes(steps)
    reach_mm = reaches_mm(steps)
    between = between_note(resolved.steps, reach_mm, setting)
    notes += [] if between is None else [between]
    notes += _short_threads(resolved.steps, draft.material, shop)
    notes += _not_in_crib(steps, shop)
    notes += without_thread_notes(resolved.steps, setting)
    notes += wall_notes(resolved.steps, steps, setting)
    notes += draft.orders
    notes += guard_notes(steps, setting)
    placed_notes = tuple(dict.fromkeys(at_hole(note, resolved) for note in notes))
    budgets = (wall_between(budget, part.works[0].side, reach_mm, steps) for part in planned for budget in part.budgets)
    return ToolPlan(draft.drawn, steps, tuple(budgets), blind_ends(steps, reach_mm, setting), placed_notes)


@lru_cache(maxsize=256)
def _of_workpiece(
    material: Material, shop: Shop, lot: int | None, holes: int | None, cutters: LengthUnit, book: RuleBook
) -> tuple[HoleCase, Grade, Grade]:
    """What the rules are told of workpiece and shop, and what drills and other cutters are made of: for all holes alike of
    which there are so many in the lot."""
    case = material_case(material, shop, lot, holes, cutters)
    return case, drill_grade(case, shop, book), cutter_grade(case, book)


def stated_drills(steps: Sequence[ResolvedStep]) -> dict[int, ResolvedStep]:
    """Which written drill is the pilot of which thread, reamed or bored hole: {index of the finished step: its drill}.

    For a thread: the largest drill under its major diameter and not more than half a pitch under its basic minor diameter;
    for a reamed or bored hole: the largest from 85 % of its diameter. A smaller drill is a hole of its own.
    """
    found: dict[int, ResolvedStep] = {}
    for index, step in enumerate(steps):
        if step.thread is not None:
            low = step.thread.basic_minor_mm - 0.5 * step.thread.spec.pitch_mm
            high = step.thread.basic_major_mm
        elif step.kind in (Kind.REAM, Kind.BORE):
            low, high = PRE_REAM_SHARE * step.diameter.mm, step.diameter.mm
        else:
            continue
        fitting = [
            other
            for other in steps
            if other.kind is Kind.DRILL
            and low <= other.diameter.mm < high
            and on_side(other, step.side)
            and not any(other is taken for taken in found.values())
        ]
        if fitting:
            found[index] = max(fitting, key=lambda other: other.diameter.mm)
    return found


def _by_side(step: ResolvedStep) -> tuple[ResolvedStep, ...]:
    """A hole called from both sides: one from the near side when it goes through, else one from each; heads see to it
    themselves."""
    if step.side is not Side.BOTH or step.kind in (Kind.COUNTERBORE, Kind.COUNTERSINK, Kind.SPOTFACE):
        return (step,)
    near = replace(step, side=Side.NEAR)
    return (near,) if step.through else (near, replace(step, side=Side.FAR))


def _feature(step: ResolvedStep, setting: Setting, pilot: ResolvedStep | None) -> Planned:
    """One feature's work, by its kind."""
    if step.depth_mm is None and not step.through and step.kind in (Kind.TAP, Kind.DRILL, Kind.REAM, Kind.BORE):
        message = f"{name_of(step)} is neither through nor has it a depth."
        return Planned(notes=(Note("DEPTH-MISSING", Severity.ASK, message, "Give its depth, or write THRU."),))
    if step.kind is Kind.TAP and step.thread is not None:
        return tapped(step, step.thread, setting, pilot)
    if step.kind is Kind.REAM:
        return ended_flat(finished(step, setting, pilot), step)
    if step.kind is Kind.BORE:
        return ended_flat(bored(step, setting, pilot), step)
    if step.kind in (Kind.COUNTERBORE, Kind.SPOTFACE):
        return flat_feature(step, setting)
    if step.kind is Kind.COUNTERSINK:
        return cone_feature(step, setting)
    return drill_feature(step, setting)


def _depths_from_face(steps: Sequence[ResolvedStep]) -> list[Note]:
    """Depths of steps that start on a counterbore's floor are read from the part's face: an assumption, and a question when
    such a step would lie inside the counterbore."""
    notes = []
    for step in steps:
        floor = floor_mm(step, steps)
        if step.through or step.depth_mm is None or floor == 0 or step.kind not in (Kind.TAP, Kind.REAM, Kind.DRILL):
            continue
        if step.depth_mm <= floor:
            message = f"{name_of(step)} is {step.depth_mm:g} mm deep, the counterbore above it {floor:g} mm."
            suggestion = "Say from which face the depth is measured."
            notes.append(Note("DEPTH-INSIDE-COUNTERBORE", Severity.ASK, message, suggestion, "Planned as written."))
            continue
        message = (
            f"The depth of {name_of(step)}, {step.depth_mm:g} mm, is measured from the part's face, not from the floor."
        )
        notes.append(Note("DEPTH-FROM-FACE", Severity.ASSUMED, message, cite=FROM_FACE_CITE))
    return notes


def _sides(drawn: Sequence[ResolvedStep], steps: Sequence[ToolStep]) -> list[Note]:
    """What the part is turned over for."""
    if not any(step.turned_over for step in steps):
        return []
    turned = [step for step in drawn if step.side is not Side.NEAR]
    both = any(step.side is Side.BOTH for step in turned)
    message = (
        f"{', '.join(map(name_of, turned)) or 'Chamfer of the far edge'}: made from the far side{' too' if both else ''}."
    )
    cut_back = {Kind.COUNTERBORE, Kind.SPOTFACE, Kind.COUNTERSINK}
    through = any(step.through for step in drawn)
    by_back = through and cut_back.issuperset(step.kind for step in turned)
    back = ", or cut it from the near face with a tool that cuts back" if by_back else ""
    return [Note("SECOND-SETUP", Severity.WATCH, message, f"The part is turned over for it, set-up 2{back}.")]


def _short_threads(steps: Sequence[ResolvedStep], material: Material, shop: Shop) -> list[Note]:
    found = (short_thread_note(step, floor_mm(step, steps), material, shop.preferences.screw_grade) for step in steps)
    return [note for note in found if note is not None]


def _not_in_crib(steps: Sequence[ToolStep], shop: Shop) -> list[Note]:
    """A warning for every tool of a kind that the crib lists, but not in this size."""
    wanted = [step.tool for step in steps if step.tool.shoulder is None] if shop.crib else []
    return [
        Note(
            "TOOL-NOT-IN-CRIB",
            Severity.WATCH,
            f"{tool.called} ({tool.material}) is not in the crib.",
            "Order it.",
        )
        for tool in dict.fromkeys(wanted)
        if not _in_crib(tool, shop)
    ]


@lru_cache(maxsize=4096)
def _in_crib(tool: Tool, shop: Shop) -> bool:
    """Whether a tool is in the crib, or is of a kind that the crib does not list."""
    of_kind = [owned for owned in shop.crib if owned.kind == tool.kind.value]
    return not of_kind or any(_same(tool, owned.size, owned.material) for owned in of_kind)


def _same(tool: Tool, size: str, material: str) -> bool:
    if material not in ("", tool.material):
        return False
    known = drill_sizes.by_label(size)
    return size == tool.size or (known is not None and abs(known.mm - tool.diameter_mm) < 0.002)
