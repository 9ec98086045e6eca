"""Where classes of taps lie: the tap's own pitch diameter over the basic one, in mm."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import floor

from holesched.notes import Cite, Standing
from holesched.standards import iso965
from holesched.standards.threads.base import ThreadGeometry
from holesched.tables import table
from holesched.units import MM_PER_INCH

H_STEP_MM = 0.0005 * MM_PER_INCH
"""One H limit is 0.0005 inch over the basic pitch diameter. Machinery's Handbook, 31st edition, p. 972, tap marking."""
_ISO_SERIES = ("M", "MF", "MJ")
_GRADE = 5
CLOSE_MM = 1e-6


@dataclass(frozen=True, slots=True)
class TapClass:
    """A class of taps for one thread: its name and the limits of the tap's pitch diameter over basic, in mm."""

    name: str
    low_mm: float
    high_mm: float
    cite: Cite


def iso_classes(geometry: ThreadGeometry) -> tuple[TapClass, ...]:
    """The classes of ISO 2857 for a metric thread, smallest first: shares of t, which is TD2 of grade 5.

    None for other threads, and for a pitch without grade 5 in ISO 965-1.
    """
    spec = geometry.spec
    return _classes(spec.nominal.mm, spec.pitch_mm) if spec.series in _ISO_SERIES else ()


@lru_cache(maxsize=1024)
def _classes(nominal_mm: float, pitch_mm: float) -> tuple[TapClass, ...]:
    try:
        t_mm = iso965.td2_um(nominal_mm, pitch_mm, _GRADE)[0] / 1000
    except KeyError:
        return ()
    return tuple(
        TapClass(
            row["class"],
            _to_micrometre(float(row["from_t"]) * t_mm),
            _to_micrometre(float(row["to_t"]) * t_mm),
            Cite(row["source"], standing=Standing(row["standing"])),
        )
        for row in table("tap_classes.csv").rows
    )


def _to_micrometre(mm: float) -> float:
    """A half is rounded up, as the printed limits are."""
    return floor(1000 * mm + 0.5 + CLOSE_MM) / 1000


def h_limit_mm(number: int) -> tuple[float, float]:
    """Lower and upper limit of an H tap's pitch diameter over basic, in mm. Machinery's Handbook 31, p. 972."""
    return (number - 1) * H_STEP_MM, number * H_STEP_MM


def permitted_mm(geometry: ThreadGeometry) -> tuple[float, float]:
    """Between what a tap's pitch diameter over basic must lie, so that it cuts the thread inside its limits."""
    high = geometry.pitch.max_mm
    low_mm = geometry.pitch.min_mm - geometry.basic_pitch_mm
    return low_mm, float("inf") if high is None else high - geometry.basic_pitch_mm


def inside(low_mm: float, high_mm: float, geometry: ThreadGeometry) -> bool:
    """Whether a tap with these limits over basic cuts the thread inside its own."""
    least, most = permitted_mm(geometry)
    return low_mm >= least - CLOSE_MM and high_mm <= most + CLOSE_MM


def room_in_classes(geometry: ThreadGeometry, factor: float) -> tuple[tuple[str, float], ...]:
    """What thickness of coating each class of taps leaves room for, in um: (name, um); `factor` is what a coating takes off
    the pitch diameter over its thickness."""
    if geometry.spec.series.startswith("UN"):
        classes = [(f"H{number}", *h_limit_mm(number)) for number in range(3, 11)]
    else:
        classes = [(each.name, each.low_mm, each.high_mm) for each in iso_classes(geometry)]
    least, most = permitted_mm(geometry)
    return tuple((name, 1000 * (low - least) / factor) for name, low, high in classes if low > least and high <= most)
