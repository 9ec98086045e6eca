"""The operations table: an operation, and in it one line for all hole types that are cut alike."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from holesched.cutting.model import CutStep
from holesched.reports.naming import tool_name
from holesched.reports.overloads import STAMP
from holesched.reports.show import NOT_KNOWN, Show, count
from holesched.sequence.model import JobPlan, JobTime, Operation, Target
from holesched.tooling.model import StepKind, Tool, ToolStep

NEAR_FACE = "Set-up 1, near face"
FAR_FACE = "Set-up 2, far face, part turned over"
AT_THE_BENCH = "By hand, at the bench"
LINES_TOGETHER = 4
"""Up to so many lines of one operation stay together on a page."""


@dataclass(frozen=True, slots=True)
class CutLine:
    """Hole types that one operation cuts alike: "A, C: 14×", depths, speed and feed. The stamps stand beside the holes."""

    holes: str
    stamps: tuple[str, ...]
    depth: str
    tip: str
    speed: str
    rpm: str
    feed_per_rev: str
    feed: str


@dataclass(frozen=True, slots=True)
class OperationRow:
    """One operation: its tool, its lines, its coolant and its time for one part."""

    number: int
    tool: str
    title: str
    material: str
    left_hand: bool
    place: str
    """Where the part is, where it moves before this operation; "" where it stays."""
    lines: tuple[CutLine, ...]
    coolants: Mapping[str, tuple[str, ...]]
    """Each coolant with the letters of the hole types that take it."""
    minutes: str

    @property
    def together(self) -> bool:
        """Whether the lines stay on one page; a longer operation may go on on the next."""
        return len(self.lines) <= LINES_TOGETHER


MORE_THAN = "more than "
"""Before a time in which that of some step is missing."""


@dataclass(frozen=True, slots=True)
class Times:
    """Minutes for one part, as text."""

    cutting: str
    positioning: str
    tool_change: str
    total: str
    at_machine: str
    by_hand: str = ""
    """What of the cutting is done by hand; "" where nothing is."""


def operation_rows(job: JobPlan, show: Show) -> tuple[OperationRow, ...]:
    """All operations in order."""
    tools = {loaded.number: loaded.tool for loaded in job.loading}
    held_rows = {hole.type.letter: len(hole.held_rows) for hole in job.holes if hole.held_rows}
    rows = []
    two_faces = any(operation.set_up > 1 for operation in job.operations)
    before = "" if two_faces else NEAR_FACE
    for operation in job.operations:
        tool = tools[operation.tool_number]
        name = tool_name(tool, show)
        place = place_of(operation, tool)
        rows.append(
            OperationRow(
                number=operation.number,
                tool=f"T{operation.tool_number}",
                title=name.title,
                material=tool.material,
                left_hand=name.left_hand,
                place=place if place != before else "",
                lines=tuple(_line(group, held_rows, show) for group in _groups(operation)),
                coolants=_coolants(operation),
                minutes=show.minutes(operation.time_min),
            )
        )
        before = place
    return tuple(rows)


def place_of(operation: Operation, tool: Tool) -> str:
    """Where the part is for an operation with this tool."""
    return AT_THE_BENCH if tool.by_hand else FAR_FACE if operation.set_up > 1 else NEAR_FACE


def times(time: JobTime, show: Show) -> Times:
    """The job's times for one part."""
    least = "" if time.is_whole else MORE_THAN
    return Times(
        cutting=least + show.minutes(time.cutting_min),
        positioning=show.minutes(time.positioning_min),
        tool_change=show.minutes(time.tool_change_min),
        total=least + show.minutes(time.total_min),
        at_machine=least + show.minutes(time.total_min - time.by_hand_min),
        by_hand=show.minutes(time.by_hand_min) if time.by_hand_min else "",
    )


def _coolants(operation: Operation) -> dict[str, tuple[str, ...]]:
    found: dict[str, list[str]] = {}
    for target in operation.targets:
        found.setdefault(target.cut.coolant, []).append(target.letter)
    return {coolant: tuple(letters) for coolant, letters in found.items()}


BY_HAND = "by hand"


def running_text(cut: CutStep, show: Show) -> tuple[str, str, str, str]:
    """(speed, spindle, feed a turn, feed rate) as text; a tool that is turned by hand has none of them."""
    if cut.step.tool.by_hand:
        return NOT_KNOWN, BY_HAND, NOT_KNOWN, NOT_KNOWN
    exact = cut.step.kind is StepKind.TAP
    return (
        show.surface(cut.surface_m_per_min),
        show.rpm(cut.spindle_rpm),
        show.feed_per_rev(cut.feed_mm_per_rev, exact),
        show.feed(cut.feed_mm_per_min, exact),
    )


def depth_text(cut: CutStep, show: Show) -> str:
    """The depth that matters for the step: full diameter or full thread, the diameter to open to for a cone, or through."""
    step = cut.step
    pecks = f", {count(step.pecks, 'peck')}" if step.pecks > 1 else ""
    if step.kind in (StepKind.SPOT, StepKind.COUNTERSINK):
        return f"to ⌀{show.short(step.diameter_mm)}"
    return f"{'through' if step.through else show.length(step.depth_mm)}{pecks}{_shoulder_text(step, show)}"


def _shoulder_text(step: ToolStep, show: Show) -> str:
    """What the shoulder of a step drill makes: ", shoulder 6.80" deep, or ", shoulder to ⌀8.4" for a cone at the face."""
    also = step.also
    if also is None:
        return ""
    to_rim = also.kind is StepKind.COUNTERSINK
    return f", shoulder {f'to ⌀{show.short(also.diameter_mm)}' if to_rim else show.length(also.depth_mm)}"


def tip_text(cut: CutStep, show: Show) -> str:
    """The depth of the tool's tip, which the control is given."""
    return show.length(cut.step.tip_mm) if cut.step.tip_mm is not None else NOT_KNOWN


def _groups(operation: Operation) -> list[list[Target]]:
    """Targets that are cut alike, in order of first appearance."""
    alike: dict[tuple[object, ...], list[Target]] = {}
    for target in operation.targets:
        cut, step = target.cut, target.cut.step
        key = (step.depth_mm, step.tip_mm, step.diameter_mm, step.through, step.pecks, cut.spindle_rpm, cut.feed_mm_per_min)
        alike.setdefault((*key, target.on_hold, cut.overload != ()), []).append(target)
    return list(alike.values())


def _line(group: Sequence[Target], held_rows: Mapping[str, int], show: Show) -> CutLine:
    cut = group[0].cut
    speed, rpm, feed_per_rev, feed = running_text(cut, show)
    letters = ", ".join(dict.fromkeys(target.letter for target in group))
    single = sum(held_rows.get(target.letter, 0) for target in group)
    hold = "HOLD" if group[0].on_hold else f"HOLD {count(single, 'row')}" if single else ""
    return CutLine(
        holes=f"{letters}: {sum(target.quantity for target in group)}×",
        stamps=tuple(each for each in (hold, STAMP if cut.overload else "") if each),
        depth=depth_text(cut, show),
        tip=tip_text(cut, show),
        speed=speed,
        rpm=rpm,
        feed_per_rev=feed_per_rev,
        feed=feed,
    )
