"""Which formula a drill's torque and thrust come from, and what wear, point and a pilot do to them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from cutting_samples import STRONG, cut, drill, material, step

from holesched.cutting import formulas
from holesched.cutting.loads import WEAR
from holesched.cutting.lookup import material_factor_kd
from holesched.cutting.model import CutStep
from holesched.standards.materials import Material, all_materials
from holesched.tooling.model import StepKind


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
    assert _why(steel).startswith(f"handbook formula, the higher of the two (Kienzle {kienzle:.2g} N m)")
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


@pytest.mark.parametrize("kind", [StepKind.SPOT, StepKind.COUNTERSINK, StepKind.REAM])
def test_no_formula_no_figure(kind: StepKind) -> None:
    found = cut(step(drill(8), kind=kind))
    assert (found.torque_nm, found.thrust_n, found.power_kw) == (None, None, None)
