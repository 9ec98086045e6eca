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
        for member in hole.type.members:
            unplanned = hole.cut_plan is None and not before_planning
            if hole.on_hold or unplanned or member.ref in hole.held_rows:
                open_rows.add(member.ref)
                open_holes += member.count
            else:
                planned_rows.add(member.ref)
                planned_holes += member.count
    planned_rows -= open_rows
    rows = RowCount(schedule.rows_read, len(planned_rows), len(open_rows), len(schedule.set_aside))
    count = HoleCount(planned_holes + open_holes, planned_holes, open_holes)
    if rows.read != rows.planned + rows.in_question + rows.set_aside:
        raise AssertionError(f"a row was lost between reading and planning: {rows}")
    return Ledger(rows, count)
