"""A callout spread over several columns, brought together as a person would write it in one cell.

    DIA 6.8 | DEPTH 20 | THREAD M8x1.25-6H | DEPTH 15    is    Ø6.8 ↧20 M8x1.25-6H ↧15

Columns keep their order; a depth belongs to the column to its left that can have one.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from holesched.schedule.cells import Value, text_of
from holesched.schedule.damage import Damaged, damage_of
from holesched.schedule.headers import Column
from holesched.schedule.row_kinds import SPEAKS_OF_HOLES
from holesched.units import LengthUnit

_PARTS = ("callout", "description", "diameter", "fit", "thread", "depth", "drill_depth", "thread_depth", "counterbore",
          "counterbore_depth", "countersink", "countersink_angle", "side")  # fmt: skip
_LEADER = {"drill_depth": "diameter", "thread_depth": "thread", "counterbore_depth": "counterbore",
           "countersink_angle": "countersink"}  # fmt: skip
_SIGN = {"diameter": "Ø", "counterbore": "⌴ Ø", "countersink": "⌵ Ø", "depth": "↧", "drill_depth": "↧", "thread_depth": "↧",
         "counterbore_depth": "↧", "countersink_angle": "x "}  # fmt: skip
_MARK = {"counterbore": "⌴ ", "countersink": "⌵ "}
"""Put before a text that names its size but not what it is."""
_BARE = re.compile(r"((?:\d+[ -])?\d+/\d+|\d*[.,]?\d+|\d+[.,])(\s*(?:mm|in|\"))?")
"""A number, and its unit where it has one."""
_PLAIN_DIAMETER = re.compile(r"\d*[.,]?\d+\s*(?:[A-Za-z]{1,2}\d{1,2}|[±+].*)", re.S)
"""A number with a fit or a tolerance: it stands for a diameter in a diameter's column."""
_NAMED_DRILL = re.compile(r"[A-Za-z]|(?:#|No\.?|Nr\.?) ?(?P<number>\d{1,2})", re.I)
"""A drill of the letter or number series: in a diameter's column it is nothing else."""
_NOT_APPLICABLE = frozenset(("-", "–", "—", "--", "n/a", "na", "none", "no", "nein", "non"))
_OTHER_SIDE = re.compile(
    r"far|rear|back|opp|both|bottom|rück|beid|hinten|arri|oppos|deux|裏|両|poster|opuest|ambos|entramb", re.I
)
_DEPTH_WRITTEN = re.compile(r"↧|▽|\b(?:dp|deep|depth|thru|through|tief|durch|prof)\b|通|深", re.I)


@dataclass(frozen=True, slots=True)
class Pieces:
    """A joined callout, its first filled column, and what a depth column says against the callout's own depth, if so."""

    text: str
    first: Column
    against: str = ""
    damaged: Damaged | None = None


def callout_columns(columns: Sequence[Column]) -> tuple[Column, ...]:
    """The columns that make up the callout, in the order in which they are written."""
    parts = [column for column in columns if column.field in _PARTS]
    ordered: list[Column] = []
    for column in parts:
        leader = _LEADER.get(column.field)
        place = next((i for i, other in enumerate(ordered) if other.field == leader), None)
        ordered.insert(len(ordered) if place is None else place + 1, column)
    return tuple(ordered)


def join_callout(row: Sequence[Value], columns: Sequence[Column], unit: LengthUnit) -> Pieces:
    """The callout of a row whose columns are `columns`; numbers in another unit than `unit` carry theirs."""
    texts: list[str] = []
    first: Column | None = None
    against = ""
    for column in columns:
        value = row[column.index] if column.index < len(row) else ""
        damaged = damage_of(value) if column.field == "callout" or not isinstance(value, float) else None
        if damaged:
            return Pieces("", column, damaged=damaged)
        text = _piece(text_of(value), column, unit)
        if not text:
            continue
        first = first or column
        if column.field.endswith("depth") and texts and _DEPTH_WRITTEN.search(texts[-1]):
            against = "" if text.lstrip("↧ ") in texts[-1] else text
            continue
        texts.append(text)
    return Pieces(" ".join(texts), first or columns[0], against)


def _piece(text: str, column: Column, unit: LengthUnit) -> str:
    """One column's part of the callout, "" when the cell says nothing of the hole."""
    field = column.field
    if not text or (field != "callout" and text.casefold() in _NOT_APPLICABLE):
        return ""
    if field in ("description", "side"):
        return text if (SPEAKS_OF_HOLES if field == "description" else _OTHER_SIDE).search(text) else ""
    if field == "diameter" and _PLAIN_DIAMETER.fullmatch(text):
        return f"Ø{text}"
    if field == "diameter" and (named := _NAMED_DRILL.fullmatch(text)):
        return f"#{named['number']} DRILL" if named["number"] else f"{text} DRILL"
    bare = _BARE.fullmatch(text)
    if not bare:
        mark = _MARK.get(field, "")
        return text if not mark or text[0] in "⌴⌵cC" else mark + text
    sign = _SIGN.get(field, "")
    if field == "countersink_angle":
        return f"{sign}{text}°"
    suffix = f" {column.unit}" if sign and column.unit and column.unit != unit and not bare[2] else ""
    return f"{sign}{text}{suffix}"
