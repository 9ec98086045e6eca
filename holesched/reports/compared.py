"""The processes for one thread side by side, as a table for a terminal: what each needs, takes, risks and costs."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import zip_longest
from textwrap import wrap

from holesched.cutting.life import holes_told
from holesched.cutting.model import CutAlternative, CutPlan, CutStep
from holesched.notes import Note, Severity
from holesched.reports.explained import shown_for
from holesched.reports.show import count
from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop
from holesched.tooling.model import StepKind, Tool

TITLES = {"cut": "cutting tap", "form": "forming tap", "thread mill": "thread mill", "hand set": "hand taps"}
PRICED_AS = {"cut": "cutting tap", "form": "forming tap", "thread mill": "thread mill", "hand set": "hand set"}
LABEL, COLUMN = 16, 26
NOTHING = "-"


@dataclass(frozen=True, slots=True)
class _Way:
    """One feasible process: its thread step, its tap drill, and the whole hole."""

    process: str
    chosen: bool
    plan: CutPlan
    thread: CutStep
    drill: CutStep | None


def compared(job: JobPlan, found: Sequence[CutAlternative], shop: Shop) -> str:
    """The table, then what each process asks to be looked at, then what is not possible and why."""
    return "\n".join(line.rstrip() for line in _lines(job, found, shop))


def _lines(job: JobPlan, found: Sequence[CutAlternative], shop: Shop) -> Iterator[str]:
    if not found:
        yield "There is no planned thread to compare."
        return
    ways = [_way(each.choice.process, each.choice.chosen, each.cut_plan) for each in found if each.cut_plan is not None]
    resolved = ways[0].plan.plan.resolved
    material = job.material
    yield f"callout    {' / '.join(resolved.type.hole.callout.splitlines())}"
    if material is not None:
        yield f"material   {material.name} ({material.subgroup})"
    yield ""
    yield from _row("", [TITLES[way.process] + (" (chosen)" if way.chosen else "") for way in ways])
    show = shown_for(job)
    for label, tell in _rows(shop):
        yield from _row(label, [show.running(tell(way)) for way in ways])
    yield from (show.running(line) for line in _watched(ways))
    yield "\nwhy"
    for each in found:
        yield f"  {TITLES[each.choice.process]}: {show.running(_verdict(each))}  [{each.choice.rule}]"
    if not shop.prices:
        yield "\nTools have no prices in the shop file ([[prices]]): no tool cost is shown."


def _verdict(each: CutAlternative) -> str:
    choice = each.choice
    if choice.chosen:
        return f"chosen: {choice.because}"
    if each.cut_plan is None:
        return f"not possible: {choice.because}"
    return f"possible: {choice.because}" if choice.asked else "possible, but no rule asks for it"


_OPENING = (StepKind.DRILL, StepKind.MILL, StepKind.BORE)
"""What may give a hole its size before the thread."""


def _way(process: str, chosen: bool, plan: CutPlan) -> _Way:
    thread = next(cut for cut in plan.cuts if cut.step.finishes_thread)
    drills = [cut for cut in plan.cuts if cut.step.kind in _OPENING and cut.step.step is thread.step.step]
    return _Way(process, chosen, plan, thread, max(drills, key=lambda cut: cut.step.diameter_mm, default=None))


def _rows(shop: Shop) -> tuple[tuple[str, Callable[[_Way], str]], ...]:
    rows: tuple[tuple[str, Callable[[_Way], str]], ...] = (
        ("drill", _drill),
        ("drilled depth", _depth),
        ("tool", lambda way: "; ".join(_tool(cut.step.tool) for cut in _threads(way))),
        ("speed", _speed),
        ("coolant", lambda way: way.thread.coolant),
        ("torque", _torque),
        ("risk", _risk),
        ("time, thread", lambda way: _seconds(_threads(way))),
        ("time, hole", lambda way: _seconds(way.plan.cuts)),
        ("holes a tool", _life),
    )
    return (*rows, ("tool cost a hole", lambda way: _cost(way, shop))) if shop.prices else rows


def _threads(way: _Way) -> list[CutStep]:
    """The steps that make the thread: one, or the taps of a hand set in turn."""
    return [cut for cut in way.plan.cuts if cut.step.kind.makes_thread and cut.step.step is way.thread.step.step]


def _drill(way: _Way) -> str:
    if way.drill is None:
        return NOTHING
    step = way.drill.step
    fit = "" if step.fit is None else f", makes {step.fit.hole_mm:.2f} mm: {step.fit.percent:.0f} % of thread"
    what = "" if step.kind is StepKind.DRILL else f"{step.tool.name} "
    return f"{what}{step.tool.size} {step.tool.material}{fit}"


def _depth(way: _Way) -> str:
    if way.drill is None or way.drill.step.through:
        return "through" if way.drill is not None else NOTHING
    return f"{way.drill.step.depth_mm or 0:.2f} mm"


def _tool(tool: Tool) -> str:
    chamfer = f", {tool.chamfer.name} {tool.chamfer.form}" if tool.chamfer is not None and not tool.by_hand else ""
    return f"{tool.name} {tool.size}, {tool.material}, {tool.treatment}{chamfer}"


def _speed(way: _Way) -> str:
    cut = way.thread
    if cut.step.tool.by_hand:
        return "by hand"
    told = f"{cut.surface_m_per_min:.1f} m/min, {cut.spindle_rpm:.0f} rev/min"
    if cut.milling is None:
        return told
    milling = cut.milling
    return (
        f"{told}; centre {milling.centre_feed_mm_per_min:.0f} mm/min, edge {milling.edge_feed_mm_per_min:.0f} mm/min; "
        f"{count(milling.passes * milling.levels, 'turn')}"
    )


def _heaviest(way: _Way) -> CutStep:
    """The step that takes most: of a hand set the tap that asks most of the person."""
    return max(_threads(way), key=lambda cut: cut.torque_nm or 0.0)


def _torque(way: _Way) -> str:
    cut = _heaviest(way)
    if cut.torque_nm is None:
        return NOTHING
    share = "" if cut.torque_share is None else f", {cut.torque_share * 100:.0f} % of the spindle's"
    return f"{cut.torque_nm:.2g} N·m{share}" if cut.torque_nm < 10 else f"{cut.torque_nm:.0f} N·m{share}"


def _risk(way: _Way) -> str:
    risk = _heaviest(way).risk
    if risk is None:
        return "no tap to break; a broken mill lifts out"
    return f"{risk.index:.2f} of what breaks the tap: {risk.band}"


def _seconds(cuts: Sequence[CutStep]) -> str:
    """The time of all, which is unknown where that of one is."""
    if any(cut.time_min <= 0 for cut in cuts):
        return "unknown: no depth"
    minutes = sum(cut.time_min for cut in cuts)
    return f"{60 * minutes:.1f} s" if minutes < 2 else f"{minutes:.1f} min"


def _life(way: _Way) -> str:
    life = way.thread.tool_life_holes
    return NOTHING if life is None else holes_told(life).removesuffix(" holes")


def _cost(way: _Way, shop: Shop) -> str:
    """Price over holes, for the thread's tool and its drill where they have one."""
    low = high = 0.0
    missing = []
    for name, cut in ((PRICED_AS[way.process], way.thread), ("drill", way.drill)):
        if cut is None or cut.tool_life_holes is None:
            continue
        price = shop.price_of(name, cut.step.tool.size, cut.step.tool.material)
        if price is None:
            missing.append(name)
            continue
        low, high = low + price / cut.tool_life_holes[1], high + price / cut.tool_life_holes[0]
    without = f"; without the {' and the '.join(missing)}: no price" if missing else ""
    if not high:
        return f"no price{' of the ' + ' and the '.join(missing) if missing else ''}"
    return f"{low:.2f} to {high:.2f} {shop.report.currency}".rstrip() + without


def _watched(ways: Sequence[_Way]) -> Iterator[str]:
    """What only some of the processes ask to be looked at; what all of them ask stands in the full reasoning."""
    by_way = [_notes(way) for way in ways]
    common = set.intersection(*(set(notes) for notes in by_way)) if len(by_way) > 1 else set()
    own = [(way, [note for note in notes if note not in common]) for way, notes in zip(ways, by_way, strict=True)]
    if any(notes for _, notes in own):
        yield "\nlook at"
    for way, notes in own:
        for note in notes:
            yield f"  {TITLES[way.process]}: {note.message}  [{note.code}]"
            if note.suggestion and note.is_question:
                yield f"      {note.suggestion}"


def _notes(way: _Way) -> list[Note]:
    notes = (*way.plan.plan.notes, *way.plan.notes)
    return [note for note in dict.fromkeys(notes) if note.severity in (Severity.WATCH, Severity.ASK)]


def _row(label: str, cells: Sequence[str]) -> Iterator[str]:
    """One row, its cells wrapped to the width of a column."""
    columns = [wrap(cell, COLUMN - 2) or [""] for cell in cells]
    for number, parts in enumerate(zip_longest(*columns, fillvalue="")):
        yield (label if number == 0 else "").ljust(LABEL) + "".join(part.ljust(COLUMN) for part in parts)
