"""Schedule files written for a test: workbooks by two writers, texts in any encoding, archives changed by hand."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable, Sequence
from pathlib import Path

from make_example_inputs import ods_bytes
from openpyxl import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from holesched.notes import Note
from holesched.schedule.model import ReadOptions, Schedule
from holesched.schedule.read_workbook import read_schedule

Rows = Sequence[Sequence[object]]
HEADER = ("TAG", "X", "Y", "CALLOUT", "QTY", "NOTE")


def text_file(folder: Path, text: str, encoding: str = "utf-8", name: str = "table.csv") -> Path:
    path = folder / name
    path.write_bytes(text.encode(encoding))
    return path


def xlsx_file(
    folder: Path, rows: Rows, change: Callable[[Worksheet], object] | None = None, name: str = "table.xlsx"
) -> Path:
    """A workbook of openpyxl (texts stored in the cells); `change` may mark its sheet before it is saved."""
    book = Workbook()
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    sheet.title = "Holes"
    for row in rows:
        sheet.append(list(row))
    if change:
        change(sheet)
    path = folder / name
    book.save(path)
    return path


def ods_file(folder: Path, rows: Rows, name: str = "table.ods") -> Path:
    path = folder / name
    path.write_bytes(ods_bytes("Holes", rows))  # type: ignore[arg-type]
    return path


def members_of(path: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(path) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def zipped(members: dict[str, bytes]) -> bytes:
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in members.items():
            archive.writestr(name, data)
    return written.getvalue()


def changed(path: Path, member: str, old: bytes, new: bytes) -> Path:
    """The workbook with a piece of one of its members replaced."""
    members = members_of(path)
    assert old in members[member], f"{old!r} is not in {member}"
    members[member] = members[member].replace(old, new)
    path.write_bytes(zipped(members))
    return path


SHEET = "xl/worksheets/sheet1.xml"


def read(path: Path, **options: object) -> tuple[Schedule, tuple[Note, ...]]:
    return read_schedule(path, ReadOptions(**options))  # type: ignore[arg-type]


def codes(notes: Sequence[Note]) -> list[str]:
    """The notes' codes with their cells, without the record of how the header was read."""
    return [f"{note.code} {note.ref.cell if note.ref else '-'}" for note in notes if note.code != "SCHEDULE-COLUMNS"]


def callouts(schedule: Schedule) -> list[str]:
    return [row.callout for row in schedule.rows]
