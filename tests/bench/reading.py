"""Reading and checking schedules against bare readers doing nothing but reading: `python tests/bench/reading.py`.

Two bare readers read the same file. python-calamine lays out a sheet's values as lists and tells nothing else of a cell.
openpyxl (read-only) gives each cell's value with its type and number format. The second does the work that reading a
schedule needs: a size that became a date, an Ø that only the number format shows and a formula without a value are told from
type and format (hidden rows, struck and raised text, which we read too, it leaves out). Both ratios are printed.

CPU time, best of several runs; memory of a process. Ratios are what counts; seconds depend on the machine.
"""

from __future__ import annotations

import csv
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from openpyxl import Workbook, load_workbook
from python_calamine import CalamineWorkbook

from holesched.callouts.parse import read_callout
from holesched.check import check_file
from holesched.features.build import build_callout
from holesched.schedule.model import ReadOptions
from holesched.schedule.read_workbook import read_schedule
from holesched.units import LengthUnit

ROWS = (60, 1_000, 10_000, 50_000)
CALLOUTS = ("M6x1-6H ↧12", "M8-6H THRU", "Ø9 THRU ⌴ Ø15 ↧8.6", "Ø8 H7 THRU", "M5-6H ↧10", "Ø6.6 THRU")
SHAPES = (
    "M{a}-6H ↧{b}",
    "Ø{b} THRU ⌴ Ø{c} ↧{a}",
    "{n}X Ø{b} H7 ↧{c}",
    "DRILL {b} x {c} DEEP",
    "Ø{b} +0.1/-0.{n} THRU",
    "Ø{b} ↧{c} FAR SIDE",
)
SIZES = (3, 4, 5, 6, 8, 10, 12)
UNLIKE = 50_000


def lines(rows: int) -> list[list[object]]:
    """An invented schedule: holes on a grid, six callouts by turns."""
    table: list[list[object]] = [
        ["Material", "EN AW-6082", "Thickness", "30 mm"],
        ["Units", "mm"],
        ["TAG", "X", "Y", "CALLOUT", "QTY", "NOTE"],
    ]
    for n in range(rows):
        table.append(
            [f"H{n + 1}", 15.0 + 25 * (n % 100), 15.0 + 25 * (n // 100), CALLOUTS[n % 6], 1, "cover" if n % 9 == 0 else None]
        )
    return table


def unlike_callouts() -> Iterator[str]:
    """As many callouts as are asked for, no two alike."""
    for n in range(UNLIKE):
        shape = SHAPES[n % len(SHAPES)]
        part = n // len(SHAPES)
        yield shape.format(
            n=2 + part % 8, a=(3, 4, 5, 6, 8, 10, 12)[part % 7], b=f"{6 + part * 0.001:.3f}", c=20 + part // 7
        )


def values_types_and_formats(path: Path) -> int:
    """Every cell's value, type and number format, by openpyxl; how many cells there are."""
    cells = 0
    for row in load_workbook(path, read_only=True).worksheets[0].iter_rows():
        for cell in row:
            _ = cell.value, cell.data_type, cell.number_format
            cells += 1
    return cells


def best(work: Callable[[], object], runs: int = 5) -> float:
    found = []
    for _ in range(runs):
        start = time.process_time()
        work()
        found.append(time.process_time() - start)
    return min(found)


def of_a_process(*arguments: str, runs: int = 5) -> tuple[float, float]:
    """CPU seconds (user + system, start included) and peak memory in MB of the cheapest of several runs."""
    found = []
    for _ in range(runs):
        process = subprocess.Popen([sys.executable, *arguments], stdout=subprocess.DEVNULL)
        _, status, usage = os.wait4(process.pid, 0)
        if os.waitstatus_to_exitcode(status) not in (0, 3):
            raise SystemExit(f"failed: {' '.join(arguments)}")
        found.append((usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024))
    return min(found)


def schedules(folder: Path) -> None:
    """Reading alone, and reading with parsing and the ledger, against the bare readers."""
    for rows in ROWS:
        workbook, text = folder / f"{rows}.xlsx", folder / f"{rows}.csv"
        book = Workbook(write_only=True)
        sheet = book.create_sheet("Holes")
        for line in lines(rows):
            sheet.append(line)
        book.save(workbook)
        with text.open("w", newline="", encoding="utf-8") as file:
            csv.writer(file).writerows(lines(rows))
        values = best(lambda path=workbook: CalamineWorkbook.from_path(path).get_sheet_by_index(0).to_python())
        formats = best(lambda path=workbook: values_types_and_formats(path), runs=3)
        ours = best(lambda path=workbook: read_schedule(path, ReadOptions()))
        of_text = best(lambda path=text: read_schedule(path, ReadOptions()))
        checked = best(lambda path=workbook: check_file(path, ReadOptions()))
        cpu, memory = of_a_process("-m", "holesched", "check", str(workbook), runs=3)
        print(
            f"{rows:6} rows  xlsx read {against(ours, formats, values)}"
            f" | with parsing and ledger {against(checked, formats, values)} | csv read {of_text * 1000:.1f} ms"
            f" | holesched check {cpu:.2f} s CPU, {memory:.0f} MB"
        )


def against(ours: float, formats: float, values: float) -> str:
    """Milliseconds, and the ratios to both bare readers."""
    ratios = f"{ours / formats:.2f} x openpyxl (values, types, formats), {ours / values:.2f} x calamine (values)"
    return f"{ours * 1000:.1f} ms = {ratios}"


def callouts() -> None:
    """Callouts a second: all unlike, none of them remembered, and repeated."""
    texts = list(unlike_callouts())
    assert len(set(texts)) == UNLIKE
    refused = sum(read_callout(text, "mm").callout is None for text in texts[:600])
    unlike = best(lambda: each_once(texts, read_callout))
    whole = best(lambda: each_once(texts[:5_000], build_callout))
    few = texts[:500] * 100
    repeated = best(lambda: [read_callout(text, "mm") for text in few])
    found = {text: read_callout(text, "mm") for text in texts[:500]}
    looked_up = best(lambda: [found[text] for text in few])
    print(
        f"{UNLIKE} unlike callouts ({refused} of the first 600 refused): {UNLIKE / unlike:,.0f} a second read,"
        f" {5_000 / whole:,.0f} a second read, completed and checked"
        f" | repeated {len(few) / repeated:,.0f} a second = {repeated / looked_up:.1f} x a dictionary look-up"
    )


def each_once(texts: Sequence[str], work: Callable[[str, LengthUnit], object]) -> None:
    """Every text, with nothing remembered of texts read before."""
    read_callout.cache_clear()
    for text in texts:
        work(text, "mm")


def main() -> None:
    callouts()
    with tempfile.TemporaryDirectory() as folder:
        schedules(Path(folder))


if __name__ == "__main__":
    main()
