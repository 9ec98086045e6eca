"""Spellings that must mean the same hole, wrong examples with their sentences, and the caret under the place."""

from __future__ import annotations

from pathlib import Path

import pytest

from holesched.callouts.caret import marked
from holesched.callouts.model import Span
from holesched.callouts.normalise import fold
from holesched.callouts.parse import LONGEST, read_callout
from holesched.callouts.words import LONGEST as LONGEST_PHRASE
from holesched.callouts.words import near_words, word_at
from holesched.features.build import build_callout
from holesched.features.model import Feature
from holesched.notes import Severity
from holesched.tables import table

HERE = Path(__file__).parent


def _lines(name: str) -> list[str]:
    text = (HERE / name).read_text(encoding="utf-8")
    return [line for line in text.splitlines() if not line.startswith("#!") and not line.startswith("# ")]


def _blocks() -> list[list[str]]:
    blocks: list[list[str]] = [[]]
    for line in _lines("equivalents.txt"):
        if line:
            blocks[-1].append(line.replace("\\n", "\n"))
        elif blocks[-1]:
            blocks.append([])
    return [block for block in blocks if block]


def _meaning(text: str) -> tuple[object, ...]:
    """What is to be made: features without the way they were written, number of holes, bolt circle."""
    hole, notes, count = build_callout(text, "mm")
    assert hole is not None, [note.message for note in notes]
    features = sorted(map(_feature, hole.features))
    return features, count, hole.circle


def _feature(feature: Feature) -> tuple[str, ...]:
    tolerance = feature.tolerance
    limits = (tolerance.zone, tolerance.low_mm, tolerance.high_mm) if tolerance is not None else ()
    thread = feature.thread.designation if feature.thread is not None else None
    size = "thread" if feature.thread is not None else f"{feature.diameter.mm:.4f}"
    depth = (feature.depth.mm, feature.depth.through)
    return tuple(map(str, (feature.kind, size, limits, depth, feature.angle_deg, thread, feature.side)))


@pytest.mark.parametrize(
    ("first", "other"),
    [(block[0], other) for block in _blocks() for other in block[1:]],
    ids=[repr(other)[:50] for block in _blocks() for other in block[1:]],
)
def test_same_hole(first: str, other: str) -> None:
    assert _meaning(other) == _meaning(first)


def test_limits_compare_as_sizes() -> None:
    """Ø9.9/10.1 and Ø10 ±0.1 permit the same holes, though they are written about another size."""
    by_limits, _, _ = build_callout("Ø9.9/10.1 THRU", "mm")
    by_deviation, _, _ = build_callout("Ø10 ±0.1 THRU", "mm")
    assert by_limits is not None
    assert by_deviation is not None
    assert by_limits.features[0].tolerance == by_deviation.features[0].tolerance


@pytest.mark.parametrize("line", _lines("mistakes.txt"))
def test_each_mistake_has_its_sentence(line: str) -> None:
    text, code, sentence, suggestion = line.split("\t")
    _, notes, _ = build_callout(text, "mm")
    found = [note for note in notes if note.is_question and note.code == code]
    assert [(note.message.splitlines()[0], note.suggestion) for note in found] == [(sentence, suggestion)]


def test_the_place_is_marked() -> None:
    (note,) = read_callout("M8 - 6H SPIRALGEWINDE", "mm").notes
    assert note.message == (
        "Not understood: SPIRALGEWINDE. Does it change the hole?\n    M8 - 6H SPIRALGEWINDE\n            ^^^^^^^^^^^^^"
    )


def test_the_mark_counts_wide_characters_twice_and_shows_line_breaks() -> None:
    assert marked("6.6キリ\nFOO", Span(6, 9)) == "    6.6キリ⏎FOO\n            ^^^"


def test_the_mark_stands_under_the_raw_text_when_it_was_folded() -> None:
    raw = "%%c8 &deg; FOO"
    (note,) = [note for note in read_callout(raw, "mm").notes if note.severity is Severity.ASK]
    text, marks = note.message.splitlines()[1:]
    assert text.strip() == raw
    assert text[marks.index("^") :].startswith("&deg;")


def test_a_long_text_is_shown_around_the_place_only() -> None:
    shown = marked("a" * 200 + " FOO " + "b" * 200, Span(201, 204)).splitlines()
    assert shown[0].strip().startswith("…a")
    assert shown[0].endswith("b…")
    assert shown[0][shown[1].index("^") :].startswith("FOO")


def test_a_paragraph_is_no_callout() -> None:
    reading = read_callout("M6 " * LONGEST, "mm")
    assert reading.callout is None
    assert [note.code for note in reading.notes] == ["CALLOUT-TOO-LONG"]


def test_near_misses_are_suggested() -> None:
    assert near_words("CONTERBORE")[0] == "COUNTERBORE"
    assert near_words("XYZZY") == ()


def test_every_word_of_the_table_is_found_again() -> None:
    """No word hides another; each is read with the meaning its line gives."""
    for row in table("callout_words.csv").rows:
        folded = fold(row["word"]).text  # as a callout is: Cyrillic letters that look like Latin ones are read as these
        found = word_at(folded, 0)
        assert found is not None, row
        assert (found.meaning, found.end) == (row["meaning"], len(folded)), row


def test_a_run_of_words_is_looked_at_as_far_as_the_longest_phrase_reaches() -> None:
    assert max(len(row["word"]) for row in table("callout_words.csv").rows) < LONGEST_PHRASE


def test_a_word_longer_than_any_phrase_is_one_word() -> None:
    found = word_at("THRU" * 40 + " M8", 0)
    assert found is not None
    assert (found.meaning, found.end) == (None, 160)


def test_every_meaning_is_used_by_the_grammar() -> None:
    package = Path(__file__).parents[3] / "holesched" / "callouts"
    source = "\n".join(path.read_text(encoding="utf-8") for path in package.glob("*.py"))
    meanings = {row["meaning"] for row in table("callout_words.csv").rows}
    assert {meaning for meaning in meanings if f'"{meaning}"' not in source} == set()


@pytest.mark.parametrize(
    ("text", "unit", "depth_mm", "codes"),
    [
        (".250-20 UNC-2B ↧1.00", "mm", 25.4, {"CALLOUT-INCH-ASSUMED"}),
        (".250-20 UNC-2B ↧1.00", "in", 25.4, set()),
        ("1/4-20 UNC-2B ↧12", "mm", 12.0, set()),
        ("M8x.75 ↧12", "mm", 12.0, set()),
        ("Ø8 +.015/0 ↧12", "mm", 12.0, set()),
        ("Ø10 (.394) ↧12", "mm", 12.0, set()),
        ("M6x1-6H ↧12", "in", 12.0, {"CALLOUT-UNIT-DOUBTFUL"}),
        ("M6x1-6H ↧.47", "in", 11.938, set()),
        ("M6x1-6H ↧12 mm", "in", 12.0, set()),
        ('Ø8 ↧.5"', "mm", 12.7, {"CALLOUT-INCH-ASSUMED"}),
        ('Ø1/4 ↧1/2"', "mm", 12.7, set()),
        ("Ø8 PROF.20", "mm", 20.0, set()),
        ("Ø.25 DP.50", "in", 12.7, set()),
    ],
)
def test_units(text: str, unit: str, depth_mm: float, codes: set[str]) -> None:
    """A size without a zero before its point is in inches (ASME Y14.5, decimal inch dimensioning; from memory)."""
    reading = read_callout(text, unit)  # type: ignore[arg-type]
    assert reading.callout is not None
    depth = reading.callout.elements[0].depth
    assert depth is not None
    assert depth.mm == pytest.approx(depth_mm)
    assert {note.code for note in reading.notes if "INCH" in note.code or "UNIT" in note.code} == codes
