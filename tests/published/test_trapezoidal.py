"""ISO metric trapezoidal threads: basic sizes as printed, tolerances (from memory) against the standard's formulas.

Sources: iso2904_basic.csv (ISO 2904:1977 in a public copy), trapezoidal_sizes_open_data.csv (an open CAD library),
trapezoidal_td2_gost.csv (GOST 9562-81, a few threads, as an open program quotes it).
"""

from __future__ import annotations

from keyed_rows import keyed_rows
from written_threads import shape_of

from holesched.standards.threads import trapezoidal
from holesched.tables import table

TD1_BY_FORMULA_OTHERWISE = {"12": (800, 850)}
"""Pitch: the table's TD1 and the formula's, micrometres."""
TD2_BY_FORMULA_OTHERWISE = {
    ("5.6", "2"): {"9": (400, 375)},
    ("5.6", "3"): {"7": (280, 300)},
    ("11.2", "3"): {"7": (300, 315), "8": (375, 400), "9": (475, 500)},
    ("11.2", "8"): {"8": (600, 560), "9": (750, 710)},
    ("22.4", "8"): {"9": (800, 750)},
    ("22.4", "12"): {"7": (560, 600)},
    ("45", "9"): {"9": (900, 850)},
    ("45", "10"): {"7": (560, 600)},
    ("45", "18"): {"8": (950, 900), "9": (1180, 1120)},
    ("180", "36"): {"9": (1800, 1700)},
    ("180", "40"): {"7": (1120, 1180), "8": (1400, 1500)},
    ("180", "44"): {"7": (1250, 1180)},
}
"""(over, pitch): grade: the table's TD2 and the formula's, micrometres."""


def test_basic_sizes() -> None:
    rows = keyed_rows("iso2904_basic.csv")
    assert len(rows) == 22
    for row in rows:
        assert float(row["pitch"]) in trapezoidal.pitches()[float(row["diameter"])]
        shape = shape_of(f"Tr{row['diameter']}x{row['pitch']}-7H")
        assert (shape.basic_pitch_mm, shape.major.min_mm, shape.basic_minor_mm) == (
            float(row["D2"]), float(row["D4"]), float(row["D1"]),
        )  # fmt: skip


def test_sizes_are_known_elsewhere() -> None:
    known = {(float(row["diameter"]), float(row["pitch"])) for row in keyed_rows("trapezoidal_sizes_open_data.csv")}
    ours = {(diameter, pitch) for diameter, pitches in trapezoidal.pitches().items() for pitch in pitches}
    assert len(ours) == 185
    assert ours <= known


def test_minor_tolerances_by_formula() -> None:
    """TD1(4) = 0.63 (230 P^0.7) um, the nearest member of R40; the exception is named."""
    off = {}
    for row in table("thread_tr_td1.csv").rows:
        formula = trapezoidal.minor_tolerance_formula(float(row["pitch_mm"]))
        if formula != float(row["TD1_um"]):
            off[row["pitch_mm"]] = (float(row["TD1_um"]), formula)
    assert off == TD1_BY_FORMULA_OTHERWISE


def test_pitch_tolerances_by_formula() -> None:
    """TD2 = k 90 P^0.4 d^0.1 um, k = 1.7, 2.12, 2.65, the nearest member of R40; the exceptions are named."""
    off: dict[tuple[str, str], dict[str, tuple[float, float]]] = {}
    for row in table("thread_tr_td2.csv").rows:
        for grade in trapezoidal.GRADES:
            formula = trapezoidal.pitch_tolerance_formula(float(row["to_mm"]), float(row["pitch_mm"]), grade)
            if formula != float(row[grade]):
                off.setdefault((row["over_mm"], row["pitch_mm"]), {})[grade] = (float(row[grade]), formula)
    assert off == TD2_BY_FORMULA_OTHERWISE


def test_every_listed_thread_has_a_tabulated_tolerance() -> None:
    rows = table("thread_tr_td2.csv").rows
    for diameter, pitches in trapezoidal.pitches().items():
        for pitch in pitches:
            inside = [row for row in rows if float(row["over_mm"]) < diameter <= float(row["to_mm"])]
            assert any(float(row["pitch_mm"]) == pitch for row in inside), (diameter, pitch)


TD2_QUOTED_OTHERWISE = {"Tr120x24(P6)-7H": (400, 500)}
"""Thread: TD2 as the open program quotes it, and ours, micrometres."""


def test_pitch_tolerances_quoted_from_gost() -> None:
    """GOST 9562-81 has the tolerances of ISO 2903; the program takes those of a single start for several starts too."""
    rows, off = keyed_rows("trapezoidal_td2_gost.csv"), {}
    assert len(rows) == 7
    for row in rows:
        ours = trapezoidal.pitch_tolerance_mm(float(row["diameter"]), float(row["pitch"]), row["grade"]) * 1000
        if round(ours, 3) != float(row["TD2_um"]):
            off[row["thread"]] = (float(row["TD2_um"]), round(ours, 3))
    assert off == TD2_QUOTED_OTHERWISE
