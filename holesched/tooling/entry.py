"""How a hole is entered: the spot drill's cone, which is the chamfer too wherever it can be, or a chamfer of its own."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from holesched.callouts.model import Kind, Side
from holesched.notes import COMMON_PRACTICE, Cite, Reason
from holesched.resolve.model import ResolvedStep
from holesched.standards.threads.insert_depths import COUNTERSINK_CITES, COUNTERSINK_DEG, countersink_mm
from holesched.tooling.case import HoleCase
from holesched.tooling.chamfer import because_of, chamfer_work
from holesched.tooling.cones import NEARLY_MM
from holesched.tooling.cutters import Grade, countersink, spot_drill
from holesched.tooling.model import OPENING, StepKind
from holesched.tooling.setting import Setting, on_side
from holesched.tooling.work import Work

THREAD_CHAMFER = 1.05
"""Rim of a tapped hole's entry chamfer over the nominal diameter (1.0 to 1.05 by DIN 76-1). Common practice, no source."""
FORMED_EXTRA_P = 0.3
"""What a formed thread's chamfer is wider, in pitches, because material rises. Common practice, no source."""
EDGE_MM = ((10.0, 0.3), (float("inf"), 0.5))
"""Edge break of a plain hole by its diameter. Common practice, no source."""
DIMPLE_SHARE = 0.7
"""Rim of a spot that is no chamfer, over the drill that follows; at most twice as wide as deep, so that a cone of 90 degrees
ends at half the depth of a hole that is shallower than itself. Common practice, no source."""
SPOT_UNDER_CARBIDE = Cite("Cutting Tool Engineering", "June 2012", "starting holes")


def entry_works(works: Sequence[Work], steps: Sequence[ResolvedStep], side: Side, setting: Setting) -> tuple[Work, ...]:
    """Spot and entry chamfer for the hole's works from one side: no spot when nothing is drilled from there, nothing at all
    when nothing is milled either."""
    drills = [work for work in works if work.kind is StepKind.DRILL and work.side is side]
    starts = drills or [work for work in works if work.kind is StepKind.MILL and work.side is side]
    if not starts:
        return ()
    first = min(starts, key=lambda work: work.diameter_mm)
    mine, grade = [step for step in steps if on_side(step, side)], setting.cutter
    flats = (Kind.COUNTERBORE,) if setting.slanted else (Kind.COUNTERBORE, Kind.SPOTFACE)
    rim_mm, rim_because = _rim(works, mine, side, flats)
    floor = next((step.kind.value for step in mine if step.kind in flats), "")
    inside_mm = _inside_mm(works, side, setting)
    insert = _insert_thread(works, side)
    if insert is not None and rim_mm > 0:
        spot = [_spot(min(DIMPLE_SHARE * first.diameter_mm, 2 * inside_mm), False, "", side, setting.case, grade)]
        wanted = setting.shop.preferences.spot_drill and first.tool.material != "carbide"
        return (*(spot if wanted else []), _insert_entrance(insert, side, setting.case, grade))
    threaded = any(work.kind.makes_thread and work.side is side for work in works)
    found: list[Work] = []
    spotted = False
    too_heavy, too_thin = setting.reckoned.heavy_spot, False
    if setting.shop.preferences.spot_drill and first.tool.material != "carbide":
        at_face = rim_mm if not (floor or too_heavy) else 0.0
        deepest_mm = max(inf if work.depth_mm is None else work.depth_mm + work.lead_mm for work in drills)
        too_thin = inside_mm < deepest_mm and at_face > 2 * inside_mm
        spotted = 0 < at_face <= 2 * min(deepest_mm, inside_mm) and spot_drill(at_face, setting.case, grade) is not None
        spot_mm = at_face if spotted else min(DIMPLE_SHARE * first.diameter_mm, deepest_mm, 2 * inside_mm)
        found.append(_spot(spot_mm, spotted, rim_because, side, setting.case, grade))
    if rim_mm > 0 and (threaded or ((too_heavy or too_thin) and found)) and not spotted:
        why = "the counterbore takes the spot's cone away" if floor else "no spot drill makes it"
        if too_heavy and not floor:
            why = "a spot so wide takes more torque or thrust than the machine gives: spotted small, chamfered when drilled"
        elif too_thin:
            why = "a spot so wide would come out through the part: spotted small, chamfered when drilled"
        if not drills:
            why = "an end mill leaves the edge sharp"
        elif first.tool.material == "carbide" and not floor:
            why = "a carbide drill starts without a spot: a 90 degree cone would meet its corners first"
        found.append(_chamfer(rim_mm, f"{rim_because}; {why}", side, works, setting))
    return tuple(found)


def _inside_mm(works: Sequence[Work], side: Side, setting: Setting) -> float:
    """How deep a spot may go and stays inside the part, below the flat that it starts on where the face is slanted; half way
    through the thinnest sheet."""
    if setting.thickness_mm is None:
        return inf
    flats = (work.depth_mm for work in works if work.kind is StepKind.SPOTFACE and work.side is side and setting.slanted)
    under_mm = setting.thickness_mm - max((depth_mm for depth_mm in flats if depth_mm is not None), default=0.0)
    return max(under_mm - NEARLY_MM, under_mm / 2)


def _insert_thread(works: Sequence[Work], side: Side) -> Work | None:
    """The thread for a wire insert among the works of a side."""
    return next(
        (
            work
            for work in works
            if work.kind.makes_thread
            and work.side is side
            and work.step is not None
            and work.step.thread is not None
            and work.step.thread.spec.series.startswith("STI-")
        ),
        None,
    )


def _insert_entrance(thread: Work, side: Side, case: HoleCase, grade: Grade) -> Work:
    """The 120 degree entrance to the insert thread's major diameter, as the insert's standard has it."""
    assert thread.step is not None
    assert thread.step.thread is not None
    spec = thread.step.thread.spec
    limits = countersink_mm(spec.nominal.mm, spec.pitch_mm)
    rim_mm = (limits.min_mm + (limits.max_mm or limits.min_mm)) / 2
    tool = countersink(rim_mm, COUNTERSINK_DEG, case, grade)
    because = (
        f"the entrance of a wire insert: 120 degrees, {limits.min_mm:.2f} to {limits.max_mm or limits.min_mm:.2f} mm, to "
        "the major diameter of the insert thread and not of the screw"
    )
    reason = Reason(f"entrance: {tool.sized} to Ø{rim_mm:.2f} mm", because, "INSERT-ENTRANCE", COUNTERSINK_CITES)
    return Work(StepKind.COUNTERSINK, tool, None, rim_mm, side=side, reasons=(reason, *grade.reasons))


def _rim(works: Sequence[Work], steps: Sequence[ResolvedStep], side: Side, flats: Sequence[Kind]) -> tuple[float, str]:
    """Rim of the entry chamfer and why; 0 when a countersink makes it, or when only a counterbored plain hole is entered."""
    if any(step.kind is Kind.COUNTERSINK for step in steps):
        return 0.0, ""
    mine = [work for work in works if work.side is side]
    threads = [work for work in mine if work.kind.makes_thread]
    if threads:
        thread = max(threads, key=lambda work: work.diameter_mm)
        rim_mm = THREAD_CHAMFER * thread.diameter_mm
        if thread.tool.flute_form == "forming":
            rim_mm += FORMED_EXTRA_P * (thread.tool.pitch_mm or 0.0)
        helps = "the tap starts and no burr stands up" if thread.kind is StepKind.TAP else "no burr stands up"
        return rim_mm, f"entry chamfer to {rim_mm:.2f} mm, a little over the thread: {helps}"
    if any(step.kind in flats for step in steps):
        return 0.0, ""
    widest_mm = max(work.diameter_mm for work in mine if work.kind in OPENING)
    edge_mm = next(edge for below, edge in EDGE_MM if widest_mm <= below)
    return widest_mm + 2 * edge_mm, f"breaks the edge by {edge_mm:g} mm in the same stroke"


def _spot(rim_mm: float, is_chamfer: bool, because: str, side: Side, case: HoleCase, grade: Grade) -> Work:
    tool = spot_drill(rim_mm, case, grade)
    if tool is None:  # a dimple is never larger than the largest spot drill
        rim_mm = 20.0
        tool = spot_drill(rim_mm, case, grade)
    assert tool is not None
    why = because if is_chamfer else "a dimple to start the drill; the chamfer is made by another tool or not wanted"
    reason = Reason(f"spot: {tool.sized} to Ø{rim_mm:.2f} mm", f"the drill starts true; {why}", "SPOT", (COMMON_PRACTICE,))
    return Work(StepKind.SPOT, tool, None, rim_mm, side=side, reasons=(reason, *grade.reasons))


def _chamfer(rim_mm: float, because: str, side: Side, works: Sequence[Work], setting: Setting) -> Work:
    work = chamfer_work(rim_mm, side, works, setting)
    decision = f"chamfer: {work.tool.sized} to Ø{rim_mm:.2f} mm"
    return because_of(Reason(decision, because, "CHAMFER", (SPOT_UNDER_CARBIDE, COMMON_PRACTICE)), work)
