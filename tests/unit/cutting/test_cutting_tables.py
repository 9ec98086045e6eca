"""The cutting tables: every sub-group has its rows, every row is sane, every named row is used."""

from __future__ import annotations

from itertools import permutations
from pathlib import Path

import pytest
from cutting_samples import drill, tap

from holesched.cutting.lookup import between, hardness_factor, life_holes, material_factor_kd, subgroup_data
from holesched.cutting.speeds import drill_feed_mm_per_rev, drill_speeds, hss_feed_mm_per_rev, tap_speeds
from holesched.notes import Standing
from holesched.standards.materials import Material, all_materials
from holesched.tables import table

SUBGROUPS = sorted({material.subgroup for material in all_materials()})
PACKAGE = Path(__file__).resolve().parents[3] / "holesched" / "cutting"
TABLES = [
    "cutting_drill_speeds.csv",
    "cutting_tap_speeds.csv",
    "cutting_feed_factors.csv",
    "cutting_tool_life.csv",
    "cutting_subgroups.csv",
]


@pytest.mark.parametrize("name", TABLES)
def test_every_subgroup_has_its_row_and_no_row_lacks_a_subgroup(name: str) -> None:
    assert sorted({row["subgroup"] for row in table(name).rows}) == SUBGROUPS


@pytest.mark.parametrize("name", ["cutting_drill_speeds.csv", "cutting_tap_speeds.csv"])
def test_speeds_rise_and_every_row_has_its_source(name: str) -> None:
    rows = table(name).rows
    assert len({(row["subgroup"], row["tool"]) for row in rows}) == len(rows)
    for row in rows:
        assert 0 < float(row["low"]) < float(row["high"]), row
        assert Standing(row["standing"])
        assert row["source"], row


def test_better_tools_are_never_slower() -> None:
    """HSS, cobalt HSS, carbide; plain and coated taps. Common practice, no source."""
    for subgroup in SUBGROUPS:
        rows = {
            row["tool"]: float(row["high"]) for row in table("cutting_drill_speeds.csv").rows if row["subgroup"] == subgroup
        }
        highs = [rows[tool] for tool in ("HSS", "HSS-Co", "carbide") if tool in rows]
        assert highs == sorted(highs), subgroup
        rows = {
            row["tool"]: float(row["high"]) for row in table("cutting_tap_speeds.csv").rows if row["subgroup"] == subgroup
        }
        highs = [rows[tool] for tool in ("plain", "coated", "thread mill") if tool in rows]
        assert highs == sorted(highs), subgroup


def test_forming_is_given_only_to_ductile_materials() -> None:
    """Never in grey iron, free-cutting brass, silicon-rich or brittle alloys, hardened steel. Common practice, no source."""
    forming = {row["subgroup"] for row in table("cutting_tap_speeds.csv").rows if row["tool"] == "forming"}
    assert not forming & {"K1", "K2", "K3", "N3", "N4", "N7", "N10", "H1", "H2", "S3"}
    assert {subgroup for subgroup in SUBGROUPS if life_holes(subgroup, "forming")} == forming


@pytest.mark.parametrize("material", all_materials(), ids=lambda material: material.key)
def test_every_material_has_every_figure(material: Material) -> None:
    for tool in (drill(8, "HSS"), drill(8, "HSS-Co"), drill(8, "carbide")):
        speeds = drill_speeds(tool, material.subgroup)
        assert 0 < speeds.low <= speeds.start <= speeds.high
    for one in (tap(), tap(treatment="bright"), tap(material="carbide"), tap(form="forming")):
        speeds = tap_speeds(one, material.subgroup)
        assert 0 < speeds.low <= speeds.start <= speeds.high
    for column in ("HSS", "carbide"):
        assert 0 < drill_feed_mm_per_rev(8, column, material.subgroup)[0] < 0.5
    assert 0.2 < hardness_factor(material.subgroup, material.middle_hb) < 2
    assert material_factor_kd(material)[0] > 0
    low, high = life_holes(material.subgroup, "tap") or (0, 0)
    assert 0 < low < high


def test_milling_edges_wear_in_the_order_of_carbide_drills() -> None:
    """Where a carbide drill makes clearly more holes, an edge lasts longer too."""
    drills, edges = ({each: life_holes(each, column) or (0, 0) for each in SUBGROUPS} for column in ("carbide", "edge"))
    for one, other in permutations(SUBGROUPS, 2):
        if drills[one][0] > 1.2 * drills[other][0]:
            assert edges[one][0] > edges[other][0], (one, other)
    assert all(2 * low <= high <= 4 * low for low, high in edges.values())
    assert edges["P3"] == (40, 120)


def test_an_unknown_subgroup_is_an_error() -> None:
    with pytest.raises(KeyError):
        subgroup_data("P9")
    with pytest.raises(KeyError):
        drill_speeds(drill(8), "P9")


@pytest.mark.parametrize(
    ("name", "column"),
    [("cutting_factors.csv", "factor"), ("cutting_life_factors.csv", "factor"), ("cutting_tap_load.csv", "name")],
)
def test_every_named_row_is_used(name: str, column: str) -> None:
    code = "".join(path.read_text(encoding="utf-8") for path in PACKAGE.glob("*.py"))
    flute_forms = {"spiral-point", "spiral-flute", "straight-flute", "forming"}
    assert [
        row[column] for row in table(name).rows if f'"{row[column]}"' not in code and row[column] not in flute_forms
    ] == []


def test_hardness_falls_and_feed_rises() -> None:
    families: dict[str, list[tuple[float, float]]] = {}
    for row in table("cutting_hardness.csv").rows:
        families.setdefault(row["family"], []).append((float(row["hb"]), float(row["relative"])))
    for family, points in families.items():
        assert [hb for hb, _ in points] == sorted(hb for hb, _ in points), family
        assert [speed for _, speed in points] == sorted((speed for _, speed in points), reverse=True), family
    assert {subgroup_data(s).hardness_family for s in SUBGROUPS} == {*families, "none"}
    feeds = [hss_feed_mm_per_rev(d / 4) for d in range(1, 240)]
    assert feeds == sorted(feeds)


def test_between_holds_its_ends() -> None:
    points = ((1.0, 10.0), (2.0, 20.0), (4.0, 0.0))
    assert [between(points, x) for x in (0, 1, 1.5, 2, 3, 4, 9)] == [10, 10, 15, 20, 10, 0, 0]


def test_columns_of_tools() -> None:
    """Coated HSS counts as cobalt HSS; a bright powder-metal tap starts at the top of plain, plain HSS at its bottom."""
    assert drill_speeds(drill(8, "HSS", treatment="TiN"), "P3").tool == "HSS-Co"
    assert drill_speeds(drill(8, "HSS"), "P3").tool == "HSS"
    assert drill_speeds(drill(8, "HSS-Co"), "N7").tool == "HSS"
    plain = tap_speeds(tap(material="HSS-E", treatment="bright"), "P3")
    assert (plain.low, plain.start, plain.high) == (10, 12, 14)
    assert tap_speeds(tap(material="HSS", treatment="bright"), "P3").start == 10
    assert tap_speeds(tap(material="HSS-E-PM", treatment="steam oxide"), "P3").start == 14
    assert tap_speeds(tap(material="HSS-E", treatment="TiN"), "P3").start == 15
    assert tap_speeds(tap(material="HSS-E-PM", treatment="TiN"), "P3").start == 20
    nitrided, brass = tap_speeds(tap(treatment="nitride"), "K1"), tap_speeds(tap(material="HSS", treatment="bright"), "N4")
    assert (nitrided.low, nitrided.start, nitrided.high) == (20, 20, 35)
    assert (brass.low, brass.start, brass.high) == (20, 30, 30)
    assert tap_speeds(tap(material="HSS-E", treatment="nitride"), "P3").start == 12
