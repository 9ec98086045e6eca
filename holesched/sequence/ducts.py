"""One tool for all its holes where only some ask for coolant through it: the one with ducts serves the others too."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from holesched.cutting.model import CutPlan
from holesched.sequence.model import PlannedHole
from holesched.tooling.model import Tool, ToolStep


def shared(holes: Sequence[PlannedHole]) -> tuple[PlannedHole, ...]:
    """The holes of a job, each tool that has a twin with coolant ducts changed for that one."""
    twins = {replace(tool, ducts=False): tool for hole in holes for cut in hole.cuts if (tool := cut.step.tool).ducts}
    return tuple(_with(hole, twins) for hole in holes) if twins else tuple(holes)


def _with(hole: PlannedHole, twins: dict[Tool, Tool]) -> PlannedHole:
    plan = hole.cut_plan
    if plan is None or all(cut.step.tool not in twins for cut in plan.cuts):
        return hole

    def changed(step: ToolStep) -> ToolStep:
        return replace(step, tool=twins[step.tool]) if step.tool in twins else step

    tools = replace(plan.plan, steps=tuple(changed(step) for step in plan.plan.steps))
    cuts = tuple(replace(cut, step=changed(cut.step)) for cut in plan.cuts)
    return replace(hole, cut_plan=CutPlan(tools, cuts, plan.notes))
