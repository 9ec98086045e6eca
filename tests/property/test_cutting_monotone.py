"""What must never go the wrong way, whatever the numbers."""

from __future__ import annotations

import sys
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "unit" / "cutting"))

from cutting_samples import STRONG, at_hardness, cut, drill, step, tap, tap_step

from holesched.cutting.thread_mill import Milled, mill_thread
from holesched.shop.model import Machine
from holesched.standards.materials import Material, all_materials, find_material
from holesched.tooling.model import Chamfer, StepKind, Tool

MATERIALS = st.sampled_from(all_materials())
THREADS = st.sampled_from([(2.0, 0.4), (3.0, 0.5), (6.0, 1.0), (8.0, 1.25), (12.0, 1.75), (20.0, 2.5), (24.0, 3.0)])
FORMS = st.sampled_from(["spiral-point", "spiral-flute", "straight-flute"])
HB = st.floats(20, 700)


@given(MATERIALS, HB, HB, st.floats(1, 30), st.sampled_from(["HSS", "HSS-Co", "carbide"]))
def test_a_harder_material_is_never_cut_faster(
    workpiece: Material, one: float, other: float, diameter: float, tool: str
) -> None:
    soft, hard = sorted((one, other))
    made = step(drill(diameter, tool), diameter)
    fast, slow = (cut(made, of=at_hardness(workpiece, hb), machine=STRONG) for hb in (soft, hard))
    assert slow.speed_start_m_per_min <= fast.speed_start_m_per_min
    assert slow.spindle_rpm <= fast.spindle_rpm


@given(MATERIALS, HB, HB, THREADS, FORMS)
def test_a_harder_material_is_never_tapped_faster(
    workpiece: Material, one: float, other: float, thread: tuple[float, float], form: str
) -> None:
    soft, hard = sorted((one, other))
    major, pitch = thread
    made = tap_step(tap(major, pitch, form), major - pitch)
    fast, slow = (cut(made, of=at_hardness(workpiece, hb), machine=STRONG) for hb in (soft, hard))
    assert slow.speed_start_m_per_min <= fast.speed_start_m_per_min
    assert slow.spindle_rpm <= fast.spindle_rpm


@given(MATERIALS, st.floats(1, 38), st.floats(1, 38), st.sampled_from([60.0, 82.0, 90.0, 120.0]), st.sampled_from([0, 0.8]))
def test_a_wider_cone_never_takes_less(workpiece: Material, one: float, other: float, angle: float, hole: float) -> None:
    """Of a spot into solid metal, and of a countersink from a hole of 0.8 mm."""
    kind = StepKind.COUNTERSINK if hole else StepKind.SPOT
    before = [step(drill(hole), through=True)] if hole else []
    tool = Tool(kind, 40.0, "40", "HSS-Co", point_angle_deg=angle, name=kind.value)
    narrow, wide = (
        cut(*before, step(tool, rim, diameter_mm=rim), of=workpiece, machine=STRONG) for rim in sorted((one, other))
    )
    assert 0 < narrow.torque_nm <= wide.torque_nm
    assert 0 < narrow.thrust_n <= wide.thrust_n


@given(MATERIALS, THREADS, FORMS, st.floats(1, 10), st.floats(1, 10))
def test_a_longer_chamfer_never_loads_a_tooth_more(
    workpiece: Material, thread: tuple[float, float], form: str, one: float, other: float
) -> None:
    short, long = sorted((one, other))
    major, pitch = thread
    loads = [
        cut(tap_step(tap(major, pitch, form, chamfer=Chamfer("", "", threads)), major - pitch), of=workpiece).chip_load_mm
        for threads in (short, long)
    ]
    assert loads[1] <= loads[0]


@given(MATERIALS, THREADS, FORMS, st.floats(0.5, 1.2), st.floats(0.5, 1.2))
def test_a_larger_hole_never_needs_more_torque(
    workpiece: Material, thread: tuple[float, float], form: str, one: float, other: float
) -> None:
    high, low = sorted((one, other), reverse=True)
    major, pitch = thread
    small, large = (cut(tap_step(tap(major, pitch, form), major - share * pitch), of=workpiece) for share in (high, low))
    assert large.torque_nm <= small.torque_nm
    assert large.risk.index <= small.risk.index


@given(MATERIALS, THREADS, FORMS, st.floats(0.3, 6), st.floats(0.3, 6))
def test_a_deeper_blind_hole_is_never_safer(
    workpiece: Material, thread: tuple[float, float], form: str, one: float, other: float
) -> None:
    shallow, deep = sorted((one, other))
    major, pitch = thread
    risks = [
        cut(tap_step(tap(major, pitch, form), major - pitch, depth_mm=ratio * major), of=workpiece).risk
        for ratio in (shallow, deep)
    ]
    assert risks[1].index >= risks[0].index


@given(MATERIALS, THREADS, st.floats(0.5, 4))
def test_a_tap_keeps_its_pitch_and_the_machines_limits(
    workpiece: Material, thread: tuple[float, float], ratio: float
) -> None:
    major, pitch = thread
    found = cut(tap_step(tap(major, pitch), major - pitch, depth_mm=ratio * major), of=workpiece)
    machine = Machine()
    assert found.feed_mm_per_min == pitch * found.spindle_rpm
    assert machine.spindle_min_rpm <= found.spindle_rpm <= machine.tapping_max_rpm
    assert found.feed_mm_per_min <= machine.feed_max_mm_per_min
    assert 0 < found.reached_rpm <= found.spindle_rpm


@given(MATERIALS, st.floats(0.5, 40), st.floats(0.5, 8), st.sampled_from(["HSS", "HSS-Co", "carbide"]))
def test_a_drill_keeps_the_machines_limits_or_says_so(workpiece: Material, diameter: float, ratio: float, tool: str) -> None:
    found = cut(step(drill(diameter, tool), ratio * diameter), of=workpiece)
    machine = Machine()
    assert machine.spindle_min_rpm <= found.spindle_rpm <= machine.spindle_max_rpm
    assert found.feed_mm_per_min <= machine.feed_max_mm_per_min + 1e-9
    if found.thrust_n > machine.axis_thrust_n:
        assert any(reason.rule == "CLAMP-THRUST" for reason in found.clamps)
    if found.spindle_rpm == machine.spindle_max_rpm and found.surface_m_per_min < found.speed_start_m_per_min * 0.99:
        assert any(reason.rule == "CLAMP-SPINDLE-MAX" for reason in found.clamps)


@given(MATERIALS, st.floats(1, 30), st.floats(0.5, 12), st.floats(0.5, 12))
def test_a_deeper_hole_never_takes_less_time(workpiece: Material, diameter: float, one: float, other: float) -> None:
    shallow, deep = sorted((one, other))
    times = [
        cut(step(drill(diameter, "HSS-Co"), ratio * diameter), of=workpiece, machine=STRONG).time_min
        for ratio in (shallow, deep)
    ]
    assert times[1] >= times[0] * 0.98  # speed and feed are rounded to what a person would program


@given(MATERIALS, st.floats(1, 30), st.floats(0.3, 15), st.floats(0.3, 15), st.sampled_from(["HSS-Co", "carbide"]))
def test_a_tool_never_lasts_for_more_deeper_holes(
    workpiece: Material, diameter: float, one: float, other: float, tool: str
) -> None:
    shallow, deep = sorted((one, other))
    for kind in (StepKind.DRILL, StepKind.REAM):
        more, less = (
            cut(step(drill(diameter, tool), ratio * diameter, kind=kind), of=workpiece, machine=STRONG).tool_life_holes
            for ratio in (shallow, deep)
        )
        assert less[0] <= more[0]
        assert less[1] <= more[1]


def test_a_stronger_machine_changes_nothing_that_was_not_limited() -> None:
    weak, strong = cut(step(drill(8), 12.0)), cut(step(drill(8), 12.0), machine=STRONG)
    assert weak.clamps == ()
    assert strong.torque_share < weak.torque_share
    own = {"reasons": (), "torque_share": None, "time_min": 0.0}
    assert replace(strong, **own) == replace(weak, **own)


@given(MATERIALS, HB, HB, THREADS)
def test_a_harder_material_is_never_thread_milled_faster(
    workpiece: Material, one: float, other: float, thread: tuple[float, float]
) -> None:
    if workpiece.subgroup == "N8":
        return
    soft, hard = sorted((one, other))
    major, pitch = thread
    milled = Milled(major, pitch, major - 1.0825 * pitch, 1.5 * major)
    fast, slow = (mill_thread(milled, at_hardness(workpiece, hb), STRONG) for hb in (soft, hard))
    assert slow.surface_m_per_min <= fast.surface_m_per_min
    assert slow.time_min >= fast.time_min


@given(MATERIALS, THREADS, st.floats(0.3, 6), st.floats(0.3, 6))
def test_a_longer_thread_never_takes_less_milling(
    workpiece: Material, thread: tuple[float, float], one: float, other: float
) -> None:
    if workpiece.subgroup == "N8":
        return
    major, pitch = thread
    short, long = (
        mill_thread(Milled(major, pitch, major - 1.0825 * pitch, ratio * major), workpiece, Machine())
        for ratio in sorted((one, other))
    )
    assert long.time_min >= short.time_min * (1 - 1e-9)
    assert long.levels >= short.levels


HARDENABLE = [each for each in all_materials() if each.group in ("P", "M", "H")]
HRC = (22, 28, 36, 40, 43, 44, 45, 50, 54, 55, 56, 60, 66)
"""On both sides of the borders of H1 and H2."""
MILL = Tool(StepKind.MILL, 12.0, "12", "carbide", flutes=4, name="end mill")
CHAMFER_MILL = Tool(StepKind.COUNTERSINK, 12.0, "12", "carbide", flutes=4, point_angle_deg=90.0, name="chamfer mill")
STEPS = (
    *(step(drill(8, tool), 8.0) for tool in ("HSS", "HSS-Co", "carbide")),
    *(tap_step(tool, 6.8) for tool in (tap(), tap(material="carbide"), tap(material="HSS", treatment="bright"))),
    step(MILL, 10.0, diameter_mm=40.0),
    step(CHAMFER_MILL, 3.0, diameter_mm=45.0),
)


def _hardened(workpiece: Material) -> list[Material]:
    """At each hardness, hardened steel without a grade only from where it is any."""
    least = 44 if workpiece.group == "H" else 0
    found = [find_material(f"{workpiece.key} {hrc} HRC").material for hrc in HRC if hrc >= least]
    assert all(found)
    return [each for each in found if each]


@pytest.mark.parametrize("coolant", ["flood", "hand"])
def test_an_alloy_is_never_cut_faster_for_being_harder(coolant: str) -> None:
    """With one and the same tool, over the borders of sub-groups too: a hardness behind the grade moves it into H1 and H2.
    The harder, the slower: so in every row of the drilling speeds of Machinery's Handbook."""
    machine = replace(STRONG, coolant=coolant)
    for workpiece in HARDENABLE:
        states = _hardened(workpiece)
        for made in STEPS:
            cuts = [cut(step(drill(40)), made, of=state, machine=machine) for state in states]
            for fast, slow in pairwise(cuts):
                assert slow.speed_start_m_per_min <= fast.speed_start_m_per_min * (1 + 1e-9), (workpiece.key, made.tool)


def test_an_alloy_is_never_thread_milled_faster_for_being_harder() -> None:
    milled = Milled(8.0, 1.25, 6.65, 12.0)
    for workpiece in HARDENABLE:
        ways = [mill_thread(milled, state, STRONG) for state in _hardened(workpiece)]
        for fast, slow in pairwise(ways):
            assert slow.surface_m_per_min <= fast.surface_m_per_min * (1 + 1e-9), workpiece.key
