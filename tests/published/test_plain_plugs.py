"""ASME B89.1.5, plain plug gauges by class: the width of class Z, and its place, inward at both ends."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from holesched.standards import threads
from holesched.standards.gauges import gauges_for

with (Path(__file__).resolve().parent / "plain_plugs_chart.csv").open(encoding="utf-8", newline="") as _file:
    ROWS = list(csv.DictReader(_file))


def test_the_classes_of_the_chart_hang_together() -> None:
    """Class ZZ is twice Z in every step, X is narrower than Y and Y than Z: a slip in keying would show."""
    for row in ROWS:
        x, y, z, zz = (float(row[name]) for name in ("x_in", "y_in", "z_in", "zz_in"))
        assert x < y < z
        assert zz == pytest.approx(2 * z)


@pytest.mark.parametrize(
    ("designation", "steps"),
    [("1/4-20 UNC-2B", (0, 0)), ("7/8-9 UNC-2B", (0, 0)), ("1-8 UNC-2B", (1, 1)), ("2-4.5 UNC-2B", (2, 2)),
     ("4-4 UNC-2B", (3, 3)), ("6-8 UN-2B", (4, 4))],
)  # fmt: skip
def test_plain_plugs_of_unified_threads_have_class_z(designation: str, steps: tuple[int, int]) -> None:
    """The go plug's tolerance lies above the least minor diameter, the not-go plug's below the largest."""
    found = threads.recognise(designation, 0, "in")
    assert found is not None
    spec = threads.complete(found[0]).spec
    assert spec is not None
    go, not_go = gauges_for(threads.geometry(spec))[2:]
    for gauge, step, sign in ((go, steps[0], 1), (not_go, steps[1], -1)):
        width_mm = 25.4 * float(ROWS[step]["z_in"])
        assert gauge.tolerance_mm is not None
        assert gauge.tolerance_mm == pytest.approx(sorted((gauge.size_mm, gauge.size_mm + sign * width_mm)), abs=1e-6)
