"""The shape of a finished hole in section: radius against depth, in mm on the part, from the tools that make it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from math import radians, tan

from holesched.callouts.model import Side
from holesched.tooling.model import StepKind, ToolPlan, ToolStep

TINY = 1e-9


@dataclass(frozen=True, slots=True)
class Piece:
    """What one tool leaves: radius `r0` at depth `z0`, going straight to `r1` at `z1` (z0 < z1), in mm."""

    z0: float
    z1: float
    r0: float
    r1: float

    def radius(self, z: float) -> float:
        return self.r0 + (self.r1 - self.r0) * (z - self.z0) / (self.z1 - self.z0)

    def seen_from(self, thickness: float) -> Piece:
        """The same piece made from the far face of a part of this thickness."""
        return Piece(thickness - self.z1, thickness - self.z0, self.r1, self.r0)


@dataclass(frozen=True, slots=True)
class Thread:
    """An internal thread: major radius, and between which depths its full thread lies; whether it ends above or below."""

    radius: float
    start: float
    end: float
    from_far: bool = False


@dataclass(frozen=True, slots=True)
class Profile:
    """A hole in section. `outline` are (depth, radius) points from the near face down; two points of one depth are a step.

    `floor` is the part's far face, or, where the thickness is not known or lies far below the hole, the depth at which the
    drawing breaks off (`broken`). What would go deeper than the far face is cut off there: the hole is open below.
    """

    outline: tuple[tuple[float, float], ...]
    threads: tuple[Thread, ...]
    floor: float
    broken: bool

    def shows_radius(self, radius: float) -> bool:
        """Whether the finished hole has a corner of this radius; a pilot hole that was opened later has none."""
        return any(abs(r - radius) < 1e-6 for _, r in self.outline)

    def shows_depth(self, depth: float, from_far: bool = False) -> bool:
        """Whether the finished hole has a corner at this depth from its face, or would have it beyond the other."""
        at = self.floor - depth if from_far else depth
        return depth > self.floor or any(abs(z - at) < 1e-6 for z, _ in self.outline)

    @property
    def widest(self) -> float:
        """The largest radius, threads included."""
        return max([r for _, r in self.outline] + [thread.radius for thread in self.threads])

    def radius(self, z: float) -> float:
        """The radius just below depth z; 0 below the hole."""
        for (z0, r0), (z1, r1) in pairwise(self.outline):
            if z0 <= z < z1:
                return r0 + (r1 - r0) * (z - z0) / (z1 - z0)
        return 0.0


def profile(plan: ToolPlan) -> Profile | None:
    """The profile of a hole type, or None for a plan without steps."""
    if not plan.steps:
        return None
    thickness = plan.resolved.thickness_mm
    deepest = max((_bottom(step) for step in plan.parts if not step.through), default=0.0)
    through = any(step.through for step in plan.parts)
    widest = max(step.diameter_mm for step in plan.parts)
    far = any(step.side is not Side.NEAR for step in plan.parts)
    floor, broken = _floor(thickness, deepest, through or far, widest)
    if thickness is None and far:
        thickness, broken = floor, False
    pieces: list[Piece] = []
    threads: list[Thread] = []
    for step in plan.parts:
        made = _pieces(step, floor)
        if step.side is not Side.FAR:
            pieces += made
        if step.side is not Side.NEAR and thickness is not None:
            pieces += [piece.seen_from(thickness) for piece in made]
        if step.finishes_thread:
            end = floor if step.through or step.depth_mm is None else min(step.depth_mm, floor)
            if step.side is not Side.FAR:
                threads.append(Thread(step.diameter_mm / 2, step.start_mm, end))
            if step.side is not Side.NEAR and not step.through:
                threads.append(Thread(step.diameter_mm / 2, floor - end, floor - step.start_mm, from_far=True))
    outline = envelope([piece for piece in pieces if piece.z1 - piece.z0 > TINY], floor)
    return Profile(outline, tuple(threads), floor, broken) if outline else None


def _floor(thickness: float | None, deepest: float, open_below: bool, widest: float) -> tuple[float, bool]:
    """Where the drawing ends below, and whether that is a break: a thick part is not drawn to its far face for nothing."""
    if thickness is None:
        return (max(deepest + 0.3 * widest, 2.0 * widest), True)
    if open_below or thickness <= max(1.35 * deepest, deepest + 0.6 * widest):
        return thickness, False
    return deepest + 0.3 * widest, True


def _bottom(step: ToolStep) -> float:
    return step.depth_mm or 0.0 if step.kind.makes_thread else max(step.tip_mm or 0.0, step.depth_mm or 0.0)


def _pieces(step: ToolStep, floor: float) -> list[Piece]:
    """What the step's tool leaves, as made from the near face."""
    radius, start = step.diameter_mm / 2, step.start_mm
    if step.kind.makes_thread:
        return []
    if step.kind in (StepKind.SPOT, StepKind.COUNTERSINK):
        angle = step.tool.point_angle_deg
        if step.step is not None and step.step.angle_deg is not None:
            angle = step.step.angle_deg
        if angle is None:
            return []
        slope = tan(radians(angle / 2))
        if step.kind is StepKind.SPOT and step.tip_mm is not None:
            radius = min((step.tip_mm - start) * slope, step.tool.diameter_mm / 2)
        return [Piece(start, start + radius / slope, radius, 0.0)]
    if step.through or step.depth_mm is None:
        return [Piece(0.0, floor, radius, radius)]
    made = [Piece(0.0, step.depth_mm, radius, radius)]  # clipped at the far face by the envelope
    if step.kind is StepKind.DRILL and step.tool.point_angle_deg:
        made.append(Piece(step.depth_mm, step.depth_mm + radius / tan(radians(step.tool.point_angle_deg / 2)), radius, 0.0))
    return made


def envelope(pieces: Sequence[Piece], floor: float) -> tuple[tuple[float, float], ...]:
    """The largest radius at every depth from 0 to the hole's bottom (or `floor`), as corner points in order of depth."""
    cuts = {0.0, floor}
    for piece in pieces:
        cuts |= {piece.z0, piece.z1}
    for one, other in combinations(pieces, 2):
        cuts |= _crossing(one, other)
    depths = sorted(z for z in cuts if -TINY <= z <= floor + TINY)
    points: list[tuple[float, float]] = []
    for z0, z1 in pairwise(depths):
        middle = (z0 + z1) / 2
        there = [piece for piece in pieces if piece.z0 <= middle <= piece.z1]
        if z1 - z0 < TINY or not there:
            continue
        top = max(there, key=lambda piece: piece.radius(middle))
        for z in (z0, z1):
            _add(points, (z, max(top.radius(z), 0.0)))
    return tuple(points)


def _crossing(one: Piece, other: Piece) -> set[float]:
    slope = (one.r1 - one.r0) / (one.z1 - one.z0) - (other.r1 - other.r0) / (other.z1 - other.z0)
    if abs(slope) < TINY:
        return set()
    z = one.z0 + (other.radius(one.z0) - one.r0) / slope
    inside = max(one.z0, other.z0) < z < min(one.z1, other.z1)
    return {z} if inside else set()


def _add(points: list[tuple[float, float]], point: tuple[float, float]) -> None:
    """Adds a corner; a point that repeats the last, or lies on the straight line of the last two, is no corner."""
    if points and abs(points[-1][0] - point[0]) < TINY and abs(points[-1][1] - point[1]) < TINY:
        return
    if len(points) >= 2:
        (za, ra), (zb, rb) = points[-2], points[-1]
        if abs((zb - za) * (point[1] - ra) - (rb - ra) * (point[0] - za)) < TINY and zb > za:
            points.pop()
    points.append(point)
