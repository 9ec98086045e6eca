"""How many holes a row stands for: quantity column, the callout's own 4X, tags and rows agree, or it is asked."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from holesched.callouts.model import Callout
from holesched.notes import Note, Severity
from holesched.schedule.cells import count_tags
from holesched.schedule.model import ScheduleRow

_TAG = re.compile(r"(?P<letters>[^\W\d_]*)(?P<number>\d+)")


class Quantity(NamedTuple):
    """A row's number of holes and their places as far as they are known, and what is to be asked about them."""

    holes: int
    places_mm: tuple[tuple[float, float], ...] = ()
    notes: tuple[Note, ...] = ()


def settle_quantities(rows: Sequence[ScheduleRow], callout: Callout | None) -> list[Quantity]:
    """The quantities of all rows that share one callout, in their order."""
    written = callout.count if callout is not None else None
    silent = written is None and not (callout is not None and callout.typical)
    if (silent and _nothing_else_said(rows)) or (written is not None and _one_hole_a_row(rows, written)):
        return [Quantity(1, _place(row)) for row in rows]
    return [_row_quantity(row, rows, callout) for row in rows]


def _tagged(row: ScheduleRow) -> int | None:
    """How many holes the tags name; None where they prove nothing: one tag, none, or a range that may be one hole's name."""
    tags = count_tags(row.tag)
    return tags.count if tags.count > 1 and (tags.sure or row.quantity != 1) else None


def _place(row: ScheduleRow) -> tuple[tuple[float, float], ...]:
    return () if row.x_mm is None or row.y_mm is None else ((row.x_mm, row.y_mm),)


def _nothing_else_said(rows: Sequence[ScheduleRow]) -> bool:
    """Whether neither a quantity nor a tag says anything but one hole a row: the tags are like A12, or there is none."""
    letters = {row.tag.rstrip("0123456789") for row in rows}
    return {row.quantity for row in rows} <= {None, 1} and all(each.isalpha() for each in letters if each)


def _one_hole_a_row(rows: Sequence[ScheduleRow], written: int) -> bool:
    """Whether "4X M6" stands in four rows of one hole each: by their places, or by numbered tags of one letter."""
    if len(rows) < 2 or any((row.quantity or 1) > 1 or count_tags(row.tag).count > 1 for row in rows):
        return False
    tags = [_TAG.fullmatch(row.tag.strip()) for row in rows]
    groups = Counter(tag["letters"] for tag in tags if tag is not None)
    numbered = len(groups) > 0 and sum(groups.values()) == len(rows) and all(n == written for n in groups.values())
    placed = all(_place(row) for row in rows)
    return numbered or (placed and len(rows) == written) or (len(rows) == written and all(row.quantity == 1 for row in rows))


def _row_quantity(row: ScheduleRow, rows: Sequence[ScheduleRow], callout: Callout | None) -> Quantity:
    """One row's quantity by itself, with a question where its sources disagree."""
    written = callout.count if callout is not None else None
    tagged = _tagged(row)
    place = _place(row)
    notes: list[Note] = []
    if written is not None and place and len(rows) > 1 and (row.quantity or 1) == 1 and callout and callout.circle is None:
        sentence = f"The callout says {written} holes, and {len(rows)} rows with a place hold it."
        notes.append(_ask("COUNT-ROWS", sentence, row, "Correct the quantity, or the rows.", "one hole a row"))
        return Quantity(1, place, tuple(notes))
    sources = {"the quantity column": row.quantity, "the callout": written, "the tags": tagged}
    said = {name: number for name, number in sources.items() if number is not None}
    count = row.quantity or written or tagged or 1
    if len(set(said.values())) > 1:
        sentence = "Quantities disagree: " + ", ".join(f"{name} says {number}" for name, number in said.items()) + "."
        notes.append(_ask("COUNT-DIFFERS", sentence, row, "Correct one of them.", f"{count} holes"))
    if not said and callout is not None and callout.typical and not (place and len(rows) > 1):
        sentence = "TYP or ALL gives no number of holes, and neither does the row."
        notes.append(_ask("COUNT-TYPICAL", sentence, row, "Write 4X, or fill in the quantity.", "1 hole"))
    if count > 1 and place:
        return _many_at_one_place(row, callout, count, place, notes)
    return Quantity(count, place, tuple(notes))


def _many_at_one_place(
    row: ScheduleRow, callout: Callout | None, count: int, place: tuple[tuple[float, float], ...], notes: list[Note]
) -> Quantity:
    """Several holes and one place: the centre of their bolt circle, or a place of one of them only."""
    if callout is not None and callout.circle is not None:
        sentence = (
            f"{count} holes on a circle of {callout.circle.diameter_mm:g} mm about X {place[0][0]:g}, Y {place[0][1]:g}: "
            "equally spaced, the first one drawn at 0°, since its angle is not written."
        )
        notes.append(Note("PATTERN-FIRST-ANGLE", Severity.WATCH, sentence, "", "0°", row.callout, row.ref))
        return Quantity(count, on_circle(place[0], callout.circle.diameter_mm, count), tuple(notes))
    sentence = f"{count} holes, but the row gives one place."
    notes.append(_ask("COUNT-PLACES", sentence, row, "Write a row for each hole, or its pattern.", f"{count} holes"))
    return Quantity(count, place, tuple(notes))


def on_circle(centre_mm: tuple[float, float], diameter_mm: float, count: int) -> tuple[tuple[float, float], ...]:
    """Equally spaced places on a circle, the first at 0 degrees (in +X), counter-clockwise; mm to the micrometre."""
    radius = diameter_mm / 2
    turns = [2 * math.pi * number / count for number in range(count)]
    return tuple(
        (round(centre_mm[0] + radius * math.cos(turn), 6), round(centre_mm[1] + radius * math.sin(turn), 6))
        for turn in turns
    )


def _ask(code: str, sentence: str, row: ScheduleRow, suggestion: str, assumed: str) -> Note:
    return Note(code, Severity.ASK, sentence, suggestion, assumed, row.callout, row.ref)
