"""The number of parts, on the command line or in the title block: tools are chosen and counted for it."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from holesched.cli import main
from holesched.pipeline import plan_file, read_options
from holesched.reports.takeoff_counts import common_lot
from holesched.shop.model import Shop

TABLE = """Part number,LT-1
Material,C45
Thickness,25 mm
Units,mm
Lot,5

Tag,Callout,Qty
A,⌀6.6 THRU ⌴ ⌀11 ↧6.8,4
"""


@pytest.fixture
def schedule(tmp_path: Path) -> Path:
    path = tmp_path / "plate.csv"
    path.write_text(TABLE, encoding="utf-8")
    return path


def counted(schedule: Path, *more: str) -> str:
    out = schedule.parent / "out"
    assert main(["takeoff", str(schedule), "--out", str(out), *more]) == 0
    return (out / "takeoff" / "takeoff.csv").read_text(encoding="utf-8-sig")


def test_a_takeoff_counts_the_tools_of_its_lot(schedule: Path) -> None:
    """Rule H31, common practice, no source: a step drill pays in a large lot."""
    assert "step drill" not in counted(schedule)
    assert "step drill" in counted(schedule, "--lot", "2000")


def test_without_a_lot_it_is_the_schedules_own(schedule: Path) -> None:
    lines = list(csv.reader(counted(schedule).splitlines()))
    assert any("drill" in cell for line in lines for cell in line)
    assert common_lot([plan_file(schedule, Shop(), read_options(Shop()))]) == 5


def test_jobs_of_different_lots_are_counted_for_one_part(schedule: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.csv"
    other.write_text(TABLE.replace("Lot,5", "Lot,6"), encoding="utf-8")
    jobs = [plan_file(path, Shop(), read_options(Shop())) for path in (schedule, other)]
    assert common_lot(jobs) == 1
    assert common_lot(jobs[1:]) == 6


def test_the_title_blocks_lot_is_overridden_and_said_so(schedule: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(schedule), "--lot", "7"]) == 0
    job_out = schedule.parent / "sheets"
    assert main(["sheet", str(schedule), "--lot", "7", "--out", str(job_out), "--format", "html"]) == 0
    page = (job_out / "plate" / "process_sheet.html").read_text(encoding="utf-8")
    assert "The file says lot" in page
    capsys.readouterr()


@pytest.mark.parametrize("command", ["check", "sheet", "takeoff"])
def test_a_lot_of_none_is_refused(schedule: Path, command: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([command, str(schedule), "--lot", "0"]) == 2
    assert "at least 1" in capsys.readouterr().err


def test_a_callout_is_explained_for_a_lot(capsys: pytest.CaptureFixture[str]) -> None:
    asked = ["explain", "⌀6.6 THRU ⌴ ⌀11 ↧6.8", "--material", "C45", "--thickness", "25"]
    assert main([*asked, "--lot", "2000"]) == 0
    assert "step drill 6.6" in capsys.readouterr().out
    assert main(asked) == 0
    assert "its shoulder" not in capsys.readouterr().out
