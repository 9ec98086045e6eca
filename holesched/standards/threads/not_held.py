"""Threads that drawings name and that this package holds no tables for: recognised, so that nothing is drilled by guess."""

from __future__ import annotations

import re
from dataclasses import dataclass

from holesched.standards.sizes import Size
from holesched.standards.threads import inch_sizes as inch
from holesched.standards.threads.answers import refused
from holesched.standards.threads.base import Answer, Designation, ThreadCall, ThreadGeometry, ThreadSpec

_WORDS = (
    r"PIPE(?:[ ](?:TAP(?:PED)?|THREADS?|THDS?|THR))?"
    r"|NPS|NPTR|PTF[ -]?SAE(?:[ ]SPECIAL)?"
)
_DESIGNATION = rf"""
    (?: {inch.START}(?P<size>{inch.INCH}){inch.MARK} (?:{inch.SEPARATOR}(?P<tpi>\d+(?:\.\d+)?))?
        (?:[ ]?-[ ]?|[ ])? (?P<words>{_WORDS})
      | {inch.WORD_START}(?P<conduit>PG)[ .-]?(?P<number>7|9|11|13[.,]5|16|21|29|36|42|48)(?![\d./])
    )
    {inch.HAND} {inch.END}
"""
_METRIC_CONDUIT = {
    "7": "M12x1.5", "9": "M16x1.5", "11": "M20x1.5", "13.5": "M20x1.5", "16": "M25x1.5",
    "21": "M32x1.5", "29": "M40x1.5", "36": "M50x1.5", "42": "M63x1.5", "48": "M63x1.5",
}  # fmt: skip
"""A metric conduit thread that took a Pg's place (from memory; practice differs by one size)."""


@dataclass(frozen=True, slots=True)
class _Refusal:
    starts_with: tuple[str, ...]
    problem: str
    choices: tuple[str, ...]


_REFUSALS = (
    _Refusal(
        ("PIPE",),
        "A pipe thread of size {size}: which one? They differ in pitch, taper and angle.",
        ("{size} NPT", "{size} NPTF", "G {size}", "Rc {size}"),
    ),
    _Refusal(
        ("NPS",),
        "{word} {size}: a straight pipe thread, but which? NPSM is for mechanical joints, NPSC for couplings, NPSL for "
        "locknuts, NPSH for hoses, NPSF and NPSI for dryseal joints.",
        ("{size} NPSM", "{size} NPSC", "{size} NPT"),
    ),
    _Refusal(
        ("PTF",),
        "The limits of {word} are not held here; short dryseal threads are, where SHORT is written.",
        ("{size} PTF-SAE SHORT", "{size} NPTF", "limits on the drawing"),
    ),
    _Refusal(
        ("NPTR",),
        "The limits of {word} are not held here.",
        ("{size} NPT", "{size} NPTF", "limits on the drawing"),
    ),
)


class NotHeld:
    """Always answers with a problem."""

    key = "not-held"
    title = "threads without tables here"
    designation = Designation(_DESIGNATION, re.VERBOSE | re.IGNORECASE)

    def read(self, match: re.Match[str], default_unit: str) -> ThreadCall:
        """The call of a match, as written."""
        hand = match.group("hand") is not None
        if match.group("conduit") is not None:
            number = match.group("number").replace(",", ".")
            return ThreadCall(self.key, Size(0.0, number), series="Pg", left_hand=hand)
        word = match.group("words").upper()
        tpi = match.group("tpi")
        return ThreadCall(
            self.key,
            inch.inch_size(match.group("size")),
            series=word,
            tpi=None if tpi is None else float(tpi),
            left_hand=hand,
        )

    def complete(self, call: ThreadCall) -> Answer:
        """No spec; what the thread is and what could be written instead."""
        word, size = call.series or "", call.nominal.label
        if word == "Pg":
            problem = f"Pg {size} is the old conduit thread (DIN 40430); its limits are not held here."
            return refused(problem, "limits on the drawing", f"a metric conduit thread, for example {_METRIC_CONDUIT[size]}")
        for refusal in _REFUSALS:
            if word.startswith(refusal.starts_with):
                problem = refusal.problem.format(size=size, word=word)
                return refused(problem, *(choice.format(size=size) for choice in refusal.choices))
        raise KeyError(word)

    def geometry(self, spec: ThreadSpec) -> ThreadGeometry:
        """Never asked: `complete` gives no spec. Raises KeyError."""
        raise KeyError(spec.designation)


STANDARD = NotHeld()
