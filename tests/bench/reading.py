"""Reading a schedule against the bare reader doing nothing but reading, as ratios: `python tests/bench/reading.py`.

The bare reader is python-calamine, laying out the same sheet as lists. Best of several runs in one process.
"""

from __future__ import annotations

import csv
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from openpyxl import Workbook
from python_calamine import CalamineWorkbook

from holesched.schedule.model import ReadOptions
from holesched.schedule.read_workbook import read_schedule

ROWS = (60, 1_000, 10_000, 50_000)
CALLOUTS = ("M6x1-6H ↧12", "M8-6H THRU", "Ø9 THRU ⌴ Ø15 ↧8.6", "Ø8 H7 THRU", "M5-6H ↧10", "Ø6.6 THRU")


def lines(rows: int) -> list[list[object]]:
    """An invented schedule: holes on a grid, six callouts by turns."""
    table: list[list[object]] = [["Units", "mm"], ["TAG", "X", "Y", "CALLOUT", "QTY", "NOTE"]]
    for n in range(rows):
        table.append(
            [f"H{n + 1}", 15.0 + 25 * (n % 100), 15.0 + 25 * (n // 100), CALLOUTS[n % 6], 1, "cover" if n % 9 == 0 else None]
        )
    return table


def best(work: Callable[[], object], runs: int = 5) -> float:
    found = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        found.append(time.perf_counter() - start)
    return min(found)


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        for rows in ROWS:
            workbook, text = Path(folder) / f"{rows}.xlsx", Path(folder) / f"{rows}.csv"
            book = Workbook(write_only=True)
            sheet = book.create_sheet("Holes")
            for line in lines(rows):
                sheet.append(line)
            book.save(workbook)
            with text.open("w", newline="", encoding="utf-8") as file:
                csv.writer(file).writerows(lines(rows))
            bare = best(lambda path=workbook: CalamineWorkbook.from_path(path).get_sheet_by_index(0).to_python())
            ours = best(lambda path=workbook: read_schedule(path, ReadOptions()))
            of_text = best(lambda path=text: read_schedule(path, ReadOptions()))
            print(
                f"{rows:6} rows  xlsx {ours * 1000:7.1f} ms = {ours / bare:.2f} x bare reader  csv {of_text * 1000:7.1f} ms"
            )


if __name__ == "__main__":
    main()
