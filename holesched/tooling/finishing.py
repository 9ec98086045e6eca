"""Finished holes: drilled under size and reamed, or bored above what is reamed."""

from __future__ import annotations

from dataclasses import replace

from holesched.notes import COMMON_PRACTICE, Note, Reason, Rejected, Severity
from holesched.resolve.model import ResolvedStep
from holesched.standards import drill_sizes, fits
from holesched.standards.sizes import Size
from holesched.tooling.cutters import boring_bar, point_angle_deg, reamer
from holesched.tooling.depth import CLOSE_MM, point_length_mm, wall_note
from holesched.tooling.drilling import drill_work, not_standard, standard_size
from holesched.tooling.hole_bottom import Bottom, finished_flat, flat_note, flat_reason, is_flat_allowed, least_room
from holesched.tooling.model import StepKind
from holesched.tooling.opening import BEFORE_BORE_MM, REAMER_LEAD_MM, STOCK_MM, Way, way_of
from holesched.tooling.setting import THICKNESS_MISSING, Planned, Setting, name_of
from holesched.tooling.work import Work

UNDER_REAMER_MM = 1.0
"""Room for chips kept under a blind reamer. Common practice, no source."""


def finished(step: ResolvedStep, setting: Setting, pilot: ResolvedStep | None) -> Planned:
    """A reamed hole, or a bored one above the largest reamer; `pilot` is the drill that the callout states for it."""
    if step.diameter.mm > fits.largest_reamer_mm():
        return bored(step, setting, pilot)
    size, reason, note = _ream_drill(step, setting, pilot)
    notes = [] if note is None else [note]
    if pilot is not None and standard_size(pilot.diameter) is None:
        notes.append(not_standard(pilot.diameter, size))
    reasons = [reason]
    through = step.through if pilot is None else pilot.through
    depth_mm = step.depth_mm
    if not through and step.depth_mm is not None:
        room_mm, less_room = _room_under(step.depth_mm, size, setting)
        depth_mm = step.depth_mm + room_mm
        if pilot is not None and pilot.depth_mm is not None:
            notes += _shallow(step, pilot)
            depth_mm = pilot.depth_mm
        elif less_room is not None:
            reasons.append(less_room)
    drilled = drill_work(
        step, size, setting.grade, setting, depth_mm=depth_mm, through=through, reasons=reasons, check_wall=False
    )
    if not through and depth_mm is not None:
        point_mm = max(work.lead_mm for work in drilled.works)
        wall_mm = setting.shop.preferences.wall_warning_mm
        wall = wall_note(depth_mm + point_mm, setting.thickness_mm, wall_mm, name_of(step), point_mm)
        bottom = Bottom(depth_mm, point_mm)
        flat = flat_reason(bottom, setting)
        if wall is not None and flat is not None:
            stated = pilot is not None and pilot.depth_mm is not None
            drilled = replace(drilled, works=finished_flat(drilled.works, flat))
            wall = flat_note(name_of(step), bottom, setting, stated=stated)
        notes += [] if wall is None else [wall]
    tool, whys = reamer(step.diameter, _limit(step), setting.case, setting.book)
    fit = Reason(
        f"reamer: {step.diameter.named} {tool.limit}".rstrip(),
        _fit_because(step, "a stock reamer of"),
        "REAM-FIT",
        step.cites or (COMMON_PRACTICE,),
    )
    work = Work(
        kind=StepKind.REAM,
        tool=tool,
        step=step,
        diameter_mm=step.diameter.mm,
        through=step.through,
        depth_mm=setting.thickness_mm if step.through else step.depth_mm,
        lead_mm=REAMER_LEAD_MM,
        side=step.side,
        reasons=(fit, *whys),
    )
    return Planned((*drilled.works, work), (*notes, *drilled.notes))


def _room_under(depth_mm: float, drill: Size, setting: Setting) -> tuple[float, Reason | None]:
    """What is drilled under a reamed depth, mm, and why no more than its lead, where the wall leaves no room for chips."""
    full_mm, why = REAMER_LEAD_MM + UNDER_REAMER_MM, least_room(setting)
    if setting.thickness_mm is None or why is None:
        return full_mm, None
    deepest_mm = setting.thickness_mm - setting.shop.preferences.wall_warning_mm + CLOSE_MM - depth_mm
    point_mm = point_length_mm(drill.mm, point_angle_deg(setting.grade))
    ends_mm = (point_mm, 0.0) if is_flat_allowed(setting) else (point_mm,)
    ways = ((room_mm, end_mm) for end_mm in ends_mm for room_mm in (full_mm, REAMER_LEAD_MM))
    room_mm = next((room_mm for room_mm, end_mm in ways if room_mm + end_mm <= deepest_mm), REAMER_LEAD_MM)
    return room_mm, why if room_mm < full_mm else None


def _shallow(step: ResolvedStep, pilot: ResolvedStep) -> list[Note]:
    if pilot.depth_mm is None or step.depth_mm is None or pilot.depth_mm >= step.depth_mm + REAMER_LEAD_MM:
        return []
    message = (
        f"The drilled depth {pilot.depth_mm:g} mm is too shallow to ream Ø{step.diameter.named} {step.depth_mm:g} mm deep: "
        f"the reamer's lead takes {REAMER_LEAD_MM:g} mm below it."
    )
    suggestion = f"Drill {step.depth_mm + REAMER_LEAD_MM + UNDER_REAMER_MM:.1f} mm deep, or ream less deep."
    return [Note("DEPTH-REAM-TOO-SHALLOW", Severity.ASK, message, suggestion, "Drilled as stated.")]


def _limit(step: ResolvedStep) -> str:
    tolerance = step.feature.tolerance
    if tolerance is not None and tolerance.zone:
        return tolerance.zone
    if step.limits is not None and step.limits.max_mm is not None:
        return f"{step.limits.min_mm:.3f} to {step.limits.max_mm:.3f} mm"
    return ""


def _fit_because(step: ResolvedStep, else_made: str) -> str:
    if step.limits is None or step.limits.max_mm is None:
        return f"no limits are given: {else_made} the diameter called for"
    return f"finished inside {step.limits.min_mm:.3f} to {step.limits.max_mm:.3f} mm"


def _ream_drill(step: ResolvedStep, setting: Setting, pilot: ResolvedStep | None) -> tuple[Size, Reason, Note | None]:
    """The drill before the reamer: its hole leaves the trade's allowance, or comes nearest to it."""
    low_mm, high_mm = fits.ream_allowance(step.diameter.mm)
    window = (step.diameter.mm - high_mm, step.diameter.mm - low_mm)
    cite = fits.ream_cite()
    material = setting.grade.material

    def hole(size: Size) -> float:
        return size.mm + setting.shop.oversize(size.mm, material).expected_mm

    def off(size: Size) -> float:
        return round(max(window[0] - hole(size), hole(size) - window[1], 0.0), 6)

    if pilot is not None:
        size = standard_size(pilot.diameter) or pilot.diameter
        left_mm = step.diameter.mm - hole(size)
        reason = Reason(f"drill before reaming: {size.named}", "the callout states its drill", "REAM-DRILL-STATED", (cite,))
        if left_mm >= low_mm / 2 and off(size) <= high_mm:
            return size, reason, None
        message = (
            f"The stated drill {size.named} leaves {left_mm:.2f} mm for the reamer of Ø{step.diameter.named}; "
            f"{_allowance(low_mm, high_mm)} is usual."
        )
        return size, reason, Note("REAM-ALLOWANCE", Severity.WATCH, message, "Check the drill with the drawing's owner.")
    metric = drill_sizes.by_label(step.diameter.label) is None or _is_metric(step.diameter)
    series = drill_sizes.series("metric-preferred") if metric else drill_sizes.series("inch")
    candidates = list(drill_sizes.in_window(window[0] - 0.5, step.diameter.mm - 0.02, series))
    candidates = [size for size in candidates if hole(size) < step.diameter.mm - 0.02]
    if not candidates:
        candidates = [drill_sizes.next_down(step.diameter.mm - 0.05) or step.diameter]
    candidates.sort(key=lambda size: (off(size), -size.mm))
    best, *others = candidates
    because = (
        f"makes about {hole(best):.2f} mm and leaves {step.diameter.mm - hole(best):.2f} mm to the reamer; "
        f"{_allowance(low_mm, high_mm)} is usual"
    )
    rejected = tuple(Rejected(size.named, "REAM-DRILL", f"leaves {step.diameter.mm - hole(size):.2f} mm") for size in others)
    return best, Reason(f"drill before reaming: {best.named}", because, "REAM-DRILL", (cite,), rejected), None


def _allowance(low_mm: float, high_mm: float) -> str:
    return f"{low_mm:g} mm" if low_mm == high_mm else f"{low_mm:g} to {high_mm:g} mm"


def _is_metric(diameter: Size) -> bool:
    return diameter.label.replace(".", "", 1).replace(",", "", 1).isdigit() and not diameter.label.startswith(".")


def _before_boring(step: ResolvedStep, setting: Setting, pilot: ResolvedStep | None) -> tuple[Size, Way, str]:
    """To what a hole is opened before it is bored to size, how, and why so far: by the stated drill, or as near as a drill
    comes; where that leaves too much for one cut, by whatever opens large holes."""
    if pilot is not None:
        stated = standard_size(pilot.diameter) or pilot.diameter
        return stated, way_of(stated.mm, setting), "the callout states its drill"
    near_mm = step.diameter.mm - STOCK_MM
    usual = drill_sizes.series("metric-preferred")
    size = drill_sizes.next_down(min(near_mm, BEFORE_BORE_MM) + 1e-6, usual) or drill_sizes.nearest(near_mm)
    opened = Size(round(near_mm, 2), f"{near_mm:.2f}".rstrip("0").rstrip("."))
    way = way_of(opened.mm, setting)
    if step.diameter.mm - size.mm > 4 * STOCK_MM and not way.drilled:
        return opened, way, f"leaves {STOCK_MM:g} mm on the diameter to bore, one light cut"
    because = f"the largest usual drill that leaves at least {STOCK_MM:g} mm on the diameter to bore"
    return size, way_of(size.mm, setting), because


def bored(step: ResolvedStep, setting: Setting, pilot: ResolvedStep | None = None) -> Planned:
    """A bored hole: drilled as large as stock and the largest drill allow, then bored to size."""
    size, way, because = _before_boring(step, setting, pilot)
    drilled = drill_work(
        step,
        size,
        setting.grade,
        setting,
        depth_mm=None if pilot is None else pilot.depth_mm,
        through=step.through if pilot is None else pilot.through,
        reasons=(Reason(f"{way.how} before boring: {size.named}", because, "BORE-DRILL", (COMMON_PRACTICE,)),),
        way=way,
    )
    notes = list(drilled.notes)
    left_mm = step.diameter.mm - size.mm
    if left_mm > 4 * STOCK_MM:
        message = f"Bore Ø{step.diameter.named}: {left_mm:.1f} mm on the diameter are left after the drill."
        notes.append(Note("BORE-STOCK", Severity.WATCH, message, "Open it by milling before boring to size."))
    work = Work(
        kind=StepKind.BORE,
        tool=boring_bar(step.diameter, _limit(step), setting.group),
        step=step,
        diameter_mm=step.diameter.mm,
        through=step.through,
        depth_mm=setting.thickness_mm if step.through else step.depth_mm,
        side=step.side,
        reasons=(
            Reason(
                f"bore: {step.diameter.named}",
                _fit_because(step, "bored to"),
                "BORE-FIT",
                step.cites or (COMMON_PRACTICE,),
            ),
        ),
    )
    if step.through and setting.thickness_mm is None and THICKNESS_MISSING not in notes:
        notes.append(THICKNESS_MISSING)
    return Planned((*drilled.works, work), tuple(notes))
