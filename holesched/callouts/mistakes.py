"""Known mistakes: whole cells that are no callout, and single signs that are surely wrong, each with its own sentence.

WHOLE is tried against the whole text: nothing is planned from such a cell. REPAIRS rewrite a text, sign for sign, into what
it most likely was; the rewritten text is read, and the rewriting is always asked about.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from holesched.notes import Severity

_MONTHS = (
    ("JAN", "GEN", "ENE"),
    ("FEB", "FÉV", "FEV"),
    ("MAR", "MÄR", "MRZ"),
    ("APR", "AVR", "ABR"),
    ("MAY", "MAI", "MAG"),
    ("JUN", "JUIN", "GIU"),
    ("JUL", "JUIL", "LUG"),
    ("AUG", "AOÛ", "AGO"),
    ("SEP", "SET"),
    ("OCT", "OKT", "OTT"),
    ("NOV",),
    ("DEC", "DEZ", "DÉC", "DIC"),
)
_MONTH = r"(?P<month>" + "|".join(name for names in _MONTHS for name in names) + r")[A-ZÉÛÄ]{0,6}\.?"
_THREADS_PER_INCH = {1: (64, 72), 2: (56, 64), 3: (48, 56), 4: (40, 48), 5: (40, 44), 6: (32, 40), 8: (32, 36)} | {
    10: (24, 32),
    12: (24, 28, 32),
}
"""Threads per inch of the number sizes (ASME B1.1, Table 1): what a month and a year can have been."""


@dataclass(frozen=True, slots=True)
class Whole:
    """A text that is no callout at all: its pattern, the code and severity of the note, the sentence and the suggestion."""

    pattern: re.Pattern[str]
    code: str
    severity: Severity
    sentence: str
    suggestion: str | Callable[[re.Match[str]], str]

    def suggested(self, match: re.Match[str]) -> str:
        """What to write instead."""
        return self.suggestion if isinstance(self.suggestion, str) else self.suggestion(match)


def _whole(
    pattern: str, code: str, sentence: str, suggestion: str | Callable[[re.Match[str]], str], told: bool = False
) -> Whole:
    compiled = re.compile(rf"[ \n]*(?:{pattern})[ \n.]*", re.IGNORECASE)
    return Whole(compiled, code, Severity.TOLD if told else Severity.REFUSED, sentence, suggestion)


def _typed_as_date(month: int, number: int, decimal: bool) -> str:
    """What was probably typed before a spreadsheet made a date of it: 10-32, 1/4, 8.5."""
    likely = []
    if number in _THREADS_PER_INCH.get(month, ()):
        likely.append(f"{month}-{number}")
    if decimal:
        likely.append(f"{number}.{month}")
    if number in (2, 4, 8, 16, 32, 64) and month < number and month % 2:
        likely.append(f"{month}/{number}")
    if month in (2, 4, 8) and number < month and number % 2:
        likely.append(f"{number}/{month}")
    likely = likely or [f"{month}-{number}", f"{month}/{number}", f"{number}.{month}"]
    return f"Was it {' or '.join(dict.fromkeys(likely))}? Format the column as Text and type it again."


def _month_first(match: re.Match[str]) -> str:
    return _typed_as_date(_month_number(match["month"]), int(match["number"]), decimal=False)


def _day_first(match: re.Match[str]) -> str:
    return _typed_as_date(_month_number(match["month"]), int(match["number"]), decimal="." in match[0])


def _month_number(name: str) -> int:
    return next(i for i, names in enumerate(_MONTHS, start=1) if name.upper() in names)


def _iso_date(match: re.Match[str]) -> str:
    year, month, day = int(match["year"]), int(match["month_number"]), int(match["day"])
    return _typed_as_date(month, year - 1900 if year < 2000 and day == 1 else day, decimal=False)


def _serial(match: re.Match[str]) -> str:
    from datetime import date, timedelta

    day = date(1899, 12, 30) + timedelta(days=int(match[0]))
    number = day.year - 1900 if day.year < 2000 and day.day == 1 else day.day
    return f"{match[0].strip()} is {day:%d %B %Y}. {_typed_as_date(day.month, number, decimal=False)}"


_SAME_AS = r"(?:SAME AS|AS|LIKE|WIE|COMME|COME|COMO)(?: HOLES?)? (?P<tag>[A-Z]{1,3}\d{0,3})"
SAME_AS = re.compile(_SAME_AS, re.IGNORECASE)
"""A callout that is another row's, named by its tag."""
DATE = "A spreadsheet has made a date of this size."
_RETYPE = "Format the column as Text and type the callout again."
_COPY_OUT = "Write the callout out in its own row."

WHOLE = (
    _whole(r"", "CALLOUT-EMPTY", "The callout is empty.", "Write the callout, or delete the row."),
    _whole(r"(?P<year>\d{4})-(?P<month_number>0?[1-9]|1[0-2])-(?P<day>\d\d?)(?:[ T][\d:.]+)?", "CELL-DATE", DATE, _iso_date),
    _whole(rf"{_MONTH}[-/. ]*(?P<number>\d{{1,2}})(?!\d)", "CELL-DATE", DATE, _month_first),
    _whole(rf"(?P<number>\d{{1,2}})[-/. ]*{_MONTH}", "CELL-DATE", DATE, _day_first),
    _whole(r"1[1-9]\d{3}|[2-5]\d{4}", "CELL-DATE", "This may be a date that lost its format.", _serial),
    _whole(
        r"#(?:NAME\?|VALUE!|REF!|N/?A|DIV/0!|NUM!|NULL!|WERT!|BEZUG!|NOM\s?\?|VALEUR!)|Err:\d+",
        "CELL-FORMULA-ERROR",
        "The spreadsheet took the callout for a formula, or lost the cell it refers to.",
        "Was there a leading = + - or @? " + _RETYPE,
    ),
    _whole(r"#{2,}", "CELL-HIDDEN", "The column was too narrow to show the callout when this was copied.", _RETYPE),
    _whole(
        r"\d(?:[.,]\d+)?E[+-]?\d+",
        "CELL-DATE",
        "The spreadsheet has made a number in powers of ten of this text.",
        "Was it a tag such as 1E2? " + _RETYPE,
    ),
    _whole(
        r"DO\.?|DITTO|〃|々|\"|''|,,|IDEM|ID\.|SAME(?: AS ABOVE)?|AS ABOVE|同上|同"
        r"|WIE OBEN|W\.\s?O|S\.\s?O|DTO\.?|COME SOPRA",
        "ROW-DITTO",
        "The callout refers to the row before it.",
        _COPY_OUT,
    ),
    _whole(
        _SAME_AS,
        "ROW-SAME-AS",
        "The callout refers to another row.",
        _COPY_OUT,
    ),
    _whole(
        r"(?:SEE|REFER TO|SIEHE|S\.|VOIR|VER|VEDI) ?"
        r"(?:NOTES?|DETAIL|VIEW|SECTION|SHEET|SHT|DWG|DRAWING|ANMERKUNG|ZCHG)\b.*",
        "ROW-ELSEWHERE",
        "The hole is described outside this table.",
        "Write out what the note or detail says.",
    ),
    _whole(r"[-.]+|N/?A|NONE|NIL|X|\\|/", "ROW-DASH", "A dash may mean no hole, the row above, or not known.", _COPY_OUT),
    _whole(
        r"T\.?B\.?[DAC]\.?|TO BE (?:DETERMINED|ADVISED|CONFIRMED|DECIDED)|\?+|UNKNOWN|OFFEN|HOLD",
        "ROW-NOT-DECIDED",
        "The hole is not decided yet.",
        "Ask the drawing's owner for the callout.",
    ),
    _whole(
        r"(?:HOLES? )?(?:DELETED?|VOID|CANCELLED|CANCELED|REMOVED|NOT USED|OMIT(?:TED)?|ENTF[ÄA]LLT|SUPPRIM[ÉE]E?"
        r"|ANNULLATO|削除|欠番)",
        "ROW-DELETED",
        "The hole is deleted; the row is kept for its number only.",
        "",
        told=True,
    ),
)

SURELY_A_HOLE = re.compile(
    r"[Ø⌴⌵↧]|^(?:[0-9]+ ?x ?)?(?:M[0-9]|[#.0-9][0-9./ -]*(?:UN|x ?[0-9.]|DRILL|REAM|DIA|TAP)|DRILL|TAP)"
)
"""Signs that no text of WHOLE holds: its patterns need not be tried."""


def whole_mistake(text: str) -> tuple[Whole, re.Match[str]] | None:
    """What a folded text is that is no callout at all; None for every other text."""
    bare = text.strip()
    if SURELY_A_HOLE.search(bare):
        return None
    found = ((whole, whole.pattern.fullmatch(bare)) for whole in WHOLE)
    return next(((whole, match) for whole, match in found if match is not None), None)


MIXED_MARKS = re.compile(r"[0-9]\.[0-9]+,[0-9]|[0-9],[0-9]+\.[0-9]|(?<![0-9])[0-9]+,[0-9]+,[0-9]")
"""Point and comma in one number, or two commas: nobody can tell which is the decimal mark."""

CHANGED = re.compile(r"\bWAS\b.*?\b(?:NOW|IS NOW|CHANGED TO)\b", re.IGNORECASE | re.DOTALL)
"""The old callout in the text of a revision; the new one stands behind it."""


@dataclass(frozen=True, slots=True)
class Repair:
    """One rewriting: the sentence, and the characters [start, end) of the folded text it changed."""

    sentence: str
    start: int
    end: int
    suggestion: str = "Type the callout again with the right sign."


_DIGITS = str.maketrans("OoIl", "0011")
_SUSPICIOUS = re.compile(
    r"^(?:[0-9]+ ?x ?)?[Dd] ?=? ?[0-9.]|[?□▯▢☐◻\ufffd]|n(?=[0-9.])|[OoIl](?=[0-9./])|[OoIl](?<=[0-9./].)"
)
"""What every repair has somewhere: most texts have nothing of it."""
_LETTER_FOR_DIGIT = re.compile(
    r"(?<![A-Za-z])(?P<lead>M|Ø|#|x ?)?(?=[0-9OoIl./]*[0-9])(?=[0-9./]*[OoIl])[0-9OoIl./]+(?![A-WYZa-wyz0-9])"
)
_LOST_SIGN = re.compile(r"[?□▯▢☐◻\ufffd](?= ?\.?[0-9])")
_LETTER_FOR_SIGN = re.compile(
    r"(?:[0-9]{1,3} ?x ?)?(?P<sign>[Dd] ?=? ?)(?=[0-9.]+ ?(?:$|[,;\n↧±+]|x|H[0-9]|THRU|DEEP|DURCH|TIEF))(?!.*(?:Ø|M[0-9]))"
)
"""D8, 4x D=8 H7: a letter for the diameter sign."""
_SQUARES = "□▯▢☐◻"
_SQUARE_OR_ROUND = (
    "□ is the sign of a square (ISO 129-1, from memory), and what a font shows for a sign that it lacks: a square hole, or "
    "was it Ø? Read as Ø."
)
_SQUARE_HINT = "Write Ø for a round hole; a square one is broached or eroded: write SQUARE, and plan it apart."
_SYMBOL_FONT = re.compile(r"(?:[0-9]+ ?x ?)?n(?=[0-9.])(?!\. ?[0-9]{1,3} [A-Za-z]{3})")
_SYMBOLS = {"n": "Ø", "v": "⌴", "w": "⌵", "x": "↧"}
_SYMBOL = re.compile(r"(?<![A-Za-z])[nvwx](?=[0-9.])")
_THREAD_BEFORE = re.compile(r"M ?[0-9]|[0-9]-[0-9]+ ?UN|[0-9][GH](?![0-9A-Za-z])")


def repaired(text: str) -> tuple[str, tuple[Repair, ...]]:
    """The text with signs that are surely wrong rewritten, as long as before, and what was rewritten."""
    if _SUSPICIOUS.search(text) is None:
        return text, ()
    found: list[Repair] = []
    if _SYMBOL_FONT.match(text):
        text, place = _from_symbol_font(text)
        found.append(
            Repair("Letters of a drafting symbol font, read as n = Ø, v = ⌴, w = ⌵, x = ↧. Is that right?", place, place + 1)
        )
    lost = _LOST_SIGN.search(text)
    if lost is not None and len(_LOST_SIGN.findall(text)) == 1:
        depth = bool(_THREAD_BEFORE.search(text, 0, lost.start())) or "Ø" in text[: lost.start()]
        if depth or not text[: lost.start()].strip("0123456789 x"):
            sign = "↧" if depth else "Ø"
            text = text[: lost.start()] + sign + text[lost.end() :]
            name = "depth" if depth else "diameter"
            if lost[0] in _SQUARES and not depth:
                found.append(Repair(_SQUARE_OR_ROUND, *lost.span(), _SQUARE_HINT))
            else:
                found.append(Repair(f"A sign was lost here; read as the {name} sign {sign}. Is that right?", *lost.span()))
    if match := _LETTER_FOR_SIGN.match(text):
        text = text[: match.start("sign")] + "Ø".ljust(match.end("sign") - match.start("sign")) + text[match.end("sign") :]
        found.append(
            Repair(f"{match['sign'].strip()} before the first number is read as Ø. Is that right?", *match.span("sign"))
        )
    if match := _LETTER_FOR_DIGIT.search(text):
        piece = match[0]
        lead = match["lead"] or ""
        fixed = lead + piece[len(lead) :].translate(_DIGITS)
        text = text[: match.start()] + fixed + text[match.end() :]
        found.append(Repair(f"A letter stands where a digit must; read as {fixed.strip()}. Is that right?", *match.span()))
    return text, tuple(found)


def _from_symbol_font(text: str) -> tuple[str, int]:
    start = text.index("n")
    return text[:start] + _SYMBOL.sub(lambda match: _SYMBOLS[match[0]], text[start:]), start
