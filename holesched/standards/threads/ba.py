"""British Association threads BA (BS 93), sizes 0 to 16, 47.5 degrees."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from holesched.notes import Cite
from holesched.standards.sizes import Limits, Size
from holesched.standards.threads import inch_sizes as inch
from holesched.standards.threads.answers import refused
from holesched.standards.threads.base import Answer, Designation, ThreadCall, ThreadGeometry, ThreadSpec
from holesched.tables import table

_DESIGNATION = rf"""
    (?: (?<![A-Za-z0-9./])(?:No\.?[ ]?|\#)?(?P<number>\d{{1,2}})[ ]?-?[ ]?B\.?A\b\.?
      | {inch.WORD_START}B\.?A\.?[ ]?(?:No\.?[ ]?|\#)?(?P<number_last>\d{{1,2}})(?![\d./])
    )
    {inch.HAND} {inch.END}
"""


@cache
def rows() -> Mapping[str, Mapping[str, str]]:
    """Basic sizes by number, in mm as printed."""
    return {row["number"]: row for row in table("thread_ba.csv").rows}


class BritishAssociation:
    """BA."""

    key = "ba"
    title = "British Association"
    designation = Designation(_DESIGNATION, re.VERBOSE | re.IGNORECASE)

    def read(self, match: re.Match[str], default_unit: str) -> ThreadCall:
        """2BA: the number is the size; its diameter comes from the table (0 where there is none)."""
        number = str(int(inch.one_of(match, "number", "number_last") or "0"))
        row = rows().get(number)
        size = Size(0.0 if row is None else float(row["major_mm"]), f"{number}BA")
        return ThreadCall(self.key, size, series="BA", left_hand=match.group("hand") is not None)

    def complete(self, call: ThreadCall) -> Answer:
        """There is one class of internal thread."""
        name = call.nominal.label
        row = rows().get(name.removesuffix("BA"))
        if row is None:
            return refused(f"BS 93 has no {name}.", "0BA to 16BA")
        designation = f"{name}{' LH' if call.left_hand else ''}"
        pitch = float(row["pitch_mm"])
        return Answer(ThreadSpec(self.key, "BA", name, designation, call.nominal, pitch, None, "", left_hand=call.left_hand))

    def geometry(self, spec: ThreadSpec) -> ThreadGeometry:
        """Basic sizes at least; effective diameter + (0.12 p + 0.03) mm, minor + 0.375 p (BS 93, Annex B.3.2 and B.5.2)."""
        row = rows()[spec.nominal.label.removesuffix("BA")]
        major, middle, minor = (float(row[name]) for name in ("major_mm", "effective_mm", "minor_mm"))
        return ThreadGeometry(
            spec,
            major,
            middle,
            minor,
            major=Limits(major, None),
            pitch=Limits(middle, round(middle + 0.12 * spec.pitch_mm + 0.03, 3)),
            minor=Limits(minor, round(minor + 0.375 * spec.pitch_mm, 3)),
            cites=(Cite("BS 93", "2008", "Annex B (tolerance formulas)"), table("thread_ba.csv").cite()),
            profile="47.5deg",
            notes=("The tolerances come from the formulas; the standard's own table rounds them and was not seen.",),
        )


STANDARD = BritishAssociation()
