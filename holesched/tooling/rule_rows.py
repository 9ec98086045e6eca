"""One row of the rules: when it fires, what it says, and how it is read from a table."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fnmatch import fnmatchcase
from functools import lru_cache

from holesched.errors import BadTable
from holesched.notes import Cite, Standing
from holesched.tooling.case import HOLES, LATER, MACHINES, THREADS, WALLS, HoleCase

RISKY_TAPS = "changes for risky taps"
"""Tool changes that a part may take more, so that the taps nearest to breaking come before the rest of the work."""
DECISIONS = (
    "process",
    "flute form",
    "helix",
    "tap teeth",
    "chamfer",
    "tap material",
    "tap treatment",
    "tap limit",
    "tap drill aim",
    "taper pipe hole",
    "thread mill treatment",
    "drill material",
    "drill treatment",
    "drill point",
    "reamer material",
    "reamer flutes",
    "cutter material",
    "hole bottom",
    "room under a tool",
    "opening",
    "start of milling",
    "wide chamfer",
    "stepped hole",
    "most torque by hand",
    "most of the machine",
    RISKY_TAPS,
    "coolant",
    "coolant supply",
)
"""What the table decides, in this order: a later decision may depend on an earlier one (column `given`)."""
FIGURES: Mapping[str, str] = {"most torque by hand": "N·m", "most of the machine": "%", RISKY_TAPS: "changes"}
"""Decisions whose verdict is a number, and its unit."""
WATCH = "watch"
EFFECTS = ("choose", "never", WATCH)
CHIPS = ("long", "short", "powdery")
RANGES = ("hb", "size_mm", "depth_d", "room_p", "torque", "breaking", "lot")
"""Condition columns that hold a range of numbers."""
WORDS = ("hole", "chip", "trait", "thread", "wall", "machine", "later", "given")
"""Condition columns that hold words; any of the words in the cell will do."""
_VOCABULARY: Mapping[str, tuple[str, ...]] = {
    "hole": HOLES,
    "chip": CHIPS,
    "thread": THREADS,
    "wall": WALLS,
    "machine": MACHINES,
    "later": LATER,
}


@dataclass(frozen=True, slots=True)
class Range:
    """Numbers from `low`, below `high`."""

    low: float = float("-inf")
    high: float = float("inf")

    def holds(self, value: float | None) -> bool:
        """Whether the value lies in the range; an unknown value lies in none."""
        return value is not None and self.low <= value < self.high


Ranges = tuple[tuple[str, Range], ...]


@dataclass(frozen=True, slots=True)
class Rule:
    """One row: when it fires, what it says, and why. An empty condition holds for every hole."""

    id: str
    decides: str
    effect: str
    verdict: str
    rank: int
    words: tuple[tuple[str, frozenset[str]], ...]
    """(column, any of these words) for hole, chip, trait, thread, wall, machine, later and given."""
    materials: tuple[str, ...]
    ranges: Ranges
    """(column, range) for hb, size_mm, depth_d, room_p, torque, breaking and lot."""
    because: str
    cite: Cite
    guards: str = ""
    """What a safety rule guards people against; "" for every other one."""

    def fires(self, case: HoleCase, given: frozenset[str] = frozenset()) -> bool:
        """Whether every condition holds for the hole, with the earlier decisions `given`."""
        if not self.speaks_of(case.subgroup, case.group):
            return False
        said = all(not wanted.isdisjoint(given if of == "given" else case.words(of)) for of, wanted in self.words)
        return said and within(self.ranges, case)

    def speaks_of(self, subgroup: str, group: str) -> bool:
        """Whether the row is for a material."""
        return not self.materials or any(is_of(subgroup, group, entry) for entry in self.materials)

    def strikes(self, verdict: str) -> bool:
        """Whether a row that says never speaks of this verdict; * stands for any text."""
        return verdict == self.verdict or ("*" in self.verdict and fnmatchcase(verdict, self.verdict))


def within(ranges: Ranges, case: HoleCase) -> bool:
    """Whether all the hole's numbers lie in their ranges."""
    for column, span in ranges:
        value = case.number(column)
        if not span.holds(value):
            return False
    return True


def is_of(subgroup: str, group: str, entry: str) -> bool:
    """Whether a material is of a table's entry: its group letter, its subgroup, or a finer key of it (P4+ is of P4, N10 not
    of N1)."""
    if entry in (group, subgroup):
        return True
    rest = subgroup.removeprefix(entry)
    return rest != subgroup and not rest[0].isdigit() and entry != group


def read_rule(row: Mapping[str, str], where: str) -> Rule:
    """One row of a table as a rule; columns of conditions that the table does not have hold for every hole.

    Raises BadTable, with the row's place `where`, for a word, range or effect that is not known.
    """
    if row["decides"] not in (*DECISIONS, WATCH):
        raise BadTable(f"'{row['decides']}' is nothing to decide", where, f"Decided are: {', '.join((*DECISIONS, WATCH))}.")
    if row["effect"] not in EFFECTS:
        raise BadTable(f"'{row['effect']}' is no effect", where, f"Write one of: {', '.join(EFFECTS)}.")
    words = []
    for column in WORDS:
        wanted = frozenset(word.strip() for word in row.get(column, "").split("|") if word.strip())
        known = _VOCABULARY.get(column, tuple(wanted))
        unknown = wanted - set(known)
        if unknown:
            raise BadTable(f"'{', '.join(sorted(unknown))}' is no {column}", where, f"Write one of: {', '.join(known)}.")
        if wanted:
            words.append((column, wanted))
    try:
        ranges = tuple((name, _range(row[name])) for name in RANGES if row.get(name))
        rank = _rank(row["rank"]) if row["effect"] == "choose" else 0
        if row["decides"] in FIGURES:
            figure_in(row["verdict"], FIGURES[row["decides"]])
    except ValueError as problem:
        raise BadTable(str(problem), where) from problem
    standing = next((each for each in Standing if each.value == row["standing"]), None)
    if standing is None:
        standings = "; ".join(each.value for each in Standing)
        raise BadTable(f"'{row['standing']}' is no standing", where, f"Write one of: {standings}.")
    materials = tuple(entry.strip() for entry in row.get("material", "").split("|") if entry.strip())
    cite = Cite(row["source"], standing=standing)
    return Rule(
        id=row["id"],
        decides=row["decides"],
        effect=row["effect"],
        verdict=row["verdict"],
        rank=rank,
        words=tuple(words),
        materials=materials,
        ranges=ranges,
        because=row["because"],
        cite=cite,
        guards=row.get("guards", ""),
    )


@lru_cache(maxsize=256)
def figure_in(verdict: str, unit: str) -> float:
    """The number of a verdict such as "150 N·m" (150 N m is as good). Raises ValueError when it is none above 0 (and up to
    100 %; no changes are as good as any), or in another unit."""
    number, _, of = verdict.strip().partition(" ")
    try:
        value = float(number)
    except ValueError:
        value = -1.0
    none = value == 0 and unit == FIGURES[RISKY_TAPS]
    in_unit = of.strip().replace("N m", "N·m") == unit
    if not (0 < value < float("inf") or none) or not in_unit or (unit == "%" and value > 100):
        raise ValueError(f"'{verdict}' is no number of {unit}; write a number above 0 and its unit: 10 {unit}")
    return value


def _rank(text: str) -> int:
    try:
        return int(text)
    except ValueError as problem:
        raise ValueError(f"'{text}' is no rank; write a whole number") from problem


def _range(text: str) -> Range:
    low, dots, high = text.partition("..")
    try:
        span = Range(float(low) if low.strip() else float("-inf"), float(high) if high.strip() else float("inf"))
    except ValueError:
        dots = ""
    if not dots or span.low >= span.high:
        raise ValueError(f"'{text}' is no range; write a..b, a.. or ..b")
    return span
