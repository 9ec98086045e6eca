"""Whitworth threads BSW and BSF (BS 84), 55 degrees."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from functools import cache

from holesched.notes import Cite, Standing
from holesched.standards.sizes import Limits
from holesched.standards.threads import inch_sizes as inch
from holesched.standards.threads.answers import doubt, refused
from holesched.standards.threads.base import Answer, Designation, Supplied, ThreadCall, ThreadGeometry, ThreadSpec
from holesched.tables import table

DEPTH = 0.640327
"""Depth of the Whitworth thread, per pitch."""
CLASSES = {"close": 2 / 3, "medium": 1.0, "normal": 1.5}
"""Share of T that the effective diameter of an internal thread may have (BS 84, tolerance formulas)."""

_SERIES = r"B\.?S\.?W\b\.?|B\.?S\.?F\b\.?|WHIT(?:WORTH)?\b\.?"
_DESIGNATION = rf"""
    (?: {inch.START}(?P<size>{inch.INCH}){inch.MARK} (?:{inch.SEPARATOR}(?P<tpi>\d+(?:\.\d+)?))?
        (?:[ ]?-[ ]?|[ ])? (?P<series>{_SERIES})
      | {inch.WORD_START}(?P<series_first>{_SERIES})[ ]?(?P<size_last>{inch.INCH}){inch.MARK}
        (?:-(?P<tpi_last>\d+(?:\.\d+)?)(?![\d./]){inch.NOT_COUNT})?
      | {inch.WORD_START}(?P<mark>W)[ ]?(?P<size_marked>{inch.FRACTION}){inch.MARK}
        (?:[ ]?[-x][ ]?(?P<tpi_marked>\d+(?:\.\d+)?)(?![\d./]){inch.NOT_COUNT})?
    )
    (?:[ ,-]{{1,3}}(?P<class>CLOSE|MEDIUM|NORMAL|FREE)\b)? {inch.HAND} {inch.END}
"""


@cache
def sizes() -> Mapping[tuple[str, str], float]:
    """Threads per inch by (series, size)."""
    return {(row["series"], row["size"]): float(row["threads_per_inch"]) for row in table("thread_whitworth.csv").rows}


def tolerance_in(diameter_in: float, pitch_in: float, engagement_in: float) -> float:
    """T = 0.002 cbrt(D) + 0.003 sqrt(L) + 0.005 sqrt(p), inches (BS 84, tolerance formulas)."""
    return 0.002 * math.cbrt(diameter_in) + 0.003 * math.sqrt(engagement_in) + 0.005 * math.sqrt(pitch_in)


def minor_tolerance_in(tpi: float) -> float:
    """0.2 p + 0.004 in (26 threads per inch and finer), + 0.005 (24 and 22), + 0.007 (20 and coarser); BS 84, nuts."""
    extra = 0.004 if tpi >= 26 else 0.005 if tpi > 20 else 0.007
    return 0.2 / tpi + extra


class Whitworth:
    """BSW and BSF."""

    key = "whitworth"
    title = "Whitworth"
    designation = Designation(_DESIGNATION, re.VERBOSE | re.IGNORECASE)

    def read(self, match: re.Match[str], default_unit: str) -> ThreadCall:
        """The call of a match; sizes are always inches. WHIT and W, the old mark, are kept as written."""
        tpi = inch.one_of(match, "tpi", "tpi_last", "tpi_marked")
        thread_class = match.group("class")
        return ThreadCall(
            self.key,
            inch.inch_size(inch.one_of(match, "size", "size_last", "size_marked") or "0"),
            series=(inch.one_of(match, "series", "series_first", "mark") or "").replace(".", "").upper(),
            tpi=None if tpi is None else float(tpi),
            thread_class=None if thread_class is None else thread_class.lower(),
            left_hand=match.group("hand") is not None,
        )

    def complete(self, call: ThreadCall) -> Answer:
        """Threads per inch by the table; class medium where none is written; WHIT is BSW, so is W, to be confirmed."""
        size, written = call.nominal.label, call.series or "BSW"
        series = "BSW" if written.startswith("W") else written
        tpi = sizes().get((series, size))
        if tpi is None:
            offered = tuple(name for kind, name in sizes() if kind == series)
            near = [f"{name}-{sizes()[series, name]:g} {series}" for name in inch.nearest(call.nominal, offered)]
            return refused(f"There is no {series} of size {size}.", *near)
        if call.tpi is not None and call.tpi != tpi:
            both = [f"{size}-{own:g} {kind}" for (kind, name), own in sizes().items() if name == size]
            return refused(f"{series} {size} has {tpi:g} threads per inch, not {call.tpi:g}.", *both)
        if call.thread_class == "free":
            return refused("Free is a class of bolts.", "medium", "normal")
        name = f"{size}-{tpi:g} {series}"
        thread_class = call.thread_class or "medium"
        designation = f"{name} {thread_class}{' LH' if call.left_hand else ''}"
        spec = ThreadSpec(
            self.key, series, name, designation, call.nominal, inch.MM_PER_INCH / tpi, tpi,
            thread_class, left_hand=call.left_hand,
        )  # fmt: skip
        return Answer(spec, _supplied(written, series, name, call.thread_class), questions=_unclear(written, name))

    def geometry(self, spec: ThreadSpec) -> ThreadGeometry:
        """Effective and minor diameters are basic at least, tolerances plus, for an engagement of one diameter (BS 84).

        Rounded to 0.0001 in as the tables are; the basic sizes are rounded first.
        """
        d, tpi = spec.nominal.mm / inch.MM_PER_INCH, spec.tpi or 1
        middle, minor = round(d - DEPTH / tpi, 4), round(d - 2 * DEPTH / tpi, 4)
        t = CLASSES[spec.thread_class] * tolerance_in(d, 1 / tpi, d)
        return ThreadGeometry(
            spec,
            basic_major_mm=spec.nominal.mm,
            basic_pitch_mm=middle * inch.MM_PER_INCH,
            basic_minor_mm=minor * inch.MM_PER_INCH,
            major=Limits(spec.nominal.mm, None),
            pitch=Limits(middle * inch.MM_PER_INCH, round(middle + t, 4) * inch.MM_PER_INCH),
            minor=Limits(minor * inch.MM_PER_INCH, round(minor + minor_tolerance_in(tpi), 4) * inch.MM_PER_INCH),
            cites=(Cite("BS 84", "2007", "Annex B (tolerance formulas)"), table("thread_whitworth.csv").cite()),
            profile="55deg",
            notes=("55 degree form: a unified tap of the same size and pitch must not be used.",),
        )


def _unclear(written: str, name: str) -> tuple[tuple[str, str, str], ...]:
    if written != "W":
        return ()
    problem = f"W is the old mark of Whitworth threads, among others; taken as {name} meanwhile."
    return doubt("THREAD-SERIES-UNCLEAR", problem, [name])


def _supplied(written: str, series: str, name: str, thread_class: str | None) -> tuple[Supplied, ...]:
    notes = []
    if written not in (series, "W"):
        cite = Cite("BS 84", standing=Standing.FROM_MEMORY)
        notes.append(Supplied("THREAD-SERIES-ASSUMED", f"{written} read as {series}, the coarse Whitworth series", cite))
    if thread_class is None:
        text = f"{name}: class medium, the tighter of medium and normal, so the thread meets both"
        notes.append(Supplied("THREAD-CLASS-ASSUMED", text, Cite("BS 84", "2007", "clause 5")))
    return tuple(notes)


STANDARD = Whitworth()
