"""Sizes and limits shared by every standard."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Size:
    """A size with the name it has in the trade: Size(5.1054, "#7"), Size(6.35, "1/4"), Size(6.8, "6.8")."""

    mm: float
    label: str

    @property
    def named(self) -> str:
        """The name in a sentence: 6.8 mm; a number, letter, fraction or inch size is what it is."""
        return f"{self.label} mm" if self.label.replace(".", "", 1).isdigit() else self.label


@dataclass(frozen=True, slots=True)
class Limits:
    """Smallest and largest permitted size in mm; None where the standard sets no limit (an internal thread's largest
    major diameter)."""

    min_mm: float
    max_mm: float | None
