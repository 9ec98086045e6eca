"""Unified designations as drawings write them: what is read, supplied, asked and refused."""

from __future__ import annotations

import pytest

from holesched.standards import threads, unified_series
from holesched.standards.threads import Answer, ThreadCall, unified


def read(text: str) -> tuple[ThreadCall, str]:
    found = threads.recognise(text, 0, "in")
    assert found is not None, text
    assert found[0].standard == "unified"
    return found[0], text[found[1] :]


def answer(text: str) -> Answer:
    return threads.complete(read(text)[0])


@pytest.mark.parametrize(
    ("text", "designation", "rest"),
    [
        ("1/4-20", "1/4-20 UNC-2B", ""),
        ("1/4-20 UNC-2B THRU", "1/4-20 UNC-2B", " THRU"),
        ("1/4 - 20 UNC - 2B", "1/4-20 UNC-2B", ""),
        ("1/4-20UNC2B", "1/4-20 UNC-2B", ""),
        ("1/4-20 2B", "1/4-20 UNC-2B", ""),
        ("1/4 20 UNC", "1/4-20 UNC-2B", ""),
        ("1/4-20 unc-2b thru", "1/4-20 UNC-2B", " thru"),
        (".250-20 UNC-2B X .50 DP", "1/4-20 UNC-2B", " X .50 DP"),
        ("0.250-20", "1/4-20 UNC-2B", ""),
        (".438-14 UNC", "7/16-14 UNC-2B", ""),
        (".190-32 UNF-2B", "#10-32 UNF-2B", ""),
        ("10-32", "#10-32 UNF-2B", ""),
        ("10 - 32 THRU", "#10-32 UNF-2B", " THRU"),
        ("#10-32 UNF-2B THRU", "#10-32 UNF-2B", " THRU"),
        ("NO. 8-32 UNC-2B X 3/8 DEEP", "#8-32 UNC-2B", " X 3/8 DEEP"),
        ("1-72 UNF-2B", "#1-72 UNF-2B", ""),
        ("1-72", "#1-72 UNF-2B", ""),
        ("1-8", "1-8 UNC-2B", ""),
        ('1"-8', "1-8 UNC-2B", ""),
        ("1 in-8 UNC", "1-8 UNC-2B", ""),
        ("UNC 1/4-20", "1/4-20 UNC-2B", ""),
        ("UNF #10-32-2B LH", "#10-32 UNF-2B-LH", ""),
        ("UNC 1-8", "1-8 UNC-2B", ""),
        ("UNC 1/4", "1/4-20 UNC-2B", ""),
        ("UNC 1/4 X 1/2 DEEP", "1/4-20 UNC-2B", " X 1/2 DEEP"),
        ("1/4 UNC", "1/4-20 UNC-2B", ""),
        ("1 1/4 UNF-3B THRU", "1 1/4-12 UNF-3B", " THRU"),
        ("#10 UNF", "#10-32 UNF-2B", ""),
        ("3/8UNEF", "3/8-32 UNEF-2B", ""),
        ("1 inch - 8", "1-8 UNC-2B", ""),
        ("1 1/4 in.-7 UNC-2B", "1 1/4-7 UNC-2B", ""),
        ("1/4 in-20 UNC", "1/4-20 UNC-2B", ""),
        ("6 in-4 UN", "6-4 UN-2B", ""),
        ("2-4.5", "2-4.5 UNC-2B", ""),
        ("2-4 1/2 UNC", "2-4.5 UNC-2B", ""),
        ("1 1/4-7", "1 1/4-7 UNC-2B", ""),
        ("1-1/4-7 UNC-2B", "1 1/4-7 UNC-2B", ""),
        ("1 1/8-8UN", "1 1/8-8 UN-2B", ""),
        ("1 1/8-8 8UN-2B", "1 1/8-8 UN-2B", ""),
        ("1 3/8-16 UN", "1 3/8-16 UN-2B", ""),
        ("3/8-24 UNF-3B LH THRU", "3/8-24 UNF-3B-LH", " THRU"),
        ("1/4-20-LH-2B", "1/4-20 UNC-2B-LH", ""),
        ("UNJF 3/8-24-3B", "3/8-24 UNJF-3B", ""),
        ("3/8 UNJF-3B THRU", "3/8-24 UNJF-3B", " THRU"),
        ("UNJF 3/8", "3/8-24 UNJF-3B", ""),
        ("1/4-20UNC-2BLH THRU", "1/4-20 UNC-2B-LH", " THRU"),
        ("1/2-20 UNF-2B (21)", "1/2-20 UNF-2B", ""),
        ("1/4-28 UNJF-3B ↧.50", "1/4-28 UNJF-3B", " ↧.50"),
        ("#6-32 UNJC", "#6-32 UNJC-3B", ""),
        ("4-40 UNC-2B", "#4-40 UNC-2B", ""),
        ("1/4-20x.50", "1/4-20 UNC-2B", "x.50"),
        ("5/16-18 UNC .75 DP", "5/16-18 UNC-2B", " .75 DP"),
        ("1/4-20 UNC-2 PLCS", "1/4-20 UNC-2B", "-2 PLCS"),
        (".390-27 UNS", "0.39-27 UNS-2B", ""),
        ("6-4 UN", "6-4 UN-2B", ""),
    ],
)
def test_spellings(text: str, designation: str, rest: str) -> None:
    call, left = read(text)
    spec = threads.complete(call).spec
    assert spec is not None
    assert spec.designation == designation
    assert left == rest


@pytest.mark.parametrize(
    "text",
    [
        *("4-M6", "2X", "#10 THRU", "#7-1.00", "10-24-2024", "4-8", "1-4", "5-10 DEEP", ".250-.260", "8.500-12", "1/4-1/2"),
        *(
            "4 4-40 THRU",
            "4 10-32",
            "4 4-40 UNC",
            "10-32.5",
            "2 in - 4 HOLES",
            "1/4-20 UNC-2B STI",
            "1/4-20 STI",
            "I/4-20 UNC",
            '1/2-12"',
        ),
    ],
)
def test_not_a_unified_thread_at_its_start(text: str) -> None:
    """Counts, ranges, limits of size, dates, look-alike letters and insert threads are not swallowed."""
    found = threads.recognise(text, 0, "in")
    assert found is None or found[0].standard != "unified"


@pytest.mark.parametrize(("text", "place", "size"), [("4X 4-40", 3, "#4"), ("4x4-40", 2, "#4"), ("4 4-40", 2, "#4")])
def test_count_and_number_size_side_by_side(text: str, place: int, size: str) -> None:
    found = threads.recognise(text, place, "in")
    assert found is not None
    assert found[0].nominal.label == size


def test_bare_pairs_are_those_of_the_table() -> None:
    """What is recognised without a mark: every number size, and the whole-inch sizes nobody writes for anything else."""
    listed = {
        f"{size.name.lstrip('#')}-{tpi:g}"
        for size in unified_series.sizes().values()
        for tpi, series in size.series.items()
        if size.name.startswith("#") and series != "UNS"
    }
    pairs = {f"{whole}-{tpi}" for whole in range(13) for tpi in (*range(3, 100), "4.5")}
    bare = {text for text in pairs if (found := unified.STANDARD.designation.match(text)) and found.end() == len(text)}
    assert bare == listed | {"1-8", "1-12", "1-14", "2-4.5"}


def test_a_size_without_pitch_that_may_be_a_count() -> None:
    found = answer("2 1/4 UNC")
    assert found.spec is None
    assert "a size or a count" in found.problem
    assert found.suggestion == "2X 1/4-20 UNC, or 2 1/4-4.5 UNC?"


def test_a_series_the_size_does_not_have() -> None:
    found = answer("#4 UNEF")
    assert found.spec is None
    assert found.problem == "ASME B1.1 lists no UNEF of size #4."
    assert "#4-40 UNC" in found.suggestion


def codes(text: str) -> tuple[list[str], list[str]]:
    found = answer(text)
    assert found.spec is not None
    return [one.code for one in found.supplied], [code for code, _, _ in found.questions]


@pytest.mark.parametrize(
    ("text", "supplied", "asked"),
    [
        ("1/4-20", ["THREAD-SERIES-ASSUMED", "THREAD-CLASS-ASSUMED"], []),
        ("1/4-20 UNC", ["THREAD-CLASS-ASSUMED"], []),
        ("1/4 UNC", ["THREAD-PITCH-ASSUMED", "THREAD-CLASS-ASSUMED"], []),
        ("1/4-20-2B", ["THREAD-SERIES-ASSUMED"], []),
        ("1/4-20 UNC-2B", [], []),
        ("1/4-28 UNJF", ["THREAD-CLASS-ASSUMED"], []),
        ("1-14", ["THREAD-SERIES-ASSUMED", "THREAD-CLASS-ASSUMED"], ["THREAD-SERIES-SPECIAL"]),
        ("1/4-24 UNS-2B", [], ["THREAD-SERIES-SPECIAL"]),
        ("1/4-22 UNS-2B", [], ["THREAD-SERIES-SPECIAL"]),
        (".390-27 UNS-2B", [], ["THREAD-SERIES-SPECIAL"]),
        ("1/4-20 NC-2B", [], ["THREAD-SERIES-OLD"]),
        ("1/4-20 UNC-2", [], ["THREAD-CLASS-OLD"]),
        ("1/4-32 UNEF-1B", [], ["THREAD-CLASS-UNUSUAL"]),
        ("1/4-20 UNC-1B", [], []),
    ],
)
def test_supplied_and_asked(text: str, supplied: list[str], asked: list[str]) -> None:
    assert codes(text) == (supplied, asked)


@pytest.mark.parametrize(
    ("text", "problem", "named"),
    [
        ("1/4-20 UNF", "1/4-20 is UNC in ASME B1.1, not UNF", ("1/4-20 UNC", "1/4-28 UNF")),
        ("1/4-20 UNS", "1/4-20 is UNC", ("1/4-20 UNC",)),
        ("1-8 UN", "1-8 is UNC", ("1-8 UNC?",)),
        ("1/4-20 UNJF", "1/4-20 is UNJC", ("1/4-20 UNJC", "1/4-28 UNJF")),
        ("1/4-22", "no 1/4-22", ("1/4-20 UNC", "1/4-28 UNF", "1/4-32 UNEF")),
        ("1/4-19", "19 threads per inch is a pipe thread", ("G 1/4-19", "1/4-20 UNC")),
        ("1/4-19 UNC", "19 threads per inch is a pipe thread", ("G 1/4-19", "1/4-20 UNC")),
        ("1/2-14", "14 threads per inch is a pipe thread", ("G 1/2-14", "NPT 1/2-14", "1/2-13 UNC")),
        ("1/8-27", "no thread of size 1/8", ("NPT 1/8-27", "#5-40 UNC")),
        ("1/8-40 UNC", "no thread of size 1/8", ("#5-40 UNC",)),
        ("1/4-20 UNC-2A THRU", "2A is a class of external threads", ("1B, 2B or 3B", "1/4-20 UNC-2B")),
        ("1/4-28 UNRF", "UNRF is for external threads", ("1/4-28 UNF",)),
        ("1/4-28 UNJF-2B", "class 3B only", ("1/4-28 UNJF-3B",)),
        ("2 1/4-20", "a count run into one", ("2X 1/4-20 UNC", "2 1/4-20 UN")),
        ("2 1/4-20 UNC", "a count run into one", ("2X 1/4-20 UNC",)),
        ("1 1/2-13", "a count run into one", ("1X 1/2-13 UNC",)),
        ("19/64-20 UNC", "no thread of size 19/64", ("1/4-20 UNC", "5/16-18 UNC")),
        ("#10-30", "no #10-30", ("#10-24 UNC or #10-32 UNF",)),
        ("1/2-13 UNC-2B (2 STARTS)", "the lead is not written", ("A single start",)),
        ("7-20 UNC", "no thread of size 7", ("Number sizes are 0 to 6",)),
        ("1/0-20", "no thread of size 1/0", ()),
    ],
)
def test_refused(text: str, problem: str, named: tuple[str, ...]) -> None:
    found = answer(text)
    assert found.spec is None
    assert problem in found.problem
    for words in named:
        assert words in found.suggestion


def test_special_threads_say_how_they_are_computed() -> None:
    spec = answer("1/4-22 UNS-2B").spec
    assert spec is not None
    shape = threads.geometry(spec)
    assert any("computed by the formulas of ASME B1.1" in note for note in shape.notes)
    assert shape.minor.max_mm is not None
    assert shape.minor.min_mm < shape.minor.max_mm < shape.pitch.min_mm


def test_gauging_system_is_no_count() -> None:
    assert read(".500-13 UNC-2B (22) ↧1.00")[0].gauging == "22"


def test_whole_numbers_are_decided_by_threads_per_inch() -> None:
    assert read("1-64 UNC")[0].nominal.label == "#1"
    assert read("1-8 UNC")[0].nominal.label == "1"
    assert read("10-30 UNC")[0].nominal.label == "#10"
    assert read("2-12 UN")[0].nominal.label == "2"


def test_geometry_of_a_thread_never_given() -> None:
    from dataclasses import replace

    spec = answer("1/4-20").spec
    assert spec is not None
    with pytest.raises(KeyError):
        threads.geometry(replace(spec, tpi=None))
    with pytest.raises(KeyError):
        threads.geometry(replace(spec, thread_class="2A"))
