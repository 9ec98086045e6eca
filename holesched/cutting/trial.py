"""A plan tried on the shop's machine: the loads of its steps, before it stands and is put in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from holesched.cutting.circle_step import circle_step
from holesched.cutting.geometry import Cut, cut_of
from holesched.cutting.hand_step import hand_step
from holesched.cutting.helix_step import helix_step
from holesched.cutting.milled_step import milled_step
from holesched.cutting.model import CutStep, Loaded
from holesched.cutting.turning import Turning, turning_of
from holesched.notes import Note
from holesched.shop.model import Shop
from holesched.standards.materials import Material
from holesched.tooling.chamfer import on_circle
from holesched.tooling.model import StepKind, ToolStep


@dataclass(frozen=True, slots=True)
class Made:
    """A step that the spindle does not turn on the hole's axis, with all its parameters and what the shop must look at."""

    cut: CutStep
    notes: list[Note]


class Trial:
    """The steps of a hole tried on the shop's machine: what really runs in each, and its loads, without the words for them.

    A step is tried when it is first asked for: where the taps alone call for another plan, nothing else of this one is.
    """

    __slots__ = ("_tried", "material", "shop", "steps")

    def __init__(self, steps: Sequence[ToolStep], material: Material, shop: Shop) -> None:
        self.steps, self.material, self.shop = steps, material, shop
        self._tried: list[Turning | Made | None] = [None] * len(steps)

    def at(self, index: int) -> Turning | Made:
        """The step at a place in the working order."""
        tried = self._tried[index]
        if tried is None:
            cut = cut_of(self.steps[index], self.steps[:index])
            tried = made_aside(cut, self.material, self.shop) or turning_of(cut, self.material, self.shop)
            self._tried[index] = tried
        return tried

    def load(self, index: int) -> Loaded:
        """What it asks of the machine."""
        tried = self.at(index)
        return tried.cut if isinstance(tried, Made) else tried

    def loads(self, *kinds: StepKind) -> list[Loaded]:
        """What the steps of some kinds ask of the machine, in working order."""
        return [self.load(index) for index, step in enumerate(self.steps) if step.kind in kinds]


def made_aside(cut: Cut, material: Material, shop: Shop) -> Made | None:
    """A step that runs on a helix or a circle, or is made by hand; None for what the spindle turns on the hole's axis."""
    if cut.kind is StepKind.THREAD_MILL:
        return Made(*milled_step(cut, material, shop.machine))
    if on_circle(cut.step.tool):
        return Made(*circle_step(cut, material, shop.machine))
    if cut.kind is StepKind.MILL:
        return Made(*helix_step(cut, material, shop.machine))
    if cut.step.tool.by_hand:
        return Made(*hand_step(cut, material, shop))
    return None
