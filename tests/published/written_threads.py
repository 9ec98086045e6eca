"""From a thread as written to its spec and its limits, for the tests of printed tables."""

from __future__ import annotations

from holesched.standards import threads
from holesched.standards.threads import ThreadGeometry, ThreadSpec


def spec_of(text: str) -> ThreadSpec:
    """The spec of a text that is a thread from its first to its last character."""
    read = threads.recognise(text, 0, "mm")
    assert read is not None, text
    assert read[1] == len(text), text
    spec = threads.complete(read[0]).spec
    assert spec is not None, text
    return spec


def shape_of(text: str) -> ThreadGeometry:
    """Its limits in mm."""
    return threads.geometry(spec_of(text))
