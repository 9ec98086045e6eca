"""Acme threads, general purpose and centralizing (ASME B1.5), 29 degrees."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from functools import cache

from holesched.notes import Cite, Standing
from holesched.standards.sizes import Limits
from holesched.standards.threads import inch_sizes as inch
from holesched.standards.threads import starts
from holesched.standards.threads.answers import doubt, refused
from holesched.standards.threads.base import Answer, Designation, Supplied, ThreadCall, ThreadGeometry, ThreadSpec
from holesched.tables import table

COARSEST_FINE = 10
"""Threads per inch up to which the wide major diameter allowance (and tolerance) of 0.020 in holds; above: 0.010 in."""
MOST_TPI = 16

_CLASS = r"(?P<class{0}>[2-6][GC])"
_CLASS_END = r"(?!(?!LH\b)[A-Za-z0-9])"
_DESIGNATION = rf"""
    (?:{inch.WORD_START}(?P<first>ACME)[ ])?
    {inch.START}(?P<size>{inch.INCH}){inch.MARK}
    (?: {inch.SEPARATOR}(?P<pitch>0?\.\d+)P(?:{inch.SEPARATOR}(?P<lead>0?\.\d+)L)?
      | {inch.SEPARATOR}(?P<tpi>\d+(?:\.\d+)?|\d+[ ]1/2) )?
    (?(first) (?:{inch.SEPARATOR}{_CLASS.format("_last")}{_CLASS_END})?
      | {inch.SEPARATOR}?
        (?: ACME (?:{inch.SEPARATOR}{_CLASS.format("")}{_CLASS_END})? | {_CLASS.format("_first")}{inch.SEPARATOR}?ACME ) )
    {inch.HAND} {starts.pattern("starts")} {inch.END}
"""


@cache
def sizes() -> Mapping[str, float]:
    """Threads per inch of the standard series, by size."""
    return {row["size"]: float(row["threads_per_inch"]) for row in table("thread_acme_sizes.csv").rows}


@cache
def _class(name: str) -> Mapping[str, str]:
    for row in table("thread_acme_tolerances.csv").rows:
        if row["class"] == name:
            return row
    raise KeyError(name)


def pitch_tolerance_in(diameter_in: float, pitch_in: float, thread_class: str) -> float:
    """a sqrt(P) + b sqrt(D) for the class, inches, rounded to 0.0001 (ASME B1.5, clause 2.12). Raises KeyError."""
    row = _class(thread_class)
    by_pitch = float(row["pitch_factor"]) * math.sqrt(pitch_in)
    return round(by_pitch + float(row["diameter_factor"]) * math.sqrt(diameter_in), 4)


def major_limits_in(diameter_in: float, tpi: float, thread_class: str) -> tuple[float, float]:
    """Smallest and largest major diameter of the internal thread, inches (ASME B1.5, clauses 2.5, 2.16, 3.16)."""
    if thread_class.endswith("G"):
        step = 0.020 if tpi <= COARSEST_FINE else 0.010
        return round(diameter_in + step, 4), round(diameter_in + 2 * step, 4)
    row = _class(thread_class)
    least = round(diameter_in + float(row["major_allowance_factor"]) * math.sqrt(diameter_in), 4)
    return least, round(least + float(row["major_tolerance_factor"]) * math.sqrt(diameter_in), 4)


def minor_limits_in(diameter_in: float, pitch_in: float, thread_class: str) -> tuple[float, float]:
    """D - P (general purpose) or D - 0.9 P (centralizing), plus 0.05 P but at least 0.005 in (ASME B1.5, Table 8a)."""
    return minor_at_in(diameter_in, pitch_in, 1.0 if thread_class.endswith("G") else 0.9)


def minor_at_in(diameter_in: float, pitch_in: float, depth: float) -> tuple[float, float]:
    """Smallest and largest minor diameter so many pitches below the nominal one, inches; the tolerance as above."""
    least = round(diameter_in - depth * pitch_in, 4)
    return least, round(least + max(0.005, 0.05 * pitch_in), 4)


class Acme:
    """ACME."""

    key = "acme"
    title = "Acme"
    designation = Designation(_DESIGNATION, re.VERBOSE | re.IGNORECASE)

    def read(self, match: re.Match[str], default_unit: str) -> ThreadCall:
        """The call of a match; sizes are always inches. `.2P-.4L` gives pitch and lead, `(TWO START)` the starts."""
        tpi = match.group("tpi")
        pitch, lead = (None if text is None else float(text) for text in match.group("pitch", "lead"))
        thread_class = inch.one_of(match, "class", "class_first", "class_last")
        return ThreadCall(
            self.key,
            inch.inch_size(match.group("size")),
            series="ACME",
            tpi=_threads_per_inch(pitch) if pitch is not None else None if tpi is None else inch.threads_per_inch(tpi),
            thread_class=None if thread_class is None else thread_class.upper(),
            left_hand=match.group("hand") is not None,
            starts=starts.count(lead, pitch, match.group("starts")),
            lead_mm=None if lead is None else lead * inch.MM_PER_INCH,
        )

    def complete(self, call: ThreadCall) -> Answer:
        """Threads per inch of the series and class 2G where none is written; other pitches as a question."""
        size, listed = call.nominal.label, sizes().get(call.nominal.label)
        if call.starts == 0:
            return refused("Lead, pitch and starts do not fit together.", "a lead of as many pitches as there are starts")
        tpi = call.tpi or listed
        if tpi is None:
            return refused(f"The Acme series has no size {size}; its pitch must be written.", *_offer(call, listed))
        pitch_in, diameter_in = 1 / tpi, call.nominal.mm / inch.MM_PER_INCH
        if not 1 <= tpi <= MOST_TPI or pitch_in > diameter_in / 2:
            return refused(f"{size}-{tpi:g} is no Acme thread.", *_offer(call, listed))
        if call.thread_class in ("5G", "6G", "5C", "6C"):
            problem = f"Class {call.thread_class} is no longer in ASME B1.5; its limits are not held here."
            return refused(problem, "2G", "3G", "4G", "limits on the drawing")
        name = f"{size}-{tpi:g} ACME"
        thread_class, supplied = _class_of(call, name)
        if call.tpi is None:
            cite = table("thread_acme_sizes.csv").cite()
            supplied = (Supplied("THREAD-PITCH-ASSUMED", f"{size} ACME: {tpi:g} threads per inch", cite), *supplied)
        parts = [f"{name}-{thread_class}", *(["LH"] if call.left_hand else [])]
        designation = "-".join(parts) + (f" {call.starts} START" if call.starts > 1 else "")
        spec = ThreadSpec(
            self.key, "ACME", name, designation, call.nominal, inch.MM_PER_INCH / tpi, tpi,
            thread_class, left_hand=call.left_hand, starts=call.starts,
        )  # fmt: skip
        return Answer(spec, supplied, questions=_unlisted(call, tpi, listed))

    def geometry(self, spec: ThreadSpec) -> ThreadGeometry:
        """Limits by the formulas of ASME B1.5, clauses 2.16 and 3.16, each rounded to 0.0001 in as the tables are."""
        d, pitch, tpi = spec.nominal.mm / inch.MM_PER_INCH, spec.pitch_mm / inch.MM_PER_INCH, spec.tpi or 1
        middle = round(d - pitch / 2, 4)
        notes = []
        if spec.starts > 1:
            notes.append(
                f"{spec.starts} starts; ASME B1.5 gives the tolerances of single-start threads, used here as it allows."
            )
        return ThreadGeometry(
            spec,
            basic_major_mm=spec.nominal.mm,
            basic_pitch_mm=(d - pitch / 2) * inch.MM_PER_INCH,
            basic_minor_mm=(d - pitch) * inch.MM_PER_INCH,
            major=in_mm(major_limits_in(d, tpi, spec.thread_class)),
            pitch=in_mm((middle, middle + pitch_tolerance_in(d, pitch, spec.thread_class))),
            minor=in_mm(minor_limits_in(d, pitch, spec.thread_class)),
            cites=(table("thread_acme_tolerances.csv").cite(),),
            profile="29deg",
            notes=tuple(notes),
        )


def _threads_per_inch(pitch_in: float) -> float:
    """Those of a written pitch: 0.3333 in is 3, where a whole or half number rounds to the pitch; else by division."""
    near = round(2 / pitch_in) / 2
    return near if near and round(1 / near, 4) == round(pitch_in, 4) else round(1 / pitch_in, 4)


def in_mm(limits: tuple[float, float]) -> Limits:
    """Limits in inches as limits in mm."""
    return Limits(limits[0] * inch.MM_PER_INCH, limits[1] * inch.MM_PER_INCH)


def _class_of(call: ThreadCall, name: str) -> tuple[str, tuple[Supplied, ...]]:
    if call.thread_class is not None:
        return call.thread_class, ()
    cite = Cite("ASME B1.5", "1997", "clause 2.9 (2G is the preferred class)", Standing.FROM_MEMORY)
    return "2G", (Supplied("THREAD-CLASS-ASSUMED", f"{name}: class 2G", cite),)


def _offer(call: ThreadCall, listed: float | None) -> list[str]:
    """The series' thread of that size, or those of the sizes nearest to it."""
    if listed:
        return [f"{call.nominal.label}-{listed:g} ACME"]
    return [f"{name}-{sizes()[name]:g} ACME" for name in inch.nearest(call.nominal, tuple(sizes()))]


def _unlisted(call: ThreadCall, tpi: float, listed: float | None) -> tuple[tuple[str, str, str], ...]:
    if listed == tpi:
        return ()
    name = f"{call.nominal.label}-{tpi:g} ACME"
    problem = f"{name} is not in the Acme series; its limits are computed by the formulas of ASME B1.5."
    return doubt("THREAD-PITCH-SPECIAL", problem, _offer(call, listed))


STANDARD = Acme()
