"""Threads longer than anyone needs: told, with what they cost."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tooling"))

from tooling_samples import Kind, hole, material, size, step, tap

from holesched.cutting.model import CutPlan
from holesched.cutting.parameters import plan_cutting
from holesched.cutting.thread_length import usual_length
from holesched.notes import Note, Severity
from holesched.pipeline import explain
from holesched.resolve.model import ResolvedStep
from holesched.schedule.model import ReadOptions
from holesched.shop.model import Preferences, Shop
from holesched.standards.materials import all_materials
from holesched.tooling.choose import plan_tools

M8, M16 = "M8x1.25-6H", "M16x2-6H"


def made(*steps: ResolvedStep, workpiece: str = "C45", grade: str = "") -> CutPlan:
    found, shop = material(workpiece), Shop(preferences=Preferences(screw_grade=grade))
    return plan_cutting(plan_tools(hole(*steps, thickness_mm=80.0), found, shop), found, shop)


def long(plan: CutPlan) -> list[Note]:
    return [note for note in plan.notes if note.code == "THREAD-LONG"]


@pytest.mark.parametrize(("workpiece", "most", "enough"), [("C45", 32.0, 24), ("304", 32.0, 24), ("6061", 40.0, 32)])
def test_over_2_d_in_steel_and_2_and_a_half_in_aluminium(workpiece: str, most: float, enough: float) -> None:
    """1.5 D in steel and 2 D in aluminium are asked for. Common practice, no source."""
    assert long(made(tap(M16, most), workpiece=workpiece)) == []
    (note,) = long(made(tap(M16, most + 2), workpiece=workpiece))
    assert note.severity is Severity.WATCH
    assert f"Ask whether {enough:g} mm are enough" in note.suggestion
    assert note.ref is not None


def test_the_time_is_that_of_drill_and_tap_going_less_deep() -> None:
    """36 mm against 24: what both steps of the shorter hole really take, its pecks apart."""
    deep, shallow = made(tap(M16, 36)), made(tap(M16, 24))
    (note,) = long(deep)
    saved = float(note.suggestion.partition("at least ")[2].split()[0])
    assert [cut.step.pecks for cut in deep.cuts[1:]] != []
    really = 60 * sum(one.time_min - other.time_min for one, other in zip(deep.cuts[1:], shallow.cuts[1:], strict=True))
    assert 1 <= saved <= really


def test_less_than_a_second_is_not_worth_a_question() -> None:
    """M6 in aluminium, 12 mm: 3.6 mm more cost less than a second, 6 mm more cost more."""
    shallow, deeper, deep = (made(tap("M6x1-6H", mm), workpiece="6061") for mm in (12, 15.6, 18))
    times = [60 * sum(cut.time_min for cut in each.cuts[1:]) for each in (shallow, deeper, deep)]
    assert times[1] - times[0] < 1 < times[2] - times[0]
    assert long(deeper) == []
    assert len(long(deep)) == 1


@pytest.mark.parametrize("callout", ["M8 ↧16.2", "M8 ↧22", "M16 ↧33", "M24 ↧72", "M6 ↧30", "M16 ↧51"])
@pytest.mark.parametrize("workpiece", ["C45", "304", "6061", "EN-GJL-250"])
def test_less_thread_is_asked_for_once_and_with_one_figure(callout: str, workpiece: str) -> None:
    (found,) = explain(callout, Shop(), ReadOptions("mm", workpiece, 100.0)).holes
    asked = [note.code for note in found.notes if "Ask whether" in note.suggestion]
    assert len(asked) <= 1
    assert not any("at least 0 s" in note.suggestion for note in found.notes)
    figures = {word for note in found.notes for word in re.findall(r"Ask whether ([\d.]+) mm", note.suggestion)}
    assert len(figures) <= 1


def test_a_screw_that_needs_more_is_given_it() -> None:
    (note,) = long(made(tap(M8, 40), workpiece="EN AW-6060", grade="12.9"))
    enough = float(note.suggestion.split()[2])
    assert enough > 2.5 * 8
    assert "a screw of 12.9 takes" in note.message
    assert enough == pytest.approx(float(note.message.partition("takes ")[2].split()[0]) + 1.25, abs=0.1)


def test_through_and_taper_threads_and_counterbores() -> None:
    assert long(made(tap(M8))) == []
    assert long(made(tap("1/4-18 NPT", 40))) == []
    assert long(made(tap(M8, 22), step(Kind.COUNTERBORE, size(15), 8))) == []


def test_every_material_has_its_usual_length() -> None:
    for workpiece in all_materials():
        usual = usual_length(workpiece)
        assert 1 <= usual.low <= usual.high < usual.ask_over <= 3


@pytest.mark.parametrize(("grade", "offered"), [("", True), ("8.8", True), ("12.9", False)])
def test_a_tap_at_risk_is_not_spared_thread_that_the_screw_takes(grade: str, offered: bool) -> None:
    """1.5 D of M6 in S235JR, 9 mm less a pitch for the entry, hold a screw of 8.8 and strip under one of 12.9."""
    plan = made(tap("M6x1-6H", 18.0), workpiece="S235JR", grade=grade)
    (note,) = [note for note in plan.notes if note.code == "TAP-RISK"]
    assert ("Ask whether 9 mm" in note.suggestion) == offered
