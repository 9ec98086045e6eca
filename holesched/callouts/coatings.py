"""A coating in a callout: its words, its thickness on a surface, and whether the sizes hold before or after it."""

from __future__ import annotations

import re

from holesched.callouts.draft import Reading
from holesched.callouts.model import Coating
from holesched.callouts.normalise import fold
from holesched.callouts.tokens import Tokens
from holesched.callouts.words import Word
from holesched.units import MM_PER_INCH, LengthUnit

_NUMBER = r"[0-9]{0,4}\.?[0-9]{1,6}"
_UNIT = r"μm|um|UM|microns?|MICRONS?|mm|MM|\"|INCH|inch|in|IN|mils?|MILS?"
_END = r"(?![A-Za-z0-9])"
_THICKNESS = re.compile(
    rf"[ ,:=]*(?:(?P<before>MIN|MAX|min|max)\.? ?)?(?P<low>{_NUMBER})"
    rf"(?: ?(?:{_UNIT})?(?: ?- ?| TO | to )(?P<high>{_NUMBER}))? ?(?P<unit>{_UNIT}){_END}\.?"
    rf"(?: ?(?:THK|THICK|thick)\.?)?(?: ?(?P<behind>MIN|MAX|min|max)\.?{_END})?"
)
"""number [- number] unit, with MIN or MAX."""
_ONLY_OF_A_COATING = re.compile(rf"(?:{_NUMBER} ?- ?)?{_NUMBER} ?(?:μm|um|UM|microns?|MICRONS?|mils?|MILS?){_END}")
"""Micrometres and thousandths are no size of a hole."""
_DESIGNATION = re.compile(
    r"(?:EP ?- ?)?(?:Fe|FE|Al|AL|Cu|CU) ?//? ?(?P<metal>Zn|ZN|Ni|NI|Cr|CR|Cd|CD) ?(?P<um>[0-9]{1,2})[A-Za-z/0-9]*" + _END
)
"""Fe/Zn8: electroplated coatings as ISO 2081 and its relatives designate them, the number the least thickness in um."""
_BARE = re.compile(r"[ ,:=]*(?P<low>0?\.[0-9]{2,6})(?: ?- ?(?P<high>0?\.[0-9]{2,6}))?(?![0-9A-Za-z.])")
"""number [- number] without a unit: a thickness only where it is far too small for anything else."""
BARE_MM = 0.1
"""The largest of these. Common practice, no source."""
MASKED = "MASKED"
_METALS = {"ZN": "ZINC", "NI": "NICKEL", "CR": "CHROME", "CD": "CADMIUM"}
LARGEST_MM = 0.6
"""A thicker coating than this is none: the number means something else. Common practice, no source."""
_BEFORE_OR_AFTER = ("BEFORE", "AFTER", "VOR", "NACH")
_THICK_WORDS = ("THICK", "THICKNESS", "THK", "THK.")


def coating(r: Reading) -> bool:
    """coating := words [thickness] | thickness words | Fe/Zn8, the words naming the coating and BEFORE or AFTER it."""
    t = r.tokens
    start = t.position
    named = _DESIGNATION.match(t.text, start)
    if named is not None:
        um = int(named["um"])
        t.move(named.end())
        _keep(r, Coating(named[0].strip(), _METALS[named["metal"].upper()], um / 1000, None), start)
        return True
    masked = t.words("uncoated")
    if masked is not None:
        t.words("coating", "coated")
        _keep(r, Coating(t.text[start : t.end_of_last].strip(), MASKED, 0.0, 0.0), start)
        return True
    ahead = _ONLY_OF_A_COATING.match(t.text, start) is not None
    thickness = _thickness(r) if ahead else None
    words = _words(r)
    if not words and thickness is None:
        return False
    if thickness is None:
        thickness = _thickness(r)
        words += _words(r)
    if not words and r.coating is None:
        t.move(start)
        return False
    text = t.text[start : t.end_of_last].strip()
    holds = next((way for word in words for way, starts in _WAYS if word.text.upper().startswith(starts)), "")
    kind = " ".join(word.text.upper().rstrip(".") for word in words)
    _keep(r, Coating(text, kind, *(thickness or (None, None)), holds), start)
    return True


def coating_in(text: str, unit: LengthUnit) -> Coating | None:
    """The coating that a text names which is no callout (a title block's finish); None where it names none."""
    tokens = Tokens(fold(text), unit)
    reading = Reading(tokens, text)
    while not tokens.at_end():
        word = tokens.word()
        if not coating(reading):
            tokens.move(word.end if word is not None else tokens.position + 1)
    return reading.coating


_WAYS = (("after", ("AFTER", "NACH")), ("before", ("BEFORE", "VOR")))


def _words(r: Reading) -> list[Word]:
    """The words that name a coating, one behind the other."""
    t = r.tokens
    found: list[Word] = []
    first = t.word()
    if first is not None and first.text.upper() in _BEFORE_OR_AFTER and t.meaning(t.skip_blanks(first.end)) == "coated":
        t.move(first.end)
        found.append(first)
    while (word := t.words("coating", "coated")) is not None:
        found.append(word)
    while found and (word := t.word()) is not None and word.text.upper() in _THICK_WORDS:
        t.move(word.end)
    return found


def _thickness(r: Reading) -> tuple[float | None, float | None] | None:
    """(least, most) in mm as far as written; None: no thickness stands here."""
    t = r.tokens
    found = _THICKNESS.match(t.text, t.position)
    if found is None:
        return _bare_thickness(r)
    scale = _scale_mm(found["unit"])
    low = float(found["low"]) * scale
    high = float(found["high"]) * scale if found["high"] else None
    if max(low, high or 0.0) > LARGEST_MM:
        return None
    t.move(found.end())
    limit = (found["before"] or found["behind"] or "").upper()
    if high is not None:
        return round(low, 6), round(high, 6)
    return (None, round(low, 6)) if limit == "MAX" else (round(low, 6), None)


def _bare_thickness(r: Reading) -> tuple[float | None, float | None] | None:
    """A thickness without its unit: in the callout's own."""
    t = r.tokens
    found = _BARE.match(t.text, t.position)
    scale = MM_PER_INCH if t.unit == "in" else 1.0
    if found is None or float(found["high"] or found["low"]) * scale > BARE_MM:
        return None
    t.move(found.end())
    high = round(float(found["high"]) * scale, 6) if found["high"] else None
    return round(float(found["low"]) * scale, 6), high


def _scale_mm(unit: str) -> float:
    unit = unit.lower()
    if unit == "mm":
        return 1.0
    if unit in ("in", "inch", '"'):
        return MM_PER_INCH
    return MM_PER_INCH / 1000 if unit.startswith("mil") else 0.001


def _keep(r: Reading, found: Coating, start: int) -> None:
    """One callout has one coating: what is written in two places is brought together."""
    have = r.coating
    if have is not None and MASKED in (have.kind, found.kind):
        found = Coating(f"{have.text} {found.text}", MASKED, 0.0, 0.0)
    elif have is not None:
        kind = " ".join(part for part in (have.kind, found.kind) if part)
        least = found.least_mm if found.least_mm is not None else have.least_mm
        most = found.most_mm if found.most_mm is not None else have.most_mm
        found = Coating(f"{have.text} {found.text}", kind, least, most, found.holds or have.holds)
    r.coating = found
    r.coating_start = start if have is None else r.coating_start


def ask_about_coating(r: Reading) -> None:
    """A coating that changes a size, but whose thickness is not written: the drawing's owner is asked."""
    found = r.coating
    if found is None or found.thickness_known:
        return
    sized = any(draft.thread is not None or draft.tolerance is not None for draft in r.drafts)
    if sized or found.holds:
        end = min(len(r.tokens.text), r.coating_start + len(found.text))
        sentence = "A coating changes the size, and its thickness is not written."
        hint = "State the coating and its thickness on the surface, and whether the sizes hold before or after it."
        r.ask("CALLOUT-COATING", sentence, r.coating_start, end, hint, "no allowance")
