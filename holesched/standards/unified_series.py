"""The standard series of Unified inch threads (ASME B1.1): which threads an inch each size has, and in which series."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from functools import cache

from holesched.notes import Cite
from holesched.tables import table

ROUNDED_IN = 0.0006
"""Half a unit of the third decimal, and a little for a float's last bits."""
SERIES = ("UNC", "UNF", "UNEF", "UN", "UNS")
PIPE_TPI = {
    0.0625: (27.0, 28.0),
    0.125: (27.0, 28.0),
    0.25: (18.0, 19.0),
    0.375: (18.0, 19.0),
    0.5: (14.0,),
    0.75: (14.0,),
    1.0: (11.0, 11.5),
    1.25: (11.0, 11.5),
    1.5: (11.0, 11.5),
    2.0: (11.0, 11.5),
}
"""Threads an inch of the pipe threads NPT (ASME B1.20.1) and G, Rc, Rp (ISO 228-1, ISO 7-1), by trade size in inches."""


@dataclass(frozen=True, slots=True)
class UnifiedSize:
    """One size of ASME B1.1: its name (#10, 1/4, 1 1/4), its diameter in inches, and threads an inch -> series."""

    name: str
    diameter_in: float
    series: dict[float, str]

    def standard(self) -> tuple[tuple[float, str], ...]:
        """Its standard combinations in the order UNC, UNF, UNEF, UN; without the selected specials UNS."""
        return tuple((tpi, name) for tpi, name in self.series.items() if name != "UNS")

    def nearest(self, tpi: float, count: int = 4) -> str:
        """Its standard threads in words, UNC, UNF and UNEF first, then the constant-pitch ones nearest to `tpi`."""
        order = sorted(self.standard(), key=lambda pair: abs(pair[0] - tpi) if pair[1] == "UN" else -1.0)
        shown = [f"{self.name}-{pitch:g} {series}" for pitch, series in order[:count]]
        return " or ".join((", ".join(shown[:-1]), shown[-1])) if len(shown) > 1 else "".join(shown)


@cache
def sizes() -> dict[str, UnifiedSize]:
    """The sizes of ASME B1.1 by name, in order of diameter."""
    found = {}
    for row in table("thread_unified_series.csv").rows:
        series = {float(tpi): name for name in SERIES for tpi in row[name.lower()].split()}
        found[row["size"]] = UnifiedSize(row["size"], float(row["diameter_in"]), series)
    return found


@cache
def _by_diameter() -> tuple[UnifiedSize, ...]:
    return tuple(sizes().values())


def size_of(diameter_in: float) -> UnifiedSize | None:
    """The listed size of that diameter, or of one rounded to it (drawings have .312 or .313 for .3125), or None."""
    at = bisect_left(_by_diameter(), diameter_in - ROUNDED_IN, key=lambda size: size.diameter_in)
    found = _by_diameter()[at] if at < len(_by_diameter()) else None
    return found if found is not None and found.diameter_in <= diameter_in + ROUNDED_IN else None


def neighbours(diameter_in: float) -> tuple[UnifiedSize, ...]:
    """The sizes with a coarse or fine series next below and above a diameter that is not listed."""
    primary = [size for size in sizes().values() if {"UNC", "UNF"} & set(size.series.values())]
    below = [size for size in primary if size.diameter_in < diameter_in]
    above = [size for size in primary if size.diameter_in > diameter_in]
    return (*below[-1:], *above[:1])


def is_pipe_pitch(diameter_in: float, tpi: float) -> bool:
    """Whether a pipe thread of that trade size has these threads an inch."""
    return tpi in PIPE_TPI.get(diameter_in, ())


@cache
def cite() -> Cite:
    """ASME B1.1, the table of standard series."""
    return table("thread_unified_series.csv").cite()
