"""Realistic callouts, good, ambiguous and bad: every one ends right or asked, never resolved in silence.

`callouts.csv` holds each with the meaning a person gave it (column `meaning`, keyed apart from the program: common practice,
no source) and what the program makes of it (`status`, `count`, `features`, `asked`), which must not change unnoticed.
"""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import pytest

from holesched.features.build import build_callout, status_of
from holesched.features.model import Feature

with (Path(__file__).parent / "callouts.csv").open(encoding="utf-8", newline="") as _lines:
    ROWS = list(csv.DictReader(_lines))
MM_PER_INCH = 25.4
KINDS = {
    "hole": {"drill", "ream", "bore"},
    "drill": {"drill"},
    "cdrill": {"drill"},
    "ream": {"ream"},
    "bore": {"bore"},
    "tap": {"tap"},
    "cbore": {"counterbore"},
    "csk": {"countersink"},
    "chamfer": {"countersink"},
    "sf": {"spotface"},
}
"""Operations of the meanings, and the kinds of feature that are right for them."""
NOT_PLANNED = {"insert", "center", "slot", "core", "punch"}

every_row = pytest.mark.parametrize("row", ROWS, ids=[repr(row["callout"])[:40] for row in ROWS])


def _plain(feature: Feature) -> dict[str, Any]:
    tolerance = feature.tolerance
    return {
        "kind": feature.kind.value,
        "diameter_mm": feature.diameter.mm,
        "tolerance": None if tolerance is None else tolerance.zone or [tolerance.low_mm, tolerance.high_mm],
        "depth_mm": "through" if feature.depth.through else feature.depth.mm,
        "angle_deg": feature.angle_deg,
        "thread": feature.thread.designation if feature.thread is not None else None,
        "side": feature.side.value,
    }


@every_row
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_right_or_asked(row: dict[str, str], unit: Any) -> None:
    """Whatever the schedule's unit: when nothing is asked, the features are those the meaning lists, and no others."""
    hole, notes, count = build_callout(row["callout"], unit)
    if status_of(hole, notes) != "ok":
        return
    assert row["valid"] != "no", "a bad callout must never give tools in silence"
    assert hole is not None
    meaning = json.loads(row["meaning"])
    scale = MM_PER_INCH if meaning.get("unit") == "in" else 1.0
    left = [_plain(feature) for feature in hole.features]
    for operation in meaning["ops"]:
        if operation["op"] in NOT_PLANNED or (operation["op"] == "drill" and operation.get("d") is None):
            continue
        found = [feature for feature in left if _agrees(feature, operation, scale)]
        assert found, f"{operation} is not among {left}"
        left.remove(found[0])
    assert left == [], "features nobody asked for"
    assert count == meaning.get("qty")


def _agrees(feature: dict[str, Any], operation: dict[str, Any], scale: float) -> bool:
    """Whether a feature is the operation of a meaning, in every value the meaning gives."""
    if feature["kind"] not in KINDS[operation["op"]]:
        return False
    if operation["op"] == "tap":
        thread = operation["thread"]
        return _same_depth(feature, operation, scale) and thread.get("lh", False) == feature["thread"].endswith("-LH")
    if "d" in operation and abs(feature["diameter_mm"] - operation["d"] * scale) > 1e-3:
        return False
    if "fit" in operation and feature["tolerance"] != operation["fit"]:
        return False
    if operation["op"] == "csk" and feature["angle_deg"] != operation["angle"]:
        return False
    return _same_depth(feature, operation, scale) and operation.get("side", "near") == feature["side"]


def _same_depth(feature: dict[str, Any], operation: dict[str, Any], scale: float) -> bool:
    if operation.get("through"):
        return feature["depth_mm"] == "through"
    if "depth" not in operation:
        return True
    return feature["depth_mm"] != "through" and abs(feature["depth_mm"] - operation["depth"] * scale) < 1e-3


@every_row
def test_thread_is_the_one_meant(row: dict[str, str]) -> None:
    """Size, pitch and class of every thread the meaning names, when nothing is asked."""
    hole, notes, _ = build_callout(row["callout"], row["unit"])  # type: ignore[arg-type]
    if status_of(hole, notes) != "ok" or hole is None:
        return
    wanted = [op["thread"] for op in json.loads(row["meaning"])["ops"] if op["op"] == "tap"]
    got = [feature.thread for feature in hole.features if feature.thread is not None]
    assert len(got) == len(wanted)
    for spec, thread in zip(got, wanted, strict=True):
        if "p" in thread:
            assert spec.pitch_mm == pytest.approx(thread["p"])
        if "tpi" in thread:
            assert spec.tpi == thread["tpi"]
        if "cls" in thread:
            assert spec.thread_class == thread["cls"]
        assert spec.left_hand == thread.get("lh", False)


@every_row
def test_reading_is_unchanged(row: dict[str, str]) -> None:
    hole, notes, count = build_callout(row["callout"], row["unit"])  # type: ignore[arg-type]
    assert status_of(hole, notes) == row["status"]
    assert ("" if count is None else str(count)) == row["count"]
    features = [_plain(feature) for feature in hole.features] if hole is not None else []
    assert features == json.loads(row["features"])
    assert " ".join(sorted({note.code for note in notes if note.is_question})) == row["asked"]


def test_good_callouts_are_not_asked_about_needlessly() -> None:
    """Of the valid rows only those are asked that our kinds of feature cannot hold, or that need the part."""
    asked = {row["callout"] for row in ROWS if row["valid"] == "yes" and row["status"] != "ok"}
    assert asked == {
        "12イヌキ",
        "20打ヌキ",
        "Ø9 THRU, C'BORE Ø15 TO LEAVE 12",
        "CHAM 1x45° B/S",
        "CENTRE DRILL A2.5/5.3",
        "ISO 6411-A2,5/5,3",
        "DRILL & REAM AT ASSEMBLY Ø6 H7",
        "SLOT 8 x 20",
    }


def test_the_corpus_is_whole() -> None:
    assert len(ROWS) == 237
