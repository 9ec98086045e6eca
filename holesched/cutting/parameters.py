"""Cutting parameters of every step of a hole: speed and feed from the tables, corrected for the case, inside the machine's
limits, with loads, the tap's risk, coolant, time and tool life; each with its reason."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from holesched.cutting import formulas
from holesched.cutting.feeds import FLOATING_FEED
from holesched.cutting.geometry import Cut, cut_of
from holesched.cutting.life import edge_life, tool_life, worn_within
from holesched.cutting.loads import tap_chip
from holesched.cutting.model import OVERLOAD, CutPlan, CutStep
from holesched.cutting.reasons import bottom_reason, load_reason, speed_reason, stand_in_notes, time_reason
from holesched.cutting.risk import risk_note, risk_reason, tap_risk
from holesched.cutting.run_step import run_step
from holesched.cutting.thread_length import deep_thread_notes
from holesched.cutting.trial import Made, Trial, made_aside
from holesched.cutting.turning import Turning, turning_of
from holesched.notes import Note, Reason, Severity
from holesched.shop.model import Shop
from holesched.standards.materials import Material
from holesched.tooling.model import StepKind, Tool, ToolPlan, ToolStep


def plan_cutting(plan: ToolPlan, material: Material, shop: Shop) -> CutPlan:
    """Parameters for every step of a hole type; `time_min` is 0 where the depth is unknown, and a note says so."""
    return in_full(plan, Trial(plan.steps, material, shop))


def in_full(plan: ToolPlan, trial: Trial) -> CutPlan:
    """The plan that stands with all its parameters, reasons and notes, as `plan_cutting` gives them."""
    material, shop = trial.material, trial.shop
    member = next(iter(plan.resolved.type.members), None)
    steps = [trial.at(index) for index in range(len(plan.steps))]
    told = [(each.cut, each.notes) if isinstance(each, Made) else _turned(each, material, shop) for each in steps]
    cuts = tuple([cut for cut, _ in told])
    found = [*_once_a_bar(told), *worn_within(cuts)]
    found += deep_thread_notes(
        cuts,
        material,
        shop.preferences.screw_grade,
        lambda step, before: _minutes(step, before, material, shop),
    )
    notes = [replace(note, text=plan.resolved.type.hole.callout, ref=member.ref if member else None) for note in found]
    return CutPlan(plan, cuts, tuple(dict.fromkeys((*notes, *_job_notes(plan, shop)))))


def _once_a_bar(told: Sequence[tuple[CutStep, list[Note]]]) -> list[Note]:
    """All notes in turn, but of the passes of one boring bar that say the same only the heaviest one's."""
    heaviest: dict[tuple[Tool, str], float] = {}
    for cut, notes in told:
        for note in notes:
            key = (cut.step.tool, note.code)
            heaviest[key] = max(heaviest.get(key, 0.0), cut.torque_share or 0.0)
    return [
        note
        for cut, notes in told
        for note in notes
        if cut.step.kind is not StepKind.BORE or heaviest[cut.step.tool, note.code] == (cut.torque_share or 0.0)
    ]


def _job_notes(plan: ToolPlan, shop: Shop) -> list[Note]:
    """What concerns the job rather than one hole: without a cell, so that it is said once."""
    notes = []
    unknown = [step.kind.value for step in plan.steps if step.travel_mm is None]
    if unknown:
        message = f"The part's thickness is unknown: no time is counted for {', '.join(dict.fromkeys(unknown))}."
        notes.append(
            Note("CUT-DEPTH-UNKNOWN", Severity.TOLD, message, "Give the thickness; speeds hold up to 2 diameters deep.")
        )
    if any(step.kind is StepKind.TAP and not step.tool.by_hand for step in plan.steps) and not shop.machine.rigid_tapping:
        message = (
            "No synchronised spindle: taps run in a tension-compression holder, fed at "
            f"{FLOATING_FEED:g} of their pitch; under blind threads one pitch more clearance is kept."
        )
        notes.append(Note("CUT-FLOATING-HOLDER", Severity.WATCH, message))
    return notes


def _minutes(step: ToolStep, before: tuple[ToolStep, ...], material: Material, shop: Shop) -> float:
    """The time of a step in one hole, min; what the spindle turns needs neither loads put in words nor tool life for it."""
    cut = cut_of(step, before)
    made = made_aside(cut, material, shop)
    if made is not None:
        return made.cut.time_min
    time = turning_of(cut, material, shop).time
    return time.minutes if time else 0.0


def _turned(turning: Turning, material: Material, shop: Shop) -> tuple[CutStep, list[Note]]:
    """A drill, tap, reamer or another tool that the spindle turns and feeds along its axis."""
    cut, step, running, time = turning.cut, turning.step, turning.running, turning.time
    _, start, _ = turning.advised
    surface = formulas.surface_speed_m_per_min(running.rpm, cut.widest_mm)
    life = _life(turning, material, surface / start)
    risk = tap_risk(cut, material, running.loads, shop) if cut.is_tap and running.loads else None
    risky = risk_note(risk, cut) if risk else None
    told = (
        speed_reason(cut, material, turning.speeds, turning.found, start),
        turning.feed_reason,
        load_reason(running),
        risk_reason(risk) if risk else None,
        *step.coolant_reasons,
        bottom_reason(cut, material),
        time_reason(time, running) if time else None,
        life[1] if life else None,
    )
    made = run_step(
        step,
        turning.advised,
        running,
        shop.machine,
        cutter_mm=cut.widest_mm,
        chip_load_mm=_chip(cut, running.feed_mm_per_rev),
        time=time,
        life=life[0] if life else None,
        reasons=[reason for reason in told if reason],
        risk=risk,
        overload=(risky,) if risky is not None and risky.code in OVERLOAD else (),
    )
    notes = [*running.notes, *stand_in_notes(cut, material, turning.speeds), *([risky] if risky else [])]
    return made, notes


def _life(turning: Turning, material: Material, speed_ratio: float) -> tuple[tuple[float, float], Reason] | None:
    """Holes per tool: a boring bar's edge wears with the minutes that it cuts, as a mill's does; other tools by holes."""
    if turning.step.kind is not StepKind.BORE:
        return tool_life(turning.cut, material, speed_ratio)
    if turning.time is None:
        return None
    return edge_life(material, turning.cut.diameter_mm, turning.time.cut_s / 60, speed_ratio)


def _chip(cut: Cut, feed_mm_per_rev: float) -> float | None:
    if cut.is_tap:
        return tap_chip(cut, cut.hole_mm)
    return feed_mm_per_rev / max(cut.step.tool.flutes, 1)
