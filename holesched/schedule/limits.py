"""What a schedule file may hold at most. Passing a limit is a CannotRead, never a truncated reading."""

from __future__ import annotations

from holesched.errors import CannotRead

FILE_BYTES = 50_000_000
"""Size of the file itself."""
INFLATED_BYTES = 400_000_000
"""Sum of all members of a workbook's archive once inflated, counted while inflating, whatever the archive declares."""
INFLATION_RATIO = 300
"""Inflated over packed size of one member above RATIO_APPLIES_FROM bytes; deflate itself ends near 1,030."""
RATIO_APPLIES_FROM = 5_000_000
ARCHIVE_MEMBERS = 5_000
SHEETS = 200
ROWS = 100_000
"""Rows of one sheet down to its last filled cell."""
GRID_CELLS = 4_000_000
"""Rows times columns of the rectangle that holds all filled cells of a sheet: what the reader must hold in memory."""
CELL_CHARACTERS = 2_000
REPEATED_CHARACTERS = 200_000_000
"""Characters of a workbook's texts once shared ones stand in every cell that refers to them, and spaces are written out."""
TITLE_ENTRIES = 60
"""Title-block entries without a field of their own that are kept."""
TAG_RANGE = 10_000
"""Holes that one tag range ("A1-A9999") may stand for, and the largest quantity of one row."""


def check(value: int, limit: int, what: str, where: str, remedy: str) -> None:
    """Raises CannotRead when `value` passes `limit`; `what` completes the sentence "it holds 3 <what>, ..."."""
    if value > limit:
        raise CannotRead(f"it holds {value:,} {what}, more than the {limit:,} that are read.", where, remedy)
