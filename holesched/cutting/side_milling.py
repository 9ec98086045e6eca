"""What an end mill and a chamfer mill on their circles have in common: speed, feed of the centre, mean torque, the step."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol

from holesched.cutting import formulas
from holesched.cutting.clamp import Running, Wanted, clamp
from holesched.cutting.corrections import Correction, of_mill, product
from holesched.cutting.feeds import feed_share
from holesched.cutting.geometry import Cut
from holesched.cutting.loads import WEAR, Loads
from holesched.cutting.lookup import between, subgroup_data
from holesched.cutting.model import CutStep
from holesched.cutting.run_step import SpeedRange, run_step
from holesched.cutting.speeds import OperationData, Speeds, drill_speeds, feed_points, operation
from holesched.cutting.thread_mill import milling_power_kw
from holesched.cutting.time import StepTime
from holesched.notes import Cite, Reason
from holesched.shop.model import Machine
from holesched.standards.materials import Material
from holesched.tooling.model import StepKind, Tool, ToolStep


class Circle(Protocol):
    """Where a mill cuts: with what diameter of its own, mm, and its centre's circle over the one that its edge cuts."""

    @property
    def cutter_mm(self) -> float: ...
    @property
    def inner(self) -> float: ...


@dataclass(frozen=True, slots=True)
class Advised:
    """The speeds of a mill, m/min, with the drill's range of which they are a share, and what corrected them."""

    data: OperationData
    base: Speeds
    found: tuple[Correction, ...]
    speeds: SpeedRange


def advised_for(tool: Tool, material: Material, machine: Machine) -> Advised:
    """What the tables advise a mill of carbide in a material."""
    data, base = operation(StepKind.MILL, "carbide"), drill_speeds(tool, material.subgroup)
    found = of_mill(material, machine, lambda subgroup: drill_speeds(tool, subgroup))
    factor, _ = product(found)
    shares = data.speed
    return Advised(
        data, base, found, (base.low * shares[0] * factor, base.start * shares[1] * factor, base.high * shares[2] * factor)
    )


def running_on(
    circle: Circle,
    cut: Cut,
    advised: Advised,
    material: Material,
    machine: Machine,
    loads_at: Callable[[float], Loads],
) -> Running:
    """Speed and feed of the mill's centre inside the machine's limits; `loads_at` gives the loads at a feed of the centre,
    mm/rev."""
    (_, start, high), tool = advised.speeds, cut.step.tool
    tooth = between(feed_points(advised.data.feed), tool.diameter_mm) * feed_share(material)
    wanted = Wanted(
        tool.called,
        formulas.spindle_rpm(start, circle.cutter_mm),
        round(tooth * tool.flutes * circle.inner, 3),
        rigid_feed=False,
        high_rpm=formulas.spindle_rpm(high, circle.cutter_mm),
        remedy="Mill it in more passes",
        limit=cut.step.limit,
    )
    return clamp(wanted, machine, loads_at)


def tooth_feed_mm(circle: Circle, running: Running, teeth: int) -> float:
    """What a tooth takes where it cuts, of the feed that the mill's centre runs at."""
    return running.feed_mm_per_rev / circle.inner / teeth


def mean_loads(volume_mm3: float, turn: float, tooth_mm: float, where: str, material: Material, cite: Cite) -> Loads:
    """Mean torque, worn, of a volume that so many turns of the spindle take away; it does not depend on the speed."""
    kc = formulas.specific_force_n_per_mm2(material.kc11_n_per_mm2, material.mc, tooth_mm)
    torque = WEAR * formulas.torque_at_power_nm(milling_power_kw(kc, volume_mm3, turn), 1.0)
    because = f"{volume_mm3:.0f} mm3 in {where} at kc {kc:.0f} N/mm2, normal wear {WEAR:g}; a tooth's peak is higher"
    return Loads(torque, None, because, (cite, *material.cites))


def speed_reason(name: str, advised: Advised, material: Material) -> Reason:
    """The drill's range, of which milling takes its share, and everything that changed it."""
    base, data = advised.base, advised.data
    why = "; ".join(
        [
            f"{name} of carbide in {material.subgroup} ({subgroup_data(material.subgroup).title}): {base.low:.3g} to "
            f"{base.high:.3g} m/min for drills, x{data.speed[1]:g} for the mill",
            *(f"x{each.speed:.2f} {each.because}" for each in advised.found if each.speed != 1),
        ]
    )
    return Reason(f"cutting speed: {advised.speeds[1]:.3g} m/min", why, "CUT-SPEED", (base.cite, data.cite))


def time_of(step: ToolStep, minutes: float, machine: Machine) -> StepTime | None:
    """So many minutes in the cut, and the way in and out; None where the depth is unknown."""
    if step.travel_mm is None:
        return None
    return StepTime(60 * minutes, retract_s=2 * (step.travel_mm + step.start_mm) / (machine.rapid_mm_per_min / 60))


def milled(
    circle: Circle,
    cut: Cut,
    advised: Advised,
    running: Running,
    machine: Machine,
    *,
    time: StepTime | None,
    life: tuple[float, float] | None,
    reasons: Sequence[Reason],
) -> CutStep:
    """The step with its parameters."""
    return run_step(
        cut.step,
        advised.speeds,
        running,
        machine,
        cutter_mm=circle.cutter_mm,
        chip_load_mm=tooth_feed_mm(circle, running, cut.step.tool.flutes),
        time=time,
        life=life,
        reasons=reasons,
    )
