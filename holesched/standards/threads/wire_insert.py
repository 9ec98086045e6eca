"""Threads for helical-coil wire inserts, STI: the plain metric or unified thread made larger by the wire (ASME B18.29).

Written M8x1.25 STI, STI M8, EG M8, M6x1 EG, M8 HELICAL INSERT, 1/4-20 UNC-2B STI, 10-32 WIRE INSERT. Size, pitch, class
and hand are read and completed by the standard of the plain thread; this module adds the wire.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

from holesched.notes import Cite, Standing
from holesched.standards import asme_b1_1
from holesched.standards.sizes import Limits, Size
from holesched.standards.threads import inch_sizes as inch
from holesched.standards.threads import iso_metric, unified
from holesched.standards.threads.answers import doubt, refused
from holesched.standards.threads.base import (
    Answer,
    Designation,
    Supplied,
    ThreadCall,
    ThreadGeometry,
    ThreadSpec,
    ThreadStandard,
)

KEY = "wire-insert"
SUFFIX = " STI"
MINOR, PITCH, MAJOR = 0.216506, 0.649519, 1.299038
"""Smallest minor, pitch and major diameter of the STI hole exceed the screw's diameter by so many pitches."""
METRIC_CLASSES = ("4H5H", "5H", "6H")
UNIFIED_CLASSES = ("2B", "3B")

_NUMBER = r"\d+(?:[.,]\d+)?"
_LEFT = r"(?:[ -]{1,3}LH\b)?"
_METRIC = rf"(?>MJ?[ ]?{_NUMBER}(?:[ ]?x[ ]?(?:{_NUMBER}|[.,]\d+)){{0,2}}{_LEFT}(?:[ ]?-[ ]?(?:\d[GH]){{1,2}})?{_LEFT})"
_UNIFIED = (
    rf"(?>(?:(?:\#|NO\.?)[ ]?\d{{1,2}}|{inch.INCH}){inch.MARK}[ ]?-[ ]?\d+(?:\.5)?"
    rf"(?:[ ]?-?[ ]?UNJ?(?:EF|C|F|S)?(?![A-Z]))?(?:[ ]?-?[ ]?[123][AB](?![A-Z0-9]))?{_LEFT})"
)
_WORDS = (
    r"STI|S\.T\.I\.|EG|(?:HELICAL|WIRE)(?:[ -]COIL)?(?:[ ](?:SCREW[ ])?(?:THREAD|THD))?[ -]INSERTS?"
    r"|COIL(?:ED)?(?:[ ]WIRE)?(?:[ ]THREAD)?[ ]INSERTS?|SCREW[ ]THREAD[ ]INSERTS?"
)
_DESIGNATION = rf"""
    (?: (?<![A-WYZa-wyz0-9./]) (?: {inch.WORD_START}(?P<metric>{_METRIC}) | {inch.START}(?P<unified>{_UNIFIED}) )
        [ ,-]{{0,3}}(?P<word>{_WORDS})(?![A-Za-z])
        (?:[ ]?-?[ ]?(?P<class>4H5H|[4-7]H|[123]B)(?![A-Za-z0-9]))?(?:[ ]?mod\b\.?)?
      | {inch.WORD_START}(?P<word_first>{_WORDS})(?:[ ]?[-:][ ]?|[ ]|(?=M\d))
        (?: (?P<metric_last>{_METRIC}) | (?P<unified_last>{_UNIFIED}) )(?:[ ]?mod\b\.?)?
    )
    {inch.HAND} {inch.END}
"""


def _plain_standard(metric: bool) -> ThreadStandard:
    return iso_metric.STANDARD if metric else unified.STANDARD


class WireInsert:
    """STI, metric and unified."""

    key = KEY
    title = "wire-insert (STI)"
    designation = Designation(_DESIGNATION, re.VERBOSE | re.IGNORECASE)

    def read(self, match: re.Match[str], default_unit: str) -> ThreadCall:
        """The plain thread's call; `series` is STI- or EG- and the plain series ("STI-M", "EG-M", "STI-UNC", "STI-")."""
        metric = inch.one_of(match, "metric", "metric_last")
        text = metric or inch.one_of(match, "unified", "unified_last") or ""
        word = "EG" if (inch.one_of(match, "word", "word_first") or "").upper() == "EG" else "STI"
        standard = _plain_standard(metric is not None)
        plain = standard.designation.fullmatch(text.replace("X", "x") if metric else text)
        if plain is None:
            return ThreadCall(self.key, Size(0.0, text), series=f"{word}-?")
        call = standard.read(plain, default_unit)
        return replace(
            call,
            standard=self.key,
            series=f"{word}-{call.series or ''}",
            thread_class=match.group("class") or call.thread_class,
            left_hand=call.left_hand or match.group("hand") is not None,
        )

    def complete(self, call: ThreadCall) -> Answer:
        """What the plain thread's standard makes of it, with the classes of STI holes."""
        word, _, series = (call.series or "STI-").partition("-")
        if series == "?":
            problem = f"{call.nominal.label} is no thread that a wire insert is made for."
            return refused(problem, "M8x1.25 STI", "1/4-20 UNC-2B STI")
        if "J" in series:
            problem = "A wire insert makes an ordinary thread; the hole is called by the plain M or UN series."
            return refused(problem, f"{series.replace('J', '')} in place of {series}")
        metric = series.startswith("M")
        default = _class(metric, word) if call.thread_class is None else None
        plain_call = ThreadCall(
            standard=_plain_standard(metric).key,
            nominal=call.nominal,
            series=series or None,
            pitch_mm=call.pitch_mm,
            tpi=call.tpi,
            thread_class=default[0] if default else call.thread_class,
            left_hand=call.left_hand,
            gauging=call.gauging,
            starts=call.starts,
            lead_mm=call.lead_mm,
            engagement=call.engagement,
        )
        answer = _plain_standard(metric).complete(plain_call)
        if answer.spec is None:
            return answer
        plain = answer.spec
        spec = ThreadSpec(
            standard=self.key,
            series=f"STI-{'M' if metric else plain.series}",
            name=plain.name + SUFFIX,
            designation=plain.designation + SUFFIX,
            nominal=plain.nominal,
            pitch_mm=plain.pitch_mm,
            tpi=plain.tpi,
            thread_class=plain.thread_class,
            left_hand=plain.left_hand,
            starts=plain.starts,
            engagement=plain.engagement,
        )
        supplied = answer.supplied
        if default:
            supplied = (*supplied, Supplied("THREAD-CLASS-ASSUMED", f"{spec.name}: class {default[0]}", default[1]))
        questions = (*answer.questions, *_unusual(plain, metric), *_length(call))
        return Answer(spec, supplied, questions=questions)

    def geometry(self, spec: ThreadSpec) -> ThreadGeometry:
        """D + 0.2165 P, D + 0.6495 P and D + 1.2990 P at least, with the plain thread's own tolerances.

        ASME B18.29.1 and B18.29.2M: the tapped hole is as in ASME B1.1 and B1.13M except for the larger diameters.
        """
        plain = _plain_geometry(spec)
        places, unit = (3, 1.0) if spec.tpi is None else (4, inch.MM_PER_INCH)

        def larger(share: float) -> float:
            return round((spec.nominal.mm + share * spec.pitch_mm) / unit, places) * unit

        minor, pitch, major = larger(MINOR), larger(PITCH), larger(MAJOR)
        minor_max = round((minor + _minor_tolerance_mm(spec, plain)) / unit, places) * unit
        pitch_max = round((pitch + _width(plain.pitch)) / unit, places) * unit
        standard = "ASME B18.29.2M" if spec.tpi is None else "ASME B18.29.1"
        edition = "2005" if spec.tpi is None else "2010"
        return ThreadGeometry(
            spec,
            basic_major_mm=major,
            basic_pitch_mm=pitch,
            basic_minor_mm=minor,
            major=Limits(major, None),
            pitch=Limits(pitch, pitch_max),
            minor=Limits(minor, minor_max),
            cites=(
                Cite(standard, edition, "STI hole: the screw's diameter and the wire", Standing.CALCULATED),
                *plain.cites,
            ),
            notes=(
                "Tolerances are those of the plain thread of the same size, pitch and class; the standard's own table of "
                "STI limits was not seen and may be tighter: the insert maker's plugs decide.",
                "STI tap, STI thread plugs and a plain plug for the larger minor diameter; the hole's class becomes the "
                "class of the finished thread.",
                *plain.notes,
            ),
        )


def _class(metric: bool, word: str) -> tuple[str, Cite] | None:
    """The class of a hole that names none; None: the plain thread's standard supplies it (2B)."""
    if not metric:
        return None
    if word == "EG":
        return "6H", Cite("DIN 8140-2", "1999", "EG threads", Standing.FROM_MEMORY)
    return "5H", Cite("ASME B18.29.2M", "2005", "holes are 4H5H or 5H; the wider is taken")


def _unusual(plain: ThreadSpec, metric: bool) -> tuple[tuple[str, str, str], ...]:
    classes = METRIC_CLASSES if metric else UNIFIED_CLASSES
    if plain.thread_class in classes:
        return ()
    problem = f"{plain.thread_class} is no class of STI holes."
    return doubt("THREAD-CLASS-UNUSUAL", problem, classes)


def _length(call: ThreadCall) -> tuple[tuple[str, str, str], ...]:
    if call.length_mm is None:
        return ()
    problem = f"{call.length_mm:g} may be the insert's length, the full thread or the drilling depth."
    choices = [f"insert length {call.length_mm:g}", f"full thread {call.length_mm:g}", f"drilling depth {call.length_mm:g}"]
    return doubt("THREAD-LENGTH-UNCLEAR", problem, choices)


@cache
def _plain_geometry(spec: ThreadSpec) -> ThreadGeometry:
    standard = _plain_standard(spec.tpi is None)
    match = standard.designation.fullmatch(spec.designation.removesuffix(SUFFIX))
    plain = standard.complete(standard.read(match, "mm")).spec if match is not None else None
    if plain is None:
        raise KeyError(spec.designation)
    return standard.geometry(plain)


def _width(limits: Limits) -> float:
    return (limits.max_mm or limits.min_mm) - limits.min_mm


def _minor_tolerance_mm(spec: ThreadSpec, plain: ThreadGeometry) -> float:
    """TD1 of the plain thread; for unified threads before the limits are rounded to three decimals of an inch."""
    if spec.tpi is None:
        return _width(plain.minor)
    tolerance_in = asme_b1_1.minor_tolerance_in(spec.nominal.mm / inch.MM_PER_INCH, 1 / spec.tpi, spec.thread_class)
    return asme_b1_1.half_up(tolerance_in, 4) * inch.MM_PER_INCH


STANDARD = WireInsert()
