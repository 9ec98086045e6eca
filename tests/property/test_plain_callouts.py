"""The shortcut of the plain spelling gives the very reading that the rules give, with every place and every note."""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Literal, cast

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from holesched.callouts import parse
from holesched.callouts.model import Callout
from holesched.callouts.normalise import Folded, fold
from holesched.callouts.parse import read_callout
from holesched.callouts.plain import plain_callout
from holesched.units import LengthUnit

TESTS = Path(__file__).parents[1]
Unit = Literal["mm", "in"]

numbers = st.sampled_from(
    ["8", "8.5", "12", ".25", "0.5", "0", "90", "1000", "6,6", "1/4", "07", "3.12345", "8 mm", ".2500"]
)
counts = st.sampled_from(["", "4X ", "4 x ", "12X", "0X ", "4-", "(4) ", "2X 3X ", "4 "])
threads = st.sampled_from(
    ["M8", "M8x1.25-6H", "M6-6H", "M12x16", "M10x1 LH", "#10-32 UNF-2B", "10-32", "1/4-20 UNC-2B", "M8 STI", "M7", "m6", "M"]
)
heads = st.sampled_from(
    ["", "", "⌴ ", "⌵ ", "⌴ SF ", "CSK ", "CBORE ", "DRILL ", "REAM ", "TAP ", "CHAM ", "FAR SIDE ", "LH ", "THRU "]
)
sizes = st.one_of(threads, st.builds("Ø{}".format, numbers), st.builds("Ø {}".format, numbers), numbers)
tolerances = st.sampled_from(
    ["", "", " H7", "H8", " ±0.1", " ± .005", " M7", " +0.1/0", " +0.1/-0.02", " +3/-2", "+.1/-.1", " H7/g6", " H14", " 6H"]
)
depths = st.one_of(
    st.sampled_from(["", " THRU", "THRU", " THRU ALL", " THRU ONE WALL", " DEEP", " BC", " DIA THRU", " MIN"]),
    st.builds(" ↧{}".format, numbers),
    st.builds(" ↧ {} MIN".format, numbers),
    st.builds(" x {}".format, numbers),
    st.builds(" {} DEEP".format, numbers),
)
sides = st.sampled_from(["", "", "", " FAR SIDE", " NEAR SIDE", " BOTH SIDES", " far side"])
angles = st.sampled_from(["", "", "", " x 90°", "x82°", " X 45°", " 120°", " x 90° ⌵", " x 90"])
steps = st.builds("{}{}{}{}{}{}".format, heads, sizes, tolerances, depths, angles, sides)
texts = st.builds(
    lambda count, several, between: count + between.join(several),
    counts,
    st.lists(steps, min_size=1, max_size=3),
    st.sampled_from([" ", ", ", "; ", "\n", " / ", ""]),
)


def _none(folded: Folded, unit: LengthUnit) -> Callout | None:
    """Takes the place of the shortcut: no text is plain."""
    return None


def _same_without_shortcut(text: str, unit: Unit) -> None:
    """Everything of both readings; places and threads as written take no part when readings themselves are compared."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(parse, "plain_callout", _none)
        by_rules = repr(read_callout.__wrapped__(text, unit))
    assert repr(read_callout.__wrapped__(text, unit)) == by_rules


@given(texts, st.sampled_from(("mm", "in")))
@settings(max_examples=600)
def test_the_shortcut_changes_nothing(text: str, unit: Unit) -> None:
    _same_without_shortcut(text, unit)


@pytest.mark.parametrize(
    "text",
    [
        "M8x1.25-6H ↧16",
        "4X M6 THRU",
        "#10-32 UNF-2B ↧.5",
        "Ø8 H7 THRU",
        "Ø8.5 ±0.05 ↧12 FAR SIDE",
        "Ø10 +0.1/-0.2 THRU",
        "Ø6.6 THRU ⌴ Ø11 ↧6.8",
        "Ø5.5 THRU\nCSK Ø10.4 X 90°",
        "Ø9 THRU CBORE Ø15 ↧8.6",
        "DRILL 6.8 X 20 DEEP, TAP M8 ↧16",
        "DRILL 7.8 ↧20; REAM 8 H7 ↧16 NEAR SIDE",
        "⌀8 ↧20",
    ],
)
def test_plain_texts_take_the_shortcut(text: str) -> None:
    assert plain_callout(fold(text), "mm") is not None
    _same_without_shortcut(text, "mm")


def _corpora() -> list[tuple[str, Unit]]:
    found = []
    for path in (TESTS / "unit" / "callouts" / "callouts.csv", TESTS / "corpus" / "callouts.csv"):
        with path.open(encoding="utf-8", newline="") as lines:
            found += [(row["callout"].replace("\\n", "\n"), cast(Unit, row["unit"])) for row in csv.DictReader(lines)]
    return found


def test_nor_in_the_corpora() -> None:
    for text, unit in _corpora():
        _same_without_shortcut(text, unit)
