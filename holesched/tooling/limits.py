"""What the rules allow a step to ask, beside what the machine itself gives."""

from __future__ import annotations

from dataclasses import replace

from holesched.tooling.case import thread_words
from holesched.tooling.model import CONES, Limit, StepKind
from holesched.tooling.rule_rows import FIGURES, figure_in
from holesched.tooling.rules import decide
from holesched.tooling.setting import Setting
from holesched.tooling.work import Work

BY_HAND = "most torque by hand"
OF_THE_MACHINE = "most of the machine"
_ON_THE_AXIS = (StepKind.DRILL, StepKind.MILL, StepKind.COUNTERBORE, StepKind.SPOTFACE, StepKind.BORE, *CONES)
"""What asks torque of the spindle and could ask less: a tap's feed is its pitch, a reamer asks hardly any."""


def limit_of(work: Work, setting: Setting) -> Limit | None:
    """What bounds the load of a tool in the hole, if a rule does."""
    if work.kind in _ON_THE_AXIS:
        verdict = decide(OF_THE_MACHINE, setting.case, frozenset((work.kind.value,)), setting.book)
        return Limit(figure_in(verdict.value, FIGURES[OF_THE_MACHINE]) / 100, verdict.reason)
    thread = work.step.thread if work.step is not None else None
    if not work.tool.by_hand or thread is None:
        return None
    case = replace(setting.case, size_mm=work.diameter_mm, thread=thread_words(thread))
    verdict = decide(BY_HAND, case, frozenset(), setting.book)
    return Limit(figure_in(verdict.value, FIGURES[BY_HAND]), verdict.reason)
