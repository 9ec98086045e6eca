"""Files as they come from outside, made by make_corpus.py, and what must come of each: keyed by hand in files.csv.

`rows` = planned + in question + `set_aside`; `holes` with those `in_question`; `asked` and `watch` are the codes of the
notes that ask and warn; `says` is a piece of the sentence for a file that cannot be read.
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from make_corpus import MAKERS

from holesched.check import check_file
from holesched.cli import main
from holesched.notes import Severity
from holesched.pipeline import plan_file
from holesched.schedule.file_kinds import SCHEDULE_ENDINGS
from holesched.schedule.model import ReadOptions
from holesched.schedule.read_workbook import read_schedule
from holesched.shop.model import Shop

with (Path(__file__).parent / "files.csv").open(encoding="utf-8", newline="") as _lines:
    ROWS = list(csv.DictReader(_lines))
every_file = pytest.mark.parametrize("row", ROWS, ids=[row["file"] for row in ROWS])


@every_file
def test_what_comes_of_a_file(row: dict[str, str], tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, out = tmp_path / row["file"], tmp_path / "out"
    MAKERS[row["file"]](path)
    status = main(["sheet", str(path), "--format", "json", "--out", str(out)])
    printed = capsys.readouterr()
    assert status == int(row["status"]), printed
    assert sorted(entry.name for entry in tmp_path.iterdir()) == sorted([path.name, *(["out"] if status != 2 else [])])
    if status == 2:
        assert row["file"] in printed.err
        assert row["says"] in printed.err
        assert printed.err.count("\n") == 1
        return
    job = plan_file(path, Shop(), ReadOptions())
    rows, holes = job.ledger.rows, job.ledger.holes
    assert (rows.read, rows.set_aside) == (int(row["rows"]), int(row["set_aside"]))
    assert (holes.read, holes.in_question) == (int(row["holes"]), int(row["in_question"]))
    assert " ".join(sorted({note.code for note in job.notes if note.is_question})) == row["asked"]
    reading = {note.code for note in job.notes if note.severity is Severity.WATCH}
    assert set(row["watch"].split()) == {code for code in reading if code.startswith(("SCHEDULE-", "CHECK-LOOK"))}


@every_file
def test_checked_and_planned_agree(row: dict[str, str], tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The check reads the same rows and holes as the plan, refuses the same files, and asks nothing else."""
    path = tmp_path / row["file"]
    MAKERS[row["file"]](path)
    status = main(["check", str(path)])
    printed = capsys.readouterr()
    assert (status == 2) == (main(["sheet", str(path), "--format", "json", "--out", str(tmp_path / "out")]) == 2), printed
    if status == 2:
        return
    checked, planned = check_file(path, ReadOptions()), plan_file(path, Shop(), ReadOptions())
    assert checked.ledger.rows.read == planned.ledger.rows.read
    assert checked.ledger.rows.set_aside == planned.ledger.rows.set_aside
    assert checked.ledger.holes.read == planned.ledger.holes.read
    assert set(checked.notes) <= set(planned.notes)


UNLIKE = ("formula_without_value.xlsx", "traps.xls", "traps.ods")
"""Files whose copy cannot hold all: it has no formulas, and of a rebuilt one's raised figures the joined text only."""
ASKED = [row["file"] for row in ROWS if row["status"] == "3" and row["file"] not in UNLIKE]


@pytest.mark.parametrize("name", ASKED)
def test_a_marked_copy_reads_as_its_original(name: str, tmp_path: Path) -> None:
    """The same rows in the same cells with the same questions."""
    path = tmp_path / name
    MAKERS[name](path)
    assert main(["check", str(path), "--marked", "--out", str(tmp_path)]) == 3
    original, notes = read_schedule(path, ReadOptions())
    copy, copy_notes = read_schedule(tmp_path / f"{path.stem}_questions.xlsx", ReadOptions())
    assert [(row.ref.cell, row[1:]) for row in copy.rows] == [(row.ref.cell, row[1:]) for row in original.rows]
    assert sorted(n.code for n in copy_notes if n.is_question) == sorted(n.code for n in notes if n.is_question)


def test_the_corpus_is_whole() -> None:
    assert [row["file"] for row in ROWS] == list(MAKERS)
    assert len(ROWS) >= 80


def test_all_files_at_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A folder of them: the bad ones never cost the others. Folders inside it are not looked into."""
    for name, make in MAKERS.items():
        if name not in ("bomb.xlsx", "too_many_rows.csv"):
            make(tmp_path / name)
    assert main(["check", str(tmp_path)]) == 2
    printed = capsys.readouterr()
    read = [row["file"] for row in ROWS if row["status"] != "2"]
    assert all(f"{name}\n  rows " in printed.out for name in read)
    refused = [row["file"] for row in ROWS if row["status"] == "2" and row["file"].endswith(SCHEDULE_ENDINGS)]
    assert all(f"holesched: {name}" in printed.err for name in refused if name not in ("bomb.xlsx", "too_many_rows.csv"))
