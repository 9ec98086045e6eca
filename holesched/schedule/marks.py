"""What the quick reader does not tell about a sheet: hidden rows and columns, cells in error, what a format adds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from holesched.schedule.damage import Damaged

Address = tuple[int, int]
"""Row and column, from 1."""
Merged = Sequence[tuple[int, int, int, int]]
"""Merged ranges: first row, first column, last row, last column, from 1."""


@dataclass(frozen=True, slots=True)
class Marks:
    """One sheet's marks. `damaged` cells replace what the reader gave; `shown` is a number as its format shows it, with
    signs that the value lacks; `struck` cells are struck through. `unseen` when none of it could be looked at. `merged` are
    ranges beside those that the reader gave."""

    hidden_rows: tuple[int, ...] = ()
    hidden_columns: tuple[int, ...] = ()
    hidden_sheet: bool = False
    damaged: Mapping[Address, Damaged] = field(default_factory=dict)
    shown: Mapping[Address, str] = field(default_factory=dict)
    struck: frozenset[Address] = frozenset()
    unseen: bool = False
    merged: Merged = ()
