"""Rows of DISAGREEMENTS.md that no test of a whole table asserts: what either source has, keyed here, and which one we give.

Sources are named in DISAGREEMENTS.md.
"""

from __future__ import annotations

import math

import pytest

from holesched.standards import clearance, counterbore, countersink, hole_limits, iso965, series, threads
from holesched.standards.fits import delta_um, hole_deviations_um
from holesched.standards.heads import UnknownFastener
from holesched.standards.threads import Answer, npt, pipe_depths, trapezoidal, whitworth
from holesched.tables import table


def answer_to(text: str) -> Answer:
    read = threads.recognise(text, 0, "mm")
    assert read is not None, text
    return threads.complete(read[0])


def drill_mm(text: str) -> float:
    spec = answer_to(text).spec
    assert spec is not None, text
    drill = pipe_depths.pipe_drill(spec)
    assert drill is not None, text
    return drill.drill.mm


@pytest.mark.parametrize(("pitch_mm", "printed", "formula"), [(0.75, 22, 23.6), (8, 100, 106)])
def test_deviation_g(pitch_mm: float, printed: float, formula: float) -> None:
    assert iso965.ei_um(pitch_mm, "G") == printed
    assert iso965.nearest_r40(15 + 11 * pitch_mm) == formula


@pytest.mark.parametrize(("pitch_mm", "printed", "formula"), [(0.75, 140, 150), (4, 475, 450)])
def test_major_diameter_tolerance_of_screws(pitch_mm: float, printed: float, formula: float) -> None:
    (low, high), _ = iso965.external_6g(36, pitch_mm)
    assert round(1000 * (high - low)) == printed
    assert iso965.nearest_r40(180 * math.pow(pitch_mm, 2 / 3) - 3.15 / math.sqrt(pitch_mm)) == formula


def test_tolerances_off_their_step() -> None:
    assert (iso965.td2_um(1.2, 0.3, 4)[0], iso965.r40_step(iso965.td2_um(1.2, 0.3, 6)[0], -8)) == (48, 47.5)
    assert (iso965.td2_um(30, 2, 8)[0], iso965.r40_step(iso965.td2_um(30, 2, 7)[0], 4)) == (355, 355)  # transcribed: 335


def test_metric_sizes() -> None:
    for text, named in (("M1.7", ("M1.6", "M1.8")), ("M2.3", ("M2.2", "M2.5"))):
        answer = answer_to(text)
        assert answer.spec is None
        assert all(name in answer.suggestion for name in named)
    assert [answer_to(text).spec for text in ("M6x0.7", "M8x0.8", "M30x2.5", "M50x4", "M35x2", "M75x6")] == [None] * 6
    for text in ("M7", "M26x1.5", "M38x1.5", "M78x2", "M82x2"):
        assert answer_to(text).spec is not None
    assert [code for code, _, _ in answer_to("M7").questions] == ["THREAD-THIRD-CHOICE"]


def test_metric_quarters() -> None:
    choices = {row["size_mm"]: row["choice"] for row in table("drill_metric.csv").rows}
    assert {choices[size] for size in ("3.25", "3.75", "6.25", "10.75", "13.75")} == {"second"}
    assert not {3.25, 13.75} & {size.mm for size in series("metric-preferred")}


def test_holes_of_iso_286() -> None:
    assert hole_deviations_um(20, "JS7") == (-10.5, 10.5)  # older practice: 10
    assert (hole_deviations_um(300, "M6")[1], -20 + delta_um(300, 6)) == (-9, -11)
    with pytest.raises(ValueError, match="not in our table"):
        hole_limits(2.54, "RC1")


def test_fastener_holes() -> None:
    assert [clearance(size, "loose")[0].mm for size in ("M68", "M110")] == [78, 122]  # the module of 2012: 80, 121
    assert [clearance(size, "loose")[0].mm for size in ("M12", "M14", "M16")] == [14.5, 16.5, 18.5]  # B18.2.8M: 15, 17, 19
    assert counterbore("M64")[0].mm == 107  # iso4762.json: 103
    assert countersink("M16", "flat socket")[0].mm == 33.99  # the module of 2012: 33.39, smaller than the head of 33.6
    assert countersink("M5", "flat")[0].mm == 10.4  # the same: 0.4
    for size in ("M54", "3"):
        with pytest.raises(UnknownFastener):
            counterbore(size)
    for size in ("M2", "M2.5"):
        with pytest.raises(UnknownFastener):
            countersink(size, "flat socket")


def test_american_pipe_threads() -> None:
    """L1 of 1/8 and 1 1/2, of which each source gives another E1 = E0 + L1/16; the drill of 3 in, 3 15/64 or 3 15/16."""
    for size, followed, other in (("1/8", 0.1615, 0.162), ("1 1/2", 0.420, 0.402)):
        row = npt.rows()[size]
        assert float(row["L1_in"]) == followed
        computed = {length: float(row["E0_in"]) + length / 16 for length in (followed, other)}
        assert abs(computed[followed] - float(row["E1_in"])) < 1.2e-5 < abs(computed[other] - float(row["E1_in"]))
    assert drill_mm("3 NPT") == pytest.approx((3 + 15 / 64) * 25.4, abs=5e-4)
    assert float(npt.rows()["3"]["outside_diameter_in"]) < 3 + 15 / 16


def test_british_pipe_threads() -> None:
    ours = {"3/8": 15.25, "1/2": 19, "5/8": 21, "3/4": 24.5, "1": 30.75, "2": 57}
    others = {"3/8": 15.3, "1/2": 19.1, "5/8": 21.1, "3/4": 24.6, "1": 30.9, "2": 57.2}
    for size, followed in ours.items():
        spec = answer_to(f"G {size}").spec
        assert spec is not None
        minor = threads.geometry(spec).minor
        assert minor.max_mm is not None
        assert drill_mm(f"G {size}") == followed
        assert minor.min_mm <= followed < others[size] <= minor.max_mm
    assert 10.8 < drill_mm("Rc 1/4") == 11.2 < 11.5


def test_trapezoidal_pitches() -> None:
    assert trapezoidal.pitches()[115] == (12, 6, 22)
    for text in ("Tr115x14", "Tr16x3", "Tr205x4"):
        answer = answer_to(text)
        assert answer.spec is not None
        assert [code for code, _, _ in answer.questions] == ["THREAD-PITCH-SPECIAL"]


def test_whitworth_sizes() -> None:
    assert whitworth.sizes()["BSW", "4 1/2"] == 2.875  # an open summary of BS 84:2007: 3
    for size, inches, printed_mm in (("3/4", 0.75, 19.051), ("4 1/2", 4.5, 114.304), ("6", 6, 152.406)):
        spec = answer_to(f"{size} BSW").spec
        assert spec is not None
        assert spec.nominal.mm == pytest.approx(inches * 25.4, abs=1e-9)
        assert -1e-9 <= printed_mm - spec.nominal.mm < 0.0061
