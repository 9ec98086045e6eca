"""The process sheet: page 1 for the person at the machine, then a card a hole type, the map, the lists and the reasons."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from holesched.cutting.feeds import FLOATING_FEED
from holesched.cutting.model import CHANGE
from holesched.reports.base import Report, RunStamp
from holesched.reports.cautions import cautions
from holesched.reports.hole_cards import Card, cards
from holesched.reports.job_header import Heading, heading
from holesched.reports.lists import GaugeSet, GaugeUse, ToolRow, gauge_sets, gauge_uses, tool_rows
from holesched.reports.naming import show_of
from holesched.reports.open_points import OpenPoints, Question, Remark, held, open_points
from holesched.reports.operations import OperationRow, Times, operation_rows, times
from holesched.reports.overloads import Overload, overloads
from holesched.reports.reasons_section import ReasonLine, reason_lines
from holesched.reports.shared_reasons import shared_reasons
from holesched.reports.show import Show, count
from holesched.reports.sketch.hole_map import Mark, hole_map
from holesched.reports.source_list import SourceList
from holesched.sequence.model import JobPlan, PlannedHole
from holesched.shop.model import Shop
from holesched.tooling.model import StepKind

PAGE_1_LINES, QUESTION_LINES = 24, 13
"""Lines of a column for alarms, questions and what to watch on page 1, and of them for questions in full: more would push
the operations off it."""
WATCH_LINES, LETTERS_A_LINE = (4, 12), 84
"""Lines to watch on page 1 (two more when that is all), and about how many letters one has there."""

SharedLine = tuple[str, tuple[tuple[str, str], ...]]
"""A kind of work and its reasons, each (decision, because)."""


@dataclass(frozen=True, slots=True)
class ProcessSheet:
    """Everything the process sheet shows, as text and SVG."""

    head: Heading
    show: Show
    points: OpenPoints
    overloads: tuple[Overload, ...]
    held: tuple[tuple[str, str], ...]
    short_questions: bool
    """Too many questions for page 1: there only the holes on hold are named, and the questions follow in full."""
    watch: tuple[Remark, ...]
    watch_more: tuple[Remark, ...]
    """Those to watch on page 1, and the rest, which follow the operations."""
    cautions: tuple[str, ...]
    operations: tuple[OperationRow, ...]
    coolants: tuple[tuple[str, str], ...]
    """(coolant, operations), one entry when all operations have the same."""
    times: Times
    tap_feed: str
    """What must be known of the feeds of taps in the spindle; "" without one."""
    order: str
    """Why some operations come before the rest; "" where none do."""
    for_all: tuple[SharedLine, ...]
    cards: tuple[Card, ...]
    map: str
    map_note: str
    tools: tuple[ToolRow, ...]
    pots_note: str
    gauges: tuple[GaugeSet, ...]
    gauge_uses: tuple[GaugeUse, ...]
    reasons: tuple[ReasonLine, ...]
    sources: tuple[str, ...]
    set_aside: tuple[tuple[str, str, str], ...]


def build(job: JobPlan, shop: Shop, stamp: RunStamp) -> ProcessSheet:
    """The process sheet of a job."""
    show = show_of(job, shop)
    points = open_points(job, show)
    listed = SourceList()
    chosen = shared_reasons(job)
    for_all = chosen.lines(listed, show)
    made, moved = cards(job, points, show, listed, chosen)
    drawn, note = _map(job, show)
    operations = operation_rows(job, show)
    heavy = overloads(job, show)
    waiting = held(job, points)
    asked = sum(map(_question_lines, points.questions))
    short = asked > QUESTION_LINES
    boxes = 4 * len(heavy) + 3 * len(points.lookalikes)
    told = cautions(job)
    used = 2 + len(waiting) if short else asked
    beside = sum(map(_lines, told)) - used - 1  # level with the cautions, in the other column, a line costs nothing
    first = _first_lines(points.watch, max(PAGE_1_LINES - boxes - used, beside))
    return ProcessSheet(
        head=heading(job, shop, stamp, REPORT.title, show),
        show=show,
        points=points,
        overloads=heavy,
        held=waiting,
        short_questions=short,
        watch=points.watch[:first],
        watch_more=points.watch[first:],
        cautions=told,
        operations=operations,
        coolants=_coolants(operations),
        times=times(job.time, show),
        tap_feed=_tap_feed(job, shop),
        order=_order(job, show),
        for_all=for_all,
        cards=made,
        map=drawn,
        map_note=note,
        tools=tool_rows(job, show),
        pots_note=pots_note(job, shop),
        gauges=gauge_sets(job, show),
        gauge_uses=gauge_uses(job, show, listed),
        reasons=reason_lines(job, show, listed, moved),
        sources=listed.lines,
        set_aside=tuple((row.ref.cell, row.why, row.text) for row in job.set_aside if row.text.strip()),
    )


def _lines(*texts: str) -> int:
    """About how many lines of a column on page 1 these texts take, one behind another."""
    return -(-sum(len(text) + 1 for text in texts) // LETTERS_A_LINE)


def _question_lines(question: Question) -> int:
    """A question in full: its place and cell, the problem, the suggestion, what is assumed, and the line for the answer."""
    said = (f"{question.where} {question.text}", question.problem, question.suggestion, f"on HOLD {question.assumed}")
    return sum(map(_lines, filter(None, said))) + 1


def _first_lines(watch: Sequence[Remark], room: int) -> int:
    """How many of the ranked remarks fill the lines that page 1 has for them; at least the first."""
    least, most = WATCH_LINES
    room = max(least, min(room, most))
    lengths = [_lines(each.types, each.text, each.suggestion) for each in watch]
    if sum(lengths) <= room + 2:
        return len(lengths)
    return max(1, sum(sum(lengths[: number + 1]) <= room for number in range(len(lengths))))


def _coolants(operations: Sequence[OperationRow]) -> tuple[tuple[str, str], ...]:
    """Each coolant with the operations that take it, neighbours drawn together: 10 to 90, 120; an operation that takes
    several, for holes in several materials, names the holes: 30 (A, C)."""
    runs: dict[str, list[list[str]]] = {}
    before = ""
    for row in operations:
        for coolant, letters in row.coolants.items():
            mine = runs.setdefault(coolant, [])
            if len(row.coolants) > 1:
                mine.append([f"{row.number} ({', '.join(letters)})"])
            elif coolant == before:
                mine[-1] = [mine[-1][0], str(row.number)]
            else:
                mine.append([str(row.number)])
        before = "" if len(row.coolants) > 1 else next(iter(row.coolants))
    return tuple((coolant, ", ".join(" to ".join(run) for run in mine)) for coolant, mine in runs.items())


def _tap_feed(job: JobPlan, shop: Shop) -> str:
    """How exactly the feeds of taps are to be kept, in the holder that this machine has."""
    if not any(loaded.tool.kind is StepKind.TAP and not loaded.tool.by_hand for loaded in job.loading):
        return ""
    if shop.machine.rigid_tapping:
        return "A tap's feed is its pitch times the spindle speed, to the last digit: do not round it."
    return (
        f"A tap's feed is {FLOATING_FEED:g} of its pitch times the spindle speed, so that the tap draws its floating holder "
        "out: do not raise it."
    )


def _order(job: JobPlan, show: Show) -> str:
    """Which operations come first for the taps that are near to breaking, and what that costs."""
    first, why = [operation for operation in job.operations if operation.first], job.risky_first
    if why is None:
        return ""
    risky = {
        operation.tool_number: max(cut.risk.index for cut in cuts if cut.risk is not None)
        for operation in first
        if (cuts := [target.cut for target in operation.targets if target.cut.risk and target.cut.risk.band == CHANGE])
    }
    taps = ", ".join(f"T{number} {show.percent(100 * index)}" for number, index in risky.items())
    runs = Counter((operation.set_up, operation.kind, operation.tool_number) for operation in job.operations)
    more = sum(times > 1 for times in runs.values())
    by_set_up = [[each.number for each in first if each.set_up == set_up] for set_up in (1, 2)]
    which = " and ".join(f"{numbers[0]} to {numbers[-1]}" for numbers in by_set_up if numbers)
    return (
        f"Operations {which} come first: they end with the taps nearest to breaking ({taps} of the torque that does it). "
        f"{show.running(why.because)[:1].upper()}{show.running(why.because)[1:]} ({why.rule}); here "
        f"{count(more, 'tool change') if more else 'none'} more."
    )


def pots_note(job: JobPlan, shop: Shop) -> str:
    """The warning when the carousel is too small; "" when it is not."""
    in_spindle = [loaded for loaded in job.loading if not loaded.tool.by_hand]
    without = [loaded for loaded in in_spindle if loaded.pot is None]
    if not without:
        return ""
    numbers = " to ".join(dict.fromkeys(f"T{loaded.number}" for loaded in (without[0], without[-1])))
    return (
        f"{len(in_spindle)} tools for {shop.machine.pots} pots: {numbers} {'has' if len(without) == 1 else 'have'} no pot. "
        "A second loading, or fewer tools, is needed."
    )


def _map(job: JobPlan, show: Show) -> tuple[str, str]:
    """The hole map and the sentence under it."""
    marks = [mark for hole in job.holes for mark in _marks(hole)]
    drawn = hole_map(marks, show) or ""
    shown = sum(len(mark.places) for mark in marks)
    total = sum(hole.type.quantity for hole in job.holes)
    if not drawn:
        return "", "The schedule gives no coordinates: there is no hole map."
    note = f"{count(shown, 'hole')} at the places in the schedule, seen on the near face."
    if total > shown:
        note += f" {total - shown} of {total} have no coordinates and are not on the map."
    if any(mark.on_hold and mark.places for mark in marks):
        note += " Black: on hold."
    if shown > 300:
        note += " Letters are left out where they would fall over each other."
    return drawn, note


def _marks(hole: PlannedHole) -> list[Mark]:
    """A hole type's places; those of single rows on hold are a mark of their own."""
    widest = max((feature.diameter.mm for feature in hole.type.hole.features), default=1.0)
    waiting = hole.on_hold or hole.cut_plan is None
    held = {ref.row for ref in hole.held_rows}
    places: dict[bool, list[tuple[float, float]]] = {False: [], True: []}
    for member in hole.type.members:
        places[waiting or member.ref.row in held] += member.places_mm
    return [Mark(hole.type.letter, widest, tuple(found), on_hold) for on_hold, found in places.items() if found]


REPORT = Report("process_sheet", "Process sheet", "process_sheet.html.j2", build, ("html", "pdf"))
