"""A step's parameters put together from what really runs: the same figures for every tool that the spindle turns."""

from __future__ import annotations

from collections.abc import Sequence

from holesched.cutting import formulas
from holesched.cutting.clamp import Running
from holesched.cutting.model import CutStep, TapRisk, ThreadMilling
from holesched.cutting.time import StepTime
from holesched.notes import Note, Reason
from holesched.shop.model import Machine
from holesched.tooling.model import ToolStep

SpeedRange = tuple[float, float, float]
"""The advised cutting speed, m/min: low, start, high."""


def run_step(
    step: ToolStep,
    speeds: SpeedRange,
    running: Running,
    machine: Machine,
    *,
    cutter_mm: float,
    chip_load_mm: float | None,
    time: StepTime | None,
    life: tuple[float, float] | None,
    reasons: Sequence[Reason],
    risk: TapRisk | None = None,
    milling: ThreadMilling | None = None,
    overload: tuple[Note, ...] = (),
) -> CutStep:
    """The step at the speed and feed that the machine's limits leave; `cutter_mm` is the diameter that the speed is for,
    `overload` what is too much beside what the machine gives."""
    low, start, high = speeds
    load = running.loads
    return CutStep(
        step=step,
        speed_low_m_per_min=low,
        speed_start_m_per_min=start,
        speed_high_m_per_min=high,
        surface_m_per_min=formulas.surface_speed_m_per_min(running.rpm, cutter_mm),
        spindle_rpm=running.rpm,
        feed_mm_per_rev=running.feed_mm_per_rev,
        feed_mm_per_min=formulas.feed_rate_mm_per_min(running.rpm, running.feed_mm_per_rev),
        coolant=step.coolant,
        torque_nm=load.torque_nm if load else None,
        thrust_n=load.thrust_n if load else None,
        power_kw=formulas.power_kw(load.torque_nm, running.rpm) if load else None,
        chip_load_mm=chip_load_mm,
        time_min=time.minutes if time else 0.0,
        tool_life_holes=life,
        reached_rpm=time.reached_rpm if time else None,
        reasons=tuple(reasons),
        clamps=running.clamps,
        risk=risk,
        torque_share=running.torque_share,
        overload=(*running.overload, *overload),
        milling=milling,
    )
