"""What tools do in one hole, before it is put in order and given depths."""

from __future__ import annotations

from dataclasses import dataclass

from holesched.callouts.model import Side
from holesched.notes import Reason
from holesched.resolve.model import ResolvedStep
from holesched.tooling.model import StepKind, TapDrillFit, Tool


@dataclass(frozen=True, slots=True)
class Work:
    """One tool's work before it has its place: all depths from the face its side starts on.

    `diameter_mm` is what it makes (a cone's rim, a thread's major diameter). `depth_mm` is the depth of full diameter or
    full thread, unused for cones and, in a part of unknown thickness, None for through work. `lead_mm` is how far the tip
    runs ahead of that depth: a drill's point, a tap's chamfer, a thread mill's end, a reamer's lead.
    """

    kind: StepKind
    tool: Tool
    step: ResolvedStep | None
    diameter_mm: float
    through: bool = False
    depth_mm: float | None = None
    lead_mm: float = 0.0
    side: Side = Side.NEAR
    fit: TapDrillFit | None = None
    reasons: tuple[Reason, ...] = ()
    centre_mm: float = 0.0
    """How far a tap's male centre runs ahead of its chamfer."""
    unfinished: bool = False
    """An earlier tap of a hand set."""
    from_mm: float = 0.0
    """Where it begins to cut, below where it enters."""
