"""Worked examples of drilling: spindle speed, time, removal rate, thrust, torque, power.

Groover, Fundamentals of Modern Manufacturing, drilling problems; Kalpakjian and Schmid, Manufacturing Engineering and
Technology, drilling problem; Machinery's Handbook, 31st ed., pp. 1152-1153, thrust and torque of drilling. Where an
example was only recalled, or its answer read in a web copy, the test says so. Printed values are compared at their
printed digits.
"""

from math import pi

import pytest
from keyed_rows import keyed_rows

from holesched.cutting import formulas

MM = 25.4
N_PER_LBF = 4.4482216152605
NM_PER_LBF_IN = 0.1129848290276167
KW_PER_HP = 0.7456998715822702
M_PER_FT = 0.3048

# The chart prints these four with one digit (38.2 as 40, 28.6 as 30); all other rows have two.
ONE_DIGIT = {("30", "3"), ("30", "4")}


@pytest.mark.parametrize(
    "row",
    keyed_rows("spindle_speeds_chart.csv"),
    ids=lambda row: f"{row['material']} {row['speed_fpm']} {row['diameter_in']}",
)
def test_spindle_speeds_of_a_drill_chart(row: dict[str, str]) -> None:
    """Public chart of drill speeds: rounded, often downwards, to two digits: 229 is printed 220, 1273 is 1200."""
    rpm = formulas.spindle_rpm(float(row["speed_fpm"]) * M_PER_FT, float(row["diameter_in"]) * MM)
    assert round(rpm, 1) == float(row["recomputed_rpm"])
    printed = float(row["printed_rpm"])
    digits = 1 if (row["speed_fpm"], row["diameter_in"]) in ONE_DIGIT else 2
    step = 10 ** (len(str(int(rpm))) - digits)
    assert abs(printed - rpm) < step


def test_rpm_rule_of_a_speeds_and_feeds_handout() -> None:
    """Handout: rpm = 3.8 x speed (ft/min) / d (in)."""
    assert round(formulas.spindle_rpm(1 * M_PER_FT, 1 * MM), 1) == 3.8


def test_machinerys_handbook_rpm_example() -> None:
    """Machinery's Handbook, cutting speed formulas (recalled): 575 ft/min on 4 in is 549 rpm."""
    assert round(formulas.spindle_rpm(575 * M_PER_FT, 4 * MM)) == 549


def test_machinerys_handbook_thrust_torque_and_power() -> None:
    """Machinery's Handbook, 31st ed., pp. 1152-1153 (answers recalled): 7/8 in drill, steel of 200 HB, 350 rpm, 0.008
    in/rev, Kd 24 000, A 1.085, B 1.355, J 0.030, W 1.30, E 0.80: 2313 lb, 559 in lb, 3.1 hp, 3.9 hp."""
    arguments = (24000.0, 0.008 * MM, 0.875 * MM, 1.3, formulas.STANDARD_POINT)
    assert round(formulas.drilling_thrust_handbook_n(*arguments) / N_PER_LBF) == 2313
    torque_nm = formulas.drilling_torque_handbook_nm(*arguments)
    assert round(torque_nm / NM_PER_LBF_IN) == 559
    power_hp = formulas.power_kw(torque_nm, 350) / KW_PER_HP
    assert (round(power_hp, 1), round(power_hp / 0.80, 1)) == (3.1, 3.9)


def test_machinerys_handbook_si_constants() -> None:
    """The handbook prints the SI formulas with 0.000025, 0.05 and 0.007 (recalled): ours at their digits."""
    unit = (1.0, 1.0, 1.0, 1.0)
    assert round(formulas.drilling_torque_handbook_nm(*unit, (1.0, 0.0, 0.0)), 6) == 0.000025
    assert round(formulas.drilling_thrust_handbook_n(*unit, (0.0, 1.0, 0.0)), 2) == 0.05
    assert round(formulas.drilling_thrust_handbook_n(*unit, (0.0, 0.0, 1.0)), 3) == 0.007


def test_groover_blind_hole() -> None:
    """Groover, drilling problem: 12.7 mm twist drill, blind 60 mm, 118 degrees, 25 m/min, 0.30 mm/rev.

    A published solution (web copy): 0.3192 min for the 60 mm alone, 396.86 mm3/s. The textbook adds the point and prints
    0.339 min and 23 800 mm3/min (recalled).
    """
    rpm = formulas.spindle_rpm(25, 12.7)
    assert round(formulas.feed_time_min(60, rpm, 0.30), 4) == 0.3192
    per_min = formulas.removal_rate_mm3_per_min(12.7, rpm, 0.30)
    assert round(per_min / 60, 1) == 396.9
    assert round(per_min, -2) == 23800
    assert round(formulas.feed_time_min(60 + formulas.point_length_mm(12.7, 118), rpm, 0.30), 3) == 0.339


def test_groover_two_drills_on_one_head() -> None:
    """Groover, drilling problem (recalled): 1/2 and 3/4 in drills, 118 degrees, 1.0 in plate, 230 ft/min, together 1.50
    in3/min: 2.35 in/min, 0.0013 and 0.0020 in/rev, 31.3 s."""
    speeds = [formulas.spindle_rpm(230 * M_PER_FT, size * MM) for size in (0.5, 0.75)]
    rate = 1.50 / (pi / 4 * (0.5**2 + 0.75**2))
    feeds = [rate / rpm for rpm in speeds]
    removed = sum(
        formulas.removal_rate_mm3_per_min(size * MM, rpm, feed * MM)
        for size, rpm, feed in zip((0.5, 0.75), speeds, feeds, strict=True)
    )
    assert round(removed / MM**3, 2) == 1.50
    assert round(rate, 2) == 2.35
    assert [round(feed, 4) for feed in feeds] == [0.0013, 0.0020]
    travel = 1.0 * MM + formulas.point_length_mm(0.75 * MM, 118)
    assert round(60 * formulas.feed_time_min(travel, speeds[1], feeds[1] * MM), 1) == 31.3


def test_kalpakjian_magnesium() -> None:
    """Kalpakjian and Schmid, drilling problem (recalled): 15 mm in magnesium, 0.1 mm/rev, 500 rpm, 0.5 W s/mm3: 147 mm3/s,
    74 W, 1.40 N m. The last is a product of rounded values (73.5 W / 52.4 rad/s); exactly it is 1.41."""
    removed = formulas.removal_rate_mm3_per_min(15, 500, 0.1) / 60
    assert round(removed) == 147
    watts = 0.5 * removed
    assert round(watts) == 74
    assert round(formulas.torque_at_power_nm(watts / 1000, 500), 2) == 1.41
    assert round(0.5 * 147 / 52.4, 2) == 1.40


def test_examination_example_through_plate() -> None:
    """Examination question (web copy): 10 mm through 30 mm, 600 rpm, 0.3 mm/rev, 3 mm approach, 3 mm beyond: 0.20 min."""
    assert round(formulas.feed_time_min(30 + 3 + 3, 600, 0.3), 2) == 0.20


def test_examination_example_speed_and_time() -> None:
    """Examination question (web copy): 20 mm at 20 m/min, 25 mm deep, 0.25 mm/rev: 318.31 rpm, 0.314 min."""
    rpm = formulas.spindle_rpm(20, 20)
    assert round(rpm, 2) == 318.31
    assert round(formulas.feed_time_min(25, rpm, 0.25), 3) == 0.314


def test_examination_example_removal_rate() -> None:
    """Examination question (web copy): 2.25 in through 5.875 in in 30 min: 0.196 in/min, 0.78 in3/min, 0.013 in3/s."""
    rate = 5.875 / 30
    assert round(rate, 3) == 0.196
    removed = formulas.removal_rate_mm3_per_min(2.25 * MM, 1.0, rate * MM) / MM**3
    assert (round(removed, 2), round(removed / 60, 3)) == (0.78, 0.013)


@pytest.mark.parametrize(
    ("angle_deg", "printed"), [(90, 0.500), (118, 0.300), (120, 0.289), (130, 0.233), (135, 0.207), (140, 0.182)]
)
def test_point_length(angle_deg: float, printed: float) -> None:
    """Shop rule: a 118 degree point is 0.3 d long (general); the others calculated a second time by hand."""
    assert round(formulas.point_length_mm(1.0, angle_deg), 3) == printed
