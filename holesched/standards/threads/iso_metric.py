"""ISO metric threads: M, coarse (ISO 261), fine and constant pitch, and MJ (ISO 5855); classes of ISO 965-1.

Written M8, M8x1.25, M8x1.25-6H, M10x1-6H-LH, MJ6x1-4H5H, M16xPh4P2-6H (ISO) or M16xL4-P2-6H (TWO STARTS) (ASME B1.13M),
with several starts also M16x2Ph4P2 and M16x4(P2). A number after the x is a pitch when ISO 261 lists it for the diameter,
and a thread length when it can be no pitch but can be a length (M12x16, ISO 6410-1).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from holesched.notes import Cite, Standing
from holesched.standards import iso261, iso965
from holesched.standards.sizes import Limits, Size
from holesched.standards.threads import starts
from holesched.standards.threads.answers import meant
from holesched.standards.threads.base import Answer, Designation, Supplied, ThreadCall, ThreadGeometry, ThreadSpec
from holesched.tables import table

KEY = "iso-metric"
CLASSES = "4H 5H 6H 7H 8H 5G 6G 7G, or split as in 4H5H"
LONGEST = 8.0
"""Lengths above so many diameters are taken for a slip of the pen. Common practice, no source."""

_NUMBER = r"(?:\d+(?:[.,]\d+)?|[.,]\d+)"
_COUNT = r"\s?(?:°|X\b|PL\b|PLCS|PLACES|HOLES|OFF\b)"
_DEPTH = r"(?:[3-9]|\d{2,})(?:[.,]\d+)?\s?(?:DEEP|DP|TIEF|LG|LONG|FULL)\b(?!\s?[\d.])"
"""A number with its own depth word is left to the callout grammar: M12 x 16 DEEP, but not M8x1.25 DP 15."""
_DESIGNATION = rf"""
(?<![A-WYZa-wyz0-9])
(?>
    (?:M(?P<form>[JF]?)\s?|m(?P<form_small>[jf]?))
    (?P<diameter>\d{{1,3}}(?:[.,]\d{{1,2}})?)
    (?![.,]?\d) (?![OolI](?![A-Za-z])) (?!\s?[xX]\s?[OolI])
    (?:
        \s?[xX]\s?(?:(?P<twice>{_NUMBER})\s?)?(?i:Ph|L)\s?(?P<lead>{_NUMBER})\s?-?\s?P\s?
        (?P<start_pitch>(?(twice)(?P=twice)|{_NUMBER})(?![.,]?\d)){starts.pattern("starts_first")}
      | \s?[xX]\s?(?P<old_lead>{_NUMBER})\s?(?:\(P\s?(?P<old_pitch>{_NUMBER})\)|(?<!\s)P(?P<bare_pitch>{_NUMBER})(?![.,]?\d))
      | \s?[xX]\s?(?!{_DEPTH})(?P<pitch>{_NUMBER})(?![.,]?\d)(?!{_COUNT})
        (?:\s?[xX]\s?(?!{_DEPTH})(?P<length>{_NUMBER})(?![.,]?\d)(?!{_COUNT}))?
      | \s?-\s?(?P<dash_pitch>\d+[.,]\d+|[1-8](?=\s?-\s?[3-9][GH]))(?![.,]?\d|[A-Za-z])
      | \s(?P<space_pitch>\d+[.,]\d+)(?=\s[3-9][GH]\b)
      | \s?[xX-]?\s?P\s?=?\s?(?P<named_pitch>[0-6][.,]\d+|[1-6])(?![.,]?\d|[A-Za-z])
    )?
    (?P<left_first>(?:\s?-\s?|\s)?LH\b)?
    (?:(?:\s?-\s?|\s)(?P<class>[3-9][GHefgh](?:[3-9][GHefgh])?)(?:/[3-9][efgh](?:[3-9][efgh])?)?(?!(?!LH\b)[A-Za-z0-9]))?
    (?:\s?-\s?(?P<engagement>[SNL])(?![A-Za-z0-9]))?
    (?P<left_last>(?:\s?-\s?|\s|(?<=[GH]))LH\b)?
    (?(lead){starts.pattern("starts_last")})
    (?:\s?\((?P<gauging>2[123]A?)\))?
)
(?!\s?-?\s?(?:STI|EG)\b)
"""


def _number(text: str) -> float:
    return float(text.replace(",", "."))


def _is_length(size: iso261.MetricSize, number: float) -> bool:
    """Whether a number after the x is a thread length: no pitch, coarser than any, and half a diameter to eight."""
    return number > max(size.pitches_mm) and 0.5 <= number / size.diameter_mm <= LONGEST


class IsoMetric:
    """ISO general-purpose metric threads and the aerospace form MJ."""

    key = KEY
    title = "ISO metric"

    designation = Designation(_DESIGNATION)

    def read(self, match: re.Match[str], default_unit: str) -> ThreadCall:
        """The call as written; a number that can only be a length is taken out of the place of the pitch."""
        diameter_mm = _number(match["diameter"])
        form = (match["form"] or match["form_small"] or "").upper()
        written = match["pitch"] or match["dash_pitch"] or match["space_pitch"] or match["named_pitch"]
        pitch_mm = _number(written) if written else None
        length_mm = _number(match["length"]) if match["length"] else None
        size = iso261.sizes().get(diameter_mm)
        if match["pitch"] and pitch_mm and length_mm is None and size is not None and _is_length(size, pitch_mm):
            pitch_mm, length_mm = None, pitch_mm
        lead_mm = None
        if lead := match["lead"] or match["old_lead"]:
            lead_mm = _number(lead)
            pitch_mm = _number(match["start_pitch"] or match["old_pitch"] or match["bare_pitch"])
        return ThreadCall(
            standard=KEY,
            nominal=Size(diameter_mm, f"M{diameter_mm:g}"),
            series=f"M{form}",
            pitch_mm=pitch_mm,
            thread_class=match["class"],
            left_hand=bool(match["left_first"] or match["left_last"]),
            length_mm=length_mm,
            gauging=match["gauging"],
            starts=starts.count(lead_mm, pitch_mm, match["starts_first"] or match["starts_last"]),
            lead_mm=lead_mm,
            engagement=match["engagement"] or "",
        )

    def complete(self, call: ThreadCall) -> Answer:
        """Size and pitch checked against ISO 261, class supplied by ISO 965-1 or ISO 5855-2 when it is not written."""
        size = iso261.sizes().get(call.nominal.mm)
        if size is None:
            return _no_such_diameter(call.nominal.mm)
        found = _pitch(call, size)
        return found if isinstance(found, Answer) else _with_class(call, found)

    def geometry(self, spec: ThreadSpec) -> ThreadGeometry:
        """Limits by ISO 965-1. Raises KeyError for a thread `complete` never gave."""
        tolerance = iso965.thread_class(spec.thread_class)
        if tolerance is None:
            raise KeyError(spec.designation)
        j_form = spec.series == "MJ"
        limits = iso965.metric_limits(spec.nominal.mm, spec.pitch_mm, tolerance, j_form)
        notes: list[str] = []
        if not limits.tabulated:
            notes.append(
                f"ISO 965-1 tabulates no pitch diameter tolerance for {spec.name}; computed by its formula, rounded to R40."
            )
        if j_form:
            notes.append("MJ: minor diameter D - 0.9743 P and the tolerances of ISO 965-1, keyed from memory of ISO 5855-1.")
        if spec.starts > 1:
            notes.append(f"{spec.starts} starts: pitch diameter tolerance is that of a single start.")
        return ThreadGeometry(
            spec=spec,
            basic_major_mm=spec.nominal.mm,
            basic_pitch_mm=limits.basic_pitch_mm,
            basic_minor_mm=limits.basic_minor_mm,
            major=Limits(limits.major_min_mm, None),
            pitch=Limits(*limits.pitch_mm),
            minor=Limits(*limits.minor_mm),
            cites=_cites(j_form, tolerance.position),
            profile="J" if j_form else "60deg",
            notes=tuple(notes),
        )


@cache
def _cites(j_form: bool, position: str) -> tuple[Cite, ...]:
    """The basic sizes' standard and its tables of tolerances and deviations."""
    form = Cite("ISO 5855-1", "1999", "", Standing.FROM_MEMORY) if j_form else Cite("ISO 724", "1993")
    names = ("thread_iso965_td1.csv", "thread_iso965_td2.csv", *(["thread_iso965_ei_g.csv"] if position == "G" else []))
    return (form, *(table(name).cite() for name in names))


def _no_such_diameter(diameter_mm: float) -> Answer:
    near = [size.diameter_mm for size in iso261.neighbours(diameter_mm)]
    choices = [f"M{near_mm:g}" for near_mm in near]
    if drilled := iso261.drilled_for(diameter_mm):
        thread = f"M{drilled.diameter_mm:g}"
        choices = [choice for choice in choices if choice != thread]
        choices.insert(
            0 if drilled.diameter_mm in near else len(choices), f"{thread} (its tap drill is about {diameter_mm:g} mm)"
        )
    suggestion = meant(*choices, f"a plain hole of diameter {diameter_mm:g} mm")
    return Answer(None, problem=f"ISO 261 lists no thread M{diameter_mm:g}.", suggestion=suggestion)


@dataclass(frozen=True, slots=True)
class _Found:
    """Size and pitch settled, with what was supplied and what is to be confirmed."""

    series: str
    name: str
    nominal: Size
    pitch_mm: float
    supplied: tuple[Supplied, ...]
    questions: tuple[tuple[str, str, str], ...]


def _pitch(call: ThreadCall, size: iso261.MetricSize) -> _Found | Answer:
    """The thread without its class, or what is wrong with the pitch."""
    letters = "MJ" if call.series == "MJ" else "M"
    thread = f"{letters}{size.diameter_mm:g}"
    supplied: list[Supplied] = []
    questions: list[tuple[str, str, str]] = []
    pitch_mm = call.pitch_mm
    if pitch_mm is None:
        if call.series == "MF" or size.coarse_mm is None:
            what = "A fine thread" if call.series == "MF" else f"{thread}, which has no coarse pitch,"
            return Answer(None, problem=f"{what} needs its pitch.", suggestion=f"{size.listed(letters)}?")
        pitch_mm = size.coarse_mm
        supplied.append(Supplied("THREAD-PITCH-ASSUMED", f"{thread}: coarse pitch {pitch_mm:g} mm", iso261.cite()))
        if call.length_mm is not None:
            lost = call.length_mm / 10
            no_pitch = "no pitch" if lost not in size.pitches_mm else f"no pitch (nor {lost:g} with the point lost)"
            text = f"{thread}x{call.length_mm:g}: {call.length_mm:g} mm is the thread length, {no_pitch}"
            supplied.append(
                Supplied(
                    "THREAD-LENGTH-ASSUMED",
                    text,
                    Cite("ISO 6410-1", "1993", "simplified dimensioning", Standing.FROM_MEMORY),
                )
            )
    elif pitch_mm not in size.pitches_mm:
        if not size.may_be_finer(pitch_mm):
            return _no_such_pitch(thread, pitch_mm, size, letters)
        questions.append(
            (
                "THREAD-PITCH-SPECIAL",
                f"{thread}x{pitch_mm:g} is finer than the pitches ISO 261 lists for {thread}.",
                f"Confirm, or {size.listed(letters)}? Special tap and gauges.",
            )
        )
    if call.starts == 0 and call.lead_mm is not None:
        problem = f"The lead {call.lead_mm:g} mm does not fit the pitch {pitch_mm:g} mm and the starts."
        return Answer(None, problem=problem, suggestion=f"Single start: {thread}x{pitch_mm:g}?")
    if call.starts > 1:
        lead = f"Lead {call.lead_mm:g} mm, pitch {pitch_mm:g} mm: {call.starts} starts"
        problem = f"{lead}; ISO 965-1 gives the limits of a single start."
        questions.append(("THREAD-MULTI-START", problem, "Confirm starts and limits; special tap and gauges."))
    if not size.preferred:
        near = " or ".join(f"M{other.diameter_mm:g}" for other in iso261.neighbours(size.diameter_mm))
        edition = "third choice" if size.choice == "3" else "second or third choice, by edition,"
        questions.append(
            ("THREAD-THIRD-CHOICE", f"{thread} is a size of {edition} in ISO 261.", f"Confirm, or {near}? Taps may be rare.")
        )
    if size.note and size.note.startswith(f"{pitch_mm:g} is"):
        questions.append(("THREAD-PITCH-RESERVED", f"{thread}: {size.note} (ISO 261).", "Confirm the pitch."))
    written = f"{pitch_mm:g}" if call.starts == 1 else f"Ph{pitch_mm * call.starts:g}P{pitch_mm:g}"
    coarse = pitch_mm == size.coarse_mm and call.starts == 1
    series = "MJ" if letters == "MJ" else ("M" if coarse else "MF")
    nominal = Size(size.diameter_mm, thread)
    return _Found(series, f"{thread}x{written}", nominal, pitch_mm, tuple(supplied), tuple(questions))


def _no_such_pitch(thread: str, pitch_mm: float, size: iso261.MetricSize, letters: str) -> Answer:
    problem = f"ISO 261 lists no pitch of {pitch_mm:g} mm for {thread}"
    suggestion = f"{size.listed(letters)}?"
    shifted = next((p for p in (pitch_mm / 100, pitch_mm / 10) if round(p, 4) in size.pitches_mm), None)
    if pitch_mm > LONGEST * size.diameter_mm:
        problem += f", and as a thread length it would be {pitch_mm / size.diameter_mm:.0f} diameters"
        if shifted is not None:
            suggestion = f"{thread}x{shifted:g}, with the decimal point lost? {suggestion}"
    elif pitch_mm > max(size.pitches_mm) and pitch_mm > size.diameter_mm / 4:
        suggestion += f" If {pitch_mm:g} mm is the thread depth, write it as a depth."
    return Answer(None, problem=f"{problem}.", suggestion=suggestion)


_CLASS_CITE = Cite("ISO 965-1", "2013", "designation", Standing.FROM_MEMORY)
_CLASS_CITE_J = Cite("ISO 5855-2", "1999", "", Standing.FROM_MEMORY)


def _default_class(found: _Found, engagement: str) -> tuple[str, Cite]:
    """What the standard supplies when no class is written, and where it says so (both clauses from memory)."""
    if found.series == "MJ":
        return ("4H6H" if found.nominal.mm <= 5 else "4H5H"), _CLASS_CITE_J
    if found.pitch_mm == 0.2:
        return "4H", _CLASS_CITE
    if engagement in ("S", "L"):
        return {"S": "5H", "L": "7H"}[engagement], _CLASS_CITE
    return ("5H" if found.nominal.mm <= 1.4 else "6H"), _CLASS_CITE


def _with_class(call: ThreadCall, found: _Found) -> Answer:
    text, supplied, name = call.thread_class, found.supplied, found.name
    default, cite = _default_class(found, call.engagement)
    if text is None:
        text = default
        supplied = (*supplied, Supplied("THREAD-CLASS-ASSUMED", f"{name}: class {text}", cite))
    tolerance = iso965.thread_class(text)
    if tolerance is None:
        external = any(letter in "efgh" for letter in text)
        problem = f"{text} is a class of external threads." if external else f"{text} is no class of ISO 965-1 here."
        internal = re.sub("[efgh]", lambda letter: "G" if letter[0] != "h" else "H", text) if external else default
        suggestion = f"A tapped hole needs {CLASSES}: {name}-{internal}?"
        if external and internal != default:
            suggestion = f"A tapped hole needs {CLASSES}: {name}-{default} or {name}-{internal}?"
        return Answer(None, problem=problem, suggestion=suggestion)
    if tolerance.pitch_grade not in (grades := iso965.grades(found.nominal.mm, found.pitch_mm)) or (
        tolerance.minor_grade not in grades
    ):
        given = " ".join(f"{grade}{tolerance.position}" for grade in grades)
        problem = f"ISO 965-1 gives no class {text} at pitch {found.pitch_mm:g} mm."
        near = default if default in given.split() else given.split()[-1]
        return Answer(None, problem=problem, suggestion=f"{name}-{near}? The standard gives {given}.")
    thread_class = str(tolerance)
    ending = f"-{call.engagement}" if call.engagement else ""
    ending += "-LH" if call.left_hand else ""
    spec = ThreadSpec(
        standard=KEY,
        series=found.series,
        name=name,
        designation=f"{name}-{thread_class}{ending}",
        nominal=found.nominal,
        pitch_mm=found.pitch_mm,
        tpi=None,
        thread_class=thread_class,
        left_hand=call.left_hand,
        starts=call.starts,
        engagement=call.engagement,
    )
    return Answer(spec, supplied, questions=found.questions)


STANDARD = IsoMetric()
