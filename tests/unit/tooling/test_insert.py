"""Wire inserts: the drilled depths of their standard beside our own, and threads too short for them."""

from __future__ import annotations

from tooling_samples import codes, one, plan, tap

from holesched.notes import Severity
from holesched.tooling.depth import LEAST_RULE
from holesched.tooling.model import StepKind, ToolPlan


def insert(depth_mm: float | None, insert_mm: float | None, thickness_mm: float = 40.0) -> ToolPlan:
    return plan(tap("M8x1.25 STI", depth_mm, insert_mm=insert_mm), workpiece="6061", thickness_mm=thickness_mm)


def test_the_inserts_own_depths_compete() -> None:
    """ASME B18.29.2M, example as printed in Machinery's Handbook 31, p. 1746: M8x1.25x12, STI drilled 23.5 with a plug tap;
    with a bottoming tap 12 + 2P + 1P + 1P = 17.0, calculated."""
    drill = one(insert(16.0, 12.0), StepKind.DRILL)
    [reason] = [reason for reason in drill.reasons if reason.rule == "DEPTH-BUDGET"]
    lost = {rejected.rule: rejected.candidate for rejected in reason.rejected}
    assert lost["ASME B18.29, plug tap"] == "23.5 mm"
    assert lost["ASME B18.29, bottoming tap"] == "17.0 mm"


def test_the_standards_least_depth_governs_a_short_thread() -> None:
    """Calculated: 10 of full thread + 3P + 1P = 15.0 mm, the standard's least for a 12 mm insert is 17.0."""
    made = insert(10.0, 12.0)
    [budget] = made.budgets
    assert budget.drilled_mm == 17.0
    assert budget.governed_by.startswith(LEAST_RULE)
    [note] = [note for note in made.notes if note.code == "INSERT-THREAD-SHORT"]
    assert note.severity is Severity.ASK
    assert "13.25" in note.message


def test_a_depth_that_is_the_drilled_one_is_pointed_out() -> None:
    """The same printed example: 23.5 is the drilled depth."""
    assert "INSERT-DEPTH-DRILLED" in codes(insert(23.5, 12.0))
    assert "INSERT-DEPTH-DRILLED" not in codes(insert(14.0, 12.0))


def test_the_longest_insert_is_told_where_none_is_named() -> None:
    """Calculated: 16 mm less a pitch are 14.75 mm: 1.5 D."""
    [note] = [note for note in insert(16.0, None).notes if note.code == "INSERT-LONGEST"]
    assert "1.5 D, 12 mm" in note.message


def test_too_short_for_any_insert() -> None:
    assert "INSERT-THREAD-SHORT" in codes(insert(6.0, None))


def test_a_through_thread_must_hold_the_insert_too() -> None:
    assert "INSERT-THREAD-SHORT" in codes(insert(None, 12.0, thickness_mm=12.0))
    assert "INSERT-THREAD-SHORT" not in codes(insert(None, 12.0, thickness_mm=14.0))
