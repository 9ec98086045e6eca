"""Where the depth of a blind hole goes: full thread, tap chamfer, clearance, drill point, wall left. All lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from math import radians, tan

from holesched.notes import Cite, Note, Reason, Rejected, Severity
from holesched.tables import table
from holesched.tooling.model import DepthBudget

OUR_RULE = "tap chamfer and clearance"
MILL_RULE = "end of the thread mill and clearance"
LEAST_RULE = "the least depth of the thread's own standard"
CLEARANCE_CITE = Cite("ASME B18.29.2M", place="depth of tapped hole: chamfer and one pitch under it")
USUAL_THREADS = 3.0
"""Chamfer of the tap a blind hole usually gets: form C, plug."""
CLOSE_MM = 1e-6
"""Lengths nearer than this are the same."""


@dataclass(frozen=True, slots=True)
class BlindThread:
    """What a blind tapped hole is given: everything but the tap.

    `stated_mm` is the callout's own drilled depth (full diameter), which MIN lets the shop exceed and MAX fall short of;
    `point_mm` is the height of the drill's point, `wall_mm` the least wall the shop accepts under it, `clearance_p` the room
    it keeps under the tap, in pitches, `end_p` what a thread mill's end needs there instead of a chamfer.
    """

    full_thread_mm: float
    nominal_mm: float
    pitch_mm: float
    point_mm: float
    clearance_p: float
    wall_mm: float
    stated_mm: float | None = None
    thickness_mm: float | None = None
    stated_least: bool = False
    stated_most: bool = False
    end_p: float = 0.0
    least_mm: float = 0.0
    """What the thread's own standard asks the hole to be drilled at least (taper pipe threads, wire inserts)."""
    spare_p: float = 0.0
    """What of the clearance is only room for chips, and is given up where the wall demands it."""
    flat: bool = False
    """Whether the room is reckoned to a flat bottom."""
    further: tuple[tuple[str, float, Cite], ...] = ()
    """Drilled depths by rules of the thread's own standard: (rule, mm, source)."""

    def ours_mm(self, chamfer_threads: float) -> float:
        """The drilled depth by our own rule, for a tap with so many chamfer threads, or the standard's least."""
        return max(self.summed_mm(chamfer_threads), self.least_mm)

    def summed_mm(self, chamfer_threads: float) -> float:
        """Full thread, chamfer and room under it."""
        return drilled_depth_mm(self.full_thread_mm, chamfer_threads, self.pitch_mm, self.room_p)

    @property
    def room_p(self) -> float:
        """What lies under the full thread and the chamfer, in pitches."""
        return self.clearance_p + self.end_p

    @property
    def deepest_mm(self) -> float | None:
        """How deep the cylinder may be drilled for the wall under it; None where the thickness is unknown."""
        if self.thickness_mm is None:
            return None
        return self.thickness_mm - self.wall_mm - (0.0 if self.flat else self.point_mm)

    def fits(self, chamfer_threads: float) -> bool:
        """Whether enough wall is left with so many chamfer threads, as far as that is ours to see to: not where the callout
        states the drilled depth, nor where the thickness is unknown."""
        deepest_mm = self.deepest_mm
        return deepest_mm is None or self.stated_mm is not None or self.ours_mm(chamfer_threads) <= deepest_mm + CLOSE_MM

    @property
    def rule(self) -> str:
        """What our own depth follows from."""
        return MILL_RULE if self.end_p else OUR_RULE

    @property
    def deepest_stated_mm(self) -> float | None:
        """The drilled depth that the callout does not allow to exceed; None when it sets none."""
        return None if self.stated_least else self.stated_mm


def point_length_mm(diameter_mm: float, angle_deg: float) -> float:
    """Height of a drill's point: (d / 2) / tan(angle / 2). Geometry; 118 degrees give 0.300 d, 140 degrees 0.182 d."""
    return diameter_mm / 2 / tan(radians(angle_deg) / 2)


def drilled_depth_mm(full_thread_mm: float, chamfer_threads: float, pitch_mm: float, clearance_p: float) -> float:
    """Depth of full diameter before a tap: full thread + chamfer threads x P + clearance x P.

    ASME B18.29.1 and common practice: the tap's incomplete threads and one pitch of room lie under the full thread.
    """
    return full_thread_mm + (chamfer_threads + clearance_p) * pitch_mm


def room_for_chamfer(thread: BlindThread) -> float | None:
    """How many threads of chamfer fit under the full thread with the clearance taken off; None: as many as are wanted.

    A drilled depth in the callout sets the room; a limit (MAX, or the part's thickness) does only where it leaves less than
    the three threads that a blind hole usually gets, and MIN only where it leaves more.
    """
    if thread.stated_mm is not None:
        room = _threads_under(thread, thread.stated_mm)
        if not (thread.stated_most and room >= USUAL_THREADS) and not (thread.stated_least and room < USUAL_THREADS):
            return room
    if thread.deepest_mm is None:
        return None
    room = _threads_under(thread, thread.deepest_mm)
    return room if room < USUAL_THREADS else None


def within_wall(thread: BlindThread, shortest_p: float, *, less_room: bool, flat: bool) -> BlindThread:
    """The thread with as much under the shortest chamfer, in pitches, as the wall allows; the least where nothing fits.

    In this order: as it is, with no room for chips where `less_room` gives that up, then both over a flat bottom where
    `flat` allows one. A drilled depth in the callout leaves it as it is.
    """
    way = thread
    for way in _ways(thread, less_room=less_room, flat=flat):
        if way.fits(shortest_p):
            break
    return way


def _ways(thread: BlindThread, *, less_room: bool, flat: bool) -> Iterator[BlindThread]:
    """The thread as it is, then with less and less under it; each is made only when the one before does not fit."""
    ways = [thread]
    yield thread
    if less_room and thread.spare_p > 0:
        ways.append(replace(thread, clearance_p=thread.clearance_p - thread.spare_p, spare_p=0.0))
        yield ways[-1]
    if flat and thread.full_thread_mm > thread.point_mm:
        yield from (replace(way, flat=True) for way in ways)


def _threads_under(thread: BlindThread, deepest_mm: float) -> float:
    return (deepest_mm - thread.full_thread_mm + CLOSE_MM) / thread.pitch_mm - thread.room_p


def budget_for(thread: BlindThread, chamfer_threads: float) -> DepthBudget:
    """The depth budget with a tap of so many chamfer threads (0 for a thread mill); `governed_by` names the rule and those
    that ask for more."""
    chamfer_mm = chamfer_threads * thread.pitch_mm
    ours_mm = thread.ours_mm(chamfer_threads)
    drilled_mm = _drilled(thread, ours_mm)
    tip_mm = drilled_mm + thread.point_mm
    summed = ours_mm == thread.summed_mm(chamfer_threads)
    ours = thread.rule if summed else LEAST_RULE
    governed = ours if drilled_mm == ours_mm else "the drilled depth in the callout"
    more = [f"{name} {depth_mm:.1f} mm" for name, depth_mm, _ in competing_depths(thread) if depth_mm > drilled_mm + 0.05]
    return DepthBudget(
        full_thread_mm=thread.full_thread_mm,
        chamfer_mm=chamfer_mm,
        clearance_mm=round(drilled_mm - thread.full_thread_mm - chamfer_mm, 6),
        drilled_mm=round(drilled_mm, 6),
        point_mm=round(thread.point_mm, 6),
        tip_mm=round(tip_mm, 6),
        wall_left_mm=None if thread.thickness_mm is None else round(thread.thickness_mm - tip_mm, 6),
        governed_by=f"{governed}; more would be asked by {', '.join(more)}" if more else governed,
    )


def _drilled(thread: BlindThread, ours_mm: float) -> float:
    """The depth to drill: ours, or the callout's; by MIN the deeper of the two, by MAX the shallower."""
    if thread.stated_mm is None:
        return ours_mm
    if thread.stated_least:
        return max(thread.stated_mm, ours_mm)
    return min(thread.stated_mm, ours_mm) if thread.stated_most else thread.stated_mm


def competing_depths(thread: BlindThread) -> tuple[tuple[str, float, Cite], ...]:
    """The drilled depth by each other rule of the trade that covers the size: (rule, mm, source)."""
    length_mm = thread.full_thread_mm
    other = (
        (rule, length_mm + extra_mm + extra_of_length * length_mm, cite)
        for rule, extra_mm, extra_of_length, cite in _extra_depths(thread.pitch_mm, thread.nominal_mm)
    )
    return (*thread.further, *other)


@lru_cache(maxsize=1024)
def _extra_depths(pitch_mm: float, nominal_mm: float) -> tuple[tuple[str, float, float, Cite], ...]:
    """What other rules drill deeper than the full thread: (rule, mm, share of the thread's length, source)."""
    found = []
    runout = table("din76_runout.csv")
    for row in runout.rows:
        if abs(float(row["pitch_mm"]) - pitch_mm) < CLOSE_MM:
            found.append(("DIN 76-1, normal run-out", float(row["e1_mm"]), 0.0, runout.cite()))
    rules = table("blind_depth_rules.csv")
    for row in rules.rows:
        if float(row["size_from_mm"]) <= nominal_mm < float(row["size_below_mm"] or "inf"):
            extra_mm, of_length = float(row["extra_mm"] or 0), float(row["extra_of_length"] or 0)
            found.append((f"{row['rule']} rule", extra_mm, of_length, rules.cite()))
    return tuple(found)


def depth_reason(thread: BlindThread, budget: DepthBudget, chamfer_threads: float) -> Reason:
    """Why the hole is drilled so deep, with what every other rule would give."""
    competing = competing_depths(thread)
    tool = "the thread mill" if thread.end_p else "the chamfer of the tap"
    deeper = f"fixed for any tap; ours follows {tool} that is used"
    own = "this thread mill" if thread.end_p else "this tap's chamfer"
    less = f"less than {own} and clearance need"
    rejected = [
        Rejected(f"{depth_mm:.1f} mm", name, deeper if depth_mm > budget.drilled_mm else less)
        for name, depth_mm, _ in competing
    ]
    ours_mm = thread.ours_mm(chamfer_threads)
    under = f"end of the mill {thread.end_p:g} P" if thread.end_p else f"chamfer {chamfer_threads:g} P"
    because = (
        f"full thread {thread.full_thread_mm:.2f} mm + {under} + clearance {thread.clearance_p:.3g} P = {ours_mm:.2f} mm"
    )
    if thread.stated_mm is not None and budget.drilled_mm != round(ours_mm, 6):
        because = f"stated in the callout; {because}"
        rejected.insert(0, Rejected(f"{ours_mm:.1f} mm", thread.rule, "the callout states its own"))
    cites = (CLEARANCE_CITE, *(cite for _, _, cite in competing))
    decision = f"drilled depth: {budget.drilled_mm:.2f} mm"
    return Reason(decision, because, "DEPTH-BUDGET", tuple(dict.fromkeys(cites)), tuple(rejected))


def shallow_note(
    thread: BlindThread, budget: DepthBudget, chamfer_threads: float, designation: str, mill_end_p: float | None = None
) -> Note | None:
    """The question when the stated drilled depth leaves no room for the shortest chamfer.

    `mill_end_p` is what a thread mill would need under the full thread, in pitches: named as a way out where it fits.
    """
    stated_mm = thread.deepest_stated_mm
    if stated_mm is None or budget.clearance_mm >= thread.room_p * thread.pitch_mm - 2 * CLOSE_MM:
        return None
    need_mm = drilled_depth_mm(thread.full_thread_mm, chamfer_threads, thread.pitch_mm, thread.room_p)
    reach_mm = reachable_thread_mm(thread, chamfer_threads)
    shortest = "a thread mill" if thread.end_p else f"the shortest chamfer ({chamfer_threads:g} threads)"
    message = (
        f"The drilled depth {stated_mm:g} mm is too shallow for {thread.full_thread_mm:g} mm of {designation}: even "
        f"with {shortest} it takes {need_mm:.2f} mm."
    )
    ways = [f"Drill {need_mm:.1f} mm deep", f"accept {reach_mm:.1f} mm of full thread"]
    if mill_end_p is not None and not thread.end_p:
        milled_mm = drilled_depth_mm(thread.full_thread_mm, mill_end_p, thread.pitch_mm, thread.clearance_p)
        ways += [f"mill the thread, for which {milled_mm:.1f} mm are enough"] if milled_mm <= stated_mm + CLOSE_MM else []
    return Note(
        "DEPTH-DRILL-TOO-SHALLOW",
        Severity.ASK,
        message,
        suggestion=f"{', or '.join(ways)}.",
        assumed=f"Drilled {stated_mm:g} mm as stated; the thread stops short of the bottom.",
    )


def reachable_thread_mm(thread: BlindThread, chamfer_threads: float) -> float:
    """The full thread that the tool can cut without touching the bottom: what is asked, or less where the drill stops
    early."""
    stated_mm = thread.deepest_stated_mm
    if stated_mm is None:
        return thread.full_thread_mm
    room_mm = stated_mm - (chamfer_threads + thread.room_p) * thread.pitch_mm
    return max(0.0, min(thread.full_thread_mm, round(room_mm, 6)))


def wall_note(tip_mm: float, thickness_mm: float | None, wall_mm: float, what: str, point_mm: float = 0.0) -> Note | None:
    """What to say about the wall under a blind hole: breaking through and too thin are questions, unknown is told.

    `point_mm` is the height of the drill's point: where it alone is too much, a flat bottom is a way out.
    """
    if thickness_mm is None:
        message = f"Thickness unknown: check the wall under {what}, whose drill's tip is at {tip_mm:.2f} mm."
        return Note("WALL-UNKNOWN", Severity.TOLD, message, "Give the thickness in the title block or with --thickness.")
    left_mm = thickness_mm - tip_mm
    if left_mm >= wall_mm - CLOSE_MM:
        return None
    assumed = "Planned to the depth shown."
    flat = f", or finish it with a flat-ended drill, which saves {point_mm:.1f} mm" if left_mm + point_mm >= wall_mm else ""
    if left_mm <= 0:
        message = f"The drill for {what} breaks through: its tip is at {tip_mm:.2f} mm in {thickness_mm:g} mm."
        suggestion = f"Make the hole {wall_mm - left_mm:.1f} mm shallower, or through{flat}."
        return Note("DEPTH-BREAKS-THROUGH", Severity.ASK, message, suggestion, assumed)
    message = f"Only {left_mm:.2f} mm of wall are left under the drill for {what}; the shop asks under {wall_mm:g} mm."
    suggestion = f"Make the hole {wall_mm - left_mm:.1f} mm shallower, or confirm the wall{flat}."
    return Note("WALL-THIN", Severity.ASK, message, suggestion, assumed)
