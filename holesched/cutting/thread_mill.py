"""Milling a thread instead of tapping it: what it runs at, on which path, and how long it takes.

The cutter's centre runs on a smaller circle than its edge, and so at a lower feed. One turn makes as much thread as the
cutter is long; entry and exit lie on half circles between the hole's axis and its wall.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, pi

from holesched.cutting import formulas, tap_formulas
from holesched.cutting.corrections import Correction, of_mill, of_reach, product
from holesched.cutting.model import ThreadMilling
from holesched.cutting.speeds import Speeds, hss_feed_factor, thread_mill_speeds
from holesched.notes import Cite
from holesched.shop.model import Machine
from holesched.standards.materials import Material
from holesched.standards.thread_mills import ThreadMill, thread_mill

LEAST_FEED_MM, MOST_FEED_MM = 0.01, 0.08
"""Feed a tooth of a thread mill. From memory."""
DEEPER_MM = 0.5
"""How much deeper a cutter one tooth high goes in a pass, at most. Common practice, no source."""
COARSE_MM = 3.0
"""From this pitch on a thread is milled in two passes. Common practice, no source."""
LONG_REACH_D = 3.0
"""Beyond this depth over the thread's diameter one more pass straightens what the cutter gave way. Common practice, no
source."""


@dataclass(frozen=True, slots=True)
class Milled:
    """A thread to be milled: diameters, pitch, length (None: unknown, one level is counted), hand, and the hole before."""

    major_mm: float
    pitch_mm: float
    minor_mm: float
    length_mm: float | None = None
    left_hand: bool = False
    hole_mm: float = 0.0
    """The hole the cutter meets; 0: the minor diameter."""
    taper: float = 0.0
    """On the diameter over the length; 0 for a parallel thread."""
    profile: str = "60deg"
    starts: int = 1

    @property
    def height_mm(self) -> float:
        """Height of the thread in the hole that the cutter meets."""
        return tap_formulas.thread_height_mm(self.major_mm, self.hole_mm or self.minor_mm)

    @property
    def cutter(self) -> ThreadMill | None:
        """What mills it; None below the smallest one."""
        return thread_mill(self.major_mm, self.minor_mm, self.profile, self.pitch_mm)

    @property
    def depth_ratio(self) -> float | None:
        return None if self.length_mm is None else self.length_mm / self.major_mm


def centre_feed_mm_per_min(edge_feed_mm_per_min: float, major_mm: float, cutter_mm: float) -> float:
    """Feed of the cutter's centre inside a thread v_c = v_e (D - d) / D, mm/min.

    Geometry: edge and centre turn about the hole's axis together, on circles of D and D - d.
    """
    return edge_feed_mm_per_min * (major_mm - cutter_mm) / major_mm


def centre_path_mm(major_mm: float, cutter_mm: float) -> float:
    """Path of the cutter's centre, mm: one circle of D - d, and a half circle from the axis at entry and one at exit.

    Geometry; the rise by one and a half pitches is left out (below 1 % of the path).
    """
    circle = pi * (major_mm - cutter_mm)
    return circle + 2 * circle / 4


def milled_volume_mm3(groove_mm2: float, height_mm: float, pitch_mm: float, major_mm: float, length_mm: float) -> float:
    """What is milled out of a length of thread, mm3: the groove's section along its middle, once a pitch.

    V = A pi (D - h) L / P, A the groove of `tap_formulas.groove_mm2`. Geometry.
    """
    return groove_mm2 * pi * (major_mm - height_mm) * length_mm / pitch_mm


def milling_power_kw(kc_n_per_mm2: float, volume_mm3: float, minutes: float) -> float:
    """Mean power of milling a volume away P = kc V / t, kW (60e6 N mm/min in a kW). Textbook form, from memory."""
    return kc_n_per_mm2 * volume_mm3 / minutes / 60e6


def passes_of(thread: Milled, mill: ThreadMill, material: Material) -> int:
    """Turns at growing radius: three in hardened steel, two in tough material or at a coarse pitch, else one; with a cutter
    one tooth high as many as its depth asks; one more where the cutter reaches far. Common practice, no source."""
    tough = material.group in ("M", "S") or thread.pitch_mm >= COARSE_MM
    far = thread.depth_ratio is not None and thread.depth_ratio > LONG_REACH_D
    if mill.one_tooth:
        return ceil(thread.height_mm / DEEPER_MM - 1e-9) + far
    return (3 if material.group == "H" else 2 if tough else 1) + far


def levels_of(length_mm: float | None, mill: ThreadMill) -> int:
    """Turns one above another: as many as the cutter's toothed length goes into the thread."""
    return 1 if length_mm is None else max(1, ceil(length_mm / mill.length_mm - 1e-6))


def wanted_speeds(thread: Milled, material: Material, machine: Machine) -> tuple[Speeds, tuple[Correction, ...]] | None:
    """The table's speeds for a thread mill and what corrects them; None where the material is not thread-milled."""
    speeds = thread_mill_speeds(material.subgroup)
    if speeds is None:
        return None
    return speeds, (*of_mill(material, machine, thread_mill_speeds), *of_reach(thread.depth_ratio))


def tooth_feed_mm(mill: ThreadMill, material: Material) -> float:
    """Feed of a tooth at the cutting edge, mm: the cutter's, times the sub-group's factor, between 0.01 and 0.08; twice as
    much where the teeth are inserts, or the cutter is one tooth high and its chips are thinner than its feed."""
    more = 2 if mill.one_tooth or mill.inserts else 1
    least, most = more * LEAST_FEED_MM, more * MOST_FEED_MM
    return min(max(mill.feed_mm_per_tooth * hss_feed_factor(material.subgroup), least), most)


def milling_at(
    thread: Milled, mill: ThreadMill, material: Material, rpm: float, centre_feed: float, cites: tuple[Cite, ...]
) -> ThreadMilling:
    """The milling of a thread at a spindle speed (rev/min) and a feed of the cutter's centre (mm/min)."""
    passes = passes_of(thread, mill, material)
    levels = levels_of(thread.length_mm, mill)
    cutter = mill.diameter_mm
    in_and_out = centre_path_mm(thread.major_mm, cutter)
    on_and_on = (levels - 1) * pi * (thread.major_mm - cutter)
    path = in_and_out + on_and_on if mill.one_tooth else levels * in_and_out
    edge_feed = centre_feed * thread.major_mm / (thread.major_mm - cutter)
    return ThreadMilling(
        cutter_mm=cutter,
        teeth=mill.teeth,
        length_mm=mill.length_mm,
        surface_m_per_min=formulas.surface_speed_m_per_min(rpm, cutter),
        spindle_rpm=rpm,
        tooth_feed_mm=edge_feed / rpm / mill.teeth,
        edge_feed_mm_per_min=edge_feed,
        centre_feed_mm_per_min=centre_feed,
        centre_radius_mm=(thread.major_mm - cutter) / 2,
        arc_radius_mm=(thread.major_mm - cutter) / 4,
        rise_mm=thread.pitch_mm * thread.starts,
        downwards=thread.left_hand,
        passes=passes,
        levels=levels,
        time_min=passes * path / centre_feed,
        cites=cites,
    )


def mill_thread(thread: Milled, material: Material, machine: Machine) -> ThreadMilling | None:
    """The thread milled at the table's start speed inside the machine's speed and feed limits; None where the material is
    not thread-milled or the thread is smaller than any cutter."""
    wanted = wanted_speeds(thread, material, machine)
    mill = thread.cutter
    if wanted is None or mill is None:
        return None
    speeds, found = wanted
    rpm = min(formulas.spindle_rpm(speeds.start * product(found)[0], mill.diameter_mm), machine.spindle_max_rpm)
    edge = formulas.feed_rate_mm_per_min(rpm, tooth_feed_mm(mill, material) * mill.teeth)
    centre = min(centre_feed_mm_per_min(edge, thread.major_mm, mill.diameter_mm), machine.feed_max_mm_per_min)
    return milling_at(thread, mill, material, rpm, centre, (speeds.cite, mill.cite))
