"""Callouts as drawings of many countries write them, each with the one reading they have: common practice, no source.

`reading` is what is planned, a step after the other: kind, diameter in mm or thread, zone or [limits], angle, depth in mm,
"through", or "-" where it follows from the rest; "drilled" is the depth of the hole under a thread, `D` a wire insert's
length in diameters; the side stands before the kind unless it is the near one. Empty: nothing is planned. `asks` are the
codes of the questions; empty: there is none. The readings were taken down from the program, read through one by one, and the
wrong ones put right in both.
"""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Literal, cast

import pytest

from holesched.callouts.model import Depth
from holesched.features.build import build_callout
from holesched.features.model import Feature, Hole

with (Path(__file__).parent / "drawn_callouts.csv").open(encoding="utf-8", newline="") as _lines:
    ROWS = list(csv.DictReader(_lines))


def figure(mm: float | None) -> str:
    """A length to the micrometre."""
    return "-" if mm is None else f"{mm:.3f}".rstrip("0").rstrip(".")


def deep(depth: Depth) -> str:
    """A depth as the table writes it."""
    if depth.leaving_mm is not None:
        return f"leaving {figure(depth.leaving_mm)}"
    limit = " min" if depth.least else " max" if depth.most else ""
    return "through" if depth.through else f"{figure(depth.mm)}{limit}"


def said(feature: Feature) -> str:
    """A feature as the table writes it."""
    words = [f"{feature.side.value}:{feature.kind.value}".removeprefix("near:")]
    words.append(feature.thread.designation if feature.thread is not None else figure(feature.diameter.mm))
    if feature.tolerance is not None:
        low, high = feature.tolerance.low_mm, feature.tolerance.high_mm
        words.append(feature.tolerance.zone or f"[{figure(low)},{figure(high)}]")
    if feature.angle_deg is not None:
        words.append(f"{feature.angle_deg:g}°")
    words.append(deep(feature.depth))
    if feature.pilot_depth is not None:
        words.append(f"drilled {deep(feature.pilot_depth)}")
    if feature.insert_diameters is not None:
        words.append(f"{feature.insert_diameters:g}D")
    return " ".join(words)


def reading(hole: Hole | None) -> str:
    """What is planned, as the table writes it."""
    if hole is None:
        return ""
    circle = [f"on {figure(hole.circle.diameter_mm)}"] if hole.circle is not None else []
    return "; ".join([*map(said, hole.features), *circle])


@pytest.mark.parametrize("row", ROWS, ids=[f"{row['callout']} {row['thickness']}".strip() for row in ROWS])
def test_a_callout_has_its_reading(row: dict[str, str]) -> None:
    unit = cast(Literal["mm", "in"], row["unit"])
    thickness_mm = float(row["thickness"]) if row["thickness"] else None
    hole, notes, count = build_callout(row["callout"].replace("\\n", "\n"), unit, thickness_mm)
    asks = " ".join(sorted({note.code for note in notes if note.is_question}))
    refused = not reading(hole) or any(note.severity.name == "REFUSED" for note in notes)
    got = {"count": "" if count is None else str(count), "reading": "" if refused else reading(hole), "asks": asks}
    assert got == {name: row[name] for name in got}


def test_no_callout_stands_twice() -> None:
    assert len({(row["callout"], row["unit"], row["thickness"]) for row in ROWS}) == len(ROWS)
