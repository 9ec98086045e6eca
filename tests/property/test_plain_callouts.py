"""The shortcuts of the plain spelling give the very reading that the other rules give, with every place and every note."""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Any, Literal, cast

from hypothesis import given, settings
from hypothesis import strategies as st

from holesched.callouts import parse, plain
from holesched.callouts.parse import read_callout

TESTS = Path(__file__).parents[1]
SHORTCUTS = (plain.plain_count, plain.plain_hole, plain.plain_thread)
Unit = Literal["mm", "in"]

numbers = st.sampled_from(
    ["8", "8.5", "12", ".25", "0.5", "0", "90", "1000", "6,6", "1/4", "07", "3.12345", "8 mm", ".2500"]
)
counts = st.sampled_from(["", "4X ", "4 x ", "12X", "0X ", "4-", "(4) ", "2X 3X ", "4 "])
threads = st.sampled_from(
    ["M8", "M8x1.25-6H", "M6-6H", "M12x16", "M10x1 LH", "#10-32 UNF-2B", "10-32", "1/4-20 UNC-2B", "M8 STI", "M7", "m6", "M"]
)
heads = st.sampled_from(
    ["", "⌴ ", "⌵ ", "⌴ SF ", "CSK ", "CBORE ", "DRILL ", "REAM ", "TAP ", "CHAM ", "FAR SIDE ", "LH ", "THRU "]
)
sizes = st.one_of(threads, st.builds("Ø{}".format, numbers), st.builds("Ø {}".format, numbers), numbers)
tolerances = st.sampled_from(["", "", " H7", "H8", " ±0.1", " ± .005", " M7", " +0.1/0", " H7/g6", " H14", " 6H"])
depths = st.one_of(
    st.sampled_from(["", " THRU", "THRU", " THRU ALL", " THRU ONE WALL", " DEEP", " BC", " DIA THRU", " MIN"]),
    st.builds(" ↧{}".format, numbers),
    st.builds(" ↧ {} MIN".format, numbers),
    st.builds(" x {}".format, numbers),
    st.builds(" {} DEEP".format, numbers),
)
angles = st.sampled_from(["", "", "", " x 90°", "x82°", " X 45°", " 120°", " x 90° ⌵", " x 90"])
steps = st.builds("{}{}{}{}{}".format, heads, sizes, tolerances, depths, angles)
texts = st.builds(
    lambda count, several, between: count + between.join(several),
    counts,
    st.lists(steps, min_size=1, max_size=3),
    st.sampled_from([" ", ", ", "; ", "\n", " / ", ""]),
)


def _read(text: str, unit: Unit, rules: tuple[Any, ...]) -> str:
    """Everything of a reading by these rules; places and threads as written take no part when readings are compared."""
    kept, parse.RULES = parse.RULES, rules
    parse.rules_for.cache_clear()
    try:
        return repr(read_callout.__wrapped__(text, unit))
    finally:
        parse.RULES = kept
        parse.rules_for.cache_clear()


def _same_without_shortcuts(text: str, unit: Unit) -> None:
    others = tuple(row for row in parse.RULES if row[0] not in SHORTCUTS)
    assert len(others) == len(parse.RULES) - len(SHORTCUTS)
    assert _read(text, unit, parse.RULES) == _read(text, unit, others)


@given(texts, st.sampled_from(("mm", "in")))
@settings(max_examples=600)
def test_the_shortcuts_change_nothing(text: str, unit: Unit) -> None:
    _same_without_shortcuts(text, unit)


def _corpora() -> list[tuple[str, Unit]]:
    found = []
    for path in (TESTS / "unit" / "callouts" / "callouts.csv", TESTS / "corpus" / "callouts.csv"):
        with path.open(encoding="utf-8", newline="") as lines:
            found += [(row["callout"].replace("\\n", "\n"), cast(Unit, row["unit"])) for row in csv.DictReader(lines)]
    return found


def test_nor_in_the_corpora() -> None:
    for text, unit in _corpora():
        _same_without_shortcuts(text, unit)
