"""A hole schedule as read: rows with their cells, before any callout is understood."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from holesched.notes import CellRef
from holesched.units import LengthUnit, length_mm


@dataclass(frozen=True, slots=True)
class ReadOptions:
    """What the caller knows better than the file; None leaves it to the file.

    `columns` maps header words of the shop's own exports to our fields.
    """

    unit: LengthUnit | None = None
    material: str | None = None
    thickness_mm: float | None = None
    columns: tuple[tuple[str, str], ...] = ()
    symbols: tuple[tuple[str, str], ...] = ()
    """A drawing system's own codes and what they stand for, replaced in every callout."""
    sheet: str | None = None
    encoding: str | None = None
    """Of a text file, as Python names it ("cp1250"); None leaves it to the file's own bytes."""
    thickness_number: float | None = None
    """A thickness given without its unit: in the drawing's unit, whatever that turns out to be."""

    outline: str | None = None
    """The part's outline as the caller wrote it: 200x120."""
    lot: int | None = None
    """Number of parts: some tools are worth their price in a large lot only."""

    def given_thickness_mm(self, unit: LengthUnit) -> float | None:
        """The thickness the caller gave, of a drawing in `unit`; None: none was given."""
        if self.thickness_mm is not None or self.thickness_number is None:
            return self.thickness_mm
        return length_mm(self.thickness_number, unit)


@dataclass(frozen=True, slots=True)
class JobHeader:
    """The title block. `unit` and `unit_stated` say what the lengths are in and whether the file said so itself."""

    part_number: str = ""
    part_name: str = ""
    drawing: str = ""
    revision: str = ""
    material: str = ""
    material_ref: CellRef | None = None
    thickness_mm: float | None = None
    thickness_ref: CellRef | None = None
    unit: LengthUnit = "mm"
    unit_stated: bool = False
    lot: int | None = None
    other: tuple[tuple[str, str], ...] = ()
    """Further title-block entries, as written: (label, text)."""
    outline_mm: tuple[float, float] | None = None
    """The part's sides along X and Y, as written in that order; None: not known."""
    outline_ref: CellRef | None = None
    finish: str = ""
    """The coating of the whole part, as written."""
    finish_ref: CellRef | None = None


class ScheduleRow(NamedTuple):
    """One row that names a hole or a hole type.

    `ref` is the callout's cell, one of its own for every row, and `callout` its text as written (a callout over several
    columns is joined, the shop's symbol codes are replaced). `callout` is "" when the cell is empty or damaged; then the
    reader's notes hold a REFUSED note on the same `ref`. `quantity` is the quantity column's number, else the number of
    tags where a tag cell names several (None: neither). Tables side by side, or on their side, give several rows in one
    sheet row: `ref` tells them apart, `ref.row` does not. `x_mm`, `y_mm` are None where the row gives no place. `material`
    and `thickness_mm` override the header's where the row has its own. `unit` is the unit of plain numbers in the callout.
    """

    ref: CellRef
    tag: str
    callout: str
    unit: LengthUnit
    quantity: int | None = None
    x_mm: float | None = None
    y_mm: float | None = None
    material: str = ""
    thickness_mm: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class SetAside:
    """A row that names no hole: `why` is "blank", "title", "header", "units", "total", "note" or "deleted"."""

    ref: CellRef
    why: str
    text: str


@dataclass(frozen=True, slots=True)
class Schedule:
    """One file's hole schedule. rows_read = len(rows) + len(set_aside); `sha256` is the file's."""

    source: str
    sheet: str
    sha256: str
    header: JobHeader
    rows: tuple[ScheduleRow, ...]
    set_aside: tuple[SetAside, ...]
    rows_read: int
