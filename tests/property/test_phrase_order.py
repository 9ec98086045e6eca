"""Phrases of one callout in any order that drawings use say the same: the order decides nothing but what belongs to what."""

from __future__ import annotations

from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from holesched.callouts.model import Element
from holesched.callouts.parse import read_callout
from holesched.features.build import build_callout
from holesched.features.model import Feature

QUANTITY = ("4X", "4 PLCS", "4 HOLES", "4 Bohrungen", "4 trous", "4 fori", "4 отв.")
HANDS = ("LH", "LEFT HAND", "LINKSGEWINDE", "PAS À GAUCHE")
DEEP = ("↧12", "12 DEEP", "DEPTH 12", "12 TIEF", "PROF. 12", "gł. 12", "гл. 12")
THROUGH = ("THRU", "durchgehend", "débouchant", "passante", "genomgående")
NOTES = ("DEBURR", "Ra 1.6", "SEE NOTE 2", "TYP")
CIRCLES = ("EQ SP ON Ø60 BC", "Ø60 PCD", "ON 60 BC")


def made(text: str) -> tuple[object, object, object, frozenset[str]]:
    """What a callout says of each step, in no order; its number and circle, and what is asked."""
    reading = read_callout(text, "mm")
    assert reading.callout is not None, (text, [note.message for note in reading.notes])
    steps = frozenset(map(_step, reading.callout.elements))
    asked = frozenset(note.code for note in reading.notes if note.is_question)
    return steps, reading.callout.count, reading.callout.circle, asked


def _step(element: Element) -> tuple[object, ...]:
    uses = frozenset(element.uses)
    return (
        element.kind,
        element.diameter,
        element.tolerance,
        element.depth,
        element.thread,
        element.side,
        element.angle_deg,
        uses,
    )


def alike(texts: list[str]) -> None:
    """All say what the first says; 4X 12 DEEP alone is asked, too: it may be 4 by 12."""
    first = made(texts[0])
    for text in texts[1:]:
        *said, asked = made(text)
        doubtful = {"CALLOUT-COUNT-DOUBTFUL"} if "4X 12 " in text else set()
        assert (*said, asked - doubtful) == first, (text, texts[0])


separators = st.sampled_from((" ", ", ", "\n"))


@given(st.sampled_from(DEEP), st.sampled_from(HANDS), st.sampled_from(QUANTITY), st.sampled_from(NOTES[:3]), separators)
@settings(max_examples=60)
def test_what_stands_behind_a_thread_stands_in_any_order(depth: str, hand: str, quantity: str, note: str, gap: str) -> None:
    """Depth, hand, quantity and a note, behind a thread with its class; the quantity before it, too."""
    texts = [gap.join(("M8x1-6H", *order)) for order in permutations((depth, hand, quantity, note))]
    alike([f"{quantity} M8x1-6H {hand} {depth} {note}", *texts])


@given(st.sampled_from(DEEP + THROUGH), st.sampled_from(QUANTITY), st.sampled_from(CIRCLES), separators)
@settings(max_examples=60)
def test_a_plain_hole_and_its_circle_stand_in_any_order(depth: str, quantity: str, circle: str, gap: str) -> None:
    texts = [gap.join(("Ø8 H7", *order)) for order in permutations((depth, quantity, circle))]
    alike([f"{quantity} Ø8 H7 {depth} {circle}", *texts])


@pytest.mark.parametrize("gap", [", ", "; ", "\n"])
@pytest.mark.parametrize(
    "steps",
    [
        ("M8-6H ↧16", "Ø6.8 ↧20", "⌵ Ø9 x 90°"),
        ("Ø6.6 THRU", "⌴ Ø11 ↧6.4", "DEBURR"),
        ("Ø6.6 THRU", "CBORE Ø11 ↧6.4 FAR SIDE", "CSK Ø7 x 90°"),
        ("M8 THRU", "C1 BOTH SIDES", "TAP DRILL Ø6.8 THRU"),
        ("REAM Ø8 H7 ↧20", "DRILL Ø7.8 ↧25"),
    ],
)
def test_steps_stand_in_any_order(steps: tuple[str, ...], gap: str) -> None:
    """A drill after its thread, an opening before its hole: each step whole; a chamfer needs its hole before it."""
    orders = [order for order in permutations(steps) if not order[0].startswith("C1")]
    alike([gap.join(order) for order in orders])


@pytest.mark.parametrize(
    ("texts"),
    [
        ["M6 THRU ↧8", "M6 ↧8 THRU", "M6 THRU, 8 DEEP", "M6 8 DEEP THRU", "M6 x 8 THRU", "M6 THRU x 8 DEEP"],
        ["M8 THRU, C1 BOTH SIDES", "M8 THRU BOTH SIDES C1", "M8 THRU, C1 2 SIDES", "M8 durch beidseitig C1"],
        ["M10x1 ↧15", "M10 PITCH 1 ↧15", "M10 ↧15 PITCH 1", "M10 pas de 1 prof. 15"],
        ["M6 ↧12 DRILL DEPTH 15", "M6 ↧12, HOLE ↧15", "M6 ↧12 (TAP DRILL ↧15)", "M6 深12 下穴15", "M6深12 孔深15"],
    ],
)
def test_one_callout_in_several_orders(texts: list[str]) -> None:
    def planned(text: str) -> list[tuple[object, ...]]:
        hole, notes, _ = build_callout(text, "mm")
        assert hole is not None, [note.message for note in notes]
        assert not [note.code for note in notes if note.is_question], text
        return sorted((_feature(feature) for feature in hole.features), key=repr)

    assert [text for text in texts if planned(text) != planned(texts[0])] == []


def _feature(feature: Feature) -> tuple[object, ...]:
    thread = feature.thread.designation if feature.thread is not None else ""
    return feature.kind.value, feature.diameter.mm, feature.depth, feature.pilot_depth, feature.side.value, thread
