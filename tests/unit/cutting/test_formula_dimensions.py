"""Every formula once with quantities: the units must come out, and the numbers must be those of the float formula.

The numbers 1000, 8000, 2000, 9550 and 60 in the formulas carry units (mm per m, s per min ...); each test names them.
What is no formula, or has no dimensions to agree, is named at the end: a formula that nobody listed fails there.
"""

from __future__ import annotations

import inspect
import pkgutil
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

import holesched.cutting
from holesched.cutting import formulas, tap_formulas, thread_mill
from holesched.standards import strength, thread_percent
from holesched.units import registry


def q(value: float, unit: str) -> Any:
    return registry().Quantity(value, unit)


def test_spindle_speed_is_turns_per_time() -> None:
    n = formulas.spindle_rpm(q(80, "m/min"), q(8.5, "mm/turn")) * q(1, "mm/m")
    assert n.to("turn/min").magnitude == pytest.approx(formulas.spindle_rpm(80, 8.5), rel=1e-12)
    assert round(n.to("turn/min").magnitude, 1) == 2995.9


def test_surface_speed() -> None:
    v = formulas.surface_speed_m_per_min(q(600, "turn/min"), q(10, "mm/turn")) * q(1, "m/mm")
    assert v.to("m/min").magnitude == pytest.approx(formulas.surface_speed_m_per_min(600, 10), rel=1e-12)


def test_feed_rate_and_time() -> None:
    rate = formulas.feed_rate_mm_per_min(q(600, "turn/min"), q(1.25, "mm/turn"))
    assert rate.to("mm/min").magnitude == 750
    time = formulas.feed_time_min(q(36, "mm"), q(600, "turn/min"), q(0.3, "mm/turn"))
    assert time.to("min").magnitude == pytest.approx(0.2, rel=1e-12)


def test_removal_rate() -> None:
    rate = formulas.removal_rate_mm3_per_min(q(15, "mm"), q(500, "turn/min"), q(0.1, "mm/turn"), q(5, "mm"))
    assert rate.to("mm**3/min").magnitude == pytest.approx(formulas.removal_rate_mm3_per_min(15, 500, 0.1, 5), rel=1e-12)


def test_power_and_torque() -> None:
    """9550 carries N m turn / (min kW): a turn is a count here, not an angle."""
    power = formulas.power_kw(q(10, "N*m"), q(500, "turn/min"))
    assert power.to("N*m*turn/min").magnitude == pytest.approx(formulas.power_kw(10, 500), rel=1e-12)
    torque = formulas.torque_at_power_nm(q(1, "kW"), q(500, "turn/min"))
    assert torque.to("kW*min/turn").magnitude == pytest.approx(formulas.torque_at_power_nm(1, 500), rel=1e-12)


def test_lengths() -> None:
    assert formulas.point_length_mm(q(10, "mm"), 118).to("mm").magnitude == pytest.approx(3.0043, abs=1e-4)
    chip = formulas.drill_chip_thickness_mm(q(0.2, "mm/turn"), 2, 118)
    assert chip.to("mm/turn").magnitude == pytest.approx(formulas.drill_chip_thickness_mm(0.2, 2, 118), rel=1e-12)
    height = tap_formulas.thread_height_mm(q(8, "mm"), q(6.8, "mm"))
    assert height.to("mm").magnitude == pytest.approx(0.6, rel=1e-12)
    assert tap_formulas.tap_chip_mm(height, 2.5, 3).to("mm").magnitude == pytest.approx(0.08, rel=1e-12)


def test_kienzle_is_force_per_area_times_a_bare_number() -> None:
    """kc1.1 is for a chip of 1 mm; h enters as h / 1 mm."""
    kc = formulas.specific_force_n_per_mm2(q(2220, "N/mm**2"), 0.14, 0.1)
    assert kc.to("N/mm**2").magnitude == pytest.approx(formulas.specific_force_n_per_mm2(2220, 0.14, 0.1), rel=1e-12)


def test_kienzle_torque_and_thrust() -> None:
    """The 1000 in 8000 carries mm per m."""
    kc, f, d, d0 = q(3000, "N/mm**2"), q(0.2, "mm"), q(10, "mm"), q(4, "mm")
    torque = formulas.drilling_torque_kienzle_nm(kc, f, d, 1.3, d0) * q(1, "m/mm")
    assert torque.to("N*m").magnitude == pytest.approx(formulas.drilling_torque_kienzle_nm(3000, 0.2, 10, 1.3, 4), rel=1e-12)
    thrust = formulas.drilling_thrust_kienzle_n(kc, f, d, 118, 1.3, d0)
    assert thrust.to("N").magnitude == pytest.approx(
        formulas.drilling_thrust_kienzle_n(3000, 0.2, 10, 118, 1.3, 4), rel=1e-12
    )


def test_thread_groove_and_tapping_torque() -> None:
    groove = tap_formulas.thread_groove_mm2(q(0.6, "mm"), q(1.25, "mm"))
    assert groove.to("mm**2").magnitude == pytest.approx(tap_formulas.thread_groove_mm2(0.6, 1.25), rel=1e-12)
    torque = tap_formulas.tapping_torque_nm(q(3000, "N/mm**2"), groove, q(8, "mm"), q(1.25, "mm")) * q(1, "m/mm")
    expected = tap_formulas.tapping_torque_nm(3000, tap_formulas.thread_groove_mm2(0.6, 1.25), 8, 1.25)
    assert torque.to("N*m").magnitude == pytest.approx(expected, rel=1e-12)


def test_groove_of_a_trapezoidal_thread() -> None:
    groove = tap_formulas.trapezoidal_groove_mm2(q(3.5, "mm"), q(7, "mm"))
    assert groove.to("mm**2").magnitude == pytest.approx(tap_formulas.trapezoidal_groove_mm2(3.5, 7), rel=1e-12)
    for profile, height, pitch in (("30deg", 3.5, 7), ("29deg", 3.5, 7), ("60deg", 0.6, 1.25)):
        found = tap_formulas.groove_mm2(profile, q(height, "mm"), q(pitch, "mm"))
        assert found.to("mm**2").magnitude == pytest.approx(tap_formulas.groove_mm2(profile, height, pitch), rel=1e-12)


def test_breaking_torque() -> None:
    core = tap_formulas.tap_core_mm(q(8, "mm"), q(1.25, "mm"))
    assert core.to("mm").magnitude == pytest.approx(tap_formulas.tap_core_mm(8, 1.25), rel=1e-12)
    torque = tap_formulas.tap_breaking_torque_nm(core, q(0.08, "N*m/mm**3"))
    expected = tap_formulas.tap_breaking_torque_nm(tap_formulas.tap_core_mm(8, 1.25), 0.08)
    assert torque.to("N*m").magnitude == pytest.approx(expected, rel=1e-12)


def test_spindle_acceleration() -> None:
    """The 60 is seconds in a minute: a speed in turns a minute goes in with the seconds taken out of its unit."""
    a = q(20, "turn/s**2")
    assert tap_formulas.spindle_turns_needed(q(20, "turn/s"), a).to("turn").magnitude == pytest.approx(20)
    peak = tap_formulas.reached_rpm(q(1e9, "turn/s"), q(15, "turn"), a)
    assert peak.to("turn/s").magnitude == pytest.approx(tap_formulas.reached_rpm(1e9, 15, 20), rel=1e-12)
    for turns in (15, 45):
        stroke = tap_formulas.synchronised_stroke_s(q(turns, "turn"), q(1200, "turn/s"), a)
        assert stroke.to("s").magnitude == pytest.approx(tap_formulas.synchronised_stroke_s(turns, 1200, 20), rel=1e-12)


def test_handbook_torque_with_the_unit_of_its_constant() -> None:
    """Kd in N/mm2, f^0.8 D^1.8 in mm^2.6: the constant carries m/mm^0.6, the rest is N m."""
    torque = formulas.drilling_torque_handbook_nm(q(24_000, "N/mm**2"), q(0.2, "mm"), q(8, "mm"), 1.3) * q(1, "m/mm**0.6")
    expected = formulas.drilling_torque_handbook_nm(24_000, 0.2, 8, 1.3)
    assert torque.to("N*m").magnitude == pytest.approx(expected, rel=1e-12)


def test_percentage_of_thread_and_its_hole() -> None:
    major, pitch = q(8, "mm"), q(1.25, "mm")
    assert thread_percent.cut_percent(major, q(6.8, "mm"), pitch).to("").magnitude == pytest.approx(
        thread_percent.cut_percent(8, 6.8, 1.25), rel=1e-12
    )
    assert thread_percent.cut_hole_mm(major, 74, pitch).to("mm").magnitude == pytest.approx(
        thread_percent.cut_hole_mm(8, 74, 1.25), rel=1e-12
    )
    assert thread_percent.forming_percent(major, q(7.4, "mm"), pitch).to("").magnitude == pytest.approx(
        thread_percent.forming_percent(8, 7.4, 1.25), rel=1e-12
    )
    assert thread_percent.forming_hole_mm(major, 65, pitch).to("mm").magnitude == pytest.approx(
        thread_percent.forming_hole_mm(8, 65, 1.25), rel=1e-12
    )


def test_stress_and_shear_areas() -> None:
    """25.4 / n in the inch formula is a pitch in mm: n goes in as threads in a mm of the print."""
    area = strength.stress_area_mm2(q(8, "mm"), q(1.25, "mm"))
    assert area.to("mm**2").magnitude == pytest.approx(strength.stress_area_mm2(8, 1.25), rel=1e-12)
    inch = strength.stress_area_inch_mm2(q(12.7, "mm"), q(13, "1/mm"))
    assert inch.to("mm**2").magnitude == pytest.approx(strength.stress_area_inch_mm2(12.7, 13), rel=1e-12)
    plain, measured = strength.Screw(7.8, 7.1, 1.25, 36.6), strength.Screw(q(7.8, "mm"), q(7.1, "mm"), q(1.25, "mm"), area)
    for formula, diameter in ((strength.screw_shear_area_mm2, 6.9), (strength.tapped_shear_area_mm2, 7.3)):
        sheared = formula(measured, q(diameter, "mm"), q(10, "mm"))
        assert sheared.to("mm**2").magnitude == pytest.approx(formula(plain, diameter, 10), rel=1e-12)


def test_life_ratio_is_a_bare_number() -> None:
    ratio = q(20, "m/min") / q(25, "m/min")
    assert formulas.taylor_life_factor(ratio, 0.25).to("").magnitude == pytest.approx((25 / 20) ** 4, rel=1e-12)


def test_thread_mill_feed_and_path() -> None:
    feed = thread_mill.centre_feed_mm_per_min(q(400, "mm/min"), q(16, "mm"), q(12, "mm"))
    assert feed.to("mm/min").magnitude == pytest.approx(100)
    path = thread_mill.centre_path_mm(q(16, "mm"), q(12, "mm"))
    assert path.to("mm").magnitude == pytest.approx(thread_mill.centre_path_mm(16, 12), rel=1e-12)


def test_milled_volume_and_power() -> None:
    """60e6 N mm/min are a kilowatt."""
    volume = thread_mill.milled_volume_mm3(q(1, "mm**2"), q(1, "mm"), q(2, "mm"), q(20, "mm"), q(10, "mm"))
    assert volume.to("mm**3").magnitude == pytest.approx(thread_mill.milled_volume_mm3(1, 1, 2, 20, 10), rel=1e-12)
    power = thread_mill.milling_power_kw(q(2000, "N/mm**2"), q(30_000, "mm**3"), q(1, "min")) * 60e6
    assert power.to("kW").magnitude == pytest.approx(thread_mill.milling_power_kw(2000, 30_000, 1.0), rel=1e-12)


WITHOUT_DIMENSIONS = {
    "sensible_rpm": "rounds",
    "sensible_feed": "rounds",
    "two_digits": "rounds",
    "hss_feed_mm_per_rev": "reads a table",
    "least_feed_mm_per_rev": "reads a table",
    "drilling_thrust_handbook_n": "adds an empirical term in f^0.8 D^0.8 to one in D^2; checked by the handbook's example",
}
TAKEN = ("float", "int", "Screw", "tuple[float, float, float]")


def test_no_formula_is_left_out() -> None:
    """A formula takes figures and gives one. Each is called above with quantities, or named here with the reason."""
    modules = [import_module(f"holesched.cutting.{each.name}") for each in pkgutil.iter_modules(holesched.cutting.__path__)]
    found = {}
    for module in (*modules, thread_percent, strength):
        for name, made in inspect.getmembers(module, inspect.isroutine):
            given = inspect.signature(made) if getattr(made, "__module__", "") == module.__name__ else None
            if given is None or name.startswith("_") or given.return_annotation != "float" or not given.parameters:
                continue
            if all(each.annotation in TAKEN for each in given.parameters.values()):
                found[name] = module.__name__.rpartition(".")[2]
    text = Path(__file__).read_text(encoding="utf-8")
    called = (f"{module}.{name}" for name, module in found.items())
    unchecked = {each.rpartition(".")[2] for each in called if f"{each}(" not in text and f"({each}," not in text}
    assert unchecked == set(WITHOUT_DIMENSIONS)
    assert len(found) > 30
