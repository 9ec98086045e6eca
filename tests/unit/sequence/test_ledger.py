"""Rows and holes in and out, over whole schedules."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from holesched.notes import CellRef
from holesched.pipeline import plan_file, plan_schedule, read_options
from holesched.schedule.model import JobHeader, Schedule, ScheduleRow
from holesched.shop.model import Shop


def test_tables_side_by_side_share_a_sheet_row(tmp_path: Path) -> None:
    text = (
        "Material,6061-T6,,,,,,\nThickness,20 mm,,,,,,\nUnits,mm,,,,,,\n,,,,,,,\n"
        "TAG,X,Y,CALLOUT,TAG,X,Y,CALLOUT\nA1,10,10,Ø9 THRU,B1,50,10,\u00d88 H7 THRU\n"
        "A2,10,40,Ø9 THRU,B2,50,40,nonsense\n"
    )
    schedule = tmp_path / "two.csv"
    schedule.write_text(text, encoding="utf-8")
    shop = Shop()
    job = plan_file(schedule, shop, read_options(shop))
    assert (job.ledger.rows.read, job.ledger.rows.planned, job.ledger.rows.in_question) == (4, 3, 1)
    assert (job.ledger.holes.read, job.ledger.holes.planned, job.ledger.holes.in_question) == (4, 3, 1)


CALLOUTS = (
    "M6-6H THRU",
    "4X M5-6H \u21a710",
    "\u00d88 H7 THRU",
    "M8x1.5",
    "",
    "\u00d810 THRU",
    "TBD",
    "DELETED",
    "M12-6H \u21a728",
)


@given(st.lists(st.tuples(st.sampled_from(CALLOUTS), st.none() | st.integers(0, 6)), max_size=12))
def test_whatever_the_rows_say_they_add_up(rows: list[tuple[str, int | None]]) -> None:
    read = tuple(
        ScheduleRow(CellRef("f", "s", number, 3), f"H{number}", callout, "mm", quantity, float(20 * number), 5.0)
        for number, (callout, quantity) in enumerate(rows, start=1)
    )
    header = JobHeader(material="6061-T6", thickness_mm=30.0, unit_stated=True)
    job = plan_schedule(Schedule("f", "s", "", header, read, (), len(read)), (), Shop())
    counted, holes = job.ledger.rows, job.ledger.holes
    assert counted.read == len(rows) == counted.planned + counted.in_question
    assert holes.read == holes.planned + holes.in_question
    assert holes.planned == sum(
        member.count for hole in job.holes if not hole.on_hold and hole.cut_plan for member in hole.type.members
        if member.ref not in hole.held_rows
    )  # fmt: skip
