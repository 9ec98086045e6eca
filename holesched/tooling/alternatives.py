"""The ways to make one hole, each planned whole, so that they can be laid side by side: the processes for its thread, and
a step drill or separate tools for its diameters."""

from __future__ import annotations

from dataclasses import replace

from holesched.notes import COMMON_PRACTICE, Reason
from holesched.shop.model import Shop
from holesched.standards.materials import Material
from holesched.tooling.choose import plan_tools
from holesched.tooling.model import Alternative, ToolPlan, ToolStep
from holesched.tooling.reckoned import NOT_RECKONED, Reckoned
from holesched.tooling.rule_rows import Rule
from holesched.tooling.rules import NOT_ASKED, RuleBook, book_of
from holesched.tooling.step_drill import SEPARATE, STEP_DRILL
from holesched.tooling.tap import COMPARED

PROCESSES = ("cut", "form", "thread mill", "hand set")
OVER_ALL = 1_000_000
"""The rank of the row that asks for the process that is compared."""


def thread_step(plan: ToolPlan) -> ToolStep | None:
    """The step that finishes the hole's (first) thread."""
    return next((step for step in plan.steps if step.finishes_thread), None)


def alternatives(
    chosen: ToolPlan,
    material: Material,
    shop: Shop,
    rules: RuleBook,
    lot: int | None,
    reckoned: Reckoned = NOT_RECKONED,
) -> tuple[Alternative, ...]:
    """Every process for the thread of a planned hole, the chosen one first; none for a hole without a planned thread.

    A hole with several threads has all of them made by the process that is compared. Of what is
    `reckoned` only what concerns the hole before the thread counts.
    """
    step = thread_step(chosen)
    reason = next((reason for reason in step.reasons if reason.decision.startswith("process: ")), None) if step else None
    if step is None or reason is None:
        return ()
    found = [Alternative(step.process, True, reason.rule, reason.because, chosen)]
    found += [
        _other(process, reason, chosen, material, shop, rules, lot, reckoned)
        for process in PROCESSES
        if process != step.process
    ]
    return tuple(found)


def _other(
    process: str,
    reason: Reason,
    chosen: ToolPlan,
    material: Material,
    shop: Shop,
    rules: RuleBook,
    lot: int | None,
    reckoned: Reckoned,
) -> Alternative:
    lost = next((lost for lost in reason.rejected if lost.candidate == process), None)
    rule, because = (lost.rule, lost.because) if lost else (reason.rule, "no rule speaks of it")
    if any(row.id == rule and row.effect == "never" for row in rules.rules):
        return Alternative(process, False, rule, because, None)
    of_the_hole = replace(reckoned, tap_torque={})
    book = book_of([_asking(process)], rules)
    plan = plan_tools(chosen.resolved, material, shop, book, lot=lot, reckoned=of_the_hole)
    step = thread_step(plan)
    made = step is not None and step.process == process
    asked = lost is not None and lost.because != NOT_ASKED
    return Alternative(process, False, rule, because if made else "no tool here does it", plan if made else None, asked)


def step_drilled(
    chosen: ToolPlan, material: Material, shop: Shop, rules: RuleBook, lot: int | None, reckoned: Reckoned
) -> tuple[ToolPlan, Alternative] | None:
    """A planned hole with separate tools, and with a step drill for two of its diameters (its plan None where a rule strikes
    it); None where no one tool has two of them."""

    def with_tools(verdict: str) -> ToolPlan:
        book = book_of([_asking(verdict, "stepped hole")], rules)
        return plan_tools(chosen.resolved, material, shop, book, lot=lot, reckoned=reckoned)

    apart, together = with_tools(SEPARATE), with_tools(STEP_DRILL)
    if any(step.also is not None for step in together.steps):
        planned = next((step.reasons[0] for step in chosen.steps if step.also is not None), None)
        rule, because = (planned.rule, planned.because) if planned is not None else _asked_elsewhere(rules)
        return apart, Alternative(STEP_DRILL, planned is not None, rule, because, together)
    reasons = (reason for step in together.steps for reason in step.reasons)
    struck = next((reason for reason in reasons if reason.decision == f"stepped hole: {SEPARATE}"), None)
    return (apart, Alternative(STEP_DRILL, False, struck.rule, struck.because, None)) if struck is not None else None


def _asked_elsewhere(rules: RuleBook) -> tuple[str, str]:
    """The first row that asks for a step drill, though not for this hole, and why; from which lot, where it says so."""
    rows = rules.by_decision.get("stepped hole", ())
    asking = next((rule for rule in rows if rule.effect == "choose" and rule.verdict == STEP_DRILL), None)
    if asking is None:
        return COMPARED, NOT_ASKED
    lots = [f"asked for from a lot of {span.low:g}: " for column, span in asking.ranges if column == "lot"]
    return asking.id, f"{''.join(lots)}{asking.because}"


def _asking(verdict: str, decides: str = "process") -> Rule:
    return Rule(COMPARED, decides, "choose", verdict, OVER_ALL, (), (), (), "for comparison", COMMON_PRACTICE)
