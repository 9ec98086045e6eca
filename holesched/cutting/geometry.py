"""What a step cuts, in numbers: the diameter at the cutting edge, the hole already there, depth over diameter, the lead."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from holesched.standards.thread_mills import TRAPEZOIDAL
from holesched.tooling.chamfer import on_circle
from holesched.tooling.model import StepKind, TapDrillFit, ToolStep

_HOLLOW = (StepKind.DRILL, StepKind.MILL, StepKind.BORE, StepKind.COUNTERBORE, StepKind.SPOTFACE, StepKind.REAM)
_OWN_SIZE = (StepKind.DRILL, StepKind.REAM)


@dataclass(frozen=True, slots=True)
class Cut:
    """A step as the formulas see it. `bored_mm` 0 for solid metal; `depth_ratio` None when the depth is unknown;
    `diameter_mm` is a thread's major diameter, `lead_mm` what a tap or a milled thread advances in one turn (pitch times
    starts), else 0."""

    step: ToolStep
    diameter_mm: float
    bored_mm: float
    depth_ratio: float | None
    lead_mm: float
    hole_mm: float
    """The hole a tap or a thread mill meets; else `bored_mm`."""
    fit: TapDrillFit | None = None
    """How that hole sits in the thread's limits, where its drill was chosen for the thread."""
    shoulder_mm: float = 0.0
    """The diameter that the shoulder of a step drill cuts in the same stroke; 0 without one."""

    @property
    def widest_mm(self) -> float:
        """The largest diameter in the cut, which the cutting speed is for."""
        return max(self.diameter_mm, self.shoulder_mm)

    @property
    def kind(self) -> StepKind:
        return self.step.kind

    @property
    def is_tap(self) -> bool:
        return self.step.kind is StepKind.TAP

    @property
    def is_blind(self) -> bool:
        return not self.step.through

    @property
    def is_taper(self) -> bool:
        thread = self.step.step.thread if self.step.step else None
        return thread is not None and thread.taper > 0

    @property
    def is_millable(self) -> bool:
        """Whether its thread can be milled with a cutter of many teeth: not a trapezoidal one."""
        return self.profile not in TRAPEZOIDAL

    @property
    def profile(self) -> str:
        """Its thread's profile, in the words of ThreadGeometry."""
        thread = self.step.step.thread if self.step.step else None
        return thread.profile if thread is not None else "60deg"


def cut_of(step: ToolStep, before: Sequence[ToolStep]) -> Cut:
    """A step with what earlier steps left for it. A thread's diameter is its major diameter."""
    thread = step.step.thread if step.step else None
    if step.kind.makes_thread:
        diameter = thread.basic_major_mm if thread else step.diameter_mm
    elif step.kind in _OWN_SIZE:
        diameter = step.tool.diameter_mm
    elif step.kind is StepKind.MILL or on_circle(step.tool):
        diameter = step.diameter_mm
    else:
        diameter = min(step.diameter_mm, step.tool.diameter_mm) or step.tool.diameter_mm
    parts = (part for other in before for part in other.parts)
    bored = max((hole_of(part) for part in parts if _reaches(part, step, diameter)), default=0.0)
    depth = None if step.depth_mm is None else max(step.depth_mm - step.start_mm, 0.0)
    lead, hole, fit = 0.0, bored, step.fit
    if step.kind.makes_thread:
        pitch = step.tool.pitch_mm or (thread.spec.pitch_mm if thread else 0.0)
        if pitch <= 0:
            raise ValueError(f"The {step.kind.value} {step.tool.size} has no pitch: it cannot be given a feed.")
        lead = pitch * (thread.spec.starts if thread else 1)
        own = (other.fit for other in before if other.step is step.step and other.fit is not None)
        fit = fit or next(own, None) if step.step is not None else fit
        hole = fit.hole_mm if fit else bored or diameter - 0.75 * 1.299 * pitch
    shoulder = 0.0 if step.also is None else step.also.diameter_mm
    return Cut(step, diameter, bored, None if depth is None else depth / diameter, lead, hole, fit, shoulder)


def hole_of(step: ToolStep) -> float:
    """The diameter a step leaves, a drill's expected oversize included; a boring head is set to less than it reaches."""
    if step.kind is StepKind.BORE:
        return step.diameter_mm
    return max(step.diameter_mm, step.tool.diameter_mm + step.tool.oversize_mm)


def _reaches(other: ToolStep, step: ToolStep, diameter_mm: float) -> bool:
    """Whether an earlier hole runs in front of this step over its whole depth."""
    if other.kind not in _HOLLOW or hole_of(other) >= diameter_mm:
        return False
    if other.through or other.depth_mm is None:
        return True
    return step.depth_mm is not None and other.depth_mm >= step.depth_mm - diameter_mm / 2
