"""What is ASSUMED a standard supplies, and is named; what only common practice supplies is asked or read, never initialled.

The callouts are those of both corpora, in the unit they are keyed for, and a few that made assumptions in the past.
"""

from __future__ import annotations

import csv
from pathlib import Path

from holesched.features.build import build_callout
from holesched.notes import Severity, Standing
from holesched.units import LengthUnit

TESTS = Path(__file__).parents[2]
FILES = (TESTS / "corpus" / "callouts.csv", TESTS / "unit" / "callouts" / "callouts.csv")
MORE: tuple[tuple[str, LengthUnit], ...] = (
    ("5", "mm"),
    ("5 THRU", "mm"),
    ("Ø8 +0.1 THRU", "mm"),
    ("CLEARANCE FOR M8 SHCS, CBORE", "mm"),
    ("CLEARANCE FOR 1/4-20 FHCS, CSK", "in"),
    ("3/8 BSW THRU", "in"),
    ("Tr20x4 THRU", "mm"),
    ("1/4 NPTF", "in"),
    ("3/4 ACME THRU", "in"),
    ("2BA THRU", "mm"),
    ("1/2 NPSL THRU", "in"),
    ("SF Ø20, Ø9 THRU", "mm"),
    ("M8 THRU, .250 DEEP", "mm"),
)
KNOWN = {
    "THREAD-PITCH-ASSUMED",
    "THREAD-SERIES-ASSUMED",
    "THREAD-CLASS-ASSUMED",
    "THREAD-LENGTH-ASSUMED",
    "THREAD-LIMITS-ASSUMED",
    "THREAD-HAND-ASSUMED",
    "CALLOUT-THROUGH-ASSUMED",
    "CALLOUT-SPOTFACE-ASSUMED",
    "CALLOUT-INCH-ASSUMED",
    "FASTENER-FIT-ASSUMED",
    "FASTENER-COUNTERBORE-ASSUMED",
    "FASTENER-COUNTERSINK-ASSUMED",
}
"""Everything a callout may leave to a standard. A new code needs a source that says so."""


def callouts() -> list[tuple[str, LengthUnit]]:
    rows = [row for file in FILES for row in csv.DictReader(file.read_text(encoding="utf-8").splitlines(keepends=True))]
    units: dict[str, LengthUnit] = {"mm": "mm", "in": "in"}
    return [(row["callout"].replace("\\n", "\n"), units[row["unit"]]) for row in rows] + list(MORE)


def test_every_assumption_names_its_standard() -> None:
    codes = set()
    for text, unit in callouts():
        for note in build_callout(text, unit)[1]:
            if note.severity is not Severity.ASSUMED:
                continue
            codes.add(note.code)
            assert note.cite is not None, (text, note.code)
            assert note.cite.standard, (text, note.code)
            assert note.cite.standing in (Standing.PUBLISHED, Standing.FROM_MEMORY), (text, note.code)
    assert codes == KNOWN
