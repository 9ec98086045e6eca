"""A thread in a callout is the one that the register of standards finds there, though its text is cut and remembered."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from holesched.callouts.normalise import fold
from holesched.callouts.tokens import Tokens
from holesched.standards import threads

CORPUS = Path(__file__).parents[1] / "unit" / "callouts" / "callouts.csv"
WRITTEN = (
    *("M8", "M8x1.25-6H", "m6", "M10x1-6H-LH", "MJ6x1-4H5H", "M16xPh3P1.5-6H", "M12x16", "M8 STI", "STI M8", "EG M8"),
    *("1/4-20", "1/4-20 UNC-2B", "#10-32", "10-32 UNF", "No. 8-32", "1 1/4-7 UNC", ".250-20 UNC", "2-4.5 UNC", "1/4 UNC"),
    *("UN 5/16-18", "1/4-18 NPT", "NPT 1/4", "1/8 NPTF", "1/8 PTF-SAE SHORT", "1/4 NPSM", "G 1/4", "G1/4 A", "Rc 1/4"),
    *("Rp1/2", "1/4 BSPT"),
    *("Tr20x4", "3/4-6 ACME-2G", "1/4 BSW", "1/4-26 BSF", "2BA", "1/4-20 UNC-2B STI", "M8 HELICAL INSERT", "PG 9"),
)
"""One or more spellings of each family of the register."""
BEHIND = ("", " THRU", " ↧12", "↧12", " x 20 DEEP", ", Ø6.8 ↧20", "\nØ9", " LH", " ⌴ Ø11", "; M6")


@pytest.mark.parametrize("text", WRITTEN)
def test_every_family_is_found_in_a_callout(text: str) -> None:
    alone = threads.recognise(text, 0, "mm")
    assert alone is not None
    assert Tokens(fold(text), "mm").thread(0) == alone


@given(st.sampled_from(("", "4x ", "Ø5, ", "TAP ")), st.sampled_from(WRITTEN), st.sampled_from(BEHIND))
def test_what_stands_around_it_changes_nothing_that_it_would_not_change_anyway(before: str, text: str, behind: str) -> None:
    folded = fold(before + text + behind)
    for unit in ("mm", "in"):
        assert Tokens(folded, unit).thread(len(before)) == threads.recognise(folded.text, len(before), unit)


def test_at_every_place_of_the_corpus() -> None:
    """Where letters or a number begin: in a line of its own and not behind an x, where the register cannot look."""
    with CORPUS.open(encoding="utf-8", newline="") as lines:
        texts = [fold(row["callout"]) for row in csv.DictReader(lines)]
    for folded in texts:
        if "\n" in folded.text:
            continue
        tokens = Tokens(folded, "mm")
        for place, sign in enumerate(folded.text):
            starts = sign.isalnum() and not folded.text[place - 1 : place].isalnum()
            if starts and folded.text[place - 1 : place] not in (".", ",", "/", "-"):
                assert tokens.thread(place) == threads.recognise(folded.text, place, "mm"), (folded.text, place)
