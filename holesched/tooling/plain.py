"""Holes of the callout that need nothing before them: drilled, counterbored, countersunk, spotfaced."""

from __future__ import annotations

from dataclasses import replace

from holesched.callouts.model import Kind, Side
from holesched.notes import Cite, Note, Reason, Severity, Standing
from holesched.resolve.model import ResolvedStep
from holesched.standards import drill_sizes
from holesched.standards.sizes import Limits, Size
from holesched.tooling.chamfer import ANGLE
from holesched.tooling.cutters import countersink, end_mill, flat_cutter, graded, may_be_carbide, sold_size
from holesched.tooling.drilling import drill_work, drills_inside, not_standard, standard_size, with_reasons
from holesched.tooling.finishing import bored, finished
from holesched.tooling.hole_bottom import finished_flat
from holesched.tooling.model import StepKind
from holesched.tooling.opening import MILL, way_of
from holesched.tooling.pilots import FLAT_CUTTER, IN_SOLID, without_pilot
from holesched.tooling.setting import Planned, Setting
from holesched.tooling.work import Work

FROM_THE_DRAWING = Cite("drawing", place="callout")
CLEAN_UP_MM = 0.5
"""A spotface without a depth: as deep as cleans up the surface. Common practice, no source."""
CLEAN_UP_CITE = Cite("ASME Y14.5", place="spotface: the least depth that cleans up", standing=Standing.FROM_MEMORY)
CALLED_FLAT = "flat bottom"
"""What the callout calls for among the uses of its element."""


def drill_feature(step: ResolvedStep, setting: Setting) -> Planned:
    """A drilled hole of the callout: by its drill; where the limits are tighter than a drill cuts, by reamer or bar. Where a
    flat bottom is called for, no cone is left under it."""
    return ended_flat(_drilled(step, setting), step)


def _drilled(step: ResolvedStep, setting: Setting) -> Planned:
    """The hole as its diameter and limits ask, whatever its bottom."""
    if step.limits is not None and step.limits.max_mm is not None:
        return _within_limits(step, step.limits, setting)
    if not way_of(step.diameter.mm, setting).drilled:
        return drill_work(step, step.diameter, setting.grade, setting, reasons=(_opened(step, step.diameter, "as called"),))
    size = standard_size(step.diameter)
    if size is not None:
        return drill_work(step, size, setting.grade, setting, reasons=(_as_called(step, size, setting),))
    size = drill_sizes.next_up(step.diameter.mm)
    if size is None:
        return bored(step, setting)
    planned = drill_work(step, size, setting.grade, setting)
    return Planned(planned.works, (not_standard(step.diameter, size), *planned.notes))


def ended_flat(planned: Planned, step: ResolvedStep) -> Planned:
    """The hole finished with a flat-ended drill, where a flat bottom is called for; by that alone where it is shallower than
    the points before it."""
    if step.through or step.feature.element is None or CALLED_FLAT not in step.feature.element.uses:
        return planned
    kinds = {work.kind for work in planned.works}
    already = kinds & {StepKind.MILL, StepKind.REAM} or any(
        work.lead_mm == 0 for work in planned.works if work.kind is StepKind.DRILL
    )
    if StepKind.DRILL not in kinds or already:
        return planned
    because = "called for: a point leaves a cone; drilled no deeper than the bottom, then finished with a flat-ended drill"
    why = Reason("hole bottom: flat", because, "HOLE-FLAT-CALLED", step.cites or (FROM_THE_DRAWING,))
    works = (replace(work, from_mm=max(0.0, work.from_mm)) for work in finished_flat(planned.works, why))
    return Planned(tuple(work for work in works if work.depth_mm is None or work.depth_mm > 0), planned.notes)


def _opened(step: ResolvedStep, size: Size, because: str) -> Reason:
    """Why a hole that no drill makes is made that large."""
    return Reason(f"hole: {size.mm:g} mm", because, "HOLE-TO-SIZE", step.cites or (FROM_THE_DRAWING,))


def _as_called(step: ResolvedStep, size: Size, setting: Setting) -> Reason:
    over = setting.shop.oversize(size.mm, setting.grade.material)
    name = step.diameter.named
    called = f"{'Ø' if name[0] in '.0123456789' else ''}{name} is a standard drill"
    if size.label != step.diameter.label:
        called = f"Ø{name} is meant for {size.label}, the drill of {size.mm:.3f} mm"
    because = f"{called}; its hole comes out about {size.mm + over.expected_mm:.2f} mm"
    return Reason(f"drill: {size.named}", because, "DRILL-AS-CALLED", (over.cite,))


def _within_limits(step: ResolvedStep, limits: Limits, setting: Setting) -> Planned:
    """The drill whose hole stays inside the limits; HSS-Co first, carbide when only that cuts near enough to size."""
    grades = [setting.grade]
    if setting.grade.material != "carbide" and may_be_carbide(setting.case, setting.shop, setting.book):
        because = "only a carbide drill cuts near enough to its size for these limits"
        reason = Reason("drill material: carbide", because, "DRILL-CUTS-TO-SIZE", step.cites)
        grades.append(graded("carbide", reason, setting.case, setting.book))
    for grade in grades:
        inside, rejected = drills_inside(limits, step.diameter, grade.material, setting.shop)
        if inside and not way_of(inside[0].mm, setting, grade.material).drilled:
            middle_mm = round((limits.min_mm + (limits.max_mm or limits.min_mm)) / 2, 2)
            made, why = Size(middle_mm, f"{middle_mm:g}"), f"the middle of {limits.min_mm:.3f} to {limits.max_mm:.3f} mm"
            return drill_work(step, made, grade, setting, reasons=(_opened(step, made, why),))
        if inside:
            over = setting.shop.oversize(inside[0].mm, grade.material)
            because = (
                f"with its oversize it makes {inside[0].mm + over.expected_mm:.3f} mm, at worst "
                f"{inside[0].mm + over.worst_mm:.3f} mm, inside {limits.min_mm:.3f} to {limits.max_mm:.3f} mm"
            )
            reason = Reason(f"drill: {inside[0].named}", because, "DRILL-WITHIN-LIMITS", (*step.cites, over.cite), rejected)
            planned = drill_work(step, inside[0], grade, setting)
            return Planned(with_reasons(planned.works, (reason,)), planned.notes)
    message = f"No drill holds {step.diameter.named} within {limits.min_mm:.3f} to {limits.max_mm:.3f} mm: it is finished."
    note = Note("DRILL-FINISHED", Severity.WATCH, message, "Check whether so close a tolerance is meant.")
    planned = finished(step, setting, None)
    return Planned(planned.works, (note, *planned.notes))


def flat_feature(step: ResolvedStep, setting: Setting) -> Planned:
    """A counterbore or spotface, once for each face it is called from."""
    kind = StepKind.COUNTERBORE if step.kind is Kind.COUNTERBORE else StepKind.SPOTFACE
    depth_mm, notes = step.depth_mm, []
    if step.through or depth_mm is None:
        if kind is StepKind.COUNTERBORE:
            message = f"The counterbore Ø{step.diameter.named} has no depth."
            return Planned(notes=(Note("COUNTERBORE-DEPTH-MISSING", Severity.ASK, message, "Give its depth."),))
        depth_mm = CLEAN_UP_MM
        message = f"The spotface Ø{step.diameter.named} has no depth: as deep as cleans up, {CLEAN_UP_MM:g} mm."
        notes.append(Note("SPOTFACE-CLEAN-UP", Severity.ASSUMED, message, cite=CLEAN_UP_CITE))
    milled = _milled_flat(step, depth_mm, setting)
    if milled is not None:
        return Planned(from_each_side(milled, step.side), tuple(notes))
    grade = setting.cutter
    size = sold_size(step.diameter, step.limits)
    tool = flat_cutter(kind, size, setting.group, grade)
    because = "flat-ended and of the diameter called for"
    if size != step.diameter:
        because = f"flat-ended; Ø{step.diameter.named} is meant for {size.label} of {size.mm:.3f} mm"
    if kind is StepKind.SPOTFACE and setting.slanted:
        tool = without_pilot(tool)
        because += f"; first of all, for the drill to start on a flat; {IN_SOLID}"
    reason = Reason(f"{kind.value}: {size.named}", because, FLAT_CUTTER, step.cites or (FROM_THE_DRAWING,))
    work = Work(kind, tool, step, size.mm, depth_mm=depth_mm, reasons=(reason, *grade.reasons))
    return Planned(from_each_side(work, step.side), tuple(notes))


def _milled_flat(step: ResolvedStep, depth_mm: float, setting: Setting) -> Work | None:
    """A flat floor that the rules have milled on a helix: of a large diameter, or where one cutter takes more than the
    machine gives."""
    way = way_of(step.diameter.mm, setting)
    mill = end_mill(step.diameter.mm, depth_mm, setting.case, setting.book)
    if way.how != MILL or mill is None:
        return None
    return Work(StepKind.MILL, mill, step, step.diameter.mm, depth_mm=depth_mm, reasons=(way.reason,))


def cone_feature(step: ResolvedStep, setting: Setting) -> Planned:
    """A countersink, once for each face it is called from; the angle decides the tool."""
    notes: tuple[Note, ...] = ()
    angle_deg = step.angle_deg
    if angle_deg is None:
        angle_deg = 90.0
        message = f"The countersink Ø{step.diameter.named} has no angle; 82, 90, 100 and 120 degrees are in use."
        notes = (Note("COUNTERSINK-ANGLE-MISSING", Severity.ASK, message, "Give its angle.", "Planned with 90 degrees."),)
    grade = setting.cutter
    tool = countersink(step.diameter.mm, angle_deg, setting.case, grade)
    because = f"{angle_deg:g} degrees as called for; the angle is part of the tool"
    reason = Reason(f"countersink: {tool.sized}", because, ANGLE, step.cites or (FROM_THE_DRAWING,))
    work = Work(StepKind.COUNTERSINK, tool, step, step.diameter.mm, reasons=(reason, *grade.reasons))
    return Planned(from_each_side(work, step.side), notes)


def from_each_side(work: Work, side: Side) -> tuple[Work, ...]:
    """The work from the face or faces it is called from; each carries the step as made from its own face."""
    if side is not Side.BOTH or work.step is None:
        return (replace(work, side=side),)
    return tuple(replace(work, side=face, step=replace(work.step, side=face)) for face in (Side.NEAR, Side.FAR))
