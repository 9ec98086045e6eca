"""The hole before a thread: which drill makes it, where in the minor diameter's limits it lies, and why."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from holesched.notes import Note, Reason, Severity
from holesched.resolve.model import ResolvedStep
from holesched.shop.model import Shop
from holesched.standards import drill_sizes
from holesched.standards.sizes import Size
from holesched.standards.thread_window import FORMING_CITE
from holesched.standards.threads.base import ThreadGeometry
from holesched.tooling.by_engagement import by_engagement
from holesched.tooling.case import HoleCase
from holesched.tooling.cutters import AUTO, Grade, graded, may_be_carbide
from holesched.tooling.depth import CLOSE_MM
from holesched.tooling.drilling import not_standard, standard_size
from holesched.tooling.model import TapDrillFit
from holesched.tooling.opening import BORE, MILL, REAM, Way, way_of
from holesched.tooling.pipe_thread import reamed_hole
from holesched.tooling.rules import Verdict, decide
from holesched.tooling.setting import Setting
from holesched.tooling.tap_drill import check_tap_drill, choose_tap_drill, hole_window, middle_of, sized_fit
from holesched.tooling.thread_mill import THREAD_MILL

CLOSE_TO_LIMIT = "close to the limit"
"""What the rules are told of a drill whose worst hole would leave the limits."""
TOO_NARROW_TO_FORM, DRILLED_TO_FORM = "too narrow to form", "drilled to form"
"""What they are told of a drill that the drawing states: under the smallest hole to form in, or right for that and too wide
to cut the thread in."""
SIZED = {MILL: "Milled to {}.", BORE: "Bored to {}.", REAM: "Reamed to {}."}
"""What is told of a hole that no drill makes, by how it is opened."""


@dataclass(frozen=True, slots=True)
class HoleBefore:
    """The drill of one threaded hole: size, what it is made of, how it sits, why, and what is open about it.

    A taper thread has no fit: its minor diameter changes along the hole.
    """

    size: Size
    grade: Grade
    fit: TapDrillFit | None
    reasons: tuple[Reason, ...]
    notes: tuple[Note, ...]
    ream: Reason | None = None
    """Why a 1:16 taper reamer follows it; None where none does."""
    way: Way | None = None
    """How the hole is opened to that size, once that has been decided."""


def hole_before(
    case: HoleCase, geometry: ThreadGeometry, setting: Setting, pilot: ResolvedStep | None, process: str
) -> HoleBefore:
    """The hole before a thread of that process; `pilot` is the drill that the callout states."""
    return _opened(_drilled(case, geometry, setting, pilot, process), geometry, setting, pilot, process)


def drilled_for(geometry: ThreadGeometry, setting: Setting, pilot: ResolvedStep | None) -> frozenset[str]:
    """What the rules are told of the drill that the drawing states before a thread; nothing where it states none."""
    if pilot is None or geometry.taper or geometry.minor.max_mm is None:
        return frozenset()
    size, material = standard_size(pilot.diameter) or pilot.diameter, setting.grade.material
    if size.mm < hole_window(geometry, forming=True)[0] - CLOSE_MM:
        return frozenset((TOO_NARROW_TO_FORM,))
    *_, cut = check_tap_drill(geometry, size, material, forming=False, shop=setting.shop)
    *_, formed = check_tap_drill(geometry, size, material, forming=True, shop=setting.shop)
    return frozenset((DRILLED_TO_FORM,)) if cut is not None and formed is None else frozenset()


def _drilled(
    case: HoleCase, geometry: ThreadGeometry, setting: Setting, pilot: ResolvedStep | None, process: str
) -> HoleBefore:
    """The drill: the callout's own, checked; else chosen, in carbide where a steel drill cuts too far over its size."""
    forming = process == "form"
    grades = _grades(geometry, setting)
    if pilot is not None:
        stated = _stated_drill(geometry, pilot, grades, forming, setting.shop)
        unasked = forming and "forming wanted" not in case.machine
        asked = unasked and DRILLED_TO_FORM in drilled_for(geometry, setting, pilot)
        return replace(stated, notes=(_is_it_formed(stated.size, geometry), *stated.notes)) if asked else stated
    reamed = reamed_hole(case, geometry, setting) if process != THREAD_MILL else None
    if reamed is not None:
        size, reason, ream = reamed
        return HoleBefore(size, setting.grade, None, (reason,), (), ream)
    first = next(iter(setting.reckoned.tap_breaking.get(geometry.spec.designation, ())), None)
    of_tap = case if first is None else replace(case, breaking=first)
    aim = decide("tap drill aim", of_tap, frozenset((process,)), setting.book)
    question: Note | None = None
    for grade in grades:
        found = _of_grade(grade, aim, case, geometry, setting, process)
        if isinstance(found, HoleBefore):
            return _kept_inside(found, aim, case, geometry, setting, process)
        question = question or found
    assert question is not None  # there is at least one grade
    size = middle_of(geometry, forming)
    if geometry.taper:
        near = drill_sizes.nearest(size.mm)
        meanwhile = f"Planned with a hole of {near.named} meanwhile."
        return HoleBefore(near, setting.grade, None, (aim.reason,), (replace(question, assumed=meanwhile),))
    way = way_of(size.mm, setting, no_drill=True)
    no_drill = Note("TAP-HOLE-TO-SIZE", Severity.TOLD, f"{question.message} {SIZED[way.how].format(f'{size.label} mm')}")
    return HoleBefore(size, setting.grade, sized_fit(geometry, size.mm, forming), (), (no_drill,), way=way)


def _of_grade(
    grade: Grade, aim: Verdict, case: HoleCase, geometry: ThreadGeometry, setting: Setting, process: str
) -> HoleBefore | Note:
    """The hole by a drill of one grade, or why no drill of it makes a hole inside the limits."""
    forming = process == "form"
    found = choose_tap_drill(geometry, grade.material, shop=setting.shop, aim=aim.value, forming=forming)
    if isinstance(found, Note):
        return found
    size, fit, reason = found
    close = _close(geometry, size, grade, fit, setting.shop)
    if geometry.taper:
        return HoleBefore(size, grade, None, (reason,), close)
    cut = process in ("cut", "hand set") and case.depth_d is not None
    length_mm = (case.depth_d or 0.0) * case.size_mm if cut else None
    reason = by_engagement(reason, geometry, length_mm, fit, grade.material, setting.shop)
    return HoleBefore(size, grade, fit, (reason, aim.reason), close)


def _kept_inside(
    drill: HoleBefore, aim: Verdict, case: HoleCase, geometry: ThreadGeometry, setting: Setting, process: str
) -> HoleBefore:
    """The hole by a carbide drill where the worst one of the drill would leave the limits, that of carbide does not, and the
    rules say that it pays."""
    if not drill.notes or drill.grade.material == "carbide" or setting.shop.preferences.drill_material != AUTO:
        return drill
    verdict = decide("drill material", setting.case.by_holes(), frozenset((CLOSE_TO_LIMIT,)), setting.book)
    if verdict.value != "carbide":
        return drill
    better = _of_grade(graded("carbide", verdict.reason, setting.case, setting.book), aim, case, geometry, setting, process)
    return better if isinstance(better, HoleBefore) and not better.notes else drill


def _grades(geometry: ThreadGeometry, setting: Setting) -> Iterator[Grade]:
    """What the drill is made of, then carbide where another does not cut near enough to its size."""
    yield setting.grade
    if setting.grade.material != "carbide" and may_be_carbide(setting.case, setting.shop, setting.book):
        because = "only a carbide drill cuts near enough to its size for these limits"
        reason = Reason("drill material: carbide", because, "DRILL-CUTS-TO-SIZE", geometry.cites)
        yield graded("carbide", reason, setting.case, setting.book)


def _opened(
    drill: HoleBefore, geometry: ThreadGeometry, setting: Setting, pilot: ResolvedStep | None, process: str
) -> HoleBefore:
    """The hole as the rules have it opened: one that no drill makes goes to the middle of the limits, if none is stated."""
    way = drill.way or way_of(drill.size.mm, setting, drill.grade.material)
    if way.drilled or drill.fit is None:
        return replace(drill, way=way)
    forming = process == "form"
    if pilot is not None:
        notes = tuple(note for note in drill.notes if note.code not in ("TAP-DRILL-CLOSE", "DRILL-SIZE-NOT-STANDARD"))
        return replace(drill, way=way, fit=sized_fit(geometry, drill.size.mm, forming), notes=notes)
    size = middle_of(geometry, forming)
    fit = sized_fit(geometry, size.mm, forming)
    low, high = fit.window_mm
    because = (
        f"{SIZED[way.how].format('size')[:-1]}: the middle of {low:.3f} to {high:.3f} mm, {fit.percent:.0f} % of thread"
    )
    reason = Reason(f"hole before the thread: {size.label} mm", because, "TAP-HOLE-TO-SIZE", geometry.cites)
    notes = tuple(note for note in drill.notes if note.code != "TAP-DRILL-CLOSE")
    return replace(drill, size=size, fit=fit, reasons=(reason,), notes=notes, way=way)


def _is_it_formed(size: Size, geometry: ThreadGeometry) -> Note:
    """The question about a drill for forming where the shop cuts its threads: it may be the wrong size as well."""
    (low, high), name = hole_window(geometry), geometry.spec.designation
    message = f"The stated drill {size.named} is right for forming {name}, and too wide for cutting it."
    suggestion = f"Say that the thread is formed, or correct the drill: cut, its hole is {low:.3f} to {high:.3f} mm."
    return Note("TAP-DRILL-STATED-OUTSIDE", Severity.ASK, message, suggestion, "Drilled as stated, and formed.",
                cite=FORMING_CITE)  # fmt: skip


def _stated_drill(
    geometry: ThreadGeometry, pilot: ResolvedStep, grades: Iterable[Grade], forming: bool, shop: Shop
) -> HoleBefore:
    size = standard_size(pilot.diameter) or pilot.diameter
    checked = [(grade, *check_tap_drill(geometry, size, grade.material, forming, shop)) for grade in grades]
    grade, fit, reason, question = next((found for found in checked if found[3] is None), checked[0])
    notes = (question,) if question is not None else _close(geometry, size, grade, fit, shop)
    if standard_size(pilot.diameter) is None:
        notes = (*notes, not_standard(pilot.diameter, size))
    return HoleBefore(size, grade, fit, (reason,), notes)


def _close(geometry: ThreadGeometry, size: Size, grade: Grade, fit: TapDrillFit, shop: Shop) -> tuple[Note, ...]:
    """A warning when the drill's worst hole would leave the window although the expected one does not."""
    worst_mm = size.mm + shop.oversize(size.mm, grade.material).worst_mm
    if geometry.taper or worst_mm <= fit.window_mm[1] + 1e-9:
        return ()
    message = (
        f"{geometry.spec.designation}: drill {size.named} may cut up to {worst_mm:.3f} mm, over the largest hole "
        f"{fit.window_mm[1]:.3f} mm. Check the first hole with a pin."
    )
    other = "ream or bore the hole" if grade.material == "carbide" else "one of carbide on a stiff machine"
    return (Note("TAP-DRILL-CLOSE", Severity.WATCH, message, f"Use a new, evenly ground drill, or {other}."),)
