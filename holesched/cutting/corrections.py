"""How the case changes the table's speed and feed: hardness, machinability, coolant, depth, thread, size, holder."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache

from holesched.cutting.geometry import Cut
from holesched.cutting.lookup import between, depth_factors, factor, hardness_factor, subgroup_data
from holesched.cutting.speeds import Speeds, drill_column
from holesched.notes import Cite
from holesched.shop.model import Machine
from holesched.standards.materials import Material
from holesched.tables import cite_of
from holesched.tooling.model import StepKind

_SLIGHT = 0.005
"""A factor this near to 1 is not worth a word."""
THROUGH_COOLANT_RATIO = 8.0
"""Up to this depth over diameter a carbide drill with coolant through it is not slowed. Common practice, no source."""
HARDENS = "work-hardening"
"""The trait of a material that hardens where it is rubbed: deep in it a drill is slowed and not fed less. Common practice,
no source."""
LONG_THREAD_D = (2.0, 3.0)
"""Depths over the diameter between which a tap is slowed more and more. Common practice, no source."""
LONG_REACH = 2.5
"""From this depth over the thread's diameter a thread mill reaches far. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Correction:
    """Factors on speed and feed, why, and the source."""

    speed: float
    feed: float
    because: str
    cite: Cite


def corrections(cut: Cut, material: Material, machine: Machine) -> tuple[Correction, ...]:
    """Everything that changes the table's figures for this step, in the order in which it is told."""
    found = [*of_material(material), *of_coolant(material, machine)]
    if cut.kind is StepKind.DRILL:
        found += _of_depth(cut, material)
    if cut.step.tool.flat_ended:
        found.append(_named("flat-ended"))
    if cut.is_tap:
        found += [*_of_long_thread(cut), *[_named(name) for name in _tap_factors(cut, machine)]]
    return tuple(found)


def product(found: Sequence[Correction]) -> tuple[float, float]:
    """All corrections together: the factor on speed and the factor on feed."""
    speed = feed = 1.0
    for correction in found:
        speed *= correction.speed
        feed *= correction.feed
    return speed, feed


def of_material(material: Material) -> tuple[Correction, ...]:
    """What the workpiece's hardness and machinability change."""
    return _of_material(material.subgroup, material.middle_hb, material.speed_factor, material.cites[:1])


@lru_cache(maxsize=256)
def _of_material(subgroup: str, hb: float, speed_factor: float, cites: tuple[Cite, ...]) -> tuple[Correction, ...]:
    found = []
    hardness = hardness_factor(subgroup, hb)
    if abs(hardness - 1) > _SLIGHT:
        because = f"{hb:.0f} HB where the row is for {subgroup_data(subgroup).reference_hb:.0f} HB"
        found.append(Correction(hardness, 1.0, because, cite_of("cutting_hardness.csv")))
    if speed_factor != 1:
        easier = "easier" if speed_factor > 1 else "harder"
        found.append(Correction(speed_factor, 1.0, f"{easier} to cut than its sub-group {subgroup}", *cites))
    return tuple(found)


def of_mill(material: Material, machine: Machine, speeds_in: Callable[[str], Speeds | None]) -> tuple[Correction, ...]:
    """Everything that changes a milling cutter's speeds, whatever the hole."""
    return (*of_material(material), *of_coolant(material, machine), *of_softer(material, machine, speeds_in))


def of_softer(material: Material, machine: Machine, speeds_in: Callable[[str], Speeds | None]) -> list[Correction]:
    """What keeps a hardened material from being cut faster than the same tool cuts it less hard: the tables of hardened work
    are for themselves and begin above where those of some grades end. `speeds_in` gives the tool's speeds in a sub-group."""
    if not material.softer:
        return []
    own = _start(material, machine, speeds_in)
    bounds = [
        (_start(replace(material, subgroup=subgroup, speed_factor=speed_factor), machine, speeds_in), subgroup)
        for subgroup, speed_factor in material.softer
    ]
    most, subgroup = min((bound for bound in bounds if bound[0]), default=(own, ""))
    if most >= own:
        return []
    because = f"no faster than the same alloy less hard, in {subgroup}"
    return [Correction(most / own, 1.0, because, cite_of("cutting_hardness.csv"))]


def _start(material: Material, machine: Machine, speeds_in: Callable[[str], Speeds | None]) -> float:
    """The speed to start with before what the hole changes; 0 where there is none."""
    speeds = speeds_in(material.subgroup)
    found = (*of_material(material), *of_coolant(material, machine))
    return speeds.start * product(found)[0] if speeds is not None else 0.0


def of_coolant(material: Material, machine: Machine) -> list[Correction]:
    """What is lost without a jet of coolant, in a material whose speeds are for one."""
    if machine.coolant == "flood" or subgroup_data(material.subgroup).runs_dry:
        return []
    return [_named("coolant-hand" if machine.coolant == "hand" else "coolant-none")]


def _of_depth(cut: Cut, material: Material) -> list[Correction]:
    ratio = cut.depth_ratio
    if ratio is None:
        return []
    if cut.step.tool.ducts and drill_column(cut.step.tool) == "carbide" and ratio <= THROUGH_COOLANT_RATIO:
        return []
    speed, feed = (between(curve, ratio) for curve in depth_factors())
    if speed > 1 - _SLIGHT:
        return []
    feed = 1.0 if HARDENS in material.traits else feed
    return [Correction(speed, feed, f"{ratio:.1f} diameters deep", cite_of("cutting_depth.csv"))]


def _of_long_thread(cut: Cut) -> list[Correction]:
    """What a long thread takes from a tap's speed: in proportion from 2 to 3 diameters, so that 0.2 mm never decide."""
    full, (least, most) = _named("tap-deep"), LONG_THREAD_D
    share = between(((least, 1.0), (most, full.speed)), cut.depth_ratio or 0.0)
    return [] if share > 1 - _SLIGHT else [replace(full, speed=share, because=f"{cut.depth_ratio:.1f} D: {full.because}")]


def _tap_factors(cut: Cut, machine: Machine) -> list[str]:
    names, tool = [], cut.step.tool
    if tool.chamfer is not None and tool.chamfer.threads <= 2:
        names.append("tap-bottoming")
    if cut.is_taper:
        names.append("tap-taper-pipe")
    if not machine.rigid_tapping:
        names.append("tap-floating")
    if cut.diameter_mm < 3:
        names.append("small")
    if cut.diameter_mm > 20:
        names.append("tap-coarse")
    return names


def of_reach(depth_ratio: float | None) -> list[Correction]:
    """What a long reach takes from a thread mill's speed."""
    return [_named("mill-reach")] if depth_ratio is not None and depth_ratio > LONG_REACH else []


@cache
def _named(name: str) -> Correction:
    row = factor(name)
    return Correction(row.speed, row.feed, row.because, cite_of("cutting_factors.csv"))
