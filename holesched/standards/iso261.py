"""The general plan of ISO metric threads: which pitches ISO 261 gives to which diameter."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from holesched.notes import Cite
from holesched.tables import table

FINER_PITCHES_MM = (3.0, 2.0, 1.5, 1.0, 0.75, 0.5, 0.35, 0.25, 0.2)
"""ISO 261:1998: from these a thread finer than the listed ones is to be chosen; read in an open transcription."""


@dataclass(frozen=True, slots=True)
class MetricSize:
    """One diameter of ISO 261, in mm: choice "1", "2", "3" (or "2-3" where editions differ), its pitches, coarsest first."""

    diameter_mm: float
    choice: str
    coarse_mm: float | None
    fine_mm: tuple[float, ...]
    note: str = ""

    @property
    def pitches_mm(self) -> tuple[float, ...]:
        """All its pitches, coarsest first."""
        return self.fine_mm if self.coarse_mm is None else (self.coarse_mm, *self.fine_mm)

    @property
    def preferred(self) -> bool:
        """First or second choice in every edition."""
        return self.choice in ("1", "2")

    def may_be_finer(self, pitch_mm: float) -> bool:
        """Whether an unlisted pitch is one of those which ISO 261 allows for a thread finer than the listed ones."""
        return pitch_mm in FINER_PITCHES_MM and pitch_mm < min(self.pitches_mm)

    def listed(self, letters: str = "M") -> str:
        """Its threads in words: "M8x1.25 (coarse), M8x1 or M8x0.75 (fine)"."""
        name = f"{letters}{self.diameter_mm:g}x"
        fine = [f"{name}{pitch:g}" for pitch in self.fine_mm]
        parts = [] if self.coarse_mm is None else [f"{name}{self.coarse_mm:g} (coarse)"]
        if fine:
            parts.append(" or ".join((", ".join(fine[:-1]), fine[-1])) if len(fine) > 1 else fine[0])
            parts[-1] += " (fine)"
        return ", ".join(parts)


@cache
def sizes() -> dict[float, MetricSize]:
    """The diameters of ISO 261, in order of size."""
    return {
        float(row["diameter_mm"]): MetricSize(
            diameter_mm=float(row["diameter_mm"]),
            choice=row["choice"],
            coarse_mm=float(row["coarse_mm"]) if row["coarse_mm"] else None,
            fine_mm=tuple(float(pitch) for pitch in row["fine_mm"].split()),
            note=row["note"],
        )
        for row in table("thread_iso261.csv").rows
    }


@cache
def neighbours(diameter_mm: float) -> tuple[MetricSize, ...]:
    """The next preferred diameters below and above one that ISO 261 does not list; one of them at the ends."""
    preferred = [size for size in sizes().values() if size.preferred]
    below = [size for size in preferred if size.diameter_mm < diameter_mm]
    above = [size for size in preferred if size.diameter_mm > diameter_mm]
    return (*below[-1:], *above[:1])


def drilled_for(diameter_mm: float) -> MetricSize | None:
    """The coarse thread whose usual tap drill, D - P, this diameter is, to 0.06 mm; None if there is none."""
    for size in sizes().values():
        if size.preferred and size.coarse_mm and abs(size.diameter_mm - size.coarse_mm - diameter_mm) < 0.06:
            return size
    return None


@cache
def cite() -> Cite:
    """ISO 261, Table 2."""
    return table("thread_iso261.csv").cite()
