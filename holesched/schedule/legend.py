"""Places in one table, sizes in another: rows that give only a tag and a place take their callout from the legend."""

from __future__ import annotations

import re
from collections.abc import Sequence

from holesched.notes import Note, Severity
from holesched.schedule.headers import Table
from holesched.schedule.model import ScheduleRow, SetAside
from holesched.schedule.read_rows import RowsRead

_LETTERS = re.compile(r"[^\W\d_]+")


def is_places_only(table: Table) -> bool:
    """Whether a table gives tags and places but no sizes."""
    return not any(column.field in ("callout", "diameter", "thread") for column in table.columns)


def join_legend(read: Sequence[tuple[Table, RowsRead]]) -> None:
    """Fills the callouts of places from the tables with sizes, by the tag or else by its letters (A3 is an A).

    The legend's row is then no hole of its own: it is set aside as a note. Changes the RowsRead in place.
    """
    legend: dict[str, tuple[RowsRead, ScheduleRow]] = {}
    for table, found in read:
        if not is_places_only(table):
            legend.update(
                {row.tag.casefold(): (found, row) for row in found.rows if row.tag and row.callout and row.x_mm is None}
            )
    if not legend:
        return
    used: dict[str, list[ScheduleRow]] = {}
    for table, found in read:
        if is_places_only(table):
            found.rows = [_with_callout(row, legend, used) for row in found.rows]
            filled = {row.ref for row in found.rows if row.callout}
            found.notes = [note for note in found.notes if note.ref not in filled or note.code != "SCHEDULE-CALLOUT-EMPTY"]
    for name, rows in used.items():
        found, source = legend[name]
        found.rows.remove(source)
        text = f"{source.tag}: {source.callout}"
        found.set_aside.append(SetAside(source.ref, "note", text))
        if source.quantity is not None and source.quantity != len(rows):
            message = f"The legend says {source.quantity} holes '{source.tag}', the table of places has {len(rows)}."
            hint = "Look for a lost row or a wrong quantity."
            found.notes.append(Note("SCHEDULE-LEGEND-COUNT", Severity.ASK, message, hint, "The places.", text, rows[0].ref))


def _with_callout(
    row: ScheduleRow, legend: dict[str, tuple[RowsRead, ScheduleRow]], used: dict[str, list[ScheduleRow]]
) -> ScheduleRow:
    letters = _LETTERS.match(row.tag)
    name = next((key for key in (row.tag.casefold(), letters[0].casefold() if letters else "") if key in legend), None)
    if name is None or row.callout:
        return row
    source = legend[name][1]
    joined = row._replace(callout=source.callout, unit=source.unit, note="; ".join(filter(None, (source.note, row.note))))
    joined = joined._replace(material=row.material or source.material, thickness_mm=row.thickness_mm or source.thickness_mm)
    used.setdefault(name, []).append(joined)
    return joined
