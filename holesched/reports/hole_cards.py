"""One card a hole type: what the drawing asks, the section to scale, the steps, the depth ruler and the reasons."""

from __future__ import annotations

from dataclasses import dataclass

from holesched.cutting.model import CutStep
from holesched.reports.naming import diameter_name, place, tag_text, tool_name
from holesched.reports.open_points import OpenPoints, hold_text
from holesched.reports.operations import depth_text, tip_text
from holesched.reports.shared_reasons import SharedReasons, choices
from holesched.reports.show import NOT_KNOWN, Show, count
from holesched.reports.sketch.geometry import section
from holesched.reports.sketch.ruler import ruler, sentence
from holesched.reports.sketch.svg import svg
from holesched.reports.source_list import SourceList
from holesched.resolve.model import ResolvedStep
from holesched.sequence.model import JobPlan, PlannedHole
from holesched.tooling.model import StepKind, Tool, ToolPlan, ToolStep


@dataclass(frozen=True, slots=True)
class StepRow:
    """One tool's work in the hole."""

    operation: str
    tool: str
    title: str
    left_hand: bool
    depth: str
    tip: str
    rpm: str
    feed: str
    torque: str


@dataclass(frozen=True, slots=True)
class Card:
    """A hole type's card as text and SVG."""

    letter: str
    callout: str
    quantity: str
    hold: str
    left_hand: bool
    sketch: str
    steps: tuple[StepRow, ...]
    rulers: tuple[tuple[str, str], ...]
    facts: tuple[tuple[str, str], ...]
    tags: str
    remarks: tuple[str, ...]
    why: tuple[tuple[str, str], ...]
    """(decision, because with its source numbers)."""


def cards(job: JobPlan, points: OpenPoints, show: Show, listed: SourceList, shared: SharedReasons) -> tuple[Card, ...]:
    """The cards of all hole types, in the schedule's order; reasons that are `shared` by all stand elsewhere."""
    numbers = {loaded.tool: loaded.number for loaded in job.loading}
    operations: dict[tuple[int, str], list[str]] = {}
    for operation in job.operations:
        for target in operation.targets:
            operations.setdefault((operation.tool_number, target.letter), []).append(str(operation.number))
    return tuple(_card(hole, points, show, listed, shared, numbers, operations) for hole in job.holes)


def _card(
    hole: PlannedHole,
    points: OpenPoints,
    show: Show,
    listed: SourceList,
    shared: SharedReasons,
    numbers: dict[Tool, int],
    operations: dict[tuple[int, str], list[str]],
) -> Card:
    plan = hole.cut_plan.plan if hole.cut_plan is not None else None
    drawing = section(plan, show) if plan is not None else None
    cuts = hole.cut_plan.cuts if hole.cut_plan is not None else ()
    letter = hole.type.letter
    steps = tuple(_step(cut, show, numbers, operations, letter) for cut in cuts)
    return Card(
        letter=letter,
        callout=hole.type.hole.callout,
        quantity=count(hole.type.quantity, "hole"),
        hold=hold_text(hole, points),
        left_hand=any(cut.step.tool.left_hand for cut in cuts),
        sketch=svg(drawing, f"section of hole type {letter}") if drawing is not None else "",
        steps=steps,
        rulers=tuple((svg(ruler(b, show), "depth ruler"), sentence(b, show)) for b in plan.budgets)
        if plan is not None
        else (),
        facts=_facts(plan, show, listed) if plan is not None else (),
        tags="; ".join(text for text in (tag_text(member.tag for member in hole.type.members), _cells(hole)) if text),
        remarks=_remarks(hole, show),
        why=tuple(
            (reason.decision, f"{reason.because}{listed.mark(reason.cites)}")
            for cut in cuts
            for reason in shared.own(cut, choices(cut))
        ),
    )


def _step(
    cut: CutStep, show: Show, numbers: dict[Tool, int], operations: dict[tuple[int, str], list[str]], letter: str
) -> StepRow:
    step = cut.step
    name = tool_name(step.tool, show)
    number = numbers.get(step.tool)
    waiting = operations.get((number or 0, letter), [])
    return StepRow(
        waiting[0] if len(waiting) == 1 else "/".join(waiting) or NOT_KNOWN,
        f"T{number}" if number is not None else NOT_KNOWN,
        name.title,
        name.left_hand,
        depth_text(cut, show),
        tip_text(cut, show),
        show.rpm(cut.spindle_rpm),
        show.feed(cut.feed_mm_per_min, step.kind is StepKind.TAP),
        show.torque(cut.torque_nm),
    )


def _facts(plan: ToolPlan, show: Show, listed: SourceList) -> tuple[tuple[str, str], ...]:
    """Limits and figures that prove the hole, each as (name, text)."""
    found: list[tuple[str, str]] = []
    unit = show.length_unit
    for resolved in plan.resolved.steps:
        found += _limit_facts(resolved, show, listed)
    for step in plan.steps:
        if step.fit is not None:
            most, least = step.fit.percent_at_limits
            low, high = step.fit.window_mm
            found.append(
                (
                    "Thread height",
                    f"{show.percent(step.fit.percent)} expected, from a hole of {show.fine(step.fit.hole_mm)} {unit}; "
                    f"{show.percent(most)} to {show.percent(least)} over {show.span(low, high)}",
                )
            )
        turns = _turns(step)
        if turns is not None:
            found.append(("Go gauge", f"enters {show.number(turns, 1)} turns to the full thread"))
    return tuple(found)


def _limit_facts(resolved: ResolvedStep, show: Show, listed: SourceList) -> list[tuple[str, str]]:
    unit = show.length_unit
    if resolved.thread is not None:
        thread = resolved.thread
        limits = (
            f"minor ⌀ {show.limits(thread.minor)}; pitch ⌀ {show.limits(thread.pitch)}; "
            f"major ⌀ {show.fine(thread.major.min_mm)} min {unit}"
        )
        notes = [("Note", note) for note in thread.notes]
        return [(thread.spec.designation, f"{limits}{listed.mark(thread.cites)}"), *notes]
    if resolved.limits is not None:
        tolerance = resolved.feature.tolerance
        name = diameter_name(resolved.diameter) + (f" {tolerance.zone}" if tolerance is not None and tolerance.zone else "")
        return [(name, f"{show.limits(resolved.limits)} {unit}{listed.mark(resolved.cites)}")]
    return []


def _turns(step: ToolStep) -> float | None:
    """Turns of the go gauge to the full thread: its length over the pitch."""
    if step.kind is not StepKind.TAP or step.depth_mm is None or not step.tool.pitch_mm or step.through:
        return None
    return (step.depth_mm - step.start_mm) / step.tool.pitch_mm


def _cells(hole: PlannedHole) -> str:
    members = hole.type.members
    first = place(members[0].ref) if members else ""
    if len(members) <= 1:
        return first
    return f"{first} to {members[-1].ref.cell} ({count(len(members), 'row')})"


def _remarks(hole: PlannedHole, show: Show) -> tuple[str, ...]:
    """Words of the drawing that change nothing in the plan but must not be lost."""
    found = [*hole.type.hole.remarks]
    circle = hole.type.hole.circle
    if circle is not None:
        spaced = ", equally spaced" if circle.equal else ""
        found.append(f"on a bolt circle of ⌀{show.short(circle.diameter_mm)}{spaced}")
    for feature in hole.type.hole.features:
        if feature.element is not None:
            found += feature.element.uses
    notes = dict.fromkeys(member.note for member in hole.type.members if member.note)
    found += list(notes)[:8]
    if len(notes) > 8:
        found.append(f"and {len(notes) - 8} more notes (tool_list.xlsx, sheet Holes)")
    if hole.held_rows:
        cells = [ref.cell for ref in hole.held_rows]
        found.append(
            f"rows in question: {', '.join(cells[:12])}" + (f" and {len(cells) - 12} more" if len(cells) > 12 else "")
        )
    return tuple(dict.fromkeys(found))
