"""Any text gives a reading or a clear question; a callout printed and read again is the same callout."""

from __future__ import annotations

import csv
from dataclasses import replace
from pathlib import Path
from typing import Literal

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from holesched.callouts.canonical import canonical
from holesched.callouts.model import Callout, Circle, Depth, Element, Kind, Side, Tolerance
from holesched.callouts.parse import read_callout
from holesched.features.build import build_callout, status_of
from holesched.notes import Severity
from holesched.standards import threads
from holesched.standards.drill_sizes import by_label, series
from holesched.standards.sizes import Size
from holesched.tables import table

CORPUS = Path(__file__).parents[1] / "unit" / "callouts" / "callouts.csv"
units: st.SearchStrategy[Literal["mm", "in"]] = st.sampled_from(("mm", "in"))
words = st.sampled_from([row["word"] for row in table("callout_words.csv").rows])
signs = st.sampled_from([*list("Ø⌴⌵↧°±x×X*#()[]/-+,;:\n.%&?□"), "%%c", "\\P", "+0.1/-0.2", "H7", "h7", "6H", "2B"])
sizes = st.sampled_from(
    ["M8", "M8x1.25-6H", "1/4-20 UNC-2B", "10-32", "#7", "Q DRILL", "1 1/4", "G 1/4", "4X", "(4)", "STI"]
)
numbers = st.one_of(
    st.integers(0, 2000).map(str), st.decimals(0, 99, places=2).map(str), st.sampled_from([".5", "6,6", "1.0"])
)
fragments = st.lists(st.one_of(words, signs, sizes, numbers), max_size=12).flatmap(
    lambda parts: st.sampled_from([" ", ""]).map(lambda glue: glue.join(parts))
)


def _accounted_for(text: str, unit: Literal["mm", "in"]) -> None:
    reading = read_callout(text, unit)
    refused = [note for note in reading.notes if note.severity is Severity.REFUSED]
    assert (reading.callout is None) == bool(refused)
    for note in reading.notes:
        assert note.code
        assert note.message.strip()
    hole, notes, count = build_callout(text, unit)
    status = status_of(hole, notes)
    assert status in ("ok", "question", "error")
    if status == "ok":
        assert hole is not None
        for feature in hole.features:
            assert feature.diameter.mm > 0
            assert feature.depth.through or feature.depth.mm is None or feature.depth.mm >= 0
    assert count is None or count >= 0


@given(st.text(max_size=80), units)
@example("Ø" + "9" * 400, "mm")
@example("1/0", "in")
@example("²³¹", "mm")
@example("\x00", "mm")
@example("M8 10-32 6H", "mm")
@example("M" * 200, "mm")
def test_any_text_is_read_or_refused(text: str, unit: Literal["mm", "in"]) -> None:
    _accounted_for(text, unit)


@given(fragments, units)
@settings(max_examples=400)
def test_any_shuffle_of_our_own_words_is_read_or_refused(text: str, unit: Literal["mm", "in"]) -> None:
    _accounted_for(text, unit)


@given(fragments, units)
def test_what_was_read_from_fragments_is_printed_and_read_again(text: str, unit: Literal["mm", "in"]) -> None:
    """Only for texts that were read without a question: what is asked about may well read differently when it is tidied."""
    reading = read_callout(text, unit)
    if reading.callout is None or any(note.is_question for note in reading.notes):
        return
    _same_again(reading.callout)


def _same_again(callout: Callout) -> None:
    text = canonical(callout)
    again = read_callout(text, "mm")
    assert again.callout is not None, (text, [note.message for note in again.notes])
    assert replace(again.callout, text=callout.text) == callout, text


with CORPUS.open(encoding="utf-8", newline="") as _lines:
    TEXTS = [(row["callout"], row["unit"]) for row in csv.DictReader(_lines)]


@pytest.mark.parametrize(("text", "unit"), TEXTS, ids=[repr(text)[:40] for text, _ in TEXTS])
def test_corpus_is_printed_and_read_again(text: str, unit: Literal["mm", "in"]) -> None:
    callout = read_callout(text, unit).callout
    if callout is not None and callout.elements:
        _same_again(callout)


def _mm(low: float, high: float) -> st.SearchStrategy[float]:
    return st.integers(round(low * 1000), round(high * 1000)).map(lambda micrometres: micrometres / 1000)


depths = st.one_of(
    st.just(Depth(through=True)),
    _mm(1, 80).map(Depth),
    _mm(1, 80).map(lambda mm: Depth(mm, least=True)),
    _mm(1, 80).map(lambda mm: Depth(mm, most=True)),
    st.tuples(_mm(5, 80), st.tuples(_mm(-2, 0), _mm(0, 2))).map(lambda drawn: Depth(drawn[0], tolerance_mm=drawn[1])),
)
metric = _mm(0.5, 60).map(lambda mm: Size(mm, f"{mm:g}"))
named = st.sampled_from([size for size in series("inch") if by_label(size.label) == size])
inch = st.integers(10, 2500).map(lambda mil: Size(round(mil / 1000 * 25.4, 6), f"{mil / 1000:g} in".removeprefix("0")))
diameters = st.one_of(metric, inch, named)
zones = st.sampled_from(["H7", "H8", "F7", "JS9", "G6", "N9", "K7"])
hands = ["", " LH"]
threads_written = st.sampled_from(
    [
        f"{name}{hand}"
        for name in ("M8", "M8x1.25-6H", "M10x1", "M12x16", "MJ6x1-4H5H", "1/4-20 UNC-2B", "#10-32 UNF", "1 1/4-7 UNC-2B")
        for hand in hands
    ]
    + ["G 1/4", "1/4-18 NPT", "Rc 1/4", "Tr20x4-7H", "3/4-6 ACME-2G", "1/4 BSW", "2BA"]
)


@st.composite
def tapped(draw: st.DrawFn) -> Element:
    text = draw(threads_written)
    found = threads.recognise(text, 0, "mm")
    assert found is not None
    assert found[1] == len(text)
    call = found[0]
    depth = draw(st.none() | depths)
    if call.length_mm is not None:
        depth = Depth(call.length_mm)
    stated = draw(st.booleans())
    side = draw(st.sampled_from(Side))
    return Element(Kind.TAP, depth=depth, thread=call, side=side, stated=stated, thread_text=text)


@st.composite
def plain(draw: st.DrawFn) -> Element:
    size = draw(diameters)
    stated = draw(st.booleans())
    kind = draw(st.sampled_from((Kind.DRILL, Kind.REAM, Kind.BORE))) if stated else Kind.DRILL
    tolerance = None
    if draw(st.booleans()):
        low, high = sorted((draw(_mm(-0.2, 0.2)), draw(_mm(-0.2, 0.2))))
        limits = (round(size.mm + low, 6), round(size.mm + high, 6)) if draw(st.booleans()) else (None, None)
        zone = draw(zones) if limits[0] is None else None
        tolerance = Tolerance(zone, *limits)
    if size.label.startswith("#") and not stated:
        size = draw(metric)
        tolerance = None
    uses = draw(st.sampled_from([(), (), ("flat bottom",), ("DOWEL",)]))
    return Element(
        kind, size, tolerance, draw(st.none() | depths), side=draw(st.sampled_from(Side)), stated=stated, uses=uses
    )


@st.composite
def opening(draw: st.DrawFn) -> Element:
    kind = draw(st.sampled_from((Kind.COUNTERBORE, Kind.COUNTERSINK, Kind.SPOTFACE)))
    size = draw(metric | inch)
    angle = draw(st.sampled_from((82.0, 90.0, 100.0, 120.0))) if kind is Kind.COUNTERSINK else None
    depth = draw(_mm(0.5, 20).map(Depth)) if kind is not Kind.COUNTERSINK else None
    return Element(kind, size, None, depth, angle, side=draw(st.sampled_from(Side)), stated=True)


@st.composite
def callouts(draw: st.DrawFn) -> Callout:
    elements = draw(st.lists(st.one_of(tapped(), plain(), opening()), min_size=1, max_size=4, unique=True))
    circle = draw(st.none() | st.builds(Circle, _mm(10, 400), st.booleans()))
    remarks = draw(st.sampled_from([(), ("DEBURR",), ("Ra 1.6", "NTS")]))
    return Callout("", tuple(elements), draw(st.none() | st.integers(1, 99)), draw(st.booleans()), circle, remarks)


@given(callouts())
@settings(max_examples=300, suppress_health_check=[HealthCheck.too_slow])
def test_a_callout_printed_and_read_again_is_the_same(callout: Callout) -> None:
    _same_again(callout)
