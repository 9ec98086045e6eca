"""Unified inch threads UNC, UNF, UNEF, UN and UNS (ASME B1.1) and their J form UNJC, UNJF, UNJEF, UNJ (ASME B1.15).

Written 1/4-20, 1/4-20 UNC-2B, UNC 1/4-20, 1/4 UNC, .250-20, 10-32, #10-32, NO. 8-32, 1-1/4-7, 3/8-24 UNF-3B-LH. A whole
number is a number size or inches as the threads per inch decide: 1-72 is No. 1, 1-8 is one inch.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache

from holesched.notes import Cite, Standing
from holesched.standards import asme_b1_1, unified_series
from holesched.standards.sizes import Limits, Size
from holesched.standards.threads import starts
from holesched.standards.threads.answers import refused
from holesched.standards.threads.base import Answer, Designation, Supplied, ThreadCall, ThreadGeometry, ThreadSpec
from holesched.standards.unified_series import UnifiedSize

KEY = "unified"
MM_PER_INCH = 25.4
LARGEST_IN = 6.0

_TPI = r"(?:(?:4|11)(?:[.,]5|[ ]1/2)|[3-9]|[1-9]\d)"
_SERIES = r"(?:UN(?:J?(?:EF|C|F|S)?|R(?:EF|C|F|S)?)|N(?:EF|C|F|S))(?![A-Z])"
_MARKED = rf"(?:\d\d?[ ]?UN|{_SERIES}|[123][AB]\b)"
_INCH = r"[ ]?(?:\"|''|IN(?:CH)?\b\.?)"
_BARE = (
    "(?:0-80|1-(?:64|72|8|12|14)|2-(?:56|64|4[.,]5)|3-(?:48|56)|4-(?:40|48)|5-(?:40|44)|6-(?:32|40)|8-(?:32|36)"
    "|10-(?:24|32)|12-(?:24|28|32))"
).replace("-", "[ ]?-[ ]?")
"""Two whole numbers without a mark are a thread only when they are one of these; 4-8 may be four holes of 8."""

_DESIGNATION = rf"""
(?<![A-WYZ\d./,\#]) (?<!\d-)
(?>
    (?:(?P<series_before>UNJ?(?:EF|C|F|S)?)[ ]?-?[ ]?)?
    (?:
        (?:\#[ ]?|NO\.?[ ]?|N°[ ]?)(?P<number>[0-68]|1[02])(?!\d)
      | (?P<mixed>\d[ -]\d{{1,2}}/\d{{1,2}})
      | (?P<fraction>\d{{1,2}}/\d{{1,2}})
      | (?P<decimal>[0-6]?[.,](?:\d{{3,4}}|\d{{1,2}}(?=[ ]?-?[ ]?{_TPI}[ ]?-?[ ]?{_SERIES})))
      | (?={_BARE}(?!\d)(?![ ]?-[ ]?\d\d)|\d\d?(?:{_INCH}|[ ]?[ -][ ]?{_TPI}[ ]?-?[ ]?{_MARKED}))(?P<integer>\d\d?)
    )
    (?P<mark>{_INCH})?
    (?:
        (?:[ ]?-[ ]?|[ ](?={_TPI}[ ]?-?[ ]?{_SERIES}))
        (?P<tpi>{_TPI}) (?![\d/]|[.,]\d) (?![ ]?(?:°|\"|mm\b|PL|HOLES|OFF\b))
        (?(series_before)|(?:[ ]?-?[ ]?(?:(?P=tpi)[ ]?-?[ ]?)?(?P<series>{_SERIES}))?)
      | (?(integer)(?!))(?(decimal)(?!))
        (?(series_before)(?![ ]?-?[ ]?[\d.])|[ ]?-?[ ]?(?P<series_alone>UNJ?(?:EF|C|F)(?![A-Z])))
    )
    (?P<left_first>(?:[ ]?-[ ]?|[ ])LH\b)?
    (?:[ ]?-?[ ]?(?P<class>[123][AB])(?!(?!LH\b)[A-Z0-9]))?
    (?(class)|(?(series)(?:[ ]?-[ ]?(?P<bare_class>[1235])(?=\s*(?:$|[,;(↧]|THRU|LH\b)))?))
    (?P<left_last>(?:[ ]?-[ ]?|[ ]|(?<=[AB]))LH\b)?
    {starts.pattern("starts")}
    (?:[ ]?\((?P<gauging>2[123]A?)\))?
)
(?![ ]?-?[ ]?(?:A?NPT|NPS|BSP|BSW|BSF|BA\b|WHIT|ACME|STUB|STI\b|G\b|R[CP]\b))
"""


def _number_size_in(number: int) -> float:
    """ASME B1.1: a number size is 0.060 + 0.013 N inches."""
    return round(0.060 + 0.013 * number, 4)


@cache
def _mixed_in(name: str) -> float:
    """The value of 1/4 or 1 1/4 in inches; 0 where the fraction has no value. Remembered: exact fractions are slow."""
    if any(int(part.split("/")[1]) == 0 for part in name.split() if "/" in part):
        return 0.0
    return float(sum(Fraction(part) for part in name.split()))


def _whole_number(number: int, tpi: float, inches: bool) -> tuple[float, str]:
    """Diameter in inches and name of a whole number without a mark: the listed size of those threads per inch decides."""
    numbered, plain = unified_series.sizes().get(f"#{number}"), unified_series.sizes().get(str(number))
    if not inches and numbered is not None:
        listed_inch = plain is not None and tpi in plain.series
        if tpi in numbered.series or (tpi >= 24 and not listed_inch):
            return numbered.diameter_in, numbered.name
    return float(number), str(number)


class Unified:
    """Unified inch screw threads."""

    key = KEY
    title = "Unified inch"

    designation = Designation(_DESIGNATION, re.VERBOSE | re.IGNORECASE)

    def read(self, match: re.Match[str], default_unit: str) -> ThreadCall:
        """The call as written; the size keeps its name, and a whole number is decided by the threads per inch."""
        tpi = float(match["tpi"].replace(",", ".").replace(" 1/2", ".5")) if match["tpi"] else None
        if match["number"]:
            diameter_in, name = _number_size_in(int(match["number"])), f"#{match['number']}"
        elif match["integer"]:
            diameter_in, name = _whole_number(int(match["integer"]), tpi or 0.0, inches=match["mark"] is not None)
        elif match["decimal"]:
            name = match["decimal"].replace(",", ".")
            diameter_in = float(name)
        else:
            name = (match["mixed"] or match["fraction"]).replace("-", " ")
            diameter_in = _mixed_in(name)
        return ThreadCall(
            standard=KEY,
            nominal=Size(diameter_in * MM_PER_INCH, name),
            series=(match["series"] or match["series_alone"] or match["series_before"] or "").upper() or None,
            tpi=tpi,
            thread_class=(match["class"] or match["bare_class"] or "").upper() or None,
            left_hand=bool(match["left_first"] or match["left_last"]),
            gauging=match["gauging"],
            starts=starts.count(None, None, match["starts"]),
        )

    def complete(self, call: ThreadCall) -> Answer:
        """Size, threads per inch and series checked against the series of ASME B1.1; series and class supplied."""
        if call.starts > 1:
            problem = f"{call.starts} starts: ASME B1.1 gives the limits of a single start, and the lead is not written."
            return refused(problem, "a single start", "lead, pitch and limits on the drawing")
        size = _listed_size(call)
        if size is None:
            return _no_such_size(call)
        found = _series(call, size, call.tpi) if call.tpi is not None else _only_pitch(call, size)
        if isinstance(found, Answer):
            return found
        return _with_class(call, size, found)

    def geometry(self, spec: ThreadSpec) -> ThreadGeometry:
        """Limits by the formulas of ASME B1.1 in inches, then in mm. Raises KeyError for a thread never given."""
        return _limits(spec, None)


def limits_for_engagement(spec: ThreadSpec, engagement_mm: float) -> ThreadGeometry:
    """Limits of a Unified thread for a length of engagement in mm, by the rule of ASME B1.1 (from memory).

    The printed tolerance holds to 1.5 diameters (UNC, UNF, 4, 6 and 8 threads) or from 5 to 15 pitches (all others); outside
    it is computed with the real length, and a note says so. Raises ValueError for no length, KeyError for another thread.
    """
    if spec.tpi is None or spec.standard != KEY:
        raise KeyError(spec.designation)
    if engagement_mm <= 0:
        raise ValueError("A length of engagement is more than nothing.")
    engagement_in, major_in = engagement_mm / MM_PER_INCH, round(spec.nominal.mm / MM_PER_INCH, 5)
    low_in, high_in = asme_b1_1.engagement_range_in(major_in, spec.tpi, spec.series)
    return _limits(spec, None if low_in - 1e-9 <= engagement_in <= high_in + 1e-9 else engagement_in)


def _limits(spec: ThreadSpec, engagement_in: float | None) -> ThreadGeometry:
    """Limits for the standard's own length of engagement (None) or another one."""
    if spec.tpi is None:
        raise KeyError(spec.designation)
    major_in, j_form = round(spec.nominal.mm / MM_PER_INCH, 5), spec.series.startswith("UNJ")
    standard_in = asme_b1_1.standard_engagement_in(major_in, spec.tpi, spec.series)
    limits = asme_b1_1.unified_limits(major_in, spec.tpi, spec.thread_class, engagement_in or standard_in, j_form)
    notes: list[str] = []
    if engagement_in is not None:
        notes.append(f"Pitch diameter tolerance computed for an engagement of {engagement_in:.3f} in (ASME B1.1).")
    elif spec.series in ("UNS", "UNJS"):
        notes.append("Special thread: limits computed by the formulas of ASME B1.1 for an engagement of 9 pitches.")
    if j_form:
        notes.append(
            "UNJ: least minor diameter D - 0.97428 P, else as UN class 3B, tap and thread plugs too (B1.15, from memory)."
        )
    if limits.minor_in != limits.minor_other_in:
        low, high = limits.minor_other_in
        notes.append(f"Older charts print the minor diameter as {low:.3f} to {high:.3f} in (rounded twice).")
    return ThreadGeometry(
        spec=spec,
        basic_major_mm=spec.nominal.mm,
        basic_pitch_mm=limits.basic_pitch_in * MM_PER_INCH,
        basic_minor_mm=limits.basic_minor_in * MM_PER_INCH,
        major=Limits(spec.nominal.mm, None),
        pitch=Limits(limits.pitch_in[0] * MM_PER_INCH, limits.pitch_in[1] * MM_PER_INCH),
        minor=Limits(limits.minor_in[0] * MM_PER_INCH, limits.minor_in[1] * MM_PER_INCH),
        cites=_CITES_J if j_form else _CITES,
        profile="J" if j_form else "60deg",
        notes=tuple(notes),
    )


_CITES = (Cite("ASME B1.1", "2019", "formulas for tolerances and rounding", Standing.CALCULATED),)
_CITES_J = (*_CITES, Cite("ASME B1.15", "1995", "", Standing.FROM_MEMORY))


@dataclass(frozen=True, slots=True)
class _Found:
    """Series and threads per inch settled, with what was supplied and what is to be confirmed."""

    series: str
    tpi: float
    supplied: tuple[Supplied, ...] = ()
    questions: tuple[tuple[str, str, str], ...] = ()


def _listed_size(call: ThreadCall) -> UnifiedSize | None:
    """The size of ASME B1.1, or a special one of its own where UNS is written and the diameter is not listed."""
    diameter_in = call.nominal.mm / MM_PER_INCH
    size = unified_series.size_of(diameter_in)
    if size is not None and size.name.startswith("#") and "/" in call.nominal.label:
        return None  # 1/8 is as large as No. 5, but 1/8-40 is a Whitworth thread and 1/8-27 a pipe thread
    if size is not None or call.series not in ("UNS", "UNJS") or not 0.06 <= diameter_in <= LARGEST_IN:
        return size
    return UnifiedSize(f"{diameter_in:.4f}".rstrip("0"), round(diameter_in, 4), {})


def _no_such_size(call: ThreadCall) -> Answer:
    diameter_in, tpi = call.nominal.mm / MM_PER_INCH, call.tpi or 0.0
    same = unified_series.size_of(diameter_in)
    near = " or ".join(size.nearest(tpi, 2) for size in ((same,) if same else unified_series.neighbours(diameter_in)))
    pipes = _pipes(call.nominal.label, diameter_in, tpi)
    if diameter_in > LARGEST_IN:
        near = "Number sizes are 0 to 6, 8, 10 and 12, inch sizes 1/4 to 6"
    suggestion = f"{pipes}? or {near}?" if pipes else f"{near}?"
    return Answer(None, problem=f"ASME B1.1 lists no thread of size {call.nominal.label}.", suggestion=suggestion)


def _pipes(name: str, diameter_in: float, tpi: float) -> str:
    """The pipe threads of that trade size and threads an inch, in words; "" when there are none."""
    if not unified_series.is_pipe_pitch(diameter_in, tpi):
        return ""
    parallel = [f"G {name}-{tpi:g}", f"Rc {name}"] if tpi in (28, 19, 14, 11) else []
    return " or ".join([*parallel, *([f"NPT {name}-{tpi:g}"] if tpi in (27, 18, 14, 11.5) else [])])


def _series(call: ThreadCall, size: UnifiedSize, tpi: float) -> _Found | Answer:
    """The series of the thread, written or supplied; an Answer with a problem where table and text disagree."""
    listed = size.series.get(tpi)
    thread = f"{size.name}-{tpi:g}"
    count = _count_run_in(call, tpi)
    if call.series is None:
        if count or listed is None or (listed == "UNS" and unified_series.is_pipe_pitch(size.diameter_in, tpi)):
            return _not_standard(thread, size, tpi, count)
        text = f"{thread}: series {listed}"
        supplied = (Supplied("THREAD-SERIES-ASSUMED", text, unified_series.cite()),)
        return _Found(listed, tpi, supplied, _special(thread, size, tpi) if listed == "UNS" else ())
    if call.series.startswith("UNR"):
        internal = call.series.replace("UNR", "UN")
        problem = f"{call.series} is for external threads only."
        return Answer(None, problem=problem, suggestion=f"A tapped hole is {internal}: {thread} {internal}-2B?")
    j_form, old = call.series.startswith("UNJ"), call.series.startswith("N")
    series = call.series.replace("UNJ", "UN") if not old else f"U{call.series}"
    if series != listed and (series != "UNS" or listed is not None):
        return _contradiction(thread, call.series, series, size, tpi, count)
    questions: tuple[tuple[str, str, str], ...] = ()
    if series == "UNS":
        questions = _special(thread, size, tpi)
    if old:
        problem = f"{call.series} is the American National series, which Unified {series} replaced."
        questions = (*questions, ("THREAD-SERIES-OLD", problem, f"{thread} {series}?"))
    return _Found(series.replace("UN", "UNJ", 1) if j_form else series, tpi, questions=questions)


def _only_pitch(call: ThreadCall, size: UnifiedSize) -> _Found | Answer:
    """1/4 UNC without its threads per inch: the table has one pitch for the size and series, which is supplied."""
    pitches = [tpi for tpi, name in size.series.items() if name == (call.series or "").replace("J", "")]
    if not pitches:
        problem = f"ASME B1.1 lists no {call.series} of size {size.name}."
        return Answer(None, problem=problem, suggestion=f"{size.nearest(0)}?")
    whole, _, fraction = call.nominal.label.partition(" ")
    alone = unified_series.sizes().get(fraction)
    if alone is not None and whole != "1":
        one = next((f"{whole}X {fraction}-{tpi:g} {name}" for tpi, name in alone.series.items() if name == call.series), "")
        problem = f"{call.nominal.label} {call.series} may be a size or a count run into one."
        return Answer(None, problem=problem, suggestion=f"{one}, or {size.name}-{pitches[0]:g} {call.series}?")
    text = f"{size.name} {call.series}: {pitches[0]:g} threads per inch"
    return _Found(call.series or "", pitches[0], (Supplied("THREAD-PITCH-ASSUMED", text, unified_series.cite()),))


def _special(thread: str, size: UnifiedSize, tpi: float) -> tuple[tuple[str, str, str], ...]:
    standard = f", or {size.nearest(tpi)}?" if size.series else "."
    problem = f"{thread} UNS is a special thread: limits are computed by the formulas of ASME B1.1."
    return (("THREAD-SERIES-SPECIAL", problem, f"Confirm limits, tap and gauges{standard}"),)


def _count_run_in(call: ThreadCall, tpi: float) -> str:
    """ "2 1/4-20" may be two holes 1/4-20: that reading, where the fraction alone has such a standard thread; else ""."""
    whole, _, fraction = call.nominal.label.partition(" ")
    size = unified_series.sizes().get(fraction)
    if size is None or size.series.get(tpi) not in ("UNC", "UNF", "UNEF"):
        return ""
    return f"{whole}X {fraction}-{tpi:g} {size.series[tpi]}"


def _not_standard(thread: str, size: UnifiedSize, tpi: float, count: str) -> Answer:
    near = size.nearest(tpi)
    if count:
        series = size.series.get(tpi)
        text = f"{thread} {series}" if series else near
        return Answer(None, problem=f"{thread} may be a size or a count run into one.", suggestion=f"{count}, or {text}?")
    if pipes := _pipes(size.name, size.diameter_in, tpi):
        problem = f"{thread} is no standard Unified thread, but {tpi:g} threads per inch is a pipe thread of that size."
        return Answer(None, problem=problem, suggestion=f"{pipes}? or {near}?")
    return Answer(None, problem=f"ASME B1.1 lists no {thread}.", suggestion=f"{near}? A special thread is written UNS.")


def _contradiction(thread: str, written: str, series: str, size: UnifiedSize, tpi: float, count: str) -> Answer:
    listed = size.series.get(tpi)
    if listed is None or count:
        return _not_standard(thread, size, tpi, count)
    form = "UNJ" if written.startswith("UNJ") else "UN"
    others = [f"{size.name}-{other:g} {written}" for other, name in size.series.items() if name == series != "UN"]
    choices = " or ".join([f"{thread} {listed.replace('UN', form, 1)}", *others[:2]])
    problem = f"{thread} is {listed.replace('UN', form, 1)} in ASME B1.1, not {written}."
    return Answer(None, problem=problem, suggestion=f"{choices}?")


def _with_class(call: ThreadCall, size: UnifiedSize, found: _Found) -> Answer:
    name = f"{size.name}-{found.tpi:g} {found.series}"
    supplied, questions, j_form = found.supplied, found.questions, found.series.startswith("UNJ")
    default = "3B" if j_form else "2B"
    text = call.thread_class
    if text is None:
        text = default
        cite = Cite("ASME B1.15" if j_form else "ASME B1.1", "1995" if j_form else "2019", "classes", Standing.FROM_MEMORY)
        supplied = (*supplied, Supplied("THREAD-CLASS-ASSUMED", f"{name}: class {text}", cite))
    elif len(text) == 1:
        problem = f"Class {text} without a letter is of the American National threads, before 1949."
        text = f"{min(int(text), 3)}B" if not j_form else default
        questions = (*questions, ("THREAD-CLASS-OLD", problem, f"{name}-{text}?"))
    if text.endswith("A"):
        problem = f"{text} is a class of external threads."
        return Answer(None, problem=problem, suggestion=f"A tapped hole needs 1B, 2B or 3B: {name}-{text[0]}B?")
    if j_form and text != "3B":
        return Answer(None, problem=f"UNJ internal threads have class 3B only, not {text}.", suggestion=f"{name}-3B?")
    if text == "1B" and (found.series not in ("UNC", "UNF") or size.diameter_in < 0.25):
        problem = f"ASME B1.1 lists class 1B for UNC and UNF from 1/4 in only, not for {name}."
        questions = (*questions, ("THREAD-CLASS-UNUSUAL", problem, f"{name}-2B?"))
    spec = ThreadSpec(
        standard=KEY,
        series=found.series,
        name=name,
        designation=f"{name}-{text}",
        nominal=Size(size.diameter_in * MM_PER_INCH, size.name),
        pitch_mm=MM_PER_INCH / found.tpi,
        tpi=found.tpi,
        thread_class=text,
        left_hand=call.left_hand,
    )
    if call.left_hand:
        spec = replace(spec, designation=f"{spec.designation}-LH")
    return Answer(spec, supplied, questions=questions)


STANDARD = Unified()
