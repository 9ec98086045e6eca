"""A drill that the drawing states decides whether the thread is cut or formed in its hole.

Holes: ISO 965-1, M8-6H, minor diameter 6.647 to 6.912 mm; Machinery's Handbook, cold-form tapping, D - 0.0068 % P, of which
75 % and more is too much to form (common practice, no source).
"""

from __future__ import annotations

import pytest
from tooling_samples import one, plan, size, step, tap

from holesched.callouts.model import Kind
from holesched.shop.model import Preferences, Shop
from holesched.tooling.model import StepKind, ToolPlan

M8 = "M8x1.25-6H"
FORMING = Shop(preferences=Preferences(prefer_forming=True))
SHOPS = pytest.mark.parametrize("shop", [Shop(), FORMING], ids=["cuts", "forms"])


def drilled(mm: float, shop: Shop, workpiece: str = "EN AW-6082") -> ToolPlan:
    return plan(step(Kind.DRILL, size(mm), 22), tap(M8, 16), shop=shop, workpiece=workpiece, thickness_mm=40)


def process(made: ToolPlan) -> str:
    return one(made, StepKind.TAP).tool.process


@SHOPS
@pytest.mark.parametrize("mm", [6.7, 6.8])
def test_a_thread_is_cut_in_the_hole_of_a_drill_for_cutting(mm: float, shop: Shop) -> None:
    """(8 - 6.8) / (0.0068 x 1.25) = 141 %: a forming tap breaks in it."""
    made = drilled(mm, shop)
    assert process(made) == "cut"
    assert not any(note.is_question for note in made.notes)
    reason = next(each for each in one(made, StepKind.TAP).reasons if each.decision.startswith("process"))
    assert [lost.rule for lost in reason.rejected if lost.candidate == "form"] == ["P64"]


def test_a_thread_is_formed_in_the_hole_of_a_drill_for_forming() -> None:
    made = drilled(7.4, FORMING)
    assert process(made) == "form"
    assert not any(note.is_question for note in made.notes)


def test_a_shop_that_cuts_forms_it_too_and_asks_whether_that_is_meant() -> None:
    """Cut, Ø7.45 leaves (8 - 7.45) / (1.0825 x 1.25) = 41 % of thread."""
    made = drilled(7.4, Shop())
    assert process(made) == "form"
    (question,) = [note for note in made.notes if note.is_question]
    assert question.code == "TAP-DRILL-STATED-OUTSIDE"
    assert question.assumed == "Drilled as stated, and formed."
    tapped = one(made, StepKind.TAP)
    assert "P65" in {reason.rule for reason in tapped.reasons}


@SHOPS
def test_where_the_metal_does_not_flow_a_drill_for_forming_is_asked(shop: Shop) -> None:
    made = drilled(7.4, shop, "EN-GJL-250")
    assert process(made) == "cut"
    (question,) = [note for note in made.notes if note.is_question]
    assert question.assumed == "Drilled 7.4 mm as stated."


@SHOPS
def test_between_the_two_the_thread_is_cut_and_the_drill_asked(shop: Shop) -> None:
    """Ø7.0 leaves a shallow thread when cut; formed, (8 - 7.05) / (0.0068 x 1.25) = 112 %, it breaks the tap."""
    made = drilled(7.0, shop)
    assert process(made) == "cut"
    assert [note.code for note in made.notes if note.is_question] == ["TAP-DRILL-STATED-OUTSIDE"]


@SHOPS
def test_a_taper_thread_hears_nothing_of_forming(shop: Shop) -> None:
    made = plan(step(Kind.DRILL, size(14.5), through=True), tap("1/2-14 NPT"), shop=shop, thickness_mm=25)
    assert process(made) == "cut"
    assert not {"P64", "P65"} & {lost.rule for each in made.steps for reason in each.reasons for lost in reason.rejected}
