"""Time of one step in one hole, from the start of the feed to the tool clear of it; moves between holes are not here."""

from __future__ import annotations

from dataclasses import dataclass

from holesched.cutting import formulas, tap_formulas
from holesched.cutting.geometry import Cut
from holesched.cutting.speeds import OperationData, drill_column
from holesched.cutting.speeds import operation as operation_of
from holesched.shop.model import Machine
from holesched.standards.materials import Material

PECK_PAUSE_S = 0.4
"""Acceleration and re-approach of each full retract, 0.3 to 0.5 s. Common practice, no source."""
CHIP_BREAK_S = 0.15
"""Each short retract that breaks the chip: some tenths of a millimetre back and forth. Common practice, no source."""
FLOATING_REVERSAL_S = 0.3
"""Each of the two reversals of a spindle that is not synchronised, 0.2 to 0.5 s. Common practice, no source."""
FLAT_DWELL_TURNS = 2.0
"""Turns for which a flat-ended drill stands at depth, one to three: its floor comes out even. Common practice, no source."""
NO_DWELL = frozenset({"work-hardening", "fire"})
"""Materials a tool never stands still in: its rubbing hardens the floor, or lights the chips. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class StepTime:
    """Seconds of one hole by part; `reached_rpm` for taps."""

    cut_s: float
    retract_s: float = 0.0
    peck_s: float = 0.0
    dwell_s: float = 0.0
    reached_rpm: float | None = None

    @property
    def minutes(self) -> float:
        return (self.cut_s + self.retract_s + self.peck_s + self.dwell_s) / 60

    def told(self) -> str:
        """The parts in words."""
        parts = (("cut", self.cut_s), ("pecks", self.peck_s), ("dwell", self.dwell_s), ("out", self.retract_s))
        return ", ".join(f"{name} {seconds:.1f} s" for name, seconds in parts if seconds > 0)


def step_time(
    cut: Cut,
    rpm: float,
    feed_mm_per_rev: float,
    operation: OperationData | None,
    material: Material,
    machine: Machine,
) -> StepTime | None:
    """The time of a step; None when its depth is unknown. `operation` None for a tap."""
    travel = cut.step.travel_mm
    if travel is None:
        return None
    if cut.is_tap or operation is None:
        return _tap_time(travel / cut.lead_mm, rpm, machine)
    rapid_mm_per_s = machine.rapid_mm_per_min / 60
    feed_s = 60 * formulas.feed_time_min(travel, rpm, feed_mm_per_rev)
    out_mm = travel + 2 * cut.step.start_mm
    if cut.step.tool.cuts_back:
        out_mm += 2 * (cut.step.tip_mm or 0.0)
    if operation.way_out == "rapid":
        retract_s = out_mm / rapid_mm_per_s
    else:
        retract_s = feed_s / float(operation.way_out.removeprefix("x")) + 2 * cut.step.start_mm / rapid_mm_per_s
    pecks_s = _pecks_s(cut, travel, rapid_mm_per_s) if cut.step.pecks > 1 else 0.0
    dwell_s = 0.0 if material.traits & NO_DWELL else operation.dwell_s + _level_s(cut, rpm) + _shoulder_s(cut)
    return StepTime(feed_s, retract_s, pecks_s, dwell_s)


def _level_s(cut: Cut, rpm: float) -> float:
    """How long a drill stands at depth to leave a level floor; 0 for one with a point."""
    return 60 * FLAT_DWELL_TURNS / rpm if cut.step.tool.flat_ended else 0.0


def _shoulder_s(cut: Cut) -> float:
    """How long a step drill stands at depth for what its shoulder makes: as long as a tool of its own would."""
    also = cut.step.also
    return 0.0 if also is None else operation_of(also.kind, drill_column(cut.step.tool)).dwell_s


def _pecks_s(cut: Cut, travel_mm: float, rapid_mm_per_s: float) -> float:
    """Each peck but the last goes out and back: twice its depth at rapid, and a pause; or a short way, to break the chip.

    The pecks are reckoned as equal; the first bites are really larger, which is a matter of some tenths of a second.
    """
    pecks = cut.step.pecks
    if cut.step.pecks_short:
        return (pecks - 1) * CHIP_BREAK_S
    depths = (cut.step.start_mm + travel_mm * number / pecks for number in range(1, pecks))
    return sum(2 * depth / rapid_mm_per_s + PECK_PAUSE_S for depth in depths)


def _tap_time(turns: float, rpm: float, machine: Machine) -> StepTime:
    """In and out at the same speed; the spindle starts and stops at both ends."""
    acceleration = machine.spindle_acceleration_rev_per_s2
    stroke_s = tap_formulas.synchronised_stroke_s(turns, rpm, acceleration)
    dwell_s = 0.0 if machine.rigid_tapping else 2 * FLOATING_REVERSAL_S
    reached = tap_formulas.reached_rpm(rpm, turns, acceleration)
    return StepTime(stroke_s, stroke_s, dwell_s=dwell_s, reached_rpm=reached)
