"""Which formula a drill's torque and thrust come from, and what wear, point and a pilot do to them."""

from __future__ import annotations

from dataclasses import replace
from math import radians, sin

import pytest
from cutting_samples import STRONG, cut, drill, material, step

from holesched.cutting import formulas
from holesched.cutting.loads import WEAR
from holesched.cutting.lookup import material_factor_kd
from holesched.cutting.model import CutStep
from holesched.standards.materials import Material, all_materials
from holesched.tooling.model import StepKind, Tool


def _why(found: CutStep) -> str:
    (reason,) = [reason for reason in found.reasons if reason.rule == "CUT-LOAD"]
    return reason.because


def _both(found: CutStep, of: str) -> tuple[float, float]:
    """Torque by the handbook and by Kienzle, at the step's own feed, standard point of 118 degrees."""
    workpiece, f, d = material(of), found.feed_mm_per_rev, found.step.tool.diameter_mm
    kd = {"C45": 24000 - 5 / 100 * 7000, "EN AC-46000": 7000}[of]
    chip = formulas.drill_chip_thickness_mm(f, 2, 118)
    kc = formulas.specific_force_n_per_mm2(workpiece.kc11_n_per_mm2, workpiece.mc, chip)
    return formulas.drilling_torque_handbook_nm(kd, f, d, WEAR), formulas.drilling_torque_kienzle_nm(kc, f, d, WEAR)


def test_the_higher_torque_is_taken_and_named() -> None:
    steel = cut(step(drill(8)), of="C45", machine=STRONG)
    handbook, kienzle = _both(steel, "C45")
    assert steel.torque_nm == pytest.approx(handbook)
    assert handbook > kienzle
    assert _why(steel).startswith(f"handbook formula, the higher of the two (Kienzle {kienzle:.2g} N·m)")
    silicon = cut(step(drill(8)), of="EN AC-46000", machine=STRONG)
    handbook, kienzle = _both(silicon, "EN AC-46000")
    assert silicon.torque_nm == pytest.approx(kienzle)
    assert kienzle > handbook
    assert _why(silicon).startswith("Kienzle formula, the higher of the two")


def test_kienzle_leaves_the_chisel_edge_out() -> None:
    """In C45 it lies below the handbook's formula, the further the smaller the drill (calculated)."""
    shares = []
    for diameter in (4, 8, 16):
        handbook, kienzle = _both(cut(step(drill(diameter)), of="C45", machine=STRONG), "C45")
        shares.append(kienzle / handbook)
    assert shares == sorted(shares)
    assert shares[0] > 0.5
    assert shares[-1] < 0.85


@pytest.mark.parametrize("workpiece", all_materials(), ids=lambda workpiece: workpiece.key)
def test_the_two_formulas_are_of_one_size(workpiece: Material) -> None:
    """Two independent sets of values, Kd and kc1.1, agree within a factor of two for every material and ordinary drill."""
    for diameter in (5, 10, 20):
        found = cut(step(drill(diameter)), of=workpiece, machine=STRONG)
        kd, _ = material_factor_kd(workpiece)
        handbook = formulas.drilling_torque_handbook_nm(kd, found.feed_mm_per_rev, diameter, WEAR)
        chip = formulas.drill_chip_thickness_mm(found.feed_mm_per_rev, 2, 118)
        kc = formulas.specific_force_n_per_mm2(workpiece.kc11_n_per_mm2, workpiece.mc, chip)
        kienzle = formulas.drilling_torque_kienzle_nm(kc, found.feed_mm_per_rev, diameter, WEAR)
        assert 0.4 < kienzle / handbook < 1.6


def test_a_split_point_needs_less_thrust() -> None:
    standard = cut(step(drill(8)), machine=STRONG)
    split = cut(step(replace(drill(8), point_angle_deg=135.0)), machine=STRONG)
    assert standard.thrust_n is not None
    assert split.thrust_n is not None
    assert split.thrust_n < 0.85 * standard.thrust_n
    assert "split point" in _why(split)


def test_a_pilot_takes_torque_and_thrust_off() -> None:
    solid = cut(step(drill(20)), machine=STRONG)
    opened = cut(step(drill(8), 20.0), step(drill(20)), machine=STRONG)
    assert solid.torque_nm is not None
    assert opened.torque_nm is not None
    assert opened.torque_nm < solid.torque_nm
    assert "opening from 8.0 mm" in _why(opened)
    assert opened.thrust_n is not None
    assert solid.thrust_n is not None
    assert opened.thrust_n < 0.7 * solid.thrust_n


def test_a_shorter_pilot_does_not_count() -> None:
    assert "opening" not in _why(cut(step(drill(8), 5.0), step(drill(20), 40.0), machine=STRONG))


@pytest.mark.parametrize("workpiece", all_materials(), ids=lambda workpiece: workpiece.key)
def test_power_is_torque_times_speed(workpiece: Material) -> None:
    found = cut(step(drill(8, "carbide")), of=workpiece, machine=STRONG)
    assert found.torque_nm is not None
    assert found.power_kw == pytest.approx(found.torque_nm * found.spindle_rpm / 9550)


def test_no_formula_no_figure() -> None:
    found = cut(step(drill(8), kind=StepKind.REAM))
    assert (found.torque_nm, found.thrust_n, found.power_kw) == (None, None, None)


def _cone(kind: StepKind, size_mm: float, angle_deg: float = 90.0) -> Tool:
    return Tool(kind, size_mm, f"{size_mm:g}", "HSS-Co", flutes=2, point_angle_deg=angle_deg, name=kind.value)


def _by_hand(found: CutStep, hole_mm: float, angle_deg: float) -> tuple[float, float]:
    """Torque and thrust of two lips from hole to rim, each a piece of the textbook's Kienzle relation: the main force of a
    lip is kc times its chip, at a quarter of (D + d); the feed force 0.6 of it, 25 % more with a chisel edge."""
    f, rim, c45 = found.feed_mm_per_rev, found.step.diameter_mm, material("C45")
    lean = sin(radians(angle_deg / 2))
    chip_mm, width_mm = f / 2 * lean, (rim - hole_mm) / 2 / lean
    force_n = c45.kc11_n_per_mm2 * chip_mm**-c45.mc * chip_mm * width_mm * WEAR
    chisel = 1.0 if hole_mm else 1.25
    return 2 * force_n * (rim + hole_mm) / 4 / 1000, 2 * 0.6 * force_n * lean * chisel


@pytest.mark.parametrize("rim_mm", [6.3, 12, 21])
def test_a_spot_is_loaded_as_a_solid_cone(rim_mm: float) -> None:
    found = cut(step(_cone(StepKind.SPOT, 25), rim_mm / 2, diameter_mm=rim_mm), machine=STRONG)
    assert (found.torque_nm, found.thrust_n) == pytest.approx(_by_hand(found, 0, 90))
    assert "a cone of 90 degrees" in _why(found)
    assert "into solid metal" in _why(found)


@pytest.mark.parametrize("angle_deg", [82, 90, 100, 120])
def test_a_countersink_is_loaded_as_the_ring_from_the_hole_to_its_rim(angle_deg: float) -> None:
    csk = step(_cone(StepKind.COUNTERSINK, 40, angle_deg), 20.0, diameter_mm=37.8)
    found = cut(step(drill(32), through=True), csk, machine=STRONG)
    assert (found.torque_nm, found.thrust_n) == pytest.approx(_by_hand(found, 32, angle_deg))
    assert "from 32.0 mm" in _why(found)
    solid = cut(csk, machine=STRONG)
    assert solid.torque_nm is not None
    assert solid.torque_nm > 2 * (found.torque_nm or 0)


@pytest.mark.parametrize("kind", [StepKind.SPOT, StepKind.COUNTERSINK])
def test_a_cone_too_heavy_for_the_machine_is_fed_less_and_then_said(kind: StepKind) -> None:
    made = step(_cone(kind, 25), 10.5, diameter_mm=21.0)
    free = cut(made, machine=STRONG)
    assert free.torque_nm is not None
    some = cut(made, machine=replace(STRONG, spindle_torque_nm=0.8 * free.torque_nm))
    assert some.feed_mm_per_rev < free.feed_mm_per_rev
    assert "CLAMP-TORQUE" in {reason.rule for reason in some.clamps}
    assert not some.overload
    none = cut(made, machine=replace(STRONG, spindle_torque_nm=0.2 * free.torque_nm))
    assert [note.code for note in none.overload] == ["CUT-TORQUE-OVER"]
