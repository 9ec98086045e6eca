"""Process and tap: by the rules, each decision resting on those before it, each with its reason."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

from holesched.notes import COMMON_PRACTICE, Cite, Note, Reason, Severity
from holesched.standards.threads.base import ThreadGeometry, without_j
from holesched.standards.threads.insert_depths import DEPTH_CITE, MALE_CENTRE_TO_MM
from holesched.tables import table
from holesched.tooling.case import HoleCase
from holesched.tooling.cutters import flutes
from holesched.tooling.model import Chamfer, StepKind, Tool
from holesched.tooling.rules import RuleBook, Verdict, decide, watch_note, watches
from holesched.tooling.tap_limit import tap_limit

COMPARED = "COMPARED"
"""The id of the row that asks for a process only to compare it."""
NONE = "none"
"""The verdict where no process is left."""
IN_TURN = "TAP-HAND-SET"
"""The rule of the reason why the taps of a set follow each other."""
HAND_SET = ("taper A", "plug C", "bottoming E")
DEEPER = ("first of the set", "second of the set", "finishing of the set")
"""How the names end of the taps of a trapezoidal set, which each cut deeper than the one before."""
HAND_SET_CITE = Cite("Machinery's Handbook", "26th edition", "taps, chamfer length")
EVERY_OTHER = "every other tooth"
"""The rules' verdict for an interrupted-thread tap."""
CENTRE, NO_CENTRE = "male centre", "no male centre"
"""What the name of a small tap says of its point: in an open through hole as such taps usually are, else without one."""


@dataclass(frozen=True, slots=True)
class ThreadChoice:
    """What makes a thread, with the reasons for everything about it and what the shop must look at.

    `before` are the taps of a hand set that go before `tool`, in turn.

    `chamfer_p` are the incomplete threads it leaves under the full ones, `lead_p` how far its tip runs ahead of them, both
    in pitches: the chamfer for a tap; nothing and its end for a thread mill. `centre_mm` is how far a tap's male centre
    runs ahead of its chamfer.
    """

    tool: Tool
    chamfer_p: float
    lead_p: float
    reasons: tuple[Reason, ...]
    notes: tuple[Note, ...]
    before: tuple[Tool, ...] = ()
    centre_mm: float = 0.0


def process_note(verdict: Verdict, designation: str, coolant: str, *, taper: bool, too_heavy_by_hand: bool) -> Note | None:
    """What to tell where no process is left, where a better one is struck, and where the thread is tapped by hand.

    `coolant` is what its last tap runs with. `taper`: one tap makes it, no set. `too_heavy_by_hand`: its taps have proved
    to take more than a person turns.
    """
    if verdict.value == NONE:
        why = "; ".join(dict.fromkeys(lost.because for lost in verdict.reason.rejected))
        message = f"{designation}: no process here makes this thread. {why}."
        suggestion = "Ask whether the thread may be made before hardening, in another size, or eroded."
        meanwhile = "Only the hole before the thread is planned."
        return Note("TAP-NONE-HOLDS", Severity.ASK, message, suggestion, meanwhile, cite=verdict.reason.cites[0])
    if verdict.value == "hand set" and too_heavy_by_hand:
        why = "" if verdict.reason.rule == COMPARED else f"{verdict.reason.because}. "
        message = f"{designation}: {why}Nobody turns {'it' if taper else 'this set'} by hand."
        return Note("TAP-HAND-SET", Severity.WATCH, message, "Have it milled on a helix, or cut with a single-point tool.")
    if verdict.value == "hand set":
        why = "" if verdict.reason.rule == COMPARED else f"{verdict.reason.because}. "
        message = f"{designation}: {why}Tap it by hand{'' if taper else ', with the taps of a set in turn'}."
        suggestion = f"Square to the face, back half a turn for every turn; never in the spindle. Coolant: {coolant}."
        return Note("TAP-HAND-SET", Severity.WATCH, message, suggestion)
    better = next((lost for lost in verdict.struck if lost.asked.verdict == "thread mill"), None)
    if better is not None:
        message = f"{designation}: a thread mill would be better: {better.asked.because}; but {better.by.because}."
        suggestion = "Thread-mill it where the shop can."
        return Note("TAP-THREAD-MILL", Severity.WATCH, f"{message} A tap is planned.", suggestion, rule=better.asked.id)
    return None


@cache
def chamfers() -> dict[str, Chamfer]:
    """Every tap chamfer by its key in the rules: trade name and form letter ("plug C")."""
    return {
        f"{row['name']} {row['form']}": Chamfer(row["name"], row["form"], float(row["threads"]))
        for row in table("tap_chamfers.csv").rows
    }


SHORTEST = chamfers()["bottoming E"]


def choose_tap(case: HoleCase, geometry: ThreadGeometry, process: str, book: RuleBook) -> ThreadChoice:
    """The tap for a case with its room under the thread, by a process that a tap does (cut, form, hand set)."""
    given = {process}
    reasons: list[Reason] = []

    def decided(what: str) -> str:
        verdict = decide(what, case, frozenset(given), book)
        given.add(verdict.value)
        reasons.append(verdict.reason)
        return verdict.value

    form = decided("flute form")
    helix = decided("helix") if form == "spiral-flute" else ""
    teeth = decide("tap teeth", case, frozenset(given), book)
    every_other = teeth.value == EVERY_OTHER
    if every_other:  # that a tap has all its teeth is no news
        given.add(teeth.value)
        reasons.append(teeth.reason)
    chamfer = chamfers()[decided("chamfer")]
    material = decided("tap material")
    treatment = decided("tap treatment")
    limit, limit_reason, limit_note = tap_limit(geometry, decided("tap limit"))
    reasons.append(limit_reason)
    spec = geometry.spec
    name = _name("interrupted-thread" if every_other else form, helix, process, spec.left_hand)
    centre_mm = 0.0
    open_beyond = case.hole == "through"
    by_hand_through = process == "hand set" and open_beyond
    if "taper" not in case.thread and spec.nominal.mm <= MALE_CENTRE_TO_MM and not by_hand_through:
        point, why = _point(open_beyond=open_beyond)
        centre_mm = spec.nominal.mm / 2 if point == CENTRE else 0.0
        name = f"{name}, {point}"
        reasons.append(why)
    tool = Tool(
        kind=StepKind.TAP,
        diameter_mm=geometry.basic_major_mm,
        size=without_j(spec.name),
        material=material,
        treatment=treatment,
        flutes=flutes("interrupted" if every_other else form, geometry.basic_major_mm, case.group),
        flute_form=form,
        chamfer=chamfer,
        pitch_mm=spec.pitch_mm,
        limit=limit,
        left_hand=spec.left_hand,
        every_other_tooth=every_other,
        by_hand=process == "hand set",
        name=name,
    )
    notes = tuple(watch_note(rule, spec.designation) for rule in watches(case, frozenset(given), book))
    notes = notes if limit_note is None else (limit_note, *notes)
    taps = hand_set(tool, case, frozenset(given), book) if process == "hand set" else (tool,)
    if len(taps) > 1:
        reasons.append(_in_turn(taps))
    return ThreadChoice(taps[-1], chamfer.threads, chamfer.threads, tuple(reasons), notes, taps[:-1], centre_mm)


def hand_set(last: Tool, case: HoleCase, given: frozenset[str], book: RuleBook) -> tuple[Tool, ...]:
    """The taps of a hand set that make the thread in turn, `last` of them with the chamfer that the rules chose.

    A blind hole takes those of longer chamfer first, as far as no rule strikes them; a trapezoidal thread three of one
    chamfer, each cutting deeper; through a hole, or of a taper thread, one tap makes the whole. Common practice, no source.
    """
    assert last.chamfer is not None
    if "taper" in case.thread:
        return (last,)
    if "trapezoidal" in case.thread:
        return tuple(replace(last, name=f"{last.name}, {which}") for which in DEEPER)
    possible = decide("chamfer", case, given, book).possible
    leads = [last.chamfer]
    if case.hole != "through":
        longer = [chamfers()[key] for key in HAND_SET if key in possible or key == "plug C"]
        leads = [lead for lead in longer if lead.threads > last.chamfer.threads] + leads
    count = f" ({{}} of {len(leads)})" if len(leads) > 1 else ""
    return tuple(
        replace(last, chamfer=lead, name=f"{last.name}, {lead.name}{count.format(number)}")
        for number, lead in enumerate(leads, start=1)
    )


def _in_turn(taps: tuple[Tool, ...]) -> Reason:
    names = ", ".join(tap.name.rpartition(", ")[2] for tap in taps)
    because = "the first starts square and takes most of the chip, the last cuts the thread to its full depth"
    return Reason(f"taps in turn: {names}", because, IN_TURN, (HAND_SET_CITE, COMMON_PRACTICE))


def _point(*, open_beyond: bool) -> tuple[str, Reason]:
    """Whether a small tap has the male centre that such taps usually have, and why: it has where the hole is open beyond and
    its travel can be that much longer; else it is ordered without."""
    if open_beyond:
        point, because = CENTRE, f"usual up to {MALE_CENTRE_TO_MM:g} mm, half a diameter; the tool is measured to its end"
    else:
        point = NO_CENTRE
        because = (
            f"up to {MALE_CENTRE_TO_MM:g} mm taps have one, half a diameter long, and the hole is not drilled for it: order "
            "the tap without, or have it ground off"
        )
    return point, Reason(f"tap point: {point}", because, "TAP-CENTRE", (DEPTH_CITE, COMMON_PRACTICE))


def _name(form: str, helix: str, process: str, left_hand: bool) -> str:
    name = f"{form} tap" if form != "forming" else "forming tap"
    if helix:
        name = f"{name}, {helix.removesuffix('s')} helix"
    if process == "hand set":
        name = "hand tap"
    return f"left-hand {name}" if left_hand else name
