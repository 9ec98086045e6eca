"""Properties of drills, depths and whole plans over generated holes."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from holesched.callouts.model import Depth, Kind
from holesched.features.model import Feature, Hole, HoleType, Member
from holesched.notes import CellRef, Note
from holesched.pipeline import explain
from holesched.resolve.model import ResolvedHole, ResolvedStep
from holesched.schedule.model import ReadOptions
from holesched.shop.model import Machine, Preferences, Shop
from holesched.standards import drill_sizes, iso261, threads, unified_series
from holesched.standards.materials import Material, all_materials
from holesched.standards.sizes import Limits
from holesched.standards.threads import ba, iso_7, iso_228, whitworth
from holesched.standards.threads.base import ThreadGeometry
from holesched.tooling.choose import plan_tools
from holesched.tooling.model import StepKind
from holesched.tooling.tap_drill import LARGEST, SMALLEST, STANDARD_TABLE, choose_tap_drill

NAMES = (
    "M1.6x0.35-6H",
    "M3x0.5-6H",
    "M5x0.8-5H",
    "M6x1-6G",
    "M8x1.25-6H",
    "M10x1-6H",
    "M12x1.75-6H",
    "M24x3-6H",
    "M36x4-6H",
    "#4-40 UNC-2B",
    "1/4-20 UNC-3B",
    "1/2-20 UNF-2B",
    "1-8 UNC-2B",
)


def shape(text: str) -> ThreadGeometry:
    for standard in threads.STANDARDS:
        match = standard.designation.fullmatch(text)
        if match is not None:
            spec = standard.complete(standard.read(match, "mm")).spec
            assert spec is not None
            return standard.geometry(spec)
    raise AssertionError(text)


SHAPES = st.sampled_from([shape(name) for name in NAMES])
MATERIALS = st.sampled_from(["HSS", "HSS-Co", "carbide"])
AIMS = st.sampled_from([STANDARD_TABLE, LARGEST, SMALLEST])


@given(SHAPES, MATERIALS, AIMS, st.booleans())
def test_a_chosen_drill_is_inside_its_window_or_a_question(
    geometry: ThreadGeometry, material: str, aim: str, forming: bool
) -> None:
    found = choose_tap_drill(geometry, material, aim=aim, forming=forming)
    if isinstance(found, Note):
        assert found.is_question
        return
    size, fit, _ = found
    assert fit.window_mm[0] <= size.mm
    assert size.mm + drill_sizes.oversize(size.mm, material).expected_mm <= fit.window_mm[1] + 1e-9


def test_so_it_is_for_every_thread_of_the_tables() -> None:
    """Metric with its own class, Unified 2B and 3B, and the parallel threads of the other families."""
    texts = [f"M{size.diameter_mm:g}x{pitch:g}" for size in iso261.sizes().values() for pitch in size.pitches_mm]
    texts += [
        f"{size.name}-{tpi:g} {series}-{of_class}"
        for size in unified_series.sizes().values()
        for tpi, series in size.series.items()
        for of_class in ("2B", "3B")
    ]
    texts += [
        f"{letters} {size}" for size in iso_228.rows() for letters in ("G", "Rp") if letters == "G" or size in iso_7.rows()
    ]
    texts += [f"{size}-{tpi:g} {series}" for (series, size), tpi in whitworth.sizes().items()]
    texts += [f"{number}BA" for number in ba.rows()]
    texts += [f"M{size.diameter_mm:g} STI" for size in iso261.sizes().values() if size.coarse_mm]
    chosen = asked = 0
    for text in texts:
        call = threads.read_thread(text)
        assert call is not None, text
        spec = threads.complete(call).spec
        if spec is None:
            assert text in {"M2x0.25", "M2.2x0.25"}  # ISO 965-1 has no 6H there
            continue
        geometry = threads.geometry(spec)
        for material in ("HSS-Co", "carbide"):
            found = choose_tap_drill(geometry, material)
            if isinstance(found, Note):
                assert found.is_question, text
                asked += spec.nominal.mm < 50
                continue
            size, fit, _ = found
            assert spec.nominal.mm < 110, text  # the largest drill of the tables is 100
            assert fit.window_mm[0] - 1e-9 <= size.mm, text
            assert fit.hole_mm <= fit.window_mm[1] + 1e-9, text
            chosen += 1
    assert chosen > 5 * asked > 0  # asked up to 50 mm: fine Unified threads, between two drills


@given(SHAPES, MATERIALS, AIMS, st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_so_it_is_for_any_window(geometry: ThreadGeometry, material: str, aim: str, low: float, width: float) -> None:
    smallest = geometry.basic_minor_mm + low * 0.3 * geometry.spec.pitch_mm
    narrowed = replace(geometry, minor=Limits(smallest, smallest + width * 0.3 * geometry.spec.pitch_mm))
    found = choose_tap_drill(narrowed, material, aim=aim)
    if isinstance(found, Note):
        inside = drill_sizes.in_window(smallest, narrowed.minor.max_mm or 0.0, drill_sizes.series("metric", "inch"))
        over = [size.mm + drill_sizes.oversize(size.mm, material).expected_mm for size in inside]
        assert all(hole > (narrowed.minor.max_mm or 0.0) for hole in over), "no legal drill was overlooked"
        return
    size, fit, _ = found
    assert smallest <= size.mm
    assert fit.hole_mm <= (narrowed.minor.max_mm or 0.0) + 1e-9


@given(SHAPES, AIMS)
def test_the_largest_is_never_under_the_smallest(geometry: ThreadGeometry, aim: str) -> None:
    large, small = (choose_tap_drill(geometry, "carbide", aim=wanted) for wanted in (LARGEST, SMALLEST))
    if not isinstance(large, Note) and not isinstance(small, Note):
        assert large[0].mm >= small[0].mm


def tapped_hole(
    geometry: ThreadGeometry, depth_mm: float | None, stated_mm: float | None, thickness: float | None
) -> ResolvedHole:
    spec = geometry.spec
    through = depth_mm is None
    feature = Feature(Kind.TAP, spec.nominal, Depth(mm=depth_mm, through=through), thread=spec)
    steps = [
        ResolvedStep(feature, Kind.TAP, spec.nominal, None, through, thickness if through else depth_mm, thread=geometry)
    ]
    if stated_mm is not None and depth_mm is not None:
        drill = drill_sizes.nearest((geometry.minor.min_mm + (geometry.minor.max_mm or 0.0)) / 2)
        drilled = Feature(Kind.DRILL, drill, Depth(mm=depth_mm + stated_mm))
        steps.append(ResolvedStep(drilled, Kind.DRILL, drill, None, False, depth_mm + stated_mm))
    member = Member(CellRef("made.csv", "-", 1, 1), "A", 1)
    hole_type = HoleType("A", Hole(tuple(step.feature for step in steps), "made"), (member,), "", thickness)
    return ResolvedHole(hole_type, tuple(steps), thickness)


@settings(max_examples=300, deadline=None)
@given(
    SHAPES,
    st.sampled_from(all_materials()),
    st.none() | st.floats(2.0, 80.0),
    st.none() | st.floats(0.0, 30.0),
    st.none() | st.floats(3.0, 100.0),
    st.booleans(),
    st.booleans(),
    st.booleans(),
)
def test_every_tapped_hole_gets_a_plan_that_cannot_crash(
    geometry: ThreadGeometry,
    material: Material,
    depth_mm: float | None,
    stated_mm: float | None,
    thickness: float | None,
    rigid: bool,
    forming: bool,
    milling: bool,
) -> None:
    """The tap stays above the drill's full diameter in a blind hole; what breaks through or does not fit is a question."""
    shop = Shop(
        machine=Machine(rigid_tapping=rigid, thread_milling=milling), preferences=Preferences(prefer_forming=forming)
    )
    made = plan_tools(tapped_hole(geometry, depth_mm, stated_mm, thickness), material, shop)
    drills = [step for step in made.steps if step.kind is StepKind.DRILL]
    assert drills
    order = [step.kind for step in made.steps]
    taps = [step for step in made.steps if step.kind.makes_thread]
    if not taps:
        assert "TAP-NONE-HOLDS" in [note.code for note in made.notes]
        return
    assert order[-1].makes_thread
    assert [tap.unfinished for tap in taps] == [True] * (len(taps) - 1) + [False]  # the taps of a hand set, in turn
    if depth_mm is not None:
        (budget,) = made.budgets
        asked = any(note.is_question for note in made.notes)
        for tap in taps:
            assert tap.tip_mm is not None
            room_mm = geometry.spec.pitch_mm * (1.0 if rigid or tap.kind is StepKind.THREAD_MILL else 2.0)
            assert tap.tip_mm <= budget.drilled_mm - room_mm + 1e-5 or (tap.depth_mm == 0 and asked)
            assert tap.depth_mm is not None
            assert abs(tap.depth_mm - depth_mm) < 1e-5 or asked or tap.unfinished
        if budget.wall_left_mm is not None and budget.wall_left_mm < shop.preferences.wall_warning_mm - 1e-5:
            assert asked
    for step in made.steps:
        if step.tip_mm is not None and step.depth_mm is not None:
            assert step.tip_mm >= step.depth_mm >= 0
            assert step.travel_mm is not None
            assert step.travel_mm > 0


@settings(max_examples=60, deadline=None)
@given(SHAPES, st.floats(4.0, 40.0), st.floats(0.1, 20.0))
def test_a_deeper_thread_never_needs_a_shallower_hole(geometry: ThreadGeometry, depth_mm: float, more_mm: float) -> None:
    """By the same process: a thread mill, which takes over in deep holes, needs less room under the thread than a tap."""
    steel = next(material for material in all_materials() if material.key == "C45")
    shop = Shop(machine=Machine(thread_milling=False))
    first, second = (
        plan_tools(tapped_hole(geometry, mm, None, None), steel, shop).budgets[0] for mm in (depth_mm, depth_mm + more_mm)
    )
    assert second.drilled_mm > first.drilled_mm


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(("M8x1.25-6H", "M24x3-6H", "M36x4-6H", "M64x6-6H", "M110x4-6H", "⌀30", "⌀47.3", "⌀60 H7")),
    st.sampled_from(("THRU", "↧4", "↧35")),
    st.sampled_from(all_materials()),
    st.floats(5.0, 400.0),
    st.floats(500.0, 20000.0),
    st.booleans(),
)
def test_planning_ends_for_every_machine_and_a_strong_one_drills_in_no_steps(
    text: str, depth: str, material: Material, torque_nm: float, thrust_n: float, milling: bool
) -> None:
    machines = (Machine(spindle_torque_nm=times * torque_nm, axis_thrust_n=times * thrust_n, thread_milling=milling)
                for times in (1.0, 1000.0))  # fmt: skip
    weak, strong = (
        explain(f"{text} {depth}", Shop(machine=machine), ReadOptions("mm", material.key, 40.0)) for machine in machines
    )
    for hole in weak.holes:
        for cut in hole.cut_plan.cuts if hole.cut_plan is not None else ():
            assert cut.step.tip_mm is not None
            assert cut.step.depth_mm is not None
            assert cut.step.tip_mm >= cut.step.depth_mm >= 0
    for hole in strong.holes:
        for cut in hole.cut_plan.cuts if hole.cut_plan is not None else ():
            assert not any(reason.rule == "DRILL-STEPS" for reason in cut.step.reasons)
