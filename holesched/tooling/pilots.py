"""What the pilot of a counterbore or spotface cutter runs in, and where the cutter must do without one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from holesched.callouts.model import Side
from holesched.notes import Reason
from holesched.tooling.model import OPENING, StepKind, Tool, ToolStep, place_in_order
from holesched.tooling.work import Work

PILOTED = (StepKind.COUNTERBORE, StepKind.SPOTFACE)
FLAT_CUTTER = "FLAT-CUTTER"
"""Rule of the reason that says why a flat cutter is what it is."""
WITHOUT = "without pilot"
IN_SOLID = f"{WITHOUT} and cutting over its centre, as an end mill does: there is no hole for one to run in"


def guided(works: Sequence[Work]) -> list[Work]:
    """The works with every flat cutter told what its pilot runs in; without one where that would be a finished thread or
    bore, which it would spoil, or no hole at all. Common practice, no source.
    """
    return [_guided(work, works) if work.kind in PILOTED and not starts(work.tool) else work for work in works]


def starts(tool: Tool) -> bool:
    """Whether it is known already to have no pilot: it makes the flat that a drill starts on."""
    return tool.name.endswith(WITHOUT)


def _guided(cutter: Work, works: Sequence[Work]) -> Work:
    hole = _entered(cutter, works)
    if hole is None:
        return _told(cutter, IN_SOLID)
    if hole.kind.makes_thread:
        return _told(cutter, f"{WITHOUT}, like an end mill: one would run in the finished thread {hole.tool.size}")
    if is_finished(hole):
        return _told(cutter, f"{WITHOUT}, like an end mill: one would score the finished hole of {hole.diameter_mm:.4g} mm")
    return _told(cutter, "its pilot runs in the hole drilled before it")


def _entered(cutter: Work, works: Sequence[Work]) -> Work | None:
    """The hole that its pilot goes into: the widest that is narrower and there before it, on its face. What a person taps is
    not there yet: that is done at the bench, after all else."""
    there = (
        work
        for work in works
        if (work.kind in OPENING or work.kind.makes_thread) and not work.tool.by_hand
        if work.diameter_mm < cutter.diameter_mm and _turn(work) < _turn(cutter)
        if work.through or work.side is cutter.side
    )
    return max(there, key=lambda work: (work.diameter_mm, _turn(work)), default=None)


def _turn(work: Work) -> tuple[bool, float]:
    """When it is made: the near side first."""
    return work.side is Side.FAR, place_in_order(work.kind, before_thread=work.tool.before_thread, starts_drill=False)


def is_finished(hole: Work | ToolStep) -> bool:
    """Whether this reams or bores a hole to its limits."""
    to_limits = hole.kind is StepKind.BORE and hole.step is not None and hole.step.limits is not None
    return to_limits or (hole.kind is StepKind.REAM and not hole.tool.before_thread)


def _told(cutter: Work, how: str) -> Work:
    """The cutter with its reason completed, and without pilot by name where it has none."""
    reasons = tuple(_with(reason, how) if reason.rule == FLAT_CUTTER else reason for reason in cutter.reasons)
    tool = without_pilot(cutter.tool) if how.startswith(WITHOUT) else cutter.tool
    return replace(cutter, tool=tool, reasons=reasons)


def without_pilot(tool: Tool) -> Tool:
    """A flat cutter that has none, which is another tool than one that has."""
    return replace(tool, name=f"{tool.name} {WITHOUT}")


def _with(reason: Reason, how: str) -> Reason:
    return reason._replace(because=f"{reason.because}; {how}")
