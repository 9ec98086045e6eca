"""Questions about a callout as a whole: what is left over at its end, cut off, in brackets, unknown or written twice."""

from __future__ import annotations

import re

from holesched.callouts import phrases
from holesched.callouts.caret import message
from holesched.callouts.draft import Reading
from holesched.callouts.model import Element, Kind
from holesched.callouts.screws import head_of_norm
from holesched.callouts.words import near_words
from holesched.notes import Note, Severity

_OF_THREADS = (
    (
        re.compile(r"WHITWORTH", re.IGNORECASE),
        "THREAD-SYSTEM-DOUBTFUL",
        "is a system of inch threads, and what is written is of another one: which is meant?",
        "Write 1/4-20 BSW for a Whitworth thread, or take the word out.",
        "as written without the word",
    ),
    (
        re.compile(r"EINSCHRAUBGEWINDE", re.IGNORECASE),
        "THREAD-SIDE-DOUBTFUL",
        "is the thread of a part to be screwed in: is this hole tapped to it, or is the size that of an insert?",
        "Write the hole's thread; STI for a wire insert.",
        "tapped as written",
    ),
)
"""Words about threads that leave something open which only the drawing's owner knows."""


def ask_about_the_whole(r: Reading) -> None:
    """Asks or refuses what no step alone can tell."""
    if r.unknown:
        _ask_about_unknown(r)
    _refuse_untapped(r)
    _refuse_open_opening(r)
    _refuse_deep_chamfer(r)
    _side_of_pilot(r)
    if r.equal and r.circle is None:
        r.remarks.append("EQ SP")
    _ask_about_left_over(r)
    _ask_about_the_end(r)
    _ask_about_brackets(r)


def _refuse_untapped(r: Reading) -> None:
    """M8 DO NOT TAP, DO NOT TAP M8: a thread is named, and the hole's diameter is not."""
    if r.untapped is not None and any(draft.thread for draft in r.drafts):
        problem = "a thread is named that is not to be cut here"
        raise r.tokens.fail(problem, *r.untapped, "Write the diameter to be drilled.", "THREAD-NOT-CUT")


def _refuse_open_opening(r: Reading) -> None:
    """M6 Senkung: flat or conical; M6 gesenkt DIN 912: an opening for the head of a screw, and the thread of its size."""
    for draft in r.drafts:
        bare = draft.sink and draft.angle_deg is None and draft.depth is None and not draft.has_head
        if not bare or "SENK" not in draft.sink.upper():
            continue
        norm = next((remark for remark in r.remarks if head_of_norm(remark)), None)
        name = next((each.thread_text for each in r.drafts if each.thread is not None), None)
        if norm is not None and name is not None:
            problem = f"{name} with an opening for the head of {norm}: a tapped hole, or a clearance hole for the screw?"
            hint = f"Write CLEARANCE FOR {name} {norm}, or TAP {name} and the opening's diameter and depth."
            raise r.tokens.fail(problem, r.drafts[0].start, draft.end, hint, "THREAD-OR-CLEARANCE")
        problem = "a Senkung is flat or conical: which one?"
        hint = "Write its depth if it is flat, its angle if it is conical."
        raise r.tokens.fail(problem, draft.start, draft.end, hint, "DEPTH-MISSING")


def _refuse_deep_chamfer(r: Reading) -> None:
    """A chamfer given by its leg has no depth beside it: whose is one that came to it?"""
    for draft in r.drafts:
        if draft.chamfer_mm is not None and draft.depth is not None:
            hint = "Write each step's depth behind its size."
            raise r.tokens.fail("a chamfer with a depth: whose is it?", draft.start, draft.end, hint, "DEPTH-UNCLEAR")


def _side_of_pilot(r: Reading) -> None:
    """FAR SIDE, DRILL DEPTH 20, M8: where only a pilot hole's depth is written, its side is that of the thread."""
    thread = next((draft for draft in r.drafts if draft.thread is not None), None)
    for draft in r.drafts:
        alone = draft.kind is Kind.DRILL and draft.unsized and draft.side_written
        if thread is not None and alone and not thread.side_written:
            thread.side, thread.side_written = draft.side, True


def _ask_about_left_over(r: Reading) -> None:
    """Words that wait for a step that never came, and a hand without a thread: nothing written is dropped in silence."""
    left = [name for name, value in r.waiting.named().items() if value] if r.waiting is not None else []
    for draft in r.drafts:
        if draft.uses and draft.thread is None and not {"left hand", "right hand"}.isdisjoint(draft.uses):
            left.append("the hand of a thread")
            draft.uses = [use for use in draft.uses if use not in ("left hand", "right hand")]
    if left:
        end = len(r.tokens.text)
        sentence = f"{' and '.join(left).capitalize()} is written, but no step that it belongs to."
        r.ask("CALLOUT-LEFT-OVER", sentence, r.drafts[-1].end, end, "Write it behind its own step.", "without it")


def _ask_about_brackets(r: Reading) -> None:
    """A callout all in brackets, which mark a reference on a drawing."""
    text = r.tokens.text.strip()
    if text[:1] == "(" and text.find(")") == len(text) - 1 and "CALLOUT-REFERENCE" not in {note.code for note in r.notes}:
        code, problem, suggestion, assumed = phrases.ASKED["reference"]
        r.ask(code, problem, 0, len(r.tokens.text), suggestion, assumed)


_JOINERS = {"PER", "AT", "TO", "ON", "FOR", "WITH", "AND", "FROM", "IN", "MIT", "AUF", "POUR", "AVEC", *"-+&([="}
"""What no callout ends with, unless the rest of its cell is lost."""
_INCHES = re.compile(r"[0-9.] ?in$", re.I)


def _ask_about_the_end(r: Reading) -> None:
    """A callout that ends in a word or sign that joins it to something: the cell may have been cut off."""
    text = r.tokens.text.rstrip()
    last = text[-1] if not text[-1].isalpha() else text.rsplit(None, 1)[-1].upper()
    if last in _JOINERS and not (last == "IN" and _INCHES.search(text)):
        sentence = f"The callout ends in '{last}': is the rest cut off?"
        r.ask("CALLOUT-CUT", sentence, len(text) - len(last), len(text), "Write it out.", "as far as it is written")


def _ask_about_unknown(r: Reading) -> None:
    t = r.tokens
    systems = {draft.thread.standard for draft in r.drafts if draft.thread is not None}
    for pattern, code, problem, hint, assumed in _OF_THREADS:
        stray = next((place for place in r.unknown if pattern.match(t.text, *place)), None)
        if stray is not None:
            r.unknown.remove(stray)
            if code == "THREAD-SYSTEM-DOUBTFUL" and "whitworth" in systems:
                continue  # 1/4-20 BSW WHITWORTH
            r.ask(code, f"{t.text[slice(*stray)]} {problem}", *stray, hint, assumed)
    if not r.unknown:
        return
    words = [t.text[start:end] for start, end in r.unknown]
    near = [f"{word}: perhaps {' or '.join(found)}" for word in words if len(word) > 2 and (found := near_words(word))]
    shown = ", ".join(dict.fromkeys(words[:4])) + (" ..." if len(words) > 4 else "")
    spans = [t.folded.span(start, end) for start, end in r.unknown]
    sentence = message(f"Not understood: {shown}. Does it change the hole?", r.raw, *spans)
    hint = "; ".join(near) + "?" if near else "Say what it means, or take it out."
    r.notes.append(Note("CALLOUT-WORD-UNKNOWN", Severity.ASK, sentence, hint, "without it", r.raw))


def without_repetition(r: Reading, elements: tuple[Element, ...]) -> tuple[Element, ...]:
    """A callout that says the same step twice is most likely one that was merged from two cells."""
    once = tuple(element for place, element in enumerate(elements) if element not in elements[:place])
    if len(once) < len(elements):
        again = next(draft for draft, element in zip(r.drafts, elements, strict=True) if elements.count(element) > 1)
        sentence = "The same step is written twice: one hole, or two?"
        r.ask("CALLOUT-REPEATED", sentence, again.start, again.end, "Write it once, with its quantity.", "one hole")
    return once
