"""Sizes and limits shared by every standard."""

from __future__ import annotations

from dataclasses import dataclass

from holesched.units import MM_PER_INCH


@dataclass(frozen=True, slots=True)
class Size:
    """A size with the name it has in the trade: Size(5.1054, "#7"), Size(6.35, "1/4"), Size(6.8, "6.8")."""

    mm: float
    label: str

    @property
    def named(self) -> str:
        """The name in a sentence: 6.8 mm, 1 in; a number, letter, fraction or size with its unit is what it is."""
        return with_unit(self.label, self.mm)


def with_unit(label: str, mm: float) -> str:
    """A size's label, or a span of them ("44 to 56", by its last), with its unit where it is a number alone."""
    try:
        number = float(label.rpartition(" to ")[2])
    except ValueError:
        return label
    return f"{label} {'mm' if abs(number - mm) <= abs(MM_PER_INCH * number - mm) else 'in'}"


@dataclass(frozen=True, slots=True)
class Limits:
    """Smallest and largest permitted size in mm; None where the standard sets no limit (an internal thread's largest
    major diameter)."""

    min_mm: float
    max_mm: float | None
