"""Rules of the grammar about the pitch of a thread in words: PITCH 1, COARSE, FINE."""

from __future__ import annotations

from dataclasses import replace

from holesched.callouts.canonical import designation
from holesched.callouts.draft import Draft, Reading
from holesched.callouts.tokens import Number
from holesched.callouts.words import spelling
from holesched.standards import iso261, threads
from holesched.standards.threads.base import ThreadCall

_COARSE, _FINE = ("COARSE", "GROB"), ("FINE", "FEIN", "FIN", "FINO")


def pitch(r: Reading) -> bool:
    """PITCH number, behind a metric thread: M10 pas de 1; another one than the thread's own is refused."""
    t = r.tokens
    draft = r.current
    start = t.position
    if t.words("pitch") is None:
        return False
    t.words("filler")
    if t.sign() in (":", "="):
        t.move(t.position + 1)
    number = t.number()
    call = draft.thread if draft is not None else None
    if number is None or draft is None or call is None or call.tpi is not None:
        raise t.fail("a pitch, but no metric thread and number that it belongs to", start, t.end_of_last)
    if (call.pitch_mm or number.mm) != number.mm:
        problem = f"two pitches for one thread: {call.pitch_mm:g} and {number.text}"
        raise t.fail(problem, draft.start, number.end, "Write one of them.", "THREAD-PITCH-DIFFERS")
    draft.thread = replace(call, pitch_mm=number.mm)
    draft.thread_text = designation(draft.thread)
    r.touch(draft, "thread")
    return True


def pitch_in_words(r: Reading) -> bool:
    """COARSE, FINE, of the thread before it or of the one to come; a fine thread without its pitch is refused."""
    t = r.tokens
    word = t.word()
    if word is None:
        return False
    of_threads = word.meaning in ("coarse pitch", "fine pitch")
    if not of_threads and spelling(word.text) not in (*_COARSE, *_FINE):
        return False
    draft = r.current
    before = draft.thread if draft is not None and (of_threads or draft.last == "thread") else None
    behind = t.thread(t.skip_blanks(word.end))
    if of_threads and before is None and behind is None:  # M6 ↧12, TAP DRILL Ø5 ↧16, COARSE THREAD
        before = next((each.thread for each in reversed(r.drafts) if each.thread is not None), None)
    call = before or (behind[0] if behind is not None else None)
    if call is None or (before is None and not of_threads):
        return False
    fine = word.meaning == "fine pitch" or spelling(word.text) in _FINE
    if fine and call.pitch_mm is None and call.tpi is None:
        problem = f"{call.nominal.label} with a fine pitch: which one?"
        raise t.fail(problem, word.start, word.end, "Write the pitch, as M8x1.", "THREAD-PITCH-MISSING")
    if _is_coarse(call) is fine:
        problem = f"{word.text} and the pitch written contradict each other"
        raise t.fail(problem, word.start, word.end, "Correct the pitch, or the word.", "THREAD-PITCH-DIFFERS")
    t.move(word.end)
    r.remarks.append("FINE THREAD" if fine else "COARSE THREAD")
    return True


def _is_coarse(call: ThreadCall) -> bool | None:
    """Whether a thread is of its standard's coarse series; None: it is of neither, or no standard lists it."""
    spec = threads.complete(replace(call, thread_class=None)).spec
    if spec is None or call.standard not in ("iso-metric", "unified"):
        return None
    if call.standard == "unified":
        return {"UNC": True, "UNF": False}.get(spec.series)
    return spec.series == "M"


def pitch_before(r: Reading, draft: Draft, number: Number) -> bool:
    """M10 1.5 PITCH; M8 1.25, M8 1.0: a bare number that is a pitch of the thread, and no depth, is asked."""
    t = r.tokens
    call = draft.thread
    size = iso261.sizes().get(call.nominal.mm) if call is not None and call.standard == "iso-metric" else None
    if call is None or size is None or call.pitch_mm is not None or call.length_mm is not None or draft.last != "thread":
        return False
    behind = t.skip_blanks(number.end)
    word = t.word(behind)
    named = word is not None and (word.meaning == "pitch" or word.text == "P")
    if number.inch or not (named or number.value in size.pitches_mm):
        return False
    t.move(word.end if word is not None and named else number.end)
    draft.thread = replace(call, pitch_mm=number.value)
    draft.thread_text = designation(draft.thread)
    r.touch(draft, "thread")
    if not named:
        sentence = f"{number.text} behind {call.nominal.label} is read as its pitch."
        hint = f"Write {call.nominal.label}x{number.text}, or ↧{number.text} for a depth."
        r.ask("CALLOUT-PITCH-DOUBTFUL", sentence, number.start, number.end, hint, f"pitch {number.text}")
    return True
