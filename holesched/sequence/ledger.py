"""The ledger: rows and holes read, planned, in question, set aside. Nothing vanishes between them."""

from __future__ import annotations

from collections.abc import Sequence

from holesched.features.model import UnreadRow
from holesched.notes import CellRef
from holesched.schedule.model import Schedule
from holesched.sequence.model import HoleCount, Ledger, PlannedHole, RowCount


def keep_ledger(
    schedule: Schedule, holes: Sequence[PlannedHole], unread: Sequence[UnreadRow], *, before_planning: bool = False
) -> Ledger:
    """Counts rows and holes; a row is known by its callout's cell.

    `before_planning`: no hole has a cut plan yet, and those without a question count as planned.
    Raises AssertionError when one is lost: that is a defect of the program, never of the input.
    """
    open_rows = {row.ref for row in unread}
    open_holes = sum(row.count for row in unread)
    planned_rows: set[CellRef] = set()
    planned_holes = 0
    for hole in holes:
        members = hole.type.members
        if hole.on_hold or (hole.cut_plan is None and not before_planning):
            held = members
        else:
            held_rows = frozenset(hole.held_rows)
            held = tuple(member for member in members if member.ref in held_rows) if held_rows else ()
        planned_rows.update([member.ref for member in members])
        open_rows.update([member.ref for member in held])
        holes_held = sum([member.count for member in held])
        planned_holes += hole.type.quantity - holes_held
        open_holes += holes_held
    planned_rows -= open_rows
    rows = RowCount(schedule.rows_read, len(planned_rows), len(open_rows), len(schedule.set_aside))
    count = HoleCount(planned_holes + open_holes, planned_holes, open_holes)
    if rows.read != rows.planned + rows.in_question + rows.set_aside:
        raise AssertionError(f"a row was lost between reading and planning: {rows}")
    return Ledger(rows, count)
