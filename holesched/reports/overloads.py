"""Steps that the machine cannot do: said first on every sheet, and stamped wherever such a step stands."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from holesched.cutting.model import HAND_OVER, TAP_BREAKS
from holesched.notes import Note
from holesched.reports.show import Show
from holesched.sequence.model import JobPlan, Target

STAMP = "OVERLOAD"
THE_MACHINE, A_PERSON, THE_TAP = "the machine gives", "a person turns", "the tap bears"
TOO_MUCH = {
    THE_MACHINE: ("step", "over the machine's limits"),
    A_PERSON: ("hand tap", "over what a person turns"),
    THE_TAP: ("tap", "over what it bears"),
}
"""What a step can be more than, and what such steps are called where they are counted."""


@dataclass(frozen=True, slots=True)
class Overload:
    """Work that needs more than the machine gives, a person turns or the tap bears: where it stands, what is asked, what to
    do instead. The taps of a set stand together."""

    operations: tuple[int, ...]
    tools: tuple[str, ...]
    types: str
    text: str
    suggestion: str
    over: str
    """More than what it is: than the machine gives, a person turns, the tap bears."""


def overloads(job: JobPlan, show: Show) -> tuple[Overload, ...]:
    """All such work in the order of operations; hole types and tools of which the same is said stand together, and the taps
    of a set with what is said of the first, which takes most."""
    found: dict[tuple[str, str, str, str], tuple[list[int], list[str]]] = {}
    of_set: dict[tuple[str, str, str], str] = {}
    for operation in job.operations:
        same: dict[tuple[Note, ...], list[str]] = {}
        for target in operation.targets:
            if target.cut.overload:
                same.setdefault(target.cut.overload, []).append(target.letter)
        for notes, letters in same.items():
            types = ", ".join(dict.fromkeys(letters))
            text, suggestion = show.running(_together(notes)), show.running(notes[0].suggestion)
            over = bound(notes)
            if over == A_PERSON:
                text = of_set.setdefault((types, text.partition(": ")[0], suggestion), text)
            said = types, text, suggestion, over
            operations, tools = found.setdefault(said, ([], []))
            operations.append(operation.number)
            tools.append(f"T{operation.tool_number}")
    return tuple(Overload(tuple(operations), tuple(tools), *said) for said, (operations, tools) in found.items())


def bound(notes: Iterable[Note]) -> str:
    """What the step of these notes is more than; the machine before all."""
    found = {{HAND_OVER: A_PERSON, TAP_BREAKS: THE_TAP}.get(note.code, THE_MACHINE) for note in notes}
    return next(each for each in TOO_MUCH if each in found)


def stamp(targets: Iterable[Target]) -> str:
    """OVERLOAD when all of a tool's work is too heavy, OVERLOAD A when that in some hole types is; "" when none is."""
    every = list(targets)
    heavy = list(dict.fromkeys(target.letter for target in every if target.cut.overload))
    if len(heavy) == len({target.letter for target in every}):
        return STAMP if heavy else ""
    return f"{STAMP} {', '.join(heavy)}" if heavy else ""


def _together(notes: tuple[Note, ...]) -> str:
    """The notes of one step as one sentence, its name once: "drill 38: 197 N·m needed, ...; 8367 N of thrust, ..."."""
    name, colon, _ = notes[0].message.partition(": ")
    first, *further = (note.message.removeprefix(name + colon).rstrip(".") for note in notes)
    return f"{name}{colon}{'; '.join([first, *further])}."
