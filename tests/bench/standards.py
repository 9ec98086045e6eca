"""What a thread costs, and an import: `python tests/bench/standards.py`.

Every thread of every table is recognised, completed and resolved, once with nothing remembered and once again; the least of
several runs counts for each. The floor is one match of a bare pattern on the same text. Imports run in fresh processes, over
a bare start of Python. The first thread of a family after a thousand of another waits for the processor's memory: those over
the target are named, with what they take when their family was at work just before.
"""

from __future__ import annotations

import re
import subprocess
import sys
import time
from collections.abc import Iterator
from statistics import median

from holesched.standards import iso261, threads, unified_series
from holesched.standards.threads import acme, ba, iso_7, iso_228, npt, trapezoidal, whitworth

RUNS = 7
TARGET_US = 50
IMPORTS = ("holesched.standards", "holesched.standards.threads")
FLOOR = re.compile(r"(\S+?)[x -]([\d.]+)")


def written() -> Iterator[str]:
    """Every thread of the tables, as a drawing writes it."""
    for size in iso261.sizes().values():
        yield from (f"M{size.diameter_mm:g}x{pitch:g}" for pitch in size.pitches_mm)
    for inch in unified_series.sizes().values():
        yield from (f"{inch.name}-{tpi:g} {series}-2B" for tpi, series in inch.series.items())
    yield from (f"{size} NPT" for size in npt.rows())
    yield from (f"G {size}" for size in iso_228.rows())
    yield from (f"{series} {size}" for size in iso_7.rows() for series in ("Rc", "Rp"))
    yield from (f"Tr{diameter:g}x{pitch[0]:g}" for diameter, pitch in trapezoidal.pitches().items())
    yield from (f"{size}-{tpi:g} ACME-2G" for size, tpi in acme.sizes().items())
    yield from (f"{size}-{tpi:g} {series}" for (series, size), tpi in whitworth.sizes().items())
    yield from (f"{number}BA" for number in ba.rows())
    yield from (f"M{size.diameter_mm:g} STI" for size in iso261.sizes().values() if size.coarse_mm)


def resolve(text: str) -> None:
    found = threads.recognise(text, 0, "mm")
    spec = threads.complete(found[0]).spec if found is not None else None
    if spec is not None:
        threads.geometry(spec)


def microseconds(texts: list[str], forget: bool) -> list[float]:
    """The least time of each text."""
    least = [float("inf")] * len(texts)
    for _ in range(RUNS):
        for place, text in enumerate(texts):
            if forget:
                threads.complete.cache_clear()
                threads.geometry.cache_clear()
            start = time.perf_counter()
            resolve(text)
            least[place] = min(least[place], time.perf_counter() - start)
    return [1e6 * seconds for seconds in least]


def import_ms(statement: str) -> float:
    best = float("inf")
    for _ in range(RUNS):
        start = time.perf_counter()
        subprocess.run([sys.executable, "-c", statement], check=True)
        best = min(best, time.perf_counter() - start)
    return 1000 * best


def main() -> None:
    bare = import_ms("pass")
    for module in IMPORTS:
        print(f"import {module:30} {import_ms(f'import {module}') - bare:5.1f} ms over a bare start of {bare:.0f} ms")
    texts = list(written())
    for text in texts:
        resolve(text)
    start = time.perf_counter()
    for text in texts:
        FLOOR.match(text)
    floor_us = 1e6 * (time.perf_counter() - start) / len(texts)
    for name, forget in (("first time", True), ("again", False)):
        times = microseconds(texts, forget)
        under = sum(one < TARGET_US for one in times)
        ratio = median(times) / floor_us
        print(f"{name:11} {len(texts)} threads: median {median(times):5.1f} us ({ratio:.0f} x a bare match), ", end="")
        print(
            f"{under / len(times):.1%} under {TARGET_US} us, slowest {max(times):.0f} us ({texts[times.index(max(times))]})"
        )
        for text, time_us in zip(texts, times, strict=True):
            if time_us >= TARGET_US:
                print(f"  {text}: {time_us:.0f} us, twice in turn {microseconds([text, text], forget)[1]:.0f} us")


if __name__ == "__main__":
    main()
