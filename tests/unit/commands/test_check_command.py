"""`holesched check`: the ledger and every question, before anything is planned."""

from __future__ import annotations

import gc
import subprocess
import sys
import time
from pathlib import Path

import pytest
from make_example_inputs import FOLDER

from holesched.check import check_file
from holesched.cli import main
from holesched.errors import CannotRead
from holesched.pipeline import plan_file
from holesched.schedule.model import ReadOptions
from holesched.shop.model import Shop

HEAD = "Material,EN AW-6082,Thickness,20 mm,Units,mm\nTAG,X,Y,CALLOUT,QTY\n"


def written(folder: Path, rows: str, name: str = "plate.csv") -> Path:
    path = folder / name
    path.write_text(HEAD + rows, encoding="utf-8")
    return path


def test_a_clean_schedule(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(written(tmp_path, "A1,10,20,M6-6H ↧12,1\nA2,30,20,Ø6.6 THRU,1\n"))]) == 0
    printed = capsys.readouterr()
    assert "rows      2 read = 2 to plan + 0 in question + 0 set aside" in printed.out
    assert "holes     2 read = 2 to plan + 0 in question" in printed.out
    assert "questions 0" in printed.out
    assert printed.err == ""


def test_a_question_with_its_cell_text_problem_and_suggestion(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(written(tmp_path, "A1,10,20,4X 1/4-20 UNF-2B,4\nA2,30,20,Ø6.6 THRU,1\n"))]) == 3
    lines = capsys.readouterr().out.splitlines()
    start = lines.index("    plate.csv!plate!D3")
    shown = "\n".join(lines[start:])
    assert "text        4X 1/4-20 UNF-2B" in shown
    assert "problem     1/4-20 is UNC" in shown
    assert "suggestion  1/4-20 UNC or 1/4-28 UNF?" in shown
    assert "meanwhile   not planned" in shown
    assert "rows      2 read = 1 to plan + 1 in question + 0 set aside" in "\n".join(lines)


def test_a_material_that_is_missing_is_asked_once(tmp_path: Path) -> None:
    path = tmp_path / "plate.csv"
    path.write_text("Units,mm\nTAG,X,Y,CALLOUT\nA1,10,20,M6-6H\nA2,30,20,Ø6.6 THRU\n", encoding="utf-8")
    checked = check_file(path, ReadOptions())
    assert [note.code for note in checked.notes if note.is_question] == ["MATERIAL-MISSING"]
    assert (checked.ledger.rows.planned, checked.ledger.rows.in_question) == (0, 2)
    checked = check_file(path, ReadOptions(material="EN AW-6082"))
    assert (checked.ledger.rows.planned, checked.ledger.rows.in_question) == (2, 0)


def test_checking_leaves_no_cycles_and_the_search_for_them_as_it_was(tmp_path: Path) -> None:
    """The search is put off meanwhile, since there is nothing for it to find: everything is freed by itself."""
    path = written(tmp_path, "".join(f"A{n},{n * 20},0,M6-6H ↧12,1\nB{n},{n * 20},9,4X 1/4-20 UNF,1\n" for n in range(200)))
    check_file(path, ReadOptions())
    gc.collect()
    check_file(path, ReadOptions())
    assert gc.collect() == 0
    assert gc.isenabled()
    with pytest.raises(CannotRead):
        check_file(tmp_path / "none.csv", ReadOptions())
    assert gc.isenabled()


def test_planning_leaves_no_cycles_either(tmp_path: Path) -> None:
    path = written(tmp_path, "".join(f"A{n},{n * 20},0,M6-6H ↧{10 + n / 10:g},1\n" for n in range(30)))
    options = ReadOptions(material="304", thickness_mm=40)
    plan_file(path, Shop(), options)
    gc.collect()
    plan_file(path, Shop(), options)
    assert gc.collect() == 0
    assert gc.isenabled()


def test_one_bad_file_never_costs_the_others(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    bad = tmp_path / "bad.xlsx"
    bad.write_bytes(b"PK\x03\x04 and no more")
    good = written(tmp_path, "A1,10,20,M6-6H ↧12,1\n")
    assert main(["check", str(bad), str(good)]) == 2
    printed = capsys.readouterr()
    assert "bad.xlsx: the workbook is damaged" in printed.err
    assert "plate.csv\n  rows      1 read = 1 to plan" in printed.out


def test_a_terminal_is_not_driven_by_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = written(tmp_path, "A1,10,20,\x1b[2J\x1b]0;x\x07M6\u202e,1\nA2,30,20,Ø6.6 THRU,1\n")
    assert main(["check", str(path)]) == 3
    out = capsys.readouterr().out
    assert not {"\x1b", "\x07", "\u202e"} & set(out)
    assert "\ufffd[2J" in out


@pytest.mark.parametrize("name", ["manifold_block.xlsx", "bearing_housing.xlsx", "sensor_plate.ods"])
def test_what_is_checked_is_what_is_planned(name: str) -> None:
    """The same rows and holes; planning can only add questions."""
    checked = check_file(FOLDER / name, ReadOptions())
    planned = plan_file(FOLDER / name, Shop(), ReadOptions())
    assert checked.ledger.rows.read == planned.ledger.rows.read
    assert checked.ledger.rows.set_aside == planned.ledger.rows.set_aside
    assert checked.ledger.holes.read == planned.ledger.holes.read
    assert checked.ledger.holes.in_question <= planned.ledger.holes.in_question
    assert set(checked.notes) <= set(planned.notes)


def test_sixty_rows_are_checked_at_once() -> None:
    """With the start of the program; the goal is 0.4 s on an ordinary machine, this bound only catches a blunder."""
    command = [sys.executable, "-m", "holesched", "check", str(FOLDER / "manifold_block.xlsx")]
    start = time.perf_counter()
    run = subprocess.run(command, capture_output=True, text=True, check=False)
    assert time.perf_counter() - start < 3
    assert run.returncode == 0, run.stderr


def test_nothing_heavy_is_loaded() -> None:
    code = (
        "import sys, holesched.cli as cli\n"
        f"cli.main(['check', {str(FOLDER / 'manifold_block.xlsx')!r}])\n"
        "heavy = {'pandas', 'numpy', 'pint', 'openpyxl', 'weasyprint', 'jinja2'} & set(sys.modules)\n"
        "late = [name for name in sys.modules if name.startswith(('holesched.tooling.choose', 'holesched.reports'))]\n"
        "assert not heavy and not late, (heavy, late)"
    )
    subprocess.run([sys.executable, "-c", code], check=True, capture_output=True)


@pytest.mark.parametrize("name", ["...csv", "..csv", ". .csv"])
def test_a_name_of_dots_is_no_way_out_of_the_folder(tmp_path: Path, name: str) -> None:
    path = written(tmp_path, "A1,10,20,M6-6H ↧12,1\nA2,30,20,THREADED HOLE,1\n", name)
    out = tmp_path / "a" / "out"
    assert main(["check", str(path), "--marked", "--out", str(out)]) == 3
    assert main(["sheet", str(path), "--format", "json", "--out", str(out)]) == 3
    assert {entry.name for entry in tmp_path.iterdir()} == {name, "a"}
    assert {entry.name for entry in (tmp_path / "a").iterdir()} == {"out"}


def test_files_of_one_name_do_not_overwrite_each_other(tmp_path: Path) -> None:
    """Also where the file system takes large and small letters for the same."""
    paths = []
    for folder, name in (("a", "plate.csv"), ("b", "Plate.csv"), ("c", "plate.tsv")):
        (tmp_path / folder).mkdir()
        paths.append(str(written(tmp_path / folder, "A1,10,20,M6-6H ↧12,1\n", name)))
    assert main(["sheet", *paths, "--format", "json", "--out", str(tmp_path / "out")]) == 0
    names = sorted(entry.name for entry in (tmp_path / "out").iterdir())
    assert names == ["Plate_csv_", "plate_csv", "plate_tsv"]


@pytest.mark.parametrize("title", ["Units,cm", "Note,none"])
def test_a_question_about_the_unit_holds_every_hole(tmp_path: Path, title: str) -> None:
    path = tmp_path / "plate.csv"
    path.write_text(
        f"{title}\nMaterial,EN AW-6082\nTAG,CALLOUT,QTY\nA,M6-6H ↧12,4\nB,1/4-20 UNC-2B ↧12,2\n", encoding="utf-8"
    )
    ledger = check_file(path, ReadOptions()).ledger
    assert (ledger.holes.planned, ledger.holes.in_question) == (0, 6)
    assert check_file(path, ReadOptions(unit="mm")).ledger.holes.planned == 6


def test_one_text_in_many_rows_is_asked_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows = "".join(f"A{number},{number}0,20,M8 ↧12 ↧20,1\n" for number in range(1, 13))
    assert main(["check", str(written(tmp_path, rows))]) == 3
    printed = capsys.readouterr().out
    assert "questions 1\n    plate.csv!plate!D3, D4, D5, D6, D7, D8 and 6 more\n" in printed
    assert "holes     12 read = 0 to plan + 12 in question" in printed
