"""The register of thread standards: one line each, tried in this order."""

from __future__ import annotations

from functools import cache

from holesched.standards.threads.base import (
    Answer,
    Supplied,
    ThreadCall,
    ThreadGeometry,
    ThreadSpec,
    ThreadStandard,
)

STANDARDS: tuple[ThreadStandard, ...] = ()

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
]


def standard(key: str) -> ThreadStandard:
    """The standard of that key. Raises KeyError."""
    for candidate in STANDARDS:
        if candidate.key == key:
            return candidate
    raise KeyError(key)


@cache
def complete(call: ThreadCall) -> Answer:
    """What the call's own standard makes of it; remembered, since schedules repeat themselves."""
    return standard(call.standard).complete(call)


@cache
def geometry(spec: ThreadSpec) -> ThreadGeometry:
    """Limit sizes of a completely named thread."""
    return standard(spec.standard).geometry(spec)
