"""Units at the edges: numbers in a drawing's or a shop's units become mm, min, N, kW here and nowhere else.

pint is imported where it is needed and only in this module; everything inside works on floats with the unit in the name.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Literal

from holesched.errors import HoleschedError

if TYPE_CHECKING:
    from pint import UnitRegistry

LengthUnit = Literal["mm", "in"]

MM_PER_INCH = 25.4
"""Exact by the international definition of the inch (1959)."""
N_PER_LBF = 4.4482216152605
"""Exact: the pound of 0.45359237 kg (1959) under the standard gravity of 9.80665 m/s2 (3rd CGPM, 1901)."""
KW_PER_HP = 0.7456998715822702
"""550 foot pounds-force in a second."""

# Our own few definitions: a full registry costs 150 ms to build. Circumference is in mm per revolution, never plain mm,
# because pint counts a revolution as 2 pi radians and would turn m/min over mm into radians per minute.
_DEFINITIONS = f"""
meter = [length] = m
second = [time] = s
gram = [mass] = g
turn = [turn] = rev
minute = 60 * second = min
inch = 0.0254 * meter = in
foot = 0.3048 * meter = ft
thou = 0.001 * inch
newton = 1000 * gram * meter / second ** 2 = N
pound_force = {N_PER_LBF} * newton = lbf
watt = newton * meter / second = W
horsepower = {KW_PER_HP} * kilowatt = hp
rpm = turn / minute
sfm = foot / minute
ipr = inch / turn
milli- = 1e-3 = m-
kilo- = 1e3 = k-
micro- = 1e-6 = u-
"""


@cache
def registry() -> UnitRegistry[float]:
    """The one pint registry, with the shop's units only (m, in, thou, rpm, sfm, ipr, N, lbf, W, hp, min, s)."""
    from pint import UnitRegistry

    ureg: UnitRegistry[float] = UnitRegistry(None, cache_folder=None)
    ureg.load_definitions([line for line in _DEFINITIONS.splitlines() if line.strip()])
    return ureg


def length_mm(value: float, unit: LengthUnit) -> float:
    """A length in the drawing's unit, in mm."""
    return value if unit == "mm" else value * MM_PER_INCH


def in_unit(value_mm: float, unit: LengthUnit) -> float:
    """A length in mm, in the unit it is to be shown in."""
    return value_mm if unit == "mm" else value_mm / MM_PER_INCH


def in_lbf(newtons: float) -> float:
    """A force in N, in pounds-force."""
    return newtons / N_PER_LBF


def in_lbf_in(newton_metres: float) -> float:
    """A torque in N m, in pound-force inches."""
    return in_unit(in_lbf(newton_metres * 1000), "in")


def in_hp(kilowatts: float) -> float:
    """A power in kW, in horsepower."""
    return kilowatts / KW_PER_HP


def quantity(text: str, target: str) -> float:
    """A shop file's "0.25 in" or "400 sfm" as a float in `target` ("mm", "m/min").

    Raises HoleschedError when the text is no quantity or has another dimension. Never give it a callout: to pint
    "3/8-16" is a subtraction.
    """
    import pint

    number, _, unit = text.strip().partition(" ")
    try:
        return float(registry().Quantity(float(number), unit.strip()).to(target).magnitude)
    except (pint.errors.PintError, ValueError, AttributeError, TypeError) as problem:
        raise HoleschedError(
            f"'{text}' is not a quantity in {target}", remedy="Write a number, a space and a unit."
        ) from problem
