"""Percentage of thread against tap drill charts (recalled: Machinery's Handbook, Table of Tap Drills) and by hand."""

from __future__ import annotations

import pytest
from keyed_rows import keyed_rows

from holesched.standards import thread_percent, threads
from holesched.units import MM_PER_INCH


def test_percentages_of_tap_drill_charts() -> None:
    """Every charted percentage, at whole percent; the drill's chart decimal is used."""
    compared = 0
    for row in keyed_rows("tap_drills_recalled.csv"):
        if not row["pct_in_chart"]:
            continue
        read = threads.recognise(row["thread"], 0, "in")
        assert read is not None
        spec = threads.complete(read[0]).spec
        assert spec is not None
        hole_mm = float(row["value"].removesuffix(" in")) * MM_PER_INCH
        percent = thread_percent.cut_percent(spec.nominal.mm, hole_mm, spec.pitch_mm)
        assert round(percent) == int(row["pct_in_chart"]), row
        compared += 1
    assert compared >= 20


@pytest.mark.parametrize(
    ("major", "hole", "pitch", "percent"), [(6, 5.0, 1, 77.0), (8, 6.8, 1.25, 73.9), (12, 10.2, 1.75, 79.2)]
)
def test_metric_percentages(major: float, hole: float, pitch: float, percent: float) -> None:
    """By hand: 76.98 x (D - hole) / P."""
    assert round(thread_percent.cut_percent(major, hole, pitch), 1) == percent
    assert thread_percent.cut_hole_mm(major, thread_percent.cut_percent(major, hole, pitch), pitch) == pytest.approx(hole)


@pytest.mark.parametrize(("major", "pitch", "hole"), [(3, 0.5, 2.78), (6, 1, 5.56), (8, 1.25, 7.45), (12, 1.75, 11.23)])
def test_forming_holes_at_65_percent(major: float, pitch: float, hole: float) -> None:
    """Machinery's Handbook, cold-form tapping, from memory: D - 0.0068 x 65 x P, by hand."""
    assert round(thread_percent.forming_hole_mm(major, 65, pitch), 2) == hole
    assert thread_percent.forming_percent(major, thread_percent.forming_hole_mm(major, 65, pitch), pitch) == pytest.approx(
        65
    )
