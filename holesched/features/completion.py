"""A callout on its way to a hole: the features so far and the notes, and what every kind of step needs."""

from __future__ import annotations

from dataclasses import dataclass, field

from holesched.callouts.caret import message
from holesched.callouts.model import Callout, Depth, Kind, Span
from holesched.features.model import Feature
from holesched.notes import Cite, Note, Severity

HOLE_KINDS = (Kind.DRILL, Kind.REAM, Kind.BORE)
HEAD_KINDS = (Kind.COUNTERBORE, Kind.COUNTERSINK, Kind.SPOTFACE)
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
