"""ISO metric trapezoidal threads Tr, single and multiple start (ISO 2901 to 2904), 30 degrees."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from functools import cache

from holesched.notes import Cite
from holesched.standards.iso965 import nearest_r40
from holesched.standards.sizes import Limits, Size
from holesched.standards.threads import inch_sizes as inch
from holesched.standards.threads import starts
from holesched.standards.threads.answers import doubt, refused
from holesched.standards.threads.base import Answer, Designation, Supplied, ThreadCall, ThreadGeometry, ThreadSpec
from holesched.tables import table

GRADES = ("7", "8", "9")
_FACTOR = {"7": 1.7, "8": 2.12, "9": 2.65}
_NUMBER = r"\d+(?:[.,]\d+)?"
_DESIGNATION = rf"""
    {inch.WORD_START}(?:Tr|TR)\.?[ ]?(?P<diameter>{_NUMBER})[ ]?[xX×*][ ]?(?P<lead>{_NUMBER})
    (?:[ ]?\([ ]?P[ ]?(?P<pitch>{_NUMBER})[ ]?\)|[ ]?P[ ]?(?P<pitch_new>{_NUMBER}))?
    (?:[ -]{{0,3}}(?P<hand>LH|L\.H\.))? (?:(?:[ ]?-[ ]?|[ ])(?P<class>\d[A-Za-z])(?!(?!LH\b)[A-Za-z0-9]))?
    (?:[ -]{{0,3}}(?P<hand_last>LH|L\.H\.|LEFT[ -]HAND))? {starts.pattern("starts")} {inch.END}
"""


@cache
def pitches() -> Mapping[float, tuple[float, ...]]:
    """Pitches by nominal diameter (ISO 2902), in mm; the preferred one first."""
    return {
        float(row["diameter_mm"]): (
            float(row["preferred_pitch_mm"]),
            *(float(pitch) for pitch in row["other_pitches_mm"].split()),
        )
        for row in table("thread_tr_sizes.csv").rows
    }


@cache
def _clearances() -> tuple[tuple[float, float], ...]:
    rows = table("thread_tr_clearance.csv").rows
    return tuple((float(row["pitch_to_mm"]), float(row["clearance_mm"])) for row in rows)


@cache
def _td1_um() -> Mapping[float, float]:
    return {float(row["pitch_mm"]): float(row["TD1_um"]) for row in table("thread_tr_td1.csv").rows}


@cache
def _td2_um() -> Mapping[tuple[float, float, str], float]:
    """By end of the diameter step, pitch and grade."""
    rows = table("thread_tr_td2.csv").rows
    return {(float(row["to_mm"]), float(row["pitch_mm"]), grade): float(row[grade]) for row in rows for grade in GRADES}


@cache
def _steps() -> tuple[tuple[float, float], ...]:
    return tuple(sorted({(float(row["over_mm"]), float(row["to_mm"])) for row in table("thread_tr_td2.csv").rows}))


@cache
def _starts_factors() -> Mapping[int, float]:
    return {int(row["starts"]): float(row["factor"]) for row in table("thread_tr_starts.csv").rows}


def _step(diameter_mm: float) -> tuple[float, float]:
    return next((step for step in _steps() if diameter_mm <= step[1]), _steps()[-1])


def clearance_mm(pitch_mm: float) -> float:
    """Crest clearance ac by pitch (ISO 2901): D4 = d + 2 ac. Raises KeyError above pitch 44."""
    for largest_mm, clearance in _clearances():
        if pitch_mm <= largest_mm:
            return clearance
    raise KeyError(pitch_mm)


def minor_tolerance_mm(pitch_mm: float) -> float:
    """TD1 of grade 4 (ISO 2903), table value; for a pitch that is not listed 0.63 (230 P^0.7) um."""
    return (_td1_um().get(pitch_mm) or minor_tolerance_formula(pitch_mm)) / 1000


def minor_tolerance_formula(pitch_mm: float) -> float:
    """TD1(4) = 0.63 (230 P^0.7), micrometres (ISO 965-1, for ISO 2903), rounded to the R40 series."""
    return nearest_r40(0.63 * 230 * pitch_mm**0.7)


def pitch_tolerance_mm(diameter_mm: float, pitch_mm: float, grade: str, starts: int = 1) -> float:
    """TD2 (ISO 2903) for the grade "7", "8" or "9" and the number of starts; by formula for a pair that is not listed."""
    listed = _td2_um().get((_step(diameter_mm)[1], pitch_mm, grade))
    return _starts_factors()[min(starts, 5)] * (listed or pitch_tolerance_formula(diameter_mm, pitch_mm, grade)) / 1000


def pitch_tolerance_formula(diameter_mm: float, pitch_mm: float, grade: str) -> float:
    """TD2 = k 90 P^0.4 d^0.1, micrometres; d the geometric mean of the diameter step; rounded to the R40 series."""
    over, to = _step(diameter_mm)
    return nearest_r40(_FACTOR[grade] * 90 * pitch_mm**0.4 * math.sqrt(over * to) ** 0.1)


def _number(text: str) -> float:
    return float(text.replace(",", "."))


class Trapezoidal:
    """Tr."""

    key = "trapezoidal"
    title = "ISO metric trapezoidal"
    designation = Designation(_DESIGNATION)

    def read(self, match: re.Match[str], default_unit: str) -> ThreadCall:
        """Tr40x14(P7): lead 14, pitch 7, two starts; 0 starts where they do not fit, or are written without a pitch."""
        diameter, lead = _number(match.group("diameter")), _number(match.group("lead"))
        written = inch.one_of(match, "pitch", "pitch_new")
        pitch = lead if written is None else _number(written)
        named = match.group("starts")
        return ThreadCall(
            self.key,
            Size(diameter, f"{diameter:g}"),
            series="Tr",
            pitch_mm=pitch,
            thread_class=match.group("class"),
            left_hand=inch.one_of(match, "hand", "hand_last") is not None,
            starts=0 if named and written is None else starts.count(lead, pitch, named),
            lead_mm=None if written is None else lead,
        )

    def complete(self, call: ThreadCall) -> Answer:
        """Class 7H where none is written; pairs of diameter and pitch by ISO 2902, others as a question."""
        diameter, pitch = call.nominal.mm, call.pitch_mm or 0.0
        trouble = self._impossible(call, diameter, pitch)
        if trouble is not None:
            return trouble
        size = f"{diameter:g}x{pitch:g}" if call.starts == 1 else f"{diameter:g}x{pitch * call.starts:g}(P{pitch:g})"
        name, thread_class = f"Tr{size}", call.thread_class
        supplied: tuple[Supplied, ...] = ()
        if thread_class is None:
            thread_class = "7H"
            cite = Cite("ISO 2903", "2016", "clause 9 (medium, for general use; length group N)")
            supplied = (Supplied("THREAD-CLASS-ASSUMED", f"{name}: class 7H", cite),)
        spec = ThreadSpec(
            self.key, "Tr", name, f"{name}-{thread_class}{'-LH' if call.left_hand else ''}", call.nominal,
            pitch, None, thread_class, left_hand=call.left_hand, starts=call.starts,
        )  # fmt: skip
        return Answer(spec, supplied, questions=_unlisted(diameter, pitch))

    def _impossible(self, call: ThreadCall, diameter: float, pitch: float) -> Answer | None:
        listed = pitches().get(diameter, ())
        offer = [f"Tr{diameter:g}x{own:g}" for own in listed]
        if pitch <= 0:
            return refused(f"Tr{diameter:g} needs a pitch above 0.", *(offer or ["Tr8x1.5 and larger"]))
        fitting = [own for own in listed if pitch > own and math.isclose(pitch % own, 0, abs_tol=1e-9)]
        if pitch not in listed and call.lead_mm is None and fitting:
            own, starts = fitting[0], round(pitch / fitting[0])
            problem = f"Tr{diameter:g} has no pitch {pitch:g}; as a lead of {starts} starts the pitch stands in brackets."
            return refused(problem, *offer, f"Tr{diameter:g}x{pitch:g}(P{own:g})")
        if call.starts == 0:
            problem = (
                f"Tr{diameter:g}: lead, pitch and starts do not fit together, or the pitch is not written beside the lead."
            )
            return refused(problem, f"Tr{diameter:g}x{2 * pitch:g}(P{pitch:g})")
        if not 8 <= diameter <= 300 or not 1.5 <= pitch <= min(44.0, diameter / 2):
            problem = f"Tr{diameter:g}x{pitch:g} lies outside ISO 2902 (diameters 8 to 300, pitches 1.5 to 44)."
            return refused(problem, *(offer or ["Tr8x1.5 and larger"]))
        written = call.thread_class
        if written is not None and written[1:] in ("e", "c", "h"):
            problem = f"{written} is a class of the external thread."
            return refused(problem, "7H", "8H", "9H")
        if written is not None and (written[0] not in GRADES or written[1:] != "H"):
            problem = f"ISO 2903 has no internal class {written}."
            return refused(problem, "7H", "8H", "9H")
        return None

    def geometry(self, spec: ThreadSpec) -> ThreadGeometry:
        """D1 = d - P, D2 = d - P/2, D4 = d + 2 ac (ISO 2904); plus tolerances TD1 (grade 4) and TD2 (ISO 2903)."""
        d, pitch = spec.nominal.mm, spec.pitch_mm
        minor, middle = d - pitch, d - pitch / 2
        td2 = pitch_tolerance_mm(d, pitch, spec.thread_class[0], spec.starts)
        notes = [
            "Major diameter: D4 of the nut, the screw's diameter and twice the crest clearance; no largest size is set."
        ]
        if spec.starts > 1:
            notes.append(
                f"{spec.starts} starts: advance {pitch * spec.starts:g} mm a turn; tap, gauge and cycle are special."
            )
        return ThreadGeometry(
            spec,
            basic_major_mm=d,
            basic_pitch_mm=middle,
            basic_minor_mm=minor,
            major=Limits(d + 2 * clearance_mm(pitch), None),
            pitch=Limits(middle, round(middle + td2, 4)),
            minor=Limits(minor, round(minor + minor_tolerance_mm(pitch), 4)),
            cites=tuple(
                table(name).cite() for name in ("thread_tr_td1.csv", "thread_tr_td2.csv", "thread_tr_clearance.csv")
            ),
            profile="30deg",
            notes=tuple(notes),
        )


def _unlisted(diameter: float, pitch: float) -> tuple[tuple[str, str, str], ...]:
    listed = pitches().get(diameter, ())
    if pitch in listed:
        return ()
    if listed:
        choices = [f"Tr{diameter:g}x{own:g}" for own in listed]
    else:
        near = sorted(sorted(pitches(), key=lambda own: abs(own - diameter))[:2])
        choices = [f"Tr{own:g}x{pitches()[own][0]:g}" for own in near]
    problem = f"Tr{diameter:g}x{pitch:g} is not listed in ISO 2902; its limits are computed by the formulas of ISO 2903."
    return doubt("THREAD-PITCH-SPECIAL", problem, choices)


STANDARD = Trapezoidal()
