"""A callout on its way to a hole: the features so far and the notes, and what every kind of step needs."""

from __future__ import annotations

from dataclasses import dataclass, field

from holesched.callouts.caret import message
from holesched.callouts.model import Callout, Depth, Kind, Span
from holesched.features.model import Feature
from holesched.notes import Cite, Note, Severity
from holesched.standards.threads.insert_depths import LENGTHS

HOLE_KINDS = (Kind.DRILL, Kind.REAM, Kind.BORE)
FINISHED = (Kind.REAM, Kind.BORE)
HEAD_KINDS = (Kind.COUNTERBORE, Kind.COUNTERSINK, Kind.SPOTFACE)
SAME_LENGTH = 0.02
"""Diameters: lengths of inch inserts are printed rounded (.285 for 1.5 times .190)."""
SUPPOSED = "hole supposed"
"""The use of a hole that nobody wrote: a counterbore for a screw stands alone, its clearance hole is planned with it."""
STEP_NAMES = {Kind.COUNTERSINK: "countersink", Kind.COUNTERBORE: "counterbore", Kind.SPOTFACE: "spotface"}


@dataclass(slots=True)
class Completion:
    """The callout, the part's thickness, and what has come of them so far. `pilot_depth`: a drilled depth without a size."""

    callout: Callout
    thickness_mm: float | None
    features: list[Feature] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)
    pilot_depth: Depth | None = None

    def note(
        self, code: str, severity: Severity, sentence: str, span: Span, suggestion: str = "", assumed: str = ""
    ) -> None:
        """A note with the callout below it and the step marked."""
        text = self.callout.text
        self.notes.append(Note(code, severity, message(sentence, text, span), suggestion, assumed, text))

    def assume(self, code: str, sentence: str, assumed: str, cite: Cite) -> None:
        """An assumption to be initialled."""
        self.notes.append(Note(code, Severity.ASSUMED, sentence, "", assumed, self.callout.text, None, cite))


def sentence_of(text: str) -> str:
    """The standards' clauses as sentences."""
    text = text[:1].upper() + text[1:]
    return text if not text or text[-1] in ".?!" else f"{text}."


def made_length(diameters: float) -> float | None:
    """The length of wire inserts, in screw diameters, that a written one means; None: inserts are not made in it."""
    nearest = min(LENGTHS, key=lambda length: abs(length - diameters))
    return nearest if abs(nearest - diameters) <= SAME_LENGTH else None
