"""The tap itself: by the rules, each decision resting on those before it, each with its reason."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from holesched.notes import Note, Reason, Severity
from holesched.standards.threads.base import ThreadGeometry
from holesched.tables import table
from holesched.tooling.case import HoleCase
from holesched.tooling.cutters import flutes
from holesched.tooling.model import Chamfer, StepKind, Tool
from holesched.tooling.rules import RuleBook, Verdict, decide, watches
from holesched.tooling.tap_limit import tap_limit

BY_TAP = ("cut", "form", "hand set")
"""Processes that a tap does; the thread mill is the other one."""


@dataclass(frozen=True, slots=True)
class TapChoice:
    """A tap with the reasons for everything about it and what the shop must look at."""

    tool: Tool
    chamfer: Chamfer
    reasons: tuple[Reason, ...]
    notes: tuple[Note, ...]


def choose_process(case: HoleCase, book: RuleBook) -> tuple[Verdict, str | None]:
    """How the thread should be made, and what is planned: the best process that a tap can do, None when there is none."""
    verdict = decide("process", case, frozenset(), book)
    return verdict, next((process for process in verdict.standing if process in BY_TAP), None)


def process_note(verdict: Verdict, planned: str | None, designation: str) -> Note | None:
    """What to tell when the rules want something else than a tap in the spindle."""
    if planned is None:
        message = f"{designation}: {verdict.reason.because}. No tap is planned for it."
        suggestion = "Ask whether the thread may be made before hardening, or thread-milled or eroded."
        meanwhile = "Only the hole before the thread is planned."
        return Note("TAP-NONE-HOLDS", Severity.ASK, message, suggestion, meanwhile, cite=verdict.reason.cites[0])
    if verdict.value == "thread mill":
        message = f"{designation}: a thread mill is better here: {verdict.reason.because}. A tap is planned."
        return Note("TAP-THREAD-MILL", Severity.WATCH, message, "Thread-mill it where the shop can.")
    if planned == "hand set":
        message = f"{designation}: {verdict.reason.because}. Tap it by hand: taper, plug, bottoming."
        return Note("TAP-HAND-SET", Severity.WATCH, message)
    return None


@cache
def chamfers() -> dict[str, Chamfer]:
    """Every tap chamfer by its key in the rules: trade name and form letter ("plug C")."""
    return {
        f"{row['name']} {row['form']}": Chamfer(row["name"], row["form"], float(row["threads"]))
        for row in table("tap_chamfers.csv").rows
    }


def choose_tap(case: HoleCase, geometry: ThreadGeometry, process: str, book: RuleBook) -> TapChoice:
    """The tap for a case with its room under the thread, by a process that a tap can do."""
    given = {process}
    reasons: list[Reason] = []

    def decided(what: str) -> str:
        verdict = decide(what, case, frozenset(given), book)
        given.add(verdict.value)
        reasons.append(verdict.reason)
        return verdict.value

    form = decided("flute form")
    helix = decided("helix") if form == "spiral-flute" else ""
    chamfer = chamfers()[decided("chamfer")]
    material = decided("tap material")
    treatment = decided("tap treatment")
    limit, limit_reason = tap_limit(geometry, decided("tap limit"))
    reasons.append(limit_reason)
    spec = geometry.spec
    tool = Tool(
        kind=StepKind.TAP,
        diameter_mm=geometry.basic_major_mm,
        size=spec.name,
        material=material,
        treatment=treatment,
        flutes=flutes(form, geometry.basic_major_mm, case.group),
        flute_form=form,
        chamfer=chamfer,
        pitch_mm=spec.pitch_mm,
        limit=limit,
        left_hand=spec.left_hand,
        name=_name(form, helix, process, spec.left_hand),
    )
    notes = tuple(
        Note(rule.verdict, Severity.WATCH, f"{spec.designation}: {rule.because}.", cite=rule.cite)
        for rule in watches(case, frozenset(given), book)
    )
    return TapChoice(tool, chamfer, tuple(reasons), notes)


def _name(form: str, helix: str, process: str, left_hand: bool) -> str:
    name = f"{form} tap" if form != "forming" else "forming tap"
    if helix:
        name = f"{name}, {helix.removesuffix('s')} helix"
    if process == "hand set":
        name = "hand tap set (taper, plug, bottoming)"
    return f"left-hand {name}" if left_hand else name
