"""Rules of the grammar about notes that change no size: geometric tolerances, surface texture, references to other notes.

They are kept as they are written. A figure in them is never a size, and a size beside them is never one of theirs: a frame
takes a zone that a tolerance can have, texture the values that textures are written in, and everything else is left.
"""

from __future__ import annotations

import re

from holesched.callouts.draft import Reading
from holesched.callouts.model import Depth
from holesched.callouts.words import spelling
from holesched.units import MM_PER_INCH

WIDEST_ZONE_MM = 3.0
"""Beyond, a figure behind a characteristic is as likely the hole's size. Common practice, no source."""
_MICROMETRES = (0.012, 0.025, 0.05, 0.1, 0.2, 0.4, 0.8, 1.6, 3.2, 6.3, 12.5, 25.0, 50.0, 100.0)
_MICROINCHES = (1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 63.0, 125.0, 250.0, 500.0, 1000.0, 2000.0)
TEXTURES = frozenset((*_MICROMETRES, *_MICROINCHES))
"""Values that surface textures are written in, in micrometres and microinches (ISO 1302, ASME B46.1; from memory)."""

_NUMBER = r"(?:[0-9]{1,4}(?:\.[0-9]{0,6})?|\.[0-9]{1,6})"
_GAP = r"[ |\n]*"
_MODIFIER = (
    r"(?:Ⓟ|\(P\)) ?[0-9.]*|[Ⓐ-Ⓩ]|\([EFLMRSTU]\)|(?:AT |@ ?)?(?:MMC|MMB|LMC|LMB|RFS|RMB)(?![A-Z])|[CSU]Z(?![A-Z])"
    r"|(?:TIR|FIM|TOTAL)(?![A-Z])"
)
_TO = r"(?i:DATUMS?|BEZUG|BEZOGEN AUF|ZU|TO|WITH|MIT|REL(?:ATIVE)? TO|PAR RAPPORT [AÀ]|RISPETTO AD?|RESPECTO A)"
_DATUM = rf"(?:{_TO} )*(?:[A-FH-LN-QS-Z]|[GMR](?! [0-9]))(?: ?- ?[A-Z])?(?![A-Za-z0-9./']| ?DR[IL])"
_ZONE = (
    rf"(?:S?Ø ?|DIA\.? ?)?(?P<zone>{_NUMBER})(?P<mm> ?mm(?![A-Za-z]))?(?P<inch> ?(?:\"|in(?![A-Za-z])))?"
    r"(?: ?DIA(?![A-Z])\.?)?"
)
_LIST = rf"(?:{_GAP}(?:{_MODIFIER})|(?:{_GAP}|,? |-)(?:{_DATUM}))*"
_TIER = rf"(?:[ \n/|]*Ø? ?0?\.[0-9]+(?:{_GAP}(?:{_MODIFIER}))*(?: *\| *(?:{_DATUM})(?:{_GAP}(?:{_MODIFIER}))*)+ *\|?)*"
_FRAME = re.compile(rf"(?:{_GAP}{_ZONE})?{_LIST}{_TIER}(?: *\|)?")
_SYMBOL = re.compile(r"[⌖⏥⏤⌭○◯⭘⌯⟂⊥⏊∥⫽⫻◎⌾⌰↗⌓⌒∠⦟]|//(?= ?[0-9.])")
_LEAD = re.compile(
    rf"(?: ?(?i:TOL(?:ERANCE)?|WITHIN|OF|INNERHALB|:|=)\.?)*(?: {_DATUM})?"
    r"(?: ?(?:WITHIN|INNERHALB|TOL))?(?![A-Z])"
)
_REFERENCE = r"[0-9]{1,2}(?![0-9.Ø]| ?(?:[xX°/\"-]|HOLES?|PLCS?)| ?[0-9]+(?:/|-(?!M[0-9])))"
_AND = r" ?(?:&|AND|UND|ET|Y|E) ?"
_NOTE = re.compile(
    r"(?:(?P<see>SEE|PER|AS PER|REFER TO|SIEHE|S\.|GEM(?:\.|ÄSS)|VOIR|VER|VEDI) )?"
    r"(?:(?:FLAG|GENERAL|GEN\.?|DRAWING|DWG) )?"
    r"(?:NOTES?|FLAG(?:NOTE)?|ANMERKUNG(?:EN)?|ANM|HINWEIS|BEMERKUNG|NOTAS?|REMARQUE|注記|注)(?![A-Z])\.?"
    rf"(?: ?(?:NO\.?|NR\.?|N°|#|:)?(?: ?{_REFERENCE}(?:{_AND}{_REFERENCE}|, ?[0-9]{{1,2}}(?= *(?:[);\n|]|$)))*)"
    rf"(?!{_AND}[0-9])|(?P<none>(?= *(?:[;,)\n|]|$))))",
    re.IGNORECASE,
)
_UNIT = r"(?: ?(?:(?:[µμu]|MICRO-?)(?:m|in|M|IN)(?:CH(?:ES)?|\.)?)(?![A-Za-z]))?"
_LIMIT = r"(?: ?(?:MAX|MIN|max|min)\.?(?! ?DR| ?[0-9](?![0-9]? ?[xX×] ?[MØ]))(?![A-Za-z]))?"
_TEXTURE = re.compile(
    rf"√? ?(?:R(?:[aqtyz](?:1?max)?|max)(?: ?(?:[<≤=:]+|max\.?|MAX\.?))? ?(?P<ra>{_NUMBER}(?!\.?[0-9]))?"
    rf"(?:[-/]{_NUMBER}(?![0-9xX°-]))?"
    rf"|R[AQYZ](?:MAX)? ?(?P<capital>{_NUMBER})(?!\.?[0-9])){_UNIT}{_LIMIT}(?![A-Za-z])"
    rf"|√ ?(?P<root>{_NUMBER})?(?! ?(?:DEEP|DP))"
    rf"|[▽∇]+(?:[0-9.]+|(?: ?{_NUMBER} ?[SZa](?![A-Za-z0-9])))?"
)
_LAST_NUMBER = re.compile(r"[0-9.]+$")
_BEFORE = re.compile(
    rf"(?P<value>{_NUMBER})(?: ?√(?! ?[0-9R])|{_UNIT} ?(?:RMS|AA|CLA|RHR|HRC|HRB|HB|HV|R[az](?! ?[0-9]))(?![A-Za-z]){_LIMIT}"
    rf"|(?: ?(?:[µμu]|MICRO-?)(?:in|IN)(?:CH(?:ES)?)?\.?)(?![A-Za-z])(?: FINISH)?|(?P<usual>S| FINISH)(?![A-Za-z0-9]))"
)


def drawing_note(r: Reading) -> bool:
    """drawing note := control frame | surface texture | [SEE] NOTE number | Ⓔ; kept as it is written."""
    t = r.tokens
    start = t.position
    if t.sign() in ("▽", "∇") and _triangle_depth(r, start):
        return True
    end = note_end(r, start)
    if end <= start:
        _refuse_wide(r, start)
        return False
    t.move(end)
    r.remarks.append(" ".join(t.text[start:end].split()).strip(" ,"))
    r.noted.append((start, end))
    if t.text[start] == "√" and t.text[:start][-1:].isdigit():
        number = start - len(_LAST_NUMBER.findall(t.text[:start])[0])
        sentence = f"{t.text[number : start + 1]} is surface texture, but its number has been read as a size."
        r.ask("CALLOUT-NOTE-WITHIN", sentence, number, end, "Write such notes behind the whole callout.", "the size")
    if r.current is not None:
        r.touch(r.current)
    return True


def note_end(r: Reading, start: int) -> int:
    """Where a note that begins at a place ends; 0: none begins there."""
    return _reference_end(r, start) or _texture_end(r, start) or _frame_end(r, start)


def _reference_end(r: Reading, start: int) -> int:
    """Where NOTE 2, SEE NOTES or a lone Ⓔ behind a size ends; 0: none is here. NOTES alone, without SEE, say nothing."""
    text = r.tokens.text
    found = _NOTE.match(text, start)
    if found is not None and (found["none"] is None or found["see"]):
        return found.end()
    lone = text[start] if r.drafts and ("Ⓐ" <= text[start] <= "Ⓩ" or "①" <= text[start] <= "⑳") else ""
    lone = lone or ("(E)" if r.drafts and text.startswith("(E)", start) else "")
    return start + len(lone) if lone else 0


def _texture_end(r: Reading, start: int) -> int:
    """Where surface texture ends: Ra 1.6 MAX, √1.6, ∇∇, 63√, 32 RMS; 0: none is here."""
    text = r.tokens.text
    end = texture_value_end(text, start, apart=bool(r.drafts) and not r.drafts[-1].unsized)
    if end:
        return end
    found = _TEXTURE.match(text, start)
    if found is None:
        return 0
    if found["root"] is not None and float(found["root"]) not in TEXTURES:
        return start + 1
    return found.end()


def texture_value_end(text: str, start: int, *, apart: bool = False) -> int:
    """Where a value of texture before its sign ends: 63√, 32 RMS, and with `apart` also 63 √ and 25S; 0: none is here.

    In DRILL 8 √ the 8 is the drill's.
    """
    found = _BEFORE.match(text, start)
    if found is None or (not apart and (found["usual"] is not None or " √" in found[0])):
        return 0
    usual = found["usual"] is not None or found[0][-1] == "√"
    return found.end() if not usual or float(found["value"]) in TEXTURES else 0


def _frame_end(r: Reading, start: int) -> int:
    """Where a frame of a geometric tolerance ends, by symbol (⌖|Ø0.1(M)|A|B|C) or word (TRUE POSITION .014 A); 0: no frame.

    A word is one only before a zone or a datum; a zone too wide makes none.
    """
    t = r.tokens
    symbol = _SYMBOL.match(t.text, start)
    if symbol is not None:
        found = _FRAME.match(t.text, symbol.end())
        assert found is not None  # everything in it may be missing
        if found["zone"] is None or _in_reason(r, found):
            return found.end()
        return 0
    word = t.word(start)
    if word is None or not (word.meaning == "control" or spelling(word.text) in ("POS", "POSN")):
        return 0
    lead = _LEAD.match(t.text, word.end)
    behind = lead.end() if lead is not None else word.end
    found = _FRAME.match(t.text, behind)
    if found is None or (found["zone"] is None and (word.meaning != "control" or behind == word.end)):
        return 0
    if found["zone"] is not None and not (_in_reason(r, found) and "." in found["zone"]):
        return 0
    return found.end()


def _refuse_wide(r: Reading, start: int) -> None:
    """⌖ Ø8: too wide for a geometric tolerance, and no size either."""
    t = r.tokens
    symbol = _SYMBOL.match(t.text, start)
    found = _FRAME.match(t.text, symbol.end()) if symbol is not None else None
    if found is not None and found["zone"] is not None:
        end = found.end("zone")
        problem = f"{t.text[start:end].strip()}: a geometric tolerance so wide, or the size of a hole?"
        raise t.fail(problem, start, end, "Write Ø before a size, and the tolerance's frame apart.", "CONTROL-DOUBTFUL")


def _in_reason(r: Reading, frame: re.Match[str]) -> bool:
    """Whether the zone of a frame is one that tolerances have."""
    inch = frame["inch"] is not None or (r.tokens.unit == "in" and frame["mm"] is None)
    return float(frame["zone"]) * (MM_PER_INCH if inch else 1.0) <= WIDEST_ZONE_MM


def _triangle_depth(r: Reading, start: int) -> bool:
    """▽16 behind a hole without a depth: a depth, or a finish of the surface?"""
    t = r.tokens
    draft = r.current
    number = t.number_at(t.skip_blanks(start + 1))
    if number is None or draft is None or draft.unsized or draft.depth is not None:
        return False
    t.move(number.end)
    draft.depth = Depth(number.mm)
    r.touch(draft, "depth")
    sentence = f"{t.text[start : number.end]} may be a depth, or the finish of a surface."
    r.ask("CALLOUT-DEPTH-DOUBTFUL", sentence, start, number.end, f"Write ↧{number.text}.", f"depth {number.text}")
    return True
