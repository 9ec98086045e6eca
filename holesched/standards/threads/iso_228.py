"""Fastening pipe threads G (ISO 228-1), parallel, 55 degrees; and the old or unclear names PF, BSPP and BSP."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from holesched.notes import Cite, Standing
from holesched.standards.sizes import Limits, Size
from holesched.standards.threads import inch_sizes as inch
from holesched.standards.threads.answers import doubt, refused
from holesched.standards.threads.base import Answer, Designation, Supplied, ThreadCall, ThreadGeometry, ThreadSpec
from holesched.tables import table

SIZE = r"(?:[1-6][ -]\d/\d|\d+/(?:16|8|4|2)|[1-6](?![\d.,/]))"
"""A pipe size as it follows its letters: 1/16 to 6 (a plain number only when nothing makes it a decimal)."""

UNCLEAR = ("BSP", "GAS", "GAZ")
"""Names of the British pipe thread that leave parallel or taper open."""

_LETTERS_FIRST = (
    rf"(?P<letters>G|PF|(?i:BSPP|BSPF|BSP))[ ]?(?P<size>{SIZE})(?i:{inch.MARK})(?:-(?P<tpi>28|19|14|11)(?![\d./]))?"
)
_SIZE_FIRST = (
    rf"{inch.START}(?P<size_first>{inch.INCH})(?i:{inch.MARK})(?:{inch.SEPARATOR}(?P<tpi_first>28|19|14|11))?"
    r"[ -]?(?P<letters_last>(?i:B\.?S\.?P\.?P\.?|B\.?S\.?P\.?F\.?|BSP[ ]PARALLEL|B\.?S\.?P\.?|GA[SZ])|PF)(?![A-Za-z])"
)
_DESIGNATION = rf"""
    (?: {inch.WORD_START}{_LETTERS_FIRST} | {_SIZE_FIRST} )
    (?:[ -]?(?P<class>[AB])(?![A-Za-z0-9/']))? (?i:{inch.HAND}) {inch.END}
"""


@cache
def rows() -> Mapping[str, Mapping[str, str]]:
    """Basic diameters and tolerances by size, in mm as printed."""
    return {row["size"]: row for row in table("thread_g.csv").rows}


def pipe_size(written: str) -> Size:
    """The size with the major diameter of its thread, or plain inches where no such pipe thread is listed."""
    size = inch.inch_size(written)
    row = rows().get(size.label)
    return size if row is None else Size(float(row["major_mm"]), size.label)


class FasteningPipe:
    """G; PF and BSPP are read as G, BSP or GAS alone as G with a question."""

    key = "iso-228"
    title = "ISO 228 fastening pipe"
    designation = Designation(_DESIGNATION)

    def read(self, match: re.Match[str], default_unit: str) -> ThreadCall:
        """The call of a match; sizes are always inches of the pipe."""
        tpi = inch.one_of(match, "tpi", "tpi_first")
        return ThreadCall(
            self.key,
            pipe_size(inch.one_of(match, "size", "size_first") or "0"),
            series=(inch.one_of(match, "letters", "letters_last") or "").replace(".", "").upper(),
            tpi=None if tpi is None else float(tpi),
            thread_class=match.group("class"),
            left_hand=match.group("hand") is not None,
        )

    def complete(self, call: ThreadCall) -> Answer:
        """One internal class; A and B are classes of the external thread."""
        size, series = call.nominal.label, call.series or "G"
        row = rows().get(size)
        if row is None:
            near = [f"G {name}" for name in inch.nearest(call.nominal, tuple(rows()))]
            count = inch.count_and_size(size, tuple(rows()))
            return refused(f"There is no pipe thread of size {size}.", *([f"{count} {series}"] if count else near))
        tpi = float(row["threads_per_inch"])
        if call.tpi is not None and call.tpi != tpi:
            return refused(f"G {size} has {tpi:g} threads per inch, not {call.tpi:g}.", f"G {size}")
        if call.thread_class:
            problem = f"Class {call.thread_class} belongs to the external thread; the internal thread has no class letter."
            return refused(problem, f"G {size}")
        name = f"G {size}"
        spec = ThreadSpec(
            self.key, "G", name, f"{name}{' LH' if call.left_hand else ''}", call.nominal,
            inch.MM_PER_INCH / tpi, tpi, "", left_hand=call.left_hand,
        )  # fmt: skip
        return Answer(spec, _read_as(series, size), questions=_unclear(series, size))

    def geometry(self, spec: ThreadSpec) -> ThreadGeometry:
        """ISO 228-1, Table 1: basic diameters are the smallest, tolerances are plus."""
        row = rows()[spec.nominal.label]
        major, pitch, minor = (float(row[name]) for name in ("major_mm", "pitch_diameter_mm", "minor_mm"))
        return ThreadGeometry(
            spec,
            major,
            pitch,
            minor,
            major=Limits(major, None),
            pitch=Limits(pitch, round(pitch + float(row["pitch_tolerance_mm"]), 3)),
            minor=Limits(minor, round(minor + float(row["minor_tolerance_mm"]), 3)),
            cites=(table("thread_g.csv").cite(),),
            profile="55deg",
            notes=("Not pressure-tight on the thread: the joint seals on a face or a washer, which needs a spotface.",),
        )


def _read_as(series: str, size: str) -> tuple[Supplied, ...]:
    if series == "G" or series in UNCLEAR:
        return ()
    text = f"{series} {size} read as G {size}: " + (
        "PF is the old JIS mark of the parallel pipe thread"
        if series == "PF"
        else "the parallel British Standard pipe thread"
    )
    standard = "JIS B 0202" if series == "PF" else "BS 2779"
    return (Supplied("THREAD-SERIES-ASSUMED", text, Cite(standard, standing=Standing.FROM_MEMORY)),)


def _unclear(series: str, size: str) -> tuple[tuple[str, str, str], ...]:
    if series not in UNCLEAR:
        return ()
    problem = f"{series} {size} does not say whether the thread is parallel (G) or taper (Rc); taken as G meanwhile."
    return doubt("THREAD-SERIES-UNCLEAR", problem, [f"G {size}", f"Rc {size}"])


STANDARD = FasteningPipe()
