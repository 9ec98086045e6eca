"""Whole runs against the bare libraries doing the same work, as ratios within one run: `python tests/bench/whole_run.py`.

Each measurement is a fresh process; its CPU time (user + system) and peak memory are read when it ends. Ratios are what
counts; seconds depend on the machine.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from openpyxl import Workbook

ROWS = (60, 1_000, 10_000)
CALLOUTS = (
    "M6x1-6H ↧12", "M8-6H THRU", "Ø9 THRU ⌴ Ø15 ↧8.6", "Ø8 H7 THRU", "M5-6H ↧10", "Ø6.6 THRU", "M10x1.25-6H ↧20",
    "Ø5 ↧12", "M4-6H ↧8", "Ø6 H7 ↧14", "M12-6H THRU", "Ø11 THRU",
)  # fmt: skip


BARE = "import weasyprint; weasyprint.HTML(r'{page}').write_pdf(r'{folder}/bare.pdf')"
OURS = """
from datetime import date
from pathlib import Path
from holesched.reports.base import RunStamp
from holesched.reports.pdf import to_pdf
html = Path(r'{page}').read_text(encoding='utf-8')
Path(r'{folder}/ours.pdf').write_bytes(to_pdf(html, RunStamp(date(2000, 1, 1), 'bench')))
"""


@dataclass(frozen=True)
class Cost:
    cpu_s: float
    peak_mb: float


def schedule(path: Path, rows: int) -> None:
    """An invented schedule: holes on a grid, a dozen callouts by turns."""
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    for line in (["Part number", "BENCH-1"], ["Material", "EN AW-6082"], ["Thickness", "30 mm"], ["Units", "mm"], []):
        sheet.append(line)
    sheet.append(["Tag", "X", "Y", "Callout"])
    for number in range(rows):
        place = (15 + 25 * (number % 100), 15 + 25 * (number // 100))
        sheet.append([f"H{number + 1}", *place, CALLOUTS[number % len(CALLOUTS)]])
    book.save(path)


def cost(*command: str, best_of: int = 3) -> Cost:
    """CPU seconds and peak memory of the cheapest of several runs."""
    found = []
    for _ in range(best_of):
        process = subprocess.Popen(command, stdout=subprocess.DEVNULL)
        _, status, usage = os.wait4(process.pid, 0)
        if os.waitstatus_to_exitcode(status) not in (0, 3):
            raise SystemExit(f"failed: {' '.join(command)}")
        found.append(Cost(usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024))
    return min(found, key=lambda one: one.cpu_s)


def main() -> None:
    python = sys.executable
    print(f"--help  {cost(python, '-m', 'holesched', '--help').cpu_s * 1000:.0f} ms CPU")
    with tempfile.TemporaryDirectory() as folder:
        for rows in ROWS:
            book = Path(folder) / f"rows{rows}.xlsx"
            schedule(book, rows)
            sheet = [python, "-m", "holesched", "sheet", str(book), "--out", folder]
            calamine = f"import python_calamine as c; c.load_workbook(r'{book}').get_sheet_by_index(0).to_python()"
            reader = cost(python, "-c", calamine)
            pandas = cost(python, "-W", "ignore", "-c", f"import pandas; pandas.read_excel(r'{book}', header=None)")
            html = cost(*sheet, "--format", "html,json", best_of=2)
            page = Path(folder) / book.stem / "process_sheet.html"
            print(
                f"{rows:>6} rows  html+json {html.cpu_s:.2f} s, {html.peak_mb:.0f} MB"
                f" | {html.cpu_s / reader.cpu_s:.1f}x bare reader | {html.cpu_s / pandas.cpu_s:.2f}x pandas import and read"
            )
            if rows <= 1_000:
                bare = cost(python, "-c", BARE.format(page=page, folder=folder))
                ours = cost(python, "-c", OURS.format(page=page, folder=folder))
                whole = cost(*sheet, best_of=2)
                ratio = f"{ours.cpu_s / bare.cpu_s:.2f}x bare WeasyPrint on the same HTML"
                print(
                    f"{rows:>6} rows  process sheet to PDF {ours.cpu_s:.2f} s | {ratio} | all documents {whole.cpu_s:.2f} s"
                )


if __name__ == "__main__":
    main()
