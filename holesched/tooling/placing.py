"""The work of one hole put in order and given depths: where each tool starts, how deep its tip goes, how far it is fed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from typing import NamedTuple

from holesched.callouts.model import Side
from holesched.notes import Reason
from holesched.tables import cite_of, table
from holesched.tooling.case import HoleCase
from holesched.tooling.chamfer import on_circle, tip_depth_mm
from holesched.tooling.coolant import coolant_of
from holesched.tooling.depth import point_length_mm
from holesched.tooling.far_face import beyond_mm, past_reason, slope_mm
from holesched.tooling.limits import limit_of
from holesched.tooling.model import CONES, StepKind, Tool, ToolStep, place_in_order
from holesched.tooling.setting import Setting
from holesched.tooling.work import Work

_FLOORS = (StepKind.SPOTFACE, StepKind.DRILL, StepKind.MILL, StepKind.BORE, StepKind.COUNTERBORE)
_OPENED = (StepKind.DRILL, StepKind.MILL, StepKind.BORE)
_PECKED = (StepKind.DRILL,)


def placed(works: Iterable[Work], setting: Setting) -> tuple[ToolStep, ...]:
    """All work of a hole as steps in working order, the near side first; on a slanted face its flat first of all."""
    slanted = setting.slanted
    works = sorted(works, key=lambda work: (work.side is Side.FAR, _place(work, slanted), work.diameter_mm))
    return tuple([_placed(work, works[:index], setting) for index, work in enumerate(works)])


def _place(work: Work, slanted: bool) -> float:
    """A work's place in the order of one hole."""
    flat_first = slanted and work.kind is StepKind.SPOTFACE
    return place_in_order(work.kind, before_thread=work.tool.before_thread, starts_drill=flat_first)


def start_of(work: Work, before: Iterable[Work]) -> float:
    """Where the tool meets material: the floor of the deepest wider hole made before from the same side, else the face."""
    floors = (
        other.depth_mm
        for other in before
        if other.side is work.side
        and other.kind in _FLOORS
        and other.depth_mm is not None
        and not other.through
        and other.diameter_mm >= work.diameter_mm
    )
    return max(floors, default=0.0)


def touch_mm(work: Work, before: Iterable[Work]) -> float:
    """How deep a cone's tip is below its face when the cone first touches the rim of the hole made before it.

    (d / 2) / tan(angle / 2) of the largest hole narrower than the cone's rim, 0 into solid metal. Geometry.
    """
    return point_length_mm(_opened_mm(work, before), work.tool.point_angle_deg or 90.0)


def _opened_mm(work: Work, before: Iterable[Work]) -> float:
    """The largest hole narrower than the cone's rim, 0 into solid metal."""
    holes = (
        other.diameter_mm
        for other in before
        if other.kind in _OPENED and (other.through or other.side is work.side) and other.diameter_mm < work.diameter_mm
    )
    return max(holes, default=0.0)


def _tip_below_mm(work: Work, before: Iterable[Work]) -> float:
    """How deep the sharp tip of what cuts a cone goes below where it enters."""
    if on_circle(work.tool):
        return tip_depth_mm(work.tool, work.diameter_mm, _opened_mm(work, before))
    return point_length_mm(work.diameter_mm, work.tool.point_angle_deg or 90.0)


def _placed(work: Work, before: Sequence[Work], setting: Setting) -> ToolStep:
    shop, start_mm = setting.shop, start_of(work, before)
    fed_from_mm = start_mm
    tip_mm: float | None
    if work.kind in CONES:
        depth_mm: float | None = start_mm + _tip_below_mm(work, before)
        tip_mm = depth_mm
        fed_from_mm += 0.0 if on_circle(work.tool) else touch_mm(work, before)
    else:
        fed_from_mm = max(start_mm, work.from_mm)
        depth_mm = None if work.depth_mm is None else work.depth_mm + slope_mm(work, setting)
        past_mm = beyond_mm(work, setting) if work.through else 0.0
        tip_mm = None if depth_mm is None else depth_mm + work.lead_mm + work.centre_mm + past_mm
    reasons = work.reasons
    if work.through and depth_mm is not None and work.kind not in CONES:
        reasons = (*reasons, past_reason(work, setting))
    deep_d = None if depth_mm is None else (depth_mm - start_mm) / work.diameter_mm
    coolant = coolant_of(work.tool, deep_d, setting)
    tool = _with_ducts(work.tool) if coolant.through_tool else work.tool
    pecks = IN_ONE_GO
    if work.kind in _PECKED and depth_mm is not None:
        pecks = pecks_for(depth_mm - fed_from_mm, tool, setting.case)
    travel_mm = None if tip_mm is None else round(shop.preferences.approach_mm + tip_mm - fed_from_mm, 6)
    depth_mm = None if depth_mm is None else round(depth_mm, 6)
    if work.tool.cuts_back:  # its blade must be clear of the far face before it is fed back
        tip_mm = None if work.depth_mm is None else work.depth_mm + shop.preferences.approach_mm
    return ToolStep(
        kind=work.kind,
        tool=tool,
        step=work.step,
        diameter_mm=work.diameter_mm,
        through=work.through and work.kind not in CONES,
        depth_mm=depth_mm,
        tip_mm=None if tip_mm is None else round(tip_mm, 6),
        travel_mm=travel_mm,
        start_mm=start_mm,
        side=work.side,
        pecks=pecks.count,
        pecks_short=pecks.short,
        fit=work.fit,
        reasons=(*reasons, *pecks.reasons),
        coolant=coolant.text,
        coolant_reasons=coolant.reasons,
        unfinished=work.unfinished,
        limit=limit_of(work, setting),
    )


@lru_cache(maxsize=1024)
def _with_ducts(tool: Tool) -> Tool:
    return replace(tool, ducts=True)


@dataclass(frozen=True, slots=True)
class Pecks:
    """How many bites a hole is drilled in, and whether the drill is only drawn back a little between them."""

    count: int = 1
    short: bool = False
    reasons: tuple[Reason, ...] = ()


IN_ONE_GO = Pecks()


def pecks_for(length_mm: float, drill: Tool, case: HoleCase) -> Pecks:
    """The bites in which a drill makes a length, and why when there is more than one. Common practice, no source.

    The bites of drill_pecks.csv are in diameters, the last one repeated until the depth is reached.
    """
    diameters = length_mm / drill.diameter_mm
    holds = {"", "through-tool" if drill.ducts else "outside", f"{case.chip} chips", *case.traits}
    fitting = (row for row in _peck_rows() if row.ld_from <= diameters < row.ld_below and row.holds_for <= holds)
    row = next(fitting, None)
    if row is None or not row.bites_d:
        return IN_ONE_GO
    count, reached = 0, 0.0
    while reached < diameters - 1e-9:
        reached += row.bites_d[min(count, len(row.bites_d) - 1)]
        count += 1
    because = f"{diameters:.1f} diameters deep: {row.how}"
    reason = Reason(f"pecks: {count}", because, "DRILL-PECKS", (cite_of("drill_pecks.csv"),))
    return Pecks(count, row.short, (reason,))


class _PeckRow(NamedTuple):
    """A row of drill_pecks.csv: from and below which depth, for which coolant and workpiece, and the bites in diameters."""

    ld_from: float
    ld_below: float
    holds_for: frozenset[str]
    bites_d: tuple[float, ...]
    short: bool
    how: str


@cache
def _peck_rows() -> tuple[_PeckRow, ...]:
    return tuple(
        _PeckRow(
            float(row["ld_from"]),
            float(row["ld_below"] or "inf"),
            frozenset((row["coolant"], row["workpiece"])),
            tuple(float(bite) for bite in row["bites_d"].split()),
            row["retract"] == "short",
            row["how"],
        )
        for row in table("drill_pecks.csv").rows
    )
