"""Holes per tool, low and high, for estimating: the table's band, corrected for the case."""

from __future__ import annotations

from math import floor, log10

from holesched.cutting import formulas
from holesched.cutting.geometry import Cut
from holesched.cutting.lookup import life_factor, life_holes, tap_surface
from holesched.cutting.speeds import drill_column, operation
from holesched.notes import Reason
from holesched.standards.materials import Material
from holesched.tables import cite_of
from holesched.tooling.model import StepKind

TAYLOR_EXPONENT = {"HSS": 0.125, "HSS-Co": 0.125, "carbide": 0.25}
"""Groover, tool life table, from memory."""
NAMES = {"ream": "reamer", "mill": "end mill", "bore": "boring bar", "spot": "spot drill"}
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
_ALONG = (StepKind.DRILL, StepKind.REAM, StepKind.BORE)


def tool_life(cut: Cut, material: Material, speed_ratio: float) -> tuple[tuple[float, float], Reason] | None:
    """Holes per tool and the reason; None where the table has no figure. `speed_ratio`: real over advised speed."""
    column = drill_column(cut.step.tool)
    factors = []
    if speed_ratio < SLOWED:
        gain = min(formulas.taylor_life_factor(speed_ratio, TAYLOR_EXPONENT[column]), MOST_GAIN)
        factors.append((gain, "runs slower than advised"))
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
    share = 1.0
    for value, _ in factors:
        share *= value
    low, high = (two_digits(holes * share) for holes in band)
    told = "; ".join([f"{band[0]:.0f} to {band[1]:.0f} for {material.subgroup}", *(f"x{v:.2g} {why}" for v, why in factors)])
    reason = Reason(f"tool life: {low:.0f} to {high:.0f} holes", told, "CUT-LIFE", (LIFE,))
    return (low, high), reason


def edge_life(material: Material, cutter_mm: float, minutes: float) -> tuple[tuple[float, float], Reason]:
    """Holes per milling cutter of a diameter that is so many minutes in the cut in each, and the reason."""
    band, small = life_holes(material.subgroup, "edge") or (0.0, 0.0), life_factor("small")
    share = small.speed if cutter_mm < SMALL_MM else 1.0
    low, high = (two_digits(lasts * share / minutes) for lasts in band)
    because = (
        f"an edge lasts {band[0]:.0f} to {band[1]:.0f} min in the cut in {material.subgroup}"
        f"{f', x{share:g} {small.because}' if share != 1 else ''}; {60 * minutes:.0f} s of them a hole"
    )
    return (low, high), Reason(f"tool life: {low:.0f} to {high:.0f} holes", because, "CUT-LIFE", (LIFE,))


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
    """A count rounded to two digits: more would be pretended. At least 1."""
    if holes < 1:
        return 1.0
    return float(round(holes, 1 - floor(log10(holes))))
