"""How far through tools go past the far face: clear of a slanted one, and never further than the drawing gives room for."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from math import ceil, floor, radians, tan

from holesched.callouts.model import Depth
from holesched.notes import COMMON_PRACTICE, Note, Reason, Severity
from holesched.resolve.model import ResolvedStep
from holesched.standards.threads.pipe_depths import pipe_depths
from holesched.tooling.depth import CLOSE_MM
from holesched.tooling.model import StepKind
from holesched.tooling.setting import Planned, Setting, name_of
from holesched.tooling.work import Work

CLEAR_MM = 0.5
"""Kept between a tool's tip and what stands beyond the far face. Common practice, no source."""
FLOAT_P = 1.0
"""What a floating holder may run on beyond the programmed depth, in pitches. Common practice, no source."""
_PARTS = {StepKind.DRILL: "point", StepKind.TAP: "chamfer", StepKind.THREAD_MILL: "end"}
"""What of a tool runs ahead of its full diameter."""
_TRIES = 3
Plan = Callable[[ResolvedStep, Setting, ResolvedStep | None], Planned]


def beyond_mm(work: Work, setting: Setting) -> float:
    """How far a through tool goes past the far face beyond its lead: the shop's own habit, less where there is no room."""
    habit_mm = setting.shop.preferences.breakthrough_mm
    room_mm = setting.around.room_mm
    return habit_mm if room_mm is None else max(0.0, min(habit_mm, room_mm - _least_room_mm(work, setting)))


def slope_mm(work: Work, setting: Setting) -> float:
    """How much further a through tool's far face lies on its long side than the part is thick."""
    return _slope_mm(work.diameter_mm, setting) if work.through else 0.0


def _slope_mm(diameter_mm: float, setting: Setting) -> float:
    """From the longest side that the drawing gives, else D x tan of the face's angle, the thickness taken at the short side.
    Geometry."""
    around, thickness_mm = setting.around, setting.thickness_mm
    if "slanted exit" not in around.walls:
        return 0.0
    if around.longest_mm is not None and thickness_mm is not None:
        return max(0.0, around.longest_mm - thickness_mm)
    return 0.0 if around.exit_deg is None else diameter_mm * tan(radians(around.exit_deg))


def past_reason(work: Work, setting: Setting) -> Reason:
    """Why a through tool's tip goes so far past the far face."""
    slope, beyond = slope_mm(work, setting), beyond_mm(work, setting)
    clear = []
    if slope > 0:
        clear.append(f"the long side of the slanted face is {slope:.2f} mm further")
    if work.lead_mm > 0:
        centre = f" and its male centre of {work.centre_mm:.2f} mm" if work.centre_mm else ""
        clear.append(f"its {_PARTS.get(work.kind, 'lead')} of {work.lead_mm:.2f} mm{centre} must be clear")
    room_mm = setting.around.room_mm
    room = "" if room_mm is None else f", of {room_mm:.4g} mm of room"
    edge = f"{beyond:.3g} mm beyond the edge" if beyond >= 0.005 else "nothing beyond the edge"
    because = ", and ".join((*clear, f"{edge}{room}"))
    return Reason(
        f"past the far face: {slope + work.lead_mm + work.centre_mm + beyond:.2f} mm",
        because,
        "DEPTH-THROUGH",
        (COMMON_PRACTICE,),
    )


def is_room(works: Sequence[Work], setting: Setting) -> bool:
    """Whether what goes through finds room beyond the far face; not where something stands there and nobody says how far."""
    room_mm = setting.around.room_mm
    past = [work for work in works if work.through]
    if not past or not setting.around.blocked:
        return True
    return room_mm is not None and all(_least_room_mm(work, setting) <= room_mm + CLOSE_MM for work in past)


def chamfer_room_p(diameter_mm: float, pitch_mm: float, setting: Setting) -> float | None:
    """How many threads of chamfer find room beyond the far face; None where nothing is known to stand there or how far."""
    room_mm = setting.around.room_mm
    if room_mm is None:
        return None
    room_mm -= _slope_mm(diameter_mm, setting)
    return (room_mm - CLEAR_MM + CLOSE_MM) / pitch_mm - (FLOAT_P if "float" in setting.case.machine else 0.0)


def within_room(step: ResolvedStep, setting: Setting, pilot: ResolvedStep | None, plan: Plan) -> Planned:
    """The work of a feature. Where there is no room for it beyond the far face, or nobody says how much, it is asked, and
    planned meanwhile inside the part, as deep as the shop's least wall allows."""
    planned = plan(step, setting, pilot)
    if is_room(planned.works, setting):
        return planned
    if setting.thickness_mm is None:
        return replace(planned, notes=(_question(step, planned.works, None, setting), *planned.notes))
    inside = _inside(step, setting, pilot, plan, setting.thickness_mm)
    return replace(inside, notes=(_question(step, planned.works, inside.works, setting), *inside.notes))


def _least_room_mm(work: Work, setting: Setting) -> float:
    """The room that a through tool needs beyond the far face."""
    runs_on = work.kind is StepKind.TAP and "float" in setting.case.machine
    return (
        work.lead_mm
        + work.centre_mm
        + slope_mm(work, setting)
        + CLEAR_MM
        + (FLOAT_P * (work.tool.pitch_mm or 0.0) if runs_on else 0.0)
    )


def _inside(step: ResolvedStep, setting: Setting, pilot: ResolvedStep | None, plan: Plan, thickness_mm: float) -> Planned:
    """The feature as a blind hole of what is left when chamfer, clearance, point and wall are taken off the part's
    thickness; nothing where they leave nothing."""
    deepest_mm = thickness_mm - setting.shop.preferences.wall_warning_mm
    gauge = pipe_depths(step.thread.spec) if step.thread is not None and step.thread.taper else None
    depth_mm = thickness_mm if step.depth_mm is None else min(step.depth_mm, thickness_mm)
    depth_mm = depth_mm if gauge is None else gauge.full_thread_mm
    blind = replace(step, through=False, feature=replace(step.feature, pilot_depth=None))
    drill = (
        None
        if pilot is None
        else replace(pilot, through=False, depth_mm=None, feature=replace(pilot.feature, depth=Depth()))
    )
    for _ in range(_TRIES):
        planned = plan(replace(blind, depth_mm=depth_mm), setting, drill)
        over_mm = max((work.depth_mm + work.lead_mm for work in planned.works if work.depth_mm is not None), default=0.0)
        over_mm -= deepest_mm
        if over_mm <= CLOSE_MM:
            return planned
        depth_mm -= over_mm
        if depth_mm <= 0 or gauge is not None:
            break
    return Planned()


def _less(step: ResolvedStep, deepest: Work | None) -> str:
    """What less of a feature could be made inside the part."""
    what = "a shorter thread" if step.thread is not None else "a depth in place of THRU"
    if deepest is None or deepest.depth_mm is None or deepest.kind.makes_thread != (step.thread is not None):
        return what
    return f"{what} ({floor(10 * deepest.depth_mm) / 10:g} mm)"


def _question(step: ResolvedStep, works: Sequence[Work], inside: Sequence[Work] | None, setting: Setting) -> Note:
    """How much room there is beyond the far face, or how that is too little."""
    past = {work.kind: work for work in works if work.through}
    need_mm = max(_least_room_mm(work, setting) for work in past.values())
    ahead = [f"the {work.tool.name.partition(', ')[0]}'s {_PARTS[kind]} of {work.lead_mm:.2f} mm"
             for kind, work in past.items() if kind in _PARTS and work.lead_mm > 0]  # fmt: skip
    room_mm = setting.around.room_mm
    have = (
        f"there are only {room_mm:.4g} mm of room beyond the far face"
        if room_mm is not None
        else ("something stands close beyond the far face: how close?")
    )
    message = (
        f"{name_of(step)} goes through, and {have}{'.' if room_mm is not None else ''} "
        f"It takes {need_mm:.2f} mm there: {' or '.join(ahead) or 'its end'}, and {CLEAR_MM:g} mm clear."
    )
    made = [work for work in inside or () if work.step is not None and work.depth_mm is not None]
    deepest = max(made, key=lambda work: (work.kind.makes_thread, work.diameter_mm), default=None)
    if room_mm is None:
        suggestion = f"Write the room (NO ROOM BEYOND {ceil(need_mm)} mm), or a depth in place of THRU."
    else:
        less = _less(step, deepest)
        suggestion = f"Move what stands there to {ceil(need_mm)} mm, allow {less}, or have it made from the other side."
    if inside is None:
        assumed = "Planned without depths."
    elif deepest is None:
        assumed = "Not planned: inside the part nothing of it can be made."
    else:
        made_mm = f"{deepest.depth_mm:.2f} mm"
        assumed = f"Kept inside the part: {'full thread' if deepest.kind.makes_thread else 'full diameter'} {made_mm} deep."
    return Note("HOLE-ROOM-BEYOND", Severity.ASK, message, suggestion, assumed, cite=COMMON_PRACTICE)
