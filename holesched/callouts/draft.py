"""A callout while it is being read: the steps so far, what waits for the next step, and the notes."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace

from holesched.callouts.caret import message
from holesched.callouts.model import Circle, Coating, Depth, Element, Kind, Side, Tolerance
from holesched.callouts.tokens import Tokens
from holesched.notes import Cite, Note, Severity
from holesched.standards.sizes import Size
from holesched.standards.threads.base import ThreadCall

HOLE_KINDS = (Kind.DRILL, Kind.REAM, Kind.BORE)
HEAD_KINDS = (Kind.COUNTERBORE, Kind.COUNTERSINK, Kind.SPOTFACE)
PROCESSES = {
    "drill": Kind.DRILL,
    "pilot": Kind.DRILL,
    "open": Kind.DRILL,
    "counterdrill": Kind.DRILL,
    "ream": Kind.REAM,
    "bore": Kind.BORE,
    "tap": Kind.TAP,
    "counterbore": Kind.COUNTERBORE,
    "countersink": Kind.COUNTERSINK,
    "spotface": Kind.SPOTFACE,
    "sink": None,
    "chamfer": Kind.COUNTERSINK,
}
"""Meanings of process words and what they make; a `sink` is counterbore, countersink or spotface by what stands with it."""
SIDES = {"far": Side.FAR, "near": Side.NEAR, "both": Side.BOTH}
"""Meanings of the words for the faces of a part."""

_HEAD = re.compile(r"SHCS|LHCS|FHCS|FHMS|HEAD|BHCS")
_OF_PROCESS = ("pilot hole", "chamfer")
"""Uses that the word of the process gives: they stand first, as the word does."""
_FLAT_HEAD = re.compile(r"FHCS|FHMS|FLAT")


@dataclass(slots=True)
class Draft:
    """One step being read.

    `sink`: its word names counterbore, countersink and spotface alike; what stands with it decides. `part_way`: through one
    wall, or into another hole: a depth written with it is no contradiction. `last` is what was read last for it ("process",
    "size", "depth" ...): a deviation belongs to that.
    """

    start: int
    end: int
    kind: Kind | None = None
    stated: bool = False
    sink: str = ""
    signed: bool = False
    inch: bool = False
    diameter: Size | None = None
    tolerance: Tolerance | None = None
    depth: Depth | None = None
    angle_deg: float | None = None
    thread: ThreadCall | None = None
    thread_text: str = ""
    side: Side = Side.NEAR
    side_written: bool = False
    fastener: str | None = None
    uses: list[str] = field(default_factory=list)
    chamfer_mm: float | None = None
    insert_diameters: float | None = None
    tap_limit: str = ""
    deviation: tuple[float, float] | None = None
    part_way: bool = False
    last: str = ""

    @property
    def unsized(self) -> bool:
        """Whether the step still waits for its size."""
        return self.diameter is None and self.thread is None and self.fastener is None and self.chamfer_mm is None

    @property
    def has_head(self) -> bool:
        """Whether a screw is named whose head decides the shape of its seat."""
        return self.fastener is not None and _HEAD.search(self.fastener) is not None

    @property
    def screw_with_head(self) -> str:
        """The screw with a head that a hole of its own size is said to be for (Ø9 FOR M8 SHCS); empty: none."""
        return next((use[4:] for use in self.uses if use.startswith("for ") and _HEAD.search(use)), "")

    @property
    def is_opening(self) -> bool:
        """Whether it is itself an opening of a hole: a counterbore, countersink, spotface or chamfer."""
        return self.kind in HEAD_KINDS or bool(self.sink)

    @property
    def is_open_pilot(self) -> bool:
        """Whether it is only the drilled depth of a pilot hole, its diameter left to the shop."""
        return self.unsized and "pilot hole" in self.uses and self.depth is not None

    @property
    def bare(self) -> bool:
        """Whether it is only a process, by its sign or word, that waits for its size."""
        return self.last == "process" and self.unsized and self.untouched

    @property
    def untouched(self) -> bool:
        """Whether nothing beside the process has been read for it."""
        return self.depth is None and self.deviation is None and self.angle_deg is None and not self.uses

    def element(self, tokens: Tokens) -> Element:
        """The finished step."""
        kind = self.kind or (Kind.TAP if self.thread is not None else Kind.DRILL)
        if self.sink:
            kind = Kind.SPOTFACE
            if self.angle_deg is not None or _FLAT_HEAD.search(self.fastener or ""):
                kind = Kind.COUNTERSINK
            elif self.depth is not None or self.fastener is not None:
                kind = Kind.COUNTERBORE
        depth = self.depth
        if self.thread is not None and self.thread.length_mm is not None and depth is None:
            depth = Depth(self.thread.length_mm)
        return Element(
            kind=kind,
            diameter=self.diameter,
            tolerance=self.tolerance,
            depth=depth,
            angle_deg=self.angle_deg,
            thread=self.thread,
            side=self.side,
            fastener=self.fastener,
            uses=tuple(sorted(dict.fromkeys(self.uses), key=lambda use: use not in _OF_PROCESS)) if self.uses else (),
            stated=self.stated or bool(self.sink),
            chamfer_mm=self.chamfer_mm,
            insert_diameters=self.insert_diameters,
            tap_limit=self.tap_limit,
            thread_text=self.thread_text,
            span=tokens.folded.span(self.start, self.end),
        )


@dataclass(slots=True)
class Waiting:
    """What was written before the step it belongs to."""

    depth: Depth | None = None
    side: Side | None = None
    deviation: tuple[float, float] | None = None
    angle_deg: float | None = None
    uses: list[str] = field(default_factory=list)

    def give_to(self, draft: Draft) -> None:
        """The step that all this waited for."""
        draft.depth, draft.deviation, draft.angle_deg, draft.uses = self.depth, self.deviation, self.angle_deg, self.uses
        if self.side is not None:
            draft.side, draft.side_written = self.side, True

    def named(self) -> dict[str, object]:
        """Everything that may wait, by its name for people."""
        return {
            "a depth": self.depth,
            "a side": self.side,
            "a tolerance": self.deviation,
            "an angle": self.angle_deg,
            ", ".join(self.uses): self.uses,
        }


@dataclass(slots=True)
class Reading:
    """The state of reading one callout. `fresh`: a separator stands behind the last step; `noted`: places of its notes."""

    tokens: Tokens
    raw: str
    drafts: list[Draft] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)
    unknown: list[tuple[int, int]] = field(default_factory=list)
    count: int | None = None
    typical: bool = False
    circle: Circle | None = None
    equal: bool = False
    remarks: list[str] = field(default_factory=list)
    noted: list[tuple[int, int]] = field(default_factory=list)
    coating: Coating | None = None
    coating_start: int = 0
    waiting: Waiting | None = None
    fresh: bool = False
    untapped: tuple[int, int] | None = None
    """Where a thread is said not to be cut."""

    @property
    def current(self) -> Draft | None:
        """The step read last."""
        return self.drafts[-1] if self.drafts else None

    def begin(self, start: int, kind: Kind | None = None, stated: bool = False) -> Draft:
        """A new step, with what was waiting for it."""
        draft = Draft(start, self.tokens.end_of_last, kind, stated)
        if self.waiting is not None:
            self.waiting.give_to(draft)
            self.waiting = None
        self.drafts.append(draft)
        self.fresh = False
        return draft

    def for_later(self) -> Waiting:
        """Where to put what belongs to the next step."""
        if self.waiting is None:
            self.waiting = Waiting()
        return self.waiting

    def for_size(self, start: int, size_mm: float = 0.0) -> Draft:
        """The step a size belongs to: the one that waits for it, else a new one; as wide as a thread none is its pilot."""
        draft = self.current
        wide = any(each.thread is not None and size_mm >= each.thread.nominal.mm for each in self.drafts)
        if draft is not None and draft.is_open_pilot and wide:
            return self.begin(start)
        if draft is not None and draft.unsized and draft.kind is not Kind.TAP and not (self.fresh and draft.depth):
            self.fresh = False
            return draft
        if draft is not None and draft.fastener is not None and draft.diameter is None and not self.fresh:
            draft.uses.append(f"for {draft.fastener}")
            draft.fastener = None
            return draft
        return self.begin(start)

    def touch(self, draft: Draft, last: str = "") -> None:
        """The step reaches to the last token read."""
        draft.end = self.tokens.end_of_last
        draft.last = last or draft.last

    def note(
        self,
        code: str,
        severity: Severity,
        sentence: str,
        start: int,
        end: int,
        suggestion: str = "",
        assumed: str = "",
        cite: Cite | None = None,
    ) -> None:
        """A note with the callout below it and the place [start, end) of the folded text marked."""
        span = self.tokens.folded.span(start, end)
        shown = message(sentence, self.raw, span) if severity is not Severity.ASSUMED else sentence
        self.notes.append(Note(code, severity, shown, suggestion, assumed, self.raw, None, cite))

    def ask(self, code: str, sentence: str, start: int, end: int, suggestion: str = "", assumed: str = "") -> None:
        """A question to the drawing's owner; the hole is planned as `assumed` says meanwhile."""
        self.note(code, Severity.ASK, sentence, start, end, suggestion, assumed)


def with_hand(call: ThreadCall, left: bool) -> ThreadCall:
    """The same thread, left-handed if said so."""
    return call if not left or call.left_hand else replace(call, left_hand=True)
