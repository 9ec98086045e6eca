"""The lists behind the cards: tools, gauges, reasons and sources."""

from __future__ import annotations

from dataclasses import dataclass

from holesched.notes import Reason, Standing
from holesched.reports.naming import sources, tool_name
from holesched.reports.show import NOT_KNOWN, Show
from holesched.sequence.model import JobPlan, LoadedTool


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
    """One gauge: what it is, what it checks, its limits and its use."""

    kind: str
    designation: str
    size: str
    own_limits: str
    how: str
    types: str
    source: str


@dataclass(frozen=True, slots=True)
class ReasonRow:
    """A decision with why, by which rule and source, and what lost; `types` are the hole types it was taken for."""

    types: str
    decision: str
    because: str
    rule: str
    source: str
    instead_of: tuple[str, ...]


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


def gauge_rows(job: JobPlan, show: Show) -> tuple[GaugeRow, ...]:
    """All gauges, in the order in which the hole types need them."""
    rows = []
    for need in job.gauges:
        gauge = need.gauge
        own = show.span(*gauge.tolerance_mm) if gauge.tolerance_mm is not None else NOT_KNOWN
        rows.append(
            GaugeRow(
                gauge.kind,
                gauge.designation,
                show.fine(gauge.size_mm),
                own,
                gauge.how,
                ", ".join(need.letters),
                str(gauge.cite),
            )
        )
    return tuple(rows)


def reason_rows(job: JobPlan) -> tuple[ReasonRow, ...]:
    """Every reason of the job once, with the hole types it holds for, in order of first appearance."""
    letters: dict[Reason, list[str]] = {}
    for hole in job.holes:
        for cut in hole.cut_plan.cuts if hole.cut_plan is not None else ():
            for reason in (*cut.step.reasons, *cut.reasons, *cut.clamps):
                found = letters.setdefault(reason, [])
                if hole.type.letter not in found:
                    found.append(hole.type.letter)
    return tuple(
        ReasonRow(
            ", ".join(types),
            reason.decision,
            reason.because,
            reason.rule,
            sources(reason.cites),
            tuple(f"{lost.candidate}: {lost.because}" for lost in reason.rejected),
        )
        for reason, types in letters.items()
    )


def source_lines(job: JobPlan) -> tuple[str, ...]:
    """Every source that a number or a choice of the job rests on, each once, published ones first."""
    cites = {}
    for hole in job.holes:
        if hole.cut_plan is None:
            continue
        for resolved in hole.cut_plan.plan.resolved.steps:
            cites.update(dict.fromkeys(resolved.cites))
        for cut in hole.cut_plan.cuts:
            cites.update(dict.fromkeys(cut.cites))
            for reason in (*cut.step.reasons, *cut.reasons, *cut.clamps):
                cites.update(dict.fromkeys(reason.cites))
    cites.update(dict.fromkeys(need.gauge.cite for need in job.gauges))
    cites.update(dict.fromkeys(note.cite for note in job.notes if note.cite is not None))
    standing = list(Standing)
    return tuple(
        dict.fromkeys(str(cite) for cite in sorted(cites, key=lambda cite: (standing.index(cite.standing), str(cite))))
    )
