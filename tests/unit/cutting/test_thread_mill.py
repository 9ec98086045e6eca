"""Thread milling: the centre's feed, the path, and what it costs beside a tap."""

from __future__ import annotations

from math import pi

import pytest
from cutting_samples import cut, material, tap, tap_step

from holesched.cutting.thread_mill import centre_feed_mm_per_min, centre_path_mm, mill_thread
from holesched.shop.model import Machine
from holesched.standards.materials import Material, all_materials
from holesched.tooling.model import StepKind


def test_the_centre_runs_slower_than_the_edge() -> None:
    """A 12 mm cutter in a 16 mm thread: a quarter of the edge's feed. Geometry."""
    assert centre_feed_mm_per_min(400, 16, 12) == 100


def test_edge_and_centre_take_the_same_time_for_a_turn() -> None:
    edge, major, cutter = 400.0, 16.0, 12.0
    assert pi * major / edge == pytest.approx(pi * (major - cutter) / centre_feed_mm_per_min(edge, major, cutter))


def test_path_is_a_circle_and_two_half_circles_of_half_its_size() -> None:
    assert centre_path_mm(16, 12) == pytest.approx(pi * 4 + 2 * (pi * 2 / 2))


@pytest.mark.parametrize("workpiece", all_materials(), ids=lambda workpiece: workpiece.key)
def test_cutter_goes_into_the_hole_of_every_thread(workpiece: Material) -> None:
    for major, pitch in ((2, 0.4), (6, 1.0), (8, 1.25), (20, 2.5), (48, 5.0)):
        mill = mill_thread(major, pitch, workpiece, Machine())
        if mill is None:
            assert workpiece.subgroup == "N8"
            continue
        assert mill.cutter_mm < major - 1.0825 * pitch
        assert mill.centre_feed_mm_per_min < mill.edge_feed_mm_per_min <= Machine().feed_max_mm_per_min
        assert mill.spindle_rpm <= Machine().spindle_max_rpm
        assert mill.rise_mm_per_turn == pitch


def test_hard_steel_takes_three_passes() -> None:
    hard, soft = (mill_thread(8, 1.25, material(name), Machine()) for name in ("60 HRC", "C45"))
    assert hard is not None
    assert soft is not None
    assert (hard.passes, soft.passes) == (3, 1)
    assert hard.time_min > soft.time_min


def test_a_risky_tap_names_the_thread_mill_and_its_time() -> None:
    found = cut(tap_step(tap(6, 1), 5.05, depth_mm=15.0), of="304")
    mill = mill_thread(6, 1, material("304"), Machine())
    assert found.step.kind is StepKind.TAP
    assert found.risk is not None
    assert mill is not None
    assert found.risk.remedies[-1].startswith(f"A thread mill of {mill.cutter_mm:g} mm (about")
