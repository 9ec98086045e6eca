"""American taper pipe threads: NPT (ASME B1.20.1), dryseal NPTF and PTF-SAE SHORT (ASME B1.20.3), taper 1:16, 60 degrees."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from holesched.notes import Cite, Standing
from holesched.standards.sizes import Limits, Size
from holesched.standards.threads import inch_sizes as inch
from holesched.standards.threads.answers import refused
from holesched.standards.threads.base import Answer, Designation, Supplied, ThreadCall, ThreadGeometry, ThreadSpec
from holesched.tables import table

TAPER = 1 / 16
"""Diameter per length."""
SHARP_V = 0.866025
"""Height of the sharp V of a 60 degree thread, per pitch."""
BASIC_HEIGHT = 0.8
"""Greatest height of the truncated thread, per pitch (ASME B1.20.1, clause 2.4)."""
TURNS = 1.0
"""How far the gauge plane may lie off, in turns (ASME B1.20.1, clause 8)."""
GAUGE_NOTE = (
    "One turn is 1 pitch along the axis and 1/16 pitch on the diameter. Tapped, the depth is the size: stop by gauge, not "
    "by dial. Milled, the radius of the path is: open it until the plug enters to its mark."
)

ANPT = "ANPT"
"""NPT for aircraft: its basic sizes, proved by more gauges."""
ANPT_CITE = Cite("SAE AS71051", "", "ANPT: basic dimensions of NPT, more gauges", Standing.FROM_MEMORY)
SHORT = "PTF-SAE SHORT"
"""NPTF with one thread less at the entry of the hole (ASME B1.20.3:1976, 1.4.1.2)."""
DRYSEAL = ("NPTF", SHORT)
TAPER_SERIES = ("NPT", ANPT, *DRYSEAL)
SHORT_CITE = Cite("ASME B1.20.3", "1976", "1.4.1.2: NPTF less one thread at the entry", Standing.CALCULATED)

_SERIES = r"(?:[AFM]?N\.?P\.?T\.?F?|PTF[ -]?SAE[ -]SHORT)"
_DRYSEAL = r"(?:DRYSEAL[ ](?=N\.?P\.?T\.?F|PTF))?"
_DESIGNATION = rf"""
    (?: {inch.START}(?P<size>{inch.INCH}){inch.MARK} (?:{inch.SEPARATOR}(?P<tpi>11[ ]1/2|\d+(?:\.\d+)?))?
        (?:[ ]?-[ ]?|[ ])? {_DRYSEAL} (?P<series>{_SERIES})
      | {inch.WORD_START}{_DRYSEAL}(?P<series_first>NPTF?)(?:[ ]?-[ ]?|[ ])?(?P<size_last>{inch.INCH}){inch.MARK}
        (?:-(?P<tpi_last>27|18|14|11\.5|11[ ]1/2|8)(?![\d./]))?
    )
    (?:(?<=F)-(?P<class>[12])(?![\d./]){inch.NOT_COUNT})? {inch.HAND} {inch.END}
"""


@cache
def rows() -> Mapping[str, Mapping[str, str]]:
    """The basic dimensions by pipe size, in inches as printed: rows()["1/4"]["E1_in"] is "0.49163"."""
    return {row["size"]: row for row in table("thread_npt.csv").rows}


@cache
def _truncation(series: str, tpi: float) -> Mapping[str, str]:
    for row in table("thread_npt_truncation.csv").rows:
        if row["series"] == series and float(row["threads_per_inch"]) == tpi:
            return row
    raise KeyError((series, tpi))


def row_cite(row: Mapping[str, str], place: str = "") -> Cite:
    """The source of one pipe size."""
    return table("thread_npt.csv").cite(place)._replace(standing=Standing(row["standing"]))


def cut_off_mm(spec: ThreadSpec) -> float:
    """What a thread lacks of NPT's or NPTF's length at the entry: one pitch for PTF-SAE SHORT, else nothing."""
    return spec.pitch_mm if spec.series == SHORT else 0.0


def plug_depth_mm(spec: ThreadSpec) -> float:
    """How far the L1 plug enters by hand: L1, less what the thread lacks at its entry. Raises KeyError for another size."""
    return float(rows()[spec.nominal.label]["L1_in"]) * inch.MM_PER_INCH - cut_off_mm(spec)


class TaperPipe:
    """NPT, ANPT, NPTF and PTF-SAE SHORT."""

    key = "npt"
    title = "American taper pipe"
    designation = Designation(_DESIGNATION, re.VERBOSE | re.IGNORECASE)

    def read(self, match: re.Match[str], default_unit: str) -> ThreadCall:
        """The call of a match; sizes are always inches of the pipe."""
        written = inch.inch_size(inch.one_of(match, "size", "size_last") or "0")
        row = rows().get(written.label)
        if row is not None:
            written = Size(float(row["outside_diameter_in"]) * inch.MM_PER_INCH, written.label)
        tpi = inch.one_of(match, "tpi", "tpi_last")
        series = (inch.one_of(match, "series", "series_first") or "").replace(".", "").upper()
        series = SHORT if series.startswith("PTF") else series
        return ThreadCall(
            self.key,
            written,
            series=series,
            tpi=None if tpi is None else inch.threads_per_inch(tpi),
            thread_class=match.group("class"),
            left_hand=match.group("hand") is not None,
        )

    def complete(self, call: ThreadCall) -> Answer:
        """Threads per inch by the table; class 1 for NPTF where none is written."""
        size, series = call.nominal.label, (call.series or "NPT").removeprefix("F")
        if series.startswith("M"):
            return refused("MNPT is the external pipe thread; a hole is NPT.", f"{size} NPT")
        if series not in TAPER_SERIES:
            return refused(f"{series} is no thread that any standard here names.", f"{size} ANPT", f"{size} NPTF")
        row = rows().get(size)
        if row is None:
            return self._no_such_size(call, series)
        tpi = float(row["threads_per_inch"])
        if call.tpi is not None and call.tpi != tpi:
            problem = f"{series} {size} has {tpi:g} threads per inch, not {call.tpi:g}."
            return refused(problem, f"{size}-{tpi:g} {series}")
        if series in ("NPT", ANPT) and call.thread_class:
            problem = "NPT has no class; 1 and 2 are classes of the dryseal thread NPTF."
            return refused(problem, f"{size}-{tpi:g} NPT", f"{size}-{tpi:g} NPTF-{call.thread_class}")
        return Answer(*self._spec(call, series, tpi))

    def _no_such_size(self, call: ThreadCall, series: str) -> Answer:
        size = call.nominal.label
        count = inch.count_and_size(size, tuple(rows()))
        near = [f"{name} {series}" for name in inch.nearest(call.nominal, tuple(rows()))]
        return refused(f"There is no {series} of size {size}.", *([f"{count} {series}"] if count else near))

    def _spec(self, call: ThreadCall, series: str, tpi: float) -> tuple[ThreadSpec, tuple[Supplied, ...]]:
        name = f"{call.nominal.label}-{tpi:g} {series}"
        supplied: tuple[Supplied, ...] = ()
        thread_class = (call.thread_class or "1") if series == "NPTF" else ""
        if series == ANPT:
            text = f"{name}: limits of NPT, whose basic sizes it has; prove it with the gauges of its own specification"
            supplied = (Supplied("THREAD-LIMITS-ASSUMED", text, ANPT_CITE),)
        if series == SHORT:
            text = f"{name}: limits of NPTF from one pitch in, by the definition of the standard; check them before cutting"
            supplied = (Supplied("THREAD-LIMITS-ASSUMED", text, SHORT_CITE),)
        if series == "NPTF" and call.thread_class is None:
            cite = Cite("ASME B1.20.3", "1976", "clause 1.4.2", Standing.FROM_MEMORY)
            text = f"{name}: class 1 (crest and root truncation not inspected); class 2 has to be named"
            supplied = (Supplied("THREAD-CLASS-ASSUMED", text, cite),)
        designation = f"{name}{'-' if thread_class else ''}{thread_class}{'-LH' if call.left_hand else ''}"
        pitch = inch.MM_PER_INCH / tpi
        spec = ThreadSpec(
            self.key, series, name, designation, call.nominal, pitch, tpi, thread_class, left_hand=call.left_hand
        )
        return spec, supplied

    def geometry(self, spec: ThreadSpec) -> ThreadGeometry:
        """Sizes at the gauge plane, which is the face of the part: E1 give or take one turn of the L1 plug.

        ASME B1.20.1, Table 2 and clause 8: pitch diameter E1 +- P/16; minor diameter by the truncation of the crest,
        root by that of the root (Table 1, for NPTF ASME B1.20.3, Table 1). PTF-SAE SHORT is NPTF without its first thread,
        so its face stands where NPTF has its second: one pitch less on L1, a sixteenth of it less on the diameters.
        """
        row, pitch = rows()[spec.nominal.label], spec.pitch_mm
        cut = _truncation("NPTF" if spec.series in DRYSEAL else "NPT", float(row["threads_per_inch"]))
        e1 = float(row["E1_in"]) * inch.MM_PER_INCH - cut_off_mm(spec) * TAPER
        one_turn = TURNS * pitch * TAPER

        def minor(crest: str) -> float:
            return e1 - (SHARP_V - 2 * float(cut[crest])) * pitch

        def major(root: str) -> float:
            return e1 + (SHARP_V - 2 * float(cut[root])) * pitch

        return ThreadGeometry(
            spec,
            basic_major_mm=spec.nominal.mm,
            basic_pitch_mm=e1,
            basic_minor_mm=e1 - BASIC_HEIGHT * pitch,
            major=Limits(major("root_most") - one_turn, None),
            pitch=Limits(e1 - one_turn, e1 + one_turn),
            minor=Limits(minor("crest_least") - one_turn, minor("crest_most") + one_turn),
            cites=(
                row_cite(row),
                table("thread_npt_truncation.csv").cite(),
                *([SHORT_CITE] if spec.series == SHORT else [ANPT_CITE] if spec.series == ANPT else []),
            ),
            taper=TAPER,
            notes=(
                GAUGE_NOTE,
                "Pitch and minor diameter hold at the gauge plane, the face of the part; below it the thread narrows 1:16.",
                f"The L1 plug enters {plug_depth_mm(spec):.2f} mm by hand, give or take one turn.",
                "Major diameter: outside diameter of the pipe; the standard sets the root no largest size "
                f"(at the gauge plane it is {major('root_least'):.3f} mm when sharpest).",
            ),
        )


STANDARD = TaperPipe()
