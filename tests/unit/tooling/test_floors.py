"""The floor of a blind bored hole: a drill's cone in it is said, gone where a flat bottom is called. Geometry by hand."""

from __future__ import annotations

import pytest

from holesched.notes import Severity
from holesched.pipeline import explain
from holesched.schedule.model import ReadOptions
from holesched.sequence.model import PlannedHole
from holesched.shop.model import Machine, Shop
from holesched.tooling.model import OPENING

WEAK = Shop(machine=Machine(spindle_power_kw=2.2, spindle_torque_nm=12, axis_thrust_n=1500, thread_milling=False))


def planned(callout: str, shop: Shop | None = None) -> PlannedHole:
    (hole,) = explain(callout, shop or Shop(), ReadOptions("mm", "C45", 60.0)).holes
    return hole


def said(hole: PlannedHole) -> list[str]:
    found = [note for note in hole.notes if note.code == "HOLE-FLOOR-CONE"]
    assert all(note.severity is Severity.WATCH and note.ref is not None for note in found)
    return [note.message for note in found]


def deepest_mm(hole: PlannedHole) -> float:
    assert hole.cut_plan is not None
    return max(cut.step.tip_mm or 0.0 for cut in hole.cut_plan.cuts if cut.step.kind in OPENING)


def test_the_same_hole_is_flat_on_one_machine_and_has_a_cone_on_another() -> None:
    """The drill of 22 with a point of 130 degrees: 20 + 11 / tan 65 degrees = 25.13 mm."""
    flat, cone = planned("Ø40 H7 ↧20"), planned("Ø40 H7 ↧20", WEAK)
    assert said(flat) == []
    assert deepest_mm(flat) == 20.0
    assert [message.endswith("the cone of the drill 22 mm: its tip is at 25.13 mm.") for message in said(cone)] == [True]


@pytest.mark.parametrize("callout", ["Ø40 H7 ↧20 FLAT BOTTOM", "Ø45 ↧20 FLAT BOTTOM", "BORE Ø25 H7 ↧20 FLAT BOTTOM"])
@pytest.mark.parametrize("shop", [Shop(), WEAK])
def test_a_flat_bottom_called_has_no_cone(callout: str, shop: Shop) -> None:
    hole = planned(callout, shop)
    assert said(hole) == []
    assert deepest_mm(hole) == pytest.approx(20.0)


@pytest.mark.parametrize("callout", ["Ø20 H7 ↧20", "Ø20 ↧20", "Ø60 H7 THRU", "M8 ↧16", "BORE Ø25 H7 THRU"])
def test_ordinary_holes_say_nothing(callout: str) -> None:
    assert said(planned(callout)) == []
