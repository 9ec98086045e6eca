"""Rules of the grammar about holes for fasteners: FOR M8, CLEARANCE FOR, screws by their head, standards of openings."""

from __future__ import annotations

import re

from holesched.callouts.draft import HEAD_KINDS, Reading
from holesched.callouts.model import Kind

_SCREW_SIZE = re.compile(r"#[0-9]{1,2}(?![0-9-])|[0-9]+/[0-9]+(?! ?-)")
"""A screw by its size alone: #10, 1/4."""


def fastener(r: Reading) -> bool:
    """fastener := (CLEARANCE | FOR) thread [head] | norm of counterbores or countersinks, with a size (DIN 974-1 M6)."""
    t = r.tokens
    start = t.position
    word = t.word()
    meaning = word.meaning if word else None
    if word is not None and meaning in ("clearance", "for"):
        return _for(r, start, word.end, meaning)
    norm = t.check("norm")
    draft = r.current
    if norm is None:
        return False
    t.move(norm.end())
    text = norm[0].strip()
    if "6411" in text:
        problem = "a centre hole (ISO 6411) is not planned here"
        raise t.fail(problem, start, norm.end(), "Plan it at turning or grinding.", "HOLE-CENTRE")
    head = "SHCS" if re.search(r"DIN 974", text) else "FHCS" if re.search(r"DIN 74|ISO 15065", text) else ""
    found = t.thread()
    if head and found is not None and draft is not None and draft.kind in (None, *HEAD_KINDS):
        name = t.text[t.position : found[1]].strip()
        t.move(found[1])
        sunk = Kind.COUNTERBORE if head == "SHCS" else Kind.COUNTERSINK
        return named(r, f"{name} {head}", start, sunk)
    r.remarks.append(text)
    if draft is not None:
        problem = f"{text} is not in the tables here: what it asks for beyond the written sizes is not planned."
        r.ask(
            "CALLOUT-STANDARD",
            problem,
            start,
            norm.end(),
            "Write out spotface, chamfer and depths.",
            "the written sizes only",
        )
    return True


def _for(r: Reading, start: int, end: int, meaning: str) -> bool:
    """FOR a fastener: the screw names the size of the step that waits for one, else it is a remark."""
    t = r.tokens
    at = t.skip_blanks(end)
    while (filler := t.word(at)) is not None and filler.meaning in ("filler", "for"):
        at = t.skip_blanks(filler.end)
    found = t.thread(at)
    number = _SCREW_SIZE.match(t.text, at)
    stop = found[1] if found else number.end() if number else None
    draft = r.current
    word = t.word(at)
    if stop is None and draft is not None and draft.thread is not None and word is not None and word.meaning == "head":
        name = draft.thread_text
        hint = f"Write TAP {name}, or CLEARANCE FOR {name}."
        raise t.fail(
            f"{name} for a screw: a tapped hole, or a clearance hole?", draft.start, word.end, hint, "THREAD-OR-CLEARANCE"
        )
    if stop is None:
        if word is not None and word.meaning == "press nut":
            return False
        t.move(end)
        if meaning == "clearance" and (draft is None or draft.unsized):
            hint = "Write CLEARANCE FOR M8, or the diameter."
            raise t.fail("expected the screw the clearance hole is for", start, end, hint, "SIZE-MISSING")
        return True
    name = t.text[at:stop].strip()
    t.move(stop)
    kind = draft.kind if draft is not None and draft.unsized and not r.fresh else None
    sized = draft is not None and draft.diameter is not None and not r.fresh
    if (meaning == "clearance" and not sized) or kind is not None or (draft is not None and draft.unsized):
        if draft is not None and draft.unsized and "pilot hole" in draft.uses:
            problem = f"The pilot hole for {name} is named, its diameter is not: is the thread to be cut as well?"
            hint = "Write the drill's diameter, and TAP if the thread is to be cut."
            raise t.fail(problem, draft.start, t.end_of_last, hint, "THREAD-OR-CLEARANCE")
        return named(r, name, start, kind or Kind.DRILL)
    if draft is None:
        return named(r, name, start, Kind.DRILL)
    draft.uses.append(f"for {name}")
    while (more := t.words("head", "filler", "nut", "press nut")) is not None:
        draft.uses[-1] += f" {more.text}" if more.meaning != "filler" else ""
    r.touch(draft)
    return True


def screw(r: Reading, start: int) -> bool:
    """thread head-word: a screw. Alone it may ask for a tapped hole or a clearance hole."""
    t = r.tokens
    name = t.text[start : t.end_of_last].strip()
    draft = r.current
    if draft is not None and draft.unsized:
        return named(r, name, start, draft.kind or Kind.DRILL)
    while t.words("head"):
        pass
    hint = f"Write TAP {name}, or CLEARANCE FOR {name}."
    problem = f"{name} with a screw's head: a tapped hole, or a clearance hole for the screw?"
    raise t.fail(problem, start, t.end_of_last, hint, "THREAD-OR-CLEARANCE")


def named(r: Reading, name: str, start: int, kind: Kind) -> bool:
    """Gives the screw to every step that waits for its size."""
    t = r.tokens
    words = [name]
    while (word := t.word()) is not None and (
        word.meaning in ("head", "fit") or word.text.upper() in ("FIT", "CLOSE", "LOOSE")
    ):
        words.append(word.text)
        t.move(word.end)
    full = " ".join(words)
    waiting = [draft for draft in r.drafts if draft.unsized and draft.kind is not Kind.TAP]
    for draft in waiting or [r.begin(start, kind)]:
        draft.fastener = full
        draft.kind = draft.kind or kind
        r.touch(draft, "size")
    r.fresh = False
    return True
