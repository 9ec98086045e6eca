"""Rules of the grammar about what else stands behind a thread: its tap's limit (H3, GH5), its starts, a figure."""

from __future__ import annotations

import re

from holesched.callouts.draft import Reading

_LIMIT = re.compile(
    r"-? ?(?P<before>(?:TAP )?LIMIT:? ?)?(?P<limit>(?P<system>G?H|D)(?P<number>[1-9]|1[0-9]))(?![0-9A-Za-z./])"
    r"(?! ?[x°/±])(?P<behind> LIMITS?)?"
)
_DASHED = re.compile(r"- ?(?P<number>[123])(?![0-9A-Za-z./])(?! ?[x/°±\"'])")
"""A dash and a figure that stand behind a designation."""
_STARTS = re.compile(
    r"(?P<count>(?i:[2-9]|two|three|four|double|twin|triple|multi(?:ple)?|zwei|drei|vier|mehr|doppel|deux|trois|dos|tres|due"
    r"|tre|à 2|à 3|a 2|a 3|二|三|多))[ -]?"
    r"(?:(?i:starts?|leads?|g[äa]e?ngig(?:es)?|filets|entr[ée]es|entradas|principi|ingressi)(?![A-Za-z])|条(?:ねじ|ネジ)?|線螺紋|线螺纹)"
)
"""How many starts a thread has, in words."""
_NAMED = ("places", "equal", "depth", "min", "max", "full thread", "diameter", "degree")
"""Meanings of words that say what the figure before them is."""
_LIMITED = ("iso-metric", "unified", "wire-insert")
"""Standards of threads whose taps have such limits."""
_CLASS_TURNED, _ZONE = ("6", "7", "8"), 9
"""H6, H7 and H8 beside a metric thread may be the classes 6H, 7H and 8H; from H9 on, the zone of a plain hole."""


def tap_limit(r: Reading) -> bool:
    """tap limit := [- | LIMIT] (H | GH | D) n [LIMIT], behind a thread; D limits are those of metric threads alone.

    What may be a diameter, a class or a zone is asked.
    """
    t = r.tokens
    start = t.position
    draft = r.current
    call = draft.thread if draft is not None else None
    found = _LIMIT.match(t.text, start)
    if draft is None or call is None or found is None or call.standard not in _LIMITED:
        return False
    limit, said = found["limit"], bool(found["before"] or found["behind"])
    metric = call.tpi is None
    if found["system"] == "D" and (not metric or (r.fresh and not said)):
        return False
    if draft.tap_limit not in ("", limit):
        problem = f"two limits for one tap: {draft.tap_limit} and {limit}"
        raise t.fail(problem, draft.start, found.end(), "Write one of them.", "TAP-LIMIT-TWICE")
    t.move(found.end())
    draft.tap_limit = limit
    r.touch(draft)
    if metric and not said:
        _ask_what_else(r, found)
    return True


def _ask_what_else(r: Reading, found: re.Match[str]) -> None:
    """M6 D5, M8 H7, M8 H13: limits of taps, or something else that is written so."""
    draft, limit, number = r.current, found["limit"], found["number"]
    if draft is None or draft.thread is None:
        return
    name = draft.thread_text
    if found["system"] == "D":
        other, hint = "the diameter of its drill, or a depth", f"DRILL Ø{number} or ↧{number}"
    elif found["system"] == "H" and number in _CLASS_TURNED and draft.thread.thread_class is None:
        other, hint = f"or the thread's class {number}H", f"{name}-{number}H"
    elif found["system"] == "H" and int(number) >= _ZONE:
        size = draft.thread.nominal.label.lstrip("MJ")
        other, hint = "or the tolerance zone of a plain hole", f"Ø{size} {limit}"
    else:
        return
    sentence = f"{limit} behind {name}: the limit of its tap, {other}?"
    place = found.start("limit"), found.end("limit")
    r.ask("CALLOUT-TAP-LIMIT", sentence, *place, f"Write {limit} LIMIT, or {hint}.", f"tap limit {limit}")


def behind_dash(r: Reading) -> bool:
    """behind dash := - (1 | 2 | 3) behind a thread, and no quantity: 1/4-18 NPT-1. A class, pitch or depth: asked."""
    t = r.tokens
    start = t.position
    draft = r.current
    call = draft.thread if draft is not None and draft.last == "thread" and not r.fresh else None
    found = _DASHED.match(t.text, start)
    if draft is None or call is None or found is None or call.length_mm is not None:
        return False
    following = t.meaning(t.skip_blanks(found.end()))
    number = t.number_at(found.start("number"))
    if number is None or number.text != found["number"] or following in _NAMED:
        return False
    t.move(found.end())
    n, name = number.text, draft.thread_text
    what, named = "", ""
    if call.series == "NPT":
        what, named = "a class", f"{name.replace('NPT', 'NPTF')}-{n} (NPT has no class)"
    elif call.standard == "unified" and call.thread_class is None:
        what, named = "a class", f"{name}-{n}B"
    elif call.standard == "iso-metric" and call.pitch_mm is None and call.thread_class is None:
        what, named = "its pitch", f"{name}x{n}"
    sentence = f"-{n} behind {name}: {what and f'{what}, '}a depth, or the number of holes?"
    hint = f"Write {named and f'{named}, '}↧{n}, or {n}X before the thread."
    r.ask("CALLOUT-NUMBER-DOUBTFUL", sentence, draft.start, found.end(), hint, f"{name}, without the {n}")
    return True


def starts(r: Reading) -> bool:
    """starts := n START, zweigängig, 2条 behind a thread: a single number there may be its pitch or lead: asked."""
    t = r.tokens
    draft = r.current
    call = draft.thread if draft is not None else None
    found = _STARTS.match(t.text, t.position)
    if draft is None or call is None or found is None:
        return False
    if call.starts == 1:
        words, name = found[0].strip(), draft.thread_text
        problem = f"{words}: which are the lead and the pitch of {name}?"
        hint = "Write both, as M16xPh4P2 for a lead of 4 mm and a pitch of 2 mm; tap and gauges are special."
        raise t.fail(problem, draft.start, found.end(), hint, "CALLOUT-STARTS")
    t.move(found.end())
    r.remarks.append(found[0].strip())
    r.touch(draft)
    return True
