"""Holes for pipe threads: gauge plane, full thread, drill for straight tapping and drill before a 1:16 taper reamer.

A taper thread's drill does not follow from minor-diameter limits at the gauge plane, as a parallel thread's does: the
hole is widest at the face. So a planner asks here first when `ThreadGeometry.taper` is not 0.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache

from holesched.notes import COMMON_PRACTICE, Cite, Standing
from holesched.standards.sizes import Size
from holesched.standards.threads import iso_7, npt
from holesched.standards.threads.base import ThreadSpec
from holesched.tables import table

STRAIGHT = "straight"
TAPER_REAMED = "before taper reaming"
RUN_OUT_PITCHES = 3
"""Room for the tap's imperfect threads below the full thread, in pitches. Common practice, no source."""
FINEST_COARSE_TPI = 8
"""NPT from size 2 1/2 on; their wrench make-up L3 is 2 threads, that of the smaller sizes 3."""


@dataclass(frozen=True, slots=True)
class PipeDepths:
    """Depths in mm from the face of the part.

    `gauge_plane_mm`: how far the basic plug gauge enters by hand (its step stands at the face); `either_way_mm` the
    permitted stand-off; `full_thread_mm` the thread a fitting needs; `drill_least_mm` the least depth of a hole that is
    drilled straight, the point not counted. `gauge` tells how the thread is proved.
    """

    gauge_plane_mm: float
    either_way_mm: float
    full_thread_mm: float
    drill_least_mm: float
    gauge: str
    cites: tuple[Cite, ...]


@dataclass(frozen=True, slots=True)
class PipeDrill:
    """A drill for a pipe thread: its size, for which way of working, and its source."""

    method: str
    drill: Size
    cite: Cite


def pipe_depths(spec: ThreadSpec) -> PipeDepths | None:
    """Depths of NPT, NPTF, PTF-SAE SHORT, Rc and Rp in mm; None for a thread that has no gauge plane (G, NPSM, any other).

    ASME B1.20.1, Table 2 (L1; L3 as Machinery's Handbook prints it) and ISO 7-1, Table 1; the run-out below them is common
    practice. Raises KeyError for a size of pipe that the tables do not list.
    """
    if spec.series in npt.TAPER_SERIES:
        return _american(spec)
    if spec.series in ("Rc", "Rp"):
        return _iso(spec)
    return None


def _american(spec: ThreadSpec) -> PipeDepths:
    """L1 and L1 + L3 of ASME B1.20.1, each a pitch less for PTF-SAE SHORT; stand-off one turn."""
    row, pitch = npt.rows()[spec.nominal.label], spec.pitch_mm
    l1 = npt.plug_depth_mm(spec)
    full = l1 + (2 if (spec.tpi or 0) <= FINEST_COARSE_TPI else 3) * pitch
    step = "one turn above the face" if spec.series == npt.SHORT else "flush with the face"
    gauge = f"taper plug L1: its step {step}, give or take one turn"
    if spec.series in npt.DRYSEAL:
        gauge += "; L3 plug as well, within half a turn of the L1 result"
    return PipeDepths(
        l1,
        npt.TURNS * pitch,
        full,
        full + RUN_OUT_PITCHES * pitch,
        gauge,
        (npt.row_cite(row), Cite("Machinery's Handbook", "27", "p. 1862, Table 1b: L3 of ASME B1.20.1"), COMMON_PRACTICE),
    )


def _iso(spec: ThreadSpec) -> PipeDepths:
    """Gauge length and the useful length of the longest external thread (ISO 7-1, Table 1)."""
    row, pitch = iso_7.rows()[spec.nominal.label], spec.pitch_mm
    full = float(row["useful_length_mm"]) + float(row["gauge_length_tolerance_mm"])
    return PipeDepths(
        float(row["gauge_length_mm"]),
        float(row["gauge_plane_tolerance_mm"]),
        full,
        full + RUN_OUT_PITCHES * pitch,
        "taper plug of ISO 7-2: the face between the gauge's steps",
        (table("thread_iso7.csv").cite(), COMMON_PRACTICE),
    )


@cache
def _charted() -> dict[tuple[str, str, str], PipeDrill]:
    charted = {}
    for row in table("thread_pipe_drills.csv").rows:
        cite = Cite(row["source"], standing=Standing(row["standing"]))
        drill = Size(float(row["diameter_mm"]), row["drill"])
        charted[row["thread"], row["size"], row["method"]] = PipeDrill(row["method"], drill, cite)
    return charted


def pipe_drill(spec: ThreadSpec, method: str = STRAIGHT) -> PipeDrill | None:
    """The drill for straight tapping, or (method TAPER_REAMED) the one that goes before the taper reamer; its size in mm.

    From a chart where there is one; else before taper reaming the minor diameter at the inner end of the full thread,
    rounded down to 0.1 mm and marked as calculated. None: no chart, and nothing to calculate from.
    """
    series = "NPT" if spec.series in npt.TAPER_SERIES else spec.series
    found = _charted().get((series, spec.nominal.label, method))
    if found is not None and spec.series in npt.DRYSEAL:
        return replace(found, cite=found.cite._replace(place="chart for NPT; dryseal sizes are to be confirmed"))
    if found is not None:
        return found
    if method == TAPER_REAMED and series in ("NPT", "Rc"):
        diameter = math.floor(10 * small_end_minor_mm(spec)) / 10
        cite = Cite("minor diameter at the inner end of the full thread", standing=Standing.CALCULATED)
        return PipeDrill(method, Size(diameter, f"{diameter:g}"), cite)
    return None


def face_minor_mm(spec: ThreadSpec) -> float:
    """Basic minor diameter of a taper thread at the face of the part, mm.

    NPT and NPTF have their gauge plane there; that of Rc lies half a pitch below it (ISO 7-1:1994, 3.3). Raises KeyError
    for a thread without a taper.
    """
    if spec.series in npt.TAPER_SERIES:
        return npt.STANDARD.geometry(spec).basic_minor_mm
    if spec.series == "Rc":
        return iso_7.STANDARD.geometry(spec).basic_minor_mm + spec.pitch_mm / 2 * npt.TAPER
    raise KeyError(spec.designation)


def small_end_minor_mm(spec: ThreadSpec) -> float:
    """Basic minor diameter of a taper thread at the inner end of its full thread, mm.

    Raises KeyError for a thread without a taper.
    """
    depths = pipe_depths(spec)
    if depths is None:
        raise KeyError(spec.designation)
    return face_minor_mm(spec) - depths.full_thread_mm * npt.TAPER
