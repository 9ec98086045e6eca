"""Order of operations over several holes."""

from __future__ import annotations

from dataclasses import replace

from holesched.callouts.model import Side
from holesched.cutting.model import CutStep, TapRisk
from holesched.sequence.order import order_runs
from holesched.tooling.model import TAPER_REAMER, StepKind, Tool, ToolStep


def cut(kind: StepKind, diameter_mm: float, torque_nm: float | None = None) -> CutStep:
    tool = Tool(kind, diameter_mm, f"{diameter_mm:g}", "HSS-E")
    step = ToolStep(kind, tool, None, diameter_mm, False, 10.0, 12.0, 14.0)
    return CutStep(step, 1, 1, 1, 1, 1000, 0.1, 100, "emulsion", torque_nm, None, None, None, 0.1)


SPOT = cut(StepKind.SPOT, 10)
M6 = [SPOT, cut(StepKind.DRILL, 5), cut(StepKind.TAP, 6, 2.2)]
M8 = [SPOT, cut(StepKind.DRILL, 6.8), cut(StepKind.TAP, 8, 9.0)]
DOWEL = [SPOT, cut(StepKind.DRILL, 5.8), cut(StepKind.REAM, 6)]


def kinds(*holes: list[CutStep]) -> list[tuple[StepKind, float]]:
    return [(run.kind, run.tool.diameter_mm) for run in order_runs(holes)]


def test_one_run_per_tool_in_phases_with_reaming_last() -> None:
    assert kinds(M6, DOWEL, M8) == [
        (StepKind.SPOT, 10),
        (StepKind.DRILL, 6.8),
        (StepKind.DRILL, 5.8),
        (StepKind.DRILL, 5),
        (StepKind.TAP, 8),
        (StepKind.TAP, 6),
        (StepKind.REAM, 6),
    ]


def test_what_is_tapped_by_hand_comes_last_at_the_bench() -> None:
    """Common practice, no source: a part on the bench does not go back into the machine for a reamer or the far face."""
    tap = cut(StepKind.TAP, 6, 2.2)
    by_hand = replace(tap, step=replace(tap.step, tool=replace(tap.step.tool, by_hand=True)))
    far = cut(StepKind.COUNTERSINK, 7)
    turned = replace(far, step=replace(far.step, side=Side.FAR))
    runs = order_runs([[SPOT, cut(StepKind.DRILL, 5), by_hand, turned], DOWEL])
    assert [run.kind for run in runs[-3:]] == [StepKind.REAM, StepKind.COUNTERSINK, StepKind.TAP]


def test_the_tap_nearest_its_strength_comes_first() -> None:
    """Common practice, no source: before more value is put into the part. 9.0/8^3 > 2.2/6^3, but not 4.0/8^3."""
    calm_m8 = [SPOT, cut(StepKind.DRILL, 6.8), cut(StepKind.TAP, 8, 4.0)]
    taps = [size for kind, size in kinds(M6, calm_m8) if kind is StepKind.TAP]
    assert taps == [6, 8]


def test_the_risk_decides_where_it_is_known() -> None:
    """Common practice, no source. The larger tap takes more torque for its size, but its core is stronger."""
    weak = replace(cut(StepKind.TAP, 6, 2.2), risk=TapRisk(0.6, "change", 3.7))
    strong = replace(cut(StepKind.TAP, 8, 9.0), risk=TapRisk(0.2, "calm", 45.0))
    assert [run.tool.diameter_mm for run in order_runs([[strong], [weak]])] == [6, 8]


def test_milled_threads_come_with_the_tapped_ones() -> None:
    milled = [SPOT, cut(StepKind.DRILL, 32), cut(StepKind.THREAD_MILL, 21.6)]
    order = [kind for kind, _ in kinds(DOWEL, milled, M8)]
    assert order[-3:] == [StepKind.TAP, StepKind.THREAD_MILL, StepKind.REAM]


def test_every_hole_keeps_its_own_order() -> None:
    """A pilot drill comes before the drill that opens it, though larger drills otherwise go first."""
    piloted = [cut(StepKind.DRILL, 6), cut(StepKind.DRILL, 22)]
    assert kinds(piloted) == [(StepKind.DRILL, 6), (StepKind.DRILL, 22)]


def test_opposite_orders_end_and_lose_nothing() -> None:
    one = [cut(StepKind.DRILL, 5), cut(StepKind.DRILL, 8)]
    two = [cut(StepKind.DRILL, 8), cut(StepKind.DRILL, 5)]
    assert sorted(size for _, size in kinds(one, two)) == [5, 8]


def test_order_does_not_depend_on_the_rows_order() -> None:
    assert kinds(M6, M8, DOWEL) == kinds(DOWEL, M8, M6)


def test_a_spotface_follows_the_drills_unless_a_drill_starts_on_it() -> None:
    """Common practice, no source: its pilot needs the hole; on a slanted face the drill needs the flat."""
    square = [SPOT, cut(StepKind.DRILL, 9), cut(StepKind.SPOTFACE, 20)]
    slanted = [cut(StepKind.SPOTFACE, 24), SPOT, cut(StepKind.DRILL, 11)]
    assert kinds(square, slanted) == [
        (StepKind.SPOTFACE, 24),
        (StepKind.SPOT, 10),
        (StepKind.DRILL, 11),
        (StepKind.DRILL, 9),
        (StepKind.SPOTFACE, 20),
    ]


def test_a_taper_reamer_goes_before_the_taps() -> None:
    """trade habit: a taper pipe hole is reamed before its tap; other reamers come last. Common practice, no source."""
    ream = cut(StepKind.REAM, 11)
    ream = replace(ream, step=replace(ream.step, tool=replace(ream.step.tool, name=TAPER_REAMER)))
    pipe = [SPOT, cut(StepKind.DRILL, 10.7), ream, cut(StepKind.TAP, 13.7, 9.0)]
    order = [(kind.value, size) for kind, size in kinds(DOWEL, pipe, M8)]
    assert order[-4:] == [("ream", 11), ("tap", 8), ("tap", 13.7), ("ream", 6)]
