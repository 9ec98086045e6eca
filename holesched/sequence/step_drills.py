"""Step drills of a job, weighed by its time: each stays only where it saves more than it costs.

At the speed of its larger diameter a step drill drills slower; it saves a stroke at every hole, and a tool change where no
other hole needs the tools that it stands for. So it is the whole job that decides.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import ceil

from holesched.cutting.model import CutPlan, CutStep
from holesched.sequence.model import PlannedHole
from holesched.sequence.order import run_of
from holesched.shop.model import Machine
from holesched.tooling.model import Alternative, Tool


@dataclass(frozen=True, slots=True)
class Weighed:
    """A step drill against the tools that it stands for, in one hole type; `together` None where a rule strikes it.

    `saved_min` are the minutes that it saves in a part that has no other holes.
    """

    choice: Alternative
    quantity: int
    apart: CutPlan
    together: CutPlan | None
    saved_min: float


def where_they_save(
    holes: Sequence[PlannedHole], separately: Callable[[PlannedHole], PlannedHole], machine: Machine
) -> list[PlannedHole]:
    """The holes, those with a step drill that saves no time planned `separately`, with a tool for each diameter."""
    kept = list(holes)
    for tool in dict.fromkeys(cut.step.tool for hole in holes for cut in hole.cuts if cut.step.also is not None):
        other = [separately(hole) if _uses(hole, tool) else hole for hole in kept]
        if part_min(_all_cuts(other), machine) <= part_min(_all_cuts(kept), machine):
            kept = other
    return kept


def weighed(choice: Alternative, quantity: int, apart: CutPlan, together: CutPlan | None, machine: Machine) -> Weighed:
    """Two plans of a hole type side by side."""
    plans = (apart, together or apart)
    minutes = [part_min([(quantity, cut) for cut in plan.cuts], machine) for plan in plans]
    return Weighed(choice, quantity, apart, together, minutes[0] - minutes[1])


def pays_from(price: float, saved_a_part: float, parts_a_tool: float) -> int | None:
    """The lot from which a tool of that price has paid for itself by what it saves in a part; None where it is worn before.

    Both sums in one currency.
    """
    if saved_a_part <= 0:
        return None
    lot = ceil(price / saved_a_part)
    return lot if lot <= parts_a_tool else None


def part_min(holes: Iterable[tuple[int, CutStep]], machine: Machine) -> float:
    """Minutes that a part takes in the machine, near enough to compare two plans of it: cuts in so many holes each, a move
    to each hole that takes no longer than the settling at its end, and a change for each tool."""
    cuts = [(quantity, cut) for quantity, cut in holes if not cut.step.tool.by_hand]
    moves_s = machine.positioning_s * sum(quantity for quantity, _ in cuts)
    changes_s = machine.tool_change_s * len({run_of(cut) for _, cut in cuts})
    return sum(quantity * cut.time_min for quantity, cut in cuts) + (moves_s + changes_s) / 60


def _all_cuts(holes: Iterable[PlannedHole]) -> list[tuple[int, CutStep]]:
    return [(hole.type.quantity, cut) for hole in holes for cut in hole.cuts]


def _uses(hole: PlannedHole, tool: Tool) -> bool:
    return any(cut.step.tool == tool for cut in hole.cuts)
