"""How a hole of one diameter is opened: by a drill, in steps of drills, or drilled smaller and then milled, bored or reamed.

A drill larger than the trade uses, or one that takes more than the machine gives even in steps, leaves the rest of the hole
to another tool; so does a hole whose limits lie between two drills.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil, sqrt

from holesched.notes import COMMON_PRACTICE, Note, Reason, Severity
from holesched.standards import drill_sizes, fits
from holesched.standards.sizes import Size
from holesched.tables import cite_of
from holesched.tooling.cutters import OF_FINISHED, RELIEVED, boring_bar, end_mill, flutes, reamer
from holesched.tooling.model import MINOR_REAMER, StepKind, Tool
from holesched.tooling.rules import decide
from holesched.tooling.setting import Setting
from holesched.tooling.work import Work

DRILL, MILL, BORE, REAM = "drill", "mill", "bore", "ream"
"""The rules' verdicts."""
INTO_SOLID = "helix into solid"
"""The rules' verdict on a milled hole that needs no drill."""
TOO_HEAVY = "too heavy"
"""What the rules are told of a drill that takes more than the machine gives in every number of steps."""
NO_DRILL_FITS = "no drill fits"
POINT_TOO_DEEP = "point too deep"
"""What the rules are told of a blind hole shallower than its drill's point, which leaves too little wall or none."""
"""What the rules are told of a hole whose limits lie between two drills."""
MOST_STEPS = 3
"""Beside a pilot, a hole is drilled in at most so many steps. Common practice, no source."""
PILOT_FROM_MM = 20.0
"""Drills larger than this get a pilot. Common practice, no source."""
PILOT_SHARE = 0.35
"""Pilot over drill diameter: a little more than the web. Common practice, no source."""
STOCK_MM = 1.0
"""Least left on the diameter for an end mill or a boring bar. Common practice, no source."""
BEFORE_MILL_MM, BEFORE_BORE_MM = 20.0, 32.0
"""The largest drill before a hole is milled (the largest without a pilot) or bored. Common practice, no source."""
LIGHT_SHARE = 0.7
"""Of a hole that is too heavy to drill no more is drilled: half of its chips. Common practice, no source."""
POINT_SHARE = 0.6
"""A drill before an end mill in a blind hole is at most the depth over this, so that its point ends in the hole."""
ROUGHING_HEAD = "boring head, set anew for each pass"
BORE_PASS_MM = 6.0
"""What a boring bar takes off the diameter in one pass, at most. Common practice, no source."""
MANY_PASSES = 12
"""From so many passes of a boring bar on the shop is told of quicker ways. Common practice, no source."""
MOST_HALVINGS = 2
"""So often a pass that is too heavy for the machine is halved: lighter than 1.5 mm it would take all day. Common practice,
no source."""
MILL_REACH_D = 4.0
"""Deeper than this over its diameter an end mill gives way. Common practice, no source."""
REAMER_LEAD_MM = 1.5
"""Length of a machine reamer's bevel lead. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Way:
    """How a hole is opened, in the rules' words, and why."""

    how: str
    reason: Reason

    @property
    def drilled(self) -> bool:
        """Whether a drill makes its diameter."""
        return self.how == DRILL


def way_of(size_mm: float, setting: Setting, material: str = "", *, no_drill: bool = False, too_deep: bool = False) -> Way:
    """The way for a diameter; `material`: of its drill; `no_drill`: none makes a hole inside its limits; `too_deep`: its
    point would be."""
    most = 1 if _follows_none(material, setting) else MOST_STEPS
    heavy = setting.reckoned.heavy.get(size_mm, 0) >= most
    told = ((TOO_HEAVY, heavy), (NO_DRILL_FITS, no_drill), (POINT_TOO_DEEP, too_deep))
    given = frozenset(word for word, said in told if said)
    verdict = decide("opening", replace(setting.case, size_mm=size_mm), given, setting.book)
    return Way(verdict.value, verdict.reason)


def into_solid(size_mm: float, depth_mm: float | None, way: Way, setting: Setting) -> Reason | None:
    """Why the hole of that diameter is milled from solid metal; None where a drill goes before the tool that opens it."""
    if way.how != MILL or depth_mm is None or end_mill(size_mm, depth_mm, setting.case, setting.book) is None:
        return None
    case = replace(setting.case, size_mm=size_mm, depth_d=depth_mm / size_mm)
    verdict = decide("start of milling", case, frozenset(), setting.book)
    return verdict.reason if verdict.value == INTO_SOLID else None


def drill_before(size_mm: float, way: Way, setting: Setting, depth_mm: float | None = None) -> Size:
    """The drill that goes before the tool that opens the hole to its diameter; `depth_mm` of a blind hole."""
    if way.how == REAM:
        return drill_sizes.next_down(size_mm - fits.ream_allowance(size_mm)[0]) or drill_sizes.nearest(size_mm)
    most_mm = min(size_mm - STOCK_MM, BEFORE_BORE_MM if way.how == BORE else BEFORE_MILL_MM)
    if setting.reckoned.heavy.get(size_mm, 0) >= MOST_STEPS:
        most_mm = min(most_mm, LIGHT_SHARE * size_mm)
    if way.how == MILL and depth_mm is not None:
        most_mm = min(most_mm, depth_mm / POINT_SHARE)
    usual = drill_sizes.series("metric-preferred")
    size = drill_sizes.next_down(most_mm + 1e-6, usual) or drill_sizes.nearest(most_mm, usual)
    while setting.reckoned.heavy.get(size.mm, 0) >= MOST_STEPS and size.mm > usual[0].mm:
        size = drill_sizes.next_down(LIGHT_SHARE * size.mm, usual) or usual[0]
    return size


def smaller_drills(size_mm: float, material: str, setting: Setting) -> list[tuple[Size, Reason]]:
    """The drills that go before a drill: a pilot where it is large, and steps where it took more than the machine gives. One
    of carbide centres itself and would lose its corners in a pilot's hole."""
    if _follows_none(material, setting):
        return []
    usual = drill_sizes.series("metric-preferred")
    found: list[tuple[Size, Reason]] = []
    first_mm = 0.0
    if size_mm > PILOT_FROM_MM and material != "carbide":
        pilot = drill_sizes.nearest(round(PILOT_SHARE * size_mm), usual)
        because = f"a drill over {PILOT_FROM_MM:g} mm follows a pilot about as large as its web: less thrust, truer hole"
        found.append((pilot, Reason(f"pilot drill: {pilot.named}", because, "DRILL-PILOT", (COMMON_PRACTICE,))))
        first_mm = pilot.mm
    steps = min(setting.reckoned.heavy.get(size_mm, 0), MOST_STEPS - 1) + 1
    for number in range(1, steps):
        step_mm = sqrt(first_mm**2 + number / steps * (size_mm**2 - first_mm**2))
        size = drill_sizes.nearest(round(step_mm, 1), usual)
        because = f"in {steps} steps that each take about as much away: in fewer the machine has not enough torque or thrust"
        found.append((size, Reason(f"drill in steps: {size.named}", because, "DRILL-STEPS", (COMMON_PRACTICE,))))
    return found


def _follows_none(material: str, setting: Setting) -> bool:
    """Whether a drill is of carbide for its size's sake alone: in another drill's hole it would lose corners and size, so
    where it is too heavy another tool opens the hole. In work that asks for carbide the steps are of carbide too."""
    return material == "carbide" != setting.grade.material


def milled(hole: Work, reasons: Sequence[Reason], setting: Setting) -> tuple[Work, tuple[Note, ...]] | None:
    """The work of the end mill that makes `hole`, and what to watch; None where no mill is small enough."""
    mill = end_mill(hole.diameter_mm, hole.depth_mm, setting.case, setting.book)
    if mill is None:
        return None
    work = replace(
        hole, kind=StepKind.MILL, tool=mill, lead_mm=0.0, reasons=(*reasons, *hole.reasons, _mill_size(mill, hole))
    )
    return work, _reach(work)


def _mill_size(mill: Tool, hole: Work) -> Reason:
    """Why the end mill is that large."""
    because = f"the largest up to {OF_FINISHED:g} of the hole: the fewest rings and turns, and the stiffest"
    if mill.name.startswith(RELIEVED):
        because += f"; its flutes are shorter than the {hole.depth_mm or 0:.4g} mm of the hole, so its neck is relieved"
    return Reason(f"end mill: {mill.sized}", because, "MILL-SIZE", (cite_of("cutter_sizes.csv"),))


def finishing(hole: Work, before: Size, way: Way, setting: Setting) -> tuple[tuple[Work, ...], tuple[Note, ...]]:
    """What opens a drilled hole to the diameter of `hole`, whose depth, side, reasons and fit it takes over."""
    mill = milled(hole, (way.reason,), setting) if way.how == MILL else None
    if mill is not None:
        return (mill[0],), mill[1]
    first, *rest = _tools(hole, before, way, setting)
    return (replace(first, reasons=(way.reason, *first.reasons)), *rest), _many_passes(hole, 1 + len(rest))


def _tools(hole: Work, before: Size, way: Way, setting: Setting) -> Sequence[Work]:
    made = Size(hole.diameter_mm, f"{hole.diameter_mm:.4g}")
    if way.how == REAM:
        tool, whys = reamer(made, "", setting.case, setting.book)
        tool = replace(
            tool, name=f"{MINOR_REAMER}{tool.name.removeprefix('reamer')}", flutes=flutes("reamer", made.mm, setting.group)
        )
        depth_mm = hole.depth_mm
        if depth_mm is not None and not hole.through:
            depth_mm = max(depth_mm - REAMER_LEAD_MM, 0.0)
        return [replace(hole, kind=StepKind.REAM, tool=tool, depth_mm=depth_mm, lead_mm=REAMER_LEAD_MM,
                        reasons=(*hole.reasons, *whys))]  # fmt: skip
    feature_mm = hole.step.diameter.mm if hole.step is not None else hole.diameter_mm
    passes = list(_passes(before.mm, made.mm, setting.reckoned.lighter_from.get(feature_mm, ())))
    sizes = [mm for mm, _ in passes[:-1]]
    span = " to ".join(f"{mm:g}" for mm in dict.fromkeys((sizes[0], sizes[-1]))) if sizes else ""
    head = replace(boring_bar(Size(sizes[-1] if sizes else made.mm, span), "", setting.group), name=ROUGHING_HEAD)
    works = [
        replace(hole, kind=StepKind.BORE, tool=head, diameter_mm=mm, lead_mm=0.0, fit=None, reasons=(_rough(mm, most_mm),))
        for mm, most_mm in passes[:-1]
    ]
    return [*works, replace(hole, kind=StepKind.BORE, tool=boring_bar(made, "", setting.group), lead_mm=0.0)]


def _passes(before_mm: float, made_mm: float, lighter_from: Sequence[float]) -> Iterator[tuple[float, float]]:
    """The diameters that a boring bar makes in turn, and the most that it takes off in that pass: of even passes, each half
    as heavy from each diameter of `lighter_from` on."""
    most_mm = BORE_PASS_MM
    bounds = [before_mm, *(mm for mm in lighter_from if before_mm <= mm < made_mm), made_mm]
    for index, (from_mm, to_mm) in enumerate(pairwise(bounds)):
        most_mm = BORE_PASS_MM / 2**index
        count = ceil((to_mm - from_mm) / most_mm - 1e-9)
        for number in range(1, count):
            yield round(from_mm + number * (to_mm - from_mm) / count, 1), most_mm
        if count:
            yield to_mm, most_mm


def _rough(mm: float, most_mm: float) -> Reason:
    """Why a pass ends at that diameter."""
    because = f"a boring bar takes at most {BORE_PASS_MM:g} mm off the diameter in a pass"
    if most_mm < BORE_PASS_MM:
        because += f", and here {most_mm:g} mm: in a heavier one the machine has not enough torque"
    return Reason(f"bored in passes: {mm:g} mm", because, "BORE-PASS", (COMMON_PRACTICE,))


def _many_passes(hole: Work, passes: int) -> tuple[Note, ...]:
    """A warning for a hole that takes a boring bar all morning."""
    if passes < MANY_PASSES:
        return ()
    message = f"Ø{hole.diameter_mm:.4g} mm is bored in {passes} passes."
    suggestion = "Milled on a helix, trepanned, or turned on a lathe it takes a fraction of the time."
    return (Note("BORE-PASSES", Severity.WATCH, message, suggestion, cite=COMMON_PRACTICE),)


def _reach(work: Work) -> tuple[Note, ...]:
    """A warning for an end mill that goes deeper than it stays stiff."""
    depth_mm = work.depth_mm
    if depth_mm is None or depth_mm <= MILL_REACH_D * work.tool.diameter_mm:
        return ()
    message = f"{work.tool.called}: {depth_mm / work.tool.diameter_mm:.1f} diameters deep."
    suggestion = "Measure the hole at its bottom and mill it once more, or bore it."
    return (Note("MILL-REACH", Severity.WATCH, message, suggestion),)
