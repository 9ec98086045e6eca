"""One card a hole type: what the drawing asks, the section to scale, the steps, the depth ruler and the reasons."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from holesched.cutting.model import CutStep
from holesched.notes import Reason
from holesched.reports.card_facts import card_facts, card_remarks, card_tags
from holesched.reports.naming import tool_name
from holesched.reports.open_points import OpenPoints, hold_text
from holesched.reports.operations import depth_text, running_text, tip_text
from holesched.reports.shared_reasons import SharedReasons, said
from holesched.reports.show import NOT_KNOWN, Show, count
from holesched.reports.sketch.geometry import section
from holesched.reports.sketch.ruler import in_words, ruler
from holesched.reports.sketch.svg import svg
from holesched.reports.source_list import SourceList
from holesched.sequence.model import JobPlan, PlannedHole
from holesched.sequence.order import Run, run_of
from holesched.tooling.model import Tool

Moved = dict[tuple[str, int], tuple[Reason, ...]]
"""Reasons without room on a card, by hole type and number of the step (from 0)."""

CARD_MM, LINE_MM, SMALL_LINE_MM = 83.0, 4.1, 3.4
"""The height that a card may have, of its lines and of the lines of its reasons, on paper."""
FIRST = ("tap drill", "drilled depth", "process", "flute form", "chamfer", "tap limit", "drill", "reamer")
"""Decisions whose reasons leave a card last."""
LEAST_LETTERS = 160
"""So many letters of reasons stand on any card."""
ONE_LINE = 120
"""So many letters of reasons stand in one line on a card."""


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
    overload: bool


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
    more_why: bool
    """Whether further reasons stand behind the cards."""

    @property
    def why_halves(self) -> tuple[tuple[tuple[str, str], ...], ...]:
        """The reasons in two columns of about equal length, or in one line when they are short."""
        lengths = [len(decision) + len(because) + 4 for decision, because in self.why]
        if sum(lengths) <= ONE_LINE or len(lengths) < 2:
            return (self.why,) if self.why else ()
        half = min(range(1, len(lengths)), key=lambda cut: (max(sum(lengths[:cut]), sum(lengths[cut:])), cut))
        return self.why[:half], self.why[half:]


def cards(
    job: JobPlan, points: OpenPoints, show: Show, listed: SourceList, shared: SharedReasons
) -> tuple[tuple[Card, ...], Moved]:
    """The cards of all hole types, in the schedule's order, and the reasons that found no room on them.

    Reasons that are `shared` stand before the cards.
    """
    numbers = {loaded.tool: loaded.number for loaded in job.loading}
    operations: dict[tuple[str, Run], int] = {}
    for operation in job.operations:
        for target in operation.targets:
            operations.setdefault((target.letter, run_of(target.cut)), operation.number)
    moved: Moved = {}
    made = tuple(_card(hole, points, show, listed, shared, numbers, operations, moved) for hole in job.holes)
    return made, moved


def _card(
    hole: PlannedHole,
    points: OpenPoints,
    show: Show,
    listed: SourceList,
    shared: SharedReasons,
    numbers: dict[Tool, int],
    operations: dict[tuple[str, Run], int],
    moved: Moved,
) -> Card:
    plan = hole.cut_plan.plan if hole.cut_plan is not None else None
    drawing = section(plan, show) if plan is not None else None
    cuts = hole.cuts
    letter = hole.type.letter
    steps = tuple(_step(cut, letter, show, numbers, operations) for cut in cuts)
    drawn = (
        [(ruler(budget, show), in_words(budget, show)) for budget in dict.fromkeys(plan.budgets)] if plan is not None else []
    )
    rulers = tuple((svg(depths, "depth ruler"), sentence) for depths, sentence in drawn)
    facts, tags, remarks = card_facts(hole, show, listed), card_tags(hole), card_remarks(hole, show)
    words = [len(name) + len(text) + 2 for name, text in (*facts, ("Tags", tags), *(("Drawing says", r) for r in remarks))]
    room = _room(len(steps), [(depths.height, len(sentence)) for depths, sentence in drawn], words)
    kept, left = _that_fit([shared.own(cut) for cut in cuts], room)
    moved.update({(letter, number): reasons for number, reasons in left.items()})
    return Card(
        letter=letter,
        callout=hole.type.hole.callout,
        quantity=count(hole.type.quantity, "hole"),
        hold=hold_text(hole, points),
        left_hand=any(cut.step.tool.left_hand for cut in cuts),
        sketch=svg(drawing, f"section of hole type {letter}") if drawing is not None else "",
        steps=steps,
        rulers=rulers,
        facts=facts,
        tags=tags,
        remarks=remarks,
        why=tuple(said(reason, listed, show) for reason in kept),
        more_why=bool(left),
    )


def _room(steps: int, rulers: Sequence[tuple[float, int]], words: Sequence[int]) -> int:
    """About how many letters of reasons fit on a card of half a page: what is left of its height (in mm) under its steps,
    its rulers with their sentences, and its facts, given by their lengths in letters."""
    if rulers:
        left = sum(height + 2.0 + LINE_MM * ceil(length / 56) for height, length in rulers)
        height = max(left, LINE_MM * sum(ceil(length / 56) for length in words))
    else:
        height = LINE_MM * sum(ceil(length / 112) for length in words)
    lines = (CARD_MM - 14.0 - 4.5 * steps - height) / SMALL_LINE_MM
    return max(int(2 * 56 * lines), LEAST_LETTERS)


def _that_fit(reasons: Sequence[Sequence[Reason]], room: int) -> tuple[list[Reason], dict[int, tuple[Reason, ...]]]:
    """The reasons that fit, and by step those that do not: material and treatment go first, the tap's choice last."""
    placed = [(number, reason) for number, each in enumerate(reasons) for reason in each]
    ranked = sorted(range(len(placed)), key=lambda index: (_rank(placed[index][1]), index))
    kept: set[int] = set()
    for index in ranked:
        room -= len(placed[index][1].decision) + len(placed[index][1].because) + 8
        if room < 0:
            break
        kept.add(index)
    left: dict[int, list[Reason]] = {}
    for index, (number, reason) in enumerate(placed):
        if index not in kept:
            left.setdefault(number, []).append(reason)
    return [placed[index][1] for index in sorted(kept)], {number: tuple(found) for number, found in left.items()}


def _rank(reason: Reason) -> int:
    what = reason.decision.partition(":")[0]
    if what in FIRST:
        return 0
    return 3 if what.endswith(("material", "treatment")) else 2 if what in ("spot", "pecks") else 1


def _step(
    cut: CutStep, letter: str, show: Show, numbers: dict[Tool, int], operations: dict[tuple[str, Run], int]
) -> StepRow:
    step = cut.step
    name = tool_name(step.tool, show)
    number = numbers.get(step.tool)
    _, rpm, _, feed = running_text(cut, show)
    return StepRow(
        str(operations.get((letter, run_of(cut)), NOT_KNOWN)),
        f"T{number}" if number is not None else NOT_KNOWN,
        name.title,
        name.left_hand,
        depth_text(cut, show),
        tip_text(cut, show),
        rpm,
        feed,
        show.torque(cut.torque_nm),
        cut.overload != (),
    )
