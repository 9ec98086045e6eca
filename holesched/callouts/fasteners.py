"""Rules of the grammar about fasteners: clearance holes, screws by their head, standards of openings, heads sunk flush."""

from __future__ import annotations

import re
from dataclasses import replace

from holesched.callouts import norms
from holesched.callouts.draft import HEAD_KINDS, HOLE_KINDS, Draft, Reading
from holesched.callouts.model import Depth, Kind, Tolerance
from holesched.callouts.screws import FITS, HEADS, Screw, is_for, screw_at, size_at
from holesched.callouts.tokens import SyntaxProblem
from holesched.standards import threads

SINKING = ("counterbore", "countersink", "sink", "flush")
_THREADED = re.compile(r"\b(?:THREAD|THD|TAP|GEWINDE|TARAUD|FILET|ROSCA)", re.IGNORECASE)
"""What tells a threaded hole from the clearance of its screw."""
WIDEST = 1.6
"""Of the screw's diameter: a hole beyond is hardly the clearance of that screw. Common practice, no source."""


def fastener(r: Reading) -> bool:
    """fastener := screw, begun by CLEARANCE, FOR, a head, a fit or a standard | standard of openings with a size."""
    t = r.tokens
    start = t.position
    word = t.word()
    draft = r.current
    if t.sign() in "#0123456789":
        return _by_size(r, start)
    meaning = word.meaning if word is not None else None
    screw = screw_at(t, start) if word is not None and (meaning != "filler" or is_for(word)) else None
    if screw is not None and screw.size_at == start:
        return False
    if screw is None and meaning in FITS and _fit_behind(r, FITS[meaning or ""]):
        return True
    if screw is None:
        return _without_size(r, start) if meaning in ("clearance", "body fit", "for") else norms.standard(r, start)
    if draft is not None and draft.unsized and draft.kind is Kind.TAP:
        t.move(screw.size_at)
        return True
    if screw.tapped and not screw.clear:
        t.move(screw.size_at)
        return True
    pin = t.word(t.skip_blanks(screw.end))
    if pin is not None and pin.meaning == "use" and draft is not None and draft.diameter is not None and not screw.clear:
        t.move(pin.end)  # .250 REAM FOR 1/4 DOWEL
        draft.uses.append(t.text[screw.size_at : pin.end])
        r.touch(draft)
        return True
    return _hole_for(r, screw, start)


def _fit_behind(r: Reading, fit: str) -> bool:
    """CLEARANCE FOR M10 THRU, CLOSE: the fit of the screw named before."""
    draft = next((each for each in r.drafts if each.fastener is not None and each.kind in HOLE_KINDS), None)
    if draft is None or draft.fastener is None or "FIT" in draft.fastener:
        return False
    word = r.tokens.word()
    if word is not None:
        r.tokens.move(word.end)
    r.tokens.words("fit word")
    draft.fastener += f" {fit} FIT"
    r.touch(draft)
    return True


def _by_size(r: Reading, start: int) -> bool:
    """1/4 CLEARANCE, #10 SHCS CBORE: a screw by its size alone, and the words behind it."""
    t = r.tokens
    draft = r.current
    waits = draft is None or r.fresh or (draft.unsized and draft.kind in HEAD_KINDS)
    bracketed = t.text[:start].rstrip()[-1:] == "("
    if t.thread() is not None or not (waits or bracketed):
        return False
    screw = screw_at(t, start) if t.sign() == "#" or "/" in t.text[start : start + 6] else None
    if screw is None or screw.size_at != start or not (screw.clear or screw.named or screw.fit):
        return False
    if screw.clear and not screw.named and "/" in screw.size and "#" not in screw.size:
        sentence = f"{t.text[start : screw.end].strip()}: a hole for a {screw.size} screw, or a hole {screw.size} wide?"
        hint = f"Write CLEARANCE FOR {screw.size} SCREW, or Ø{screw.size}."
        r.ask("FASTENER-SIZE-DOUBTFUL", sentence, start, screw.end, hint, f"for a {screw.size} screw")
    return _hole_for(r, screw, start)


def thread_of_screw(r: Reading, start: int) -> bool:
    """A thread whose words behind it make it a screw: M8 CLEARANCE, M8 SHCS CBORE, M8 CLOSE FIT."""
    draft = r.current
    if draft is not None and draft.unsized and draft.kind is Kind.TAP:
        return False
    screw = screw_at(r.tokens, start)
    size = size_at(r.tokens, start) if screw is None else None
    waits = draft is not None and draft.unsized and draft.kind in HEAD_KINDS and "chamfer" not in draft.uses
    if size is not None and draft is not None and waits and not r.fresh:
        draft.fastener = size[0]
        r.touch(draft, "size")
        return True
    if screw is None or screw.size_at != start or (screw.tapped and not screw.clear):
        return False
    if not screw.clear and not screw.named and not screw.fit and screw.call is not None and screw.call.pitch_mm is not None:
        return False
    if screw.after_for and r.tokens.meaning(r.tokens.skip_blanks(screw.end)) == "tap":
        return False
    if screw.noun and not (screw.clear or screw.named) and _THREADED.search(r.tokens.text, screw.end):
        return False  # M6 THRU HOLE, THREAD DEPTH 8
    return _hole_for(r, screw, start)


def _hole_for(r: Reading, screw: Screw, start: int) -> bool:
    """The screw's place in the callout: the size of a step that waits for one, a remark, or a hole of its own."""
    t = r.tokens
    draft = r.current
    shown = t.text[screw.size_at : screw.end].strip(" ()")
    if screw.clear and screw.tapped:
        raise _tapped_or_clear(r, screw, start, f"{shown}: the class of a tapped hole, and words of a clearance hole")
    if draft is not None and draft.unsized and "pilot hole" in draft.uses:
        problem = f"The pilot hole for {shown} is named, its diameter is not: is the thread to be cut as well?"
        hint = "Write the drill's diameter, and TAP if the thread is to be cut."
        raise t.fail(problem, draft.start, screw.end, hint, "THREAD-OR-CLEARANCE")
    waiting = [each for each in r.drafts if each.unsized and each.kind is not Kind.TAP and "chamfer" not in each.uses]
    if not waiting and draft is not None and _only_named(r, draft, screw, start):
        return True
    t.move(screw.end)
    if (cone := _cone_behind(r, screw)) is not None:
        draft = r.begin(start, Kind.COUNTERSINK, stated=True)
        draft.fastener, draft.angle_deg = screw.name, cone
        r.touch(draft, "angle")
        r.fresh = False
        return True
    sinking = any(each.kind in HEAD_KINDS or each.sink for each in waiting) or t.meaning(_behind_joiners(r)) in SINKING
    if not (screw.clear or sinking):
        _ask_whether_clear(r, screw, start, shown)
    _ask_about_fit(r, screw, start)
    _ask_about_thread(r, screw, start)
    for each in waiting or [r.begin(start, Kind.DRILL)]:
        each.fastener = screw.name
        each.kind = each.kind or (None if each.sink else Kind.DRILL)
        if screw.zone and each.kind in HOLE_KINDS:
            each.tolerance = Tolerance(screw.zone)
        if (screw.through or screw.noun) and each.kind in HOLE_KINDS:
            each.depth = each.depth or Depth(through=True)
        if screw.call is not None and screw.call.length_mm is not None:
            each.uses.append(f"screw {screw.call.length_mm:g} long")
        r.touch(each, "size")
    r.fresh = False
    return True


def _cone_behind(r: Reading, screw: Screw) -> float | None:
    """The angle behind a screw with a flat head and no word for its hole (1/4 FLAT HEAD SCREW 82° [CSK]), consumed."""
    t = r.tokens
    number = t.number_at(t.position)
    if number is None or t.sign(t.skip_blanks(number.end)) != "°" or screw.clear or screw.noun:
        return None
    if screw.head not in ("FHCS", "FHMS", "FLAT HEAD") or any(draft.is_opening for draft in r.drafts):
        return None
    t.move(t.skip_blanks(number.end) + 1)
    t.words("countersink", "degree")
    return number.value


def _only_named(r: Reading, draft: Draft, screw: Screw, start: int) -> bool:
    """A screw behind a hole that has its size: Ø9 CLEARANCE FOR M8. It changes nothing, but must go through."""
    t = r.tokens
    size_mm = draft.diameter.mm if draft.diameter is not None else None
    opening_alone = screw.clear and all(each.is_opening for each in r.drafts)
    if draft.thread is not None and not r.fresh:
        if screw.clear and screw.size_at >= draft.end:
            raise _tapped_or_clear(r, screw, draft.start, f"{draft.thread_text} and a clearance hole in one step")
    elif size_mm is None or opening_alone or (r.fresh and not _is_its_hole(draft, screw, size_mm)):
        return False
    t.move(screw.end)
    length = f"x{screw.call.length_mm:g}" if screw.call is not None and screw.call.length_mm is not None else ""
    draft.uses.append(f"for {screw.name.replace(screw.size, screw.size + length, 1)}")
    while (more := t.words("filler", "nut", "press nut")) is not None:
        draft.uses[-1] += f" {more.text}" if more.meaning != "filler" else ""
    r.touch(draft)
    if not (screw.clear or screw.named) and size_mm is not None and size_mm <= screw.nominal_mm and draft.thread is None:
        tapped = " TAP" if t.words("tap") is not None else ""
        sentence = f"{size_mm:g} mm for {screw.size}{tapped}: is the thread cut here, or only the hole for it drilled?"
        hint = f"Write TAP {screw.size} if it is cut."
        r.ask("THREAD-OR-PILOT", sentence, start, t.end_of_last, hint, "only drilled")
    a_screw = (screw.clear or screw.named) and draft.kind in (None, *HOLE_KINDS)
    if a_screw and size_mm is not None and size_mm <= screw.nominal_mm:
        sentence = f"A hole {size_mm:g} mm wide does not clear a screw of {screw.size} ({screw.nominal_mm:g} mm)."
        hint = "Correct the diameter or the screw."
        r.ask("CALLOUT-CLEARANCE-SMALL", sentence, start, screw.end, hint, "the diameter written")
    return True


def _is_its_hole(draft: Draft, screw: Screw, size_mm: float) -> bool:
    """Whether the hole before the separator can be the screw's: Ø9 THRU, CLEARANCE FOR M8."""
    plain = draft.kind in (None, Kind.DRILL) and draft.fastener is None
    return plain and screw.nominal_mm < size_mm <= WIDEST * screw.nominal_mm


def _ask_whether_clear(r: Reading, screw: Screw, start: int, shown: str) -> None:
    """HOLE FOR M8 is most likely a clearance hole, and asked about; M8 SCREW, M8 CLOSE FIT and the like are refused."""
    if (screw.noun and (screw.named or screw.fit)) or (screw.after_for and (screw.noun or screw.fit)):
        return
    if screw.after_for:
        sentence = f"A hole for {shown}: a clearance hole, or a tapped one?"
        hint = f"Write CLEARANCE FOR {screw.size}, or TAP {screw.size}."
        r.ask("FASTENER-HOLE-DOUBTFUL", sentence, start, screw.end, hint, "clearance hole")
        return
    what = "with a screw's head" if screw.head else "for a screw" if screw.named else "with a fit"
    what = "through" if screw.noun else what
    raise _tapped_or_clear(r, screw, start, f"{screw.size} {what}")


def _ask_about_fit(r: Reading, screw: Screw, start: int) -> None:
    """FINE behind a thread may be the screw's pitch; BODY FIT may be a fitted bolt's."""
    if screw.doubtful and not screw.fit_written:
        sentence = "FINE or COARSE: the fit of the clearance hole, or the screw's thread?"
        hint = "Write CLOSE FIT, NORMAL FIT or LOOSE FIT."
        r.ask("FASTENER-FIT-DOUBTFUL", sentence, start, screw.end, hint, f"{screw.fit.lower()} fit")
    if screw.body and not screw.fit:
        sentence = "A hole for the screw's body: with the clearance of a standard, or fitted to it?"
        hint = "Write CLOSE FIT, NORMAL FIT or LOOSE FIT, or the diameter with its limits."
        r.ask("FASTENER-FIT-DOUBTFUL", sentence, start, screw.end, hint, "clearance hole, medium fit")


def _ask_about_thread(r: Reading, screw: Screw, start: int) -> None:
    """A screw's thread that no standard lists, and a length that may be the hole's depth."""
    call = screw.call
    if call is None:
        return
    if threads.complete(replace(call, thread_class=None, length_mm=None)).spec is None:
        shown = r.tokens.text[screw.size_at : screw.end].strip()
        sentence = f"{shown}: no standard lists this thread; the hole is for a screw of {screw.size}."
        r.ask("FASTENER-SIZE-DOUBTFUL", sentence, start, screw.end, "Correct the screw.", f"for {screw.size}")
    if call.length_mm is not None and not screw.named:
        sentence = f"{call.length_mm:g} behind {screw.size}: the screw's length, or the depth of the hole?"
        hint = f"Write CLEARANCE FOR {screw.size}, and ↧{call.length_mm:g} if it is the depth."
        r.ask("CALLOUT-DEPTH-DOUBTFUL", sentence, start, screw.end, hint, "the screw's length")


def _tapped_or_clear(r: Reading, screw: Screw, start: int, problem: str) -> SyntaxProblem:
    hint = f"Write TAP {screw.size}, or CLEARANCE FOR {screw.size}."
    sentence = f"{problem}: a tapped hole, or a clearance hole for the screw?"
    return r.tokens.fail(sentence, start, max(screw.end, r.tokens.end_of_last), hint, "THREAD-OR-CLEARANCE")


def _behind_joiners(r: Reading) -> int:
    """The place of the next word that is no joiner: W/ CBORE, & CSK, (CBORE)."""
    t = r.tokens
    at = t.position
    while True:
        word = t.word(at)
        if word is not None and word.meaning in ("filler", "through", "for"):
            at = t.skip_blanks(word.end)
        elif t.sign(at) and t.sign(at) in "&+,;/(\n-":
            at = t.skip_blanks(at + 1)
        else:
            return at


def _without_size(r: Reading, start: int) -> bool:
    """CLEARANCE or FOR without a screw: what it is for is a remark, unless the hole's size hangs on it."""
    t = r.tokens
    word = t.word()
    draft = r.current
    if word is None:
        return False
    behind = t.word(t.skip_blanks(word.end))
    if draft is not None and draft.thread is not None and behind is not None and behind.meaning in HEADS:
        name = draft.thread_text
        hint = f"Write TAP {name}, or CLEARANCE FOR {name}."
        problem = f"{name} for a screw: a tapped hole, or a clearance hole?"
        raise t.fail(problem, draft.start, behind.end, hint, "THREAD-OR-CLEARANCE")
    if behind is not None and behind.meaning == "press nut":
        return False
    if word.meaning != "for" and draft is not None and draft.thread is not None:  # 2BA CLEAR
        problem = f"{draft.thread_text} {word.text}: a tapped hole, or the clearance hole of a screw?"
        hint = f"Write TAP {draft.thread_text}, or the diameter of the clearance hole."
        raise t.fail(problem, draft.start, word.end, hint, "THREAD-OR-CLEARANCE")
    t.move(word.end)
    if word.meaning != "for" and (draft is None or draft.unsized):
        hint = "Write CLEARANCE FOR M8, or the diameter."
        raise t.fail("expected the screw the clearance hole is for", start, word.end, hint, "SIZE-MISSING")
    return True


def flush(r: Reading) -> bool:
    """flush := FLUSH | VERSENKT ..., of a screw named before: its head is sunk, by counterbore or countersink."""
    t = r.tokens
    start = t.position
    word = t.words("flush")
    if word is None:
        return False
    sunk = next((each for each in r.drafts if each.kind in HEAD_KINDS or each.sink), None)
    if sunk is not None:
        sunk.uses.append("flush")
    elif any(each.fastener is not None for each in r.drafts):
        draft = r.begin(start, None, stated=True)
        draft.sink = word.text
        r.touch(draft)
    else:
        r.unknown.append((start, word.end))
    return True


def share_fastener(r: Reading) -> None:
    """CLEARANCE FOR M8 SHCS, CBORE: a counterbore or countersink without a size is that of the screw named."""
    donor = next((each.fastener for each in r.drafts if each.fastener is not None), None)
    donor = donor or next((name for each in r.drafts if (name := each.screw_with_head)), None)
    if donor is None:
        return
    for draft in r.drafts:
        if draft.unsized and (draft.kind in HEAD_KINDS or draft.sink) and "chamfer" not in draft.uses:
            draft.fastener = donor
