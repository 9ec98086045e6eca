"""Rules of the grammar about bolt circles."""

from __future__ import annotations

from holesched.callouts.draft import Draft, Reading
from holesched.callouts.model import Circle
from holesched.callouts.tokens import Number
from holesched.standards.sizes import Size

WIDER = 2.0
"""Times its holes a circle is at least. Common practice, no source."""
_ON = (" ON", " AUF", " SUR", " SU", " SOBRE", " EN", " EM", " HA")
"""Words before a circle's diameter (the last is the Russian one, as it is folded)."""


def circle(r: Reading) -> bool:
    """circle := EQ SP [ON] [Ø] number (BC | PCD) | (BC | PCD) [Ø] number."""
    t = r.tokens
    start = t.position
    word = t.word()
    if word is not None and word.meaning == "equal":
        t.move(word.end)
        r.equal = True
        at = t.position
        while (filler := t.word(at)) is not None and filler.meaning == "filler":
            at = t.skip_blanks(filler.end)
        on = at > t.position
        signed = t.sign(at) == "Ø"
        number = t.number_at(t.skip_blanks(at + signed))
        if number is not None and r.circle is None and not circle_by_size(r, number) and on and signed and _has_hole(r):
            t.move(number.end)
            _set(r, number)
        return True
    if word is not None and word.meaning == "circle":
        t.move(word.end)
        t.words("filler")
        t.consume("Ø")
        number = t.number()
        if number is None:
            raise t.fail("expected the diameter of the bolt circle", start, word.end)
        _set(r, number)
        return True
    return False


def _has_hole(r: Reading) -> bool:
    """Whether the holes of the circle have been read already: what follows can be the circle's diameter."""
    return any(draft.diameter is not None or draft.thread is not None or draft.fastener is not None for draft in r.drafts)


def circle_by_size(r: Reading, number: Number) -> bool:
    """circle := [Ø] number (BC | PCD): a size, read but not consumed, that is the bolt circle's and not a hole's.

    Between two sizes (Ø9 BC Ø80) the circle is the larger one.
    """
    t = r.tokens
    word = t.word(t.skip_blanks(number.end))
    if word is not None and word.meaning == "diameter":
        following = t.word(t.skip_blanks(word.end))
        word = following if following is not None and following.meaning == "circle" else word
    if word is None or word.meaning != "circle":
        return _on_circle(r, number)
    at = t.skip_blanks(word.end)
    while (filler := t.word(at)) is not None and filler.meaning == "filler":
        at = t.skip_blanks(filler.end)
    behind = t.number_at(t.skip_blanks(at + (t.sign(at) == "Ø")))
    if behind is not None and behind.mm > number.mm and t.meaning(t.skip_blanks(behind.end)) != "places":
        return False
    t.move(word.end)
    _set(r, number)
    return True


def _on_circle(r: Reading, number: Number) -> bool:
    """4 trous équidistants Ø7 sur Ø60: a wide diameter behind equally spaced holes is their circle's.

    Asked where ON, or that they are equally spaced, is not written.
    """
    t = r.tokens
    draft = r.current
    hole_mm = max((each.mm for each in _sizes(draft)), default=0.0) if draft is not None else 0.0
    before = t.text[: number.start].rstrip("Ø ").upper()
    several = before.endswith(_ON) and r.count is not None and r.count > 1  # 4 fori Ø7 su Ø60
    if not (r.equal or several) or r.circle is not None or hole_mm == 0 or number.mm < WIDER * hole_mm:
        return False
    if t.text[number.start - 1] != "Ø":
        return False
    start = number.start - 1
    t.move(number.end)
    _set(r, number)
    if not (r.equal and before.endswith(_ON)):
        sentence = f"Ø{number.text} behind the holes is read as the diameter of their circle."
        r.ask("CALLOUT-CIRCLE-DOUBTFUL", sentence, start, number.end, "Write BC or PCD with it.", f"circle {number.text}")
    return True


def _sizes(draft: Draft) -> tuple[Size, ...]:
    """The sizes of a step: of its hole, or its thread."""
    thread = (draft.thread.nominal,) if draft.thread is not None else ()
    return (*thread, draft.diameter) if draft.diameter is not None else thread


def _set(r: Reading, number: Number) -> None:
    """The callout's circle; a second one of another diameter is refused."""
    if r.circle is not None and r.circle.diameter_mm != number.mm:
        problem = f"two bolt circles: {r.circle.diameter_mm:g} and {number.mm:g} mm"
        raise r.tokens.fail(problem, number.start, number.end, "Write each kind of hole in its own row.", "CIRCLE-TWICE")
    r.circle = Circle(number.mm, equal=False)
