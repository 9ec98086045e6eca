"""Hole types in the drawing's terms become holes with numbers: each standard is asked, each answer keeps its source."""

from __future__ import annotations

from holesched.callouts.model import Kind, Tolerance
from holesched.features.model import Feature, HoleType
from holesched.notes import Cite, Note, Severity
from holesched.resolve.model import ResolvedHole, ResolvedStep
from holesched.standards import fits, threads
from holesched.standards.sizes import Limits
from holesched.standards.threads.insert_depths import insert_length_mm

FROM_THE_DRAWING = Cite("drawing", place="callout")


def resolve_hole(hole_type: HoleType) -> ResolvedHole:
    """All steps of a hole type with their limits and depths.

    A step that no standard can resolve leaves a REFUSED note, and the hole then has no steps: half a hole is never planned.
    """
    steps: list[ResolvedStep] = []
    notes: list[Note] = []
    for feature in hole_type.hole.features:
        step = _resolve(feature, hole_type, notes)
        if step is not None:
            steps.append(step)
    refused = any(note.severity is Severity.REFUSED for note in notes)
    return ResolvedHole(hole_type, () if refused else tuple(steps), hole_type.thickness_mm, tuple(notes))


def _resolve(feature: Feature, hole_type: HoleType, notes: list[Note]) -> ResolvedStep | None:
    cites: tuple[Cite, ...] = ()
    limits = None
    thread = None
    if feature.kind is Kind.TAP and feature.thread is not None:
        thread = threads.geometry(feature.thread)
        cites = thread.cites
    elif feature.tolerance is not None:
        answer = _limits(feature.diameter.mm, feature.tolerance)
        if isinstance(answer, str):
            notes.append(_refusal(answer, hole_type))
            return None
        limits, cites = answer
    through = feature.depth.through
    return ResolvedStep(
        feature=feature,
        kind=feature.kind,
        diameter=feature.diameter,
        limits=limits,
        through=through,
        depth_mm=hole_type.thickness_mm if through else feature.depth.mm,
        angle_deg=feature.angle_deg,
        thread=thread,
        side=feature.side,
        cites=cites,
        insert_mm=_insert_mm(feature),
    )


def _insert_mm(feature: Feature) -> float | None:
    """The wire insert's length in mm, as the callout gives it."""
    if feature.insert_diameters is None or feature.thread is None:
        return None
    return insert_length_mm(feature.thread.nominal.mm, feature.insert_diameters)


def _limits(nominal_mm: float, tolerance: Tolerance) -> tuple[Limits | None, tuple[Cite, ...]] | str:
    """The finished diameter's limits, or a sentence that says why there are none."""
    if tolerance.low_mm is not None and tolerance.high_mm is not None:
        return Limits(tolerance.low_mm, tolerance.high_mm), (FROM_THE_DRAWING,)
    if tolerance.zone is None:
        return None, ()
    try:
        return fits.hole_limits(nominal_mm, tolerance.zone), (fits.cite(tolerance.zone),)
    except (KeyError, ValueError) as problem:
        return str(problem.args[0])


def _refusal(problem: str, hole_type: HoleType) -> Note:
    first = hole_type.members[0]
    return Note(
        code="RESOLVE-FIT-UNKNOWN",
        severity=Severity.REFUSED,
        message=problem,
        suggestion="Give a hole zone such as H7, or the limits of size.",
        text=hole_type.hole.callout,
        ref=first.ref,
    )
