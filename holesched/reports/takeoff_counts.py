"""The takeoff's counts: holes, tools and gauges by size over one or many jobs, for a lot. Pure sums, nothing shown yet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import ceil

from holesched.callouts.model import Kind
from holesched.features.model import Feature
from holesched.reports.naming import diameter_name, tool_name
from holesched.reports.show import Show
from holesched.sequence.model import JobPlan
from holesched.tooling.model import StepKind, Tool

MADE = {
    Kind.DRILL: "drilled",
    Kind.REAM: "reamed",
    Kind.BORE: "bored",
    Kind.COUNTERBORE: "counterbored",
    Kind.COUNTERSINK: "countersunk",
    Kind.SPOTFACE: "spotfaced",
    Kind.TAP: "tapped",
}
NOT_READ = ("not read", "see the open questions")
"""How holes are counted whose callout gave none."""


@dataclass(slots=True)
class HoleSum:
    """Holes of one size over all jobs, for one part each."""

    kind: str
    size: str
    order: tuple[int, float]
    per_part: int = 0
    on_hold: int = 0
    jobs: dict[str, None] = field(default_factory=dict)


@dataclass(slots=True)
class ToolSum:
    """Holes that one tool makes over all jobs; `used_low` and `used_high` in tools for the lot, by each job's stated life,
    and `lived` the holes they make."""

    tool: Tool
    title: str
    detail: str
    per_part: int = 0
    used_low: float = 0.0
    used_high: float = 0.0
    lived: int = 0
    jobs: dict[str, None] = field(default_factory=dict)

    @property
    def life(self) -> tuple[float, float] | None:
        """Holes one tool makes over all jobs, low and high, as they are consumed, whole from one on; None when no life is
        stated."""
        if not self.lived:
            return None
        low, high = (self.lived / used for used in (self.used_high, self.used_low))
        return _whole(low), _whole(high)

    @property
    def tools_low(self) -> int | None:
        """Whole tools worn out at the long life, at least the one that is needed; None when no life is stated."""
        return None if self.life is None else max(1, ceil(self.used_low - 1e-9))

    @property
    def tools_high(self) -> int | None:
        """Whole tools worn out at the short life."""
        return None if self.life is None else max(1, ceil(self.used_high - 1e-9))


def _whole(holes: float) -> float:
    return float(round(holes)) if holes >= 1 else round(holes, 2)


@dataclass(slots=True)
class GaugeSum:
    """One gauge over all jobs."""

    kind: str
    designation: str
    size_mm: float
    jobs: dict[str, None] = field(default_factory=dict)


def count_holes(jobs: Sequence[JobPlan]) -> list[HoleSum]:
    """Features by kind and size, in the order tapped, reamed, drilled ...; those on hold are counted beside.

    Holes whose callout could not be read are a line of their own: they are not forgotten in a quote.
    """
    sums: dict[tuple[str, str], HoleSum] = {}
    ranks = (Kind.TAP, Kind.REAM, Kind.BORE, Kind.DRILL, Kind.COUNTERBORE, Kind.COUNTERSINK, Kind.SPOTFACE)
    for job in jobs:
        for hole in job.holes:
            for feature in hole.type.hole.features:
                kind, size = MADE[feature.kind], feature_size(feature)
                order = (ranks.index(feature.kind), feature.diameter.mm)
                line = sums.setdefault((kind, size), HoleSum(kind, size, order))
                line.per_part += hole.type.quantity
                line.on_hold += hole.type.quantity if hole.on_hold or hole.cut_plan is None else 0
                line.jobs[job_name(job)] = None
        for row in job.unread:
            line = sums.setdefault(NOT_READ, HoleSum(*NOT_READ, (len(ranks), 0.0)))
            line.per_part += row.count
            line.on_hold += row.count
            line.jobs[job_name(job)] = None
    return sorted(sums.values(), key=lambda line: (line.order, line.size))


def feature_size(feature: Feature) -> str:
    """A feature's size as it is counted: M8x1.25-6H, ⌀8 H7, ⌀10.4 × 90°."""
    if feature.thread is not None:
        return feature.thread.designation
    text = diameter_name(feature.diameter)
    if feature.tolerance is not None and feature.tolerance.zone is not None:
        text = f"{text} {feature.tolerance.zone}"
    return f"{text} × {feature.angle_deg:g}°" if feature.angle_deg is not None else text


def count_tools(jobs: Sequence[JobPlan], lot: int, show: Show) -> list[ToolSum]:
    """Tools over all jobs, taps first, then drills, then the rest; consumption by each job's own tool life."""
    sums: dict[Tool, ToolSum] = {}
    for job in jobs:
        for loaded in job.loading:
            name = tool_name(loaded.tool, show)
            line = sums.setdefault(loaded.tool, ToolSum(loaded.tool, name.title, name.detail))
            line.per_part += loaded.holes
            line.jobs[job_name(job)] = None
            if loaded.life_holes is None:
                continue
            low, high = loaded.life_holes
            line.lived += loaded.holes * lot
            line.used_low += loaded.holes * lot / high
            line.used_high += loaded.holes * lot / low
    ranks = [StepKind.TAP, StepKind.DRILL, *(kind for kind in StepKind if kind not in (StepKind.TAP, StepKind.DRILL))]
    return sorted(sums.values(), key=lambda line: (ranks.index(line.tool.kind), line.tool.diameter_mm, line.detail))


def count_gauges(jobs: Sequence[JobPlan]) -> list[GaugeSum]:
    """Every gauge once, with the jobs that need it."""
    sums: dict[tuple[str, str, float], GaugeSum] = {}
    for job in jobs:
        for need in job.gauges:
            gauge = need.gauge
            key = (gauge.kind, gauge.designation, gauge.size_mm)
            sums.setdefault(key, GaugeSum(*key)).jobs[job_name(job)] = None
    return list(sums.values())


def common_lot(jobs: Sequence[JobPlan]) -> int:
    """The lot that all jobs were planned for; 1 where they differ or none is known."""
    lots = {job.header.lot for job in jobs}
    return (lots.pop() if len(lots) == 1 else None) or 1


def job_name(job: JobPlan) -> str:
    """The part number, or the file's name where there is none."""
    return job.header.part_number or job.source
