"""Rules of the grammar about sizes: diameters, drill names, limits and tolerance zones.

Every rule takes the reading, consumes what it understands and says whether it did; its docstring is its grammar.
"""

from __future__ import annotations

import re

from holesched.callouts.circles import circle_by_size
from holesched.callouts.deviations import in_scale, limits_by_deviation
from holesched.callouts.draft import PROCESSES, Draft, Reading
from holesched.callouts.model import Kind, Tolerance
from holesched.callouts.screws import HEADS
from holesched.callouts.tokens import Number
from holesched.notes import COMMON_PRACTICE, Severity
from holesched.standards import threads


def size(r: Reading) -> bool:
    """size := [Ø] (drill-name | number [limits]) [DIA] [zone]; a bare number is a size only where nothing else can stand."""
    t = r.tokens
    start = t.position
    signed = t.sign() == "Ø" and t.consume("Ø") is not None
    if not t.at_end() and t.sign() not in "0123456789." and _named_drill(r, start):
        return True
    number = t.number_at(t.position)
    if number is None:
        draft = r.current
        if signed and (draft is None or draft.last != "size" or draft.signed or r.fresh):
            raise t.fail("expected a diameter after the diameter sign", start, t.position + 1)
        return signed  # 8 Ø
    if circle_by_size(r, number):
        return True
    if not signed:
        return _bare_size(r, number)
    t.move(number.end)
    draft = r.for_size(start, number.mm)
    draft.signed = True
    _set_size(r, draft, number)
    return True


SAME_SIZE_MM = 0.015
"""A drill's name behind its diameter, rounded to three decimals of an inch, is one size in two ways."""
_SIGNED = re.compile(
    r"± ?[0-9.]+(?! ?°)|\+ ?[0-9.]+ ?/? ?-? ?[0-9.]+|-0?\.[0-9]+ ?/? ?\+? ?[0-9.]+|0(?:\.0+)? ?/ ?[+-][0-9.]+"
)
"""A deviation behind a bare number, both sides written."""
_BRACKET = re.compile(r"\([^()]*\) ?")


def _named_drill(r: Reading, start: int) -> bool:
    """drill-name := (# | NO.) digits | [LETTER] letter DRILL."""
    from holesched.standards.drill_sizes import by_label

    t = r.tokens
    found = t.check("number drill")
    if found is not None and t.thread() is not None:
        return False
    name = f"#{found['number']}" if found else ""
    if found is None:
        found = t.check("letter drill")
        if found is None:
            return False
        name = found["letter"] or found["named"]
    drill = by_label(name)
    if drill is None:
        hint = "Write a drill of the number or letter series, or its diameter."
        raise t.fail(f"there is no drill {name}", found.start(), found.end(), hint, "SIZE-UNKNOWN")
    current = r.current
    t.move(found.end())
    if current is not None and current.diameter is not None and not r.fresh and current.last == "size":
        if abs(current.diameter.mm - drill.mm) <= SAME_SIZE_MM:  # Ø.177 (#16): one size in two ways
            r.touch(current, "size")
            return True
        if not current.stated:
            raise t.fail(f"two sizes for one step: {current.diameter.label} and {name}", current.start, found.end())
    draft = r.for_size(start)
    behind = _BRACKET.match(t.text, t.position)
    drilled = t.meaning(behind.end() if behind else t.position) in ("drill", "ream") or draft.stated
    draft.diameter, draft.inch = drill, True
    r.touch(draft, "size")
    if not drilled and name.startswith("#"):
        problem = f"{name} may be a number drill ({drill.mm:.3f} mm), or a hole for a {name} screw."
        hint = f"Write {name} DRILL, or the diameter."
        r.ask("CALLOUT-NUMBER-SIZE", problem, start, found.end(), hint, f"drill {name}")
    zone(r)
    return True


def _bare_size(r: Reading, number: Number) -> bool:
    """bare size := number before a process word, DIA or a zone, after a process word, or first of all."""
    t = r.tokens
    start = t.position
    after = t.skip_blanks(number.end)
    meaning = t.meaning(after)
    if t.sign(after) == "°" or meaning in ("degree", "places", "circle"):
        return False
    draft = r.current
    in_thread = draft is not None and draft.thread is not None and not r.fresh
    zone = not in_thread and t.check("hole zone", after) is not None and t.thread(after) is None
    limits = limits_here(r, draft, start) if draft is not None else None
    if draft is not None and limits is not None:
        t.move(limits[2])
        draft.tolerance = Tolerance(None, limits[0], limits[1])
        r.touch(draft, "size")
        return True
    wanted = draft is not None and draft.unsized and draft.kind is not Kind.TAP and not (r.fresh and draft.depth is not None)
    alone = not r.drafts and not r.unknown
    if not (
        meaning in PROCESSES
        or meaning == "diameter"
        or zone
        or wanted
        or alone
        or (r.fresh and (meaning in ("through", "through hole") or t.sign(after) == "↧"))
    ):
        return False
    t.move(number.end)
    draft = r.for_size(start)
    plain = alone and not (meaning in PROCESSES or meaning == "diameter" or zone or draft.stated or draft.sink)
    _set_size(r, draft, number)
    if plain:
        _ask_about_plain(r, draft, number, start)
    return True


def limits_here(r: Reading, draft: Draft, position: int) -> tuple[float, float, int] | None:
    """.2495/.2500 behind the size .250: the limits of that size (mm) and where they end, not another hole."""
    t = r.tokens
    number = t.number_at(position)
    limit = t.check("limits", number.end) if number is not None else None
    if number is None or limit is None or draft.diameter is None or draft.tolerance is not None or r.fresh:
        return None
    other = t.number_at(limit.end())
    if other is None or any(abs(each.mm / draft.diameter.mm - 1) > 0.05 for each in (number, other)):
        return None
    low, high = sorted((number.mm, other.mm))
    return low, high, other.end


def _ask_about_plain(r: Reading, draft: Draft, number: Number, start: int) -> None:
    """A number with no sign is a diameter where THRU or a depth follows and it can be no number of holes; else asked."""
    t = r.tokens
    shown = draft.diameter.label if draft.diameter else number.text
    if (thread := _thread_meant(r, number)) is not None:
        end = thread.end
        sentence = f"{t.text[start:end]}: a thread {number.text}-{thread.text}, or a hole {number.text} wide?"
        hint = f"Write {number.text}-{thread.text} and its class, or Ø{number.text} ↧{thread.text}."
        r.ask("CALLOUT-THREAD-DOUBTFUL", sentence, start, end, hint, f"Ø{shown}, {thread.text} deep")
        return
    if draft.tolerance is not None and t.meaning() in PROCESSES:
        return
    if (signed := _SIGNED.match(t.text, t.position)) is not None:  # no number of holes has a deviation
        if t.meaning(t.skip_blanks(signed.end())) not in PROCESSES:
            sentence = f"{number.text} has a deviation: read as the diameter."
            r.note("CALLOUT-DIAMETER-READ", Severity.TOLD, sentence, start, number.end, "", f"Ø{shown}", COMMON_PRACTICE)
        return
    if t.text[t.position : t.position + 1] in ("-", "/", ":") and t.number_at(t.skip_blanks(t.position + 1)) is not None:
        raise t.fail(f"{number.text}: a diameter, a quantity or part of a range?", start, number.end)
    meaning = t.meaning()
    deep = meaning in ("through", "through hole", "through all", "through one", "through to", "depth", "blind")
    deep = deep or t.sign() == "↧" or t.check("x") is not None
    if number.text.isdigit() and not number.marked and not t.at_end():
        problem = f"{number.text} may be a number of holes or a diameter."
        r.ask("CALLOUT-COUNT-DOUBTFUL", problem, start, number.end, "Write 4X Ø10, or Ø4 ↧10.", f"a diameter of {shown}")
        return
    few_decimals = number.inch and not number.fraction and len(number.text.partition(".")[2]) < 2
    if few_decimals or (number.value < 1 and not number.fraction and not number.inch):
        problem = "A bare size: zeros may be lost, and with them its tolerance and its unit."
        r.ask(
            "CALLOUT-DECIMALS", problem, start, number.end, "Write the diameter sign and all decimals.", f"diameter {shown}"
        )
        return
    if deep:
        sentence = f"{number.text} stands before its depth: read as the diameter."
        r.note("CALLOUT-DIAMETER-READ", Severity.TOLD, sentence, start, number.end, "", f"Ø{shown}", COMMON_PRACTICE)
        return
    sentence = f"{number.text} stands without a sign or word: the diameter of a hole?"
    r.ask("CALLOUT-DIAMETER-DOUBTFUL", sentence, start, number.end, f"Write Ø{shown}, or what it is.", f"Ø{shown}")


def _thread_meant(r: Reading, number: Number) -> Number | None:
    """1/4x20, 1/4 20: the number behind a fraction, if it is the threads per inch of a listed thread."""
    t = r.tokens
    x = t.check("x")
    other = t.number_at(t.skip_blanks(x.end())) if x is not None else t.number_at(t.position)
    if not number.fraction or number.marked or other is None or not other.text.isdigit() or other.marked:
        return None
    if t.meaning(t.skip_blanks(other.end)) == "depth":
        return None
    found = threads.recognise(f"{number.text}-{other.text}", 0, "in")
    spec = threads.complete(found[0]).spec if found is not None else None
    return other if spec is not None and spec.series in ("UNC", "UNF", "UNEF") else None


def _set_size(r: Reading, draft: Draft, number: Number) -> None:
    """limits := / number | - number; then [DIA] and a zone."""
    t = r.tokens
    if number.value <= 0:
        raise t.fail("a diameter of zero", number.start, number.end)
    draft.inch = number.inch
    draft.diameter = number.size
    r.touch(draft, "size")
    limit = t.check("limits") if t.sign() in ("/", "-") else None
    other = t.number_at(limit.end()) if limit is not None and "." in number.text else None
    if other is not None and "." in other.text and 0.8 < other.value / number.value < 1.25:
        t.move(other.end)
        low, high = sorted((number, other), key=lambda each: each.value)
        inch = number.inch if number.marked else other.inch
        draft.diameter, draft.inch = low._replace(inch=inch).size, inch
        draft.tolerance = Tolerance(None, draft.diameter.mm, high._replace(inch=inch).mm)
    t.words("diameter")
    r.touch(draft, "size")
    if draft.deviation is not None:
        (lower, upper), draft.deviation = draft.deviation, None
        in_scale(r, draft, lower, upper, draft.inch, number.start)
        limits_by_deviation(draft, lower, upper, draft.inch)
    zone(r)


def zone(r: Reading) -> bool:
    """zone := H7 and the like, behind the size of a plain hole; a class of fit of ANSI B4.1 (RC4) likewise."""
    t = r.tokens
    draft = r.current
    if draft is None or draft.diameter is None or draft.thread is not None or not t.sign().isalpha():
        return False
    found = t.check("hole zone") or t.check("inch class") or t.check("shaft zone")
    if found is None:
        return False
    if found[0][0] == "M" and not _may_be_zone(r, draft, float(found[0][1:])):
        return False
    if draft.tolerance is not None and draft.tolerance.zone is not None:
        raise t.fail(f"a second tolerance zone, {found[0]}", found.start(), found.end())
    if found[0][0] == "M" and not t.text[t.position - 1].isdigit():
        sentence = f"{found[0]} behind {draft.diameter.label} may be a tolerance zone, or a thread: read as the zone."
        hint = f"Write Ø{draft.diameter.label}{found[0]} for the zone, or each in its own step."
        r.ask("CALLOUT-ZONE-DOUBTFUL", sentence, found.start(), found.end(), hint, f"zone {found[0]}")
    if found[0][0] == "N" and draft.last != "size":
        sentence = f"{found[0]} apart from its size: a tolerance zone, or a grade of roughness?"
        hint = f"Write Ø{draft.diameter.label} {found[0]} for the zone, Ra for the roughness."
        r.ask("CALLOUT-ZONE-DOUBTFUL", sentence, found.start(), found.end(), hint, f"zone {found[0]}")
    t.move(found.end())
    have = draft.tolerance or Tolerance()
    draft.tolerance = have._replace(zone=found[0].replace(" ", ""))
    r.touch(draft, "size")
    shaft = t.check("shaft zone", t.position + (t.sign() == "/")) if t.sign() == "/" or t.sign().islower() else None
    if shaft is not None:
        t.move(shaft.end())
        sentence = f"{found[0]}/{shaft[0]} names a fit of hole and shaft: {found[0]} is read for the hole."
        r.ask("CALLOUT-FIT-PAIR", sentence, found.start(), shaft.end(), f"Write {found[0]}.", found[0])
    return True


def _may_be_zone(r: Reading, draft: Draft, number: float) -> bool:
    """Whether M7 is a zone and no thread: written onto the size or in brackets, or behind a size too wide for its drill."""
    t = r.tokens
    if draft.diameter is None or draft.last != "size" or r.fresh:
        return False
    zone = t.check("hole zone")
    behind = t.skip_blanks(zone.end()) if zone is not None else t.position
    if t.meaning(behind) in ("clearance", *HEADS, "for", "tap", "insert"):
        return False
    before = t.text[t.position - 1 : t.position]
    return before.isdigit() or (before == "(" and t.sign(behind) == ")") or number <= 0.6 * draft.diameter.mm
