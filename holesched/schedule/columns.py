"""Header words to our fields, by the table header_words.csv: to add a column name, add it there to its field's line.

A word may name several fields; its rank tells how plainly (1: says it, 9: only when nothing better is there).
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache

from holesched.tables import table
from holesched.units import LengthUnit

_UNIT_WORDS: dict[str, LengthUnit] = {
    **dict.fromkeys(("mm", "millimeter", "millimeters", "millimetre", "millimetres", "millimetri", "milimetros", "metric",
                     "metrisch", "ミリ", "ミリメートル"), "mm"),
    **dict.fromkeys(("in", "inch", "inches", "zoll", "pouce", "pouces", "pulg", "pulgada", "pulgadas", "pollice", "pollici",
                     "imperial", "インチ", '"', "''", "in."), "in"),
}  # fmt: skip
_OTHER_UNITS = re.compile(
    r"[cdkµμu]?m|cms?|(?:centi|deci|micro)?met(?:er|re)s?|zentimeter|meter|microns?|feet|foot|ft|yards?|mils?|thou|センチ|メートル",
    re.I,
)
_SIGNS = str.maketrans({"⌀": "ø", "∅": "ø", "φ": "ø", "Φ": "ø", "Ø": "ø", "º": ""})
_DIGIT = re.compile(r"\d")
"""No header word of the table has a digit; callouts and tags, which are many, nearly always have."""
_BRACKET = re.compile(r"[(\[{<]([^()\[\]{}<>]*)[)\]}>]")


def key(text: str) -> str:
    """A header word without case, accents, points and brackets: "X-LOC." and "x loc" are one."""
    decomposed = unicodedata.normalize("NFKD", text.translate(_SIGNS)).casefold()
    kept = "".join(c if c.isalnum() or c in "#" else " " for c in decomposed if not unicodedata.combining(c))
    return " ".join(kept.split())


def unit_word(text: str) -> LengthUnit | None:
    """The unit that a text is and nothing else: "mm", "(in)", "[mm]", "inches"; None otherwise."""
    return _UNIT_WORDS.get(text.strip().strip("()[]{}").strip().casefold())


def is_other_unit(text: str) -> bool:
    """Whether a text is a unit of length in which no schedule is read: "cm", "feet"."""
    return _OTHER_UNITS.fullmatch(text.strip().strip("()[]{}.").strip()) is not None


@dataclass(frozen=True, slots=True)
class Heading:
    """A header cell's text, the fields it may name with their ranks, and the unit written with it."""

    text: str
    choices: tuple[tuple[int, str], ...]
    unit: LengthUnit | None = None


@cache
def fields() -> tuple[str, ...]:
    """Every field that a header word may be mapped to, also by the shop's own map."""
    return tuple(dict.fromkeys(row["field"] for row in table("header_words.csv").rows))


@cache
def _choices() -> Mapping[str, tuple[tuple[int, str], ...]]:
    """Word -> (rank, field) of each field that it may name, the plainest first."""
    found: dict[str, list[tuple[int, str]]] = {}
    for row in table("header_words.csv").rows:
        for word in row["words"].split("|"):
            found.setdefault(key(word), []).append((int(row["rank"]), row["field"]))
    return {word: tuple(sorted(choices)) for word, choices in found.items()}


@lru_cache(maxsize=4096)
def heading(text: str, own: tuple[tuple[str, str], ...] = ()) -> Heading | None:
    """What a cell says as a header, or None when it is no header word. `own` is the user's map, which goes first."""
    if not text or len(text) > 60:
        return None
    for word, field in own:
        if key(word) == key(text):
            return Heading(text, ((0, field),), _stated_unit(text)[1])
    if _DIGIT.search(text) and not own:
        return None
    bare, unit = _stated_unit(text)
    choices = _choices().get(key(bare)) or _choices().get(key(text))
    if choices is None:
        for word, field in own:
            if key(word) == key(bare):
                return Heading(text, ((0, field),), unit)
        choices = _alike_choices(bare)
    return Heading(text, choices, unit) if choices else None


def _alike_choices(text: str) -> tuple[tuple[int, str], ...]:
    """What the words of a header in two languages name alike: "QTY / 個数", "Hole (Bohrung)"; nothing for other texts."""
    words = [word for word in re.split(r"[/|\n(（）)]", text) if key(word)]
    if len(words) < 2:
        return ()
    first, *others = ({field: rank for rank, field in _choices().get(key(word), ())} for word in words)
    return tuple((rank, field) for field, rank in first.items() if all(field in other for other in others))


def _stated_unit(text: str) -> tuple[str, LengthUnit | None]:
    """A header text without its unit, and the unit: "X (in)" -> "X", "in"; "Tiefe in mm" -> "Tiefe", "mm"."""
    for match in _BRACKET.finditer(text):
        unit = unit_word(match.group(1))
        if unit:
            return text[: match.start()] + text[match.end() :], unit
    words = re.split(r"[\s,/_]+", text.strip())
    unit = unit_word(words[-1]) if len(words) > 1 else None
    if unit is None:
        return text, None
    rest = words[:-1]
    return " ".join(rest[:-1] if len(rest) > 1 and rest[-1].casefold() == "in" else rest), unit
