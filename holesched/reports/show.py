"""Numbers to text, and nowhere else: places, units, decimal sign. Inch jobs are shown in inches, ft/min and in/min."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from math import inf

from holesched.shop.model import Shop
from holesched.standards.sizes import Limits
from holesched.units import LengthUnit, in_hp, in_lbf, in_lbf_in, in_unit

NOT_KNOWN = "–"

_NUMBER = r"(?:\d+(?:\.\d+)?|\.\d+)"
_NUMBERS = rf"{_NUMBER}(?:(?: to | and | or |, start |–|-){_NUMBER})*"
_INCH = r"(?:in/rev|in/min|in|ft/min|lbf·in|lbf|hp)"
_METRIC = re.compile(
    rf"(?P<both>{_NUMBER} {_INCH} \([^()]*\))|"
    rf"(?<![A-Za-z0-9_.,])(?P<metric>(?P<sign>[+−-]?)(?P<numbers>{_NUMBERS}) ?"
    r"(?P<unit>mm/rev|mm/min|m/min|mm|N[ ·]m|kW|N)(?![\w/²³]))"
    rf"(?: \((?P<inch>[+−-]?{_NUMBERS} {_INCH})\))?"
)
"""One length, feed, cutting speed, force, torque or power, or several with one unit behind the last: 3.15 mm, 6.647 to
6.912 mm, 20 to 30, start 28 m/min, 4.1 N·m; with its inches behind it where it has them. `both` has inches first already."""
_INCH_NAMES: Mapping[str, tuple[str, Callable[[float], float]]] = {
    "m/min": ("ft/min", lambda m_per_min: in_unit(m_per_min * 1000, "in") / 12),
    "N·m": ("lbf·in", in_lbf_in),
    "N": ("lbf", in_lbf),
    "kW": ("hp", in_hp),
}
"""Other units of an inch job than lengths and feeds: as they are written, and how they are reckoned."""
_IN_QUOTES = r"(?<!\w)'[^'\n]+'(?!\w)"


@dataclass(frozen=True, slots=True)
class Show:
    """How one job's numbers are written. All methods take internal values (mm, m/min, mm/min, min, N·m, kW)."""

    unit: LengthUnit
    comma: bool = False
    names: tuple[tuple[str, str], ...] = ()
    """What running text calls the job's tools, each with its name on the sheets."""

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

    def lasting(self, holes: float) -> str:
        """Holes that one tool makes: whole ones, or the part of one in which it wears out."""
        return self.number(holes, 0 if holes >= 1 else 2)

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

    def exact(self, mm: float) -> str:
        """A limit of a gauge itself, whose tolerance is a few thousandths: 4 places in mm, 5 in inches."""
        return self.number(in_unit(mm, self.unit), 4 if self.unit == "mm" else 5)

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
        """A torque: N·m, or lbf·in for an inch job."""
        if newton_metres is None:
            return NOT_KNOWN
        value, whole_from = (in_lbf_in(newton_metres), 9.5) if self.unit == "in" else (newton_metres, inf)
        places = 0 if value >= whole_from else 1 if value >= 0.95 else 2 if value >= 0.095 else 3
        return self.number(value, places)

    def minutes(self, value: float) -> str:
        return self.number(value, 2)

    def hours(self, minutes: float) -> str:
        """A long time as hours and minutes."""
        hours, rest = divmod(round(minutes), 60)
        return f"{hours} h {rest:02d} min" if hours else f"{rest} min"

    def percent(self, value: float) -> str:
        return f"{self.number(value, 0)} %"

    def running(self, text: str, verbatim: Iterable[str] = ()) -> str:
        """Running text that was written in mm; for an inch job in inches, feet or pounds, with the metric figure in brackets
        behind: 0.124 in (3.15 mm). So the first figure that is read is in the sheet's own unit. A tool of `names` is called
        as the sheets call it.

        What stands in single quotes, and every text of `verbatim` (a cell as it was read), is left as it is.
        """
        if self.unit == "mm" and not self.names:
            return text
        kept = [re.escape(each) for each in verbatim if each and each in text and _METRIC.search(each)]
        names = dict(self.names)
        parts = re.split("|".join([*kept, _IN_QUOTES, *_as_words(self.names)]).join("()"), text)
        return "".join(names.get(part, part) if index % 2 else self._figures(part) for index, part in enumerate(parts))

    def _figures(self, text: str) -> str:
        return text if self.unit == "mm" else _METRIC.sub(_in_inches, text)

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
    def torque_unit(self) -> str:
        return "N·m" if self.unit == "mm" else "lbf·in"

    @property
    def power_unit(self) -> str:
        return "kW" if self.unit == "mm" else "hp"

    @property
    def feed_unit(self) -> str:
        return "mm/min" if self.unit == "mm" else "in/min"


@cache
def _as_words(names: tuple[tuple[str, str], ...]) -> tuple[str, ...]:
    """Patterns of what tools are called, the longest first: a spot drill is no drill."""
    called = sorted((called for called, _ in names), key=len, reverse=True)
    return tuple(rf"(?<!\w){re.escape(each)}(?!\w)" for each in called)


def _in_inches(found: re.Match[str]) -> str:
    """A metric figure in inches, feet a minute, pounds or horsepower, and in brackets as it was."""
    if found["both"]:
        return found[0]
    metric, unit = found["metric"], found["unit"].replace(" ", "·")
    if found["inch"]:
        return f"{found['inch']} ({metric})"
    if unit in _INCH_NAMES:
        name, reckon = _INCH_NAMES[unit]
        figures = re.sub(_NUMBER, lambda number: _rounded(reckon(float(number[0]))), found["numbers"])
        return f"{found['sign']}{figures} {name} ({metric})"
    most = 5 if unit == "mm/rev" else 4
    inches = re.sub(_NUMBER, lambda number: _inches(number[0], most), found["numbers"])
    return f"{found['sign']}{inches} {unit.replace('mm', 'in')} ({metric})"


def _rounded(value: float) -> str:
    """Whole from 10 up, below it as many places as give two figures."""
    return f"{value:.0f}" if value >= 9.5 else f"{value:.1f}" if value >= 0.95 else f"{value:.2f}"


def _inches(mm: str, most: int) -> str:
    """One decimal place more than the mm have, at least three and at most `most`; four where three leave a single figure."""
    value, places = in_unit(float(mm), "in"), len(mm.partition(".")[2])
    least = 4 if 0 < value < 0.01 else 3
    return f"{value:.{min(max(places + 1, least), most)}f}"


def show_for(unit: LengthUnit, shop: Shop) -> Show:
    """The way this job's numbers are written in this shop."""
    return Show(unit, shop.report.decimal == "comma")


def count(number: int, one: str, many: str = "") -> str:
    """1 hole, 2 holes."""
    return f"{number} {one if number == 1 else many or one + 's'}"
