"""Every cutter but the tap: which size, material, point and number of flutes, each from a table with its standing."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache, lru_cache
from math import ceil
from typing import NamedTuple

from holesched.features.model import HoleType
from holesched.notes import Cite, Reason, Rejected, Standing
from holesched.shop.model import Shop
from holesched.standards.sizes import Limits, Size
from holesched.tables import table
from holesched.tooling.case import HoleCase
from holesched.tooling.model import StepKind, Tool
from holesched.tooling.rules import RuleBook, decide
from holesched.units import MM_PER_INCH, LengthUnit

SPOT_ANGLE_DEG = 90.0
FINE_SPOT_MM = 2.5
"""A smaller cone is not spotted with the large drill that serves the other holes: its web is as wide as the hole. Common
practice, no source."""
OF_FLANK = 0.6
"""The widest chamfer of a chamfer mill over its radius: its nose is blunt and its corner stays out. Common practice, no
source."""
OF_FINISHED = 0.6
"""An end mill on a helix, at most, over the hole it makes: from solid metal it then leaves no core standing, and chips get
past it. Common practice, no source."""
STRAIGHT = "straight"
"""The rules' word for the flutes that a reamer has unless something speaks for others."""
RELIEVED = "relieved-neck"
AUTO = "auto"
BY_DRAWING = "by the drawing"
AS_SOLD = "as sold"
_GROUND = re.compile(r",? *(\d+) degree point$")
SHOPS_OWN = Cite("shop file", place="drill_material", standing=Standing.SHOP)
_SIZE_STEP_MM = 0.005


@dataclass(frozen=True, slots=True)
class Grade:
    """A tool's material and treatment, and a drill's point, with the reasons for them."""

    material: str
    treatment: str
    reasons: tuple[Reason, ...]
    point: str = AS_SOLD
    """What is done to a drill's point, in the rules' words."""


def flutes(tool: str, diameter_mm: float, group: str) -> int:
    """The usual number of flutes of a tool of that size. Common practice, no source; tool_flutes.csv."""
    for of_group, from_mm, below_mm, number in _flutes().get(tool, ()):
        if of_group in ("", group) and from_mm <= diameter_mm < below_mm:
            return number
    raise KeyError(f"tool_flutes.csv has no row for a {tool} of {diameter_mm:g} mm.")


@cache
def _flutes() -> Mapping[str, tuple[tuple[str, float, float, int], ...]]:
    """(group, from, below, flutes) of every tool, in the table's order."""
    found: dict[str, tuple[tuple[str, float, float, int], ...]] = {}
    for row in table("tool_flutes.csv").rows:
        entry = (row["group"], float(row["from_mm"]), float(row["below_mm"] or "inf"), int(row["flutes"]))
        found[row["tool"]] = (*found.get(row["tool"], ()), entry)
    return found


def point_angle_deg(grade: Grade) -> float:
    """The point angle of a drill: the one that the rules have ground, else the usual one of its material. Common practice,
    no source; raises KeyError for a material that no drill is of."""
    ground = _GROUND.search(grade.point)
    return float(ground[1]) if ground is not None else _point_angles()[grade.material]


@cache
def _point_angles() -> Mapping[str, float]:
    return {row["material"]: float(row["angle_deg"]) for row in table("drill_points.csv").rows}


def drill_grade(case: HoleCase, shop: Shop, book: RuleBook) -> Grade:
    """What drills are made of for this workpiece: the shop's own choice, or the rules'."""
    verdict = decide("drill material", case.by_holes(), frozenset(), book)
    wanted = shop.preferences.drill_material
    material, reason = verdict.value, verdict.reason
    if wanted != AUTO:
        because = "the shop file asks for it" if wanted != material else f"the shop file asks for it, and {reason.because}"
        rejected = () if wanted == material else (Rejected(material, "SHOP-DRILL-MATERIAL", reason.because),)
        material = wanted
        reason = Reason(f"drill material: {wanted}", because, "SHOP-DRILL-MATERIAL", (SHOPS_OWN,), rejected)
    return graded(material, reason, case, book)


def may_be_carbide(case: HoleCase, shop: Shop, book: RuleBook) -> bool:
    """Whether a drill of carbide may be taken where one of another material does not do: no rule strikes it, and the shop
    asks for none."""
    possible = decide("drill material", case.by_holes(), frozenset(), book).possible
    return shop.preferences.drill_material == AUTO and "carbide" in possible


def graded(material: str, reason: Reason, case: HoleCase, book: RuleBook) -> Grade:
    """A drill material with the treatment the rules give it."""
    treatment = decide("drill treatment", case, frozenset((material,)), book)
    point = decide("drill point", case, frozenset((material,)), book)
    reasons = (reason, treatment.reason) if point.value == AS_SOLD else (reason, treatment.reason, point.reason)
    return Grade(material, treatment.value, reasons, point.value)


def cutter_grade(case: HoleCase, book: RuleBook) -> Grade:
    """What spot drills, countersinks and counterbores are made of: the rules' verdict; bright but for carbide."""
    verdict = decide("cutter material", case.by_holes(), frozenset(), book)
    if verdict.value == "carbide":
        return graded(verdict.value, verdict.reason, case, book)
    return Grade(verdict.value, "bright", (verdict.reason,))


def drill(size: Size, grade: Grade, group: str, shop: Shop) -> Tool:
    """A twist drill of that size."""
    dubbed = "" if grade.point == AS_SOLD else _GROUND.sub("", grade.point)
    oversize_mm = shop.oversize(size.mm, grade.material).expected_mm
    return _drill(size, grade.material, grade.treatment, point_angle_deg(grade), dubbed, group, oversize_mm)


@lru_cache(maxsize=1024)
def _drill(size: Size, material: str, treatment: str, point_deg: float, dubbed: str, group: str, oversize_mm: float) -> Tool:
    return Tool(
        kind=StepKind.DRILL,
        diameter_mm=size.mm,
        size=size.label,
        material=material,
        treatment=treatment,
        flutes=flutes("drill", size.mm, group),
        point_angle_deg=point_deg,
        oversize_mm=oversize_mm,
        name=f"drill, {dubbed}" if dubbed else "drill",
    )


def renamed(tool: Tool, name: str) -> Tool:
    """The same tool by another name, with what stands behind its first one kept: "drill, lips dubbed"."""
    _, comma, further = tool.name.partition(", ")
    return replace(tool, name=f"{name}{comma}{further}")


def cutters_in(hole_type: HoleType, shop: Shop) -> LengthUnit:
    """The unit of the sizes in which the shop keeps its cutters: its own, or that of the drawing."""
    own = shop.preferences.cutters_in
    return "in" if own == "in" or (own == BY_DRAWING and hole_type.drawn_in == "in") else "mm"


def spot_drill(needed_mm: float, case: HoleCase, grade: Grade) -> Tool | None:
    """The spot drill for a cone of that diameter: the smallest of those kept loaded; None when none is large enough."""
    fine = needed_mm < FINE_SPOT_MM
    large = [each for each in _sold("spot", case.cutters_in) if each.size.mm >= needed_mm]
    if not large:
        return None
    size = min(large, key=lambda each: (not fine and not each.usual, each.size.mm)).size
    return _spot_drill(size, grade.material, grade.treatment, case.group)


@lru_cache(maxsize=256)
def _spot_drill(size: Size, material: str, treatment: str, group: str) -> Tool:
    return Tool(
        kind=StepKind.SPOT,
        diameter_mm=size.mm,
        size=size.label,
        material=material,
        treatment=treatment,
        flutes=flutes("spot", size.mm, group),
        point_angle_deg=SPOT_ANGLE_DEG,
        name=f"{SPOT_ANGLE_DEG:g} degree spot drill",
    )


class _Sold(NamedTuple):
    """A size of a cutter as it is sold, whether a shop usually keeps it loaded, and how long its flutes are."""

    size: Size
    usual: bool
    flute_mm: float


@cache
def _sold(cutter: str, unit: LengthUnit) -> tuple[_Sold, ...]:
    """Every size of a cutter in a unit, smallest first."""
    rows = [row for row in table("cutter_sizes.csv").rows if (row["cutter"], row["unit"]) == (cutter, unit)]
    return tuple(sorted(map(_read_size, rows), key=lambda each: each.size.mm))


def _read_size(row: Mapping[str, str]) -> _Sold:
    mm = MM_PER_INCH if row["unit"] == "in" else 1.0
    size = Size(float(sum(map(Fraction, row["size"].split()))) * mm, row["size"])
    return _Sold(size, row["usual"] == "yes", float(row["flute"] or 0) * mm)


def countersink(needed_mm: float, angle_deg: float, case: HoleCase, grade: Grade) -> Tool:
    """A countersink that covers a diameter: the next size of the table, above the largest one the next millimetre or quarter
    of an inch.

    The angle is part of the tool: 82, 90, 100 and 120 degrees are four tools.
    """
    sizes = (each.size for each in _sold("countersink", case.cutters_in))
    size = next((size for size in sizes if size.mm >= needed_mm - _SIZE_STEP_MM), None) or _above_all(needed_mm, case)
    return Tool(
        kind=StepKind.COUNTERSINK,
        diameter_mm=size.mm,
        size=size.label,
        material=grade.material,
        treatment=grade.treatment,
        flutes=flutes("countersink", size.mm, case.group),
        point_angle_deg=angle_deg,
        name=f"{angle_deg:g} degree countersink",
    )


def chamfer_mill(width_mm: float, case: HoleCase, book: RuleBook) -> Tool:
    """The smallest chamfer mill whose flank makes a chamfer of that width on a circle, whatever its rim; the largest for
    wider ones, which it makes at several depths."""
    sizes = [each.size for each in _sold("chamfer mill", case.cutters_in)]
    size = next((size for size in sizes if width_mm <= OF_FLANK * size.mm / 2), sizes[-1])
    return Tool(
        kind=StepKind.COUNTERSINK,
        diameter_mm=size.mm,
        size=size.label,
        material="carbide",
        treatment=decide("drill treatment", case, frozenset(("carbide",)), book).value,
        flutes=flutes("chamfer mill", size.mm, case.group),
        point_angle_deg=SPOT_ANGLE_DEG,
        name=f"{SPOT_ANGLE_DEG:g} degree chamfer mill",
    )


def _above_all(needed_mm: float, case: HoleCase) -> Size:
    """The size of a countersink that is made to order."""
    if case.cutters_in == "mm":
        return Size(float(round(needed_mm + 0.5)), f"{round(needed_mm + 0.5)}")
    quarters = Fraction(ceil(4 * needed_mm / MM_PER_INCH), 4)
    return Size(float(quarters) * MM_PER_INCH, _in_fractions(quarters))


def _in_fractions(inches: Fraction) -> str:
    """An inch size as it is called: 7/16, 1 1/4, 2."""
    whole, part = divmod(inches, 1)
    return " ".join(str(each) for each in (whole, part) if each)


def sold_size(called: Size, limits: Limits | None) -> Size:
    """The size by which a flat cutter is sold for a diameter: the 32nd of an inch that an inch decimal of three or more
    places is the rounding of (.438 in is 7/16), where that is inside `limits`; else the diameter itself. Common practice, no
    source."""
    found = re.fullmatch(r"(\d*\.(\d{3,4})) in", called.label)
    if found is None:
        return called
    fraction = Fraction(round(32 * float(found[1])), 32)
    mm = float(fraction) * MM_PER_INCH
    rounding_in = 0.5 * 10 ** -len(found[2])
    if abs(float(fraction) - float(found[1])) > rounding_in + 1e-9:
        return called
    if limits is not None and not limits.min_mm <= mm <= (limits.max_mm or mm):
        return called
    return Size(mm, _in_fractions(fraction))


def flat_cutter(kind: StepKind, size: Size, group: str, grade: Grade) -> Tool:
    """A counterbore or spotface cutter of exactly that size, flat-ended."""
    name = "counterbore" if kind is StepKind.COUNTERBORE else "spotface"
    return Tool(
        kind=kind,
        diameter_mm=size.mm,
        size=size.label,
        material=grade.material,
        treatment=grade.treatment,
        flutes=flutes(name, size.mm, group),
        name=name if kind is StepKind.COUNTERBORE else "spotface cutter",
    )


def reamer(size: Size, limit: str, case: HoleCase, book: RuleBook) -> tuple[Tool, tuple[Reason, ...]]:
    """A machine reamer for a finished diameter, and why it is that one; `limit` is its fit."""
    verdict = decide("reamer material", case.by_holes(), frozenset(), book)
    flute = decide("reamer flutes", case, frozenset(), book)
    spiral = flute.value != STRAIGHT
    tool = Tool(
        kind=StepKind.REAM,
        diameter_mm=size.mm,
        size=size.label,
        material=verdict.value,
        flutes=flutes("reamer", size.mm, case.group),
        limit=limit,
        name=f"reamer, {flute.value} flutes" if spiral else "reamer",
    )
    return tool, (verdict.reason, flute.reason) if spiral else (verdict.reason,)


def end_mill(finished_mm: float, depth_mm: float | None, case: HoleCase, book: RuleBook) -> Tool | None:
    """The end mill that makes a hole on a helix: the largest up to 0.6 of it, for it needs the fewest rings and turns and is
    the stiffest; None below them all. Common practice, no source.

    It cuts over its centre, and so needs no hole to go into. Deeper (`depth_mm`) than its flutes its neck is relieved.
    """
    sold = _sold("end mill", case.cutters_in)
    mill = next((each for each in reversed(sold) if each.size.mm <= OF_FINISHED * finished_mm + 1e-9), None)
    if mill is None:
        return None
    reaches = depth_mm is None or depth_mm <= mill.flute_mm
    return Tool(
        kind=StepKind.MILL,
        diameter_mm=mill.size.mm,
        size=mill.size.label,
        material="carbide",
        treatment=decide("drill treatment", case, frozenset(("carbide",)), book).value,
        flutes=flutes("end mill", mill.size.mm, case.group),
        name="centre-cutting end mill" if reaches else f"{RELIEVED} centre-cutting end mill",
    )


def boring_bar(size: Size, limit: str, group: str) -> Tool:
    """A boring bar or head set to a diameter."""
    return Tool(
        kind=StepKind.BORE,
        diameter_mm=size.mm,
        size=size.label,
        material="carbide",
        treatment="TiN" if group in ("P", "M", "K") else "bright",
        flutes=flutes("boring bar", size.mm, group),
        limit=limit,
        name="boring bar",
    )
