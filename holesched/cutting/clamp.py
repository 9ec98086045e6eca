"""The machine's limits on a step: spindle and tapping speed, feed, torque, power, thrust. Each that bites is a reason."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable
from dataclasses import dataclass
from math import floor

from holesched.cutting import formulas
from holesched.cutting.loads import Loads
from holesched.cutting.lookup import figure
from holesched.cutting.model import OVERLOAD
from holesched.notes import Cite, Note, Reason, Severity, Standing
from holesched.shop.model import Machine
from holesched.tooling.model import Limit

EFFICIENCY = 0.8
"""Share of the motor's power that reaches the tool. Machinery's Handbook, 31st ed., p. 1152, example value."""
WATCH_TORQUE = 0.7
"""From this share of the spindle's torque on a thread is milled where it can be, and a tap watched; other tools from what
the rules allow them, up to which they are fed by design. Common practice, no source."""
LEAST_FEED = 0.5
"""A drill is not fed at less than half its feed to spare the machine: it would rub. Common practice, no source."""
_FEED_STEPS = 20


@dataclass(frozen=True, slots=True)
class Running:
    """What really runs: speed, feed, its loads, the limits that governed, and what the shop must look at."""

    rpm: float
    feed_mm_per_rev: float
    loads: Loads | None
    clamps: tuple[Reason, ...]
    notes: tuple[Note, ...]
    torque_share: float | None = None
    """Torque over what the spindle gives at that speed; None where there is no figure."""

    @property
    def overload(self) -> tuple[Note, ...]:
        """The notes that say that the machine cannot do it: more torque or thrust than it gives."""
        return tuple(note for note in self.notes if note.code in OVERLOAD)


@dataclass(frozen=True, slots=True)
class Wanted:
    """What the tables ask for. `rigid_feed`: the feed is a thread's lead and cannot change (a tap)."""

    name: str
    rpm: float
    feed_mm_per_rev: float
    rigid_feed: bool
    high_rpm: float
    """The speed at the upper end of the table's range."""
    remedy: str = "Open it in steps or bore it"
    """What to do where the machine's torque or thrust is not enough."""
    limit: Limit | None = None
    """What a rule allows it of the machine's torque, power and thrust; None: all."""

    @property
    def share(self) -> float:
        """How much of what the machine gives it may ask."""
        return 1.0 if self.limit is None else self.limit.value

    @property
    def watched_from(self) -> float:
        """The share of the spindle's torque from which on it is watched."""
        return WATCH_TORQUE if self.rigid_feed or self.limit is None else self.limit.value


def sensible_rpm(rpm: float) -> float:
    """A spindle speed as a person would program it: whole tens from 100, whole numbers below, never less than 1."""
    return float(max(round(rpm, -1) if rpm >= 100 else round(rpm), 1))


def sensible_feed(feed_mm_per_rev: float) -> float:
    """A feed as a person would program it: hundredths from 0.1, 0.005 from 0.03, thousandths below, at least 0.001."""
    if feed_mm_per_rev >= 0.1:
        return round(feed_mm_per_rev, 2)
    if feed_mm_per_rev >= 0.03:
        return round(round(feed_mm_per_rev / 0.005) * 0.005, 3)
    return max(round(feed_mm_per_rev, 3), 0.001)


def available_torque_nm(machine: Machine, rpm: float) -> float:
    """Torque at the tool at a speed: the spindle's largest, or what 80 % of the motor's power gives above the base speed."""
    return min(machine.spindle_torque_nm, formulas.torque_at_power_nm(EFFICIENCY * machine.spindle_power_kw, rpm))


def base_rpm(machine: Machine) -> float:
    """The speed above which power limits torque."""
    return 9550 * EFFICIENCY * machine.spindle_power_kw / machine.spindle_torque_nm


def clamp(wanted: Wanted, machine: Machine, loads_at: Callable[[float], Loads | None]) -> Running:
    """Speed and feed inside the machine's limits. `loads_at` gives the loads at a feed per revolution."""
    rpm, clamps, notes = _speed(wanted, machine)
    rpm, feed, more = _feed_rate(wanted, machine, rpm)
    clamps += more
    load = loads_at(feed)
    if load is None:
        return Running(rpm, feed, None, tuple(clamps), tuple(notes))
    feed, load, more = _lighter_feed(wanted, machine, rpm, feed, loads_at, load)
    clamps += more
    short_of_power = load.torque_nm > available_torque_nm(machine, rpm)
    rpm, more = _slower_for_power(wanted, machine, rpm, load)
    clamps += more
    available = available_torque_nm(machine, rpm)
    notes += _watch(wanted, machine, rpm, load, available, bool(more) and short_of_power)
    return Running(rpm, feed, load, tuple(clamps), tuple(notes), load.torque_nm / available)


def _speed(wanted: Wanted, machine: Machine) -> tuple[float, list[Reason], list[Note]]:
    rpm = sensible_rpm(wanted.rpm)
    clamps = []
    limit, code, what, field = machine.spindle_max_rpm, "SPINDLE-MAX", "the spindle's highest speed", "spindle_max_rpm"
    if wanted.rigid_feed and machine.tapping_max_rpm < limit:
        limit, code, what, field = machine.tapping_max_rpm, "TAPPING-MAX", "the highest tapping speed", "tapping_max_rpm"
    if rpm > limit:
        because = f"{rpm:.0f} rev/min asked, {limit:.0f} is {what}"
        clamps.append(_reason(f"spindle speed: {limit:.0f} rev/min", because, code, machine, field))
        rpm = limit
    notes = []
    if rpm < machine.spindle_min_rpm:
        least = machine.spindle_min_rpm
        because = f"{rpm:.0f} rev/min asked, {least:.0f} is the spindle's lowest speed"
        clamps.append(_reason(f"spindle speed: {least:.0f} rev/min", because, "SPINDLE-MIN", machine, "spindle_min_rpm"))
        if least > wanted.high_rpm:
            message = f"{wanted.name}: the spindle's lowest speed, {least:.0f} rev/min, is above the highest advised one."
            remedy = "Use a slower machine, a smaller tool, or a tool material that bears the speed."
            notes.append(_note("CUT-SPINDLE-MIN", message, remedy))
        rpm = least
    return rpm, clamps, notes


def _feed_rate(wanted: Wanted, machine: Machine, rpm: float) -> tuple[float, float, list[Reason]]:
    feed = wanted.feed_mm_per_rev
    rate, limit = formulas.feed_rate_mm_per_min(rpm, feed), machine.feed_max_mm_per_min
    if rate <= limit:
        return rpm, feed, []
    because = f"{rate:.0f} mm/min asked, {limit:.0f} is the highest feed rate"
    if wanted.rigid_feed:
        rpm = _down(limit / feed)
        return rpm, feed, [_reason(f"spindle speed: {rpm:.0f} rev/min", because, "FEED-MAX", machine, "feed_max_mm_per_min")]
    feed = floor(limit / rpm * 1000) / 1000
    return rpm, feed, [_reason(f"feed: {feed:.3g} mm/rev", because, "FEED-MAX", machine, "feed_max_mm_per_min")]


def _lighter_feed(
    wanted: Wanted, machine: Machine, rpm: float, feed: float, loads_at: Callable[[float], Loads | None], load: Loads
) -> tuple[float, Loads, list[Reason]]:
    """A drill whose thrust or torque is more than the rules allow it of the machine's is fed less, down to half; as it is
    where that does not help and the machine has just enough."""
    share = wanted.share
    if wanted.rigid_feed or _fits(machine, load, share):
        return feed, load, []
    found = _first_that_fits(machine, share, feed, loads_at) or ()
    if not found:
        if _fits(machine, load, 1.0):
            return feed, load, []
        least = _part_of(feed, LEAST_FEED)
        found = _first_that_fits(machine, 1.0, feed, loads_at) or (least, loads_at(least) or load)
    return *found, [_less_feed(wanted, machine, feed, load, found[0])]


def _first_that_fits(
    machine: Machine, share: float, full: float, loads_at: Callable[[float], Loads | None]
) -> tuple[float, Loads] | None:
    """The highest feed from the full one down to half at which the machine has enough, with its loads.

    The less feed the less load: what half does not help is not helped, and the step is found by halving.
    """

    def at(step: int) -> tuple[float, Loads | None]:
        feed = _part_of(full, 1 - step / _FEED_STEPS * (1 - LEAST_FEED))
        return feed, loads_at(feed)

    def fits(step: int) -> bool:
        load = at(step)[1]
        return load is not None and _fits(machine, load, share)

    if not fits(_FEED_STEPS):
        return None
    feed, load = at(bisect_left(range(_FEED_STEPS), True, lo=1, key=fits))
    return None if load is None else (feed, load)


def _part_of(feed_mm_per_rev: float, share: float) -> float:
    """A share of a feed, rounded down to 0.001 mm, but not to nothing."""
    return max(floor(feed_mm_per_rev * share * 1000) / 1000, 0.001)


def _less_feed(wanted: Wanted, machine: Machine, full: float, first: Loads, feed: float) -> Reason:
    """Why it is fed less than the tables ask."""
    thrust = first.thrust_n is not None and first.thrust_n > wanted.share * machine.axis_thrust_n
    code, field = ("THRUST", "axis_thrust_n") if thrust else ("TORQUE", "spindle_torque_nm")
    asked = f"{first.thrust_n or 0:.0f} N" if thrust else f"{first.torque_nm:.0f} N·m"
    limit = f"{machine.axis_thrust_n:.0f} N" if thrust else f"{machine.spindle_torque_nm:.0f} N·m"
    because = f"{asked} at {full:.3g} mm/rev, the machine gives {limit}"
    reason = _reason(f"feed: {feed:.3g} mm/rev", because, code, machine, field)
    return _with_limit(reason, wanted) if _fits(machine, first, 1.0) else reason


def _with_limit(reason: Reason, wanted: Wanted) -> Reason:
    """A limit of the machine with the rule that keeps some of it in hand."""
    if wanted.limit is None:
        return reason
    kept = wanted.limit.reason
    because = f"{reason.because}, of which {wanted.share:.0%} may be asked ({kept.rule}: {kept.because})"
    return reason._replace(because=because, cites=(*reason.cites, *kept.cites))


def _fits(machine: Machine, load: Loads, share: float) -> bool:
    """Whether no more than a share of the machine's thrust and torque is asked."""
    thrust_fits = load.thrust_n is None or load.thrust_n <= share * machine.axis_thrust_n
    return thrust_fits and load.torque_nm <= share * machine.spindle_torque_nm


def _slower_for_power(wanted: Wanted, machine: Machine, rpm: float, load: Loads) -> tuple[float, list[Reason]]:
    """Where power limits the torque, a lower speed gives more of it, down to the base speed."""
    available = available_torque_nm(machine, rpm)
    if load.torque_nm <= wanted.share * available or rpm <= base_rpm(machine):
        return rpm, []
    power = EFFICIENCY * machine.spindle_power_kw
    slower = max(_down(9550 * wanted.share * power / load.torque_nm), _down(base_rpm(machine)), machine.spindle_min_rpm)
    asked = formulas.power_kw(load.torque_nm, rpm)
    because = f"{asked:.1f} kW asked at {rpm:.0f} rev/min, {power:.1f} kW reaches the tool ({EFFICIENCY:.0%} of the motor)"
    reason = _reason(f"spindle speed: {slower:.0f} rev/min", because, "POWER", machine, "spindle_power_kw")
    return slower, [_with_limit(reason, wanted) if load.torque_nm <= available else reason]


def _watch(
    wanted: Wanted, machine: Machine, rpm: float, load: Loads, available_nm: float, power_limited: bool
) -> list[Note]:
    notes = []
    share = load.torque_nm / available_nm
    if power_limited and share <= 1:
        message = f"{wanted.name}: slowed to {rpm:.0f} rev/min, where the spindle's power is enough."
        notes.append(_note("CUT-POWER-LIMITED", message, "Watch the load meter on the first part."))
    elif share > wanted.watched_from + 1e-9:
        notes.append(_torque_note(wanted, rpm, load.torque_nm, available_nm))
    if load.thrust_n is not None and load.thrust_n > machine.axis_thrust_n:
        thrust = f"{load.thrust_n:.0f} N of thrust at half feed, the axis gives {machine.axis_thrust_n:.0f} N"
        notes.append(_note("CUT-THRUST-OVER", f"{wanted.name}: {thrust}.", f"{wanted.remedy}, or use a stronger machine."))
    return notes


def _torque_note(wanted: Wanted, rpm: float, torque_nm: float, available_nm: float) -> Note:
    """That a step takes more torque than the spindle gives, or much of it."""
    torque = f"{wanted.name}: {figure(torque_nm)} N·m"
    gives = f"the spindle gives {figure(available_nm)} N·m at {rpm:.0f} rev/min"
    share = torque_nm / available_nm
    if share > 1:
        return _note("CUT-TORQUE-OVER", f"{torque} needed, {gives}.", f"{wanted.remedy}, or use a stronger machine.")
    good = ", and a tap's torque is estimated to 40 %" if wanted.rigid_feed else ""
    remedy = f"{wanted.remedy}, or use a stronger machine; else watch" if wanted.rigid_feed else "Watch"
    message = f"{torque}, {gives}: {share * 100:.0f} % of it{good}."
    return _note("CUT-TORQUE-HIGH", message, f"{remedy} the load meter on the first part.")


def _note(code: str, message: str, suggestion: str) -> Note:
    return Note(code, Severity.WATCH, message, suggestion)


def _down(rpm: float) -> float:
    """Rounded down, so that a limit stays a limit."""
    return float(floor(rpm / 10) * 10 if rpm >= 100 else max(floor(rpm), 1))


def _reason(decision: str, because: str, code: str, machine: Machine, field: str) -> Reason:
    return Reason(decision, because, f"CLAMP-{code}", (Cite(machine.name, place=field, standing=Standing.SHOP),))
