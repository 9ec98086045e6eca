"""Rules of the grammar about bolt circles."""

from __future__ import annotations

from holesched.callouts.draft import Reading
from holesched.callouts.model import Circle
from holesched.callouts.tokens import Number


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
        number = t.number_at(t.skip_blanks(at + (t.sign(at) == "Ø")))
        if number is not None:
            circle_by_size(r, number)
        return True
    if word is not None and word.meaning == "circle":
        t.move(word.end)
        t.words("filler")
        t.consume("Ø")
        number = t.number()
        if number is None:
            raise t.fail("expected the diameter of the bolt circle", start, word.end)
        r.circle = Circle(number.mm, equal=False)
        return True
    return False


def circle_by_size(r: Reading, number: Number) -> bool:
    """circle := [Ø] number (BC | PCD): a size, read but not consumed, that is the bolt circle's and not a hole's."""
    t = r.tokens
    word = t.word(t.skip_blanks(number.end))
    if word is not None and word.meaning == "diameter":
        following = t.word(t.skip_blanks(word.end))
        word = following if following is not None and following.meaning == "circle" else word
    if word is None or word.meaning != "circle":
        return False
    t.move(word.end)
    r.circle = Circle(number.mm, equal=False)
    return True
