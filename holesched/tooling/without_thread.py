"""What the rules watch in holes and heads without a thread, by their workpiece: hardened already, or plastic; of threads
their own rules speak."""

from __future__ import annotations

from collections.abc import Sequence

from holesched.callouts.model import Kind
from holesched.notes import Note
from holesched.resolve.model import ResolvedStep
from holesched.tooling.rule_rows import Rule
from holesched.tooling.rules import watch_note, watches
from holesched.tooling.setting import Setting, name_of

CUTTING, REAMING = "cutting", "reaming"
"""What the rules call the work, as for its coolant."""


def without_thread_notes(steps: Sequence[ResolvedStep], setting: Setting) -> list[Note]:
    """What the rules watch in the work that a hole asks for beside its threads, each said once with the features."""
    found: dict[Rule, list[str]] = {}
    for step in steps:
        done = REAMING if step.kind is Kind.REAM else CUTTING
        for rule in watches(setting.case, frozenset((done,)), setting.book) if step.kind is not Kind.TAP else ():
            if any(of == "given" for of, _ in rule.words):
                found.setdefault(rule, []).append(name_of(step))
    return [watch_note(rule, ", ".join(dict.fromkeys(names))) for rule, names in found.items()]
