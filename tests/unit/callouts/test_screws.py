"""Holes for screws in every order of words: the fit's own hole, and never a thread for a clearance hole or the reverse.

Clearance holes by ISO 273:1979, Table 1 (fine, medium, coarse: M8 8.4, 9, 10; M10 10.5, 11, 12; M6 6.4, 6.6, 7) and ASME
B18.2.8, Table 1, nominal drills (close, normal, loose: 1/4 17/64, 9/32, 19/64; #10 #5, #2, B; 3/8 25/64, 13/32, 27/64).
Counterbores by DIN 974-1 (M8: 15) with the head of ISO 4762 and 0.6 added; ASME B18.3 appendix (1/4: 7/16 x .250).
Countersinks by DIN 74:2003 form F (M6: 13.71) and ISO 15065:2005 (M6: 12.6). Which words mean what: common practice, no
source.
"""

from __future__ import annotations

from typing import Literal

import pytest

from holesched.callouts.model import Kind
from holesched.callouts.parse import read_callout
from holesched.features.build import build_callout
from holesched.features.model import Feature
from holesched.notes import Severity

ISO_273 = {"M6": (6.4, 6.6, 7.0), "M8": (8.4, 9.0, 10.0), "M10": (10.5, 11.0, 12.0)}
CLOSE, MEDIUM, LOOSE = 0, 1, 2

METRIC = {
    ("M10", CLOSE): (
        "CLOSE CLEARANCE FOR M10",
        "M10 CLOSE FIT CLEARANCE",
        "M10 CLEARANCE CLOSE FIT",
        "CLEARANCE FOR M10 (CLOSE)",
        "CLEARANCE FOR M10, CLOSE",
        "CLEARANCE FOR M10 THRU, CLOSE FIT",
        "CLOSE FIT FOR M10",
        "FINE CLEARANCE M10",
        "CLR FOR M10 FINE FIT",
        "M10 SCREW CLEARANCE HOLE CLOSE",
        "4X CLR M10 CLOSE FIT THRU",
    ),
    ("M10", MEDIUM): (
        "M10 CLEARANCE",
        "M10 CLR",
        "M10 CLEAR THRU",
        "M10 THRU CLEARANCE",
        "M10 THRU CLEARANCE HOLE",
        "THRU CLEARANCE M10",
        "CLEARANCE THRU M10",
        "M10 BOLT CLEARANCE",
        "CLEARANCE FOR M10x1.25 BOLT",
        "NORMAL CLEARANCE FOR M10",
        "CLEARANCE FOR M10-6g",
    ),
    ("M10", LOOSE): (
        "FREE FIT CLR M10",
        "M10 FREE CLEARANCE",
        "LOOSE CLEARANCE M10",
        "COARSE CLEARANCE M10",
        "CLEARANCE (COARSE) FOR M10",
        "M10 CLEARANCE HOLE, FREE FIT",
    ),
    ("M8", CLOSE): (
        "DURCHGANGSLOCH FÜR M8 FEIN",
        "Durchgangsloch ISO 273 M8 fein",
        "Durchgangsbohrung für M8, fein",
        "M8 TROU DE PASSAGE FIN",
        "TROU DE PASSAGE POUR M8 SÉRIE FINE",
        "AGUJERO DE PASO M8 AJUSTE FINO",
    ),
    ("M8", MEDIUM): (
        "DURCHGANGSLOCH FÜR M8",
        "DURCHGANGSLOCH FÜR M8 (mittel)",
        "Durchgangsloch DIN EN 20273 mittel M8",
        "Durchgangsloch für Schraube M8",
        "Freibohrung für M8",
        "TROU DE PASSAGE H13 POUR VIS M8",
        "PASSAGE VIS M8",
        "AGUJERO PASANTE PARA TORNILLO M8",
        "FORO PASSANTE PER VITE M8",
        "FORO DI PASSAGGIO PER VITE M8",
        "M8 バカ穴",
        "M8用通し穴",
    ),
    ("M8", LOOSE): ("DURCHGANGSLOCH M8 GROB", "Durchgangsbohrung für M8, grob"),
}
INCH = {
    "CLOSE CLEARANCE FOR 1/4-20": "17/64",
    "1/4-20 CLOSE FIT CLEARANCE": "17/64",
    "CLEARANCE 1/4-20 UNC CLOSE FIT": "17/64",
    "CLEARANCE FOR 1/4-20 UNC-2A": "9/32",
    "THRU CLEARANCE FOR 1/4 BOLT": "9/32",
    "1/4-20 UNC THRU CLEARANCE": "9/32",
    "#10 CLEARANCE": "#2",
    "#10-32 CLEARANCE LOOSE": "B",
    "CLR FOR #10 SCREW CLOSE FIT": "#5",
    "3/8 BOLT CLEARANCE": "13/32",
    "CLOSE CLEARANCE 3/8-16": "25/64",
}


def read(text: str, unit: Literal["mm", "in"] = "mm") -> tuple[tuple[Feature, ...], set[str], set[str]]:
    """The features, the codes of the questions, and all codes."""
    hole, notes, _ = build_callout(text, unit)
    return (hole.features if hole else ()), {n.code for n in notes if n.is_question}, {n.code for n in notes}


@pytest.mark.parametrize(("size", "fit", "text"), [(*key, text) for key, texts in METRIC.items() for text in texts])
def test_metric_clearance(size: str, fit: int, text: str) -> None:
    features, asked, codes = read(text)
    assert [(each.kind, each.diameter.mm) for each in features] == [(Kind.DRILL, ISO_273[size][fit])]
    assert features[0].depth.through
    assert asked == set()
    assert ("FASTENER-FIT-ASSUMED" in codes) == (fit == MEDIUM and not any(w in text.upper() for w in ("MITTEL", "NORMAL")))


@pytest.mark.parametrize(("text", "drill"), INCH.items())
def test_inch_clearance(text: str, drill: str) -> None:
    features, asked, _ = read(text, "in")
    assert [(each.kind, each.diameter.label) for each in features] == [(Kind.DRILL, drill)]
    assert asked == set()


@pytest.mark.parametrize(
    "text",
    [
        "M10 CLOSE FIT",
        "1/4-20 FREE FIT",
        "M8 DURCHGANGSLOCH",
        "DURCHGANGSBOHRUNG M8",
        "TALADRO PASANTE M8",
        "FORO PASSANTE M8",
        "THRU HOLE M8",
        "M8 SHCS",
        "SCREW M6",
        "M8-6H CLEARANCE",
        "CLEARANCE FOR M8-6H",
        "1/4-20 UNC-2B CLR",
    ],
)
def test_thread_or_clearance_is_never_guessed(text: str) -> None:
    features, asked, _ = read(text)
    assert (features, asked) == ((), {"THREAD-OR-CLEARANCE"})


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("HOLE FOR M8", "FASTENER-HOLE-DOUBTFUL"),
        ("Bohrung für Schraube M8", "FASTENER-HOLE-DOUBTFUL"),
        ("DRILL FOR M8", "FASTENER-HOLE-DOUBTFUL"),
        ("CLEARANCE M8 FINE", "FASTENER-FIT-DOUBTFUL"),
        ("BODY FIT M8", "FASTENER-FIT-DOUBTFUL"),
        ("1/4 CLR", "FASTENER-SIZE-DOUBTFUL"),
        ("Ø7 CLEARANCE FOR M8", "CALLOUT-CLEARANCE-SMALL"),
        ("Ø8 THRU FOR M8 BOLT", "CALLOUT-CLEARANCE-SMALL"),
    ],
)
def test_doubts_are_asked(text: str, code: str) -> None:
    assert read(text)[1] == {code}


@pytest.mark.parametrize(
    "text",
    ["M8x1.25 THRU HOLE", "M8-6H THRU HOLE", "TAP M8 SCREW", "TAPPED HOLE FOR M8 SCREW", "M8用タップ", "M8 THRU, REAM 9"],
)
def test_threads_stay_threads(text: str) -> None:
    features, _, _ = read(text)
    assert features[0].kind is Kind.TAP
    assert features[0].diameter.mm == 8.0


@pytest.mark.parametrize(
    ("text", "seat"),
    [
        ("CLEARANCE FOR M8 SHCS, CBORE", (Kind.COUNTERBORE, 15.0, 8.6)),
        ("M8 SHCS CBORE", (Kind.COUNTERBORE, 15.0, 8.6)),
        ("M8 SHCS CLR W/ CBORE", (Kind.COUNTERBORE, 15.0, 8.6)),
        ("CLEARANCE FOR M8 SHCS FLUSH", (Kind.COUNTERBORE, 15.0, 8.6)),
        ("CLEARANCE FOR M8 SHCS CBORE ↧10", (Kind.COUNTERBORE, 15.0, 10.0)),
        ("CLEARANCE FOR M8 SHCS CBORE Ø15 ↧9", (Kind.COUNTERBORE, 15.0, 9.0)),
        ("Durchgangsloch für M8 mit Senkung DIN 974", (Kind.COUNTERBORE, 15.0, 8.6)),
        ("TROU DE PASSAGE VIS CHC M8 + LAMAGE", (Kind.COUNTERBORE, 15.0, 8.6)),
        ("M8 六角穴付きボルト用 深ザグリ", (Kind.COUNTERBORE, 15.0, 8.6)),
        ("M6 FHCS CSK", (Kind.COUNTERSINK, 13.71, None)),
        ("Durchgangsloch M6 Senkung für ISO 10642", (Kind.COUNTERSINK, 13.71, None)),
        ("CLEARANCE FOR M6 FLAT HEAD SOCKET SCREW, FLUSH", (Kind.COUNTERSINK, 13.71, None)),
    ],
)
def test_a_seat_named_without_its_size_is_the_standards(text: str, seat: tuple[Kind, float, float | None]) -> None:
    features, asked, codes = read(text)
    assert [each.kind for each in features] == [Kind.DRILL, seat[0]]
    assert (features[1].diameter.mm, features[1].depth.mm) == seat[1:]
    assert asked == set()
    assert any(code.endswith("-ASSUMED") and code.startswith("FASTENER-C") for code in codes) == ("Ø15" not in text)


def test_inch_seat() -> None:
    features, asked, _ = read("CLEARANCE HOLE FOR 1/4-20 SHCS WITH C'BORE", "in")
    assert [(each.kind, each.diameter.label) for each in features] == [(Kind.DRILL, "9/32"), (Kind.COUNTERBORE, "7/16")]
    assert features[1].depth.mm == 6.35
    assert asked == set()


def test_a_cylinder_head_may_stand_on_the_face_and_is_told() -> None:
    hole, notes, _ = build_callout("CLEARANCE FOR M8 SHCS", "mm")
    assert hole is not None
    assert [each.diameter.mm for each in hole.features] == [9.0]
    (proud,) = [note for note in notes if note.code == "FASTENER-HEAD-PROUD"]
    assert proud.severity is Severity.WATCH
    assert "CBORE Ø15 ↧8.6" in proud.message


@pytest.mark.parametrize(
    ("text", "unit", "sizes", "asked"),
    [
        ("CLEARANCE FOR M6 FHCS", "mm", [6.6, 13.71], {"FASTENER-SEAT-MISSING"}),
        ("CLEARANCE FOR #10 FHMS", "in", [5.6134, 9.1948], {"FASTENER-SEAT-MISSING"}),
        ("CBORE FOR M8 SHCS", "mm", [9.0, 15.0], {"FASTENER-HOLE-UNWRITTEN"}),
        ("DIN 974-1 M8", "mm", [9.0, 15.0], {"FASTENER-HOLE-UNWRITTEN"}),
        ("CSK FOR M6 FLAT HEAD SOCKET", "mm", [6.6, 13.71], {"FASTENER-HOLE-UNWRITTEN"}),
        ("ISO 15065 M6", "mm", [6.6, 12.6], {"FASTENER-HOLE-UNWRITTEN"}),
        ("CSK FOR M6 FLAT HEAD", "mm", [6.6, 12.6], {"FASTENER-HOLE-UNWRITTEN", "FASTENER-HEAD-UNCLEAR"}),
        ("Ø9 THRU, CBORE FOR M8", "mm", [9.0, 15.0], {"FASTENER-HEAD-UNCLEAR"}),
    ],
)
def test_half_a_screws_hole_is_planned_whole_and_asked(
    text: str, unit: Literal["mm", "in"], sizes: list[float], asked: set[str]
) -> None:
    features, questions, _ = read(text, unit)
    assert [each.diameter.mm for each in features] == sizes
    assert questions == asked


@pytest.mark.parametrize("text", ["CBORE FOR M8 BHCS", "Senkung DIN 74-Hm8", "CLEARANCE FOR 1/4 HEX BOLT, SPOTFACE"])
def test_seats_no_table_holds_are_refused(text: str) -> None:
    features, asked, _ = read(text)
    assert (features, asked) == ((), {"FASTENER-UNKNOWN"})


@pytest.mark.parametrize(
    "text", ["Ø9 CLEARANCE FOR M8", "Ø9 THRU, CLEARANCE FOR M8", "CLR FOR M8, DRILL 9 THRU", "M8 CLEARANCE Ø9"]
)
def test_a_stated_hole_is_one_hole(text: str) -> None:
    features, asked, codes = read(text)
    assert [(each.kind, each.diameter.mm) for each in features] == [(Kind.DRILL, 9.0)]
    assert asked == set()
    assert "FASTENER-FIT-ASSUMED" not in codes


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("DIN 74-A5", "CSK Ø10.4 x 90° for ISO 2009 or ISO 7046, or CSK Ø11.47 x 90° for ISO 10642"),
        ("Senkung Form B DIN 74 für M6", "CSK Ø12.6 x 90° for ISO 2009 or ISO 7046, or CSK Ø13.71 x 90° for ISO 10642"),
        ("Ø6,6, Senkung DIN 74-Km6", "CBORE Ø11 ↧6.4 for ISO 4762, or CBORE Ø11 ↧4.7 for DIN 7984"),
        ("DIN 74-E12", "the diameter and the angle"),
        ("Senkung DIN 974-2 M8", "the diameter, and the depth or SF"),
        ("Ø9 Flachsenkung DIN 974-1 Reihe 4", "the diameter and depth"),
    ],
)
def test_an_opening_that_is_not_held_says_what_to_write(text: str, hint: str) -> None:
    """Figures of ISO 15065:2005 (M5: 10.4, M6: 12.6), DIN 74:2003 form F (11.47, 13.71), DIN 974-1 (M6: 11 x 6.4); the low
    head of DIN 7984 with its addition (4.7)."""
    hole, notes, _ = build_callout(text, "mm")
    assert hole is None
    (note,) = notes
    assert note.code == "FASTENER-UNKNOWN"
    assert hint in note.suggestion


@pytest.mark.parametrize(
    ("text", "sizes", "hint"),
    [
        ("Ø9 DIN 974-1", [9.0, 15.0], "DIN 974-1 M8, or CBORE Ø15 ↧8.6"),
        ("Ø9, Senkung DIN 974-1 Reihe 1", [9.0, 15.0], "DIN 974-1 M8, or CBORE Ø15 ↧8.6"),
        ("Ø5.5 THRU, CSK DIN EN ISO 15065", [5.5, 10.4], "ISO 15065 M5, or CSK Ø10.4 x 90°"),
        ("Ø9.5 DIN 974-1", [9.5], "DIN 974-1 M8"),
    ],
)
def test_a_standard_of_openings_behind_a_hole_is_that_of_its_screw(text: str, sizes: list[float], hint: str) -> None:
    """ISO 273: Ø9 is M8, Ø5.5 is M5, both medium; no screw has 9.5."""
    hole, notes, _ = build_callout(text, "mm")
    assert hole is not None
    assert [feature.diameter.mm for feature in hole.features] == sizes
    (asked,) = [note for note in notes if note.is_question]
    assert asked.code == "CALLOUT-STANDARD"
    assert hint in asked.suggestion


@pytest.mark.parametrize(
    "text",
    ["M8 DIN 13", "G1/4 DIN ISO 228-1", "1/4-20 UNC-2B PER ASME B1.1", "1/4-18 NPT ANSI/ASME B1.20.1", "Tr20x4 DIN 103"],
)
def test_a_threads_own_standard_is_no_question(text: str) -> None:
    """What the standards are for: from memory."""
    reading = read_callout(text, "mm")
    assert reading.callout is not None
    assert not reading.notes
    assert reading.callout.remarks


def test_another_threads_standard_is_one() -> None:
    """DIN 2999 is for taper threads (from memory), G for parallel ones."""
    assert [note.code for note in read_callout("G1/4 DIN 2999", "mm").notes] == ["CALLOUT-STANDARD"]
