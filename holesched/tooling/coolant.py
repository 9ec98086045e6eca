"""Which coolant each step runs with, and how it is brought there: by the rules, for the operation and its tool."""

from __future__ import annotations

from dataclasses import replace

from holesched.notes import Reason
from holesched.tooling.model import StepKind, ToolStep
from holesched.tooling.rules import decide
from holesched.tooling.setting import Setting

OPERATIONS = {StepKind.TAP: "tapping", StepKind.REAM: "reaming"}
"""What the rules call an operation; everything else is cutting."""
SAID = (
    *("cutting", "tapping", "reaming", "emulsion", "flat fits", "wall too thin", "too heavy", "no drill fits"),
    *("pecked", "tapped from the other side", "no time saved", "larger drill"),
)
"""Words of the column `given` that are no verdicts: the operation, that the fluid is an emulsion, that a hole whose point
is too deep for the part would fit with a flat bottom, that a drill is too heavy for the machine or none fits, what
speaks against a step drill, and that a tap has been reckoned with the larger drill its load called for."""
SUPPLIED = (StepKind.DRILL, StepKind.TAP)
"""Tools that may have coolant through them."""
FLOOD = ", flood"
OUTSIDE = "from outside"


def coolant_of(step: ToolStep, setting: Setting) -> tuple[str, tuple[Reason, ...]]:
    """A step's coolant and the reasons for it."""
    fluid = decide("coolant", setting.case, said_of(step), setting.book)
    text = fluid.value
    reasons: tuple[Reason, ...] = (fluid.reason,)
    if step.kind in SUPPLIED and "through-tool coolant" in setting.case.machine and step.depth_mm is not None:
        deep = replace(setting.case, depth_d=(step.depth_mm - step.start_mm) / step.diameter_mm)
        given = frozenset(("emulsion",)) if "emulsion" in text else frozenset[str]()
        supply = decide("coolant supply", deep, given, setting.book)
        if supply.value != OUTSIDE:
            text, reasons = f"{text.removesuffix(FLOOD)}, {supply.value}", (*reasons, supply.reason)
    return text, reasons


def said_of(step: ToolStep) -> frozenset[str]:
    """The operation, what makes a thread, and the tool's material, in the rules' words."""
    words = {OPERATIONS.get(step.kind, "cutting"), step.tool.material}
    return frozenset(words | {step.process} if step.process else words)
