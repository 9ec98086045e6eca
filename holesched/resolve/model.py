"""Holes with numbers from the standards: limits, diameters, depths in mm from the face the step starts on."""

from __future__ import annotations

from dataclasses import dataclass

from holesched.callouts.model import Kind, Side
from holesched.features.model import Feature, HoleType
from holesched.notes import Cite, Note
from holesched.standards.sizes import Limits, Size
from holesched.standards.threads.base import ThreadGeometry


@dataclass(frozen=True, slots=True)
class ResolvedStep:
    """One feature with its numbers.

    `limits` are the finished diameter's limits (fit, limits of size); None when the drawing sets none. `depth_mm` is the
    depth of full diameter or full thread; for a through step it is the part's thickness, or None when that is unknown.
    `thread` for taps; `insert_mm` is the length of the wire insert the thread is for, None when there is none or the callout
    does not give it.
    """

    feature: Feature
    kind: Kind
    diameter: Size
    limits: Limits | None
    through: bool
    depth_mm: float | None
    angle_deg: float | None = None
    thread: ThreadGeometry | None = None
    side: Side = Side.NEAR
    cites: tuple[Cite, ...] = ()
    insert_mm: float | None = None


@dataclass(frozen=True, slots=True)
class ResolvedHole:
    """A hole type with all its steps resolved; `stated_drill` is the pilot hole of a thread or ream, if written."""

    type: HoleType
    steps: tuple[ResolvedStep, ...]
    thickness_mm: float | None
    notes: tuple[Note, ...] = ()
