"""The whole reasoning for one callout, as text for a terminal: what was read, what was supplied, what was chosen and why."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from holesched.cutting.model import CutStep
from holesched.notes import Cite, Note, Reason, Severity
from holesched.reports.naming import naming_tools, tool_name
from holesched.reports.show import Show
from holesched.resolve.model import ResolvedStep
from holesched.sequence.model import JobPlan, PlannedHole
from holesched.standards.materials import Material
from holesched.standards.sizes import Limits
from holesched.standards.strength import needed_engagement
from holesched.standards.threads.base import ThreadGeometry
from holesched.standards.threads.insert_depths import LENGTHS as INSERT_LENGTHS
from holesched.standards.threads.insert_depths import Tap, insert_depths
from holesched.standards.threads.pipe_depths import TAPER_REAMED, pipe_depths, pipe_drill
from holesched.tooling.model import FAR_FACE, BlindEnd, DepthBudget, StepKind, TapDrillFit, ToolStep
from holesched.units import in_unit

METRIC_SCREWS = ("8.8", "10.9", "12.9")
INCH_SCREWS = ("SAE 5", "SAE 8")
"""The screws whose length of engagement is shown."""
IN_INCHES = ("UN", "NPT", "NPS", "ACME", "STUB", "ANPT", "PTF", "STI-UN", "BSW", "BSF")
"""How the series begin that drawings in inches name; G and R pipe threads stand on metric ones too."""


def explained(job: JobPlan) -> str:
    """Every hole type of the job with its numbers, steps, reasons and sources, then what is assumed and what is open."""
    return "\n".join(_lines(job, naming_tools(shown_for(job), job)))


def shown_for(job: JobPlan) -> Show:
    """Inches, with mm in brackets, where the job is in inches or, when nobody said, its callout is; else mm alone."""
    if job.header.unit == "in" or job.header.unit_stated:
        return Show(job.header.unit)
    features = [feature for hole in job.holes for feature in hole.type.hole.features]
    series = [feature.thread.series for feature in features if feature.thread is not None]
    written = any(note.code == "CALLOUT-INCH-ASSUMED" for note in job.notes)
    return Show("in" if written or (series and all(each.startswith(IN_INCHES) for each in series)) else "mm")


def _lines(job: JobPlan, show: Show) -> Iterator[str]:
    if job.material is not None:
        low, high = job.material.hardness_hb
        yield f"material   {job.material.name} ({job.material.subgroup}, {low:g} to {high:g} HB, {job.material.chip} chip)"
    for hole in job.holes:
        yield from _hole(hole, job.material, show)
    yield from _notes("assumed by a standard (to be initialled)", job.notes, Severity.ASSUMED, show)
    yield from _notes("watch", job.notes, Severity.WATCH, show)
    yield from _notes("for the record", job.notes, Severity.TOLD, show)
    yield from _asked(job, show)
    if job.gauges:
        yield "\ngauges"
        for need in job.gauges:
            gauge = need.gauge
            yield f"  {gauge.kind} {gauge.designation}  {_length(gauge.size_mm, show, 4)}  [{gauge.cite}]"
            if gauge.tolerance_mm is not None:
                worn = "" if gauge.worn_mm is None else f"; worn out below {_length(gauge.worn_mm, show, 4)}"
                yield f"      its own limits {_span(*gauge.tolerance_mm, show, 4)}{worn}"
            if gauge.how:
                yield f"      {show.running(gauge.how)}"


def asked(job: JobPlan) -> str:
    """What the drawing's owner is asked, in full; empty where nothing is open."""
    return "\n".join(_asked(job, naming_tools(shown_for(job), job)))


def _asked(job: JobPlan, show: Show) -> Iterator[str]:
    yield from _notes("open: planned meanwhile, on hold", job.notes, Severity.ASK, show)
    yield from _notes("open: not planned", job.notes, Severity.REFUSED, show)


def _hole(hole: PlannedHole, material: Material | None, show: Show) -> Iterator[str]:
    yield f"callout    {' / '.join(hole.type.hole.callout.splitlines())}"
    if hole.cut_plan is None:
        return
    plan = hole.cut_plan.plan
    for step in plan.resolved.steps:
        yield from _resolved(step, show)
        if step.thread is not None:
            yield from _proved_and_held(step.thread, material, show)
    for budget in plan.budgets:
        yield from _budget(budget, show)
    for end in plan.ends:
        yield from _end(end, show)
    for cut in hole.cut_plan.cuts:
        yield from _cut(cut, show)


def _resolved(step: ResolvedStep, show: Show) -> Iterator[str]:
    depth = "through" if step.through else f"{_length(step.depth_mm, show)} deep" if step.depth_mm is not None else ""
    name = step.thread.spec.designation if step.thread is not None else f"Ø{step.diameter.label}"
    yield f"\n{step.kind.value} {name}  {depth}".rstrip()
    if step.thread is not None:
        thread = step.thread
        yield f"  major diameter    {_limits(thread.major, show)}   (basic {_length(thread.basic_major_mm, show, 3)})"
        yield f"  pitch diameter    {_limits(thread.pitch, show)}   (basic {_length(thread.basic_pitch_mm, show, 3)})"
        yield f"  minor diameter    {_limits(thread.minor, show)}   (basic {_length(thread.basic_minor_mm, show, 3)})"
        yield from (f"  note: {show.running(note)}" for note in thread.notes)
    elif step.limits is not None:
        yield f"  limits            {_limits(step.limits, show)}"
    if step.cites:
        yield f"  source            {_sources(step.cites)}"


def _proved_and_held(thread: ThreadGeometry, material: Material | None, show: Show) -> Iterator[str]:
    """Depths that belong to the thread itself, and the length of it that a screw needs in this material."""
    pipe = pipe_depths(thread.spec)
    if pipe is not None:
        either_way = _length(pipe.either_way_mm, show)
        yield f"  gauge plane       {_length(pipe.gauge_plane_mm, show)}, give or take {either_way}; {pipe.gauge}"
        least = f"a straight hole at least {_length(pipe.drill_least_mm, show)}"
        yield f"  full thread       {_length(pipe.full_thread_mm, show)}, {least}"
        straight, reamed = pipe_drill(thread.spec), pipe_drill(thread.spec, TAPER_REAMED)
        if straight is not None and reamed is not None:
            before = f"{reamed.drill.label} before a 1:16 taper reamer"
            yield f"  drill             {straight.drill.label} to tap a straight hole, {before}"
    if thread.spec.series.startswith("STI-"):
        for diameters in INSERT_LENGTHS:
            found, bottomed = (insert_depths(thread.spec, diameters, tap) for tap in (Tap.PLUG, Tap.BOTTOMING))
            plug, bottoming = (_length(each.drill_least_mm, show, 1) for each in (found, bottomed))
            long = f"{_length(found.insert_mm, show, 1)} long: full thread {_length(found.full_thread_mm, show, 1)}"
            drilled = f"{plug} for a plug tap, {bottoming} for a bottoming one"
            yield f"  insert {diameters:g} D      {long}, drilled at least {drilled}"
    if material is None or material.tensile_mpa is None:
        return
    for grade in INCH_SCREWS if thread.spec.tpi is not None else METRIC_SCREWS:
        try:
            needed = needed_engagement(thread, grade, material.tensile_mpa)
        except (ValueError, KeyError):
            continue
        least = _length(needed.least_mm, show, 1)
        yield f"  engagement        {least} for a screw of {grade}, else the {needed.governed_by} strips"


def _end(end: BlindEnd, show: Show) -> Iterator[str]:
    yield "\ndepth of the blind hole, from the face"
    yield f"  full diameter     {_length(end.full_mm, show)}"
    yield f"  drilled depth     {_length(end.drilled_mm, show)}"
    yield f"  tip               {_length(end.tip_mm, show)}"
    yield _wall(end.wall_left_mm, end.wall_to, show)


def _wall(wall_mm: float | None, wall_to: str, show: Show) -> str:
    wall = "unknown: no thickness given" if wall_mm is None else f"{_length(wall_mm, show)}"
    return f"  wall left         {wall}" + (f"   (to the {wall_to})" if wall_to != FAR_FACE else "")


def _budget(budget: DepthBudget, show: Show) -> Iterator[str]:
    yield "\ndepth of the blind hole, from the face"
    yield f"  full thread       {_length(budget.full_thread_mm, show)}"
    yield f"  + tap chamfer     {_length(budget.chamfer_mm, show)}"
    yield f"  + clearance       {_length(budget.clearance_mm, show)}"
    yield f"  = drilled depth   {_length(budget.drilled_mm, show)}   (governed by {show.running(budget.governed_by)})"
    yield f"  + drill point     {_length(budget.point_mm, show)}"
    yield f"  = tip of drill    {_length(budget.tip_mm, show)}"
    yield _wall(budget.wall_left_mm, budget.wall_to, show)


def _cut(cut: CutStep, show: Show) -> Iterator[str]:
    step = cut.step
    name = tool_name(step.tool, show)
    yield f"\n{step.kind.value}: {name.title}, {name.detail}"
    if step.depth_mm is not None and step.tip_mm is not None:
        depth, tip, fed = (_length(mm, show) for mm in (step.depth_mm, step.tip_mm, step.travel_mm or 0))
        yield f"  depth             {depth}, tip at {tip}, fed {fed}"
    if step.also is not None:
        yield f"  its shoulder      {_also(step.also, show)}"
    if step.fit is not None:
        yield from _fit(step.fit, show)
    low, start, high = (
        show.surface(speed) for speed in (cut.speed_low_m_per_min, cut.speed_start_m_per_min, cut.speed_high_m_per_min)
    )
    yield (
        f"  speed             {show.surface(cut.surface_m_per_min)} {show.surface_unit} ="
        f" {show.rpm(cut.spindle_rpm)} rev/min   (low {low}, start {start}, high {high} {show.surface_unit})"
    )
    exact = step.kind.makes_thread
    yield (
        f"  feed              {show.feed_per_rev(cut.feed_mm_per_rev, exact)} {show.feed_per_rev_unit} ="
        f" {show.feed(cut.feed_mm_per_min, exact)} {show.feed_unit}"
    )
    yield f"  coolant           {cut.coolant}"
    loads = [
        show.running(f"torque {cut.torque_nm:.2f} N·m") if cut.torque_nm is not None else "",
        show.running(f"thrust {cut.thrust_n:.0f} N") if cut.thrust_n is not None else "",
        show.running(f"power {cut.power_kw:.2f} kW") if cut.power_kw is not None else "",
        f"chip per tooth {_length(cut.chip_load_mm, show, 3)}" if cut.chip_load_mm is not None else "",
    ]
    yield f"  load              {', '.join(load for load in loads if load) or 'no formula'}"
    if cut.reached_rpm is not None:
        yield f"  spindle reaches   {cut.reached_rpm:.0f} rev/min before it must reverse"
    yield f"  time              {cut.time_min * 60:.1f} s a hole"
    for reason in (*step.reasons, *cut.reasons, *cut.clamps):
        yield from _reason(reason, show)
    if cut.cites:
        yield f"  source            {_sources(cut.cites)}"


def _also(also: ToolStep, show: Show) -> str:
    """What the shoulder of a step drill makes in the same stroke."""
    deep = "" if also.kind is StepKind.COUNTERSINK else f", {_length(also.depth_mm or 0.0, show)} deep"
    return f"{also.kind.value} Ø{_length(also.diameter_mm, show)}{deep}"


def _fit(fit: TapDrillFit, show: Show) -> Iterator[str]:
    low, high = fit.window_mm
    most, least = fit.percent_at_limits
    yield f"  drilled hole      {_length(fit.hole_mm, show, 3)} expected, permitted {_span(low, high, show, 3)}"
    ends = f"{most:.0f} % at the smallest, {least:.0f} % at the largest hole"
    yield f"  thread            {fit.percent:.0f} % expected ({ends})"


def _reason(reason: Reason, show: Show) -> Iterator[str]:
    told = f"{show.running(reason.decision)}: {show.running(reason.because)}"
    yield f"  why   {told}  [{reason.rule}; {_sources(reason.cites)}]"
    for rejected in reason.rejected:
        yield f"        not {show.running(f'{rejected.candidate}: {rejected.because}')}  [{rejected.rule}]"


def _notes(title: str, notes: Iterable[Note], severity: Severity, show: Show) -> Iterator[str]:
    mine = [note for note in notes if note.severity is severity]
    if not mine:
        return
    yield f"\n{title}"
    for number, note in enumerate(mine, start=1):
        cell = (note.text,)
        first, *rest = show.running(note.message, cell).splitlines() or [""]
        said_by = ", ".join(filter(None, (note.code, note.rule)))
        yield f"  {number}. {first}  [{said_by}{f'; {note.cite}' if note.cite else ''}]"
        yield from (f"     {line}" for line in rest)
        if note.suggestion:
            yield f"     suggestion: {show.running(note.suggestion, cell)}"
        if note.assumed:
            yield f"     meanwhile: {show.running(note.assumed, cell)}"


def _limits(limits: Limits, show: Show) -> str:
    if limits.max_mm is None:
        return f"{_length(limits.min_mm, show, 3)} and up"
    return _span(limits.min_mm, limits.max_mm, show, 3)


def _length(mm: float, show: Show, places: int = 2) -> str:
    """mm with so many decimals; in inches with one more, and the mm behind: 0.7500 in (19.05 mm)."""
    text = f"{mm:.{places}f} mm"
    return text if show.unit == "mm" else f"{in_unit(mm, 'in'):.{places + 1}f} in ({text})"


def _span(low_mm: float, high_mm: float, show: Show, places: int) -> str:
    """Two limits as `_length` writes one."""
    text = f"{low_mm:.{places}f} to {high_mm:.{places}f} mm"
    if show.unit == "mm":
        return text
    low, high = (f"{in_unit(mm, 'in'):.{places + 1}f}" for mm in (low_mm, high_mm))
    return f"{low} to {high} in ({text})"


def _sources(cites: Iterable[Cite]) -> str:
    return "; ".join(dict.fromkeys(str(cite) for cite in cites)) or "-"
