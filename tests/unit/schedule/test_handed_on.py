"""What the reader hands on is what the next stage counts: every row becomes part of a hole type or an unread row."""

from __future__ import annotations

from pathlib import Path

import pytest
from make_example_inputs import FOLDER
from written_files import read, text_file

from holesched.features.build import build_holes
from holesched.notes import Severity

MESSY = """Material,6061-T6,,Thickness,40,,,,,
Units,mm,,,,,,,,
TAG,X,Y,SIZE,,TAG,X,Y,SIZE,
A1,10,10,M6 THRU,,B1,60,40,M8 THRU,
A2,10,30,Oct-32,,B2,80,40,,
A3,30,30,ditto,,,,,,
A4,50,x,#NAME?,,TOTAL,,,,
A5,50,50,M6 THRU,,B3,90,70,-,
"""


def counted(path: Path) -> None:
    schedule, notes = read(path)
    built = build_holes(schedule, notes)
    refs = [member.ref for kind in built.types for member in kind.members] + [row.ref for row in built.unread]
    assert sorted(refs) == sorted(row.ref for row in schedule.rows)
    assert len(set(refs)) == len(refs)
    refused = {note.ref for note in notes if note.severity is Severity.REFUSED}
    assert refused == {row.ref for row in schedule.rows if not row.callout}
    assert refused <= {row.ref for row in built.unread}


@pytest.mark.parametrize("name", ["manifold_block.xlsx", "bearing_housing.xlsx", "sensor_plate.ods"])
def test_examples(name: str) -> None:
    counted(FOLDER / name)


def test_two_messy_tables_side_by_side(tmp_path: Path) -> None:
    path = text_file(tmp_path, MESSY)
    schedule, _ = read(path)
    assert (len(schedule.rows), len(schedule.set_aside), schedule.rows_read) == (8, 2, 10)
    counted(path)


def test_a_table_on_its_side(tmp_path: Path) -> None:
    counted(text_file(tmp_path, "Units,mm\nTAG,A1,A2,A3\nX,10,20,30\nY,5,6,7\nSIZE,M6 THRU,,Oct-32\n"))
