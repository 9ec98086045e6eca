"""A plan tried on the machine: no more of it than is asked."""

from __future__ import annotations

import sys
from pathlib import Path
from unittest.mock import patch

from cutting_samples import material

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tooling"))

from tooling_samples import hole, tap

from holesched.cutting import trial
from holesched.cutting.parameters import in_full
from holesched.cutting.reckoning import reckon
from holesched.cutting.trial import Trial
from holesched.shop.model import Machine, Shop
from holesched.tooling.choose import plan_tools
from holesched.tooling.model import StepKind
from holesched.tooling.reckoned import NOT_RECKONED
from holesched.tooling.rules import standard_rules


def test_where_the_taps_call_for_another_plan_nothing_else_is_tried() -> None:
    workpiece, shop = material("4140"), Shop(machine=Machine(spindle_torque_nm=40.0))
    plan = plan_tools(hole(tap("M20x2.5-6H", 30.0), thickness_mm=60.0), workpiece, shop)
    with patch.object(trial, "turning_of", wraps=trial.turning_of) as turned:
        known = reckon(Trial(plan.steps, workpiece, shop), NOT_RECKONED, standard_rules())
    assert known.tap_torque
    assert [call.args[0].kind for call in turned.call_args_list] == [StepKind.TAP]


def test_a_plan_that_stands_tries_each_of_its_steps_once() -> None:
    workpiece, shop = material("C45"), Shop()
    plan = plan_tools(hole(tap("M8x1.25-6H", 12.0), thickness_mm=40.0), workpiece, shop)
    tried = Trial(plan.steps, workpiece, shop)
    with patch.object(trial, "turning_of", wraps=trial.turning_of) as turned:
        assert reckon(tried, NOT_RECKONED, standard_rules()) is NOT_RECKONED
        cuts = in_full(plan, tried).cuts
    assert [cut.step for cut in cuts] == list(plan.steps)
    assert sorted(call.args[0].kind.value for call in turned.call_args_list) == sorted(
        step.kind.value for step in plan.steps
    )
