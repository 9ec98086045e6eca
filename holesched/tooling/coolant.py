"""Which coolant each step runs with, and how it is brought there: by the rules, for the operation and its tool."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from holesched.notes import Reason
from holesched.tooling.model import StepKind, Tool
from holesched.tooling.rules import decide
from holesched.tooling.setting import Setting

OPERATIONS = {StepKind.TAP: "tapping", StepKind.REAM: "reaming"}
"""What the rules call an operation; everything else is cutting."""
SAID = (
    *("cutting", "drilling", "tapping", "reaming", "emulsion", "flat fits", "wall too thin", "too heavy", "no drill fits"),
    *("point too deep", "pecked", "tapped from the other side", "no time saved", "larger drill", "close to the limit"),
    *("no emulsion", "carbide drill", "steel drill", "too much to form", "too narrow to form", "drilled to form"),
)
"""Words of the column `given` that are no verdicts: the operation, whether the fluid is an emulsion, that a hole whose point
is too deep for the part would fit with a flat bottom, or is shallower than its point, that a drill is too heavy for the
machine or none fits, what speaks against a step drill, that a tap has been reckoned with the larger drill its load called
for and was too much to form with the usual one, that a drill's worst hole would leave the limits, what a drill that coolant
may come through is made of, and whether a drill that the drawing states suits a forming tap."""
SUPPLIED = (StepKind.DRILL, StepKind.TAP)
"""Tools that may have coolant through them."""
FLOOD = ", flood"
EMULSION, NO_EMULSION = "emulsion", "no emulsion"
OUTSIDE = "from outside"


class Coolant(NamedTuple):
    """What a tool runs with, the reasons, and whether it comes through the tool, which must have ducts for it."""

    text: str
    reasons: tuple[Reason, ...]
    through_tool: bool = False


def coolant_of(tool: Tool, deep_d: float | None, setting: Setting) -> Coolant:
    """The coolant that a tool runs with; `deep_d` is the depth that it makes over the diameter."""
    fluid = decide("coolant", setting.case, said_of(tool), setting.book)
    if tool.kind not in SUPPLIED or "through-tool coolant" not in setting.case.machine or deep_d is None:
        return Coolant(fluid.value, (fluid.reason,))
    deep = replace(setting.case, depth_d=deep_d, size_mm=tool.diameter_mm)
    supply = decide("coolant supply", deep, _supplied(tool, fluid.value), setting.book)
    reasons = (fluid.reason, supply.reason)
    if supply.value == OUTSIDE:
        return Coolant(fluid.value, reasons)
    return Coolant(f"{fluid.value.removesuffix(FLOOD)}, {supply.value}", reasons, through_tool=True)


def _supplied(tool: Tool, fluid: str) -> frozenset[str]:
    """What fluid is to come to the edge of which tool, in the rules' words."""
    made_of = "carbide drill" if tool.material == "carbide" else "steel drill"
    return frozenset(
        (made_of if tool.kind is StepKind.DRILL else tool.process, EMULSION if EMULSION in fluid else NO_EMULSION)
    )


def said_of(tool: Tool) -> frozenset[str]:
    """The operation, what makes a thread, and the tool's material, in the rules' words."""
    words = (OPERATIONS.get(tool.kind, "cutting"), tool.material)
    return frozenset((*words, tool.process) if tool.process else words)
