"""The whole reasoning for one callout, as text for a terminal: what was read, what was supplied, what was chosen and why."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from holesched.cutting.model import CutStep
from holesched.notes import Cite, Note, Reason, Severity
from holesched.resolve.model import ResolvedStep
from holesched.sequence.model import JobPlan, PlannedHole
from holesched.standards.materials import Material
from holesched.standards.sizes import Limits
from holesched.standards.strength import needed_engagement
from holesched.standards.threads.base import ThreadGeometry
from holesched.standards.threads.insert_depths import LENGTHS as INSERT_LENGTHS
from holesched.standards.threads.insert_depths import Tap, insert_depths
from holesched.standards.threads.pipe_depths import TAPER_REAMED, pipe_depths, pipe_drill
from holesched.tooling.model import DepthBudget, TapDrillFit

METRIC_SCREWS = ("8.8", "10.9", "12.9")
INCH_SCREWS = ("SAE 5", "SAE 8")
"""The screws whose length of engagement is shown."""


def explained(job: JobPlan) -> str:
    """Every hole type of the job with its numbers, steps, reasons and sources, then what is assumed and what is open."""
    return "\n".join(_lines(job))


def _lines(job: JobPlan) -> Iterator[str]:
    if job.material is not None:
        low, high = job.material.hardness_hb
        yield f"material   {job.material.name} ({job.material.subgroup}, {low:g} to {high:g} HB, {job.material.chip} chip)"
    for hole in job.holes:
        yield from _hole(hole, job.material)
    yield from _notes("assumed by a standard (to be initialled)", job.notes, Severity.ASSUMED)
    yield from _notes("watch", job.notes, Severity.WATCH)
    yield from _notes("for the record", job.notes, Severity.TOLD)
    yield from _notes("open: planned meanwhile, on hold", job.notes, Severity.ASK)
    yield from _notes("open: not planned", job.notes, Severity.REFUSED)
    if job.gauges:
        yield "\ngauges"
        for need in job.gauges:
            yield f"  {need.gauge.kind} {need.gauge.designation}  {need.gauge.size_mm:.4f} mm  [{need.gauge.cite}]"
            if need.gauge.tolerance_mm is not None:
                yield "      its own limits {:.4f} to {:.4f} mm".format(*need.gauge.tolerance_mm)
            if need.gauge.how:
                yield f"      {need.gauge.how}"


def _hole(hole: PlannedHole, material: Material | None) -> Iterator[str]:
    yield f"callout    {' / '.join(hole.type.hole.callout.splitlines())}"
    if hole.cut_plan is None:
        return
    plan = hole.cut_plan.plan
    for step in plan.resolved.steps:
        yield from _resolved(step)
        if step.thread is not None:
            yield from _proved_and_held(step.thread, material)
    for budget in plan.budgets:
        yield from _budget(budget)
    for cut in hole.cut_plan.cuts:
        yield from _cut(cut)


def _resolved(step: ResolvedStep) -> Iterator[str]:
    depth = "through" if step.through else f"{step.depth_mm:g} mm deep" if step.depth_mm is not None else ""
    name = step.thread.spec.designation if step.thread is not None else f"Ø{step.diameter.label}"
    yield f"\n{step.kind.value} {name}  {depth}".rstrip()
    if step.thread is not None:
        thread = step.thread
        yield f"  major diameter    {_limits(thread.major)}   (basic {thread.basic_major_mm:.3f})"
        yield f"  pitch diameter    {_limits(thread.pitch)}   (basic {thread.basic_pitch_mm:.3f})"
        yield f"  minor diameter    {_limits(thread.minor)}   (basic {thread.basic_minor_mm:.3f})"
        yield from (f"  note: {note}" for note in thread.notes)
    elif step.limits is not None:
        yield f"  limits            {_limits(step.limits)}"
    if step.cites:
        yield f"  source            {_sources(step.cites)}"


def _proved_and_held(thread: ThreadGeometry, material: Material | None) -> Iterator[str]:
    """Depths that belong to the thread itself, and the length of it that a screw needs in this material."""
    pipe = pipe_depths(thread.spec)
    if pipe is not None:
        yield f"  gauge plane       {pipe.gauge_plane_mm:.2f} mm, give or take {pipe.either_way_mm:.2f}; {pipe.gauge}"
        least = f"a straight hole at least {pipe.drill_least_mm:.2f} mm"
        yield f"  full thread       {pipe.full_thread_mm:.2f} mm, {least}"
        straight, reamed = pipe_drill(thread.spec), pipe_drill(thread.spec, TAPER_REAMED)
        if straight is not None and reamed is not None:
            before = f"{reamed.drill.label} before a 1:16 taper reamer"
            yield f"  drill             {straight.drill.label} to tap a straight hole, {before}"
    if thread.spec.series.startswith("STI-"):
        for diameters in INSERT_LENGTHS:
            found, bottomed = (insert_depths(thread.spec, diameters, tap) for tap in (Tap.PLUG, Tap.BOTTOMING))
            drilled = f"{found.drill_least_mm:.1f} mm for a plug tap, {bottomed.drill_least_mm:.1f} for a bottoming one"
            long = f"{found.insert_mm:.1f} mm long: full thread {found.full_thread_mm:.1f}"
            yield f"  insert {diameters:g} D      {long}, drilled at least {drilled}"
    if material is None or material.tensile_mpa is None:
        return
    for grade in INCH_SCREWS if thread.spec.tpi is not None else METRIC_SCREWS:
        try:
            needed = needed_engagement(thread, grade, material.tensile_mpa)
        except (ValueError, KeyError):
            continue
        yield f"  engagement        {needed.least_mm:.1f} mm for a screw of {grade}, else the {needed.governed_by} strips"


def _budget(budget: DepthBudget) -> Iterator[str]:
    wall = "unknown: no thickness given" if budget.wall_left_mm is None else f"{budget.wall_left_mm:.2f} mm"
    yield "\ndepth of the blind hole, from the face"
    yield f"  full thread       {budget.full_thread_mm:.2f} mm"
    yield f"  + tap chamfer     {budget.chamfer_mm:.2f} mm"
    yield f"  + clearance       {budget.clearance_mm:.2f} mm"
    yield f"  = drilled depth   {budget.drilled_mm:.2f} mm   (governed by {budget.governed_by})"
    yield f"  + drill point     {budget.point_mm:.2f} mm"
    yield f"  = tip of drill    {budget.tip_mm:.2f} mm"
    yield f"  wall left         {wall}"


def _cut(cut: CutStep) -> Iterator[str]:
    step = cut.step
    tool = step.tool
    yield f"\n{step.kind.value}: {tool.name or tool.kind.value} {tool.size}, {tool.material}, {tool.treatment}"
    if step.depth_mm is not None and step.tip_mm is not None:
        yield f"  depth             {step.depth_mm:.2f} mm, tip at {step.tip_mm:.2f} mm, fed {step.travel_mm or 0:.2f} mm"
    if step.fit is not None:
        yield from _fit(step.fit)
    yield (
        f"  speed             {cut.surface_m_per_min:.1f} m/min = {cut.spindle_rpm:.0f} rev/min"
        f"   (low {cut.speed_low_m_per_min:.0f}, start {cut.speed_start_m_per_min:.0f},"
        f" high {cut.speed_high_m_per_min:.0f} m/min)"
    )
    yield f"  feed              {cut.feed_mm_per_rev:.4g} mm/rev = {cut.feed_mm_per_min:.6g} mm/min"
    yield f"  coolant           {cut.coolant}"
    loads = [
        f"torque {cut.torque_nm:.2f} N·m" if cut.torque_nm is not None else "",
        f"thrust {cut.thrust_n:.0f} N" if cut.thrust_n is not None else "",
        f"power {cut.power_kw:.2f} kW" if cut.power_kw is not None else "",
        f"chip per tooth {cut.chip_load_mm:.3f} mm" if cut.chip_load_mm is not None else "",
    ]
    yield f"  load              {', '.join(load for load in loads if load) or 'no formula'}"
    if cut.reached_rpm is not None:
        yield f"  spindle reaches   {cut.reached_rpm:.0f} rev/min before it must reverse"
    yield f"  time              {cut.time_min * 60:.1f} s a hole"
    for reason in (*step.reasons, *cut.reasons, *cut.clamps):
        yield from _reason(reason)
    if cut.cites:
        yield f"  source            {_sources(cut.cites)}"


def _fit(fit: TapDrillFit) -> Iterator[str]:
    low, high = fit.window_mm
    most, least = fit.percent_at_limits
    yield f"  drilled hole      {fit.hole_mm:.3f} mm expected, permitted {low:.3f} to {high:.3f} mm"
    ends = f"{most:.0f} % at the smallest, {least:.0f} % at the largest hole"
    yield f"  thread            {fit.percent:.0f} % expected ({ends})"


def _reason(reason: Reason) -> Iterator[str]:
    yield f"  why   {reason.decision}: {reason.because}  [{reason.rule}; {_sources(reason.cites)}]"
    for rejected in reason.rejected:
        yield f"        not {rejected.candidate}: {rejected.because}  [{rejected.rule}]"


def _notes(title: str, notes: Iterable[Note], severity: Severity) -> Iterator[str]:
    mine = [note for note in notes if note.severity is severity]
    if not mine:
        return
    yield f"\n{title}"
    for number, note in enumerate(mine, start=1):
        first, *rest = note.message.splitlines() or [""]
        yield f"  {number}. {first}  [{note.code}{f'; {note.cite}' if note.cite else ''}]"
        yield from (f"     {line}" for line in rest)
        if note.suggestion:
            yield f"     suggestion: {note.suggestion}"
        if note.assumed:
            yield f"     meanwhile: {note.assumed}"


def _limits(limits: Limits) -> str:
    low = f"{limits.min_mm:.3f}"
    return f"{low} mm and up" if limits.max_mm is None else f"{low} to {limits.max_mm:.3f} mm"


def _sources(cites: Iterable[Cite]) -> str:
    return "; ".join(dict.fromkeys(str(cite) for cite in cites)) or "-"
