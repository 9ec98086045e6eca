"""A step drill beside separate tools, on a terminal."""

from __future__ import annotations

import re
from math import ceil

import pytest

from holesched.cli import main
from holesched.pipeline import compare_step_drill, explain
from holesched.reports.compared_step_drill import step_drill_compared
from holesched.schedule.model import ReadOptions
from holesched.shop.model import Machine, Preferences, Price, Shop

SCREW = "4X ⌀6.6 THRU ⌴ ⌀11 ↧6.8"
CARBIDE = Preferences(drill_material="carbide")
PRICES = (Price("step drill", 140.0), Price("drill", 30.0), Price("counterbore", 40.0))


def text(callout: str = SCREW, shop: Shop | None = None, thickness_mm: float = 25.0) -> str:
    used = shop or Shop(preferences=CARBIDE)
    job = explain(callout, used, ReadOptions(None, "C45", thickness_mm))
    found = compare_step_drill(job, used)
    assert found is not None
    return step_drill_compared(job, found, used)


def test_where_a_larger_lot_would_have_it_the_saving_is_told() -> None:
    shown = text()
    assert "instead of drill 6.6 and counterbore 11" in shown
    assert "step drill 6.6 / 11, carbide, TiAlN, 140° point, 180° shoulder 20.40 mm from the tip (+0.2 0)" in shown
    assert "possible: asked for from a lot of 500" in shown
    assert "[H31]" in shown
    assert "no price of a step drill in the shop file" in shown


def test_the_saving_is_what_two_plans_differ_by() -> None:
    """Four holes, each with a move less, and one tool change."""
    shop = Shop(preferences=CARBIDE)
    job = explain(SCREW, shop, ReadOptions(None, "C45", 25.0))
    found = compare_step_drill(job, shop)
    assert found is not None
    assert found.together is not None
    apart, together = (sum(cut.time_min for cut in plan.cuts) for plan in (found.apart, found.together))
    by_hand_min = 4 * (apart - together) + 4 * Machine().positioning_s / 60 + Machine().tool_change_s / 60
    assert found.saved_min == pytest.approx(by_hand_min)
    assert f"saves         {60 * by_hand_min:.1f} s a part with 4 such holes" in text()


def test_the_break_even_lot_follows_from_prices_lives_and_the_machines_hour() -> None:
    shop = Shop(machine=Machine(hour_costs=90.0), preferences=CARBIDE, prices=PRICES)
    job = explain(SCREW, shop, ReadOptions(None, "C45", 25.0))
    found = compare_step_drill(job, shop)
    assert found is not None
    lives = {cut.step.kind.value: cut.tool_life_holes for cut in found.apart.cuts}
    drill, counterbore = lives["drill"], lives["counterbore"]
    assert drill is not None
    assert counterbore is not None
    a_part = 4 * 30 / drill[1] + 4 * 40 / counterbore[1] + 90 * found.saved_min / 60
    told = re.search(r"break-even    a lot of (\d+)$", text(shop=shop), re.MULTILINE)
    assert told is not None
    assert int(told[1]) == ceil(140 / a_part)
    assert "none: the tool is worn" in text(shop=Shop(preferences=CARBIDE, prices=(Price("step drill", 9000.0),)))
    without = text(shop=Shop(preferences=CARBIDE, prices=PRICES[:1]))
    assert "without what an hour of the machine costs (machine.hour_costs) and the price of the drill" in without


def test_where_it_is_not_possible_the_reason_is_told() -> None:
    assert "not possible: no step drill: a drill that is drawn out for its chips" in text(thickness_mm=60.0)


def test_where_a_rule_asks_for_it_it_is_chosen(tmp_path: pytest.TempPathFactory) -> None:
    own = f"{tmp_path}/own.csv"
    with open(own, "w", encoding="utf-8") as file:
        file.write("decides,verdict\nstepped hole,step drill\n")
    assert "chosen: the shop's own rule" in text(shop=Shop(preferences=Preferences(rules=own, drill_material="carbide")))


def test_a_hole_of_one_diameter_has_nothing_to_compare(capsys: pytest.CaptureFixture[str]) -> None:
    options = ["--material", "C45", "--thickness", "25", "--compare"]
    main(["explain", "⌀6.6 THRU", *options])
    assert "no planned thread to compare" in capsys.readouterr().out
    main(["explain", SCREW, *options])
    assert capsys.readouterr().out.startswith("step drill      instead of")
    main(["explain", "M8 ↧16", *options])
    assert "step drill" not in capsys.readouterr().out, "the spot drill makes the chamfer"
