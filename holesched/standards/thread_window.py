"""Windows a tapped hole's drill must hit: minor-diameter limits, widened by engagement, and those of a forming tap.

Every window is of the *hole*; a drill's oversize (drill_sizes.oversize) is added to the drill before it is compared.
"""

from __future__ import annotations

from dataclasses import dataclass

from holesched.notes import Cite, Standing
from holesched.standards.sizes import Limits
from holesched.standards.thread_percent import FULL_HEIGHT, forming_hole_mm
from holesched.standards.threads.base import ThreadGeometry

ENGAGEMENT_CITE = Cite("Machinery's Handbook", "31", "p. 2170, hole sizes for tapping by length of engagement")
FORMING_CITE = Cite("Machinery's Handbook", "31", "cold-form tapping, hole = D - 0.0068 % P", Standing.FROM_MEMORY)
CREST_CITE = Cite("DIN 13-50", "", "minor diameter of formed threads may be of grade 7 in class 6H", Standing.FROM_MEMORY)

FORMING_TARGET_PERCENT = 65.0
"""The percentage the handbook advises for forming taps."""
FORMING_MOST_PERCENT = 75.0
"""Above it the crests close and the torque runs away; common practice, no source."""
CREST_WIDENING = 1.25
"""Grade 7 over grade 6: ISO 965-1's step of four members of the R40 series, as DIN 13-50 allows for formed crests."""


@dataclass(frozen=True, slots=True)
class FormingWindow:
    """Holes for a forming tap in mm: smallest, advised and largest, with the sources."""

    low_mm: float
    target_mm: float
    high_mm: float
    cites: tuple[Cite, ...]


def minor_window(geometry: ThreadGeometry) -> Limits:
    """The hole a cutting tap needs: the minor-diameter limits of the thread's class, in mm."""
    return geometry.minor


def engagement_window(geometry: ThreadGeometry, engagement_mm: float) -> Limits:
    """The hole the handbook advises for a length of engagement, in mm: the longer the thread, the larger the hole.

    Machinery's Handbook, 31st ed., p. 2170, with T the minor diameter's tolerance and Le the engagement over D:
    to 1/3 D: min to min + T/2; to 2/3 D: both raised by T/4; to 1 1/2 D: min + T/2 to max; to 3 D: both raised by another
    T/4, so that the largest hole lies T/4 above the class's limit. Longer than 3 D is taken as 3 D. Raises ValueError for
    a thread without upper minor limit or an engagement that is not positive.
    """
    smallest, largest = geometry.minor.min_mm, geometry.minor.max_mm
    if largest is None:
        raise ValueError(f"{geometry.spec.designation} has no largest minor diameter.")
    if engagement_mm <= 0:
        raise ValueError("A length of engagement is more than nothing.")
    quarter = (largest - smallest) / 4
    diameters = (
        engagement_mm / geometry.basic_major_mm - 1e-9
    )  # a length of exactly 2/3 D belongs to the step that ends there
    steps = 0 if diameters <= 1 / 3 else 1 if diameters <= 2 / 3 else 2 if diameters <= 1.5 else 3
    return Limits(round(smallest + steps * quarter, 6), round(smallest + (steps + 2) * quarter, 6))


def formed_minor_mm(nominal_mm: float, pitch_mm: float, hole_mm: float) -> float:
    """The minor diameter a forming tap leaves from a drilled hole, in mm.

    The handbook's percentage, (D - hole) / (0.0068 P), is of the full height of thread; so the crest lies at
    D - percentage x 1.299038 P.
    """
    share = (nominal_mm - hole_mm) / (0.68 * pitch_mm)
    return nominal_mm - share * FULL_HEIGHT * pitch_mm


def forming_hole(nominal_mm: float, pitch_mm: float, percent: float = FORMING_TARGET_PERCENT) -> float:
    """The drilled hole in mm for a forming tap at a percentage of thread: D - 0.0068 x percent x P.

    Machinery's Handbook, cold-form tapping, from memory. Raises ValueError for a percentage outside 1 to 100.
    """
    if not 1 <= percent <= 100:
        raise ValueError(f"{percent:g} is no percentage of thread; write 65 for 65 %.")
    return forming_hole_mm(nominal_mm, percent, pitch_mm)


def forming_window(geometry: ThreadGeometry) -> FormingWindow:
    """The drilled hole in mm for forming a thread, from its pitch and class.

    Smallest: 75 % of thread (common practice). Largest: the crest reaches the class's largest minor diameter, widened by a
    quarter of its tolerance (DIN 13-50, from memory, for metric; applied to inch threads likewise, common practice, since
    the handbook's 65 % already needs it there). Advised: 65 %, or the largest hole where that is smaller.
    Raises ValueError for a taper thread or one without upper minor limit.
    """
    smallest, largest = geometry.minor.min_mm, geometry.minor.max_mm
    if largest is None or geometry.taper:
        raise ValueError(f"{geometry.spec.designation} is not formed.")
    nominal_mm, pitch_mm = geometry.basic_major_mm, geometry.spec.pitch_mm
    crest_mm = smallest + CREST_WIDENING * (largest - smallest)
    high_mm = nominal_mm - 0.68 / FULL_HEIGHT * (nominal_mm - crest_mm)
    low_mm = forming_hole(nominal_mm, pitch_mm, FORMING_MOST_PERCENT)
    target_mm = forming_hole(nominal_mm, pitch_mm)
    return FormingWindow(
        round(min(low_mm, high_mm), 6), round(min(target_mm, high_mm), 6), round(high_mm, 6), (FORMING_CITE, CREST_CITE)
    )
