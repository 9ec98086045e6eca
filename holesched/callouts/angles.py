"""Rules of the grammar about angles: of countersinks and chamfers, of a drill's point."""

from __future__ import annotations

from holesched.callouts.draft import Draft, Reading
from holesched.callouts.model import Kind
from holesched.callouts.tokens import Number
from holesched.standards.sizes import Size

COUNTERSINK_ANGLES = (60.0, 82.0, 90.0, 100.0, 110.0, 120.0)
_POINT_ANGLES = (118.0, 120.0, 130.0, 135.0, 140.0)


def countersink_behind(r: Reading, draft: Draft, number: Number, behind: int) -> bool:
    """Ø12 x 90° CSK: the x binds the angle to the size before it, which the word makes a countersink.

    Without the word a narrower hole stands before it (Ø6.6 / Ø12 x 90°, the short form of ISO 15786, from memory).
    """
    t = r.tokens
    degree = t.word(behind)
    word = t.word(t.skip_blanks(degree.end if degree is not None else behind + 1))
    if draft.stated or draft.last != "size" or draft.diameter is None:
        return False
    if word is not None and word.meaning == "countersink":
        t.move(word.end)
    elif degree is None and number.value in COUNTERSINK_ANGLES[1:4] and _wider_than_hole(r, draft):
        t.move(behind + 1)
    else:
        return False
    draft.kind, draft.stated, draft.angle_deg = Kind.COUNTERSINK, True, number.value
    r.touch(draft, "angle")
    return True


def _wider_than_hole(r: Reading, draft: Draft) -> bool:
    """Whether a size is wider than the hole or thread that stands before it."""
    sizes = [each.diameter or (each.thread.nominal if each.thread else None) for each in r.drafts if each is not draft]
    return draft.diameter is not None and any(size is not None and size.mm < draft.diameter.mm for size in sizes)


def angle_without_sign(r: Reading, draft: Draft, number: Number) -> bool:
    """CSK Ø10 x 90, CSK Ø10 82: an angle of countersinks, not a depth, and asked."""
    if draft.kind is not Kind.COUNTERSINK or draft.angle_deg is not None or number.value not in COUNTERSINK_ANGLES:
        return False
    r.tokens.move(number.end)
    draft.angle_deg = number.value
    sentence = f"{number.text} behind the countersink is read as its angle."
    r.ask("CALLOUT-ANGLE-DOUBTFUL", sentence, number.start, number.end, f"Write {number.text}°.", f"{number.text}°")
    r.touch(draft, "angle")
    return True


def _sized_behind(r: Reading, position: int) -> bool:
    """Whether a number before CSK is its angle: behind a hole, or where the countersink's size stands behind the word."""
    t = r.tokens
    word = t.word(position)
    behind = t.skip_blanks(word.end) if word is not None else position
    return bool(r.drafts) or t.sign(behind) == "Ø" or t.number_at(behind) is not None


def _between_holes(r: Reading, number: Number) -> bool:
    """3 trous M5 à 120° sur Ø40, 3-M5 120°等分: as many holes as make a whole turn, so far apart."""
    t = r.tokens
    if r.count is None or r.count < 2 or abs(r.count * number.value - 360) > 1 or not r.drafts:
        return False
    if any(draft.is_opening and draft.angle_deg is None for draft in r.drafts):
        return False
    before = t.text[: number.start].rstrip().upper()
    apart = t.text[t.position :].upper().startswith(("APART", "VERSETZT", "ENTRE ELL", "間隔"))
    return before.endswith((" À", " AT", " A", "@", " UNTER", " ZU")) or apart or t.meaning() in ("equal", "circle")


def angle(r: Reading) -> bool:
    """angle := number (° | DEG), of a countersink or chamfer; 118° and the like may be a drill's point."""
    t = r.tokens
    start = t.position
    number = t.number_at(start)
    if number is None:
        return False
    behind = t.skip_blanks(number.end)
    if t.sign(behind) == "°":
        behind += 1
    elif t.meaning(behind) == "degree":
        word = t.word(behind)
        behind = word.end if word else behind
    elif t.meaning(behind) == "countersink" and number.value in COUNTERSINK_ANGLES and _sized_behind(r, behind):
        t.move(number.end)
        r.for_later().angle_deg = number.value
        sentence = f"{number.text} before the countersink is read as its angle."
        r.ask("CALLOUT-ANGLE-DOUBTFUL", sentence, start, number.end, f"Write {number.text}°.", f"{number.text}°")
        return True
    else:
        return False
    t.move(behind)
    t.words("degree")
    draft = r.current
    if t.meaning() == "countersink" or t.sign() == "⌵":
        r.for_later().angle_deg = number.value
        return True
    if _between_holes(r, number):
        r.equal = True
        return True
    if draft is not None and draft.chamfer_mm is not None and number.value >= 60:
        problem = "A chamfer is given by its leg and 45°: read as the diameter and included angle of a countersink."
        hint = "Write 0.5x45°, or CSK Ø9 x 90°."
        assumed = f"Ø{draft.chamfer_mm:g}, {number.value:g}°"
        r.ask("CALLOUT-CHAMFER-DOUBTFUL", problem, draft.start, t.end_of_last, hint, assumed)
        draft.diameter, draft.chamfer_mm = Size(draft.chamfer_mm, f"{draft.chamfer_mm:g}"), None
        draft.angle_deg = number.value
    elif draft is not None and draft.chamfer_mm is not None and draft.angle_deg is None:
        draft.angle_deg = 2 * number.value
    elif draft is not None and (draft.kind is Kind.COUNTERSINK or draft.sink) and draft.angle_deg is None:
        draft.angle_deg = number.value
    elif (
        draft is not None
        and draft.kind in (None, Kind.DRILL)
        and draft.thread is None
        and number.value in _POINT_ANGLES
        and t.text[:start].rstrip()[-1:] != "@"
    ):
        draft.uses.append(f"{number.value:g}° point")
    elif r.circle is not None and number.value <= 360:
        sentence = f"{number.value:g}° beside a bolt circle: the place of its first hole is not read from a callout."
        r.ask("PATTERN-ANGLE", sentence, start, t.end_of_last, "Give every hole its own place.", "without the angle")
        return True
    else:
        if draft is None:
            sentence = f"{number.value:g}° is an angle, but no countersink or chamfer stands here that it could belong to"
            raise t.fail(sentence, start, t.end_of_last)
        sentence = f"{number.value:g}° belongs to no countersink or chamfer here, and a hole at an angle is not planned"
        hint = "Plan an angled hole apart, in a set-up square to it; write a countersink with its diameter."
        raise t.fail(sentence, start, t.end_of_last, hint, "HOLE-ANGLED")
    r.touch(draft, "angle")
    return True
