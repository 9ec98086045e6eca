"""A thread tapped by hand: nothing turns in a spindle, so there is torque, time and tap life, but no speed."""

from __future__ import annotations

from dataclasses import replace

from holesched.cutting.geometry import Cut
from holesched.cutting.life import tool_life
from holesched.cutting.loads import tap_chip, tap_loads
from holesched.cutting.lookup import figure
from holesched.cutting.model import HAND_OVER, OVERLOAD, CutStep
from holesched.cutting.risk import risk_note, risk_reason, tap_risk
from holesched.notes import COMMON_PRACTICE, Note, Reason, Severity
from holesched.shop.model import Machine, Shop
from holesched.standards.materials import Material
from holesched.tooling.model import Chamfer
from holesched.tooling.tap import DEEPER

SHARED_CHAMFER = Chamfer("set", "", 5.0)
"""The taps of a set share the cut: a tooth is loaded about as by five threads of chamfer. Common practice, no source."""
SECONDS_A_TURN = 3.0
"""In with a half turn back, and out again. Common practice, no source."""
SECONDS_A_TAP = 15.0
"""Taking up and squaring each tap. Common practice, no source."""


def hand_step(cut: Cut, material: Material, shop: Shop) -> tuple[CutStep, list[Note]]:
    """The step's figures; speed and feed rate are 0, the feed in a turn is the lead."""
    step = cut.step
    tool = step.tool if cut.is_taper else replace(step.tool, chamfer=SHARED_CHAMFER)
    cut = replace(cut, step=replace(step, tool=tool))
    load = tap_loads(cut, material, cut.hole_mm)
    risk = tap_risk(cut, material, load, shop)
    life = tool_life(cut, material, 1.0)
    minutes, time_reason = _time(cut)
    reasons = [
        Reason("speed: by hand", "a hand set is never turned by the spindle", "CUT-BY-HAND", (COMMON_PRACTICE,)),
        Reason(f"torque: {figure(load.torque_nm)} N·m", load.because, "CUT-LOAD", load.cites),
        *([step.limit.reason] if step.limit else []),
        risk_reason(risk),
        *cut.step.coolant_reasons,
        *([time_reason] if time_reason else []),
        *([life[1]] if life else []),
    ]
    risky = risk_note(risk, cut)
    heavy = _too_heavy(cut, load.torque_nm, shop.machine)
    if risky is not None and risky.code in OVERLOAD:
        heavy, risky = (*heavy, risky), None
    if not _heaviest(cut):  # it is said once, of one tap of the set
        risk, risky = replace(risk, remedies=()), None
    return (
        CutStep(
            step=step,
            speed_low_m_per_min=0.0,
            speed_start_m_per_min=0.0,
            speed_high_m_per_min=0.0,
            surface_m_per_min=0.0,
            spindle_rpm=0.0,
            feed_mm_per_rev=cut.lead_mm,
            feed_mm_per_min=0.0,
            coolant=cut.step.coolant,
            torque_nm=load.torque_nm,
            thrust_n=None,
            power_kw=None,
            chip_load_mm=tap_chip(cut, cut.hole_mm),
            time_min=minutes,
            tool_life_holes=life[0] if life else None,
            reasons=tuple(reasons),
            risk=risk,
            overload=heavy,
        ),
        [*heavy, *([risky] if risky else [])],
    )


def _heaviest(cut: Cut) -> bool:
    """Whether it is the tap of its set to speak of: the first of those that each cut deeper, else the one that finishes."""
    name = cut.step.tool.name
    return name.endswith(DEEPER[0]) if name.endswith(DEEPER) else not cut.step.unfinished


def _too_heavy(cut: Cut, torque_nm: float, machine: Machine) -> tuple[Note, ...]:
    """That nobody turns this tap by hand, and how the thread is cut instead; nothing where a person does."""
    limit = cut.step.limit
    if limit is None or torque_nm <= limit.value:
        return ()
    gives = f"a person gives {figure(limit.value)} N·m ({limit.reason.because})"
    message = f"hand tap {cut.step.tool.size}: {figure(torque_nm)} N·m needed, {gives}."
    milled = "Thread-mill it, or cut" if cut.is_millable and machine.thread_milling else "Cut"
    remedy = f"{milled} it with a single-point tool: on a lathe, or with a one-tooth cutter of its profile on a helix."
    return (Note(HAND_OVER, Severity.WATCH, message, remedy, cite=limit.reason.cites[0]),)


def _time(cut: Cut) -> tuple[float, Reason | None]:
    tip = cut.step.tip_mm
    if tip is None:
        return 0.0, None
    turns = (tip - cut.step.start_mm) / cut.lead_mm
    minutes = (SECONDS_A_TAP + turns * SECONDS_A_TURN) / 60
    because = f"{turns:.0f} turns, {SECONDS_A_TURN:g} s a turn, {SECONDS_A_TAP:g} s to take up the tap"
    return minutes, Reason(f"time: {minutes:.1f} min a hole", because, "CUT-TIME", (COMMON_PRACTICE,))
