"""Gauges that prove a hole (thin start: the plug's nominal limits, without gauge maker's tolerance)."""

from __future__ import annotations

from dataclasses import dataclass

from holesched.notes import Cite


@dataclass(frozen=True, slots=True)
class Gauge:
    """One gauge: `kind` ("go thread plug", "not-go thread plug", "go plain plug", "not-go plain plug"), what it is for
    ("M8x1.25-6H"), and the size it checks in mm (pitch diameter for thread plugs, diameter for plain ones)."""

    kind: str
    designation: str
    size_mm: float
    cite: Cite
    tolerance_mm: tuple[float, float] | None = None
    """Smallest and largest size of the gauge itself, where a standard gives them."""
    how: str = ""
    """How it is used, in one sentence."""
