"""Milling a thread instead of tapping it: what it would run at and how long it would take.

The cutter's centre runs on a smaller circle than its edge: the control must be given the feed of the centre. One turn with a
cutter as long as the thread; entry and exit on half circles, rising by the pitch in proportion.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from holesched.cutting import formulas
from holesched.cutting.clamp import sensible_rpm
from holesched.cutting.lookup import rows_by
from holesched.cutting.speeds import hss_feed_factor, thread_mill_speeds
from holesched.notes import Cite
from holesched.shop.model import Machine
from holesched.standards.materials import Material
from holesched.tables import table

LEAST_FEED_MM, MOST_FEED_MM = 0.01, 0.08
HARD_PASSES = 3
"""Hardened steel is milled in three passes, everything else in one. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class ThreadMilling:
    """A thread milled in one hole: cutter, speed, both feeds, the rise of its helix per turn, and the time."""

    cutter_mm: float
    teeth: int
    surface_m_per_min: float
    spindle_rpm: float
    edge_feed_mm_per_min: float
    centre_feed_mm_per_min: float
    rise_mm_per_turn: float
    passes: int
    time_min: float
    cites: tuple[Cite, ...]


def centre_feed_mm_per_min(edge_feed_mm_per_min: float, major_mm: float, cutter_mm: float) -> float:
    """Feed of the cutter's centre inside a thread v_c = v_e (D - d) / D, mm/min.

    Geometry: edge and centre turn about the hole's axis together, on circles of D and D - d.
    """
    return edge_feed_mm_per_min * (major_mm - cutter_mm) / major_mm


def centre_path_mm(major_mm: float, cutter_mm: float) -> float:
    """Path of the cutter's centre, mm: one circle of D - d, and a half circle from the axis at entry and one at exit.

    Geometry; the rise by one pitch is left out (below 1 % of the path).
    """
    circle = pi * (major_mm - cutter_mm)
    return circle + 2 * circle / 4


def mill_thread(major_mm: float, pitch_mm: float, material: Material, machine: Machine) -> ThreadMilling | None:
    """The thread milled; None where the material is not thread-milled or the thread is smaller than any cutter."""
    speeds = thread_mill_speeds(material.subgroup)
    rows = [row for row in rows_by("cutting_thread_mills.csv", "from_mm").values() if float(row["from_mm"]) <= major_mm]
    if speeds is None or not rows:
        return None
    row = rows[-1]
    cutter, teeth = round(major_mm * float(row["cutter"]), 1), int(row["teeth"])
    rpm = min(sensible_rpm(formulas.spindle_rpm(speeds.start, cutter)), machine.spindle_max_rpm)
    tooth = min(max(float(row["feed"]) * hss_feed_factor(material.subgroup), LEAST_FEED_MM), MOST_FEED_MM)
    edge = min(formulas.feed_rate_mm_per_min(rpm, tooth * teeth), machine.feed_max_mm_per_min)
    centre = centre_feed_mm_per_min(edge, major_mm, cutter)
    passes = HARD_PASSES if material.group == "H" else 1
    return ThreadMilling(
        cutter_mm=cutter,
        teeth=teeth,
        surface_m_per_min=formulas.surface_speed_m_per_min(rpm, cutter),
        spindle_rpm=rpm,
        edge_feed_mm_per_min=edge,
        centre_feed_mm_per_min=centre,
        rise_mm_per_turn=pitch_mm,
        passes=passes,
        time_min=passes * centre_path_mm(major_mm, cutter) / centre,
        cites=(speeds.cite, table("cutting_thread_mills.csv").cite()),
    )
