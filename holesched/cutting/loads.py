"""Torque and thrust of a step, by which formula, worn as tools are in use."""

from __future__ import annotations

from dataclasses import dataclass, replace

from holesched.cutting import formulas, tap_formulas
from holesched.cutting.geometry import Cut
from holesched.cutting.lookup import figure, material_factor_kd, tap_load
from holesched.notes import Cite, Standing
from holesched.standards.materials import Material
from holesched.tables import cite_of
from holesched.tooling.model import CONES, StepKind
from holesched.tooling.tap import DEEPER

WEAR = 1.3
"""Normal wear (1.0 sharp, 1.5 dull), for drills as the handbook's W. From memory."""
SPLIT_FROM_DEG = 130.0
"""Drills with so flat a point are split-pointed. Common practice, no source."""
PACKING_FROM, PACKING_FULL = 1.5, 2.5
"""Depth over diameter between which long chips begin to pack in a blind tapped hole. Common practice, no source."""
HANDBOOK = Cite("Machinery's Handbook", "31st", "pp. 1152-1153")
KIENZLE = Cite("Kienzle's relation, textbook form for drills", standing=Standing.FROM_MEMORY)
TAP_MODEL = Cite("section of the thread groove times specific cutting force", standing=Standing.CALCULATED)


@dataclass(frozen=True, slots=True)
class Loads:
    """Torque, thrust (None: not estimated), and how they were found; `factors` tells a tap's torque part by part."""

    torque_nm: float
    thrust_n: float | None
    because: str
    cites: tuple[Cite, ...]
    factors: tuple[str, ...] = ()


def loads(cut: Cut, material: Material, feed_mm_per_rev: float) -> Loads | None:
    """Loads of a step at a feed; None for reamers, for which no formula serves."""
    if cut.is_tap:
        return tap_loads(cut, material, cut.hole_mm)
    if cut.step.tool.shoulder is not None:
        return _with_shoulder(_drilled(cut, material, feed_mm_per_rev), cut, material, feed_mm_per_rev)
    return _drilled(cut, material, feed_mm_per_rev)


def _drilled(cut: Cut, material: Material, feed_mm_per_rev: float) -> Loads | None:
    if cut.kind is StepKind.DRILL and cut.bored_mm == 0:
        return _solid(cut, material, feed_mm_per_rev)
    if cut.kind is StepKind.REAM:
        return None
    return _opened(cut, material, feed_mm_per_rev)


def _solid(cut: Cut, material: Material, feed: float) -> Loads:
    tool, d = cut.step.tool, cut.diameter_mm
    angle = tool.point_angle_deg or 118.0
    kd, kd_cite = material_factor_kd(material)
    point = formulas.SPLIT_POINT if angle >= SPLIT_FROM_DEG else formulas.STANDARD_POINT
    handbook_nm = formulas.drilling_torque_handbook_nm(kd, feed, d, WEAR, point)
    handbook_n = formulas.drilling_thrust_handbook_n(kd, feed, d, WEAR, point)
    kc = _kc(cut, material, feed, angle)
    kienzle_nm = formulas.drilling_torque_kienzle_nm(kc, feed, d, WEAR)
    kienzle_n = formulas.drilling_thrust_kienzle_n(kc, feed, d, angle, WEAR)
    higher, lower = ("handbook", "Kienzle") if handbook_nm >= kienzle_nm else ("Kienzle", "handbook")
    because = (
        f"{higher} formula, the higher of the two ({lower} {figure(min(handbook_nm, kienzle_nm))} N·m); "
        f"{'split' if point is formulas.SPLIT_POINT else 'standard'} point, normal wear {WEAR:g}"
    )
    cites = (HANDBOOK, kd_cite) if higher == "handbook" else (KIENZLE, *material.cites)
    return Loads(max(handbook_nm, kienzle_nm), max(handbook_n, kienzle_n), because, cites)


def _opened(cut: Cut, material: Material, feed: float) -> Loads:
    """The ring from the hole that is there to the tool's diameter, or a cone's rim; of a spot the whole cone. A cone is
    heaviest at its full depth, where the lips cut from hole to rim: that is what is reckoned."""
    pointed = cut.kind is StepKind.DRILL or cut.kind in CONES
    angle = (cut.step.tool.point_angle_deg or 118.0) if pointed else 180.0
    kc = _kc(cut, material, feed, angle)
    torque = formulas.drilling_torque_kienzle_nm(kc, feed, cut.diameter_mm, WEAR, cut.bored_mm)
    thrust = formulas.drilling_thrust_kienzle_n(kc, feed, cut.diameter_mm, angle, WEAR, cut.bored_mm)
    what = f"from {cut.bored_mm:.1f} mm" if cut.bored_mm else "into solid metal"
    how = f"a cone of {angle:g} degrees to {cut.diameter_mm:.4g} mm, at its full depth," if cut.kind in CONES else "opening"
    return Loads(torque, thrust, f"Kienzle formula, {how} {what}, normal wear {WEAR:g}", (KIENZLE, *material.cites))


def _with_shoulder(drilled: Loads | None, cut: Cut, material: Material, feed: float) -> Loads | None:
    """The loads of a step drill: of its small diameter, and of the ring that its shoulder cuts, as if both cut at once."""
    shoulder = cut.step.tool.shoulder
    if drilled is None or shoulder is None:
        return drilled
    wide_mm, angle = cut.shoulder_mm, shoulder.angle_deg
    kc = _kc(cut, material, feed, angle)
    torque = formulas.drilling_torque_kienzle_nm(kc, feed, wide_mm, WEAR, cut.diameter_mm)
    thrust = formulas.drilling_thrust_kienzle_n(kc, feed, wide_mm, angle, WEAR, cut.diameter_mm)
    because = (
        f"{drilled.because}; with it, as if both cut at once, the ring of the shoulder to {wide_mm:.4g} mm by the Kienzle "
        f"formula: {figure(torque)} N·m and {thrust:.0f} N more"
    )
    cites = tuple(dict.fromkeys((*drilled.cites, KIENZLE, *material.cites)))
    whole_n = None if drilled.thrust_n is None else drilled.thrust_n + thrust
    return replace(drilled, torque_nm=drilled.torque_nm + torque, thrust_n=whole_n, because=because, cites=cites)


def _kc(cut: Cut, material: Material, feed: float, angle_deg: float) -> float:
    chip = formulas.drill_chip_thickness_mm(feed, max(cut.step.tool.flutes, 1), angle_deg)
    return formulas.specific_force_n_per_mm2(material.kc11_n_per_mm2, material.mc, chip)


def tap_chip(cut: Cut, hole_mm: float) -> float | None:
    """Chip thickness of one chamfer tooth in a hole, mm; None for a forming tap, which makes no chip."""
    tool = cut.step.tool
    if tool.flute_form == "forming":
        return None
    height = tap_formulas.thread_height_mm(cut.diameter_mm, hole_mm)
    teeth = max(tool.flutes, 1) / (2 if tool.every_other_tooth else 1)
    return tap_formulas.tap_chip_mm(height, tool.chamfer.threads if tool.chamfer else 2.5, teeth)


_DOUBTED = ("K2", "K3", "S1", "S2", "S3")
"""Ductile iron, titanium and nickel: a printed table of specific energies (Stephenson and Agapiou, Table 2.1) has about
twice what kc1.1 from memory gives. Not grey iron: its kc1.1 is read, and a test of tap life (DISAGREEMENTS.md) bears it
out."""
_MAY_BE_TWICE = "in ductile iron, titanium and nickel it may be twice this"


def how_good(material: Material) -> tuple[float, str]:
    """By how much a tap's torque may be more than its estimate, as a factor for those who judge it, and in words."""
    return (2.0, _MAY_BE_TWICE) if material.subgroup in _DOUBTED else (1.0, "good to 40 %")


def tap_loads(cut: Cut, material: Material, hole_mm: float) -> Loads:
    """A tap's torque in a hole of that size, with everything that raises it, in words."""
    torque, sharp, parts = tap_torque(cut, material, hole_mm)
    factors = (f"sharp {figure(sharp)} N·m", *(f"x{value:.3g} {why}" for value, why in parts if value != 1))
    because = f"{'; '.join(factors)}; {how_good(material)[1]}"
    because += "" if cut.step.tool.by_hand else ": compare with the spindle's load meter"
    return Loads(torque, None, because, (TAP_MODEL, cite_of("cutting_tap_load.csv")), factors)


def tap_torque(cut: Cut, material: Material, hole_mm: float) -> tuple[float, float, list[tuple[float, str]]]:
    """A worn tap's torque in a hole of that size, N m, that of a sharp one whose chips do not pack, and what raises it.

    A forming tap is reckoned from a cutting tap with three flutes and a 2.5-thread chamfer at 75 % of thread, because its
    own larger hole displaces the same metal.
    """
    tool = cut.step.tool
    pitch = cut.step.tool.pitch_mm or cut.lead_mm
    forming = tool.flute_form == "forming"
    hole = cut.diameter_mm - 0.75 * 1.299 * pitch if forming else hole_mm
    height = tap_formulas.thread_height_mm(cut.diameter_mm, hole)
    chip = tap_chip(cut, hole) or tap_formulas.tap_chip_mm(height, 2.5, 3)
    kc = formulas.specific_force_n_per_mm2(material.kc11_n_per_mm2, material.mc, chip)
    sharp = tap_formulas.tapping_torque_nm(kc, tap_formulas.groove_mm2(cut.profile, height, pitch), cut.diameter_mm, pitch)
    parts = [tap_load("wear"), tap_load(tool.flute_form or "straight-flute"), *_shared(cut), *_packing(cut, material)]
    torque = sharp
    for value, _ in parts:
        torque *= value
    return torque, sharp, parts


_SHARES = tuple(zip(DEEPER, ("first-of-set", "second-of-set", "finishing-of-set"), strict=True))


def _shared(cut: Cut) -> list[tuple[float, str]]:
    """Each tap of a trapezoidal set cuts deeper than the one before, and takes its share of the chip."""
    return [tap_load(share) for which, share in _SHARES if cut.step.tool.name.endswith(which)]


def chips_pack(cut: Cut, material: Material) -> bool:
    """Whether its chips raise a tap's torque."""
    return bool(_packing(cut, material))


def _packing(cut: Cut, material: Material) -> list[tuple[float, str]]:
    """Long chips pack in a deep blind hole: from 1 at 1.5 D to the full factor at 2.5 D. Forming makes no chips, and by hand
    they are broken by turning back."""
    ratio = cut.depth_ratio
    if not cut.is_blind or ratio is None or ratio <= PACKING_FROM or cut.step.tool.by_hand:
        return []
    if material.chip != "long" or cut.step.tool.flute_form == "forming":
        return []
    full, _ = tap_load("packing")
    share = min((ratio - PACKING_FROM) / (PACKING_FULL - PACKING_FROM), 1.0)
    return [(1 + (full - 1) * share, f"long chips, blind, {ratio:.1f} D deep")]
