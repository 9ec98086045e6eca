"""Rows that point at other rows (DO., SAME AS A): read as those, and always asked, since rows get sorted."""

from __future__ import annotations

from collections.abc import Sequence

from holesched.callouts.mistakes import SAME_AS, whole_mistake
from holesched.callouts.normalise import fold
from holesched.notes import Note, Severity
from holesched.schedule.model import ScheduleRow

REFERENCES = ("ROW-DITTO", "ROW-SAME-AS")
_LONGEST = 40
"""Characters of a reference, generously."""


def referred(rows: Sequence[ScheduleRow]) -> tuple[list[str], list[Note]]:
    """Each row's callout, references followed, and a question for each one followed.

    A reference that leads nowhere, or to another reference, stays as it is and is refused when it is read.
    """
    texts = [row.callout for row in rows]
    codes = {text: found for text in set(texts) if (found := _reference(text))}
    if not codes:
        return texts, []
    read: list[str] = []
    notes: list[Note] = []
    by_tag: dict[str, str] = {}
    for row in rows:
        if row.tag.strip() and row.callout not in codes:
            by_tag.setdefault(row.tag.strip().upper(), row.callout)
    for number, row in enumerate(rows):
        code = codes.get(row.callout)
        target = None
        if code == "ROW-DITTO" and number and read[-1] not in codes:
            target = read[-1]
        elif code == "ROW-SAME-AS":
            match = SAME_AS.fullmatch(row.callout.strip().rstrip("."))
            target = by_tag.get(match["tag"].upper()) if match else None
        read.append(row.callout if target is None else target)
        if target is not None:
            sentence = f"'{row.callout.strip()}' refers to another row: read as '{target.strip()}'."
            hint = "Write the callout out; a reference breaks when rows are sorted."
            notes.append(Note("ROW-REFERENCE", Severity.ASK, sentence, hint, target, row.callout, row.ref))
    return read, notes


def _reference(text: str) -> str:
    """The code of a callout that only points at another row, else empty."""
    mistake = whole_mistake(fold(text).text) if len(text) <= _LONGEST else None
    return mistake[0].code if mistake is not None and mistake[0].code in REFERENCES else ""
