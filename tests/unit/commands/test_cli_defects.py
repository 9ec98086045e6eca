"""No traceback reaches a user."""

from __future__ import annotations

import pytest

from holesched import cli


def test_a_defect_of_the_program_is_told_in_one_line(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(options: object) -> int:
        raise KeyError("M8")

    monkeypatch.setattr(cli, "_shop_sample", broken)
    assert cli.main(["shop-sample"]) == 2
    told = capsys.readouterr().err
    assert told.startswith("holesched: a defect of the program, not of your file (KeyError in test_cli_defects.py, line")
    assert "Traceback" not in told
    assert len(told.splitlines()) == 1
