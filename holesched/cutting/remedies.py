"""What makes it less likely that a tap breaks, cheapest first, each with what it then takes of the torque that breaks it."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from holesched.cutting import tap_formulas
from holesched.cutting.geometry import Cut
from holesched.cutting.loads import PACKING_FROM, chips_pack, tap_torque
from holesched.cutting.lookup import figure, life_holes, tap_load
from holesched.cutting.milled_step import milled_of
from holesched.cutting.thread_mill import mill_thread
from holesched.shop.model import Machine, Shop
from holesched.standards.materials import Material
from holesched.tooling.engagement import ENTRY_P, needed_for
from holesched.tooling.model import StepKind
from holesched.tooling.reach import reaches

_WORTH = 0.05
"""What saves less than this share of the torque is no remedy."""
LESS_THREAD = "Ask whether"
"""How the remedy of a shorter thread begins."""


class _Way(NamedTuple):
    """A remedy in words, the tap as it would then cut, and the hole that it would meet, mm; None: the hole as it is."""

    told: str
    cut: Cut
    hole_mm: float | None = None


def breaking_torque(cut: Cut) -> tuple[float, list[str]]:
    """The torque that breaks a tap, N m, and what makes it, in words."""
    tool = cut.step.tool
    strength, _ = tap_load("strength_nm_per_mm3")
    core_mm = tap_formulas.tap_core_mm(cut.diameter_mm, tool.pitch_mm or cut.lead_mm)
    breaking, parts = tap_formulas.tap_breaking_torque_nm(core_mm, strength), [f"core of {core_mm:.3g} mm"]
    for name, applies in (("forming-core", tool.flute_form == "forming"), ("carbide-core", tool.material == "carbide")):
        if applies:
            value, why = tap_load(name)
            breaking *= value
            parts.append(f"x{value:g} {why}")
    return breaking, parts


def remedies_of(cut: Cut, material: Material, shop: Shop, index: float) -> tuple[str, ...]:
    """Another drill, less thread, a forming tap, a thread mill: only what lowers the risk and can be had; never what a rule
    strikes for this hole, nor for a thread tapped by hand what needs the machine. Where nothing else does, a new tap."""
    found = []
    against_chips = (
        (_less_thread(cut, material, shop.preferences.screw_grade), _forming_tap(cut, material))
        if chips_pack(cut, material)
        else ()
    )
    for way in (_larger_hole(cut), *against_chips):
        left = index if way is None else _index(way.cut, material, way.hole_mm)
        if way is not None and left <= (1 - _WORTH) * index:
            found.append(f"{way.told}: then {100 * left:.0f} %.")
    milled = _milled(cut, material, shop.machine)
    found += [milled] if milled else []
    if not found:
        sharp = index / tap_load("wear")[0]
        found = [f"Take a new tap and change it early: sharp it takes {100 * sharp:.0f} %."]
    return tuple(found)


def _index(cut: Cut, material: Material, hole_mm: float | None = None) -> float:
    """A tap's torque over what breaks it, in a hole of that size."""
    return tap_torque(cut, material, hole_mm or cut.hole_mm)[0] / breaking_torque(cut)[0]


def _larger_hole(cut: Cut) -> _Way | None:
    """By the largest drill whose hole stays inside the limits; up to the limit where the hole is set to size."""
    if cut.fit is None or cut.step.tool.flute_form == "forming":
        return None
    if cut.fit.largest is not None:
        drill, hole_mm = cut.fit.largest
        return _Way(f"Open the hole: drill {drill.named} makes about {hole_mm:.3f} mm, inside the limits", cut, hole_mm)
    high_mm = cut.fit.window_mm[1]
    told = f"Open the hole: up to {high_mm:.3f} mm is inside the limits"
    return _Way(told, cut, high_mm) if high_mm < cut.diameter_mm else None


def _less_thread(cut: Cut, material: Material, grade: str) -> _Way | None:
    """As deep as chips do not yet pack, where that is as much as a screw of the shop's grade takes."""
    thread = cut.step.step.thread if cut.step.step else None
    if cut.depth_ratio is None or cut.is_taper or cut.depth_ratio <= PACKING_FROM:
        return None
    enough_mm = PACKING_FROM * cut.diameter_mm
    needed = needed_for(thread, grade, material) if thread is not None else None
    if needed is not None and enough_mm - ENTRY_P * cut.lead_mm < needed.least_mm:
        return None
    told = f"{LESS_THREAD} {enough_mm:.4g} mm of full thread ({PACKING_FROM:g} D) is enough"
    return _Way(told, replace(cut, depth_ratio=PACKING_FROM))


def _forming_tap(cut: Cut, material: Material) -> _Way | None:
    """Where the metal flows, the thread is parallel, no rule strikes it, and such taps are used here."""
    tool = cut.step.tool
    flows = material.chip == "long" and "brittle" not in material.traits and life_holes(material.subgroup, "forming")
    if tool.flute_form == "forming" or tool.by_hand or not flows or cut.is_taper or _struck(cut, "form"):
        return None
    formed = replace(cut, step=replace(cut.step, tool=replace(tool, flute_form="forming")))
    return _Way("A forming tap makes no chips; it needs its own, larger hole", formed)


def _milled(cut: Cut, material: Material, machine: Machine) -> str:
    millable = not cut.step.tool.by_hand and cut.is_millable and machine.thread_milling and not _struck(cut, "thread mill")
    mill = mill_thread(milled_of(cut), material, machine) if millable and mill_reaches(cut) else None
    if mill is None:
        return ""
    seconds = f"about {figure(60 * mill.time_min)} s in the cut"
    return f"A thread mill of {mill.cutter_mm:g} mm ({seconds}) is smaller than the hole and lifts out if it breaks."


def mill_reaches(cut: Cut) -> bool:
    """Whether a usual thread mill goes into a thread and as deep as it is long."""
    thread = milled_of(cut)
    cutter = thread.cutter
    return cutter is not None and reaches(StepKind.THREAD_MILL, thread.length_mm, cutter.diameter_mm)


def _struck(cut: Cut, process: str) -> bool:
    """Whether a row of the rules strikes a process for this thread: it lost to another row than the winner's."""
    reason = next((reason for reason in cut.step.reasons if reason.decision.startswith("process: ")), None)
    lost = reason.rejected if reason is not None else ()
    return any(each.candidate == process and reason is not None and each.rule != reason.rule for each in lost)
