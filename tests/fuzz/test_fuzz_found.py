"""What the fuzzers have found, run as plain tests; and a short run of each wherever atheris is built for the machine."""

from __future__ import annotations

import os
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path
from typing import cast

import pytest

from holesched.check import check_file
from holesched.errors import HoleschedError
from holesched.features.build import build_callout, status_of
from holesched.schedule.model import ReadOptions
from holesched.units import LengthUnit

HERE = Path(__file__).parent
RUNS = {"fuzz_callouts.py": 5000, "fuzz_reader.py": 1200}
"""From one seed and for a counted number of inputs, so that a run can be repeated."""
FILES = (b"3\nTAG,,Y,CALLOUT\nPos,,,Bohrung", b",,CALLOUT,,Dicke,2\nE")
CALLOUTS = (("Tr2x0x4-7H", "mm"), ("1/4-20 UNC-2BG", "in"), ("Ã面取THRU", "mm"))


@pytest.mark.parametrize("data", FILES, ids=range(len(FILES)))
def test_found_files(tmp_path: Path, data: bytes) -> None:
    """A sentence, or a ledger that adds up (else an AssertionError)."""
    path = tmp_path / "found.csv"
    path.write_bytes(data)
    try:
        check_file(path, ReadOptions())
    except HoleschedError as problem:
        assert str(problem)  # noqa: PT017 - any other error is the finding


@pytest.mark.parametrize(("text", "unit"), CALLOUTS)
def test_found_callouts(text: str, unit: str) -> None:
    hole, notes, _ = build_callout(text, cast(LengthUnit, unit))
    assert status_of(hole, notes) == "ok" or any(note.is_question for note in notes)


@pytest.mark.skipif(find_spec("atheris") is None, reason="atheris has no build for this machine")
@pytest.mark.parametrize("target", RUNS)
def test_a_short_run(tmp_path: Path, target: str) -> None:
    command = [sys.executable, str(HERE / target), f"-runs={RUNS[target]}", "-max_total_time=30", "-seed=1"]
    environment = {**os.environ, "PYTHONHASHSEED": "0"}
    run = subprocess.run(command, cwd=tmp_path, env=environment, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr[-2000:]
