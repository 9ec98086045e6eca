"""The parameters of opening a hole with an end mill on a helix: path, passes, speed, both feeds, load, time and edge life.

The cutter's centre runs on circles about the hole's axis and sinks all the time; each pass takes a ring off the wall. A
tooth bites as in any side milling: the torque is that of the metal removed in a minute and hardly grows with the hole.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, pi, radians, tan

from holesched.cutting import formulas
from holesched.cutting.clamp import Wanted, clamp, torque_share
from holesched.cutting.corrections import of_coolant, of_material, product
from holesched.cutting.feeds import REAM_FEED_FACTORS
from holesched.cutting.geometry import Cut
from holesched.cutting.life import two_digits
from holesched.cutting.loads import WEAR, Loads
from holesched.cutting.lookup import CALCULATED, between, figure, subgroup_data
from holesched.cutting.model import CutStep
from holesched.cutting.speeds import drill_speeds, feed_points, hss_feed_factor, operation
from holesched.cutting.thread_mill import EDGE_LIFE_MIN, milling_power_kw
from holesched.cutting.time import StepTime
from holesched.notes import COMMON_PRACTICE, Cite, Note, Reason, Standing
from holesched.shop.model import Machine
from holesched.standards.materials import Material
from holesched.tooling.model import StepKind

RING_SHARE = 0.4
"""Thickest ring of one pass over the cutter's diameter. Common practice, no source."""
RAMP_DEG = 3.0
"""Steepest way down of an end mill on a helix. Common practice, no source."""
SINK_SHARE = 0.5
"""Most that it sinks in a turn over its diameter. Common practice, no source."""
POWER_CITE = Cite("mean power of milling the ring away, kc V / t", standing=Standing.CALCULATED)
LIFE_CITE = Cite("40 to 120 min in the cut for an edge of coated carbide", standing=Standing.COMMON_PRACTICE)


@dataclass(frozen=True, slots=True)
class Helix:
    """The rings that open a hole from one diameter to another, all mm; `length_mm` None where the depth is unknown."""

    hole_mm: float
    before_mm: float
    cutter_mm: float
    length_mm: float | None

    @property
    def passes(self) -> int:
        """Rings one about another."""
        return max(1, ceil((self.hole_mm - self.before_mm) / 2 / (RING_SHARE * self.cutter_mm) - 1e-9))

    @property
    def ring_mm(self) -> float:
        """Thickness of each ring."""
        return (self.hole_mm - self.before_mm) / 2 / self.passes

    def diameter_mm(self, number: int) -> float:
        """Diameter that the pass of that number, from 1, leaves."""
        return self.before_mm + 2 * number * self.ring_mm

    def sink_mm(self, number: int) -> float:
        """How much the cutter sinks in a turn of that pass: as steep as it may, or a share of its diameter."""
        steepest = tan(radians(RAMP_DEG)) * pi * (self.diameter_mm(number) - self.cutter_mm)
        return min(steepest, SINK_SHARE * self.cutter_mm)

    def turns(self, number: int) -> int:
        """Turns of a pass: down, and one more that leaves the bottom level."""
        return 2 if self.length_mm is None else ceil(self.length_mm / self.sink_mm(number) - 1e-9) + 1

    def edge_path_mm(self) -> float:
        """Path of the edge over all passes; the way down is left out of its length (below 1 %)."""
        return sum(self.turns(number) * pi * self.diameter_mm(number) for number in range(1, self.passes + 1))

    def volume_mm3(self) -> float:
        """What one turn of the last, largest pass takes away."""
        outer, inner = self.hole_mm, self.hole_mm - 2 * self.ring_mm
        return pi / 4 * (outer**2 - inner**2) * self.sink_mm(self.passes)


def helix_step(cut: Cut, material: Material, machine: Machine) -> tuple[CutStep, list[Note]]:
    """The step's parameters and what the shop must look at."""
    step, tool = cut.step, cut.step.tool
    cutter = tool.diameter_mm
    length = None if step.tip_mm is None else max(step.tip_mm - step.start_mm, 0.0)
    helix = Helix(step.diameter_mm, max(cut.bored_mm, cutter), cutter, length)
    data, base = operation(StepKind.MILL, "carbide"), drill_speeds(tool, material.subgroup)
    found = (*of_material(material), *of_coolant(material, machine))
    factor, _ = product(found)
    low, start, high = (
        speed * share * factor for speed, share in zip((base.low, base.start, base.high), data.speed, strict=True)
    )
    least, most = REAM_FEED_FACTORS
    tooth = between(feed_points(data.feed), cutter) * min(max(hss_feed_factor(material.subgroup), least), most)
    inner = (helix.hole_mm - cutter) / helix.hole_mm
    name = f"end mill {tool.size}"
    running = clamp(
        Wanted(name, formulas.spindle_rpm(start, cutter), round(tooth * tool.flutes * inner, 3), rigid_feed=False,
               high_rpm=formulas.spindle_rpm(high, cutter), opens=True, remedy="Mill it in more passes"),
        machine,
        lambda feed: _loads(helix, material, feed, tool.flutes),
    )  # fmt: skip
    centre = formulas.feed_rate_mm_per_min(running.rpm, running.feed_mm_per_rev)
    real_tooth = running.feed_mm_per_rev / inner / tool.flutes
    minutes = helix.edge_path_mm() * inner / centre
    life = (two_digits(EDGE_LIFE_MIN[0] / minutes), two_digits(EDGE_LIFE_MIN[1] / minutes))
    load = running.loads
    rings = "1 ring" if helix.passes == 1 else f"{helix.passes} rings"
    why = "; ".join(
        [
            f"end mill of carbide in {material.subgroup} ({subgroup_data(material.subgroup).title}): {base.low:.3g} to "
            f"{base.high:.3g} m/min for drills, x{data.speed[1]:g} for the mill",
            *(f"x{each.speed:.2f} {each.because}" for each in found if each.speed != 1),
        ]
    )
    reasons = [
        Reason(f"cutting speed: {start:.3g} m/min", why, "CUT-SPEED", (base.cite, data.cite)),
        Reason(
            f"feed of the cutter's centre: {centre:.0f} mm/min",
            f"{real_tooth:.3f} mm a tooth, {tool.flutes} teeth; the centre runs on the smaller circle, "
            f"x{inner:.3f}, the hole's diameter less the cutter's over the hole's. Smaller rings: less, in the same way",
            "CUT-HELIX-FEED",
            (data.cite,),
        ),
        Reason(
            f"path: {rings}, last radius of the centre {(helix.hole_mm - cutter) / 2:.3f} mm",
            f"rings of {helix.ring_mm:.2f} mm from {helix.before_mm:.4g} mm on; last {helix.sink_mm(helix.passes):.2f} mm "
            f"down in a turn, {helix.turns(helix.passes)} turns, counter-clockwise: climb milled; the last turn level",
            "CUT-HELIX-PATH",
            (CALCULATED, COMMON_PRACTICE),
        ),
        *([Reason(f"mean torque: {figure(load.torque_nm)} N m", load.because, "CUT-LOAD", load.cites)] if load else []),
        *step.coolant_reasons,
    ]
    time = None
    if step.travel_mm is not None:
        time = StepTime(60 * minutes, retract_s=2 * (step.travel_mm + step.start_mm) / (machine.rapid_mm_per_min / 60))
        reasons.append(Reason(f"time: {time.minutes * 60:.1f} s a hole", time.told(), "CUT-TIME", (CALCULATED,)))
        because = f"{60 * minutes:.0f} s in the cut a hole"
        reasons.append(Reason(f"tool life: {life[0]:.0f} to {life[1]:.0f} holes", because, "CUT-LIFE", (LIFE_CITE,)))
    return (
        CutStep(
            step=step,
            speed_low_m_per_min=low,
            speed_start_m_per_min=start,
            speed_high_m_per_min=high,
            surface_m_per_min=formulas.surface_speed_m_per_min(running.rpm, cutter),
            spindle_rpm=running.rpm,
            feed_mm_per_rev=running.feed_mm_per_rev,
            feed_mm_per_min=centre,
            coolant=step.coolant,
            torque_nm=load.torque_nm if load else None,
            thrust_n=None,
            power_kw=formulas.power_kw(load.torque_nm, running.rpm) if load else None,
            chip_load_mm=real_tooth,
            time_min=time.minutes if time else 0.0,
            tool_life_holes=life if time else None,
            reasons=tuple(reasons),
            clamps=running.clamps,
            torque_share=torque_share(machine, running),
            overload=running.overload,
        ),
        list(running.notes),
    )


def _loads(helix: Helix, material: Material, centre_feed_mm_per_rev: float, teeth: int) -> Loads:
    """Mean torque in the last pass, worn; it does not depend on the speed."""
    turn = pi * (helix.hole_mm - helix.cutter_mm) / centre_feed_mm_per_rev
    tooth = centre_feed_mm_per_rev * helix.hole_mm / (helix.hole_mm - helix.cutter_mm) / teeth
    kc = formulas.specific_force_n_per_mm2(material.kc11_n_per_mm2, material.mc, tooth)
    torque = WEAR * formulas.torque_at_power_nm(milling_power_kw(kc, helix.volume_mm3(), turn), 1.0)
    because = f"{helix.volume_mm3():.0f} mm3 in a turn at kc {kc:.0f} N/mm2, normal wear {WEAR:g}; a tooth's peak is higher"
    return Loads(torque, None, because, (POWER_CITE, *material.cites))
