"""Which coolant each step runs with, and how it is brought there: by the rules, for the operation and its tool."""

from __future__ import annotations

from dataclasses import replace

from holesched.notes import Reason
from holesched.tooling.model import StepKind, Tool
from holesched.tooling.rules import decide
from holesched.tooling.setting import Setting

OPERATIONS = {StepKind.TAP: "tapping", StepKind.REAM: "reaming"}
"""What the rules call an operation; everything else is cutting."""
SAID = (
    *("cutting", "tapping", "reaming", "emulsion", "flat fits", "wall too thin", "too heavy", "no drill fits"),
    *("point too deep", "pecked", "tapped from the other side", "no time saved", "larger drill", "close to the limit"),
)
"""Words of the column `given` that are no verdicts: the operation, that the fluid is an emulsion, that a hole whose point
is too deep for the part would fit with a flat bottom, or is shallower than its point, that a drill is too heavy for the
machine or none fits, what speaks against a step drill, that a tap has been reckoned with the larger drill its load called
for, and that a drill's worst hole would leave the limits."""
SUPPLIED = (StepKind.DRILL, StepKind.TAP)
"""Tools that may have coolant through them."""
FLOOD = ", flood"
OUTSIDE = "from outside"


def coolant_of(tool: Tool, deep_d: float | None, setting: Setting) -> tuple[str, tuple[Reason, ...]]:
    """The coolant that a tool runs with and the reasons for it; `deep_d` is the depth that it makes over the diameter."""
    fluid = decide("coolant", setting.case, said_of(tool), setting.book)
    text = fluid.value
    reasons: tuple[Reason, ...] = (fluid.reason,)
    if tool.kind in SUPPLIED and "through-tool coolant" in setting.case.machine and deep_d is not None:
        deep = replace(setting.case, depth_d=deep_d)
        given = frozenset(("emulsion",)) if "emulsion" in text else frozenset[str]()
        supply = decide("coolant supply", deep, given, setting.book)
        if supply.value != OUTSIDE:
            text, reasons = f"{text.removesuffix(FLOOD)}, {supply.value}", (*reasons, supply.reason)
    return text, reasons


def said_of(tool: Tool) -> frozenset[str]:
    """The operation, what makes a thread, and the tool's material, in the rules' words."""
    words = (OPERATIONS.get(tool.kind, "cutting"), tool.material)
    return frozenset((*words, tool.process) if tool.process else words)
