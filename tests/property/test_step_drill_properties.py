"""Properties of step drills over generated holes: nothing is lost, nothing is longer or lighter than it may be."""

from __future__ import annotations

from collections import Counter

from hypothesis import given, settings
from hypothesis import strategies as st

from holesched.cutting.model import CutStep
from holesched.notes import CellRef
from holesched.pipeline import plan_schedule
from holesched.schedule.model import JobHeader, Schedule, ScheduleRow
from holesched.sequence.model import JobPlan
from holesched.shop.model import Preferences, Shop
from holesched.standards.materials import Material, all_materials
from holesched.tooling.model import StepKind, place_in_order
from holesched.tooling.step_drill import LARGEST_RATIO

SECONDS = (
    "⌴ ⌀{wide:.1f} ↧{deep:.1f}",
    "⌵ ⌀{wide:.1f} X 90°",
    "⌵ ⌀{wide:.1f} X 120°",
    "\n⌀{wide:.1f} ↧{deep:.1f}",
)
SMALL = st.floats(2.0, 20.0).map(lambda mm: round(mm, 1))
HOLES = st.tuples(
    st.integers(1, 12),
    SMALL,
    st.floats(1.05, 2.2),
    st.floats(0.5, 15.0),
    st.sampled_from(SECONDS),
    st.sampled_from(("THRU", "↧22")),
).map(lambda of: f"{of[0]}X ⌀{of[1]:.1f} {of[5]} {of[4].format(wide=of[1] * of[2], deep=of[3])}")
THREADS = st.sampled_from(("M8 ↧16", "4X M10x1.25 ↧14", "M6 THRU", "2X 1/4-20 UNC ↧12"))
ROWS = st.lists(HOLES | THREADS, min_size=1, max_size=4)


def planned(rows: list[str], material: Material, shop: Shop, lot: int | None) -> JobPlan:
    header = JobHeader(material=material.key, thickness_mm=30.0, lot=lot)
    read = tuple(ScheduleRow(CellRef("made.csv", "-", 2 + n, 1), f"A{n}", text, "mm") for n, text in enumerate(rows))
    return plan_schedule(Schedule("made.csv", "-", "", header, read, (), len(read)), (), shop)


def cuts(job: JobPlan) -> list[tuple[str, CutStep]]:
    return [(hole.type.letter, cut) for hole in job.holes for cut in (hole.cut_plan.cuts if hole.cut_plan else ())]


def made(job: JobPlan) -> Counter[tuple[str, StepKind, float]]:
    """What is made in each hole type, whatever tool makes it."""
    parts = ((letter, part) for letter, cut in cuts(job) for part in cut.step.parts)
    return Counter((letter, part.kind, part.diameter_mm) for letter, part in parts)


@settings(max_examples=120, deadline=None)
@given(ROWS, st.sampled_from(all_materials()))
def test_with_step_drills_the_same_holes_are_made_in_less_time(rows: list[str], material: Material) -> None:
    shop = Shop(preferences=Preferences(drill_material="carbide"))
    together, apart = planned(rows, material, shop, 2000), planned(rows, material, shop, 1)
    assert together.ledger == apart.ledger
    assert made(together) == made(apart)
    stepped = [cut for _, cut in cuts(together) if cut.step.also is not None]
    if not stepped:
        return
    assert together.time.total_min < apart.time.total_min
    alone = {(letter, cut.step.diameter_mm): cut for letter, cut in cuts(apart) if cut.step.kind is StepKind.DRILL}
    for letter, cut in cuts(together):
        step, also, shoulder = cut.step, cut.step.also, cut.step.tool.shoulder
        if also is None:
            continue
        drill = alone[letter, step.diameter_mm]
        assert shoulder is not None
        assert step.tip_mm == drill.step.tip_mm
        assert step.diameter_mm < also.diameter_mm <= LARGEST_RATIO * step.diameter_mm
        assert 0 < shoulder.length_mm < (step.tip_mm or 0.0)
        assert cut.spindle_rpm <= drill.spindle_rpm
        assert (cut.torque_nm or 0.0) >= (drill.torque_nm or 0.0) * (cut.feed_mm_per_rev / drill.feed_mm_per_rev)
        assert not cut.overload
        if not step.through:
            assert 30.0 - (step.tip_mm or 0.0) - shoulder.over_mm >= shop.preferences.wall_warning_mm - 0.005


@settings(max_examples=60, deadline=None)
@given(ROWS, st.sampled_from(all_materials()))
def test_the_order_of_work_is_kept(rows: list[str], material: Material) -> None:
    job = planned(rows, material, Shop(), 2000)
    at = {id(target.cut): operation.number for operation in job.operations for target in operation.targets}
    for hole in job.holes:
        mine = [cut for cut in (hole.cut_plan.cuts if hole.cut_plan else ()) if not cut.step.turned_over]
        steps = [cut.step for cut in mine]
        places = [place_in_order(step.kind, before_thread=step.tool.before_thread, starts_drill=False) for step in steps]
        assert places == sorted(places)
        numbers = [at[id(cut)] for cut in mine if not cut.step.tool.by_hand]
        assert numbers == sorted(numbers), "what is made first in the hole is made first in the job"
