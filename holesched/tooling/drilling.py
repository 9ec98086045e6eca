"""Drilling: which drill a diameter means, which drills stay inside limits, and the work of drilling one diameter."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from holesched.notes import COMMON_PRACTICE, Note, Reason, Rejected, Severity
from holesched.resolve.model import ResolvedStep
from holesched.shop.model import Shop
from holesched.standards import drill_sizes
from holesched.standards.sizes import Limits, Size
from holesched.tooling.cutters import Grade, drill
from holesched.tooling.depth import point_length_mm, wall_note
from holesched.tooling.hole_bottom import Bottom, finished_flat, flat_note, flat_reason
from holesched.tooling.model import StepKind, TapDrillFit
from holesched.tooling.setting import THICKNESS_MISSING, Planned, Setting, name_of
from holesched.tooling.work import Work

PILOT_FROM_MM = 20.0
"""Drills larger than this get a pilot. Common practice, no source."""
PILOT_SHARE = 0.35
"""Pilot over drill diameter: a little more than the web. Common practice, no source."""
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
    near = " and ".join(other.label for other in (down, up) if other is not None)
    return Note(
        "DRILL-SIZE-NOT-STANDARD",
        Severity.ASK,
        f"Ø{diameter.label} is no standard drill size; the nearest are {near}.",
        f"Give limits, or change it to {near.replace(' and ', ' or ')}.",
        f"Drilled {planned.label}.",
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
            rejected.append(Rejected(size.label, "DRILL-WITHIN-LIMITS", f"under the smallest size {limits.min_mm:.3f} mm"))
        elif worst_mm > high + 1e-9:
            because = f"with the oversize of {drill_material} up to {worst_mm:.3f} mm, over {high:.3f}"
            rejected.append(Rejected(size.label, "DRILL-WITHIN-LIMITS", because))
        else:
            inside.append(size)
    inside.sort(key=lambda size: (size.label != nominal.label, abs(size.mm - nominal.mm), size.label))
    further = "inside, but further from the size called for"
    beaten = [Rejected(size.label, "DRILL-WITHIN-LIMITS", further) for size in inside[1:]]
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
) -> Planned:
    """Drilling one diameter, with a pilot where it is large; depth and through are the step's own unless given.

    Says what is left under a blind hole, unless the caller does.
    """
    is_through = step.through if through is None else through
    depth = setting.thickness_mm if is_through else (step.depth_mm if depth_mm is None else depth_mm)
    tool = drill(size, grade, setting.group, setting.shop)
    point_mm = point_length_mm(size.mm, tool.point_angle_deg or 118.0)
    works = [
        Work(
            kind=StepKind.DRILL,
            tool=tool,
            step=step,
            diameter_mm=size.mm,
            through=is_through,
            depth_mm=depth,
            lead_mm=point_mm,
            side=step.side,
            fit=fit,
            reasons=(*reasons, *grade.reasons),
        )
    ]
    works += _pilot(works[0], grade, setting)
    notes: list[Note] = []
    if is_through and depth is None:
        notes.append(THICKNESS_MISSING)
    elif check_wall and not is_through and depth is not None:
        note = wall_note(
            depth + point_mm, setting.thickness_mm, setting.shop.preferences.wall_warning_mm, name_of(step), point_mm
        )
        bottom = Bottom(depth, point_mm)
        why = flat_reason(bottom, setting)
        if note is not None and why is not None:
            return Planned(finished_flat(tuple(works), why), (flat_note(note, bottom, setting),))
        notes += [note] if note is not None else []
    return Planned(tuple(works), tuple(notes))


def _pilot(main: Work, grade: Grade, setting: Setting) -> list[Work]:
    if main.diameter_mm <= PILOT_FROM_MM:
        return []
    size = drill_sizes.nearest(round(PILOT_SHARE * main.diameter_mm), drill_sizes.series("metric-preferred"))
    because = f"a drill over {PILOT_FROM_MM:g} mm follows a pilot about as large as its web: less thrust, truer hole"
    tool = drill(size, grade, setting.group, setting.shop)
    return [
        Work(
            kind=StepKind.DRILL,
            tool=tool,
            step=main.step,
            diameter_mm=size.mm,
            through=main.through,
            depth_mm=main.depth_mm,
            lead_mm=point_length_mm(size.mm, tool.point_angle_deg or 118.0),
            side=main.side,
            reasons=(Reason(f"pilot drill: {size.label}", because, "DRILL-PILOT", (COMMON_PRACTICE,)), *grade.reasons),
        )
    ]


def with_reasons(works: Sequence[Work], reasons: Sequence[Reason]) -> tuple[Work, ...]:
    """The works with further reasons in front of the first one's own."""
    first, *rest = works
    return (replace(first, reasons=(*reasons, *first.reasons)), *rest)
