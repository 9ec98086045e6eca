"""Depths and entrance of a hole for a helical-coil wire insert (ASME B18.29.2M, metric; the same rule serves inch sizes)."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from holesched.notes import COMMON_PRACTICE, Cite, Standing
from holesched.standards.sizes import Limits
from holesched.standards.threads.base import ThreadSpec
from holesched.standards.threads.wire_insert import MAJOR

LENGTHS = (1.0, 1.5, 2.0, 2.5, 3.0)
"""Nominal insert lengths, in screw diameters."""
MALE_CENTRE_TO_MM = 8.0
"""Plug taps up to this screw diameter have a male centre, for which half a diameter of depth is added."""
COUNTERSINK_DEG = 120.0
COUNTERSINK_ROOM_MM = 0.4
"""How much the entrance may exceed the STI major diameter. Common practice, no source."""
DEPTH_CITE = Cite("ASME B18.29.2M", "2005", "note on minimum drilling depth")
COUNTERSINK_CITES = (Cite("NASM 33537", "", "countersink", Standing.FROM_MEMORY), COMMON_PRACTICE)


class Tap(Enum):
    """The tap that cuts the last thread: its chamfer in pitches."""

    PLUG = 4
    BOTTOMING = 2


@dataclass(frozen=True, slots=True)
class InsertDepths:
    """What a hole for a wire insert needs, in mm from the face: the insert's own length, full STI thread, drilled depth at
    least (the point not counted), and the entrance: its diameter and included angle in degrees."""

    insert_mm: float
    full_thread_mm: float
    drill_least_mm: float
    countersink: Limits
    countersink_deg: float
    cites: tuple[Cite, ...]


def insert_depths(spec: ThreadSpec, diameters: float, tap: Tap = Tap.PLUG) -> InsertDepths:
    """Depths and entrance of the hole for an insert of 1, 1.5, 2, 2.5 or 3 screw diameters (ASME B18.29.2M).

    Raises KeyError for a thread that is no insert thread, ValueError for another length.
    """
    if not spec.series.startswith("STI-"):
        raise KeyError(spec.designation)
    length = insert_length_mm(spec.nominal.mm, diameters)
    return InsertDepths(
        insert_mm=length,
        full_thread_mm=full_thread_mm(length, spec.pitch_mm),
        drill_least_mm=drilling_depth_mm(spec.nominal.mm, spec.pitch_mm, length, tap),
        countersink=countersink_mm(spec.nominal.mm, spec.pitch_mm),
        countersink_deg=COUNTERSINK_DEG,
        cites=(DEPTH_CITE, *COUNTERSINK_CITES),
    )


def insert_length_mm(nominal_mm: float, diameters: float) -> float:
    """Nominal length of an insert of 1, 1.5, 2, 2.5 or 3 diameters, mm. Raises ValueError for another number."""
    if diameters not in LENGTHS:
        raise ValueError(f"inserts are {', '.join(f'{length:g}D' for length in LENGTHS)} long, not {diameters:g}D")
    return nominal_mm * diameters


def full_thread_mm(length_mm: float, pitch_mm: float) -> float:
    """T = insert length + 1 P: least depth of full STI thread, mm (ASME B18.29.2M, dimension T)."""
    return length_mm + pitch_mm


def drilling_depth_mm(nominal_mm: float, pitch_mm: float, length_mm: float, tap: Tap) -> float:
    """G: least drilling depth for an insert of that length, mm, the drill's point not counted.

    ASME B18.29.2M: insert length + tap chamfer (plug 4 P, bottoming 2 P) + 1 P tap end clearance + 1 P for countersink and
    set-down; a plug tap for screws to 8 mm has a male centre, for which half the screw diameter is added.
    """
    centre = nominal_mm / 2 if tap is Tap.PLUG and nominal_mm <= MALE_CENTRE_TO_MM else 0.0
    return length_mm + centre + tap.value * pitch_mm + pitch_mm + pitch_mm


def countersink_mm(nominal_mm: float, pitch_mm: float) -> Limits:
    """Diameter of the 120 degree entrance, mm: the STI thread's major diameter at least, not the screw's."""
    major = nominal_mm + MAJOR * pitch_mm
    return Limits(round(major, 3), round(major + COUNTERSINK_ROOM_MM, 3))
