"""Remarks beside a callout that speak of the hole itself: a depth, THRU, far side. Planned without them, and asked."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from holesched.callouts.draft import Reading
from holesched.callouts.drawing_notes import note_end
from holesched.callouts.model import Kind
from holesched.callouts.normalise import fold
from holesched.callouts.tokens import Tokens
from holesched.callouts.words import words_in
from holesched.features.completion import made_length
from holesched.features.model import Hole
from holesched.notes import Note, Severity
from holesched.schedule.model import ScheduleRow
from holesched.units import MM_PER_INCH

_SEAT = "counterbore or countersink"
_SPEAKS = {
    **dict.fromkeys(("through", "through hole", "through all", "through one", "through to"), "through"),
    **dict.fromkeys(("depth", "drill depth", "full thread"), "size"),
    **dict.fromkeys(("counterbore", "sink", "countersink", "counterdrill"), _SEAT),
    **dict.fromkeys(("insert", "insert thread"), "insert"),
    **{name: name for name in ("blind", "pilot", "do not tap", "spotface", "flat bottom", "far", "both", "left hand")},
    **{name: name for name in ("tap", "ream", "bore", "angled")},
}
"""Meanings of the words by which a text says how a hole is made."""
_SIGNS = {"↧": "size", "Ø": "size", "⌴": _SEAT, "⌵": _SEAT}
_DIAMETERS = re.compile(r"(?<![.,0-9])[0-9](?:[.,][0-9])?(?: ?x ?)?D\b|\bcoil\b", re.I)
"""2D, 1,5 x D, coil: the length of a wire insert, or a depth in diameters."""
_TIMES = re.compile(r"(?<![.,0-9])([0-9](?:[.,][0-9])?)(?: ?x ?)?D\b", re.I)
_LONG = re.compile(r"(?<![.,0-9])(?P<length>[0-9]*[.,]?[0-9]+) ?(?P<unit>mm|in|\")? ?(?:LONG|LG|LANG)\b", re.I)
"""An insert's length in diameters, and as such: .375 LONG."""
_NUMBER = re.compile(r"\d+(?:[.,]\d+)?|[.,]\d+")


def check_remarks(rows: Sequence[ScheduleRow], callout: str, hole: Hole) -> list[Note]:
    """A question for each row whose remark says something of its hole that the callout does not."""
    if not any(row.note for row in rows):
        return []
    planned = _planned(hole)
    insert = any(feature.insert_diameters is not None for feature in hole.features)
    return [
        Note(
            "REMARK-OF-HOLE",
            Severity.ASK,
            f"Beside the callout stands '{row.note}'. Does it change the hole?",
            "If so, write it into the callout.",
            "without it",
            callout,
            row.ref,
        )
        for row in rows
        if row.note and _adds(_LONG.sub("", row.note) if insert else row.note, callout, planned)
    ]


def insert_length(rows: Sequence[ScheduleRow]) -> str:
    """The first remark that gives a length in diameters, as a wire insert's is written; "" without one."""
    return next((row.note for row in rows if row.note and _DIAMETERS.search(row.note)), "")


def with_insert_length(hole: Hole, rows: Sequence[ScheduleRow]) -> Hole:
    """The hole, its wire insert as long as the remarks of all its rows say, if its callout says nothing of it."""
    for feature in hole.features:
        if feature.thread is None or feature.thread.standard != "wire-insert" or feature.insert_diameters is not None:
            continue
        said = {_insert_diameters(row, feature.thread.nominal.mm) for row in rows}
        length = said.pop() if len(said) == 1 else None
        if length is not None:
            longer = replace(feature, insert_diameters=length)
            return replace(hole, features=tuple(longer if each is feature else each for each in hole.features))
    return hole


def _insert_diameters(row: ScheduleRow, nominal_mm: float) -> float | None:
    """The insert's length over its screw's diameter in a remark: 1.5D, .375 LONG; None: none that inserts are made in."""
    in_diameters, long = _TIMES.search(row.note), _LONG.search(row.note)
    if in_diameters is not None:
        written = float(in_diameters[1].replace(",", "."))
    elif long is not None:
        inch = row.unit == "in" if long["unit"] is None else long["unit"] != "mm"
        written = float(long["length"].replace(",", ".")) * (MM_PER_INCH if inch else 1.0) / nominal_mm
    else:
        return None
    return made_length(written)


def _planned(hole: Hole) -> frozenset[str]:
    """What the hole is, whether or not a word says so."""
    known = {"through" if any(feature.depth.through for feature in hole.features) else "blind"}
    for feature in hole.features:
        if feature.kind is Kind.TAP:
            known |= {"tap", "left hand"} if feature.thread is not None and feature.thread.left_hand else {"tap"}
        if feature.tolerance is not None:
            known |= {"ream", "bore"}
    return frozenset(known)


@lru_cache(maxsize=4096)
def _adds(remark: str, callout: str, planned: frozenset[str]) -> bool:
    """Whether a remark says more of a hole than its callout and what is planned from it."""
    said = _said(remark) - planned
    if "size" in said and _numbers(remark) <= _numbers(callout):
        said -= {"size"}
    return bool(said) and not said <= _said(callout) - {"size"}


def _numbers(text: str) -> frozenset[float]:
    return frozenset(float(number.replace(",", ".")) for number in _NUMBER.findall(text))


def _said(text: str) -> frozenset[str]:
    """What a text says of the making of a hole, by its words and signs; its drawing notes say nothing of it."""
    tokens = Tokens(fold(text), "mm")
    reading = Reading(tokens, text)
    said = {"insert"} if _DIAMETERS.search(text) else set()
    for place, word in words_in(tokens.text, lambda place: note_end(reading, place)):
        meaning = _SIGNS.get(tokens.text[place]) if word is None else _SPEAKS.get(word.meaning or "")
        if meaning:
            said.add(meaning)
    return frozenset(said)
