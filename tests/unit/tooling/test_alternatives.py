"""The processes for one thread: every one named once, what a rule strikes never planned, the rest planned whole."""

from __future__ import annotations

import pytest
from tooling_samples import Kind, codes, material, plan, size, step, tap

from holesched.shop.model import Machine, Shop
from holesched.standards.materials import Material, all_materials
from holesched.tooling.alternatives import PROCESSES, alternatives, thread_step
from holesched.tooling.model import Alternative
from holesched.tooling.rules import standard_rules

M8 = "M8x1.25-6H"


def ways(
    text: str = M8, workpiece: str = "42CrMo4", shop: Shop | None = None, depth: float | None = 16
) -> dict[str, Alternative]:
    made = plan(tap(text, depth), workpiece=workpiece, shop=shop, thickness_mm=40)
    found = alternatives(made, material(workpiece), shop or Shop(), standard_rules(), None)
    return {each.process: each for each in found}


def test_each_process_once_and_the_chosen_one_first() -> None:
    found = ways()
    assert list(found) == ["cut", "form", "thread mill", "hand set"]
    assert [each.chosen for each in found.values()] == [True, False, False, False]
    assert found["cut"].rule == "P10"
    assert not found["form"].asked


def test_each_is_planned_by_its_own_process() -> None:
    for process, each in ways().items():
        assert each.plan is not None
        made = thread_step(each.plan)
        assert made is not None
        assert made.process == process


def test_what_a_rule_strikes_is_not_planned_and_says_why() -> None:
    found = ways(workpiece="EN-GJL-250")
    assert found["form"].plan is None
    assert found["form"].rule in ("P40", "P41")
    hard = ways(workpiece="hardened-55-62", depth=None)
    assert {process for process, each in hard.items() if each.plan is not None} == {"thread mill"}
    assert hard["thread mill"].chosen
    unable = ways(shop=Shop(machine=Machine(thread_milling=False)))
    assert unable["thread mill"].plan is None
    assert "does not mill" in unable["thread mill"].because


def test_what_lost_by_rank_is_asked_for() -> None:
    found = ways("M36x4-6H", "C45", depth=30)
    assert found["thread mill"].chosen
    assert found["cut"].asked
    assert "P10 asks for it" in found["cut"].because


def test_a_hole_without_a_planned_thread_has_none() -> None:
    made = plan(step(Kind.DRILL, size(9), through=True))
    assert alternatives(made, material("C45"), Shop(), standard_rules(), None) == ()
    unable = Shop(machine=Machine(thread_milling=False))
    made = plan(tap(M8), workpiece="hardened-55-62", shop=unable)
    assert alternatives(made, material("hardened-55-62"), unable, standard_rules(), None) == ()


@pytest.mark.parametrize("workpiece", all_materials(), ids=lambda workpiece: workpiece.key)
def test_every_material_compares(workpiece: Material) -> None:
    for text, depth in ((M8, 16.0), ("M36x4-6H", 30.0), ("1/4-18 NPT", 12.0)):
        made = plan(tap(text, depth), workpiece=workpiece.key, thickness_mm=60)
        found = alternatives(made, workpiece, Shop(), standard_rules(), None)
        if "TAP-NONE-HOLDS" in codes(made):
            assert found == ()
            continue
        assert sorted(each.process for each in found) == sorted(PROCESSES)
        assert all(each.because and each.rule for each in found)
