"""American straight pipe threads made as holes, 60 degrees: NPSM, NPSC, NPSL (ASME B1.20.1), NPSF, NPSI
(ASME B1.20.3), NPSH (ASME B1.20.7)."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from functools import cache

from holesched.notes import Cite, Standing
from holesched.standards.sizes import Limits
from holesched.standards.threads import inch_sizes as inch
from holesched.standards.threads import npt
from holesched.standards.threads.answers import refused
from holesched.standards.threads.base import Answer, Designation, Supplied, ThreadCall, ThreadGeometry, ThreadSpec
from holesched.tables import table

ROOT_HEIGHT = 0.666025
"""Depth of the truncated straight thread, per pitch (footnote of ASME B1.20.1, Table 6)."""
HOSE_HEIGHT = 0.649519
"""Height of the hose coupling thread, per pitch: flats of P/8 at crest and root where the pitch diameter is least (ASME
B1.20.7:1991, read in a public excerpt)."""

_DESIGNATION = rf"""
    (?: {inch.START}(?P<size>{inch.INCH}){inch.MARK} (?:{inch.SEPARATOR}(?P<tpi>11[ ]1/2|\d+(?:\.\d+)?))?
        (?:[ ]?-[ ]?|[ ])? (?P<series>NPS[CFHILM])
      | {inch.WORD_START}(?P<series_first>NPS[CFHILM])(?:[ ]?-[ ]?|[ ])?(?P<size_last>{inch.INCH}){inch.MARK}
    )
    {inch.HAND} {inch.END}
"""


RECALLED = ("NPSL", "NPSH", "NPSF", "NPSI")


@cache
def rows() -> Mapping[tuple[str, str], Mapping[str, str]]:
    """Limits by (series, pipe size), in inches as printed."""
    return {(row["series"], row["size"]): row for row in table("thread_nps.csv").rows}


class StraightPipe:
    """NPSM for free-fitting mechanical joints, NPSC for couplings, NPSL for locknuts, NPSH for hose couplings;
    dryseal NPSF for fuel lines, in soft metal, and NPSI for harder or thicker parts."""

    key = "nps"
    title = "American straight pipe"
    designation = Designation(_DESIGNATION, re.VERBOSE | re.IGNORECASE)

    def read(self, match: re.Match[str], default_unit: str) -> ThreadCall:
        """The call of a match; sizes are always inches of the pipe."""
        written = inch.inch_size(inch.one_of(match, "size", "size_last") or "0")
        row = npt.rows().get(written.label)
        if row is not None:
            written = replace(written, mm=float(row["outside_diameter_in"]) * inch.MM_PER_INCH)
        tpi = match.group("tpi")
        return ThreadCall(
            self.key,
            written,
            series=(inch.one_of(match, "series", "series_first") or "").upper(),
            tpi=None if tpi is None else inch.threads_per_inch(tpi),
            left_hand=match.group("hand") is not None,
        )

    def complete(self, call: ThreadCall) -> Answer:
        """Threads per inch by the table; there is one internal class. Limits from memory are to be initialled."""
        size, series = call.nominal.label, call.series or "NPSM"
        row = rows().get((series, size))
        if row is None:
            offered = tuple(name for kind, name in rows() if kind == series)
            near = [f"{name} {series}" for name in inch.nearest(call.nominal, offered)]
            return refused(f"There is no {series} of size {size} in the table.", *near)
        tpi = float(row["threads_per_inch"])
        if call.tpi is not None and call.tpi != tpi:
            problem = f"{series} {size} has {tpi:g} threads per inch, not {call.tpi:g}."
            return refused(problem, f"{size}-{tpi:g} {series}")
        name = f"{size}-{tpi:g} {series}"
        designation = f"{name}{'-LH' if call.left_hand else ''}"
        pitch = inch.MM_PER_INCH / tpi
        return Answer(
            ThreadSpec(self.key, series, name, designation, call.nominal, pitch, tpi, "", left_hand=call.left_hand),
            _recalled(name, row),
        )

    def geometry(self, spec: ThreadSpec) -> ThreadGeometry:
        """Limits of the table (ASME B1.20.1, Tables 4 and 6; NPSF, NPSI: B1.20.3; NPSH: B1.20.7); basic pitch diameter is
        E1 of NPT."""
        row = rows()[(spec.series, spec.nominal.label)]
        basic = npt.rows()[spec.nominal.label]
        e1 = float(basic["E1_in"]) * inch.MM_PER_INCH
        pitch = _limits(row["pitch_min_in"], row["pitch_max_in"])
        height = HOSE_HEIGHT if spec.series == "NPSH" else ROOT_HEIGHT
        major = Limits(pitch.min_mm + height * spec.pitch_mm, None)
        notes = [
            f"The table sets no limit to the major diameter; its smallest size is from the thread's depth, {height:.3f} P."
        ]
        if spec.series == "NPSH" and pitch.max_mm is not None:
            most = major.min_mm + pitch.max_mm - pitch.min_mm + 2 / 9 * height * spec.pitch_mm
            major = Limits(major.min_mm, round(most, 6))
            notes = ["Major diameter by the standard's formula: the tolerance of the pitch diameter and 2/9 of the height."]
        if not row["minor_max_in"]:
            notes.append("The table sets no largest minor diameter: it varies with the pitch diameter.")
        return ThreadGeometry(
            spec,
            basic_major_mm=spec.nominal.mm,
            basic_pitch_mm=e1,
            basic_minor_mm=float(row["minor_min_in"]) * inch.MM_PER_INCH,
            major=major,
            pitch=pitch,
            minor=_limits(row["minor_min_in"], row["minor_max_in"]),
            cites=(_cite(row),),
            notes=tuple(notes),
        )


def _recalled(name: str, row: Mapping[str, str]) -> tuple[Supplied, ...]:
    """Threads whose limits no print confirms: said on the sheet, for a person to initial."""
    if row["series"] not in RECALLED:
        return ()
    text = f"{name}: limits from memory, in line with the standard's formula; check them against the standard before cutting"
    return (Supplied("THREAD-LIMITS-ASSUMED", text, _cite(row)),)


def _cite(row: Mapping[str, str]) -> Cite:
    if row["series"] == "NPSH":
        source = Cite("ASME B1.20.7", "1991", "hose coupling threads")
    elif row["series"] in ("NPSF", "NPSI"):
        source = Cite("ASME B1.20.3", "1976", "straight dryseal threads")
    elif row["series"] == "NPSL":
        source = Cite("ASME B1.20.1", "1983", "Table 6")
    else:
        source = Cite("ASME B1.20.1", "1983 (R2001)", "Tables 4 and 6")
    return source._replace(standing=Standing(row["standing"]))


def _limits(least: str, most: str) -> Limits:
    return Limits(float(least) * inch.MM_PER_INCH, float(most) * inch.MM_PER_INCH if most else None)


STANDARD = StraightPipe()
