"""A step drill beside the separate tools that it stands for, on a terminal: what it is, saves and costs."""

from __future__ import annotations

from collections.abc import Iterator

from holesched.cutting.model import CutStep
from holesched.reports.explained import shown_for
from holesched.reports.naming import tool_name
from holesched.reports.show import Show, count
from holesched.sequence.model import JobPlan
from holesched.sequence.step_drills import Weighed, pays_from
from holesched.shop.model import Shop


def step_drill_compared(job: JobPlan, found: Weighed, shop: Shop) -> str:
    """The lines below the processes of a thread, or the whole answer for a hole without one."""
    return "\n".join(_lines(found, shop, shown_for(job)))


def _lines(found: Weighed, shop: Shop, show: Show) -> Iterator[str]:
    choice, together = found.choice, found.together
    if together is None:
        yield f"step drill      not possible: {show.running(choice.because)}  [{choice.rule}]"
        return
    (both,) = (cut for cut in together.cuts if cut.step.also is not None)
    apart = _stood_for(found, both)
    yield f"step drill      instead of {' and '.join(tool_name(cut.step.tool, show).title for cut in apart)}"
    name = tool_name(both.step.tool, show)
    yield f"  tool          {name.title}, {name.detail}"
    yield f"  saves         {_saved(found, show)}"
    yield f"  torque        {show.torque(both.torque_nm)} {show.torque_unit}, {both.torque_share or 0:.0%} of the spindle's"
    how = "chosen" if choice.chosen else "possible"
    yield f"  why           {how}: {show.running(choice.because)}  [{choice.rule}]"
    yield f"  break-even    {_break_even(found, both, apart, shop)}"


def _stood_for(found: Weighed, both: CutStep) -> list[CutStep]:
    """The steps of the separate tools that the step drill makes together."""
    made = [(part.kind, part.diameter_mm) for part in both.step.parts]
    return [cut for cut in found.apart.cuts if (cut.step.kind, cut.step.diameter_mm) in made]


def _saved(found: Weighed, show: Show) -> str:
    seconds = show.number(60 * found.saved_min, 1, least=1)
    if found.saved_min <= 0:
        return f"no time: {seconds} s a part; at the speed of its larger diameter it drills slower than two tools"
    return f"{seconds} s a part with {count(found.quantity, 'such hole')}, one tool and its change in it"


def _break_even(found: Weighed, both: CutStep, apart: list[CutStep], shop: Shop) -> str:
    """The lot from which the special tool has paid for itself, by time and by the tools it stands for."""
    tool, life = both.step.tool, both.tool_life_holes
    price = shop.price_of("step drill", tool.size, tool.material)
    if price is None or life is None:
        return "not known: no price of a step drill in the shop file ([[prices]], kind step drill)"
    worn, missing = 0.0, [] if shop.machine.hour_costs > 0 else ["what an hour of the machine costs (machine.hour_costs)"]
    for cut in apart:
        each = shop.price_of(cut.step.kind.value, cut.step.tool.size, cut.step.tool.material)
        if each is None or cut.tool_life_holes is None:
            missing.append(f"the price of the {cut.step.tool.name}")
        else:
            worn += each * found.quantity / cut.tool_life_holes[1]
    lot = pays_from(price, worn + shop.machine.hour_costs * found.saved_min / 60, life[0] / found.quantity)
    without = f" (without {' and '.join(missing)})" if missing else ""
    if lot is None:
        return f"none: the tool is worn before it has saved its price{without}"
    return f"a lot of {lot}{without}"
