"""The machine-readable results against the JSON Schema that ships with the package."""

from __future__ import annotations

import json
from dataclasses import replace

import jsonschema
import pytest
import sample_job

from holesched.callouts.model import Depth, Kind, Tolerance
from holesched.features.model import Feature, Hole
from holesched.notes import Note, Severity
from holesched.reports.base import RunStamp
from holesched.reports.sheet_json import callout_json, job_json
from holesched.reports.write import json_bytes
from holesched.resources import table_text
from holesched.sequence.model import JobPlan
from holesched.standards.sizes import Size

SCHEMA = json.loads(table_text("sheet.schema.json"))
CALLOUT = {"$defs": SCHEMA["$defs"], "$ref": "#/$defs/callout"}


def test_the_schema_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


def test_a_job_fits_the_schema(job: JobPlan, inch_job: JobPlan, stamp: RunStamp) -> None:
    for each in (job, inch_job):
        jsonschema.validate(json.loads(json_bytes(job_json(each, stamp))), SCHEMA)


def test_the_schema_notices_a_missing_and_a_new_field(job: JobPlan, stamp: RunStamp) -> None:
    found = job_json(job, stamp)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({**found, "extra": 1}, SCHEMA)
    del found["ledger"]
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(found, SCHEMA)


def test_the_quantities_add_up_to_the_ledger(job: JobPlan, stamp: RunStamp) -> None:
    found = job_json(job, stamp)
    assert sum(hole["quantity"] for hole in found["holes"]) == found["ledger"]["holes"]["read"]
    held = [hole["quantity"] for hole in found["holes"] if hole["on_hold"]]
    assert sum(held) == found["ledger"]["holes"]["in_question"]
    assert found["holes"][-1] == {
        "type": None,
        "tags": ["G1"],
        "cell": "D50",
        "callout": "⌀ THRU",
        "quantity": 3,
        "on_hold": True,
        "features": [],
        "operations": [],
    }


def test_a_thread_and_its_operations(job: JobPlan, stamp: RunStamp) -> None:
    hole = job_json(job, stamp)["holes"][0]
    (feature,) = hole["features"]
    assert feature["kind"] == "tap"
    assert feature["depth_mm"] == 16.0
    assert feature["thread"]["designation"] == "M8x1.25-6H"
    assert feature["thread"]["minor_mm"] == [6.647, 6.912]
    drill, tap = hole["operations"][1:]
    assert (drill["number"], drill["kind"], drill["tool"]) == (50, "drill", "T5 drill 6.8")
    assert tap["feed_mm_min"] == tap["spindle_rev_min"] * 1.25
    assert tap["reasons"][0]["instead_of"][0] == "spiral-point: it pushes chips into the closed end"


def test_a_question_says_where(job: JobPlan, stamp: RunStamp) -> None:
    first = job_json(job, stamp)["questions"][0]
    assert first["where"] == {"file": "valve_block.xlsx", "sheet": "Holes", "cell": "D31"}
    assert set(first) == {"where", "text", "problem", "suggestion", "assumed"}


REAMED = Feature(Kind.REAM, Size(8.0, "8"), Depth(12.0), Tolerance("H7"))
THROUGH = Feature(Kind.DRILL, Size(11.0, "11"), Depth(through=True), Tolerance(None, 11.0, 11.1))
SUNK = Feature(Kind.COUNTERSINK, Size(10.4, "10.4"), Depth(), angle_deg=90.0)
ASSUMED = Note("DEPTH-THROUGH-ASSUMED", Severity.ASSUMED, "No depth given: through")
ASKED = Note("DEPTH-WALL", Severity.ASK, "Too near the far face", "Shorten it")
SENSELESS = Note("CALLOUT-UNREADABLE", Severity.REFUSED, "Expected a size")
UNKNOWN = Note("THREAD-PITCH-UNKNOWN", Severity.REFUSED, "M8x1.4 is in no table", "M8x1.25")


@pytest.mark.parametrize(
    ("hole", "notes", "status"),
    [
        (Hole((REAMED,), "x"), (), "ok"),
        (Hole((REAMED,), "x"), (ASSUMED,), "ok"),
        (Hole((REAMED,), "x"), (ASSUMED, ASKED), "question"),
        (None, (UNKNOWN,), "question"),
        (None, (SENSELESS,), "error"),
        (None, (), "question"),
    ],
)
def test_the_status_of_a_callout(hole: Hole | None, notes: tuple[Note, ...], status: str) -> None:
    found = callout_json("x", hole, notes, None)
    jsonschema.validate(found, CALLOUT)
    assert found["status"] == status


def test_the_features_of_a_callout() -> None:
    found = callout_json("4X ...", Hole((REAMED, THROUGH, SUNK), "x"), (ASSUMED, ASKED), 4)
    jsonschema.validate(found, CALLOUT)
    assert found["count"] == 4
    assert found["assumed"] == ["No depth given: through"]
    assert [(f["kind"], f["tolerance"], f["depth_mm"], f["angle_deg"]) for f in found["features"]] == [
        ("ream", "H7", 12.0, None),
        ("drill", [11.0, 11.1], "through", None),
        ("countersink", None, None, 90.0),
    ]
    assert found["questions"][0]["where"] == {"file": "", "sheet": "", "cell": ""}


def test_a_threads_limits_come_from_its_standard() -> None:
    """M8x1.25-6H: minor 6.647 to 6.912, pitch 7.188 to 7.348 (ISO 965-2, Table 2, from memory)."""
    from holesched.standards import threads
    from holesched.standards.threads.base import ThreadCall

    answer = threads.complete(ThreadCall("iso-metric", Size(8.0, "8"), "M", 1.25, thread_class="6H"))
    assert answer.spec is not None
    hole = Hole((Feature(Kind.TAP, Size(8.0, "8"), Depth(16.0), thread=answer.spec),), "M8x1.25-6H ↧16")
    found = callout_json("M8x1.25-6H ↧16", hole, (), None)
    jsonschema.validate(found, CALLOUT)
    assert found["features"][0]["thread"] == {
        "series": "M",
        "designation": answer.spec.designation,
        "pitch_mm": 1.25,
        "class": "6H",
        "hand": "RH",
        "major_mm": 8.0,
        "pitch_diameter_mm": [7.188, 7.348],
        "minor_mm": [6.647, 6.912],
    }


def test_ten_thousand_rows_are_one_hole_each_time(stamp: RunStamp) -> None:
    found = job_json(sample_job.many_rows(10_000), stamp)
    assert len(found["holes"]) == 7
    assert len(found["holes"][0]["tags"]) == 10_000


def test_a_name_from_the_file_is_kept_as_it_is(job: JobPlan, stamp: RunStamp) -> None:
    odd = replace(job, header=replace(job.header, part_number="Blöck\n№ 7"))
    assert json.loads(json_bytes(job_json(odd, stamp)))["job"]["part_number"] == "Blöck\n№ 7"
