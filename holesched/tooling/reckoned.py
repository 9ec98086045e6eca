"""What the loads of a hole's earlier plans have shown: all that a later stage tells the choice of tools."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Reckoned:
    """What the cutting parameters of earlier plans of a hole have shown, for the next one; nothing before the first.

    `tap_torque` is what a cutting tap takes of the torque that the spindle, or a person, gives, by the thread's designation;
    `tap_breaking` likewise what it takes of the torque that breaks it, and after that what it takes with the larger drill.
    `heavy` are the holes that a drill or counterbore is too heavy for, by diameter, each with the number of steps that it
    proved too heavy in. `lighter_from` are the diameters from which on each pass of a boring bar takes half of what one took
    before, by the diameter of the feature that is bored. `step_drill` is what was found against a step drill, in the rules'
    words.
    """

    tap_torque: Mapping[str, float] = field(default_factory=dict)
    tap_breaking: Mapping[str, tuple[float, ...]] = field(default_factory=dict)
    too_heavy_by_hand: frozenset[str] = frozenset()
    """Designations of the threads whose hand set takes more than a person turns."""
    heavy: Mapping[float, int] = field(default_factory=dict)
    lighter_from: Mapping[float, tuple[float, ...]] = field(default_factory=dict)
    step_drill: str = ""
    heavy_spot: bool = False
    """Whether a spot as wide as the chamfer takes more than the machine gives."""


NOT_RECKONED = Reckoned()
