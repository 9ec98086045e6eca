"""Step drills of a job, weighed by its time: each stays only where it saves more than it costs.

At the speed of its larger diameter a step drill drills slower; it saves a stroke at every hole, and a tool change where no
other hole needs the tools that it stands for. So it is the whole job that decides.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from holesched.cutting.model import CutStep
from holesched.sequence.model import PlannedHole
from holesched.sequence.order import run_of
from holesched.shop.model import Machine
from holesched.tooling.model import Tool


def where_they_save(
    holes: Sequence[PlannedHole], separately: Callable[[PlannedHole], PlannedHole], machine: Machine
) -> list[PlannedHole]:
    """The holes, those with a step drill that saves no time planned `separately`, with a tool for each diameter."""
    kept = list(holes)
    for tool in dict.fromkeys(cut.step.tool for hole in holes for cut in _cuts(hole) if cut.step.also is not None):
        other = [separately(hole) if _uses(hole, tool) else hole for hole in kept]
        if part_min(other, machine) <= part_min(kept, machine):
            kept = other
    return kept


def part_min(holes: Sequence[PlannedHole], machine: Machine) -> float:
    """Minutes that a part takes in the machine, near enough to compare two plans of it: cuts, for each a move that takes no
    longer than the settling at its end, and a change for each tool."""
    cuts = [(hole.type.quantity, cut) for hole in holes for cut in _cuts(hole) if not cut.step.tool.by_hand]
    moves_s = machine.positioning_s * sum(quantity for quantity, _ in cuts)
    changes_s = machine.tool_change_s * len({run_of(cut) for _, cut in cuts})
    return sum(quantity * cut.time_min for quantity, cut in cuts) + (moves_s + changes_s) / 60


def _cuts(hole: PlannedHole) -> tuple[CutStep, ...]:
    return hole.cut_plan.cuts if hole.cut_plan is not None else ()


def _uses(hole: PlannedHole, tool: Tool) -> bool:
    return any(cut.step.tool == tool for cut in _cuts(hole))
