"""The parameters of opening a hole with an end mill on a helix: path, passes, speed, both feeds, load, time and edge life.

The cutter's centre runs on circles about the hole's axis and sinks all the time; each pass takes a ring off the wall, in
solid metal the first one all of it. A tooth bites as in any side milling: the torque is that of the metal removed in a
minute and hardly grows with the hole; where it is too much the cutter sinks less in a turn.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
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
from holesched.notes import COMMON_PRACTICE, Cite, Note, Reason, Standing
from holesched.shop.model import Machine
from holesched.standards.materials import Material

RING_SHARE = 0.4
"""Thickest ring of one pass over the cutter's diameter. Common practice, no source."""
RAMP_DEG = 3.0
"""Steepest way down of an end mill on a helix. Common practice, no source."""
SINK_SHARE = 0.5
"""Most that it sinks in a turn over its diameter. Common practice, no source."""
LEAST_SINK_SHARE = 0.05
"""It is not made to sink less than this to spare the spindle: sooner it is fed less. Common practice, no source."""
POWER_CITE = Cite("mean power of milling the ring away, kc V / t", standing=Standing.CALCULATED)


@dataclass(frozen=True, slots=True)
class Helix:
    """The rings that open a hole to its diameter, all mm: from `bored_mm` (0: solid metal), or from the cutter's own
    diameter where that is larger; `length_mm` None where the depth is unknown, `sink_share` the most that the cutter sinks
    in a turn over its diameter."""

    hole_mm: float
    bored_mm: float
    cutter_mm: float
    length_mm: float | None
    sink_share: float = SINK_SHARE

    @property
    def before_mm(self) -> float:
        """Where the first ring begins."""
        return max(self.bored_mm, self.cutter_mm)

    @property
    def passes(self) -> int:
        """Rings one about another."""
        return max(1, ceil((self.hole_mm - self.before_mm) / 2 / (RING_SHARE * self.cutter_mm) - 1e-9))

    @property
    def ring_mm(self) -> float:
        """Thickness of each ring."""
        return (self.hole_mm - self.before_mm) / 2 / self.passes

    @property
    def inner(self) -> float:
        """The circle of the cutter's centre in the last ring over the hole's diameter."""
        return (self.hole_mm - self.cutter_mm) / self.hole_mm

    def diameter_mm(self, number: int) -> float:
        """Diameter that the pass of that number, from 1, leaves."""
        return self.before_mm + 2 * number * self.ring_mm

    def sink_mm(self, number: int) -> float:
        """How much the cutter sinks in a turn of that pass: as steep as it may, or a share of its diameter."""
        steepest = tan(radians(RAMP_DEG)) * pi * (self.diameter_mm(number) - self.cutter_mm)
        return min(steepest, self.sink_share * self.cutter_mm)

    def turns(self, number: int) -> int:
        """Turns of a pass: down, and one more that leaves the bottom level."""
        return 2 if self.length_mm is None else ceil(self.length_mm / self.sink_mm(number) - 1e-9) + 1

    def edge_path_mm(self) -> float:
        """Path of the edge over all passes; the way down is left out of its length (below 1 %)."""
        return sum(self.turns(number) * pi * self.diameter_mm(number) for number in range(1, self.passes + 1))

    def volume_mm3(self, number: int) -> float:
        """What one turn of a pass takes away."""
        outer = self.diameter_mm(number)
        inner = self.bored_mm if number == 1 else outer - 2 * self.ring_mm
        return pi / 4 * (outer**2 - inner**2) * self.sink_mm(number)

    @property
    def heaviest(self) -> int:
        """The pass that takes most away on the same path of the edge."""
        return max(range(1, self.passes + 1), key=lambda number: self.volume_mm3(number) / self.diameter_mm(number))


def helix_step(cut: Cut, material: Material, machine: Machine) -> tuple[CutStep, list[Note]]:
    """The step's parameters and what the shop must look at."""
    step, advised = cut.step, advised_for(cut.step.tool, material, machine)

    def run(helix: Helix) -> Running:
        return running_on(
            helix, cut, advised, material, machine, lambda feed: _loads(helix, material, feed, step.tool.flutes)
        )

    helix, running = _within(run, cut)
    minutes = helix.edge_path_mm() * helix.inner / formulas.feed_rate_mm_per_min(running.rpm, running.feed_mm_per_rev)
    time = time_of(step, minutes, machine)
    life, life_reason = edge_life(material, step.tool.diameter_mm, minutes)
    reasons = [
        speed_reason("end mill", advised, material),
        _feed_reason(cut, helix, running, advised.data),
        _path_reason(helix),
        *mean_torque_reason(running),
        *step.coolant_reasons,
        *((time_reason(time, running), life_reason) if time else ()),
    ]
    made = milled(helix, cut, advised, running, machine, time=time, life=life if time else None, reasons=reasons)
    return made, list(running.notes)


def _helix_of(cut: Cut) -> Helix:
    """The rings that a step mills, sinking as steeply as may be."""
    step = cut.step
    length = None if step.tip_mm is None else max(step.tip_mm - step.start_mm, 0.0)
    return Helix(step.diameter_mm, cut.bored_mm, step.tool.diameter_mm, length)


def _within(run: Callable[[Helix], Running], cut: Cut) -> tuple[Helix, Running]:
    """The rings, and what runs in them, with the cutter sinking no more in a turn than the spindle's torque allows."""
    helix = _helix_of(cut)
    running = run(helix)
    while any(each.rule == "CLAMP-TORQUE" for each in running.clamps) and helix.sink_share > LEAST_SINK_SHARE:
        helix = replace(helix, sink_share=max(0.7 * helix.sink_share, LEAST_SINK_SHARE))
        running = run(helix)
    return helix, running


def _feed_reason(cut: Cut, helix: Helix, running: Running, data: OperationData) -> Reason:
    centre = formulas.feed_rate_mm_per_min(running.rpm, running.feed_mm_per_rev)
    teeth = cut.step.tool.flutes
    because = (
        f"{tooth_feed_mm(helix, running, teeth):.3f} mm a tooth, {teeth} teeth; the centre runs on the smaller "
        f"circle, x{helix.inner:.3f}, the hole's diameter less the cutter's over the hole's. Smaller rings: less, in the "
        "same way"
    )
    return Reason(f"feed of the cutter's centre: {centre:.0f} mm/min", because, "CUT-HELIX-FEED", (data.cite,))


def _path_reason(helix: Helix) -> Reason:
    rings = "1 ring" if helix.passes == 1 else f"{helix.passes} rings"
    because = (
        f"rings of {helix.ring_mm:.2f} mm from {helix.before_mm:.4g} mm on; last {helix.sink_mm(helix.passes):.2f} mm "
        f"down in a turn, {helix.turns(helix.passes)} turns, counter-clockwise: climb milled; the last turn level"
    )
    if helix.bored_mm == 0:
        because += f"; the first ring from solid metal, {helix.sink_mm(1):.2f} mm down in a turn"
    if helix.sink_share < SINK_SHARE:
        because += "; it sinks no more, for the spindle has not the torque"
    decision = f"path: {rings}, last radius of the centre {(helix.hole_mm - helix.cutter_mm) / 2:.3f} mm"
    return Reason(decision, because, "CUT-HELIX-PATH", (CALCULATED, COMMON_PRACTICE))


def _loads(helix: Helix, material: Material, centre_feed_mm_per_rev: float, teeth: int) -> Loads:
    """Mean torque in the heaviest pass, worn; it does not depend on the speed."""
    number, edge_mm_per_rev = helix.heaviest, centre_feed_mm_per_rev / helix.inner
    volume, turn = helix.volume_mm3(number), pi * helix.diameter_mm(number) / edge_mm_per_rev
    return mean_loads(volume, turn, edge_mm_per_rev / teeth, "a turn", material, POWER_CITE)
