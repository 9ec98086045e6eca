"""Threads of one part that are mistaken for each other."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from itertools import combinations

from holesched.features.model import HoleType
from holesched.notes import Note, Severity
from holesched.standards.threads.base import ThreadSpec, without_j
from holesched.tables import table


@cache
def _lookalikes() -> dict[frozenset[str], str]:
    """Pairs of thread names, and what happens when one is taken for the other."""
    return {frozenset((row["first"], row["second"])): row["what_happens"] for row in table("thread_lookalikes.csv").rows}


def check_lookalikes(types: Iterable[HoleType]) -> tuple[Note, ...]:
    """Threads of one schedule that are mistaken for each other: another system's neighbour, or another pitch of one size."""
    first: dict[str, tuple[ThreadSpec, HoleType]] = {}
    for hole_type in types:
        for feature in hole_type.hole.features:
            if feature.thread is not None:
                first.setdefault(feature.thread.name, (feature.thread, hole_type))
    notes = []
    cite = table("thread_lookalikes.csv").cite()
    for (one, one_type), (other, other_type) in combinations(first.values(), 2):
        what, so = _told(one, other), "Two tools, two gauges."
        if without_j(one.name) == without_j(other.name):
            what, so = "one size and pitch, two minor diameters", "Two drills, two pairs of plain plugs."
        if what is not None:
            names = f"{one.name} (holes {one_type.letter}) and {other.name} (holes {other_type.letter})"
            sentence = f"Look-alike threads: {names}: {what}. {so}"
            ref, text = other_type.members[0].ref, other_type.hole.callout
            notes.append(Note("CHECK-LOOKALIKE", Severity.WATCH, sentence, "Mark the tools.", "", text, ref, cite))
    return tuple(notes)


def _told(one: ThreadSpec, other: ThreadSpec) -> str | None:
    """What happens when one thread is taken for the other; None where nobody would."""
    what = _lookalikes().get(frozenset((one.name, other.name)))
    if what is None and abs(one.nominal.mm - other.nominal.mm) < 1e-6:
        return "one size, two pitches" if one.pitch_mm != other.pitch_mm else "one size and pitch, two forms of thread"
    return what
