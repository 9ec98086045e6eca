"""A threaded hole: process, drill, room under the thread, tap or thread mill, and depths, in the order in which each
depends on the last."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from holesched.notes import Note, Reason, Severity
from holesched.resolve.model import ResolvedStep
from holesched.standards.threads.base import ThreadGeometry
from holesched.tooling.before_thread import HoleBefore, drilled_for, hole_before
from holesched.tooling.case import HoleCase, later_words, thread_words
from holesched.tooling.coolant import coolant_of
from holesched.tooling.depth import (
    BlindThread,
    budget_for,
    depth_reason,
    reachable_thread_mm,
    room_for_chamfer,
    shallow_note,
    wall_note,
    within_wall,
)
from holesched.tooling.drilling import drill_work, end_point_mm
from holesched.tooling.far_face import FLOAT_P, chamfer_room_p, is_room
from holesched.tooling.hole_bottom import (
    TOO_THIN,
    Bottom,
    finished_flat,
    flat_note,
    flat_reason,
    is_flat_allowed,
    least_room,
    without_point,
)
from holesched.tooling.insert import insert_depth_rules, insert_least_mm, insert_notes
from holesched.tooling.model import DepthBudget
from holesched.tooling.pipe_thread import by_gauge, least_drilled_mm, milled_to_gauge, reamer_work
from holesched.tooling.rules import Verdict, decide
from holesched.tooling.setting import Planned, Setting, floor_mm
from holesched.tooling.stated_limit import stated_limit_note
from holesched.tooling.tap import IN_TURN, NONE, SHORTEST, ThreadChoice, choose_tap, process_note
from holesched.tooling.thread_mill import END_P, THREAD_MILL, choose_mill, mill_reaches
from holesched.tooling.work import Work

LARGER_DRILL = "larger drill"
"""What the rules are told of a tap that has been reckoned with the larger drill that its load called for."""
TOO_MUCH_TO_FORM = "too much to form"
"""What they are told where forming with the usual drill would come too near to breaking the tap."""
CHIP_ROOM_MM = 1.0
"""Least room under a tap's chamfer where the depth is ours to set, for chips. Common practice, no source."""


def tapped(step: ResolvedStep, geometry: ThreadGeometry, setting: Setting, pilot: ResolvedStep | None) -> Planned:
    """Everything for one thread: drill, tap or thread mill, the depth budget of a blind hole. `pilot` is the drill the
    callout states.

    Where the process leaves too little wall, or finds too little room beyond, the rules are asked once more knowing that;
    what they choose then is taken if it does better."""
    planned = _made(step, geometry, setting, pilot, frozenset())
    if not _wall_asked(planned) and is_room(planned.works, setting):
        return planned
    again = _made(step, geometry, setting, pilot, frozenset((TOO_THIN,)))
    return again if not _wall_asked(again) and is_room(again.works, setting) else planned


def _learnt(case: HoleCase, taken: tuple[float, ...], setting: Setting) -> frozenset[str]:
    """What the rules are told of a thread whose tap has been reckoned twice, with the usual drill and with the larger one:
    what was too much to form with the first is so still."""
    if len(taken) < 2:
        return frozenset()
    first = decide("process", replace(case, breaking=taken[0]), frozenset(), setting.book)
    return frozenset((LARGER_DRILL,) if "form" in first.possible else (LARGER_DRILL, TOO_MUCH_TO_FORM))


def _wall_asked(planned: Planned) -> bool:
    """Whether the wall under the hole is a question."""
    return any(note.is_question and note.code in ("WALL-THIN", "DEPTH-BREAKS-THROUGH") for note in planned.notes)


def _made(
    step: ResolvedStep, geometry: ThreadGeometry, setting: Setting, pilot: ResolvedStep | None, given: frozenset[str]
) -> Planned:
    """The thread by the process that the rules choose for what they are `given`."""
    notes: list[Note] = []
    if pilot is not None and step.through and not pilot.through:
        message = f"{geometry.spec.designation} is through, but its stated drill is {pilot.depth_mm or 0:g} mm deep."
        notes.append(
            Note("TAP-THROUGH-DRILL-BLIND", Severity.ASK, message, "Give the thread a depth.", "Drilled and tapped through.")
        )
    stated = step.feature.pilot_depth
    drilled_through = step.through or (pilot is not None and pilot.through) or (stated is not None and stated.through)
    step, told = by_gauge(step, geometry, setting)
    notes += (*told, *insert_notes(step, geometry, floor_mm(step, setting.resolved.steps)))
    drilled_through = drilled_through or step.through
    case = _case(step, geometry, setting, drilled_through)
    taken = setting.reckoned.tap_breaking.get(geometry.spec.designation, ())
    given |= _learnt(case, taken, setting) | drilled_for(geometry, setting, pilot)
    process = decide("process", case, given, setting.book)
    notes = [milled_to_gauge(each) for each in notes] if process.value == THREAD_MILL else notes
    drill = hole_before(case, geometry, setting, pilot, process.value)
    notes += drill.notes
    if drilled_through:
        choice = _choice(_with_room_beyond(case, geometry, setting), geometry, process.value, setting)
        drilled = drill_work(
            step, drill.size, drill.grade, setting, through=True, fit=drill.fit, reasons=drill.reasons, way=drill.way
        )
        made = None if process.value == NONE else choice
        return _together(step, setting, _reamed(drilled, drill, step, geometry, setting), made, process,
                         step.depth_mm, notes)  # fmt: skip
    thread = _blind_thread(step, geometry, setting, pilot, drill, process.value == THREAD_MILL)
    less_room: tuple[Reason, ...] = ()
    shortest_p = 0.0 if process.value == THREAD_MILL else SHORTEST.threads
    if not thread.fits(shortest_p):
        wanted, why = thread, least_room(setting)
        thread = within_wall(wanted, shortest_p, less_room=why is not None, flat=is_flat_allowed(setting))
        less_room = () if why is None or thread.clearance_p == wanted.clearance_p else (why,)
    choice = _choice(case.with_room(room_for_chamfer(thread)), geometry, process.value, setting)
    budget = budget_for(thread, choice.chamfer_p)
    reasons = (*drill.reasons, *less_room, depth_reason(thread, budget, choice.chamfer_p))
    length_mm = thread.full_thread_mm - floor_mm(step, setting.resolved.steps)
    mill_end_p = END_P if THREAD_MILL in process.possible and mill_reaches(geometry, length_mm) else None
    shallow = shallow_note(thread, budget, choice.chamfer_p, geometry.spec.designation, mill_end_p)
    wall = wall_note(budget.tip_mm, thread.thickness_mm, thread.wall_mm, geometry.spec.designation, budget.point_mm)
    bottom = Bottom(budget.drilled_mm, budget.point_mm)
    flat = flat_reason(bottom, setting) if wall is not None else None
    if wall is not None and flat is not None:
        wall = flat_note(geometry.spec.designation, bottom, setting, stated=thread.stated_mm is not None)
        budget = without_point(budget)
    notes += [found for found in (shallow, wall) if found is not None]
    drilled = drill_work(
        step,
        drill.size,
        drill.grade,
        setting,
        depth_mm=budget.drilled_mm,
        through=False,
        fit=drill.fit,
        reasons=reasons,
        check_wall=False,
        way=drill.way,
    )
    if flat is not None:
        drilled = replace(drilled, works=finished_flat(drilled.works, flat))
    reach_mm = reachable_thread_mm(thread, choice.chamfer_p)
    made = None if process.value == NONE else choice
    drilled = _reamed(drilled, drill, step, geometry, setting)
    return _together(step, setting, drilled, made, process, reach_mm, notes, (budget,))


def _reamed(drilled: Planned, drill: HoleBefore, step: ResolvedStep, geometry: ThreadGeometry, setting: Setting) -> Planned:
    """The drilled hole with the taper reamer that follows, if one does."""
    if drill.ream is None:
        return drilled
    return replace(drilled, works=(*drilled.works, reamer_work(step, geometry, drill.ream, setting)))


def _choice(case: HoleCase, geometry: ThreadGeometry, process: str, setting: Setting) -> ThreadChoice:
    """The tool for the process; where there is none, the tap whose chamfer the hole is still drilled for."""
    if process == THREAD_MILL:
        mill = choose_mill(case, geometry, setting.book)
        if mill is not None:
            return mill
    return choose_tap(case, geometry, "cut" if process in (NONE, THREAD_MILL) else process, setting.book)


def _case(step: ResolvedStep, geometry: ThreadGeometry, setting: Setting, drilled_through: bool) -> HoleCase:
    remarks = setting.remarks
    hole = ("blocked" if setting.around.blocked else "through") if drilled_through else "blind"
    depth_mm = step.depth_mm
    length_mm = None if depth_mm is None else depth_mm - floor_mm(step, setting.resolved.steps)
    return replace(
        setting.case,
        hole=hole,
        thread=thread_words(geometry),
        size_mm=geometry.spec.nominal.mm,
        depth_d=None if length_mm is None else length_mm / geometry.spec.nominal.mm,
        room_p=None,
        torque=setting.reckoned.tap_torque.get(geometry.spec.designation),
        breaking=next(reversed(setting.reckoned.tap_breaking.get(geometry.spec.designation, ())), None),
        later=later_words(setting.resolved.type.hole, remarks),
    )


def _with_room_beyond(case: HoleCase, geometry: ThreadGeometry, setting: Setting) -> HoleCase:
    """The case of a thread drilled through: beyond a blocked one no chamfer longer than the room, and the shortest where
    nobody says how much there is."""
    if case.hole != "blocked":
        return case
    room_p = chamfer_room_p(geometry.basic_major_mm, geometry.spec.pitch_mm, setting)
    return case.with_room(SHORTEST.threads if room_p is None else room_p)


def _blind_thread(
    step: ResolvedStep,
    geometry: ThreadGeometry,
    setting: Setting,
    pilot: ResolvedStep | None,
    drill: HoleBefore,
    milled: bool,
) -> BlindThread:
    preferences = setting.shop.preferences
    still = setting.shop.machine.rigid_tapping or milled
    stated = pilot.feature.depth if pilot is not None else step.feature.pilot_depth
    stated = None if stated is None or stated.mm is None else stated
    clearance_p = preferences.tip_clearance_pitches
    if stated is None and not milled:
        clearance_p = max(clearance_p, CHIP_ROOM_MM / geometry.spec.pitch_mm)
    return BlindThread(
        full_thread_mm=step.depth_mm or 0.0,
        nominal_mm=geometry.spec.nominal.mm,
        pitch_mm=geometry.spec.pitch_mm,
        point_mm=end_point_mm(drill.size.mm, drill.way, drill.grade, setting),
        clearance_p=clearance_p + (0.0 if still else FLOAT_P),
        spare_p=clearance_p - preferences.tip_clearance_pitches,
        wall_mm=preferences.wall_warning_mm,
        stated_mm=None if stated is None else stated.mm,
        thickness_mm=setting.thickness_mm,
        stated_least=stated is not None and stated.least,
        stated_most=stated is not None and stated.most,
        end_p=END_P if milled else 0.0,
        least_mm=max(least_drilled_mm(geometry), insert_least_mm(geometry, step.insert_mm)),
        further=insert_depth_rules(geometry, step.insert_mm),
    )


def _in_turn(last: Work, choice: ThreadChoice) -> tuple[Work, ...]:
    """The work of the taps of a set: all go equally deep, those of longer chamfer leave less full thread."""
    pitch_mm = last.tool.pitch_mm or 0.0
    earlier = []
    for tap in choice.before:
        lead_mm = (tap.chamfer.threads if tap.chamfer is not None else 0.0) * pitch_mm
        depth_mm = last.depth_mm
        if not last.through and depth_mm is not None:
            depth_mm = max(0.0, depth_mm + last.lead_mm - lead_mm)
        why = tuple(reason for reason in choice.reasons if reason.rule == IN_TURN)
        earlier.append(replace(last, tool=tap, depth_mm=depth_mm, lead_mm=lead_mm, reasons=why, unfinished=True))
    return (*earlier, last)


def _told(process: Verdict, step: ResolvedStep, choice: ThreadChoice | None, setting: Setting) -> Note | None:
    """What the process calls for, with the coolant of the tool that was chosen for it."""
    if step.thread is None:
        return None
    name = step.thread.spec.designation
    by_hand = choice is not None and choice.tool.by_hand
    coolant = coolant_of(choice.tool, None, setting).text if choice is not None and by_hand else ""
    too_heavy = name in setting.reckoned.too_heavy_by_hand
    return process_note(process, name, coolant, taper=step.thread.taper > 0, too_heavy_by_hand=too_heavy)


def _together(
    step: ResolvedStep,
    setting: Setting,
    drilled: Planned,
    choice: ThreadChoice | None,
    process: Verdict,
    depth_mm: float | None,
    notes: Sequence[Note],
    budgets: tuple[DepthBudget, ...] = (),
) -> Planned:
    works = drilled.works
    told = _told(process, step, choice, setting)
    notes = notes if told is None else (told, *notes)
    stated = stated_limit_note(step, choice.tool if choice is not None else None)
    notes = notes if stated is None else (*notes, stated)
    if choice is not None:
        thread = Work(
            kind=choice.tool.kind,
            tool=choice.tool,
            step=step,
            diameter_mm=step.thread.basic_major_mm if step.thread is not None else choice.tool.diameter_mm,
            through=step.through,
            depth_mm=depth_mm,
            lead_mm=choice.lead_p * (choice.tool.pitch_mm or 0.0),
            centre_mm=choice.centre_mm,
            side=step.side,
            reasons=(process.reason, *choice.reasons),
        )
        works, notes = (*works, *_in_turn(thread, choice)), (*notes, *choice.notes)
    return Planned(works, (*notes, *drilled.notes), budgets)
