"""Drilling: which drill a diameter means, which drills stay inside limits, and the work of drilling one diameter."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from holesched.notes import COMMON_PRACTICE, Note, Reason, Rejected, Severity
from holesched.resolve.model import ResolvedStep
from holesched.shop.model import Shop
from holesched.standards import drill_sizes
from holesched.standards.sizes import Limits, Size
from holesched.tooling.cutters import Grade, drill, point_angle_deg
from holesched.tooling.depth import point_length_mm, wall_note
from holesched.tooling.hole_bottom import Bottom, finished_flat, flat_note, flat_reason
from holesched.tooling.model import StepKind, TapDrillFit
from holesched.tooling.opening import MILL, Way, drill_before, finishing, into_solid, milled, smaller_drills, way_of
from holesched.tooling.setting import THICKNESS_MISSING, Planned, Setting, name_of
from holesched.tooling.work import Work

SAME_SIZE_MM = 0.02
"""A callout's diameter this near to a drill's means that drill (.266 and H, 7.14 and 9/32)."""


def standard_size(diameter: Size) -> Size | None:
    """The drill a diameter means: by its name, else the one within 0.02 mm; None when it is no drill size."""
    named = drill_sizes.by_label(diameter.label)
    if named is not None and abs(named.mm - diameter.mm) <= SAME_SIZE_MM:
        return named
    near = drill_sizes.nearest(diameter.mm)
    return near if abs(near.mm - diameter.mm) <= SAME_SIZE_MM else None


def not_standard(diameter: Size, planned: Size) -> Note:
    """The question when a diameter is no drill size."""
    up, down = drill_sizes.next_up(diameter.mm), drill_sizes.next_down(diameter.mm)
    near = " and ".join(other.named for other in (down, up) if other is not None)
    return Note(
        "DRILL-SIZE-NOT-STANDARD",
        Severity.ASK,
        f"Ø{diameter.named} is no standard drill size; the nearest are {near}.",
        f"Give limits, or change it to {near.replace(' and ', ' or ')}.",
        f"Drilled {planned.named}.",
    )


def drills_inside(
    limits: Limits, nominal: Size, drill_material: str, shop: Shop
) -> tuple[tuple[Size, ...], tuple[Rejected, ...]]:
    """Drills whose worst hole stays inside limits of size, best first (the callout's own size, then the nearest), and why
    the others near it fail."""
    high = limits.max_mm if limits.max_mm is not None else float("inf")
    inside, rejected = [], []
    for size in drill_sizes.in_window(limits.min_mm - 0.1, high):
        worst_mm = size.mm + shop.oversize(size.mm, drill_material).worst_mm
        if size.mm < limits.min_mm - 1e-9:
            rejected.append(Rejected(size.named, "DRILL-WITHIN-LIMITS", f"under the smallest size {limits.min_mm:.3f} mm"))
        elif worst_mm > high + 1e-9:
            because = f"with the oversize of {drill_material} up to {worst_mm:.3f} mm, over {high:.3f}"
            rejected.append(Rejected(size.named, "DRILL-WITHIN-LIMITS", because))
        else:
            inside.append(size)
    inside.sort(key=lambda size: (size.label != nominal.label, abs(size.mm - nominal.mm), size.label))
    further = "inside, but further from the size called for"
    beaten = [Rejected(size.named, "DRILL-WITHIN-LIMITS", further) for size in inside[1:]]
    return tuple(inside), tuple(rejected + beaten)


def drill_work(
    step: ResolvedStep,
    size: Size,
    grade: Grade,
    setting: Setting,
    *,
    depth_mm: float | None = None,
    through: bool | None = None,
    fit: TapDrillFit | None = None,
    reasons: Sequence[Reason] = (),
    check_wall: bool = True,
    way: Way | None = None,
) -> Planned:
    """Making a hole of one diameter, with a pilot where its drill is large; where `way` (None: by the rules) is not to drill
    it, drilled smaller and opened. Depth and through are the step's own unless given.

    Says what is left under a blind hole, unless the caller does.
    """
    way = way if way is not None else way_of(size.mm, setting, grade.material)
    is_through = step.through if through is None else through
    depth = setting.thickness_mm if is_through else (step.depth_mm if depth_mm is None else depth_mm)
    tool = drill(size, grade, setting.group, setting.shop)
    hole = Work(
        kind=StepKind.DRILL,
        tool=tool,
        step=step,
        diameter_mm=size.mm,
        through=is_through,
        depth_mm=depth,
        lead_mm=point_length_mm(size.mm, tool.point_angle_deg or 118.0),
        side=step.side,
        fit=fit,
        reasons=(*reasons, *(grade.reasons if way.drilled else ())),
    )
    drilled, opened, told = _made(hole, way, grade, setting)
    notes = list(told)
    point_mm = 0.0 if way.how == MILL else drilled[0].lead_mm
    if is_through and depth is None:
        notes.append(THICKNESS_MISSING)
    elif check_wall and not is_through and depth is not None:
        note = wall_note(
            depth + point_mm, setting.thickness_mm, setting.shop.preferences.wall_warning_mm, name_of(step), point_mm
        )
        bottom = Bottom(depth, point_mm)
        why = flat_reason(bottom, setting)
        shallow = way_of(size.mm, setting, too_deep=True) if note is not None and way.drilled and depth <= point_mm else way
        if shallow.how == MILL and way.drilled:
            milled_flat = drill_work(step, size, grade, setting, depth_mm=depth_mm, through=through, way=shallow)
            return replace(milled_flat, notes=(*milled_flat.notes, _shallow_note(name_of(step), depth + point_mm)))
        if note is not None and why is not None:
            ended = flat_note(name_of(step), bottom, setting, stated=True)
            return Planned((*finished_flat(drilled, why), *opened), (*notes, ended))
        notes += [note] if note is not None else []
    return Planned((*drilled, *opened), tuple(notes))


def _shallow_note(what: str, tip_mm: float) -> Note:
    """What is said of a hole shallower than its drill's point that is milled instead."""
    message = (
        f"The point of a drill for {what} would be {tip_mm:.2f} mm deep, too deep for the part: milled, with a flat bottom."
    )
    return Note("HOLE-FLAT-BOTTOM", Severity.WATCH, message, "Check that the drawing does not need the cone.")


def _made(
    hole: Work, way: Way, grade: Grade, setting: Setting
) -> tuple[tuple[Work, ...], tuple[Work, ...], tuple[Note, ...]]:
    """The drills of a hole, the one of the largest diameter first, and what opens it after them, with what to watch. Where
    something opens it, its limits ask nothing of the drill, which is of the workpiece's usual `grade`."""
    grade = grade if way.drilled else setting.grade
    solid = into_solid(hole.diameter_mm, hole.depth_mm, way, setting)
    mill = milled(hole, (way.reason, solid), setting) if solid is not None else None
    if mill is not None:
        return (), (mill[0],), mill[1]
    main = hole if way.drilled else _before(hole, way, grade, setting)
    drills = (
        main,
        *(_smaller(main, *each, grade, setting) for each in smaller_drills(main.diameter_mm, grade.material, setting)),
    )
    if way.drilled:
        return drills, (), ()
    return drills, *finishing(hole, Size(main.diameter_mm, main.tool.size), way, setting)


def end_point_mm(size_mm: float, way: Way | None, grade: Grade, setting: Setting) -> float:
    """Height of the drill's point under a blind hole that is opened this way: none under a milled one."""
    if way is not None and way.how == MILL:
        return 0.0
    if way is None or way.drilled:
        return point_length_mm(size_mm, point_angle_deg(grade))
    return point_length_mm(drill_before(size_mm, way, setting).mm, point_angle_deg(setting.grade))


def _before(hole: Work, way: Way, grade: Grade, setting: Setting) -> Work:
    """The drill before the tool that opens the hole; before an end mill its point ends where the hole ends."""
    blind_mm = None if hole.through else hole.depth_mm
    size = drill_before(hole.diameter_mm, way, setting, blind_mm)
    because = f"opened from there to {hole.diameter_mm:.4g} mm"
    reason = Reason(f"drill before opening: {size.named}", because, "DRILL-BEFORE-OPENING", (COMMON_PRACTICE,))
    drilled = _smaller(hole, size, reason, grade, setting)
    if way.how != MILL or blind_mm is None:
        return drilled
    return replace(drilled, depth_mm=blind_mm - drilled.lead_mm)


def _smaller(main: Work, size: Size, why: Reason, grade: Grade, setting: Setting) -> Work:
    """A smaller drill for the same hole."""
    tool = drill(size, grade, setting.group, setting.shop)
    point_mm = point_length_mm(size.mm, tool.point_angle_deg or 118.0)
    return replace(main, kind=StepKind.DRILL, tool=tool, diameter_mm=size.mm, lead_mm=point_mm, fit=None,
                   reasons=(why, *grade.reasons))  # fmt: skip


def with_reasons(works: Sequence[Work], reasons: Sequence[Reason]) -> tuple[Work, ...]:
    """The works with further reasons in front of the first one's own."""
    first, *rest = works
    return (replace(first, reasons=(*reasons, *first.reasons)), *rest)
