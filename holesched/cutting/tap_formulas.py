"""Formulas of tapping: chip load, torque, the torque that breaks a tap, and the time of a synchronised cycle."""

from __future__ import annotations

from math import radians, tan

from holesched.standards.thread_mills import TRAPEZOIDAL


def thread_height_mm(major_mm: float, hole_mm: float) -> float:
    """Height of the thread that a tap must cut, h = (D - d)/2, mm."""
    return (major_mm - hole_mm) / 2


def tap_chip_mm(height_mm: float, chamfer_threads: float, flutes: float) -> float:
    """Chip thickness of one chamfer tooth h_c = h / (n_ch z), mm, measured along the radius.

    Geometry: a chamfer of n_ch threads takes the height in n_ch turns, z teeth share each turn (half as
    many where every other tooth is left out).
    """
    return height_mm / (chamfer_threads * flutes)


def thread_groove_mm2(height_mm: float, pitch_mm: float) -> float:
    """Section of the groove of a 60 degree thread A = h (P/8 + h tan 30), mm2, P/8 wide at the root.

    Geometry of the basic profile of ISO 68-1.
    """
    return height_mm * (pitch_mm / 8 + height_mm * tan(radians(30)))


def trapezoidal_groove_mm2(height_mm: float, pitch_mm: float) -> float:
    """Section of the groove of a trapezoidal thread A = h P/2, mm2: half the pitch wide in the middle of its height.

    Geometry of the basic profile of ISO 2901 and ASME B1.5; the clearance at the root is left out.
    """
    return height_mm * pitch_mm / 2


def groove_mm2(profile: str, height_mm: float, pitch_mm: float) -> float:
    """Section of a thread's groove, mm2, by its profile; Whitworth's 55 degrees are reckoned as 60."""
    formula = trapezoidal_groove_mm2 if profile in TRAPEZOIDAL else thread_groove_mm2
    return formula(height_mm, pitch_mm)


def tapping_torque_nm(kc_n_per_mm2: float, groove_mm2: float, major_mm: float, pitch_mm: float) -> float:
    """Torque of a sharp tap with its chamfer fully in the hole M = 1.2 kc A (D - 0.65 P) / 2000, N m.

    Calculated: specific force times the groove's section, at the pitch radius, 20 % for rubbing. Good to 40 %.
    """
    return 1.2 * kc_n_per_mm2 * groove_mm2 * (major_mm - 0.65 * pitch_mm) / 2000


def tap_core_mm(major_mm: float, pitch_mm: float) -> float:
    """Diameter of a tap at the bottom of its thread d3 = D - 1.22687 P, mm. ISO 68-1 and 724, root rounded with H/6."""
    return major_mm - 1.22687 * pitch_mm


def tap_breaking_torque_nm(core_mm: float, strength_nm_per_mm3: float) -> float:
    """Torque that breaks a tap M = s d3^3, N m: torsion of its core, of which the flutes leave the same part at any size.
    s from memory, unverified."""
    return strength_nm_per_mm3 * core_mm**3


def spindle_turns_needed(speed_rev_per_s: float, acceleration_rev_per_s2: float) -> float:
    """Turns to reach a speed from rest and stop again, n^2 / a. Uniform acceleration."""
    return speed_rev_per_s**2 / acceleration_rev_per_s2


def reached_rpm(rpm: float, turns: float, acceleration_rev_per_s2: float) -> float:
    """Spindle speed really reached in a tapped hole: the programmed one, or 60 sqrt(a turns) when the hole is too short.

    Uniform acceleration from rest and to rest over `turns` revolutions; gives rev/min.
    """
    peak_rev_per_s: float = (acceleration_rev_per_s2 * turns) ** 0.5
    return min(rpm, 60 * peak_rev_per_s)


def synchronised_stroke_s(turns: float, rpm: float, acceleration_rev_per_s2: float) -> float:
    """Time of one stroke of a synchronised cycle, from rest to rest, s.

    turns/n + n/a when the speed is reached, else 2 sqrt(turns/a). Uniform acceleration.
    """
    speed = rpm / 60
    if turns >= spindle_turns_needed(speed, acceleration_rev_per_s2):
        return turns / speed + speed / acceleration_rev_per_s2
    half_s: float = (turns / acceleration_rev_per_s2) ** 0.5
    return 2 * half_s
