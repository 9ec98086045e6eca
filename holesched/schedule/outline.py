"""A part's outline in plan, as title blocks and callers write it: 200 x 120, 200x120x30 mm, 8 x 5 in."""

from __future__ import annotations

import re

from holesched.schedule.lengths import read_length
from holesched.units import LengthUnit

_BY = re.compile(r"\s*[x×✕*X]\s*")
_LETTERS = re.compile(r"(?<=[\d\"'])\s*(?:L|W|T|H|B|D|LG|THK|THICK)\b\.?", re.IGNORECASE)
"""Which side a size is, behind it: 200 L x 120 W x 30 T."""


def read_outline(text: str, unit: LengthUnit) -> tuple[float, float] | None:
    """The outline's two sides in mm, the first along X; a third size is its height and left to the thickness.

    A unit behind the last size is that of all; plain numbers are in `unit`. None when it is no outline of a plate.
    """
    sizes = _BY.split(_LETTERS.sub("", text.strip()))
    if len(sizes) not in (2, 3):
        return None
    last = read_length(sizes[-1], unit)
    lengths = [read_length(size, last.unit or unit) for size in sizes] if last is not None else []
    sides = [length.mm for length in lengths if length is not None and length.mm > 0]
    return (sides[0], sides[1]) if len(sides) == len(sizes) else None
