"""The parameters of a chamfer that a small chamfer mill cuts on a circle: path, passes, speed, both feeds, load and time.

The mill goes down beside the hole's axis, in on a half circle, once round, and out again; each pass takes a part of the
chamfer's width, the last the whole rim.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, pi, radians, tan

from holesched.cutting import formulas
from holesched.cutting.clamp import Running
from holesched.cutting.geometry import Cut
from holesched.cutting.life import edge_life
from holesched.cutting.loads import Loads
from holesched.cutting.lookup import CALCULATED
from holesched.cutting.model import CutStep
from holesched.cutting.reasons import mean_torque_reason, time_reason
from holesched.cutting.side_milling import (
    advised_for,
    mean_loads,
    milled,
    running_on,
    speed_reason,
    time_of,
    tooth_feed_mm,
)
from holesched.cutting.speeds import OperationData
from holesched.cutting.thread_mill import centre_path_mm
from holesched.notes import COMMON_PRACTICE, Cite, Note, Reason, Standing
from holesched.shop.model import Machine
from holesched.standards.materials import Material
from holesched.tooling.chamfer import contact_mm, flank_mm

MOST_WIDTH_MM = 2.5
"""Widest part of a chamfer that one pass takes. Common practice, no source."""
POWER_CITE = Cite("mean power of milling the chamfer away, kc V / t", standing=Standing.CALCULATED)


@dataclass(frozen=True, slots=True)
class Rim:
    """A chamfer from a hole to its rim by a mill that cuts with a diameter of its own, and no wider than its flank at one
    depth; mm, the angle is the included one."""

    rim_mm: float
    hole_mm: float
    cutter_mm: float
    flank_mm: float
    angle_deg: float

    @property
    def width_mm(self) -> float:
        """On the radius."""
        return (self.rim_mm - self.hole_mm) / 2

    @property
    def passes(self) -> int:
        """Each takes a layer of the chamfer, wider than the one before."""
        return max(1, ceil(self.width_mm / MOST_WIDTH_MM - 1e-9))

    def depths(self, number: int) -> int:
        """Turns one below another in the pass of that number, from 1: as many as the flank needs for its width."""
        return max(1, ceil(self.width_mm * number / self.passes / self.flank_mm - 1e-9))

    @property
    def turns(self) -> int:
        """Of all passes."""
        return sum(self.depths(number) for number in range(1, self.passes + 1))

    @property
    def inner(self) -> float:
        """The circle of the mill's centre over the rim."""
        return (self.rim_mm - self.cutter_mm) / self.rim_mm

    @property
    def volume_mm3(self) -> float:
        """What the last turn, the heaviest, takes away: its part of a ring of the triangle's section less that of the pass
        before."""
        before = self.width_mm * (self.passes - 1) / self.passes
        section = (self.width_mm**2 - before**2) / 2 / tan(radians(self.angle_deg / 2))
        return section * pi * (self.rim_mm - self.width_mm) / self.depths(self.passes)


def circle_step(cut: Cut, material: Material, machine: Machine) -> tuple[CutStep, list[Note]]:
    """The step's parameters and what the shop must look at."""
    step, tool, advised = cut.step, cut.step.tool, advised_for(cut.step.tool, material, machine)
    rim = Rim(cut.diameter_mm, cut.bored_mm, contact_mm(tool), flank_mm(tool), tool.point_angle_deg or 90.0)
    running = running_on(rim, cut, advised, material, machine, lambda feed: _loads(rim, material, feed, tool.flutes))
    centre = formulas.feed_rate_mm_per_min(running.rpm, running.feed_mm_per_rev)
    minutes = rim.turns * centre_path_mm(rim.rim_mm, rim.cutter_mm) / centre
    time = time_of(step, minutes, machine)
    life, life_reason = edge_life(material, tool.diameter_mm, minutes)
    reasons = [
        speed_reason("chamfer mill", advised, material),
        _feed_reason(rim, running, tool.flutes, advised.data),
        _path_reason(rim),
        *mean_torque_reason(running),
        *step.coolant_reasons,
        *([time_reason(time, running)] if time else []),
        life_reason,
    ]
    return milled(rim, cut, advised, running, machine, time=time, life=life, reasons=reasons), list(running.notes)


def _loads(rim: Rim, material: Material, centre_feed_mm_per_rev: float, teeth: int) -> Loads:
    """Mean torque in the last turn, worn; it does not depend on the speed."""
    tooth = centre_feed_mm_per_rev / rim.inner / teeth
    turn = pi * (rim.rim_mm - rim.cutter_mm) / centre_feed_mm_per_rev
    return mean_loads(rim.volume_mm3, turn, tooth, "the last turn", material, POWER_CITE)


def _feed_reason(rim: Rim, running: Running, teeth: int, data: OperationData) -> Reason:
    centre = formulas.feed_rate_mm_per_min(running.rpm, running.feed_mm_per_rev)
    because = (
        f"{tooth_feed_mm(rim, running, teeth):.3f} mm a tooth, {teeth} teeth; the centre runs on the smaller "
        f"circle, x{rim.inner:.3f}"
    )
    return Reason(f"feed of the mill's centre: {centre:.0f} mm/min", because, "CUT-CHAMFER-FEED", (data.cite,))


def _path_reason(rim: Rim) -> Reason:
    turns = "1 turn" if rim.turns == 1 else f"{rim.turns} turns at growing radius"
    if rim.turns > rim.passes:
        lowest_mm = (rim.hole_mm - rim.cutter_mm) / 2 + rim.flank_mm
        turns = (
            f"{rim.passes} passes at growing radius, the last at {rim.depths(rim.passes)} depths, for the flank cuts "
            f"{rim.flank_mm:.4g} mm at once, the lowest on a radius of {lowest_mm:.3f} mm: {rim.turns} turns"
        )
    because = (
        f"the mill cuts the rim with its diameter of {rim.cutter_mm:.4g} mm; {rim.width_mm:.2f} mm wide: {turns}, in and "
        "out on half circles, counter-clockwise: climb milled"
    )
    decision = f"path of the mill's centre: radius {(rim.rim_mm - rim.cutter_mm) / 2:.3f} mm"
    return Reason(decision, because, "CUT-CHAMFER-PATH", (CALCULATED, COMMON_PRACTICE))
