"""The register of thread standards: one line each, tried in this order."""

from __future__ import annotations

import re
from functools import cache

from holesched.standards.threads import (
    acme,
    ba,
    iso_7,
    iso_228,
    iso_metric,
    not_held,
    nps,
    npt,
    stub_acme,
    trapezoidal,
    unified,
    whitworth,
    wire_insert,
)
from holesched.standards.threads.base import (
    Answer,
    Supplied,
    ThreadCall,
    ThreadGeometry,
    ThreadSpec,
    ThreadStandard,
)

STANDARDS: tuple[ThreadStandard, ...] = (
    wire_insert.STANDARD,
    npt.STANDARD,
    nps.STANDARD,
    iso_7.STANDARD,
    iso_228.STANDARD,
    trapezoidal.STANDARD,
    acme.STANDARD,
    stub_acme.STANDARD,
    whitworth.STANDARD,
    ba.STANDARD,
    not_held.STANDARD,
    iso_metric.STANDARD,
    unified.STANDARD,
)

__all__ = [
    "STANDARDS",
    "Answer",
    "Supplied",
    "ThreadCall",
    "ThreadGeometry",
    "ThreadSpec",
    "ThreadStandard",
    "complete",
    "geometry",
    "read_thread",
    "recognise",
    "standard",
]


def standard(key: str) -> ThreadStandard:
    """The standard of that key. Raises KeyError."""
    for candidate in STANDARDS:
        if candidate.key == key:
            return candidate
    raise KeyError(key)


def recognise(text: str, position: int, default_unit: str) -> tuple[ThreadCall, int] | None:
    """The thread whose designation starts at `position` of normalised callout text, and where it ends; None: there is none.

    The first standard of the register whose pattern matches reads it. `default_unit` is "mm" or "in". Nothing is judged
    here: a doubtful size or pitch is read as it stands, and `complete` answers for it.
    """
    for candidate, designation in _designations():
        match = designation.match(text, position)
        if match is not None:
            return candidate.read(match, default_unit), match.end()
    return None


@cache
def _designations() -> tuple[tuple[ThreadStandard, re.Pattern[str]], ...]:
    """Each standard with its pattern, compiled."""
    return tuple((candidate, candidate.designation) for candidate in STANDARDS)


def read_thread(designation: str, default_unit: str = "mm") -> ThreadCall | None:
    """A designation that stands alone ("M8x1.25-6H", "1/4-20 UNC-2B"); None when it is no thread, or more than one.

    `default_unit`, "mm" or "in", is the drawing's; no family of the register needs it so far. Never raises: a doubtful size
    or pitch is read as it stands, and `complete` answers for it.
    """
    text = designation.strip()
    found = recognise(text, 0, default_unit)
    return found[0] if found is not None and found[1] == len(text) else None


@cache
def complete(call: ThreadCall) -> Answer:
    """What the call's own standard makes of it: the spec with what was supplied and what is to be confirmed, or no spec, the
    problem in a sentence and what was probably meant. Sizes in mm. Remembered, since schedules repeat themselves. Raises
    KeyError for a call whose `standard` is not in the register.
    """
    return standard(call.standard).complete(call)


@cache
def geometry(spec: ThreadSpec) -> ThreadGeometry:
    """Basic and limit sizes of a completely named thread, in mm, rounded as its standard rounds them in its own unit; the
    clauses and tables they come from stand in `cites`. Raises KeyError for a spec that `complete` never gave.
    """
    return standard(spec.standard).geometry(spec)
