"""What every thread standard gives: how its designation looks, what it supplies when the callout is silent, its limits.

A standard is one module with a `STANDARD` of the type ThreadStandard and one line in `threads.STANDARDS`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Protocol

from holesched.notes import Cite
from holesched.standards.sizes import Limits, Size


@dataclass(frozen=True, slots=True)
class ThreadCall:
    """A thread as it was written. None: not written.

    `standard` is the key of the ThreadStandard that recognised it, `series` the letters written (M, MJ, UNC, G ...),
    `nominal` the size with its trade name, `length_mm` a number that is written like a pitch but is a thread length
    (M12x16), `gauging` the ASME B1.3 gauging system in brackets, `starts` and `lead_mm` those of a multi-start
    thread (`starts` 0: lead, pitch and starts do not fit).
    """

    standard: str
    nominal: Size
    series: str | None = None
    pitch_mm: float | None = None
    tpi: float | None = None
    thread_class: str | None = None
    left_hand: bool = False
    length_mm: float | None = None
    gauging: str | None = None
    starts: int = 1
    lead_mm: float | None = None
    engagement: str = ""
    """ISO 965-1 engagement group as written: S, N or L; "" when it is not (then N)."""


@dataclass(frozen=True, slots=True)
class ThreadSpec:
    """A thread completely named.

    `series` is one of the names of the machine-readable output: M (coarse), MF, MJ, UNC, UNF, UNEF, UN, UNS, UNJC ...,
    NPT, ANPT, NPTF, PTF-SAE SHORT, NPSM, NPSC ..., G, Rc, Rp, BSW, BSF, BA, Tr, ACME, STUB ACME, STI-M, STI-UNC, STI-UNF.
    `designation` is canonical and complete: "M8x1.25-6H", "1/4-20 UNC-2B", "M10x1-6H-LH"; read again it gives the same
    spec. `name` leaves class and hand out ("M8x1.25", "1/4-20 UNC"): it identifies the tap's form.
    """

    standard: str
    series: str
    name: str
    designation: str
    nominal: Size
    pitch_mm: float
    tpi: float | None
    thread_class: str
    left_hand: bool = False
    starts: int = 1
    engagement: str = ""

    def __hash__(self) -> int:
        """Of the designation, which is complete."""
        return hash(self.designation)


@dataclass(frozen=True, slots=True)
class Supplied:
    """What a standard supplies where the callout is silent: an assumption to be initialled, never a question.

    `code` is stable: THREAD-PITCH-ASSUMED, THREAD-CLASS-ASSUMED, THREAD-SERIES-ASSUMED, THREAD-LENGTH-ASSUMED,
    THREAD-LIMITS-ASSUMED (limits from memory, or reckoned from another thread's).
    """

    code: str
    text: str
    cite: Cite


@dataclass(frozen=True, slots=True)
class Answer:
    """A standard's answer to a ThreadCall: the spec, or why there is none and what was probably meant.

    `questions` may stand beside a spec (a size of second choice, a special pitch): planned, but to be confirmed.
    """

    spec: ThreadSpec | None
    supplied: tuple[Supplied, ...] = ()
    problem: str = ""
    suggestion: str = ""
    questions: tuple[tuple[str, str, str], ...] = ()
    """(code, problem, suggestion) of each thing to confirm although a spec is given."""


@dataclass(frozen=True, slots=True)
class ThreadGeometry:
    """Basic and limit sizes of an internal thread, in mm, with the clause they come from.

    `profile` is "60deg", "J", "55deg", "47.5deg", "30deg" or "29deg"; `taper` is diameter per length (1/16 or 0);
    `notes` are caveats of the data, printed as footnotes.
    """

    spec: ThreadSpec
    basic_major_mm: float
    basic_pitch_mm: float
    basic_minor_mm: float
    major: Limits
    pitch: Limits
    minor: Limits
    cites: tuple[Cite, ...]
    profile: str = "60deg"
    taper: float = 0.0
    notes: tuple[str, ...] = ()

    def __hash__(self) -> int:
        """Of the thread that it is, whatever a coating leaves of its limits."""
        return hash(self.spec)


class Designation:
    """A family's pattern, compiled when the first callout is read: together they take milliseconds a mere import need not
    spend. Stands in a class as `designation`."""

    def __init__(self, pattern: str, flags: re.RegexFlag = re.VERBOSE) -> None:
        self._pattern, self._flags = pattern, flags
        self._compiled: re.Pattern[str] | None = None

    def __get__(self, standard: object, kind: type) -> re.Pattern[str]:
        if self._compiled is None:
            self._compiled = re.compile(self._pattern, self._flags)
        return self._compiled


class ThreadStandard(Protocol):
    """One family of threads."""

    key: str
    """Short name used in ThreadCall.standard and ThreadSpec.standard: "iso-metric", "unified" ..."""
    title: str
    """For people: "ISO general-purpose metric"."""

    @property
    def designation(self) -> re.Pattern[str]:
        """Matches the thread's own text at a position of *normalised* callout text (see callouts.normalise: upper and lower
        case kept, one kind of x, dash, quote and space). Must not match what is not this family's thread."""
        ...

    def read(self, match: re.Match[str], default_unit: str) -> ThreadCall:
        """The ThreadCall of a match. Never raises: doubtful values are kept and judged by `complete`."""
        ...

    def complete(self, call: ThreadCall) -> Answer:
        """What the standard makes of the call: defaults supplied, sizes and pitches checked against its tables."""
        ...

    def geometry(self, spec: ThreadSpec) -> ThreadGeometry:
        """Limits of the thread. Raises KeyError only for a spec that `complete` never gave."""
        ...


def without_j(designation: str) -> str:
    """The Unified thread whose tap and thread plugs make and prove an internal UNJ thread, which differs from it by its
    minor diameter alone (ASME B1.15, from memory); another thread is its own."""
    return designation.replace(" UNJ", " UN")
