"""A tool that the spindle turns and feeds along its axis: its speed and feed inside the machine's limits, and the time."""

from __future__ import annotations

from dataclasses import dataclass

from holesched.cutting import formulas
from holesched.cutting.clamp import Running, Wanted, clamp
from holesched.cutting.corrections import Correction, corrections, of_softer, product
from holesched.cutting.feeds import feed_of
from holesched.cutting.geometry import Cut
from holesched.cutting.loads import loads
from holesched.cutting.reasons import name_of
from holesched.cutting.risk import breaking_share
from holesched.cutting.run_step import SpeedRange
from holesched.cutting.speeds import Speeds, drill_column, operation, operation_speeds, tap_speeds
from holesched.cutting.time import StepTime, step_time
from holesched.notes import Note, Reason
from holesched.shop.model import Shop
from holesched.standards.materials import Material
from holesched.tooling.model import StepKind, ToolStep


@dataclass(frozen=True, slots=True)
class Turning:
    """The table's speeds and what corrected them, the `advised` range that follows, what really runs, and how long (None
    where the depth is unknown)."""

    cut: Cut
    speeds: Speeds
    found: tuple[Correction, ...]
    advised: SpeedRange
    feed_reason: Reason
    running: Running
    time: StepTime | None

    @property
    def step(self) -> ToolStep:
        return self.cut.step

    @property
    def torque_nm(self) -> float | None:
        return self.running.loads.torque_nm if self.running.loads else None

    @property
    def thrust_n(self) -> float | None:
        return self.running.loads.thrust_n if self.running.loads else None

    @property
    def torque_share(self) -> float | None:
        return self.running.torque_share

    @property
    def breaking_share(self) -> float | None:
        """A tap's torque over what breaks it; None for other tools."""
        return breaking_share(self.cut, self.running.loads) if self.cut.is_tap and self.running.loads else None

    @property
    def overload(self) -> tuple[Note, ...]:
        return self.running.overload


def turning_of(cut: Cut, material: Material, shop: Shop) -> Turning:
    """Speed, feed and time of a drill, tap, reamer or another tool on the hole's axis."""
    step = cut.step
    column = drill_column(step.tool)
    data = None if cut.is_tap else operation(step.kind, column)

    def speeds_in(subgroup: str) -> Speeds:
        return tap_speeds(step.tool, subgroup) if data is None else operation_speeds(step.kind, column, subgroup)

    speeds = speeds_in(material.subgroup)
    found = (*corrections(cut, material, shop.machine), *of_softer(material, shop.machine, speeds_in))
    speed_factor, _ = product(found)
    low, start, high = speeds.low * speed_factor, speeds.start * speed_factor, speeds.high * speed_factor
    feed, feed_reason = feed_of(cut, material, data, found, shop.machine)
    wanted = Wanted(
        name_of(cut),
        formulas.spindle_rpm(start, cut.widest_mm),
        feed,
        cut.is_tap,
        formulas.spindle_rpm(high, cut.widest_mm),
        _remedy(cut, shop),
        step.limit if not cut.is_tap else None,
    )
    running = clamp(wanted, shop.machine, lambda feed_mm: loads(cut, material, feed_mm))
    time = step_time(cut, running.rpm, running.feed_mm_per_rev, data, material, shop.machine)
    return Turning(cut, speeds, found, (low, start, high), feed_reason, running, time)


def _remedy(cut: Cut, shop: Shop) -> str:
    """What to do where the machine's torque or thrust is not enough."""
    if cut.kind is StepKind.SPOT:
        return "Start the hole with a smaller drill"
    if cut.kind is StepKind.COUNTERSINK:
        otherwise = "Chamfer it by hand" if cut.step.step is None else "Turn the cone on a lathe"
        return f"{otherwise} or mill it on a helix" if shop.machine.thread_milling else otherwise
    if not cut.is_tap:
        return (
            "Open it in steps or bore it"
            if cut.bored_mm > 0
            else "Drill a pilot hole first and open it in steps, or bore it"
        )
    if cut.is_millable and shop.machine.thread_milling:
        return "Thread-mill it"
    return "Tap it in several passes, the last turns by hand to the gauge" if cut.is_taper else "Tap it by hand in a set"
