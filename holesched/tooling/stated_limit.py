"""The limit of the tap that a drawing states (H3, D5), beside the one that the rules choose."""

from __future__ import annotations

from holesched.notes import Cite, Note, Severity, Standing
from holesched.resolve.model import ResolvedStep
from holesched.tooling.model import StepKind, Tool
from holesched.tooling.tap_classes import CLOSE_MM, h_limit_mm, permitted_mm

D_STEP_MM = 0.013
"""A D limit is as many of these over the basic pitch diameter at most."""
H_CITE = Cite("Machinery's Handbook", "31st edition", "p. 972, tap marking")
D_CITE = Cite("ASME B94.9", place="D limits of metric taps: steps of 0.013 mm", standing=Standing.FROM_MEMORY)


def stated_limit_note(step: ResolvedStep, tool: Tool | None) -> Note | None:
    """What is to be seen to where the drawing states the tap's limit; None: it states none. `tool`: None where the thread is
    not cut here. A stated limit that cannot cut inside the thread's own limits is asked."""
    element = step.feature.element
    stated = element.tap_limit if element is not None else ""
    geometry = step.thread
    if not stated or geometry is None:
        return None
    said = f"{geometry.spec.designation}: the drawing states the tap's limit {stated}"
    least_mm, most_mm = permitted_mm(geometry)
    low_mm, high_mm, cite = _span_mm(stated)
    if (low_mm is not None and low_mm < least_mm - CLOSE_MM) or high_mm > most_mm + CLOSE_MM or high_mm <= least_mm:
        allowed = f"{least_mm:.3f} to {most_mm:.3f} mm"
        sentence = f"{said}, up to {high_mm:.3f} mm over the basic pitch diameter; the thread's own limits leave {allowed}."
        hint = "Correct the limit, or the thread's class."
        return Note("TAP-LIMIT-STATED", Severity.ASK, sentence, hint, _planned(tool), cite=cite)
    if tool is None or tool.kind is not StepKind.TAP:
        made = "no tap cuts it here" if tool is None else "it is milled, and the radius of the path makes its pitch diameter"
        return Note("TAP-LIMIT-STATED", Severity.WATCH, f"{said}; {made}.", cite=cite)
    if tool.limit == stated.removeprefix("G"):
        return Note("TAP-LIMIT-STATED", Severity.TOLD, f"{said}: the tap chosen has it.", cite=cite)
    sentence = f"{said}, {high_mm:.3f} mm over the basic pitch diameter at most; the rules choose {tool.limit}."
    inside = "It cuts inside the thread's limits as well. " if low_mm is not None else ""
    hint = f"{inside}Take a tap of {stated} if the drawing is to be followed to the letter."
    return Note("TAP-LIMIT-STATED", Severity.WATCH, sentence, hint, cite=cite)


def _planned(tool: Tool | None) -> str:
    if tool is None:
        return "Planned without a tap."
    return f"Planned with a tap of {tool.limit}." if tool.kind is StepKind.TAP else "Planned as milled."


def _span_mm(stated: str) -> tuple[float | None, float, Cite]:
    """Lowest (None: not held) and highest pitch diameter over basic of a tap with such a limit, in mm."""
    number = int(stated.lstrip("GHD"))
    if stated[0] == "D":
        return None, round(number * D_STEP_MM, 6), D_CITE
    low_mm, high_mm = h_limit_mm(number)
    return low_mm, high_mm, H_CITE
