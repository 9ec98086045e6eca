"""Sizes before a coating: a coating makes a hole smaller, so it is made larger by what the coating will take.

On a flank that leans by half the thread's angle a coating of thickness t takes 2 t / sin(half the angle) off the pitch
diameter: 4 t for a thread of 60 degrees; off the minor and the major diameter it takes 2 t. Geometry.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import radians, sin

from holesched.callouts.model import Coating, Tolerance
from holesched.notes import COMMON_PRACTICE, Cite, Note, Reason, Severity, Standing
from holesched.resolve.model import ResolvedHole, ResolvedStep
from holesched.standards.sizes import Limits
from holesched.standards.threads.base import ThreadGeometry
from holesched.tables import cite_of, table
from holesched.tooling.model import StepKind
from holesched.tooling.setting import Planned
from holesched.tooling.tap_classes import room_in_classes

MOST_OVER_LEAST = 1.5
"""Largest over smallest thickness where only one figure is written."""
MOST_CITE = Cite("ASME B1.1", "2003", "7.4.2: no tolerance on the coating, its thickness plus half; read on a public page")
HOLDS_CITE = Cite(
    "ISO 965-2", place="coated threads: limits hold before coating, after it the maximum-material limit is kept; read on a "
    "public page"
)  # fmt: skip
GEOMETRY_CITE = Cite("geometry of the flank: 2 t / sin(half the thread's angle)", standing=Standing.CALCULATED)
PLAIN_FACTOR = 2.0
OVERSIZE = "COATING-OVERSIZE"
"""The rule of the reasons why a size is made larger."""
_SIZING = (StepKind.TAP, StepKind.THREAD_MILL, StepKind.REAM, StepKind.BORE)


@dataclass(frozen=True, slots=True)
class Growth:
    """What a coating adds to one surface, in mm: least and most, and how that follows from what is written."""

    least_mm: float
    most_mm: float
    because: str
    cites: tuple[Cite, ...]


@dataclass(frozen=True, slots=True)
class Larger:
    """Why a step is made larger: for the tool that makes its size, and for the drill before a thread."""

    size: Reason
    drill: Reason | None = None


@dataclass(frozen=True, slots=True)
class BeforeCoating:
    """A hole with the sizes it must have before its coating, why, step by step, and what is open."""

    resolved: ResolvedHole
    reasons: tuple[Larger | None, ...]
    notes: tuple[Note, ...]


def before_coating(resolved: ResolvedHole) -> BeforeCoating:
    """The hole as it is machined; as it is drawn where nothing is coated, or no thickness is known."""
    coating = resolved.type.hole.coating
    growth = growth_of(coating) if coating is not None else None
    if growth is not None and growth.most_mm <= 0:
        return BeforeCoating(resolved, (None,) * len(resolved.steps), ())
    if coating is None or growth is None:
        notes = () if coating is None else _no_allowance(resolved)
        return BeforeCoating(resolved, (None,) * len(resolved.steps), notes)
    steps, reasons, found = [], [], []
    for step in resolved.steps:
        made, reason, note = _step_before(step, coating, growth)
        steps.append(made)
        reasons.append(reason)
        found += [] if note is None else [note]
    assumed = _assumed(coating, growth) if any(reasons) else []
    return BeforeCoating(replace(resolved, steps=tuple(steps)), tuple(reasons), (*assumed, *found))


def _assumed(coating: Coating, growth: Growth) -> list[Note]:
    """What standards supply where the coating's thickness or the meaning of the limits is not written whole."""
    notes = []
    if coating.most_mm is None:
        message = f"{coating.text}: one thickness is written; up to half as much again is allowed for"
        supplied = f"{_um(growth.least_mm)} to {_um(growth.most_mm)} µm on a surface"
        notes.append(Note("COATING-THICKNESS-ASSUMED", Severity.ASSUMED, message, assumed=supplied, cite=MOST_CITE))
    if not coating.holds:
        message = (
            f"{coating.text}: the limits are kept before the coating, and none is passed on the side of more material after"
        )
        notes.append(Note("COATING-LIMITS-ASSUMED", Severity.ASSUMED, message, assumed="both are met", cite=HOLDS_CITE))
    return notes


def with_reason(planned: Planned, why: Larger | None) -> Planned:
    """The work of a step with the reason why it is made larger, on the tools that make its size."""
    if why is None:
        return planned
    works = []
    for work in planned.works:
        reason = why.size if work.kind in _SIZING else why.drill if work.fit is not None else None
        works.append(work if reason is None else replace(work, reasons=(*work.reasons, reason)))
    return replace(planned, works=tuple(works))


def growth_of(coating: Coating) -> Growth | None:
    """What a coating adds to a surface; None when no thickness is written."""
    if not coating.thickness_known:
        return None
    row = next(
        row
        for row in table("coatings.csv").rows
        if not row["words"] or any(word in coating.kind for word in row["words"].split("|"))
    )
    cites = [] if float(row["outside_from"]) == 1 else [cite_of("coatings.csv")]
    least = coating.least_mm if coating.least_mm is not None else 0.0
    most = coating.most_mm
    written = f"{_um(least)} to {_um(most)} µm" if most is not None and least else f"at most {_um(most or 0)} µm"
    if most is None:
        most = MOST_OVER_LEAST * least
        written = f"{_um(least)} µm, so up to {_um(most)} µm"
        cites.append(MOST_CITE)
    low, high = least * float(row["outside_from"]), most * float(row["outside_to"])
    because = f"{coating.text}: {written}"
    if cites and row["words"]:
        because = f"{because}, of which {_um(low)} to {_um(high)} µm stand outside the old surface ({row['kind']})"
    return Growth(low, high, because, tuple(cites))


def flank_factor(profile: str) -> float:
    """What a coating takes off the pitch diameter, over its thickness: 2 / sin(half the thread's angle).

    Geometry; 4 for 60 degrees, 4.33 for 55, 7.73 for 30. `profile` as in ThreadGeometry ("60deg", "J", "55deg" ...).
    """
    angle_deg = 60.0 if profile == "J" else float(profile.removesuffix("deg"))
    return 2 / sin(radians(angle_deg / 2))


def _step_before(step: ResolvedStep, coating: Coating, growth: Growth) -> tuple[ResolvedStep, Larger | None, Note | None]:
    if step.thread is not None:
        return _thread_before(step, step.thread, coating, growth)
    if step.limits is None or step.limits.max_mm is None:
        return step, None, None
    limits, note = _limits_before(step.limits, PLAIN_FACTOR, coating, growth, f"Ø{step.diameter.named}")
    taken = f"{2000 * growth.least_mm:.0f} to {2000 * growth.most_mm:.0f} µm"
    because = f"{growth.because}; the coating takes {taken} off the diameter"
    decision = f"before coating: {limits.min_mm:.3f} to {limits.max_mm:.3f} mm"
    reason = Reason(decision, because, OVERSIZE, (GEOMETRY_CITE, *growth.cites))
    feature = replace(step.feature, tolerance=Tolerance(low_mm=limits.min_mm, high_mm=limits.max_mm))
    return replace(step, limits=limits, feature=feature), Larger(reason), note


def _thread_before(
    step: ResolvedStep, thread: ThreadGeometry, coating: Coating, growth: Growth
) -> tuple[ResolvedStep, Larger | None, Note | None]:
    name = thread.spec.designation
    factor = flank_factor(thread.profile)
    if thread.taper:
        turns = factor * growth.most_mm / thread.taper / thread.spec.pitch_mm
        message = f"{name}: after the coating ({growth.because}) its gauge enters up to {turns:.1f} turns less."
        suggestion = "Tap it that much deeper by gauge, or mask it."
        return step, None, Note("COATING-TAPER", Severity.WATCH, message, suggestion, cite=GEOMETRY_CITE)
    pitch, note = _limits_before(thread.pitch, factor, coating, growth, name)
    minor, _ = _limits_before(thread.minor, PLAIN_FACTOR, coating, growth, name)
    major = Limits(round(thread.major.min_mm + 2 * growth.most_mm, 6), thread.major.max_mm)
    because = (
        f"{growth.because}; the coating takes {factor:.3g} times its thickness off the pitch diameter, "
        f"{1000 * factor * growth.least_mm:.0f} to {1000 * factor * growth.most_mm:.0f} µm"
    )
    decision = f"pitch diameter before coating: {_span(pitch)} mm"
    cites = (GEOMETRY_CITE, *(() if coating.holds == "after" else (HOLDS_CITE,)), *growth.cites)
    reason = Reason(decision, because, OVERSIZE, cites)
    under = Reason(
        f"minor diameter before coating: {_span(minor)} mm",
        f"the coating takes twice its thickness off it, {2000 * growth.least_mm:.0f} to {2000 * growth.most_mm:.0f} µm",
        OVERSIZE,
        cites,
    )
    made = replace(thread, pitch=pitch, minor=minor, major=major)
    return replace(step, thread=made), Larger(reason, under), note


def _limits_before(limits: Limits, factor: float, coating: Coating, growth: Growth, name: str) -> tuple[Limits, Note | None]:
    """Limits of size before the coating. Where the drawing does not say that they hold after it, the upper one is kept
    before it too: then both readings are met."""
    low = round(limits.min_mm + factor * growth.most_mm, 6)
    if limits.max_mm is None:
        return Limits(low, None), None
    after = round(limits.max_mm + factor * growth.least_mm, 6)
    high = after if coating.holds == "after" else limits.max_mm
    if low < high:
        return Limits(low, high), None
    if low < after:
        message = f"{name}: do its limits hold before or after the coating? Both together cannot be met ({growth.because})."
        suggestion = "Write BEFORE or AFTER the coating, allow a wider class, mask the hole, or make it after the coating."
        note = Note("COATING-BEFORE-OR-AFTER", Severity.ASK, message, suggestion, "Made to meet them after it.")
        return Limits(low, after), note
    message = (
        f"{name}: the coating takes more than the tolerance: {growth.because}; before it the size would have to be at least "
        f"{low:.3f} and at most {after:.3f} mm."
    )
    suggestion = "Mask the hole, make it after the coating, allow a wider class, or hold the coating closer."
    middle = round((limits.min_mm + limits.max_mm + factor * (growth.least_mm + growth.most_mm)) / 2, 6)
    half = (limits.max_mm - limits.min_mm) / 2
    note = Note("COATING-OVER-TOLERANCE", Severity.ASK, message, suggestion, "Made to the middle of what remains.")
    return Limits(round(middle - half, 6), round(middle + half, 6)), note


def _no_allowance(resolved: ResolvedHole) -> tuple[Note, ...]:
    """What the classes of taps leave room for, where the coating's thickness is asked."""
    found = []
    for step in resolved.steps:
        if step.thread is None:
            continue
        rooms = room_in_classes(step.thread, flank_factor(step.thread.profile))
        if rooms:
            room = ", ".join(f"{name} for {um:.0f} µm" for name, um in rooms)
            message = (
                f"{step.thread.spec.designation}: no allowance is made for its coating. Classes of taps leave room: {room}."
            )
            found.append(Note("COATING-ROOM", Severity.TOLD, message, cite=COMMON_PRACTICE))
    return tuple(dict.fromkeys(found))


def _um(mm: float) -> str:
    return f"{1000 * mm:.3g}"


def _span(limits: Limits) -> str:
    return f"{limits.min_mm:.3f} and more" if limits.max_mm is None else f"{limits.min_mm:.3f} to {limits.max_mm:.3f}"
