"""Worked examples as textbooks, handbooks and examinations print them: a row of worked_examples.csv is one printed answer.

A row names its example, what is computed, what it is computed from, the printed answer with its unit, its source, and
whether the print was read (in the copy named there), recalled, or recalled out of printed choices that were read. Answers
are compared at their printed digits. Turning, milling and physics stand here where the formula is the one drilling uses.
Stripping areas, printed for a length of one diameter, stand in stripping_areas_unified.csv.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import inf, log, pi

import pytest
from keyed_rows import keyed_rows

from holesched.cutting import formulas, tap_formulas, thread_mill
from holesched.standards import thread_percent, threads
from holesched.standards.strength import Screw, least_engagement, mating_screw, screw_shear_area_mm2, tapped_shear_area_mm2
from holesched.standards.threads import ThreadGeometry

UNITS = {
    "mm": 1.0, "in": 25.4, "m/min": 1.0, "ft/min": 0.3048, "mm/rev": 1.0, "in/rev": 25.4, "rev/min": 1.0, "deg": 1.0,
    "in/min": 25.4, "mm/min": 1.0, "min": 1.0, "s": 1 / 60, "mm3/min": 1.0, "mm3/s": 60.0, "in3/min": 25.4**3,
    "in3/s": 60 * 25.4**3, "kW": 1.0, "W": 1e-3, "hp": 0.7456998715822702, "N m": 1.0, "lb in": 0.1129848290276167, "N": 1.0,
    "lb": 4.4482216152605, "W s/mm3": 1.0, "%": 1.0, "": 1.0, "mm/s": 0.06, "oz in": 0.1129848290276167 / 16,
}  # fmt: skip
"""Units of the print over our own: mm, m/min, mm/rev, rev/min, min, mm3/min, kW, N m, N."""
Given = Mapping[str, float]


def _rpm(given: Given) -> float:
    return given["n"] if "d" not in given or "v" not in given else formulas.spindle_rpm(given["v"], given["d"])


def _removed(given: Given) -> float:
    if "rate" in given:
        return formulas.removal_rate_mm3_per_min(given["d"], 1.0, given["rate"])
    return formulas.removal_rate_mm3_per_min(given["d"], _rpm(given), given["f"])


def _energy_kw(given: Given) -> float:
    return given["u"] * _removed(given) / 60 / 1000


def _feed_time(given: Given) -> float:
    point = formulas.point_length_mm(given["d"], given["angle"]) if "angle" in given else 0.0
    return formulas.feed_time_min(given["travel"] + point, _rpm(given), given["f"])


def _handbook_torque(given: Given) -> float:
    return formulas.drilling_torque_handbook_nm(given["kd"], given["f"], given["d"], given["wear"])


def _edge_feed(given: Given) -> float:
    return formulas.feed_rate_mm_per_min(_rpm(given), given["teeth"] * given["fz"])


def _milling_time(given: Given) -> float:
    centre = thread_mill.centre_feed_mm_per_min(_edge_feed(given), given["major"], given["d"])
    return given["turns"] * pi * (given["major"] - given["d"]) / centre


def _holes_of_a_drill(given: Given) -> float:
    """Life in minutes goes as holes over speed: Taylor's exponent from two tests, then the holes at a third speed."""
    exponent = log(given["n1"] / given["n0"]) / log(given["holes0"] / given["n0"] / (given["holes1"] / given["n1"]))
    ratio = given["n"] / given["n0"]
    return given["holes0"] * ratio * formulas.taylor_life_factor(ratio, exponent)


def _length_of_engagement(given: Given) -> float:
    """The length at which the tapped thread's shear area carries the force at its shear strength (MPa)."""
    screw = Screw(given["major"], 0.0, given["pitch"], 0.0)
    return given["force"] / given["shear"] / tapped_shear_area_mm2(screw, given["pitch_diameter"], 1.0)


COMPUTED: Mapping[str, Callable[[Given], float]] = {
    "spindle speed": _rpm,
    "feed time": _feed_time,
    "removal rate": _removed,
    "point": lambda given: formulas.point_length_mm(given["d"], given["angle"]),
    "power of energy": _energy_kw,
    "torque of energy": lambda given: formulas.torque_at_power_nm(_energy_kw(given), _rpm(given)),
    "handbook thrust": lambda given: formulas.drilling_thrust_handbook_n(given["kd"], given["f"], given["d"], given["wear"]),
    "handbook torque": _handbook_torque,
    "handbook power": lambda given: formulas.power_kw(_handbook_torque(given), given["n"]) / given.get("efficiency", 1.0),
    "tapping time": lambda given: (
        tap_formulas.synchronised_stroke_s(given["travel"] / given["pitch"], _rpm(given), inf) / 60
    ),
    "edge feed": _edge_feed,
    "centre circle": lambda given: pi * (given["major"] - given["d"]),
    "thread milling time": _milling_time,
    "percentage of thread": lambda given: thread_percent.cut_percent(given["major"], given["hole"], given["pitch"]),
    "hole for cutting": lambda given: thread_percent.cut_hole_mm(given["major"], given["percent"], given["pitch"]),
    "hole for forming": lambda given: thread_percent.forming_hole_mm(given["major"], given["percent"], given["pitch"]),
    "core of tap": lambda given: tap_formulas.tap_core_mm(given["major"], given["pitch"]),
    "surface speed": lambda given: formulas.surface_speed_m_per_min(given["n"], given["d"]),
    "feed rate": lambda given: formulas.feed_rate_mm_per_min(given["n"], given["f"]),
    "torque of power": lambda given: formulas.torque_at_power_nm(given["power"], given["n"]),
    "power of torque": lambda given: formulas.power_kw(given["torque"], given["n"]),
    "holes of a drill": _holes_of_a_drill,
    "length of engagement": _length_of_engagement,
    "tool life": lambda given: given["life"] * formulas.taylor_life_factor(given["v"] / given["v0"], given["n"]),
}
EXAMPLES = keyed_rows("worked_examples.csv")
STRIPPING = keyed_rows("stripping_areas_unified.csv")


def _quantity(text: str) -> tuple[str, str]:
    number, _, unit = text.partition(" ")
    return number, unit


def _given(text: str) -> dict[str, float]:
    found = {}
    for part in text.split("; "):
        name, _, quantity = part.partition(" ")
        number, unit = _quantity(quantity)
        found[name] = float(number) * UNITS[unit]
    return found


def as_printed(value: float, number: str) -> str:
    """A value with as many digits as the print has."""
    mantissa, exponent, _ = number.partition("e")
    places = len(mantissa.partition(".")[2])
    return f"{value:.{places}{exponent or 'f'}}".replace("e+0", "e").replace("e+", "e")


@pytest.mark.parametrize("row", EXAMPLES, ids=lambda row: f"{row['example']}: {row['printed']}")
def test_example(row: dict[str, str]) -> None:
    number, unit = _quantity(row["printed"])
    value = COMPUTED[row["computes"]](_given(row["from"])) / UNITS[unit]
    assert as_printed(value, number) == number


def test_at_least_forty_examples() -> None:
    """More than forty were read; a named example counts once however many answers it prints. The 22 threads of the stripping
    areas, a drill chart's speeds and tap charts come on top."""
    assert {row["seen"] for row in EXAMPLES} == {"read", "recalled", "choices"}
    assert all(len(row["source"]) > 20 for row in EXAMPLES)
    assert len({row["example"] for row in EXAMPLES if row["seen"] == "read"}) >= 45
    assert set(COMPUTED) == {row["computes"] for row in EXAMPLES}


def test_the_least_major_diameter_asks_for_more_thread() -> None:
    """M10x1.5-6g in aluminium: the example's 21.6 mm takes for the screw's least major diameter its greatest, 9.968 mm. With
    the least, 9.732 mm, the same formula asks for 24.9 mm; so do we, who take the least."""
    screw = {"force": 69600, "shear": 130, "pitch_diameter": 9.206, "pitch": 1.5}
    assert round(_length_of_engagement({**screw, "major": 9.968}), 1) == 21.6
    assert round(_length_of_engagement({**screw, "major": 9.732}), 1) == 24.9
    found = threads.recognise("M10-6H", 0, "mm")
    assert found is not None
    spec = threads.complete(found[0]).spec
    assert spec is not None
    geometry = threads.geometry(spec)
    assert round(mating_screw(geometry).major_min_mm, 3) == 9.732
    assert geometry.pitch.max_mm == pytest.approx(9.206, abs=1e-9)


# Printed rounded once more on the way, or of limits that differ in the fourth decimal: within 0.2 % of the formula.
NEAR = {"3/8-16 UNC", "1/2-13 UNC", "9/16-12 UNC", "5/8-11 UNC", "5/8-18 UNF"}
# The screw's areas that the formula does not give, and what it gives: 1 to 2 % more; 1.92 breaks its own column's order.
UNLIKE = {"#10-24 UNC": "0.051", "7/8-9 UNC": "1.25", "7/8-14 UNF": "1.27", "1 1/8-8 UN": "2.12"}


def _geometry(name: str) -> ThreadGeometry:
    found = threads.recognise(f"{name}-2B", 0, "in")
    assert found is not None
    spec = threads.complete(found[0]).spec
    assert spec is not None
    return threads.geometry(spec)


@pytest.mark.parametrize("row", STRIPPING, ids=lambda row: row["thread"])
def test_stripping_areas(row: dict[str, str]) -> None:
    """Thread strip areas of bolt and nut, classes 2A and 2B, square inches for a length of one diameter: a public table of
    thread stress and shear areas for UNC, UNF and 8UN (web copy), the formulas of FED-STD-H28/2."""
    geometry = _geometry(row["thread"])
    screw, length_mm = mating_screw(geometry), geometry.spec.nominal.mm
    minor_mm, pitch_mm = geometry.minor.max_mm, geometry.pitch.max_mm
    assert minor_mm is not None
    assert pitch_mm is not None
    bolt = screw_shear_area_mm2(screw, minor_mm, length_mm) / 25.4**2
    nut = tapped_shear_area_mm2(screw, pitch_mm, length_mm) / 25.4**2
    for name, value in (("screw_in2", bolt), ("tapped_in2", nut)):
        printed, ours = row[name], as_printed(value, row[name])
        if name == "screw_in2" and row["thread"] in UNLIKE:
            assert ours == UNLIKE[row["thread"]] != printed
        elif row["thread"] in NEAR:
            assert abs(value / float(printed) - 1) < 0.002
        else:
            assert ours == printed


def test_length_of_engagement_from_the_printed_areas() -> None:
    """1/2-13 UNC-2A in 2B, equal materials: twice the printed stress area over the printed strip area of a diameter,
    2 x 0.1419 x 0.5 / 0.389 = 0.36 in."""
    geometry = _geometry("1/2-13 UNC")
    needed = least_engagement(geometry, mating_screw(geometry), 800, 800)
    assert round(needed.least_mm / 25.4, 2) == round(2 * 0.1419 * 0.5 / 0.389, 2) == 0.36
