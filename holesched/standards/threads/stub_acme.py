"""Stub Acme threads (ASME B1.8), 29 degrees, 0.3 of the pitch high: limits from memory, to be initialled."""

from __future__ import annotations

import re

from holesched.notes import Cite, Standing
from holesched.standards.sizes import Limits
from holesched.standards.threads import inch_sizes as inch
from holesched.standards.threads.acme import in_mm, major_limits_in, minor_at_in, pitch_tolerance_in, sizes
from holesched.standards.threads.answers import refused
from holesched.standards.threads.base import Answer, Designation, Supplied, ThreadCall, ThreadGeometry, ThreadSpec

SERIES = "STUB ACME"
CLASS = "2G"
"""The one class there is; its tolerances are those of Acme threads."""
HEIGHT = 0.3
"""Basic height of the thread, per pitch; half of it lies above the pitch diameter."""
CITE = Cite("ASME B1.8", "1988", "standard Stub Acme threads, class 2G", Standing.FROM_MEMORY)

_DESIGNATION = rf"""
    {inch.START}(?P<size>{inch.INCH}){inch.MARK} (?:{inch.SEPARATOR}(?P<tpi>\d+(?:\.\d+)?|\d+[ ]1/2))?
    {inch.SEPARATOR}? STUB[ -]ACME (?:{inch.SEPARATOR}2G(?![A-Za-z0-9]))? {inch.HAND} {inch.END}
"""


class StubAcme:
    """STUB ACME, whose one class is 2G."""

    key = "stub-acme"
    title = "Stub Acme"
    designation = Designation(_DESIGNATION, re.VERBOSE | re.IGNORECASE)

    def read(self, match: re.Match[str], default_unit: str) -> ThreadCall:
        """The call of a match; sizes are always inches."""
        tpi = match.group("tpi")
        return ThreadCall(
            self.key,
            inch.inch_size(match.group("size")),
            series=SERIES,
            tpi=None if tpi is None else inch.threads_per_inch(tpi),
            left_hand=match.group("hand") is not None,
        )

    def complete(self, call: ThreadCall) -> Answer:
        """Threads per inch of the series, which is that of Acme threads; another pitch is refused."""
        size, listed = call.nominal.label, sizes().get(call.nominal.label)
        if listed is None:
            near = inch.nearest(call.nominal, tuple(sizes()))
            return refused(
                f"The Stub Acme series has no size {size}.", *(f"{name}-{sizes()[name]:g} {SERIES}" for name in near)
            )
        name = f"{size}-{listed:g} {SERIES}"
        if call.tpi not in (None, listed):
            return refused(f"{SERIES} {size} has {listed:g} threads per inch, not {call.tpi:g}.", name)
        designation = f"{name}-2G{'-LH' if call.left_hand else ''}"
        text = f"{name}: class 2G, limits by the formulas of the standard from memory; check them before cutting"
        spec = ThreadSpec(
            self.key, SERIES, name, designation, call.nominal, inch.MM_PER_INCH / listed, listed, "2G",
            left_hand=call.left_hand,
        )  # fmt: skip
        return Answer(spec, (Supplied("THREAD-LIMITS-ASSUMED", text, CITE),))

    def geometry(self, spec: ThreadSpec) -> ThreadGeometry:
        """Limits by the formulas, each rounded to 0.0001 in: minor D - 0.6 P and 0.05 P more, at least 0.005 in; pitch
        D - 0.3 P with the tolerance of Acme class 2G; major 0.020 in over D to 10 threads per inch, above that 0.010 in."""
        d, pitch, tpi = spec.nominal.mm / inch.MM_PER_INCH, spec.pitch_mm / inch.MM_PER_INCH, spec.tpi or 1
        middle = round(d - HEIGHT * pitch, 4)
        major, _ = major_limits_in(d, tpi, CLASS)
        return ThreadGeometry(
            spec,
            basic_major_mm=spec.nominal.mm,
            basic_pitch_mm=(d - HEIGHT * pitch) * inch.MM_PER_INCH,
            basic_minor_mm=(d - 2 * HEIGHT * pitch) * inch.MM_PER_INCH,
            major=Limits(major * inch.MM_PER_INCH, None),
            pitch=in_mm((middle, round(middle + pitch_tolerance_in(d, pitch, CLASS), 4))),
            minor=in_mm(minor_at_in(d, pitch, 2 * HEIGHT)),
            cites=(CITE,),
            profile="29deg",
            notes=("The largest major diameter is not held here.",),
        )


STANDARD = StubAcme()
