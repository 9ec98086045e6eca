"""The built wheel holds everything it needs: unpacked away from the checkout, it writes a sheet."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent


def test_a_wheel_away_from_the_checkout_writes_a_sheet(tmp_path: Path) -> None:
    build = [sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--no-build-isolation", "--no-index"]
    subprocess.run([*build, "--wheel-dir", str(tmp_path), str(ROOT)], check=True, capture_output=True)
    (wheel,) = tmp_path.glob("holesched-*.whl")
    unpacked = tmp_path / "unpacked"
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(unpacked)
    environment = {**os.environ, "PYTHONPATH": str(unpacked)}
    schedule = ROOT / "example_inputs" / "manifold_block.xlsx"
    command = [sys.executable, "-m", "holesched", "sheet", str(schedule), "--out", "out", "--format", "html,json"]
    run = subprocess.run(command, cwd=tmp_path, env=environment, capture_output=True, text=True, check=False)
    assert run.returncode == 3, run.stdout + run.stderr
    assert (tmp_path / "out" / "manifold_block" / "process_sheet.html").stat().st_size > 10_000
    where = subprocess.run(
        [sys.executable, "-c", "import holesched; print(holesched.__file__)"],
        cwd=tmp_path, env=environment, capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert str(unpacked) in where.stdout
