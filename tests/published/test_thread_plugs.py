"""Thread plug gauges for metric and trapezoidal threads: the tables of tolerances, and what becomes of them on a thread.

Sources: thread_plugs_gost.csv (GOST 24997-81, 10071-89 and 27298-87 in an open transcription); thread_plugs_chart.csv (a
public chart for 6H); thread_plugs_as1014.csv and thread_plugs_b12.csv (AS 1014 and ASME B1.2-1983 in an open worksheet).
GOST 24997-81 has the system of ISO 1502, whose table of ours was keyed from memory first.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from keyed_rows import keyed_rows
from written_threads import shape_of

from holesched.standards.gauges import gauges_for
from holesched.standards.sizes import Limits
from holesched.tables import table

ROWS = keyed_rows("thread_plugs_gost.csv")
OURS = {"T_PL": "t_pl_um", "Z_PL": "z_pl_um", "W_GO_PL": "w_go_um", "W_NG_PL": "w_ng_um"}
MULTIPLE_START_OTHERWISE = {("315", "W_GO_PL"): (48, 49)}
"""(over, column): as transcribed, and single start by 5/4."""


def _printed(standard: str) -> list[dict[str, str]]:
    return [row for row in ROWS if row["standard"] == standard]


@pytest.mark.parametrize(
    ("name", "starts", "standard"),
    [
        ("gauge_thread_iso1502.csv", None, "GOST 24997-81"),
        ("gauge_thread_trapezoidal.csv", "1", "GOST 10071-89"),
        ("gauge_thread_trapezoidal.csv", "9", "GOST 27298-87"),
    ],
)
def test_tolerances_of_plugs(name: str, starts: str | None, standard: str) -> None:
    ours = [row for row in table(name).rows if row.get("starts_to") == starts]
    for row, printed in zip(ours, _printed(standard), strict=True):
        assert (row["over_um"], row["up_to_um"]) == (printed["over"], printed["up_to"])
        for column, key in OURS.items():
            assert float(row[key]) == float(printed[column]), (standard, printed["over"], column)


def test_multiple_start_gauges_have_five_quarters_of_the_tolerance() -> None:
    """Each width of the multiple-start table is 5/4 of the single-start one, rounded up; the exception is named. Where the
    plug's zone lies (Z) is the same."""
    off = {}
    for single, multiple in zip(_printed("GOST 10071-89"), _printed("GOST 27298-87"), strict=True):
        for column in ("T_PL", "W_GO_PL", "W_NG_PL"):
            expected = math.ceil(1.25 * float(single[column]))
            if float(multiple[column]) != expected:
                off[single["over"], column] = (int(multiple[column]), expected)
        assert single["Z_PL"] == multiple["Z_PL"]
    assert off == MULTIPLE_START_OTHERWISE


@pytest.mark.parametrize(
    ("thread", "row", "standard"),
    [("M16-6H", 4, ""), ("M3-6H", 2, ""), ("MJ6x1-4H5H", 2, ""), ("Tr32x6-7H", 2, "GOST 10071-89"),
     ("Tr32x12(P6)-7H", 3, "GOST 27298-87")],
)  # fmt: skip
def test_own_limits_of_plugs(thread: str, row: int, standard: str) -> None:
    """Go: D2 min + Z_PL +- T_PL/2, worn at D2 min + Z_PL - W_GO; not-go: D2 max + T_PL/2 +- T_PL/2 (ISO 1502, 13.3)."""
    shape = shape_of(thread)
    printed = _printed(standard or "GOST 24997-81")[row]
    width, shift, go_worn, not_go_worn = (float(printed[column]) / 1000 for column in OURS)
    go, not_go = gauges_for(shape)[:2]
    assert shape.pitch.max_mm is not None
    low = shape.pitch.min_mm + shift
    assert go.tolerance_mm == pytest.approx((low - width / 2, low + width / 2), abs=1e-6)
    assert go.worn_mm == pytest.approx(low - go_worn, abs=1e-6)
    assert not_go.tolerance_mm == pytest.approx((shape.pitch.max_mm, shape.pitch.max_mm + width), abs=1e-6)
    assert not_go.worn_mm == pytest.approx(shape.pitch.max_mm + width / 2 - not_go_worn, abs=1e-6)
    assert ("own limits by GOST" in go.how) == bool(standard)


@pytest.mark.parametrize(
    ("pitch", "go", "go_worn", "not_go", "not_go_worn"),
    [
        ((20.391, 20.599), (20.400, 20.414), 20.386, (20.599, 20.613), 20.591),
        ((8.4938, 8.7097), (8.5028, 8.5168), 8.4888, (8.7097, 8.7237), 8.7017),
    ],
)
def test_worked_examples(
    pitch: tuple[float, float], go: tuple[float, float], go_worn: float, not_go: tuple[float, float], not_go_worn: float
) -> None:
    """Two results that the open program prints for plugs by GOST 24997-81, for threads of these pitch diameters, mm
    (MGage @694270546, tocalc.d: 0.875_9_UNC_2B and 0.375_16_UNC_1B)."""
    shape = shape_of("M10-6H")
    gauges = gauges_for(replace(shape, pitch=Limits(*pitch)))
    assert (gauges[0].tolerance_mm, gauges[0].worn_mm) == (go, go_worn)
    assert (gauges[1].tolerance_mm, gauges[1].worn_mm) == (not_go, not_go_worn)


@pytest.mark.parametrize("row", keyed_rows("thread_plugs_chart.csv"), ids=lambda row: row["thread"])
def test_the_chart_takes_the_same_step_for_each_thread(row: dict[str, str]) -> None:
    shape = shape_of(f"{row['thread']}-6H")
    go, not_go = gauges_for(shape)[:2]
    assert go.tolerance_mm is not None
    assert not_go.tolerance_mm is not None
    assert go.worn_mm is not None
    assert not_go.worn_mm is not None
    middle = sum(go.tolerance_mm) / 2
    found = {
        "Z_PL": middle - shape.pitch.min_mm,
        "T_PL": go.tolerance_mm[1] - go.tolerance_mm[0],
        "W_GO": middle - go.worn_mm,
        "W_NG": sum(not_go.tolerance_mm) / 2 - not_go.worn_mm,
    }
    assert {name: round(value, 6) for name, value in found.items()} == {name: float(row[name]) for name in found}


def test_plugs_of_as_1014() -> None:
    """Whole micrometres, halves rounded either way: Z + T/2, Z - T/2, Z - W for go, T, 0, T/2 - W for not-go."""
    printed, ours = keyed_rows("thread_plugs_as1014.csv"), table("gauge_thread_iso1502.csv").rows
    assert len(printed) == 7
    for row, line in zip(printed, ours, strict=False):
        assert row["over"] == line["over_um"]
        assert row["up_to"] == line["up_to_um"] or (row["up_to"], line["up_to_um"]) == ("670", "710")
        width, shift, go, not_go = (float(line[key]) for key in ("t_pl_um", "z_pl_um", "w_go_um", "w_ng_um"))
        reckoned = {
            "go_upper": shift + width / 2, "go_lower": shift - width / 2, "go_worn": shift - go,
            "not_go_upper": width, "not_go_lower": 0.0, "not_go_worn": width / 2 - not_go,
        }  # fmt: skip
        assert all(abs(value - float(row[key])) <= 0.5 for key, value in reckoned.items()), (row, reckoned)


def test_x_tolerances_of_b1_2() -> None:
    """Every entry of ASME B1.2-1983, Table 6, up to 8 in; 27 threads up to 1 1/2 in stand in ours alone."""
    off = []
    for row, line in zip(keyed_rows("thread_plugs_b12.csv"), table("gauge_thread_b12.csv").rows, strict=True):
        assert row["tpi"] == line["tpi"]
        off += [(row["tpi"], key) for key in ("to_1_5", "to_4", "to_8") if row[key] != line[f"{key}_in"]]
    assert off == [("27", "to_1_5")]


@pytest.mark.parametrize(
    ("thread", "width_in"),
    [("1/4-20 UNC-2B", 0.0003), ("2-4.5 UNC-2B", 0.0005), ("5-8 UN-2B", 0.0006), ("1 1/2-5 UNS-2B", None)],
)
def test_x_tolerance_on_a_thread(thread: str, width_in: float | None) -> None:
    go, not_go, *_ = gauges_for(shape_of(thread))
    assert (go.tolerance_mm is None) == (not_go.tolerance_mm is None) == (width_in is None)
    if go.tolerance_mm is not None and not_go.tolerance_mm is not None:
        for low, high in (go.tolerance_mm, not_go.tolerance_mm):
            assert (high - low) / 25.4 == pytest.approx(width_in, abs=1e-7)
        assert (go.tolerance_mm[0], not_go.tolerance_mm[1]) == (go.size_mm, not_go.size_mm)
