"""ISO metric trapezoidal threads: basic sizes as printed, tolerances (from memory) against the standard's formulas.

Sources: iso2904_basic.csv (ISO 2904:1977 in a public copy), trapezoidal_sizes_open_data.csv (an open CAD library).
"""

from __future__ import annotations

from keyed_rows import keyed_rows
from written_threads import shape_of

from holesched.standards.threads import trapezoidal
from holesched.tables import table

TD1_BY_FORMULA_OTHERWISE = {12: 841.4, 14: 944.1, 32: 1678.8}
TD2_BY_FORMULA_OTHERWISE = {
    # (to, pitch): grades whose table value is more than one half step of R40 from the formula
    (11.2, 3): "7", (22.4, 3): "789", (22.4, 8): "89", (45, 5): "7", (45, 12): "7", (90, 10): "7", (90, 18): "9",
    (180, 20): "7", (355, 40): "7", (355, 44): "7",
}  # fmt: skip
HALF_STEP = 10 ** (1 / 80)


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
    """TD1(4) = 0.63 (230 P^0.7) um rounded to R40; the exceptions are named."""
    off = {}
    for row in table("thread_tr_td1.csv").rows:
        formula = trapezoidal.minor_tolerance_formula(float(row["pitch_mm"]))
        if not 1 / HALF_STEP < formula / float(row["TD1_um"]) < HALF_STEP:
            off[float(row["pitch_mm"])] = round(formula, 1)
    assert off == TD1_BY_FORMULA_OTHERWISE


def test_pitch_tolerances_by_formula() -> None:
    """TD2 = k 90 P^0.4 d^0.1 um, k = 1.7, 2.12, 2.65, rounded to R40; the exceptions are named."""
    off: dict[tuple[float, float], str] = {}
    for row in table("thread_tr_td2.csv").rows:
        for grade in trapezoidal.GRADES:
            to, pitch = float(row["to_mm"]), float(row["pitch_mm"])
            formula = trapezoidal.pitch_tolerance_formula(to, pitch, grade)
            if not 1 / HALF_STEP < formula / float(row[grade]) < HALF_STEP:
                off[to, pitch] = off.get((to, pitch), "") + grade
    assert off == TD2_BY_FORMULA_OTHERWISE


def test_every_listed_thread_has_a_tabulated_tolerance() -> None:
    rows = table("thread_tr_td2.csv").rows
    for diameter, pitches in trapezoidal.pitches().items():
        for pitch in pitches:
            inside = [row for row in rows if float(row["over_mm"]) < diameter <= float(row["to_mm"])]
            assert any(float(row["pitch_mm"]) == pitch for row in inside), (diameter, pitch)
