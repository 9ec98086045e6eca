"""What the command line says, and what the README says of it."""

from __future__ import annotations

import json
import re
from argparse import _SubParsersAction
from pathlib import Path

import pytest

from holesched.cli import main
from holesched.options import parser

README = (Path(__file__).parents[3] / "README.md").read_text(encoding="utf-8")
INCH = "Material,6061-T6\nUnits,inch\n\nTAG,CALLOUT,QTY\nA,Ø.257 THRU,2\n"


def _commands() -> dict[str, list[str]]:
    (group,) = [action for action in parser()._actions if isinstance(action, _SubParsersAction)]
    return {
        name: [option for action in command._actions for option in action.option_strings if option.startswith("--")]
        for name, command in group.choices.items()
    }


@pytest.mark.parametrize("command", sorted(_commands()))
def test_the_readme_names_every_command_and_option(command: str) -> None:
    assert re.search(rf"holesched {command}\b", README)
    assert [option for option in _commands()[command] if option != "--help" and option not in README] == []


@pytest.mark.parametrize(("given", "mm"), [("1.5", 38.1), ("30 mm", 30.0), ('1 1/4"', 31.75)])
def test_a_plain_thickness_is_in_the_drawings_unit(tmp_path: Path, given: str, mm: float) -> None:
    (tmp_path / "job.csv").write_text(INCH, encoding="utf-8")
    arguments = ["sheet", str(tmp_path / "job.csv"), "--thickness", given, "--format", "json", "--out", str(tmp_path)]
    assert main(arguments) == 0
    sheet = json.loads((tmp_path / "job" / "sheet.json").read_text(encoding="utf-8"))
    assert sheet["job"]["thickness_mm"] == mm


def test_columns_name_what_no_header_word_names(tmp_path: Path) -> None:
    (tmp_path / "job.csv").write_text(INCH.replace("CALLOUT,QTY", "Zorp,Blip"), encoding="utf-8")
    arguments = ["check", str(tmp_path / "job.csv"), "--columns", "Zorp=callout, Blip=quantity"]
    assert main(arguments) == 0


@pytest.mark.parametrize(
    "wrong",
    [
        ["sheet", "x.csv", "--thickness", "thick"],
        ["sheet", "x.csv", "--columns", "Zorp"],
        ["sheet", "x.csv", "--format", "docx"],
        ["takeoff", "x.csv", "--lot", "0"],
        ["explain"],
    ],
)
def test_a_wrong_word_is_status_2_and_one_line(wrong: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(wrong) == 2
    assert len(capsys.readouterr().err.strip().splitlines()) == 1


def test_the_readme_shows_what_the_first_command_prints(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = Path(__file__).parents[3] / "example_inputs" / "manifold_block.xlsx"
    assert main(["sheet", str(job), "--format", "json", "--out", str(tmp_path)]) == 3
    printed = capsys.readouterr().out.splitlines()[:7]
    assert "\n".join(f"    {line}" for line in printed) in README
