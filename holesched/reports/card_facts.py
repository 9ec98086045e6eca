"""What proves a hole, where it came from and what the drawing says beside: the words on a card next to its section."""

from __future__ import annotations

from holesched.cutting.model import CutStep
from holesched.notes import Reason
from holesched.reports.naming import diameter_name, place, tag_text
from holesched.reports.show import Show, count
from holesched.reports.sketch.ruler import wall_in_words
from holesched.reports.source_list import SourceList
from holesched.resolve.model import ResolvedStep
from holesched.sequence.model import PlannedHole
from holesched.standards.threads.pipe_depths import pipe_depths
from holesched.tooling.coating import OVERSIZE
from holesched.tooling.depth import CLOSE_MM
from holesched.tooling.far_edge import FAR_EDGE
from holesched.tooling.model import BlindEnd, ToolPlan, ToolStep


def card_facts(hole: PlannedHole, show: Show, listed: SourceList) -> tuple[tuple[str, str], ...]:
    """Limits and figures that prove the hole, each as (name, text)."""
    if hole.cut_plan is None:
        return ()
    milling = [fact for cut in hole.cut_plan.cuts for fact in _milling_fact(cut, show)]
    risks = [fact for cut in hole.cut_plan.cuts for fact in _risk_fact(cut, show)]
    facts = _facts(hole.cut_plan.plan, show, listed, hole.type.hole.callout)
    return tuple(dict.fromkeys((*facts, *milling, *risks)))  # the taps of a set, and both ends of a hole, may say the same


def card_tags(hole: PlannedHole) -> str:
    """The drawing's tags and the schedule's cells."""
    return "; ".join(text for text in (tag_text(member.tag for member in hole.type.members), _cells(hole)) if text)


def _facts(plan: ToolPlan, show: Show, listed: SourceList, callout: str) -> tuple[tuple[str, str], ...]:
    """Limits and figures that prove the hole, each as (name, text)."""
    found: list[tuple[str, str]] = []
    unit = show.length_unit
    for resolved in plan.resolved.steps:
        found += _limit_facts(resolved, show, listed, callout)
    found += [("Depth", end_in_words(end, show)) for end in plan.ends]
    found += [fact for step in plan.parts for fact in _before_coating(step, show)]
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
        found += [_far_edge(reason, show) for reason in step.reasons if reason.rule == FAR_EDGE][:1]
        found += _gauge_fact(step, show)
    return tuple(found)


def _limit_facts(resolved: ResolvedStep, show: Show, listed: SourceList, callout: str) -> list[tuple[str, str]]:
    unit = show.length_unit
    if resolved.thread is not None:
        thread = resolved.thread
        limits = (
            f"minor ⌀ {show.limits(thread.minor)}; pitch ⌀ {show.limits(thread.pitch)}; "
            f"major ⌀ at least {show.fine(thread.major.min_mm)} {unit}"
        )
        notes = [("Note", show.running(note, (callout,))) for note in thread.notes]
        return [(thread.spec.designation, f"{limits}{listed.mark(thread.cites)}"), *notes]
    if resolved.limits is not None:
        tolerance = resolved.feature.tolerance
        name = diameter_name(resolved.diameter) + (f" {tolerance.zone}" if tolerance is not None and tolerance.zone else "")
        return [(name, f"{show.limits(resolved.limits)} {unit}{listed.mark(resolved.cites)}")]
    return []


def end_in_words(end: BlindEnd, show: Show) -> str:
    """How deep a blind hole without a thread is made and what is left under it, or room to write that in."""
    text = f"full {diameter_name(end.drawn.diameter)} to {show.short(end.full_mm)}"
    if end.drilled_mm > end.full_mm + CLOSE_MM:
        text += f"; drilled {show.short(end.drilled_mm)}"
    if end.tip_mm > max(end.drilled_mm, end.full_mm) + CLOSE_MM:
        text += f"; tip at {show.short(end.tip_mm)}"
    return f"{text}; {wall_in_words(end.wall_left_mm, end.wall_to, show)}"


def _before_coating(step: ToolStep, show: Show) -> list[tuple[str, str]]:
    """The limits that hold at the machine, where a coating is still to come."""
    made = step.step
    if made is None or not any(reason.rule == OVERSIZE for reason in step.reasons):
        return []
    if made.thread is not None and step.finishes_thread:
        limits = f"minor ⌀ {show.limits(made.thread.minor)}; pitch ⌀ {show.limits(made.thread.pitch)}"
    elif made.thread is None and made.limits is not None:
        limits = f"⌀ {show.limits(made.limits)}"
    else:
        return []
    return [("At the machine, before coating", f"{limits} {show.length_unit}")]


def _far_edge(reason: Reason, show: Show) -> tuple[str, str]:
    """What becomes of the far edge of a through thread."""
    return "Far edge", show.running(f"{reason.decision.partition(': ')[2]}: {reason.because}")


def _gauge_fact(step: ToolStep, show: Show) -> list[tuple[str, str]]:
    """Turns of the gauge. A go plug enters the whole full thread, its length over the pitch; a taper plug, which proves Rp
    too, only to its gauge plane: turned on to the full thread it would be in a hole that leaks."""
    pitch_mm = step.tool.pitch_mm
    if not step.finishes_thread or not pitch_mm or step.step is None or step.step.thread is None:
        return []
    pipe = pipe_depths(step.step.thread.spec)
    if pipe is not None:
        turns, more = show.number(pipe.gauge_plane_mm / pitch_mm, 1), show.number(pipe.either_way_mm / pitch_mm, 2, least=0)
        return [("Taper plug", f"enters {turns} turns by hand, give or take {more}: not to the end of the full thread")]
    if step.depth_mm is None or step.through:
        return []
    turns = show.number((step.depth_mm - step.start_mm) / pitch_mm, 1)
    return [("Go gauge", f"enters {turns} turns to the full thread")]


def _risk_fact(cut: CutStep, show: Show) -> list[tuple[str, str]]:
    """How near a tap comes to breaking, and all that lowers it; nothing of a calm one."""
    risk = cut.risk
    if risk is None or not risk.remedies:
        return []
    share = show.percent(100 * risk.index)
    lower = show.running(" ".join(risk.remedies))
    return [("Tap", f"worn, it takes about {share} of the torque that breaks it. Cheapest remedy first: {lower}")]


def _milling_fact(cut: CutStep, show: Show) -> list[tuple[str, str]]:
    """How a thread mill runs: the centre's path and both feeds."""
    mill = cut.milling
    if mill is None:
        return []
    unit, rate = show.length_unit, show.feed_unit
    passes, one_pitch = count(mill.passes, "pass", "passes"), mill.length_mm <= mill.rise_mm
    levels = count(mill.levels, "turn a pass", "turns a pass") if one_pitch else count(mill.levels, "level")
    path = (
        f"cutter ⌀{show.short(mill.cutter_mm)}, {count(mill.teeth, 'tooth', 'teeth')}; its centre on a circle of radius "
        f"{show.short(mill.centre_radius_mm)}, in and out on half circles of {show.short(mill.arc_radius_mm)}, "
        f"{'down' if mill.downwards else 'up'} {show.fine(mill.rise_mm)} {unit} a turn; {passes}, {levels}"
    )
    feeds = f"{show.feed(mill.centre_feed_mm_per_min, False)} {rate} at the centre, which the control without radius offset "
    feeds += f"is given; {show.feed(mill.edge_feed_mm_per_min, False)} {rate} at the edge"
    return [("Thread milling", f"{path}; {feeds}")]


def _cells(hole: PlannedHole) -> str:
    members = hole.type.members
    first = place(members[0].ref) if members else ""
    if len(members) <= 1:
        return first
    return f"{first} to {members[-1].ref.cell} ({count(len(members), 'row')})"


def card_remarks(hole: PlannedHole, show: Show) -> tuple[str, ...]:
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
