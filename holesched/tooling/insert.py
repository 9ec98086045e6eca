"""A thread for a wire insert: the depths its standard asks for beside our own, and whether it fits in."""

from __future__ import annotations

from holesched.notes import Cite, Note, Severity
from holesched.resolve.model import ResolvedStep
from holesched.standards.threads.base import ThreadGeometry
from holesched.standards.threads.insert_depths import (
    DEPTH_CITE,
    LENGTHS,
    Tap,
    drilling_depth_mm,
    full_thread_mm,
    insert_length_mm,
)

SAME_DEPTH_P = 0.6
"""A written depth this near to the standard's drilled depth, in pitches, is most likely that. Common practice, no source."""
CLOSE_MM = 1e-6


def is_for_insert(geometry: ThreadGeometry) -> bool:
    """Whether a thread takes a wire insert."""
    return geometry.spec.series.startswith("STI-")


def insert_depth_rules(geometry: ThreadGeometry, insert_mm: float | None) -> tuple[tuple[str, float, Cite], ...]:
    """The drilled depths of the insert's own standard, with plug and with bottoming tap: (rule, mm, source)."""
    if insert_mm is None or not is_for_insert(geometry):
        return ()
    spec = geometry.spec
    return tuple(
        (
            f"ASME B18.29, {tap.name.lower()} tap",
            drilling_depth_mm(spec.nominal.mm, spec.pitch_mm, insert_mm, tap),
            DEPTH_CITE,
        )
        for tap in (Tap.PLUG, Tap.BOTTOMING)
    )


def insert_least_mm(geometry: ThreadGeometry, insert_mm: float | None) -> float:
    """The least drilled depth for the insert whatever the tap, mm; 0 without an insert of known length."""
    return min((depth_mm for _, depth_mm, _ in insert_depth_rules(geometry, insert_mm)), default=0.0)


def insert_notes(step: ResolvedStep, geometry: ThreadGeometry, floor_mm: float) -> tuple[Note, ...]:
    """What is open about an insert in its thread: too short a thread, or the longest insert where none is named.

    ASME B18.29: the full thread is at least the insert's length and one pitch.
    """
    if not is_for_insert(geometry) or step.depth_mm is None:
        return ()
    spec, have_mm = geometry.spec, step.depth_mm - floor_mm
    if step.insert_mm is None:
        return (_longest(geometry, have_mm),)
    need_mm = full_thread_mm(step.insert_mm, spec.pitch_mm)
    notes = [] if step.through else [_perhaps_drilled(geometry, step.insert_mm, have_mm)]
    if have_mm < need_mm - CLOSE_MM:
        message = (
            f"{spec.designation}: an insert of {step.insert_mm:g} mm needs {need_mm:.2f} mm of full thread, its length and "
            f"one pitch; there are {have_mm:g} mm."
        )
        suggestion = f"Write full thread {need_mm:.1f} mm, or a shorter insert."
        notes.append(Note("INSERT-THREAD-SHORT", Severity.ASK, message, suggestion, "Tapped as written.", cite=DEPTH_CITE))
    return tuple(note for note in notes if note is not None)


def _longest(geometry: ThreadGeometry, have_mm: float) -> Note:
    """Which of the standard's lengths the thread has room for."""
    spec = geometry.spec
    fitting = [
        length
        for length in LENGTHS
        if full_thread_mm(insert_length_mm(spec.nominal.mm, length), spec.pitch_mm) <= have_mm + CLOSE_MM
    ]
    if not fitting:
        message = f"{spec.designation}: {have_mm:g} mm of full thread are too short for any insert; the shortest is 1 D."
        return Note("INSERT-THREAD-SHORT", Severity.ASK, message, "Write the insert's length.", "Tapped as written.",
                    cite=DEPTH_CITE)  # fmt: skip
    longest = max(fitting)
    message = (
        f"{spec.designation}: the longest insert that {have_mm:.4g} mm of full thread take is {longest:g} D, "
        f"{insert_length_mm(spec.nominal.mm, longest):g} mm, with one pitch for its set-down."
    )
    return Note("INSERT-LONGEST", Severity.TOLD, message, cite=DEPTH_CITE)


def _perhaps_drilled(geometry: ThreadGeometry, insert_mm: float, have_mm: float) -> Note | None:
    """A written depth that is just the standard's drilled depth for the insert is most likely that one."""
    for rule, depth_mm, cite in insert_depth_rules(geometry, insert_mm):
        if abs(have_mm - depth_mm) < SAME_DEPTH_P * geometry.spec.pitch_mm:
            message = (
                f"{geometry.spec.designation}: the depth of {have_mm:g} mm is what {rule} has as the drilled depth for an "
                f"insert of {insert_mm:g} mm: most likely it is that, and not the full thread's."
            )
            need_mm = full_thread_mm(insert_mm, geometry.spec.pitch_mm)
            return Note(
                "INSERT-DEPTH-DRILLED", Severity.WATCH, message, f"Then {need_mm:.2f} mm of full thread do.", cite=cite
            )
    return None
