"""How a thread standard says no, and how it asks: a full sentence, and what was probably meant as a question."""

from __future__ import annotations

from collections.abc import Sequence

from holesched.standards.threads.base import Answer


def meant(*choices: str) -> str:
    """'1/4 NPT, G 1/4 or Rc 1/4?' with a capital where a word begins it."""
    text = " or ".join([", ".join(choices[:-1]), choices[-1]]) if len(choices) > 1 else choices[0]
    return f"{text[:1].upper()}{text[1:]}?" if text[:1].islower() else f"{text}?"


def refused(problem: str, *choices: str) -> Answer:
    """No thread: what is wrong, and what was probably meant."""
    return Answer(None, problem=problem, suggestion=meant(*choices))


def doubt(code: str, problem: str, choices: Sequence[str]) -> tuple[tuple[str, str, str], ...]:
    """One thing to confirm although the thread is planned."""
    return ((code, problem, meant(*choices)),)
