"""The title block's finish: a coating of the whole part changes every thread and fit that names none of its own."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from holesched.callouts.coatings import coating_in
from holesched.callouts.model import Coating
from holesched.features.model import Hole
from holesched.notes import Note, Severity
from holesched.schedule.model import JobHeader


def coating_of_the_part(header: JobHeader) -> Coating | None:
    """The coating that the title block names; None where it names none, or one that adds nothing to a surface."""
    return coating_in(header.finish, header.unit) if header.finish else None


def with_coating(hole: Hole, coating: Coating | None) -> Hole:
    """The hole with the part's coating, where it changes a size and the callout names no coating of its own."""
    sized = any(feature.thread is not None or feature.tolerance is not None for feature in hole.features)
    return replace(hole, coating=coating) if coating is not None and hole.coating is None and sized else hole


def finish_notes(coating: Coating | None, holes: Iterable[Hole], header: JobHeader) -> tuple[Note, ...]:
    """The question for a coating whose thickness is not written, once for the part."""
    if coating is None or coating.thickness_known or not any(hole.coating == coating for hole in holes):
        return ()
    message = "The part's finish changes its threads and fits, and its thickness is not written."
    hint = "State its thickness on the surface, and whether the sizes hold before or after it."
    return (Note("FINISH-THICKNESS", Severity.ASK, message, hint, "no allowance", header.finish, header.finish_ref),)
