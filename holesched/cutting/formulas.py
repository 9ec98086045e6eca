"""Formulas of drilling and of speeds, feeds and times. Floats in, floats out, the unit in the name.

A revolution is a count, not an angle: revolutions per minute times millimetres per revolution is millimetres per minute.
"""

from __future__ import annotations

from math import pi, radians, sin, tan

STANDARD_POINT = (1.085, 1.355, 0.030)
"""Chisel factors A (torque), B and J (thrust) of a standard point, chisel edge 0.18 of the diameter.
Machinery's Handbook, 31st ed., pp. 1152-1153."""
SPLIT_POINT = (1.000, 1.100, 0.001)
"""The same for a split point, chisel edge 0.03 of the diameter."""


def spindle_rpm(surface_m_per_min: float, diameter_mm: float) -> float:
    """Spindle speed n = 1000 v / (pi d).

    Machinery's Handbook, cutting speed formulas. `surface_m_per_min` m/min, `diameter_mm` mm; gives rev/min.
    """
    return 1000 * surface_m_per_min / (pi * diameter_mm)


def surface_speed_m_per_min(rpm: float, diameter_mm: float) -> float:
    """Cutting speed v = pi d n / 1000 at the circumference, m/min. The inverse of `spindle_rpm`."""
    return pi * diameter_mm * rpm / 1000


def feed_rate_mm_per_min(rpm: float, feed_mm_per_rev: float) -> float:
    """Feed rate v_f = n f, mm/min. For a tap f is the pitch, so that feed and rotation stay in step exactly."""
    return rpm * feed_mm_per_rev


def feed_time_min(travel_mm: float, rpm: float, feed_mm_per_rev: float) -> float:
    """Time of a fed movement t = L / (n f), min; L with approach, point and overrun.

    El-Hofy, Fundamentals of Machining Processes, ch. 5.
    """
    return travel_mm / (rpm * feed_mm_per_rev)


def point_length_mm(diameter_mm: float, point_angle_deg: float) -> float:
    """Height of a drill's point h = (d/2) / tan(angle/2), mm: 0.300 d at 118 degrees.

    Plain geometry; (d/2) tan(59 degrees), which is in circulation, is wrong.
    """
    return diameter_mm / 2 / tan(radians(point_angle_deg / 2))


def removal_rate_mm3_per_min(diameter_mm: float, rpm: float, feed_mm_per_rev: float, bored_mm: float = 0.0) -> float:
    """Metal removed per minute Q = pi/4 (D^2 - d0^2) n f, mm3/min; d0 is a hole already there.

    Groover, Fundamentals of Modern Manufacturing, drilling.
    """
    return pi / 4 * (diameter_mm**2 - bored_mm**2) * rpm * feed_mm_per_rev


def power_kw(torque_nm: float, rpm: float) -> float:
    """Power at the spindle P = M n / 9550, kW. Machinery's Handbook, 31st ed., p. 1152 (9550 = 60 000 / 2 pi, rounded)."""
    return torque_nm * rpm / 9550


def torque_at_power_nm(power_kw: float, rpm: float) -> float:
    """Torque a power gives at a speed M = 9550 P / n, N m. The inverse of `power_kw`."""
    return 9550 * power_kw / rpm


def drill_chip_thickness_mm(feed_mm_per_rev: float, lips: int, point_angle_deg: float) -> float:
    """Thickness of a drill's chip h = (f / z) sin(angle/2), mm. Textbook form for drills, from memory."""
    return feed_mm_per_rev / lips * sin(radians(point_angle_deg / 2))


def specific_force_n_per_mm2(kc11_n_per_mm2: float, mc: float, chip_mm: float) -> float:
    """Specific cutting force kc = kc1.1 h^-mc, N/mm2, h the chip thickness in mm.

    Kienzle's relation, from memory; kc1.1 is the force on a chip of 1 mm x 1 mm.
    """
    thinness: float = chip_mm**-mc
    return kc11_n_per_mm2 * thinness


def drilling_torque_kienzle_nm(
    kc_n_per_mm2: float, feed_mm_per_rev: float, diameter_mm: float, wear: float = 1.0, bored_mm: float = 0.0
) -> float:
    """Torque of drilling by Kienzle's relation M = kc f (D^2 - d0^2) W / 8000, N m.

    Into solid metal u = 8 M / (D^2 f) of Stephenson and Agapiou, Metal Cutting Theory and Practice, 3rd ed., Eq. 6.19; with
    a hole already there by the main force of each lip at a quarter of (D + d0). Leaves the chisel edge out, so it lies
    below the handbook's formula. `wear` 1 for a sharp drill; `bored_mm` a hole already there.
    """
    return kc_n_per_mm2 * feed_mm_per_rev * (diameter_mm**2 - bored_mm**2) * wear / 8000


def drilling_thrust_kienzle_n(
    kc_n_per_mm2: float,
    feed_mm_per_rev: float,
    diameter_mm: float,
    point_angle_deg: float,
    wear: float = 1.0,
    bored_mm: float = 0.0,
) -> float:
    """Thrust by Kienzle's relation T = 0.6 kc f (D - d0)/2 sin(angle/2) W, N; into solid metal 25 % more for the chisel.

    Textbook form, from memory: 0.5 to 0.7 of the main force, chisel edge 20 to 30 %; the middles are taken.
    """
    lips = 0.6 * kc_n_per_mm2 * feed_mm_per_rev * (diameter_mm - bored_mm) / 2 * sin(radians(point_angle_deg / 2)) * wear
    return lips if bored_mm > 0 else 1.25 * lips


def drilling_torque_handbook_nm(
    kd: float,
    feed_mm_per_rev: float,
    diameter_mm: float,
    wear: float = 1.0,
    point: tuple[float, float, float] = STANDARD_POINT,
) -> float:
    """Torque of drilling into solid metal M = 2.515e-5 Kd f^0.8 D^1.8 A W, N m.

    Machinery's Handbook, 31st ed., p. 1152; its tables of Ff and FM are f^0.8 and D^1.8. The handbook prints the SI constant
    rounded to 0.000025; 2.515e-5 is the inch formula M = Kd Ff FM A W (lb in) converted exactly, so that both agree.
    `wear` W is 1.0 sharp, 1.3 normal, 1.5 dull (from memory).
    """
    feed_factor: float = feed_mm_per_rev**0.8
    diameter_factor: float = diameter_mm**1.8
    return 2.5146e-5 * kd * feed_factor * diameter_factor * point[0] * wear


def drilling_thrust_handbook_n(
    kd: float,
    feed_mm_per_rev: float,
    diameter_mm: float,
    wear: float = 1.0,
    point: tuple[float, float, float] = STANDARD_POINT,
) -> float:
    """Thrust of drilling into solid metal T = 0.05029 Kd f^0.8 D^0.8 B W + 0.006895 Kd D^2 J W, N.

    Machinery's Handbook, 31st ed., p. 1152; printed there with 0.05 and 0.007. The constants here are the inch formula
    T = 2 Kd Ff FT B W + Kd d^2 J W (lb) converted exactly.
    """
    feed_factor: float = feed_mm_per_rev**0.8
    diameter_factor: float = diameter_mm**0.8
    chisel = 0.0068948 * kd * diameter_mm**2 * point[2] * wear
    return 0.050290 * kd * feed_factor * diameter_factor * point[1] * wear + chisel


def taylor_life_factor(speed_ratio: float, exponent: float) -> float:
    """Tool life at another speed, by Taylor's relation v T^n = C: T/T0 = (v0/v)^(1/n).

    Taylor 1907; n 0.125 for high-speed steel and 0.25 for carbide (Groover, tool life table, from memory; Stephenson and
    Agapiou, p. 549: 0.10 to 0.17 and 0.20 to 0.25). `speed_ratio` is v/v0. Only for ratios near 1.
    """
    factor: float = speed_ratio ** (-1 / exponent)
    return factor
