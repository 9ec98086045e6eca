"""Percentage of thread: how much of the full height of a 60 degree thread a drilled hole leaves to the tap."""

from __future__ import annotations

FULL_HEIGHT = 1.299038
"""3/4 of the square root of 3: twice the height of the external thread (3/4 H), per pitch."""
FORMING = 0.0068
"""Machinery's Handbook, cold-form tapping, from memory: hole = D - 0.0068 x percentage x P. The factor, and that 65 percent
is advised and 60 loses little strength, were also read on a public page in the handbook's words."""


def cut_percent(major_mm: float, hole_mm: float, pitch_mm: float) -> float:
    """Percentage of thread of a cutting tap: 100 (D - hole) / (1.299038 P) = 76.98 (D - hole) / P.

    Machinery's Handbook, tapping, percentage of full thread, from memory; all lengths in one unit.
    """
    return 100 * (major_mm - hole_mm) / (FULL_HEIGHT * pitch_mm)


def cut_hole_mm(major_mm: float, percent: float, pitch_mm: float) -> float:
    """The hole that leaves a percentage of thread to a cutting tap: the formula of `cut_percent` the other way round."""
    return major_mm - percent / 100 * FULL_HEIGHT * pitch_mm


def forming_percent(major_mm: float, hole_mm: float, pitch_mm: float) -> float:
    """Percentage of thread of a forming tap, which gains its height from the metal it displaces: (D - hole) / (0.0068 P).

    Machinery's Handbook, cold-form tapping, from memory; all lengths in one unit.
    """
    return (major_mm - hole_mm) / (FORMING * pitch_mm)


def forming_hole_mm(major_mm: float, percent: float, pitch_mm: float) -> float:
    """The hole for a forming tap at a percentage of thread: D - 0.0068 x percentage x P (inch: D - 0.0068 % / n).

    Machinery's Handbook, cold-form tapping, from memory; it advises 65 percent.
    """
    return major_mm - FORMING * percent * pitch_mm
