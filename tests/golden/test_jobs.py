"""The three invented jobs, whole: sheet.json as it was when a person last read it through.

`pytest tests/golden --update-golden` writes the files anew; read the difference before committing it.
"""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from holesched.pipeline import plan_file, plan_schedule, read_options
from holesched.reports.base import RunStamp
from holesched.reports.sheet_json import job_json
from holesched.schedule.read_workbook import read_schedule
from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop

HERE = Path(__file__).parent
INPUTS = HERE.parent.parent / "example_inputs"
JOBS = ("manifold_block.xlsx", "bearing_housing.xlsx", "sensor_plate.ods")
STAMP = RunStamp(date(2026, 1, 1), "golden")


def plan(name: str) -> JobPlan:
    shop = Shop()
    return plan_file(INPUTS / name, shop, read_options(shop))


def check(job: JobPlan, stored: Path, update_golden: bool) -> None:
    found = json.dumps(job_json(job, STAMP), indent=1, ensure_ascii=False) + "\n"
    if update_golden:
        stored.write_text(found, encoding="utf-8")
    assert json.loads(found) == json.loads(stored.read_text(encoding="utf-8"))


@pytest.mark.parametrize("name", JOBS)
def test_sheet_json(name: str, update_golden: bool) -> None:
    check(plan(name), HERE / f"{Path(name).stem}.json", update_golden)


def test_sheet_json_of_a_large_lot(update_golden: bool) -> None:
    """2000 parts of the smallest job: carbide and step drills."""
    shop = Shop()
    schedule, notes = read_schedule(INPUTS / "sensor_plate.ods", read_options(shop))
    job = plan_schedule(replace(schedule, header=replace(schedule.header, lot=2000)), notes, shop)
    check(job, HERE / "sensor_plate_lot_2000.json", update_golden)


NOTES = {
    "manifold_block.xlsx": {"DEPTH-BREAKS-THROUGH": "D59"},
    "bearing_housing.xlsx": {"THREAD-UNKNOWN": "C16"},
    "sensor_plate.ods": {"CHECK-SAME-PLACE": "D25"},
}
"""The one deliberate mistake of each job: the question's code and its cell."""


@pytest.mark.parametrize("name", JOBS)
def test_the_deliberate_mistake_is_the_only_question(name: str) -> None:
    asked = {note.code: note.ref.cell for note in plan(name).notes if note.is_question and note.ref is not None}
    assert asked == NOTES[name]


@pytest.mark.parametrize("name", JOBS)
def test_nothing_vanishes(name: str) -> None:
    job = plan(name)
    rows, holes = job.ledger.rows, job.ledger.holes
    assert rows.read == rows.planned + rows.in_question + rows.set_aside
    assert holes.read == holes.planned + holes.in_question
    assert holes.read == sum(hole.type.quantity for hole in job.holes) + sum(row.count for row in job.unread)


@pytest.mark.parametrize("name", JOBS)
def test_a_second_run_gives_the_same(name: str) -> None:
    assert job_json(plan(name), STAMP) == job_json(plan(name), STAMP)
