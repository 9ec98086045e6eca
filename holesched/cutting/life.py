"""Holes per tool, low and high, for estimating: the table's band, corrected for the case."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, floor, log10, prod

from holesched.cutting import formulas
from holesched.cutting.geometry import Cut
from holesched.cutting.lookup import life_factor, life_holes, tap_surface
from holesched.cutting.model import CutStep
from holesched.cutting.speeds import drill_column, operation
from holesched.notes import Note, Reason, Severity
from holesched.standards.materials import Material
from holesched.tables import cite_of
from holesched.tooling.model import StepKind, Tool

TAYLOR_EXPONENT = {"HSS": 0.125, "HSS-Co": 0.125, "carbide": 0.25}
"""Groover, tool life table, from memory."""
NAMES = {"ream": "reamer", "spot": "spot drill"}
SLOWED = 0.97
"""A speed nearer to the advised one than this was only rounded to what a person programs."""
MOST_GAIN = 2.0
"""Running slower than the table, or less deep, lengthens life no further than this. Common practice, no source."""
DRILLED_D, TAPPED_D = (2.0, 3.0), (0.0, 2.0)
"""Depths over diameter that the table's holes hold for, of drills and reamers, and of taps; an edge lasts for a length cut,
so that deeper holes are fewer in proportion. A tap starts and turns back in short threads too: they are no more. Common
practice, no source."""
SMALL_MM, COARSE_MM = 4.0, 16.0
"""Sizes below and above which a tool lasts for fewer holes. From memory."""
LIFE = cite_of("cutting_tool_life.csv")
_ALONG = (StepKind.DRILL, StepKind.REAM)


def tool_life(cut: Cut, material: Material, speed_ratio: float) -> tuple[tuple[float, float], Reason] | None:
    """Holes per tool and the reason; None where the table has no figure. `speed_ratio`: real over advised speed."""
    column = drill_column(cut.step.tool)
    factors = _of_speed(speed_ratio, column)
    if cut.is_tap:
        band = life_holes(material.subgroup, "forming" if cut.step.tool.flute_form == "forming" else "tap")
        factors += _of_surface(cut, material)
    else:
        band = life_holes(material.subgroup, "carbide" if column == "carbide" else "hss")
        data = operation(cut.kind, column)
        if data.life != 1:
            factors.append((data.life, f"a {NAMES.get(data.operation, data.operation)} against a drill"))
    factors += [(row.speed, row.because) for row in map(life_factor, _of_case(cut))]
    factors += _of_length(cut)
    if band is None:
        return None
    share = prod(value for value, _ in factors)
    low, high = (two_digits(holes * share) for holes in band)
    told = "; ".join([f"{band[0]:.0f} to {band[1]:.0f} for {material.subgroup}", *_told(factors)])
    reason = Reason(f"tool life: {holes_told((low, high))}", told, "CUT-LIFE", (LIFE,))
    return (low, high), reason


def edge_life(
    material: Material, cutter_mm: float, minutes: float, speed_ratio: float = 1.0
) -> tuple[tuple[float, float], Reason]:
    """Holes per edge of a milling cutter or boring bar of a diameter that is so many minutes in the cut in each, and the
    reason; a part of a hole where the edge wears out in it. `speed_ratio`: real over advised speed."""
    band, small = life_holes(material.subgroup, "edge") or (0.0, 0.0), life_factor("small")
    factors = [*_of_speed(speed_ratio, "carbide"), *([(small.speed, small.because)] if cutter_mm < SMALL_MM else [])]
    share = prod(value for value, _ in factors)
    low, high = (two_digits(lasts * share / minutes) for lasts in band)
    told = [f"an edge lasts {band[0]:.0f} to {band[1]:.0f} min in the cut in {material.subgroup}", *_told(factors)]
    because = f"{', '.join(told)}; {60 * minutes:.0f} s of them a hole"
    return (low, high), Reason(f"tool life: {holes_told((low, high))}", because, "CUT-LIFE", (LIFE,))


def worn_within(cuts: Sequence[CutStep]) -> list[Note]:
    """What to watch of each tool that may be worn before it has finished one hole, all its passes together."""
    worn: dict[Tool, tuple[float, float]] = {}
    for cut in cuts:
        if cut.tool_life_holes is not None:
            low, high = worn.get(cut.step.tool, (0.0, 0.0))
            worn[cut.step.tool] = (low + 1 / cut.tool_life_holes[1], high + 1 / cut.tool_life_holes[0])
    return [_worn_note(tool, ceil(low - 1e-9), ceil(high - 1e-9)) for tool, (low, high) in worn.items() if high > 1 + 1e-9]


def _worn_note(tool: Tool, least: int, most: int) -> Note:
    wears = "wears" if least > 1 else "may wear"
    needed = f"{least} to {most}" if least < most else f"{least}"
    name = f"{tool.called[0].upper()}{tool.called[1:]}"
    message = f"{name} {wears} out within one hole: {needed} of it a hole, or as many sets of edges."
    suggestion = "Have them ready; look at the edge between passes and change it there, then measure it in again."
    return Note("TOOL-WORN-WITHIN", Severity.WATCH, message, suggestion)


def holes_told(life: tuple[float, float]) -> str:
    """A life in words: "300 to 900 holes", "0.16 to 0.49 holes"."""
    return f"{' to '.join(f'{holes:.2g}' if holes < 1 else f'{holes:.0f}' for holes in life)} holes"


def _told(factors: Sequence[tuple[float, str]]) -> list[str]:
    return [f"x{value:.2g} {why}" for value, why in factors]


def _of_speed(speed_ratio: float, column: str) -> list[tuple[float, str]]:
    """What running slower than advised adds."""
    if speed_ratio >= SLOWED:
        return []
    return [(min(formulas.taylor_life_factor(speed_ratio, TAYLOR_EXPONENT[column]), MOST_GAIN), "runs slower than advised")]


def _of_surface(cut: Cut, material: Material) -> list[tuple[float, str]]:
    """What its treatment takes from a tap's holes."""
    tool = cut.step.tool
    if tool.material == "carbide" or tool.flute_form == "forming":
        return []
    surface = tap_surface(tool.treatment, material.subgroup)
    return [(surface.life, surface.because)] if surface.life != 1 else []


def _of_case(cut: Cut) -> list[str]:
    names = []
    if cut.is_tap and cut.is_blind:
        names.append("blind")
    if cut.diameter_mm < SMALL_MM and (cut.is_tap or cut.kind in _ALONG):
        names.append("small")
    if cut.is_tap and cut.diameter_mm > COARSE_MM:
        names.append("coarse")
    return names


def _of_length(cut: Cut) -> list[tuple[float, str]]:
    """What the length cut in a hole makes of the number of holes; nothing for what only finishes a bottom or a rim."""
    ratio, (least, most) = cut.depth_ratio, TAPPED_D if cut.is_tap else DRILLED_D
    if not ratio or cut.step.tool.flat_ended or not (cut.is_tap or cut.kind in _ALONG) or least <= ratio <= most:
        return []
    share = most / ratio if ratio > most else min(least / ratio, MOST_GAIN)
    return [(share, f"{ratio:.1f} D deep")]


def two_digits(holes: float) -> float:
    """A count rounded to two digits: more would be pretended. A part of a hole stays one."""
    return float(round(holes, 1 - floor(log10(holes))))
