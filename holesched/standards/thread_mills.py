"""Thread mills as they are usually kept: how large a cutter goes into a thread, with how many teeth, and how long it is."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import floor

from holesched.notes import Cite
from holesched.standards.threads.base import ThreadGeometry
from holesched.tables import table

TRAPEZOIDAL = ("30deg", "29deg")
"""Profiles of threads that are milled with a cutter one tooth high: with several at once the load would be too much, and
their lead angle would spoil the flanks."""
MOST_OF_HOLE = 0.95
"""A cutter is at most this share of the smallest hole. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class ThreadMill:
    """A cutter for one thread: its diameter, teeth around it, toothed length (the pitch when it is one tooth high), and feed
    a tooth in plain steel."""

    diameter_mm: float
    teeth: int
    length_mm: float
    feed_mm_per_tooth: float
    cite: Cite
    one_tooth: bool = False
    """Whether it is one tooth high, so that it goes round once for each pitch."""
    inserts: bool = False
    """Whether its teeth are inserts in a steel body, `teeth` of them around it: solid carbide ends at about 20 mm."""


def milled_major_mm(geometry: ThreadGeometry) -> float:
    """The major diameter that a thread is milled to, mm: of a taper thread the one at the face.

    There it lies as far outside the pitch diameter as the minor diameter inside; geometry.
    """
    return 2 * geometry.basic_pitch_mm - geometry.basic_minor_mm if geometry.taper else geometry.basic_major_mm


@lru_cache(maxsize=1024)
def thread_mill(major_mm: float, minor_mm: float, profile: str = "60deg", pitch_mm: float = 0.0) -> ThreadMill | None:
    """The cutter for a thread of those diameters; None below the smallest one (thread_mills.csv, from memory). A trapezoidal
    `profile` is cut by one tooth of the pitch's height.

    The table's share of the major diameter, but never so large that it only just goes into the hole (common practice, no
    source), rounded down to a tenth, below 3 mm to half a tenth.
    """
    source = table("thread_mills.csv")
    one_tooth = profile in TRAPEZOIDAL
    kind = "profile" if one_tooth else "comb"
    rows = [row for row in source.rows if row["kind"] == kind and float(row["from_mm"]) <= major_mm]
    if not rows:
        return None
    row = max(rows, key=lambda row: float(row["from_mm"]))
    step_mm = 0.1 if major_mm >= 3 else 0.05
    largest_mm = min(major_mm * float(row["cutter"]), MOST_OF_HOLE * minor_mm)
    return ThreadMill(
        diameter_mm=round(floor(largest_mm / step_mm + 1e-9) * step_mm, 2),
        teeth=int(row["teeth"]),
        length_mm=pitch_mm if one_tooth else min(major_mm * float(row["length_d"]), float(row["longest_mm"])),
        feed_mm_per_tooth=float(row["feed"]),
        cite=source.cite(),
        one_tooth=one_tooth,
        inserts=row["body"] == "inserts",
    )
