"""Jointing pipe threads Rc (taper 1:16) and Rp (parallel), ISO 7-1, 55 degrees; the external R; the names PT, PS, BSPT."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from holesched.notes import Cite, Standing
from holesched.standards.sizes import Limits
from holesched.standards.threads import inch_sizes as inch
from holesched.standards.threads.answers import refused
from holesched.standards.threads.base import Answer, Designation, Supplied, ThreadCall, ThreadGeometry, ThreadSpec
from holesched.standards.threads.iso_228 import SIZE, pipe_size
from holesched.standards.threads.npt import GAUGE_NOTE, TAPER
from holesched.tables import table

_LETTERS = r"[Rr][cC]|[Rr][pP]|PT|PS|BSPT"
_DESIGNATION = rf"""
    (?: {inch.WORD_START}
        (?: (?P<letters>{_LETTERS})[ ]?(?P<size>{SIZE}) | (?P<external>R)[ ]?(?P<size_external>{inch.FRACTION}) )
        (?i:{inch.MARK}) (?:-(?P<tpi>28|19|14|11)(?![\d./]))?
      | {inch.START}(?P<size_first>{inch.INCH})(?i:{inch.MARK})(?:{inch.SEPARATOR}(?P<tpi_first>28|19|14|11))?
        [ -]?(?P<letters_last>(?i:B\.?S\.?P\.?T\.?|BSP[ ]TAPER)|PT|PS)(?![A-Za-z])
    )
    (?i:{inch.HAND}) {inch.END}
"""
_OLD = {"PT": "Rc", "PS": "Rp", "BSPT": "Rc", "BSP TAPER": "Rc"}


@cache
def rows() -> Mapping[str, Mapping[str, str]]:
    """Sizes at the gauge plane, gauge lengths and tolerances by size, in mm."""
    return {row["size"]: row for row in table("thread_iso7.csv").rows}


class JointingPipe:
    """Rc and Rp; R is answered with what the hole must be."""

    key = "iso-7"
    title = "ISO 7 jointing pipe"
    designation = Designation(_DESIGNATION)

    def read(self, match: re.Match[str], default_unit: str) -> ThreadCall:
        """The call of a match; sizes are always inches of the pipe."""
        letters = (inch.one_of(match, "letters", "external", "letters_last") or "").replace(".", "")
        tpi = inch.one_of(match, "tpi", "tpi_first")
        return ThreadCall(
            self.key,
            pipe_size(inch.one_of(match, "size", "size_external", "size_first") or "0"),
            series=letters.capitalize() if letters[0] in "Rr" else letters.upper(),
            tpi=None if tpi is None else float(tpi),
            left_hand=match.group("hand") is not None,
        )

    def complete(self, call: ThreadCall) -> Answer:
        """Old names become Rc or Rp and say so; R is external and is refused."""
        size, written = call.nominal.label, call.series or "Rc"
        row = rows().get(size)
        if written == "R":
            problem = "R is the external taper thread; a hole for it is taper (Rc) or parallel (Rp)."
            return refused(problem, f"Rc {size}", f"Rp {size}")
        series = _OLD.get(written, written)
        if row is None:
            near = [f"{series} {name}" for name in inch.nearest(call.nominal, tuple(rows()))]
            return refused(f"ISO 7-1 has no {series} of size {size}.", *near)
        tpi = float(row["threads_per_inch"])
        if call.tpi is not None and call.tpi != tpi:
            problem = f"{series} {size} has {tpi:g} threads per inch, not {call.tpi:g}."
            return refused(problem, f"{series} {size}")
        name = f"{series} {size}"
        spec = ThreadSpec(
            self.key, series, name, f"{name}{' LH' if call.left_hand else ''}", call.nominal,
            inch.MM_PER_INCH / tpi, tpi, "", left_hand=call.left_hand,
        )  # fmt: skip
        return Answer(spec, _read_as(written, series, size))

    def geometry(self, spec: ThreadSpec) -> ThreadGeometry:
        """Sizes at the gauge plane, all three diameters give or take the diametral tolerance (ISO 7-1, Tables 1 and 2).

        The gauge plane of an internal thread lies half a pitch behind its face (ISO 7-1:1994, 3.3, for the start of the
        thread that a chamfer removes); for Rc the tolerance is that of the plane's position
        (1 1/4 turns, 1 1/2 from size 2 1/2 on) times the taper, for Rp it is printed.
        """
        row = rows()[spec.nominal.label]
        major, pitch, minor = (float(row[name]) for name in ("major_mm", "pitch_diameter_mm", "minor_mm"))
        either_way = float(row["diameter_tolerance_mm"])
        taper = TAPER if spec.series == "Rc" else 0.0
        notes = (
            GAUGE_NOTE,
            "Sizes hold at the gauge plane, half a pitch below the face of the part; the thread narrows 1:16 on its way in.",
            f"The taper plug enters {row['gauge_length_mm']} mm by hand, give or take {row['gauge_plane_tolerance_mm']} mm.",
        )
        return ThreadGeometry(
            spec,
            major,
            pitch,
            minor,
            major=_around(major, either_way),
            pitch=_around(pitch, either_way),
            minor=_around(minor, either_way),
            cites=(table("thread_iso7.csv").cite(),),
            profile="55deg",
            taper=taper,
            notes=notes
            if taper
            else ("Parallel thread for a taper external thread: proved by the taper gauge, not by that of G.",),
        )


def _around(basic: float, either_way: float) -> Limits:
    return Limits(round(basic - either_way, 3), round(basic + either_way, 3))


def _read_as(written: str, series: str, size: str) -> tuple[Supplied, ...]:
    if written == series:
        return ()
    old = written in ("PT", "PS")
    text = f"{written} {size} read as {series} {size}: " + (
        f"{written} is the old JIS mark" if old else "the taper British Standard pipe thread"
    )
    cite = Cite("JIS B 0203" if old else "BS 21", standing=Standing.FROM_MEMORY)
    return (Supplied("THREAD-SERIES-ASSUMED", text, cite),)


STANDARD = JointingPipe()
