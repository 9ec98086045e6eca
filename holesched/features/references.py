"""Rows that point at other rows (DO., SAME AS A): read as those, and always asked, since rows get sorted."""

from __future__ import annotations

from collections.abc import Sequence

from holesched.callouts.mistakes import SAME_AS
from holesched.callouts.parse import read_callout
from holesched.notes import Note, Severity
from holesched.schedule.model import ScheduleRow
from holesched.units import LengthUnit

REFERENCES = ("ROW-DITTO", "ROW-SAME-AS")


def referred(rows: Sequence[ScheduleRow]) -> tuple[list[str], list[Note]]:
    """Each row's callout, references followed, and a question for each one followed.

    A reference that leads nowhere, or to another reference, stays as it is and is refused when it is read.
    """
    written = {(row.callout, row.unit) for row in rows}
    if not any(_reference(text, unit) for text, unit in written):
        return [row.callout for row in rows], []
    texts: list[str] = []
    notes: list[Note] = []
    by_tag: dict[str, str] = {}
    for row in rows:
        if row.tag.strip() and not _reference(row.callout, row.unit):
            by_tag.setdefault(row.tag.strip().upper(), row.callout)
    for number, row in enumerate(rows):
        code = _reference(row.callout, row.unit)
        target = None
        if code == "ROW-DITTO" and number and not _reference(texts[-1], row.unit):
            target = texts[-1]
        elif code == "ROW-SAME-AS":
            match = SAME_AS.fullmatch(row.callout.strip().rstrip("."))
            target = by_tag.get(match["tag"].upper()) if match else None
        texts.append(row.callout if target is None else target)
        if target is not None:
            sentence = f"'{row.callout.strip()}' refers to another row: read as '{target.strip()}'."
            hint = "Write the callout out; a reference breaks when rows are sorted."
            notes.append(Note("ROW-REFERENCE", Severity.ASK, sentence, hint, target, row.callout, row.ref))
    return texts, notes


def _reference(text: str, unit: LengthUnit) -> str:
    """The code of a callout that only points at another row, else empty."""
    if len(text) > 40:
        return ""
    notes = read_callout(text, unit).notes
    return notes[0].code if notes and notes[0].code in REFERENCES else ""
