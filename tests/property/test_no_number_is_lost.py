"""No number is swallowed: whatever stands in a callout that nothing is asked about is a size, depth, quantity ... of it.

Good callouts of both corpora get something with a number put in at any place. Either the reading asks, or every number of
the text is found in what was read. A number that says again what stands before it, in the other unit or in decimals
(17/32 (.531), 12.7 (.5 in)), is the same to the last digit written.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Literal, cast

from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from holesched.callouts.model import Callout, Element
from holesched.callouts.normalise import fold
from holesched.callouts.parse import read_callout
from holesched.features.build import build_callout

Unit = Literal["mm", "in"]
TESTS = Path(__file__).parents[1]
FILES = (TESTS / "corpus" / "callouts.csv", TESTS / "unit" / "callouts" / "callouts.csv")
_NUMBER = re.compile(
    r"(?<![0-9.])[0-9]{1,3}/(?:2|4|8|16|32|64)(?![0-9/.])|[0-9]+(?:\.[0-9]+)?|(?:(?<![A-Za-z])|(?<=[0-9][AB]))\.[0-9]+"
)
_NAMES = re.compile(r"(?:DIN|ISO|EN|SAE|JIS|ASME)[ 0-9.-]+|P\.C\.D\.|N\.|[#0-9][0-9/]*-[0-9]+(?= *(?:UNC|UNF|SCREW))")
"""Standards, abbreviations with points, and the pitch of a screw that a hole is for: no numbers of the hole."""
INSERTED = (
    "7",
    "3.7",
    "17 DEEP",
    "x 13",
    "13 PLCS",
    "(13)",
    "/13",
    "-13",
    "13x",
    "Ø13",
    "↧13",
    "13°",
    "R13",
    "13 MIN",
    "13 MAX",
)
INSERTED += (
    "M13",
    "+0.13",
    "13 mm",
    '13"',
    "N13",
    "13D",
    "T13",
    "13 TIEF",
    "深13",
    "LK 13",
    "13/64",
    "H13",
    "0.13",
    "13.000",
)


def texts() -> list[tuple[str, Unit]]:
    """The corpora's callouts."""
    rows = [row for file in FILES for row in csv.DictReader(file.read_text(encoding="utf-8").splitlines(keepends=True))]
    return sorted({(row["callout"].replace("\\n", "\n"), cast(Unit, row["unit"])) for row in rows})


def numbers(text: str) -> Iterator[float]:
    """All numbers of a text, fractions as one."""
    for match in _NUMBER.finditer(text):
        over, _, under = match[0].partition("/")
        yield float(over) / float(under) if under else float(match[0])


def _of_element(element: Element) -> Iterator[float | str | None]:
    size, depth, tolerance, thread = element.diameter, element.depth, element.tolerance, element.thread
    if size is not None:
        yield from (size.mm, size.label)
    if tolerance is not None:
        yield tolerance.zone
        for limit in (tolerance.low_mm, tolerance.high_mm):
            yield limit
            yield limit - size.mm if limit is not None and size is not None else None
    if depth is not None:
        yield from (depth.mm, depth.leaving_mm, *(depth.tolerance_mm or ()))
    if thread is not None:
        yield from (element.thread_text, thread.thread_class, thread.gauging, thread.nominal.label, thread.nominal.mm)
        yield from (thread.pitch_mm, thread.tpi, thread.length_mm)
        yield element.insert_diameters * thread.nominal.mm if element.insert_diameters is not None else None
    yield from (element.angle_deg, (element.angle_deg or 0) / 2, element.chamfer_mm, element.insert_diameters)
    yield from (element.fastener, element.tap_limit, *element.uses)


def read_numbers(callout: Callout) -> set[float]:
    """Every number of a reading, lengths in mm and in inches."""
    found: set[float] = set()
    values: list[float | str | None] = [callout.count, callout.circle.diameter_mm if callout.circle else None]
    values += [*callout.remarks, callout.coating.text if callout.coating else None]
    for element in callout.elements:
        values += _of_element(element)
    for value in values:
        if isinstance(value, str):
            found.update(numbers(value))
        elif value is not None:
            found.update((abs(value), abs(value) / 25.4))
    return found


def lost(text: str, unit: Unit) -> list[float]:
    """Numbers of a text that were read nowhere and are not asked about."""
    hole, notes, count = build_callout(text, unit)
    callout = read_callout(text, unit).callout
    if hole is None or callout is None or any(note.is_question for note in notes):
        return []
    known = read_numbers(callout) | ({float(count)} if count is not None else set())
    folded = _NAMES.sub(" ", fold(text).text)
    return [number for number in numbers(folded) if not any(_same(number, other) for other in known)]


def _same(number: float, other: float) -> bool:
    """Equal, or the same length rounded to the digits written; a fraction may be that of a whole number (1 3/8)."""
    if number < 1 and other > number and abs((other - number) % 1.0 - 0.5) > 0.4999:
        return True
    digits = len(f"{number:g}".partition(".")[2])
    return abs(number - other) <= 1.02 * 10.0**-digits * (1.0 if digits >= 3 else 0.51)


TEXTS = texts()


@given(st.sampled_from(TEXTS), st.sampled_from(INSERTED), st.integers(0, 40), st.sampled_from(["", " "]), st.booleans())
@settings(max_examples=600, suppress_health_check=[HealthCheck.too_slow])
@example(("M8 CLEARANCE", "mm"), "x 13", 3, " ", True)
@example(("8H7x12", "mm"), "(13)", 6, " ", True)
@example(("M8x1.25 x 15 DEEP", "mm"), "/13", 12, "", True)
@example(("M8x15 DEEP", "mm"), "4 PLCS", 10, " ", True)
@example(("6X Ø9 BC", "mm"), "Ø80", 8, " ", True)
@example(("Ø6.6 / SENKUNG DIN 974-1 M6", "mm"), "x 13", 27, "", False)
@example(("Ø10 THRU Ra 1.6", "mm"), "13x", 12, "", False)
def test_every_number_is_read_or_asked(text: tuple[str, Unit], inserted: str, place: int, before: str, after: bool) -> None:
    callout, unit = text
    place = min(place, len(callout))
    while callout[place : place + 1].isdigit() or callout[place : place + 1] in (".", ","):
        place += 1  # put in beside a number, never into one
    whole = f"{callout[:place]}{before}{inserted}{' ' if after else ''}{callout[place:]}"
    assert lost(whole, unit) == [], whole


def test_good_callouts_lose_none() -> None:
    assert [(text, lost(text, unit)) for text, unit in TEXTS if lost(text, unit)] == []
