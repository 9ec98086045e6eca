"""A callout on its way to a hole: the features so far and the notes, and what every kind of step needs."""

from __future__ import annotations

from dataclasses import dataclass, field

from holesched.callouts.caret import message
from holesched.callouts.model import Callout, Depth, Element, Kind, Span
from holesched.features.model import Feature
from holesched.notes import Cite, Note, Severity
from holesched.standards import heads

HOLE_KINDS = (Kind.DRILL, Kind.REAM, Kind.BORE)
HEAD_KINDS = (Kind.COUNTERBORE, Kind.COUNTERSINK, Kind.SPOTFACE)
_NAMES = {Kind.COUNTERSINK: "countersink", Kind.COUNTERBORE: "counterbore", Kind.SPOTFACE: "spotface"}


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


def fastener(work: Completion, element: Element) -> heads.FastenerHole | None:
    """What the named screw asks for, or None with a note: the step has no size, or the tables do not know the screw."""
    if element.fastener is None:
        sentence = f"The {_NAMES.get(element.kind, 'hole')} has no diameter."
        work.note("SIZE-MISSING", Severity.REFUSED, sentence, element.span, "Write its diameter.")
        return None
    found = heads.fastener_hole(element.fastener)
    if found is None:
        sentence = f"'{element.fastener}' names no screw that the tables know."
        work.note("FASTENER-UNKNOWN", Severity.REFUSED, sentence, element.span, "Write the diameters and depths.")
        return None
    for code, problem, suggestion in found.questions:
        severity = Severity.REFUSED if code == "FASTENER-SIZE-UNKNOWN" else Severity.ASK
        if code not in {note.code for note in work.notes}:
            work.note(code, severity, problem, element.span, suggestion)
    return found


def sentence_of(text: str) -> str:
    """The standards' clauses as sentences."""
    text = text[:1].upper() + text[1:]
    return text if not text or text[-1] in ".?!" else f"{text}."
