"""More callouts that a schedule may hold, keyed by hand apart from the program: common practice, no source.

`status`: "ok" must be read without a question, "asked" must not, "either" may be asked but is never read as anything else.
`features` in the order written: kind (hole: whatever process), diameter in mm or thread, zone or [limits], angle, depth in
mm, "through" or "-" where it stays open; the side before the kind unless it is the near one. `why` says what is tried.
"""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Literal, cast

import pytest

from holesched.features.build import build_callout, status_of
from holesched.features.model import Feature

with (Path(__file__).parent / "callouts.csv").open(encoding="utf-8", newline="") as _lines:
    ROWS = list(csv.DictReader(_lines))
HOLES = ("drill", "ream", "bore")


def _figure(mm: float | None) -> str:
    return "?" if mm is None else f"{mm:.5f}".rstrip("0").rstrip(".")


def said(feature: Feature) -> str:
    """A feature as the table writes it."""
    side = "" if feature.side.value == "near" else f"{feature.side.value}:"
    size = feature.thread.designation if feature.thread is not None else _figure(feature.diameter.mm)
    tolerance = ""
    if feature.tolerance is not None and feature.tolerance.zone is not None:
        tolerance = f" {feature.tolerance.zone}"
    elif feature.tolerance is not None:
        low, high = feature.tolerance.low_mm, feature.tolerance.high_mm
        tolerance = f" [{_figure(low)},{_figure(high)}]"
    angle = f" {feature.angle_deg:g}°" if feature.angle_deg is not None else ""
    depth = "through" if feature.depth.through else "-" if feature.depth.mm is None else _figure(feature.depth.mm)
    return f"{side}{feature.kind.value} {size}{tolerance}{angle} {depth}"


def same(got: str, wanted: str) -> bool:
    """Equal, a hole of any process for "hole"."""
    if "hole " in wanted:
        return any(same(got, wanted.replace("hole ", f"{kind} ")) for kind in HOLES)
    return got == wanted


@pytest.mark.parametrize("row", ROWS, ids=[repr(row["callout"])[:40] for row in ROWS])
def test_right_or_asked(row: dict[str, str]) -> None:
    text = row["callout"].replace("\\n", "\n").replace("\\t", "\t")
    hole, notes, count = build_callout(text, cast(Literal["mm", "in"], row["unit"]))
    status = status_of(hole, notes)
    codes = [note.code for note in notes if note.is_question]
    assert status == "ok" or codes, "neither a hole nor a question"
    if row["status"] == "asked":
        assert status != "ok", [said(feature) for feature in hole.features] if hole else None
        return
    if row["status"] == "ok":
        assert status == "ok", codes
    if status != "ok":
        return
    assert hole is not None
    got = [said(feature) for feature in hole.features]
    wanted = [text for text in row["features"].split("; ") if text]
    assert len(got) == len(wanted), got
    assert all(same(one, other) for one, other in zip(got, wanted, strict=True)), got
    assert count == int(row["count"])


def test_the_corpus_is_large_enough() -> None:
    """With the 237 of the callouts' own tests there are more than 250; none stands twice."""
    assert len(ROWS) >= 180
    assert len({(row["callout"], row["unit"]) for row in ROWS}) == len(ROWS)
    assert {row["status"] for row in ROWS} == {"ok", "asked", "either"}
