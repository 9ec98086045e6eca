"""Numbers of holes against the rows: a group's count repeated in each of its rows, and totals."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from holesched.notes import CellRef, Note
from holesched.schedule import questions
from holesched.schedule.cells import named_tags
from holesched.schedule.model import ScheduleRow
from holesched.schedule.row_kinds import kind_of

_OWN_COUNT = re.compile(r"\s*\(?\d+\s*[xX×)]|.*\b(?:PLCS|PLACES|HOLES|PL)\b", re.I | re.S)
"""A callout that says itself how many holes it is for."""


@dataclass(frozen=True, slots=True)
class Total:
    """What a total row says: its cell, its text, its number of holes; and how many rows were read before it."""

    ref: CellRef
    text: str
    holes: int
    after: int


def settle_group_quantities(rows: Sequence[ScheduleRow], column: int | None) -> tuple[list[ScheduleRow], list[Note]]:
    """Rows where n rows with one callout and a place each say quantity n: one hole a row, and it is asked.

    `column` is the quantity's, from 1.
    """
    groups: dict[tuple[str, int], list[int]] = defaultdict(list)
    for position, row in enumerate(rows):
        if row.quantity and row.quantity > 1 and row.x_mm is not None and row.callout:
            groups[row.callout, row.quantity].append(position)
    settled, notes = list(rows), []
    for (callout, quantity), positions in groups.items():
        if column is None or len(positions) != quantity:
            continue
        for position in positions:
            ref = rows[position].ref._replace(column=column)
            notes.append(questions.group_quantity(ref, callout, quantity))
            settled[position] = rows[position]._replace(quantity=1)
    return settled, notes


def check_totals(rows: Sequence[ScheduleRow], totals: Sequence[Total], has_column: bool) -> Iterator[Note]:
    """A question for each total that its rows do not add up to; none where callouts count their holes themselves.

    The last total is that of all rows; one above it may be that of the rows since the total before.
    """
    complete = has_column and all(row.quantity for row in rows)
    if not complete and any(_OWN_COUNT.match(row.callout) for row in rows):
        return
    counted = [row.quantity or 1 for row in rows]
    group = 0
    for total in totals:
        of_group, so_far = sum(counted[group : total.after]), sum(counted[: total.after])
        group = total.after
        everything = sum(counted) if total is totals[-1] else so_far
        if total.holes != everything and (total is totals[-1] or total.holes != of_group):
            yield questions.total_disagrees(total.ref, total.text, total.holes, everything)


def check_tags(rows: Sequence[ScheduleRow], column: int) -> Iterator[Note]:
    """A question for each row with a numbered tag that a row above gives another callout; `column` is the tags', from 1."""
    first: dict[str, ScheduleRow] = {}
    callouts = {text for text in {row.callout for row in rows} if text and kind_of(text) not in ("ditto", "dash")}
    for row in rows:
        if row.callout not in callouts:
            continue
        for tag in named_tags(row.tag):
            other = first.setdefault(tag, row)
            if other is not row and _alike(other.callout) != _alike(row.callout):
                yield questions.tag_twice(row.ref._replace(column=column), tag, row.callout, other.ref.cell, other.callout)
                break


def _alike(callout: str) -> str:
    return " ".join(callout.split()).casefold()
