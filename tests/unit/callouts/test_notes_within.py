"""A drawing note within a step leaves the step as it was, or is asked about. Where drawings put notes is common practice, no
source."""

from __future__ import annotations

import csv
import time
from pathlib import Path
from typing import cast

import pytest

from holesched.callouts.model import CalloutReading
from holesched.callouts.parse import LONGEST, read_callout
from holesched.notes import Severity
from holesched.units import LengthUnit

TESTS = Path(__file__).parents[2]
FILES = (TESTS / "corpus" / "callouts.csv", TESTS / "unit" / "callouts" / "callouts.csv")
NOTES = ("63√", "⌖ Ø0.1 A", "⌖|Ø0.1(M)|A|B|C", "Ra 1.6", "√1.6", "NOTE 2", "Ⓔ", "32 RMS", "POS Ø0.1 A", "∇∇", "SEE NOTE 4")


def _asked(reading: CalloutReading) -> bool:
    return reading.callout is None or any(note.severity in (Severity.ASK, Severity.REFUSED) for note in reading.notes)


def _good() -> list[tuple[str, LengthUnit, CalloutReading]]:
    """The callouts of both corpora that nothing is asked about."""
    found = set()
    for path in FILES:
        with path.open(encoding="utf-8", newline="") as file:
            found |= {(row["callout"], cast(LengthUnit, row["unit"])) for row in csv.DictReader(file)}
    readings = [(text, unit, read_callout(text, unit)) for text, unit in sorted(found)]
    return [each for each in readings if not _asked(each[2])]


def _continues(note: str, behind: str) -> bool:
    """Whether what stands behind a note is a part of it: Ra 1.6 MIN, a datum A."""
    return behind.startswith((" MIN", " MAX") if note in ("Ra 1.6", "32 RMS") else " A ")


def test_no_note_within_a_step_changes_it_in_silence() -> None:
    """At every blank of every good callout."""
    good = _good()
    assert len(good) > 200
    silent, tried = [], 0
    for text, unit, plain in good:
        assert plain.callout is not None
        for place in (place for place, sign in enumerate(text) if sign == " "):
            for note in NOTES:
                if _continues(note, text[place:]):
                    continue
                tried += 1
                noted = f"{text[:place]} {note}{text[place:]}"
                reading = read_callout(noted, unit)
                if _asked(reading) or reading.callout is None:
                    continue
                if (reading.callout.elements, reading.callout.count) != (plain.callout.elements, plain.callout.count):
                    silent.append(noted)
    assert tried > 5000
    assert silent == []


@pytest.mark.parametrize("text", ["M6 x 63√ 1.0", "M8 x 63√ 125", "M8 x 1.25 ↧8 MAX DRILL NOTE 2 10.5"])
def test_a_note_that_parts_a_step_is_asked(text: str) -> None:
    """One question, and the callout is not refused."""
    reading = read_callout(text, "mm")
    assert reading.callout is not None
    assert [note.code for note in reading.notes] == ["CALLOUT-NOTE-WITHIN"]


@pytest.mark.parametrize("text", ["NOTE 2 4-M6", "Ra 1.6 MAX 4X M6", "Rz 6.3 max. 4x M6"])
def test_a_count_behind_a_note_is_a_count(text: str) -> None:
    """Neither a fraction of the note's number nor its own."""
    reading = read_callout(text, "mm")
    plain = read_callout("4X M6", "mm").callout
    assert plain is not None
    assert reading.callout is not None
    assert not _asked(reading)
    assert (reading.callout.elements, reading.callout.count) == (plain.elements, 4)


FRAGMENTS = (
    "⌖ 0.1 A ", "⌖|0.1|A", "⌖", " A", "|A|B", ".1|A|", "0.1 A| |", "NOTE 2 & 3 ", "NOTE 2,3 ", "NOTE ", "Ra 1.6 MAX ", "√",
    "TO ", "DATUM TO ", "⌖ .1 (M)", "Ⓜ", "POS TOL OF ", "AT MMC ", "A,", "⌖ 0.1 A\n.1|A|", " |", "PAR RAPPORT",
)  # fmt: skip


def test_no_text_of_notes_takes_long() -> None:
    """The nested patterns of frames and lists, on the longest texts: within 40 times a text of many steps (1.3 ms)."""

    def seconds(text: str) -> float:
        best = 9.0
        for _ in range(3):
            read_callout.cache_clear()
            begin = time.process_time()
            read_callout(text, "mm")
            best = min(best, time.process_time() - begin)
        return best

    plain = seconds(("Ø8 THRU, " * LONGEST)[:LONGEST])
    for before in ("", "Ø8 ", "⌖ 0.1", "NOTE 2 ", "⌖ 0.1 A", "TRUE POSITION .014 "):
        for fragment in FRAGMENTS:
            for last in ("", "9", "#"):
                text = (before + fragment * LONGEST)[: LONGEST - 1] + last
                assert seconds(text) < 40 * plain, text[:40]
