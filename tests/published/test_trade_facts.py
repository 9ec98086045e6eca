"""Facts of the trade as a decision table, each with its source or "common practice, no source", and a few check numbers."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from holesched.standards.materials import all_materials
from holesched.standards.thread_percent import cut_percent, forming_hole_mm
from holesched.tables import table
from holesched.tooling.case import HoleCase
from holesched.tooling.depth import drilled_depth_mm, point_length_mm
from holesched.tooling.rule_rows import DECISIONS
from holesched.tooling.rules import decide, standard_rules

HERE = Path(__file__).resolve().parent


def facts() -> list[dict[str, str]]:
    with (HERE / "trade_facts.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def case_of(fact: dict[str, str]) -> HoleCase:
    workpiece = next(material for material in all_materials() if material.key == fact["workpiece"])
    low, high = workpiece.hardness_hb
    return HoleCase(
        hole=fact["hole"],
        wall=frozenset((fact["wall"] or "whole",)),
        thread=frozenset((fact["thread"] or "parallel",)),
        size_mm=float(fact["size_mm"]),
        depth_d=float(fact["depth_d"]),
        room_p=float(fact["room_p"]) if fact["room_p"] else None,
        group=workpiece.group,
        subgroup=workpiece.subgroup,
        chip=workpiece.chip,
        traits=workpiece.traits,
        hardness_hb=(low + high) / 2,
        machine=frozenset(fact["machine"].split("|")),
        torque=float(fact["torque"]) if fact["torque"] else None,
        lot=int(fact["lot"]) if fact["lot"] else None,
    )


@pytest.mark.parametrize("fact", facts(), ids=lambda fact: fact["fact"])
def test_the_rules_honour_the_fact(fact: dict[str, str]) -> None:
    """`is`: the verdict; `struck`: a row forbids it; `asked`: a row speaks for it but is outranked; `lost`: none asks."""
    book, case = standard_rules(), case_of(fact)
    given = {decide("process", case, frozenset(), book).value}
    if fact["decision"] == "process":
        given = set()
    for what in DECISIONS[: DECISIONS.index(fact["decision"])]:
        if what != "process" and not (what == "helix" and "spiral-flute" not in given):
            given.add(decide(what, case, frozenset(given), book).value)
    verdict = decide(fact["decision"], case, frozenset(given), book)
    lost = {rejected.candidate: rejected for rejected in verdict.reason.rejected}
    if fact["says"] == "is":
        assert verdict.value == fact["verdict"], verdict.reason
    elif fact["says"] == "struck":
        struck_by = next(rule for rule in book.rules if rule.id == lost[fact["verdict"]].rule)
        assert struck_by.effect == "never"
    else:
        assert fact["verdict"] in lost
        asked = any(
            rule.verdict == fact["verdict"]
            and rule.effect == "choose"
            and rule.rank > 0
            and rule.fires(case, frozenset(given))
            for rule in book.by_decision[fact["decision"]]
        )
        assert asked == (fact["says"] == "asked")


def test_chamfers_of_the_army_manual() -> None:
    """TM 9-254, 4-27 d: taper 7 to 10 threads, plug 3 to 5, bottoming 1 to 2."""
    rows = {(row["name"], row["form"]): row for row in table("tap_chamfers.csv").rows}
    for key, low, high in (
        (("taper", "A"), 7, 10),
        (("plug", "C"), 3, 5),
        (("plug", "B"), 3, 5),
        (("bottoming", "E"), 1, 2),
    ):
        assert (float(rows[key]["us_from"]), float(rows[key]["us_to"])) == (low, high)


@pytest.mark.parametrize(
    ("major", "pitch", "drill", "percent"),
    [(6, 1, 5.0, 77.0), (8, 1.25, 6.8, 73.9), (10, 1.5, 8.5, 77.0), (12, 1.75, 10.2, 79.2)],
)
def test_percentage_of_thread(major: float, pitch: float, drill: float, percent: float) -> None:
    """76.98 (D - d) / P; calculated, the handbook's formula from memory."""
    assert round(cut_percent(major, drill, pitch), 1) == percent


@pytest.mark.parametrize(
    ("major", "pitch", "hole"), [(3, 0.5, 2.78), (6, 1, 5.56), (8, 1.25, 7.45), (10, 1.5, 9.34), (12, 1.75, 11.23)]
)
def test_forming_hole(major: float, pitch: float, hole: float) -> None:
    """D - 0.0068 x 65 x P; calculated, the handbook's formula from memory."""
    assert round(forming_hole_mm(major, 65, pitch), 2) == hole


def test_blind_depth() -> None:
    """M8x1.25, 16 deep, form C (3 P), 1 P of clearance: 21.0 mm; +1.24 at 140 degrees, +2.04 at 118 (d 6.8); calculated."""
    assert drilled_depth_mm(16, 3, 1.25, 1) == 21.0
    assert round(point_length_mm(6.8, 140), 2) == 1.24
    assert round(point_length_mm(6.8, 118), 2) == 2.04


def test_depth_for_a_wire_insert() -> None:
    """ASME B18.29.2M as its example reads ("STI 23.5 deep" for M8x1.25x12, plug tap up to 8 mm; bottoming tap 17.0).

    Insert, chamfer, one pitch for the set-down, one of clearance, and half a diameter for the point of a small plug tap.
    """
    insert_mm, pitch_mm, nominal_mm = 12.0, 1.25, 8.0
    full_thread_mm = insert_mm + pitch_mm
    assert drilled_depth_mm(full_thread_mm, 4, pitch_mm, 1) + 0.5 * nominal_mm == 23.5
    assert drilled_depth_mm(full_thread_mm, 2, pitch_mm, 1) == 17.0


@pytest.mark.parametrize(
    ("angle", "factor"), [(90, 0.500), (118, 0.300), (120, 0.289), (130, 0.233), (135, 0.207), (140, 0.182)]
)
def test_point_length_factors(angle: float, factor: float) -> None:
    """Point height over diameter; calculated. (D / 2) tan 59 degrees, which is in circulation, is wrong."""
    assert round(point_length_mm(1, angle), 3) == factor
