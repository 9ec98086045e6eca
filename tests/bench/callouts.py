"""What a callout costs: `python tests/bench/callouts.py`. The target is 50,000 unlike callouts a second on one core.

Unlike callouts of several spellings are read with nothing remembered, each timed by itself, the least of several runs; then
the callouts of the corpora, which are the odd ones; then the same texts again; then 10,000 unlike rows as holes.
"""

from __future__ import annotations

import csv
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Literal, cast

from holesched.callouts import tokens, words
from holesched.callouts.parse import LONGEST, read_callout
from holesched.features.build import build_holes
from holesched.notes import CellRef
from holesched.schedule.model import JobHeader, Schedule, ScheduleRow

Unit = Literal["mm", "in"]
Text = tuple[str, Unit]
RUNS = 9
TESTS = Path(__file__).parents[1]
SIZES = (5, 6, 8, 10, 12)
SPELLINGS = (
    "M{n}-6H ↧{d}",
    "{c}X M8x1.25-6H ↧{d}",
    "Ø{n} H7 ↧{d}",
    "Ø{n} ±0.2 ↧{d}",
    "{c}X Ø{n}.{c} ↧{d}",
    "Ø{n} THRU ⌴ Ø{w} ↧{d}",
    "Ø{n} ↧{d}\nCSK Ø{w}.{c} x 90°",
    "{c}X #10-32 UNF-2B ↧.{e}",
    "DRILL 4.{c} x {d} DEEP, TAP M5 ↧8.{c}",
)
"""{n} a size, {w} a wider one, {c} a small number; {d} and {e} a depth that no other text has."""
PIECES = ("A-", "THRU-", "A ", "M8-", "Ø1 ", "(")
"""What a text that is no callout may be made of."""


def unlike(spelling: str, count: int) -> list[Text]:
    """Texts of one spelling, no two alike."""
    texts: list[Text] = []
    for i in range(count):
        size = SIZES[i % len(SIZES)]
        text = spelling.format(n=size, w=size + 6, c=2 + i % 8, d=f"{10 + i % 40}.{i + 1000}", e=i + 1000)
        texts.append((text, "mm"))
    assert len(set(texts)) == count
    return texts


def corpus() -> list[Text]:
    """The odd ones."""
    found: list[Text] = []
    for path in (TESTS / "unit" / "callouts" / "callouts.csv", TESTS / "corpus" / "callouts.csv"):
        with path.open(encoding="utf-8", newline="") as lines:
            found += [(row["callout"], cast(Unit, row["unit"])) for row in csv.DictReader(lines)]
    return found


def microseconds(texts: Sequence[Text]) -> float:
    """A text's reading, nothing of the whole text remembered; words and designations are, as within a schedule."""
    best = [float("inf")] * len(texts)
    for _ in range(RUNS):
        read_callout.cache_clear()
        for place, (text, unit) in enumerate(texts):
            start = time.perf_counter()
            read_callout(text, unit)
            best[place] = min(best[place], time.perf_counter() - start)
    return sum(best) / len(best) * 1e6


def growth(piece: str) -> float:
    """How much longer a text of twice the length takes that is a piece over and over, nothing remembered; linear: 2."""
    spent = []
    for length in (LONGEST // 2, LONGEST):
        text = (piece * length)[:length]
        runs = []
        for _ in range(RUNS):
            for remembered in (read_callout, words._first_of, tokens._designation):
                remembered.cache_clear()
            start = time.perf_counter()
            read_callout(text, "mm")
            runs.append(time.perf_counter() - start)
        spent.append(min(runs))
    return spent[1] / spent[0]


def main() -> None:
    costs = []
    for spelling in SPELLINGS:
        texts = unlike(spelling, 300)
        costs.append(microseconds(texts))
        print(f"{costs[-1]:7.1f} us  {1e6 / costs[-1]:9,.0f}/s  {texts[0][0]!r}")
    mean = sum(costs) / len(costs)
    print(f"{mean:7.1f} us  {1e6 / mean:9,.0f}/s  all of these")
    odd = microseconds(corpus())
    print(f"{odd:7.1f} us  {1e6 / odd:9,.0f}/s  the corpora: odd, damaged, in many languages, half of them asked about")
    print(
        "   " + ", ".join(f"{growth(piece):.1f} {piece!r}" for piece in PIECES) + ": times as long for a text twice as long"
    )
    texts = [text for spelling in SPELLINGS for text in unlike(spelling, 300)]
    for text, unit in texts:
        read_callout(text, unit)
    start = time.perf_counter()
    for text, unit in texts:
        read_callout(text, unit)
    again = (time.perf_counter() - start) / len(texts) * 1e6
    print(f"{again:7.2f} us  {1e6 / again:9,.0f}/s  read before")
    rows = tuple(
        ScheduleRow(CellRef("job.xlsx", "H", n, 3), f"A{n}", text, unit, None, 40.0 * (n % 100), 40.0 * (n // 100))
        for n, (text, unit) in enumerate((text for spelling in SPELLINGS for text in unlike(spelling, 1112)), start=2)
    )[:10_000]
    schedule = Schedule("job.xlsx", "H", "0", JobHeader(material="C45", thickness_mm=60.0), rows, (), len(rows))
    read_callout.cache_clear()
    start = time.process_time()
    build_holes(schedule, ())
    print(f"{time.process_time() - start:7.2f} s  {len(rows)} unlike rows as holes; the target is well under 2 s")


if __name__ == "__main__":
    main()
