"""One job put together: operations over all hole types, tools in pots, gauges, time and the ledger."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from holesched.callouts.model import Kind
from holesched.cutting.model import CutStep
from holesched.features.model import UnreadRow
from holesched.notes import Note, Reason, Severity
from holesched.resolve.model import ResolvedStep
from holesched.schedule.model import Schedule
from holesched.sequence.ducts import shared
from holesched.sequence.ledger import keep_ledger
from holesched.sequence.loading import load_carousel, number_tools
from holesched.sequence.model import GaugeNeed, JobPlan, JobTime, Operation, PlannedHole, Target
from holesched.sequence.order import Run, order_runs, run_of
from holesched.sequence.path import UNKNOWN_MOVE_S, moves_min
from holesched.sequence.risky_first import is_risky, runs_with_risky_first
from holesched.shop.model import Machine, Shop
from holesched.standards.fits import is_iso
from holesched.standards.gauges import Gauge, gauges_for, gauges_for_plain
from holesched.standards.materials import Material
from holesched.tooling.case import job_case
from holesched.tooling.model import Tool, ToolPlan
from holesched.tooling.rule_rows import FIGURES, RISKY_TAPS, figure_in
from holesched.tooling.rules import RuleBook, decide, standard_rules


def plan_job(
    schedule: Schedule,
    holes: Sequence[PlannedHole],
    unread: Sequence[UnreadRow],
    material: Material | None,
    shop: Shop,
    notes: Sequence[Note],
    rules: RuleBook | None = None,
) -> JobPlan:
    """The JobPlan of one schedule. `notes` are all notes of the stages before, in stage order, then row order; `rules` the
    shop's own book (None: the standard rules)."""
    holes = shared(holes)
    runs_of, runs, risky_first = _in_order([hole.cuts for hole in holes], schedule.header.lot, shop, rules)
    by_run: dict[Run, list[Target]] = {}
    for hole, its_runs in zip(holes, runs_of, strict=True):
        letter, quantity, on_hold = hole.type.letter, hole.type.quantity, hole.on_hold
        for cut, run in zip(hole.cuts, its_runs, strict=True):
            by_run.setdefault(run, []).append(Target(letter, quantity, cut, on_hold))
    numbers = number_tools([run.tool for run in runs])
    operations = _operations(runs, by_run, numbers, holes, shop.machine)
    loading, loading_notes = load_carousel(numbers, operations, shop)
    return JobPlan(
        source=schedule.source,
        sheet=schedule.sheet,
        sha256=schedule.sha256,
        header=schedule.header,
        material=material,
        holes=holes,
        unread=tuple(unread),
        set_aside=schedule.set_aside,
        operations=operations,
        loading=loading,
        gauges=_gauges(holes),
        time=_time(operations),
        ledger=keep_ledger(schedule, holes, unread),
        notes=(*notes, *_place_notes(holes), *loading_notes),
        risky_first=risky_first,
    )


def _in_order(
    holes: Sequence[Sequence[CutStep]], lot: int | None, shop: Shop, rules: RuleBook | None
) -> tuple[list[list[Run]], tuple[Run, ...], Reason | None]:
    """The run of each cut of each hole, all runs in working order, and why some come first: None where no tap is near to
    breaking, the shop does not want it, or it changes nothing."""
    plain = [[run_of(cut) for cut in cuts] for cuts in holes]
    usual = order_runs(holes, plain)
    if shop.preferences.risky_taps_first and any(is_risky(cut) for cuts in holes for cut in cuts):
        verdict = decide(RISKY_TAPS, job_case(shop, lot), frozenset(), rules or standard_rules())
        marked = runs_with_risky_first(holes, figure_in(verdict.value, FIGURES[RISKY_TAPS]))
        runs = order_runs(holes, marked)
        if tuple(replace(run, first=False) for run in runs) != usual:
            return marked, runs, verdict.reason
    return plain, usual, None


def _operations(
    runs: Sequence[Run],
    by_run: dict[Run, list[Target]],
    numbers: dict[Tool, int],
    holes: Sequence[PlannedHole],
    machine: Machine,
) -> tuple[Operation, ...]:
    places = {hole.type.letter: [place for member in hole.type.members for place in member.places_mm] for hole in holes}
    moves: dict[tuple[tuple[str, ...], int], tuple[float, float]] = {}
    operations: list[Operation] = []
    in_spindle = 0
    for number, run in enumerate(runs, start=1):
        targets = tuple(by_run[run])
        which = (tuple(dict.fromkeys([each.letter for each in targets])), sum([each.quantity for each in targets]))
        if which not in moves:
            moves[which] = moves_min([place for letter in which[0] for place in places[letter]], which[1], machine)
        by_hand = run.tool.by_hand  # its time holds all that a person does; neither table nor spindle moves
        move_min, path_mm = (0.0, 0.0) if by_hand else moves[which]
        tool_number = numbers[run.tool]
        operations.append(
            Operation(
                number=number * 10,
                kind=run.kind,
                tool_number=tool_number,
                targets=targets,
                time_min=move_min + sum([target.quantity * target.cut.time_min for target in targets]),
                change_min=0.0 if by_hand or tool_number == in_spindle else machine.tool_change_s / 60,
                path_mm=path_mm,
                set_up=run.set_up,
                first=run.first,
            )
        )
        in_spindle = in_spindle if by_hand else tool_number
    return tuple(operations)


def _time(operations: Sequence[Operation]) -> JobTime:
    cutting = total = change = by_hand = 0.0
    for operation in operations:
        cuts_min = [(target.cut.step.tool.by_hand, target.quantity * target.cut.time_min) for target in operation.targets]
        cutting += sum(minutes for _, minutes in cuts_min)
        by_hand += sum(minutes for hand, minutes in cuts_min if hand)
        total += operation.time_min
        change += operation.change_min
    whole = all(target.cut.time_min > 0 for operation in operations for target in operation.targets)
    return JobTime(cutting, total - cutting, change, by_hand, whole)


def _gauges(holes: Iterable[PlannedHole]) -> tuple[GaugeNeed, ...]:
    """Every gauge the holes need, each once, with the hole types it proves."""
    letters: dict[Gauge, dict[str, None]] = {}
    for hole in holes:
        if hole.cut_plan is None:
            continue
        for step in hole.cut_plan.plan.resolved.steps:
            if step.thread is not None:
                found = gauges_for(step.thread)
            elif step.limits is not None and step.kind in (Kind.REAM, Kind.BORE, Kind.DRILL):
                zone = step.feature.tolerance.zone if step.feature.tolerance is not None else None
                name = f"{step.diameter.label} {zone}" if zone else step.diameter.label
                nominal_mm = step.diameter.mm if zone and is_iso(zone) else None
                found = gauges_for_plain(step.limits, name, nominal_mm=nominal_mm)
            else:
                found = ()
            for gauge in (*found, *_before_coating(hole.cut_plan.plan, step)):
                letters.setdefault(gauge, {})[hole.type.letter] = None
    return tuple(GaugeNeed(gauge, tuple(types)) for gauge, types in letters.items())


def _before_coating(plan: ToolPlan, drawn: ResolvedStep) -> tuple[Gauge, ...]:
    """The gauges for a step at the machine where a coating to come makes it another size than the drawing's."""
    made = next((made for step in plan.parts if (made := step.step) is not None and _same(made, drawn)), None)
    if made is None:
        return ()
    if made.thread is not None and drawn.thread is not None and made.thread.pitch != drawn.thread.pitch:
        return tuple(replace(gauge, designation=f"{gauge.designation} before coating") for gauge in gauges_for(made.thread))
    if made.thread is None and made.limits is not None and made.limits != drawn.limits:
        return gauges_for_plain(made.limits, f"{drawn.diameter.label} before coating")
    return ()


def _same(made: ResolvedStep, drawn: ResolvedStep) -> bool:
    """Whether a planned step is the drawn one, whatever size it is made to."""
    return (made.kind, made.diameter, made.side, made.angle_deg) == (drawn.kind, drawn.diameter, drawn.side, drawn.angle_deg)


def _place_notes(holes: Iterable[PlannedHole]) -> tuple[Note, ...]:
    unplaced = sum(hole.type.quantity - sum(len(m.places_mm) for m in hole.type.members) for hole in holes)
    if not unplaced:
        return ()
    which = "1 hole has" if unplaced == 1 else f"{unplaced} holes have"
    message = f"{which} no X and Y: each move is counted at a flat {UNKNOWN_MOVE_S:g} s."
    return (Note("PLACES-MISSING", Severity.TOLD, message),)
