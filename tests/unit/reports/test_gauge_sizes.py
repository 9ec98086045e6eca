"""The sizes of the gauges themselves: to the last printed figure on the sheets, worn sizes in workbook and sheet.json.

M8x1.25-6H go plug: ISO 1502, limits of new plugs and of worn ones as the unit tests of the gauges have them.
"""

from __future__ import annotations

from holesched.pipeline import explain
from holesched.reports.base import RunStamp
from holesched.reports.lists import gauge_sets
from holesched.reports.naming import show_of
from holesched.reports.sheet_json import job_json
from holesched.reports.tool_list import tables
from holesched.schedule.model import ReadOptions
from holesched.shop.model import Shop
from holesched.standards.gauges import Gauge
from holesched.units import LengthUnit


def gauge_and_job(callout: str, unit: LengthUnit):  # type: ignore[no-untyped-def]
    job = explain(callout, Shop(), ReadOptions(unit, "C45", 40.0))
    gauge: Gauge = next(need.gauge for need in job.gauges if need.gauge.kind.startswith("go thread"))
    assert gauge.tolerance_mm is not None
    return gauge, job


def test_own_limits_have_the_places_that_their_tolerance_needs() -> None:
    """A plug of 11 um tolerance loses a tenth of it to a whole micrometre, and one in inches all of it."""
    for callout, unit, places, per in (("M8 ↧16", "mm", 4, 1.0), ("1/4-20 UNC-2B ↧.5", "in", 5, 25.4)):
        gauge, job = gauge_and_job(callout, unit)  # type: ignore[arg-type]
        (first, *_), *_ = (each.gauges for each in gauge_sets(job, show_of(job, Shop())))
        assert first.own_limits == " to ".join(f"{mm / per:.{places}f}" for mm in gauge.tolerance_mm)


def test_the_workbook_and_json_have_the_size_below_which_a_gauge_is_worn_out(stamp: RunStamp) -> None:
    gauge, job = gauge_and_job("M8 ↧16", "mm")
    assert gauge.worn_mm is not None
    sheet = next(table for table in tables(job, Shop()) if table.name == "Gauges")
    column = [each.title for each in sheet.columns].index("Worn out below, mm")
    assert sheet.rows[0][column] == round(gauge.worn_mm, 4) < gauge.tolerance_mm[0]
    plain = next(index for index, need in enumerate(job.gauges) if need.gauge.kind == "go plain plug")
    assert sheet.rows[plain][column] is None
    (told, *_) = job_json(job, stamp)["gauges"]
    assert told["worn_below_mm"] == gauge.worn_mm
