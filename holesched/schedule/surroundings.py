"""What the rows of a hole table are read with."""

from __future__ import annotations

from dataclasses import dataclass, field

from holesched.notes import CellRef
from holesched.schedule.marks import Marks, Merged
from holesched.schedule.table_units import Units


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What a table's rows are read with: where it stands, its units, the sheet's marks and merged ranges, and the symbol
    codes to replace in callouts."""

    file: str
    sheet: str
    units: Units
    marks: Marks = field(default_factory=Marks)
    merged: Merged = ()
    symbols: tuple[tuple[str, str], ...] = ()

    def ref(self, row: int, column: int) -> CellRef:
        """The reference of a cell whose row and column count from 0."""
        return CellRef(self.file, self.sheet, row + 1, column + 1)

    def replaced(self, callout: str) -> str:
        """A callout with a drawing system's own codes replaced by what they stand for."""
        for code, sign in self.symbols:
            callout = callout.replace(code, sign)
        return callout
