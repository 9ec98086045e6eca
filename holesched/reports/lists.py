"""The lists behind the cards: tools, gauges, reasons and sources."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from holesched.cutting.model import CutStep
from holesched.notes import Reason
from holesched.reports.naming import tool_name
from holesched.reports.shared_reasons import SharedReasons, figures
from holesched.reports.show import NOT_KNOWN, Show
from holesched.reports.source_list import SourceList
from holesched.sequence.model import JobPlan, LoadedTool
from holesched.tooling.model import Tool

LOST_SHOWN = 4
"""So many of a decision's losers are printed; the machine-readable file has all."""
NOT_ASKED_FOR = "no row asks for it"
"""How the rules of choice say that nothing spoke for a candidate: true, and no news on paper."""


@dataclass(frozen=True, slots=True)
class ToolRow:
    """One tool of the job."""

    number: int
    tool: str
    pot: str
    title: str
    detail: str
    left_hand: bool
    holder: str
    stick_out: str
    speed: str
    feed: str
    operations: str
    types: str
    holes: int
    life: str


@dataclass(frozen=True, slots=True)
class GaugeRow:
    """One gauge: what it is, the size it checks, its own limits and its use."""

    kind: str
    size: str
    own_limits: str
    how: str
    source: str


@dataclass(frozen=True, slots=True)
class GaugeSet:
    """All gauges that prove one thread or one fit."""

    designation: str
    types: str
    gauges: tuple[GaugeRow, ...]


@dataclass(frozen=True, slots=True)
class StepReasons:
    """What one step's figures rest on, and what was not chosen for it, beyond what its card says."""

    tool: str
    title: str
    figures: tuple[tuple[str, str], ...]
    not_chosen: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TypeReasons:
    """The reasons of one hole type, step by step."""

    letter: str
    callout: str
    steps: tuple[StepReasons, ...]


def tool_rows(job: JobPlan, show: Show) -> tuple[ToolRow, ...]:
    """All tools by number."""
    return tuple(_tool_row(loaded, job, show) for loaded in job.loading)


def _tool_row(loaded: LoadedTool, job: JobPlan, show: Show) -> ToolRow:
    name = tool_name(loaded.tool, show)
    cuts = [
        target.cut for operation in job.operations if operation.tool_number == loaded.number for target in operation.targets
    ]
    speeds = [cut.spindle_rpm for cut in cuts]
    feeds = [cut.feed_mm_per_min for cut in cuts]
    exact = loaded.tool.pitch_mm is not None
    return ToolRow(
        loaded.number,
        f"T{loaded.number}",
        str(loaded.pot) if loaded.pot is not None else "none",
        name.title,
        name.detail,
        name.left_hand,
        loaded.holder,
        show.length(loaded.stick_out_mm),
        _range([show.rpm(speed) for speed in sorted(speeds)]),
        _range([show.feed(feed, exact) for feed in sorted(feeds)]),
        ", ".join(str(number) for number in loaded.operations),
        ", ".join(loaded.letters),
        loaded.holes,
        _life(loaded.life_holes, show),
    )


def _range(texts: list[str]) -> str:
    if not texts:
        return NOT_KNOWN
    return texts[0] if texts[0] == texts[-1] else f"{texts[0]} to {texts[-1]}"


def _life(life: tuple[float, float] | None, show: Show) -> str:
    return f"{show.number(life[0], 0)} to {show.number(life[1], 0)}" if life is not None else NOT_KNOWN


def gauge_sets(job: JobPlan, show: Show, listed: SourceList | None = None) -> tuple[GaugeSet, ...]:
    """Gauges by what they prove, in the order in which the hole types need them; sources by number where there is a list."""
    sets: dict[tuple[str, tuple[str, ...]], list[GaugeRow]] = {}
    for need in job.gauges:
        gauge = need.gauge
        own = show.span(*gauge.tolerance_mm) if gauge.tolerance_mm is not None else NOT_KNOWN
        source = listed.mark((gauge.cite,)).strip() if listed is not None else str(gauge.cite)
        row = GaugeRow(gauge.kind, show.fine(gauge.size_mm), own, gauge.how, source)
        sets.setdefault((gauge.designation, need.letters), []).append(row)
    return tuple(GaugeSet(name, ", ".join(letters), tuple(rows)) for (name, letters), rows in sets.items())


def type_reasons(job: JobPlan, show: Show, listed: SourceList, shared: SharedReasons) -> tuple[TypeReasons, ...]:
    """Speeds, feeds, loads and times of every step with their reasons, and what was not chosen, in the schedule's order;
    without the reasons that are `shared` by all."""
    numbers = {loaded.tool: loaded.number for loaded in job.loading}
    found = []
    for hole in job.holes:
        cuts = hole.cut_plan.cuts if hole.cut_plan is not None else ()
        steps = tuple(_step_reasons(cut, numbers, show, listed, shared) for cut in cuts)
        if any(step.figures or step.not_chosen for step in steps):
            found.append(TypeReasons(hole.type.letter, hole.type.hole.callout, steps))
    return tuple(found)


def _step_reasons(
    cut: CutStep, numbers: Mapping[Tool, int], show: Show, listed: SourceList, shared: SharedReasons
) -> StepReasons:
    tool = cut.step.tool
    return StepReasons(
        tool=f"T{numbers[tool]}" if tool in numbers else "",
        title=tool_name(tool, show).title,
        figures=tuple(
            (reason.decision, f"{reason.because}{listed.mark(reason.cites)}") for reason in shared.own(cut, figures(cut))
        ),
        not_chosen=tuple(text for reason in cut.step.reasons for text in _lost(reason)),
    )


def _lost(reason: Reason) -> list[str]:
    """The candidates that lost for a cause of their own; the last of a long list stand next to what was chosen."""
    lost = [f"{each.candidate}, {each.because}" for each in reason.rejected if not each.because.startswith(NOT_ASKED_FOR)]
    left_out = len(lost) - LOST_SHOWN
    if left_out <= 0:
        return lost
    return [*lost[left_out:], f"and {left_out} more (sheet.json)"]
