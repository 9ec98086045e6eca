"""DIN 76-1: thread run-out of blind tapped holes, normal series.

Keyed beside the tests from the transcription that the column `source` names; the standard itself was not seen.
"""

from __future__ import annotations

import csv
from pathlib import Path

from holesched.tables import table

HERE = Path(__file__).resolve().parent


def test_every_pitch_of_the_table() -> None:
    with (HERE / "din76_runout.csv").open(encoding="utf-8", newline="") as file:
        printed = [(row["pitch_mm"], row["e1_mm (blind-hole thread run-out allowance)"]) for row in csv.DictReader(file)]
    ours = [(row["pitch_mm"], row["e1_mm"]) for row in table("din76_runout.csv").rows]
    assert ours == printed
    assert len(ours) == 24
    assert round(sum(float(e1) for _, e1 in ours), 1) == 207.9
