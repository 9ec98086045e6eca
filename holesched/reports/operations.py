"""The operations table: one row an operation, one line in it for all hole types that are cut alike."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from holesched.cutting.model import CutStep
from holesched.reports.naming import tool_name
from holesched.reports.show import NOT_KNOWN, Show, count
from holesched.sequence.model import JobPlan, JobTime, Operation, Target
from holesched.tooling.model import StepKind


@dataclass(frozen=True, slots=True)
class OperationRow:
    """One operation. `groups` are the hole types cut alike, each with whether it is on hold; the texts of `depth` to `feed`
    hold one line for each of them, or a single line that is true of all."""

    number: int
    tool: str
    title: str
    material: str
    left_hand: bool
    set_up: int
    groups: tuple[tuple[str, bool], ...]
    depth: str
    tip: str
    speed: str
    rpm: str
    feed_per_rev: str
    feed: str
    coolant: str
    minutes: str


@dataclass(frozen=True, slots=True)
class Times:
    """Minutes for one part, as text."""

    cutting: str
    positioning: str
    tool_change: str
    total: str


def operation_rows(job: JobPlan, show: Show) -> tuple[OperationRow, ...]:
    """All operations in order."""
    tools = {loaded.number: loaded.tool for loaded in job.loading}
    rows = []
    for operation in job.operations:
        name = tool_name(tools[operation.tool_number], show)
        groups = _groups(operation)
        lines = [_line(group, show) for group in groups]
        texts = [_column([line[index] for line in lines], index < 2) for index in range(6)]
        rows.append(
            OperationRow(
                operation.number,
                f"T{operation.tool_number}",
                name.title,
                tools[operation.tool_number].material,
                name.left_hand,
                operation.set_up,
                tuple((_holes(group), group[0].on_hold) for group in groups),
                texts[0],
                texts[1],
                texts[2],
                texts[3],
                texts[4],
                texts[5],
                "\n".join(dict.fromkeys(target.cut.coolant for target in operation.targets)),
                show.minutes(operation.time_min),
            )
        )
    return tuple(rows)


def times(time: JobTime, show: Show) -> Times:
    """The job's times for one part."""
    values = (time.cutting_min, time.positioning_min, time.tool_change_min, time.total_min)
    return Times(*(show.minutes(value) for value in values))


def depth_text(cut: CutStep, show: Show) -> str:
    """The depth that matters for the step: full diameter or full thread, the diameter to open to for a cone, or through."""
    step = cut.step
    if step.kind in (StepKind.SPOT, StepKind.COUNTERSINK):
        return f"to ⌀{show.short(step.diameter_mm)}"
    return "through" if step.through else show.length(step.depth_mm)


def tip_text(cut: CutStep, show: Show) -> str:
    """The depth of the tool's tip, which the control is given."""
    return show.length(cut.step.tip_mm) if cut.step.tip_mm is not None else NOT_KNOWN


def _groups(operation: Operation) -> list[list[Target]]:
    """Targets that are cut alike, in order of first appearance."""
    alike: dict[tuple[object, ...], list[Target]] = {}
    for target in operation.targets:
        cut, step = target.cut, target.cut.step
        key = (step.depth_mm, step.tip_mm, step.diameter_mm, step.through, step.pecks, cut.spindle_rpm, cut.feed_mm_per_min)
        alike.setdefault((*key, target.on_hold), []).append(target)
    return list(alike.values())


def _holes(group: Sequence[Target]) -> str:
    letters = ", ".join(dict.fromkeys(target.letter for target in group))
    return f"{letters}: {sum(target.quantity for target in group)}×"


def _line(group: Sequence[Target], show: Show) -> tuple[str, ...]:
    cut = group[0].cut
    pecks = f", {count(cut.step.pecks, 'peck')}" if cut.step.pecks > 1 else ""
    return (
        f"{depth_text(cut, show)}{pecks}",
        tip_text(cut, show),
        show.surface(cut.surface_m_per_min),
        show.rpm(cut.spindle_rpm),
        show.feed_per_rev(cut.feed_mm_per_rev),
        show.feed(cut.feed_mm_per_min, cut.step.kind is StepKind.TAP),
    )


def _column(texts: Sequence[str], always: bool) -> str:
    """One line a group; a column whose lines are all the same says it once, unless its lines must stand beside others."""
    return texts[0] if not always and len(set(texts)) == 1 else "\n".join(texts)
