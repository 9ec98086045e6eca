"""Metric designations as drawings write them: what is read, supplied, asked and refused."""

from __future__ import annotations

import pytest

from holesched.standards import iso261, iso965, threads
from holesched.standards.threads import Answer, ThreadCall


def read(text: str) -> tuple[ThreadCall, str]:
    found = threads.recognise(text, 0, "mm")
    assert found is not None, text
    assert found[0].standard == "iso-metric"
    return found[0], text[found[1] :]


def answer(text: str) -> Answer:
    return threads.complete(read(text)[0])


@pytest.mark.parametrize(
    ("text", "designation", "rest"),
    [
        ("M8", "M8x1.25-6H", ""),
        ("M8x1.25", "M8x1.25-6H", ""),
        ("M6 x 1.0 - 6H THRU", "M6x1-6H", " THRU"),
        ("M10x1,25-6H 20 TIEF", "M10x1.25-6H", " 20 TIEF"),
        ("M10-6H LH THRU", "M10x1.5-6H-LH", " THRU"),
        ("M10x1.5-LH-6H", "M10x1.5-6H-LH", ""),
        ("M20x2", "M20x2-6H", ""),
        ("m6x1 thru", "M6x1-6H", " thru"),
        ("MF10x1", "M10x1-6H", ""),
        ("M10x.75", "M10x0.75-6H", ""),
        ("M10x,75 THRU", "M10x0.75-6H", " THRU"),
        ("M8x1.25LH", "M8x1.25-6H-LH", ""),
        ("M6x1 6H", "M6x1-6H", ""),
        ("M6x1-6HLH THRU", "M6x1-6H-LH", " THRU"),
        ("M8-1.25-6H", "M8x1.25-6H", ""),
        ("M8 1.25 6H 16", "M8x1.25-6H", " 16"),
        ("M6-6H/6g", "M6x1-6H", ""),
        ("M8x1-6H6H", "M8x1-6H", ""),
        ("M20x1.5-7H-L", "M20x1.5-7H-L", ""),
        ("M20x1.5-4H5H", "M20x1.5-4H5H", ""),
        ("MJ6x1-4H5H ↧12", "MJ6x1-4H5H", " ↧12"),
        ("MJ6", "MJ6x1-4H5H", ""),
        ("MJ4", "MJ4x0.7-4H6H", ""),
        ("M16xPh3P1.5-6H", "M16xPh3P1.5-6H", ""),
        ("M16xPh4P2 (two starts)-6H", "M16xPh4P2-6H", ""),
        ("M16 x L4 - P2 - 6H (TWO STARTS)", "M16xPh4P2-6H", ""),
        ("M14xL6-P2-6H (THREE STARTS) THRU", "M14xPh6P2-6H", " THRU"),
        ("M16x2-6H (TWO STARTS)", "M16x2-6H", " (TWO STARTS)"),
        ("M8タップ通し", "M8x1.25-6H", "タップ通し"),
        ("M8 - 6H SPIRALGEWINDE", "M8x1.25-6H", " SPIRALGEWINDE"),
        ("M12x16/Ø10,2x20", "M12x1.75-6H", "/Ø10,2x20"),
        ("M8x1.25 DP 15, Ø6.8 DP 16", "M8x1.25-6H", " DP 15, Ø6.8 DP 16"),
        ("M12x16 DEEP", "M12x1.75-6H", "x16 DEEP"),
        ("M8 x 90°", "M8x1.25-6H", " x 90°"),
        ("M6 x 4 PLCS", "M6x1-6H", " x 4 PLCS"),
        ("M6-2 PLCS", "M6x1-6H", "-2 PLCS"),
        ("M300x8", "M300x8-6H", ""),
        ("M1x0.2", "M1x0.2-4H", ""),
        ("M1.2", "M1.2x0.25-5H", ""),
    ],
)
def test_spellings(text: str, designation: str, rest: str) -> None:
    call, left = read(text)
    spec = threads.complete(call).spec
    assert spec is not None
    assert spec.designation == designation
    assert left == rest


@pytest.mark.parametrize(
    "text", ["MI0x1.5", "M1O x 1.5", "M8xl.25", "8MM", "Ø12M6", "MM", "M", "M-6H", "M8x1.25 STI", "M8 EG", "ROOM 8", "mm"]
)
def test_not_a_metric_thread(text: str) -> None:
    """Look-alike letters, fit zones, units and insert threads are for others to explain."""
    found = [threads.recognise(text, place, "mm") for place in range(len(text))]
    assert [call for call in found if call is not None and call[0].standard == "iso-metric"] == []


@pytest.mark.parametrize(("text", "place"), [("4-M6", 2), ("2X M5", 3), ("4xM6", 2), ("(M6)", 1)])
def test_counts_before_it_are_left_alone(text: str, place: int) -> None:
    assert threads.recognise(text, 0, "mm") is None
    assert threads.recognise(text, place, "mm") is not None


def supplied(text: str) -> list[str]:
    return [one.code for one in answer(text).supplied]


def test_what_the_standard_supplies() -> None:
    assert supplied("M8") == ["THREAD-PITCH-ASSUMED", "THREAD-CLASS-ASSUMED"]
    assert supplied("M8x1.25") == ["THREAD-CLASS-ASSUMED"]
    assert supplied("M8x1.25-6H") == []
    assert supplied("M12x16") == ["THREAD-PITCH-ASSUMED", "THREAD-LENGTH-ASSUMED", "THREAD-CLASS-ASSUMED"]
    assert all(one.text and str(one.cite) for one in answer("M12x16").supplied)
    assert "nor 0.8 with the point lost" in answer("M5x8").supplied[1].text


def test_series() -> None:
    found = {}
    for text in ("M8", "M8x1.25", "M8x1", "MJ8", "M16xPh4P2"):
        spec = answer(text).spec
        assert spec is not None
        found[text] = (spec.series, spec.name, spec.starts)
    assert found == {
        "M8": ("M", "M8x1.25", 1),
        "M8x1.25": ("M", "M8x1.25", 1),
        "M8x1": ("MF", "M8x1", 1),
        "MJ8": ("MJ", "MJ8x1.25", 1),
        "M16xPh4P2": ("MF", "M16xPh4P2", 2),
    }


@pytest.mark.parametrize(
    ("text", "length"),
    [("M12x16", 16), ("M10x8", 8), ("M8x10", 10), ("M8x4", 4), ("M8x1.25x20", 20), ("M8x1x12,5", 12.5), ("M8x1", None)],
)
def test_a_number_that_can_only_be_a_length(text: str, length: float | None) -> None:
    """ISO 6410 habit: M12x16 is 16 mm of thread; the pitch table decides."""
    call, _ = read(text)
    assert call.length_mm == length
    assert threads.complete(call).spec is not None


@pytest.mark.parametrize(
    ("text", "problem", "named"),
    [
        ("M8x1.5-6H", "no pitch of 1.5 mm for M8", ("M8x1.25 (coarse)", "M8x1 or M8x0.75 (fine)")),
        ("M8x1.1", "no pitch of 1.1 mm for M8", ("M8x1.25 (coarse)", "M8x1 or M8x0.75 (fine)")),
        ("M8x125", "no pitch of 125 mm for M8", ("M8x1.25, with the decimal point lost",)),
        ("M10x2", "no pitch of 2 mm for M10", ("M10x1.5 (coarse)",)),
        ("M8x3", "no pitch of 3 mm for M8", ("write it as a depth",)),
        ("M6.8 THRU", "no thread M6.8", ("M8 (its tap drill is about 6.8 mm), M6 or a", "plain hole of diameter 6.8 mm")),
        ("M13", "no thread M13", ("M12, M14 or a plain hole of diameter 13 mm?",)),
        ("M0.9", "no thread M0.9", ("M1, M1.1 (its tap drill is about 0.9 mm) or a",)),
        ("M310x6", "no thread M310", ("M300",)),
        ("M15", "no coarse pitch", ("M15x1.5 or M15x1 (fine)",)),
        ("MF10", "needs its pitch", ("M10x1.25, M10x1 or M10x0.75 (fine)",)),
        ("M6x1-6g THRU", "6g is a class of external threads", ("M6x1-6H", "M6x1-6G")),
        ("M6x1-6h", "6h is a class of external threads", ("M6x1-6H",)),
        ("M6x1-9H", "no class 9H", ("M6x1-6H",)),
        ("M6x1-5G6H", "5G6H is no class", ("M6x1-6H",)),
        ("M1.2-6H", "no class 6H at pitch 0.25 mm", ("M1.2x0.25-5H", "4H 5H")),
        ("M24x1-8H", "no class 8H", ("4H 5H 6H 7H",)),
        ("M16xPh4P1.5", "does not fit the pitch 1.5 mm and the starts", ("M16x1.5",)),
        ("M14xL6-P2-6H (TWO STARTS)", "does not fit the pitch 2 mm and the starts", ("M14x2",)),
        ("M35x2", "no pitch of 2 mm for M35", ("M35x1.5",)),
    ],
)
def test_refused(text: str, problem: str, named: tuple[str, ...]) -> None:
    found = answer(text)
    assert found.spec is None
    assert problem in found.problem
    for words in named:
        assert words in found.suggestion


@pytest.mark.parametrize(
    ("text", "codes"),
    [
        ("M7", ["THREAD-THIRD-CHOICE"]),
        ("M9x1", ["THREAD-THIRD-CHOICE"]),
        ("M11", ["THREAD-THIRD-CHOICE"]),
        ("M14", []),
        ("M18x1.5", []),
        ("M5x0.5", []),
        ("M12x0.75", ["THREAD-PITCH-SPECIAL"]),
        ("M14x1.25", ["THREAD-PITCH-RESERVED"]),
        ("M16xPh3P1.5", ["THREAD-MULTI-START"]),
    ],
)
def test_planned_but_to_be_confirmed(text: str, codes: list[str]) -> None:
    found = answer(text)
    assert found.spec is not None
    assert [code for code, _, _ in found.questions] == codes


def test_position_g_moves_all_three_diameters() -> None:
    """M10x1.5-6G, ISO 965-1: EI = 32 um; by hand from the H limits."""
    plain, moved = (threads.geometry(spec) for text in ("M10-6H", "M10-6G") if (spec := answer(text).spec) is not None)
    assert round(moved.major.min_mm - plain.major.min_mm, 3) == 0.032
    assert round(moved.pitch.min_mm - plain.pitch.min_mm, 3) == 0.032
    assert round(moved.minor.min_mm - plain.minor.min_mm, 3) == 0.032


def test_split_class_takes_pitch_diameter_first() -> None:
    """M8x1.25-4H6H: TD2 of grade 4 (100 um), TD1 of grade 6 (265 um), ISO 965-1 Tables 3 and 5, by hand."""
    spec = answer("M8x1.25-4H6H").spec
    assert spec is not None
    shape = threads.geometry(spec)
    assert (shape.pitch.min_mm, shape.pitch.max_mm) == (7.188, 7.288)
    assert (shape.minor.min_mm, shape.minor.max_mm) == (6.647, 6.912)


def test_j_form() -> None:
    """MJ6x1-4H5H, ASME B1.21M / ISO 5855-2, from memory: minor 5.026 to 5.216, pitch 5.350 to 5.445."""
    spec = answer("MJ6x1-4H5H").spec
    assert spec is not None
    shape = threads.geometry(spec)
    assert shape.profile == "J"
    assert (shape.minor.min_mm, shape.minor.max_mm) == (5.026, 5.216)
    assert (shape.pitch.min_mm, shape.pitch.max_mm) == (5.350, 5.445)
    assert any("memory" in note for note in shape.notes)
    assert any(cite.standard == "ISO 5855-1" for cite in shape.cites)


def test_gauging_and_engagement_are_kept() -> None:
    call, rest = read("M6x1-6H (21)")
    assert (call.gauging, rest) == ("21", "")
    assert read("M6-7H-L")[0].engagement == "L"
    short, long = answer("M6-S").spec, answer("M6-L").spec
    assert short is not None
    assert long is not None
    assert (short.thread_class, long.thread_class) == ("5H", "7H")


def test_a_class_offered_is_one_that_the_standard_gives() -> None:
    """ISO 965-1 Tables 3 and 5: pitch 0.25 has grades 4 and 5 only, so the usual 6H of M2 cannot be offered."""
    found = answer("M2x0.25")
    assert found.spec is None
    assert found.suggestion == "M2x0.25-5H? The standard gives 4H 5H."
    assert answer("M2x0.25-5H").spec is not None


def test_normal_engagement() -> None:
    """ISO 965-1 Table 2, from memory: M8x1.25 is N over 4 and up to 12 mm, M10x1.5 over 5 and up to 15 mm."""
    assert iso965.normal_engagement_mm(8, 1.25) == (4, 12)
    assert iso965.normal_engagement_mm(10, 1.5) == (5, 15)
    assert [iso965.engagement_group(8, 1.25, length) for length in (4, 4.1, 12, 12.1)] == ["S", "N", "N", "L"]
    assert iso965.normal_engagement_mm(8, 0.5) == iso965.normal_engagement_formula_mm(8, 0.5)  # not in the table


def test_thread_class_reads_internal_classes_only() -> None:
    assert str(iso965.thread_class("4H5H")) == "4H5H"
    assert iso965.thread_class("6g") is None
    assert iso965.thread_class("H6") is None


def test_neighbours_and_tap_drills() -> None:
    assert [size.diameter_mm for size in iso261.neighbours(13)] == [12, 14]
    size = iso261.drilled_for(8.5)
    assert size is not None
    assert size.diameter_mm == 10
    assert iso261.drilled_for(13) is None


def test_geometry_of_a_thread_never_given() -> None:
    spec = answer("M8").spec
    assert spec is not None
    from dataclasses import replace

    with pytest.raises(KeyError):
        threads.geometry(replace(spec, thread_class="6g"))
