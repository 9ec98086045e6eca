"""How deep a tool goes for its width: what to watch, and from where on no usual tool reaches."""

from __future__ import annotations

from collections.abc import Sequence

from holesched.notes import COMMON_PRACTICE, Note, Severity
from holesched.tooling.model import StepKind, ToolStep

DEEP_DIAMETERS = 8.0
"""Drilled deeper than this the shop must look. Common practice, no source."""
LONGEST_DIAMETERS = {
    StepKind.DRILL: 15.0,
    StepKind.MILL: 6.0,
    StepKind.THREAD_MILL: 5.0,
    StepKind.BORE: 8.0,
}
"""Of each tool's own diameter: a long drill, a mill on a relieved neck, a thread mill, a carbide bar. Special tools reach
further. Common practice, no source."""
_CLOSE = 1e-6
_WAYS = {
    StepKind.DRILL: "Ask for less depth, or for deep-hole drilling (a single-lip drill with coolant at pressure, or spark "
    "erosion); a through hole can be drilled from both sides.",
    StepKind.MILL: "Ask for less depth; else a special long tool, or the hole is bored or trepanned elsewhere.",
    StepKind.THREAD_MILL: "Ask for a shorter thread (1.5 to 2 diameters hold); else tap it, or order a special long cutter.",
    StepKind.BORE: "Ask for less depth; else a damped bar, a larger machine, or boring from both sides.",
}
SAID_BEFORE = {StepKind.DRILL: "HOLE-DEEP", StepKind.MILL: "MILL-REACH", StepKind.THREAD_MILL: "THREAD-MILL-DEEP"}
"""What is watched at a lesser depth, and need not be said beside the question."""


def diameters_deep(step: ToolStep) -> float:
    """How many diameters of its tool a step is deep, from where the tool meets the part; 0 where its depth is not known."""
    return 0.0 if step.depth_mm is None else (step.depth_mm - step.start_mm) / step.tool.diameter_mm


def reaches(kind: StepKind, deep_mm: float | None, diameter_mm: float) -> bool:
    """Whether a usual tool of that kind and diameter goes so deep; of an unknown depth it is not doubted."""
    return deep_mm is None or deep_mm <= (1 + _CLOSE) * LONGEST_DIAMETERS[kind] * diameter_mm


def reach_notes(notes: Sequence[Note], steps: Sequence[ToolStep]) -> list[Note]:
    """The notes of a hole with one question about the tools that go deeper than any usual one, in place of what is watched
    at a lesser depth; deep drills are watched."""
    worst = [_worst(kind, steps) for kind in LONGEST_DIAMETERS]
    beyond = sorted((step for step in worst if step is not None and _excess(step) > 1 + _CLOSE), key=_excess, reverse=True)
    needless = {SAID_BEFORE.get(step.kind) for step in beyond}
    found = [note for note in notes if note.code not in needless]
    found += [_beyond(beyond)] if beyond else []
    if SAID_BEFORE[StepKind.DRILL] not in needless:
        drills = (step for step in steps if step.kind is StepKind.DRILL)
        found += [_deep(step) for step in drills if diameters_deep(step) > DEEP_DIAMETERS]
    return found


def _excess(step: ToolStep) -> float:
    """A step's depth over what its tool reaches."""
    return diameters_deep(step) / LONGEST_DIAMETERS[step.kind]


def _worst(kind: StepKind, steps: Sequence[ToolStep]) -> ToolStep | None:
    return max((step for step in steps if step.kind is kind), key=diameters_deep, default=None)


def _beyond(steps: Sequence[ToolStep]) -> Note:
    """The question about tools that do not reach, the worst first."""
    told = [
        f"{step.tool.called}: {(step.depth_mm or 0.0) - step.start_mm:.4g} mm deep, "
        f"{diameters_deep(step):.1f} of its diameters, where usual ones reach about {LONGEST_DIAMETERS[step.kind]:g}"
        for step in steps
    ]
    message = "; ".join(told)
    assumed = "Planned to the depth shown, with a tool that the shop may not have."
    way = _WAYS[steps[0].kind]
    return Note("TOOL-REACH", Severity.ASK, f"{message}.", way, assumed, cite=COMMON_PRACTICE)


def _deep(step: ToolStep) -> Note:
    message = f"{step.tool.called}: {diameters_deep(step):.1f} diameters deep."
    suggestion = "Use a long drill with coolant through it, or drill from both sides."
    return Note("HOLE-DEEP", Severity.WATCH, message, suggestion)
