"""Tooth load, torque, and the risk of breaking a tap.

The torques are of the project's own model, calculated a second time by hand; the breaking torques are from memory,
unverified.
"""

from __future__ import annotations

from dataclasses import replace
from math import radians, tan

import pytest
from cutting_samples import CELL, codes, cut, cut_plan, drill, step, tap, tap_step

from holesched.cutting import tap_formulas
from holesched.cutting.formulas import specific_force_n_per_mm2
from holesched.cutting.lookup import tap_load
from holesched.cutting.model import TapRisk
from holesched.notes import Severity
from holesched.shop.model import Machine
from holesched.tooling.model import Chamfer

CHAMFERS = [
    Chamfer("bottoming", "E", 1.75),
    Chamfer("semi-bottoming", "C", 2.5),
    Chamfer("plug", "B", 4.0),
    Chamfer("taper", "A", 7.0),
]


def _sharp_nm(major: float, pitch: float, hole: float, kc11: float = 2220, mc: float = 0.14) -> float:
    height = tap_formulas.thread_height_mm(major, hole)
    kc = specific_force_n_per_mm2(kc11, mc, tap_formulas.tap_chip_mm(height, 2.5, 3))
    return tap_formulas.tapping_torque_nm(kc, tap_formulas.thread_groove_mm2(height, pitch), major, pitch)


@pytest.mark.parametrize(
    ("major", "pitch", "hole", "torque"),
    [
        (3, 0.5, 2.5, 0.30),
        (5, 0.8, 4.2, 1.2),
        (6, 1, 5.0, 2.2),
        (8, 1.25, 6.8, 4.1),
        (10, 1.5, 8.5, 7.7),
        (12, 1.75, 10.2, 12.9),
    ],
)
def test_sharp_torque_in_c45(major: float, pitch: float, hole: float, torque: float) -> None:
    """C45 (kc1.1 2220, mc 0.14), form C, three flutes, chart drill: calculated independently."""
    digits = 2 if torque < 1 else 1
    assert round(_sharp_nm(major, pitch, hole), digits) == torque


def test_a_larger_hole_lowers_the_torque() -> None:
    """M10 in C45, from 8.5 to 8.83 mm (77 to 60 % of thread): 7.7 to 5.3 N m, calculated independently."""
    assert round(_sharp_nm(10, 1.5, 8.83), 1) == 5.3


def test_thread_groove_is_a_trapezium() -> None:
    """P/8 at the root, widening by 60 degrees: area from its two parallel sides."""
    height, pitch = 0.6, 1.25
    wide = pitch / 8 + 2 * height * tan(radians(30))
    assert tap_formulas.thread_groove_mm2(height, pitch) == pytest.approx((pitch / 8 + wide) / 2 * height)


def test_tooth_load_falls_with_chamfer_and_flutes() -> None:
    """Common practice, no source: a longer chamfer and more flutes lower the load on each tooth."""
    loads = [cut(tap_step(tap(chamfer=chamfer), 6.8)).chip_load_mm for chamfer in CHAMFERS]
    assert loads == sorted(loads, reverse=True)
    assert loads[1] == pytest.approx(0.6 / (2.5 * 3))
    four = cut(tap_step(tap(flutes=4), 6.8)).chip_load_mm
    assert four == pytest.approx(0.6 / (2.5 * 4))
    assert cut(tap_step(tap(form="forming"), 7.4), of="6061").chip_load_mm is None


def test_spiral_point_needs_the_least_torque() -> None:
    """Common practice, no source."""
    torques = {
        form: cut(tap_step(tap(form=form), 6.8, through=True)).torque_nm
        for form in ("spiral-point", "spiral-flute", "straight-flute", "forming")
    }
    assert min(torques, key=lambda form: torques[form]) == "spiral-point"
    assert max(torques, key=lambda form: torques[form]) == "forming"
    assert 2 <= torques["forming"] / torques["spiral-flute"] <= 3


@pytest.mark.parametrize(
    ("major", "pitch", "recalled"),
    [(3, 0.5, 1.1), (5, 0.8, 5), (6, 1, 9), (8, 1.25, 22), (10, 1.5, 42), (12, 1.75, 72)],
)
def test_breaking_torque_follows_the_cube_of_the_core(major: float, pitch: float, recalled: float) -> None:
    """Recalled, unverified. M4, recalled as 2.8, is left out: it does not lie between its neighbours on any cube."""
    strength, _ = tap_load("strength_nm_per_mm3")
    core_mm = tap_formulas.tap_core_mm(major, pitch)
    assert tap_formulas.tap_breaking_torque_nm(core_mm, strength) == pytest.approx(recalled, rel=0.065)


def test_a_fine_thread_leaves_the_tap_a_thicker_core() -> None:
    """M10: d3 of ISO 724 is 8.160 at 1.5 mm of pitch, 8.773 at 1 mm: by the cube the fine tap bears 1.24 times as much."""
    assert [round(tap_formulas.tap_core_mm(10, pitch), 3) for pitch in (1.5, 1.0)] == [8.160, 8.773]
    coarse, fine = (cut(tap_step(tap(10, pitch), 10 - pitch)).risk for pitch in (1.5, 1.0))
    assert coarse is not None
    assert fine is not None
    assert fine.breaking_torque_nm / coarse.breaking_torque_nm == pytest.approx((8.773 / 8.160) ** 3, rel=1e-3)


def test_risk_is_told_with_its_remedies_cheapest_first() -> None:
    plan = cut_plan(tap_step(tap(6, 1), 5.05, (4.917, 5.153), depth_mm=15.0), of="304")
    risk = plan.cuts[0].risk
    assert risk is not None
    assert risk.band == "change"
    assert risk.remedies[0].startswith("Open the hole: up to 5.153 mm")
    assert risk.remedies[1].startswith("Ask whether 9 mm of full thread (1.5 D) is enough: then ")
    assert risk.remedies[-1].startswith("A thread mill")
    (note,) = [note for note in plan.notes if note.code == "TAP-RISK"]
    assert (note.severity, note.ref) == (Severity.WATCH, CELL)
    assert note.suggestion.startswith("Open the hole")


M6, M3 = (6.0, 1.0, (4.917, 5.153)), (3.0, 0.5, (2.459, 2.599))


@pytest.mark.parametrize(
    ("of", "thread", "depth_d", "through", "hole_mm"),
    [
        ("304", M6, 2.5, False, 5.05),
        ("304", M6, 2.5, True, 5.05),
        ("304", M6, 2.5, False, 5.15),
        ("GG25", M3, 2.5, False, 2.52),
        ("GG25", M3, 2.5, False, 2.50),
        ("C45", M6, 1.5, False, 5.0),
    ],
)
def test_a_remedy_is_offered_only_with_what_it_gives(
    of: str, thread: tuple[float, float, tuple[float, float]], depth_d: float, through: bool, hole_mm: float
) -> None:
    """Every share that a remedy names is less than the tap's, and is what the model gives for the hole so changed: through,
    and where chips are short, the depth changes nothing, and a hole at its limit cannot be opened."""
    major, pitch, window_mm = thread

    def risk_of(hole: float, deep_d: float, form: str = "spiral-flute") -> TapRisk:
        made = tap_step(tap(major, pitch, form=form), hole, window_mm, depth_mm=deep_d * major, through=through)
        found = cut(made, of=of).risk
        assert found is not None
        return found

    found = risk_of(hole_mm, depth_d)
    assert found.band != "calm"
    gives = {
        "Open the hole": risk_of(window_mm[1], depth_d).index,
        f"Ask whether {1.5 * major:g} mm": risk_of(hole_mm, min(depth_d, 1.5)).index,
        "A forming tap": risk_of(hole_mm, depth_d, "forming").index if of != "GG25" else found.index,
    }
    for words, left in gives.items():
        offered = [remedy for remedy in found.remedies if remedy.startswith(words)]
        assert bool(offered) == (left <= 0.95 * found.index), words
        assert all(remedy.endswith(f": then {100 * left:.0f} %.") for remedy in offered)


@pytest.mark.parametrize(("deep_mm", "offered"), [(22.5, True), (22.6, False)])
def test_a_thread_mill_is_offered_only_as_deep_as_one_reaches(deep_mm: float, offered: bool) -> None:
    """Five diameters of its cutter of 4.5 mm, from where on its reach is a question. Common practice, no source."""
    plan = cut_plan(tap_step(tap(6, 1), 5.05, (4.917, 5.153), depth_mm=deep_mm), of="304")
    risk = plan.cuts[0].risk
    assert risk is not None
    milled = [remedy for remedy in risk.remedies if remedy.startswith("A thread mill of 4.5 mm")]
    assert bool(milled) == offered
    told = [note.suggestion for note in plan.notes if note.code.startswith("TAP-")]
    assert not any("milled" in said for said in told) or offered


def test_where_nothing_else_helps_a_new_tap_does() -> None:
    """The torque is of a tap worn to 1.3 times a sharp one's."""
    unable = Machine(spindle_torque_nm=1e6, thread_milling=False)
    found = cut(tap_step(tap(6, 1), 5.15, (4.917, 5.153), depth_mm=6.0), of="304", machine=unable).risk
    assert found is not None
    assert found.remedies == (f"Take a new tap and change it early: sharp it takes {100 * found.index / 1.3:.0f} %.",)


def test_a_calm_tap_makes_no_note() -> None:
    plan = cut_plan(tap_step(tap(), 6.8), of="6061")
    assert plan.cuts[0].risk is not None
    assert plan.cuts[0].risk.band == "calm"
    assert plan.cuts[0].risk.remedies == ()
    assert "TAP-RISK" not in codes(plan)


def test_risk_and_index_belong_together() -> None:
    for depth in (6.0, 12.0, 20.0):
        found = cut(tap_step(tap(6, 1), 5.05, depth_mm=depth), of="304")
        assert found.risk is not None
        assert found.torque_nm is not None
        assert found.risk.index == pytest.approx(found.torque_nm / found.risk.breaking_torque_nm)


def test_short_chips_do_not_pack() -> None:
    shallow, deep = (cut(tap_step(tap(), 6.8, depth_mm=depth), of="GG25").torque_nm for depth in (8.0, 24.0))
    assert shallow == deep
    shallow, deep = (cut(tap_step(tap(), 6.8, depth_mm=depth), of="C45").torque_nm for depth in (8.0, 24.0))
    assert shallow is not None
    assert deep == pytest.approx(1.5 * shallow)


def test_no_larger_hole_is_offered_at_the_limit() -> None:
    found = cut(tap_step(tap(6, 1), 5.15, (4.917, 5.153), depth_mm=15.0), of="304")
    assert found.risk is not None
    assert not any(remedy.startswith("Open") for remedy in found.risk.remedies)


def test_forming_and_carbide_have_their_own_strength() -> None:
    plain = cut(tap_step(tap(), 6.8)).risk
    forming = cut(tap_step(tap(form="forming"), 7.4)).risk
    carbide = cut(tap_step(tap(material="carbide"), 6.8)).risk
    assert plain is not None
    assert forming is not None
    assert carbide is not None
    assert carbide.breaking_torque_nm < plain.breaking_torque_nm < forming.breaking_torque_nm


def test_a_tap_without_a_fit_uses_the_hole_before_it() -> None:
    fitted = cut(tap_step(tap(), 6.85))
    bare = replace(tap_step(tap(), 6.85), fit=None)
    assert cut(step(drill(6.8, oversize_mm=0.05), 20.0), bare).torque_nm == fitted.torque_nm
