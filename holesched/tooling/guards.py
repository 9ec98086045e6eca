"""Safety rules that a shop's own rows have taken away, replaced or outranked: said on every sheet that they concern."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from holesched.notes import Note, Severity
from holesched.tooling.coolant import said_of
from holesched.tooling.model import ToolStep
from holesched.tooling.rule_rows import Rule
from holesched.tooling.rules import standard_rules
from holesched.tooling.setting import Setting

CODE = "SAFETY-RULE-OFF"


def guard_notes(steps: Sequence[ToolStep], setting: Setting) -> list[Note]:
    """One note for each safety rule that would speak of this hole's tools and does not, or is outvoted.

    Without a place, so that a job says it once.
    """
    if setting.book is standard_rules():
        return []
    used = frozenset(word for step in steps for word in said_of(step.tool))
    off = [rule for rule in setting.book.disarmed if rule.fires(setting.case, used)]
    outranked = [
        rule
        for rule in setting.book.by_decision.get("coolant", ())
        if rule.guards and rule.effect == "choose" and _outranked(rule, steps, setting)
    ]
    return [_note(rule, "switched off or replaced") for rule in off] + [_note(rule, "outranked") for rule in outranked]


def _outranked(rule: Rule, steps: Iterable[ToolStep], setting: Setting) -> bool:
    """Whether some step runs with another coolant than a safety rule asks for."""
    return any(rule.fires(setting.case, said_of(step.tool)) and step.coolant != rule.verdict for step in steps)


def _note(rule: Rule, how: str) -> Note:
    says = f"never {rule.verdict.strip('*')}" if rule.effect == "never" else rule.verdict
    message = f"The shop's rules have {how} the safety rule {rule.id} ({rule.decides}: {says}): {rule.because}."
    suggestion = f"It guards against {rule.guards}. Put it back, or have whoever answers for safety agree to it in writing."
    return Note(CODE, Severity.WATCH, message, suggestion, cite=rule.cite)
