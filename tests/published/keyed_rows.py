"""Reads the keyed tables beside these tests: comment lines, a header row, data rows."""

from __future__ import annotations

import csv
from pathlib import Path

HERE = Path(__file__).resolve().parent


def keyed_rows(name: str) -> list[dict[str, str]]:
    """The rows of a csv in this folder, column -> printed text. Fails when there are none."""
    lines = [line for line in (HERE / name).read_text(encoding="utf-8").splitlines() if not line.startswith("# ")]
    rows = list(csv.DictReader(lines))
    assert rows, f"{name} holds no rows"
    return rows
