"""Why a speed, a load and a time are what they are: the sentences beside the numbers."""

from __future__ import annotations

from holesched.cutting.clamp import Running
from holesched.cutting.corrections import Correction
from holesched.cutting.geometry import Cut
from holesched.cutting.lookup import CALCULATED, figure, subgroup_data
from holesched.cutting.speeds import Speeds, drill_column, operation
from holesched.cutting.time import FLAT_DWELL_TURNS, NO_DWELL, StepTime
from holesched.notes import COMMON_PRACTICE, Note, Reason, Severity
from holesched.standards.materials import Material
from holesched.tooling.model import StepKind


def name_of(cut: Cut) -> str:
    """The tool as a note names it: "M8x1.25", "drill 6.8 mm"."""
    tool = cut.step.tool
    return tool.size if cut.is_tap else tool.called


def speed_reason(cut: Cut, material: Material, speeds: Speeds, found: tuple[Correction, ...], start: float) -> Reason:
    """The table's range and everything that changed it."""
    because = f"{speeds.tool} in {material.subgroup} ({subgroup_data(material.subgroup).title})"
    if not cut.is_tap and cut.kind is not StepKind.DRILL:
        because += f", {cut.kind.value} as a share of drilling"
    if cut.shoulder_mm:
        because += f", at the larger diameter of {cut.shoulder_mm:.4g} mm"
    because += f": {speeds.low:.3g} to {speeds.high:.3g}, start {speeds.start:.3g} m/min"
    of_case = [each for each in found if each.speed != 1]
    if of_case:
        because = "; ".join([because, *[f"x{each.speed:.2f} {each.because}" for each in of_case]])
    cites = [speeds.cite]
    if not cut.is_tap and cut.kind is not StepKind.DRILL:
        cites.append(operation(cut.kind, drill_column(cut.step.tool)).cite)
    cites += [each.cite for each in of_case]
    return Reason(f"cutting speed: {start:.3g} m/min", because, "CUT-SPEED", tuple(dict.fromkeys(cites)))


def load_reason(running: Running) -> Reason | None:
    """Torque and thrust with the formula they come from."""
    load = running.loads
    if load is None:
        return None
    text = f"torque: {figure(load.torque_nm)} N·m" + (
        f", thrust: {load.thrust_n:.0f} N" if load.thrust_n is not None else ""
    )
    return Reason(text, load.because, "CUT-LOAD", load.cites)


def mean_torque_reason(running: Running) -> tuple[Reason, ...]:
    """The mean torque of a milling cutter; none where there is no figure."""
    load = running.loads
    return (Reason(f"mean torque: {figure(load.torque_nm)} N·m", load.because, "CUT-LOAD", load.cites),) if load else ()


def bottom_reason(cut: Cut, material: Material) -> Reason | None:
    """How a flat-ended drill ends at depth; None for one with a point."""
    if not cut.step.tool.flat_ended:
        return None
    told = f"stands for {FLAT_DWELL_TURNS:g} turns", "what the lips still have to cut is cut, and the floor comes out level"
    if material.traits & NO_DWELL:
        told = "no dwell", "a tool that stands still in this material hardens its floor, or lights the chips"
    return Reason(f"at the flat bottom: {told[0]}", told[1], "CUT-FLAT-BOTTOM", (COMMON_PRACTICE,))


def time_reason(time: StepTime, running: Running) -> Reason:
    """A hole's time by part, and for a tap the speed its spindle really reaches."""
    because = time.told()
    if time.reached_rpm is not None:
        short = time.reached_rpm < running.rpm - 0.5
        because += f"; the spindle reaches {time.reached_rpm:.0f} rev/min" + (
            ", no more: it must stop and turn back, so a higher speed would save nothing" if short else ""
        )
    return Reason(f"time: {time.minutes * 60:.1f} s a hole", because, "CUT-TIME", (CALCULATED,))


def stand_in_notes(cut: Cut, material: Material, speeds: Speeds) -> list[Note]:
    """That the tables have no speed for this tool here, if so."""
    if not speeds.stand_in:
        return []
    tool = cut.step.tool
    what = f"{tool.material} {tool.flute_form or cut.kind.value}".strip()
    message = f"{name_of(cut)}: there is no speed for {what} in {subgroup_data(material.subgroup).title}."
    remedy = f"Choose another tool; meanwhile the sheet takes {speeds.stand_in}."
    return [Note("CUT-NO-DATA", Severity.WATCH, message, remedy, cite=speeds.cite)]
