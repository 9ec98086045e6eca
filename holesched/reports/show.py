"""Numbers to text, and nowhere else: places, units, decimal sign. Inch jobs are shown in inches, ft/min and in/min."""

from __future__ import annotations

from dataclasses import dataclass

from holesched.shop.model import Shop
from holesched.standards.sizes import Limits
from holesched.units import LengthUnit, in_unit

NOT_KNOWN = "–"


@dataclass(frozen=True, slots=True)
class Show:
    """How one job's numbers are written. All methods take internal values (mm, m/min, mm/min, min, N m, kW)."""

    unit: LengthUnit
    comma: bool = False

    def number(self, value: float, places: int, least: int | None = None) -> str:
        """`value` with `places` decimals; with `least`, trailing zeros beyond that many are left out."""
        text = f"{value:.{places}f}"
        if least is not None and places > least:
            whole, _, part = text.partition(".")
            part = part[:least] + part[least:].rstrip("0")
            text = f"{whole}.{part}" if part else whole
        if float(text) == 0 and text.startswith("-"):
            text = text[1:]
        return text.replace(".", ",").replace("-", "−") if self.comma else text.replace("-", "−")

    def length(self, mm: float | None) -> str:
        """A depth or a stick-out in a column: 2 places in mm, 3 in inches."""
        if mm is None:
            return NOT_KNOWN
        return self.number(in_unit(mm, self.unit), 2 if self.unit == "mm" else 3)

    def short(self, mm: float) -> str:
        """A length in a sketch or a sentence: no trailing zeros."""
        return self.number(in_unit(mm, self.unit), 2 if self.unit == "mm" else 3, least=0)

    def fine(self, mm: float | None) -> str:
        """A limit of size: 3 places in mm, 4 in inches."""
        if mm is None:
            return NOT_KNOWN
        return self.number(in_unit(mm, self.unit), 3 if self.unit == "mm" else 4)

    def limits(self, limits: Limits) -> str:
        """Smallest and largest size."""
        return f"{self.fine(limits.min_mm)} min" if limits.max_mm is None else self.span(limits.min_mm, limits.max_mm)

    def span(self, low_mm: float, high_mm: float) -> str:
        """Two limits of size."""
        return f"{self.fine(low_mm)} to {self.fine(high_mm)}"

    def surface(self, m_per_min: float) -> str:
        """A cutting speed: m/min, or ft/min for an inch job."""
        if self.unit == "in":
            return self.number(in_unit(m_per_min * 1000, "in") / 12, 0)
        return self.number(m_per_min, 1 if m_per_min < 100 else 0)

    def rpm(self, rev_per_min: float) -> str:
        return self.number(rev_per_min, 1, least=0)

    def feed_per_rev(self, mm: float, exact: bool) -> str:
        """Feed per revolution; `exact` for a tap, whose feed is its pitch and keeps its places."""
        places = (4 if exact else 3) if self.unit == "mm" else (5 if exact else 4)
        return self.number(in_unit(mm, self.unit), places, least=2)

    def feed(self, mm_per_min: float, exact: bool) -> str:
        """Feed rate; `exact` for a tap, whose feed must be pitch times speed to the last place."""
        if self.unit == "in":
            return self.number(in_unit(mm_per_min, "in"), 3 if exact else 1, least=1)
        return self.number(mm_per_min, 2 if exact else 0, least=0)

    def torque(self, newton_metres: float | None) -> str:
        return NOT_KNOWN if newton_metres is None else self.number(newton_metres, 1 if newton_metres >= 0.95 else 2)

    def minutes(self, value: float) -> str:
        return self.number(value, 2)

    def hours(self, minutes: float) -> str:
        """A long time as hours and minutes."""
        hours, rest = divmod(round(minutes), 60)
        return f"{hours} h {rest:02d} min" if hours else f"{rest} min"

    def percent(self, value: float) -> str:
        return f"{self.number(value, 0)} %"

    @property
    def length_unit(self) -> str:
        return self.unit

    @property
    def surface_unit(self) -> str:
        return "m/min" if self.unit == "mm" else "ft/min"

    @property
    def feed_per_rev_unit(self) -> str:
        return "mm/rev" if self.unit == "mm" else "in/rev"

    @property
    def feed_unit(self) -> str:
        return "mm/min" if self.unit == "mm" else "in/min"


def show_for(unit: LengthUnit, shop: Shop) -> Show:
    """The way this job's numbers are written in this shop."""
    return Show(unit, shop.report.decimal == "comma")


def count(number: int, one: str, many: str = "") -> str:
    """1 hole, 2 holes."""
    return f"{number} {one if number == 1 else many or one + 's'}"
