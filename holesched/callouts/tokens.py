"""The tokens of a callout: one table of named patterns and a reader with the verbs check, consume and fail.

Words come from `words`, thread designations from the register of standards; everything else is a pattern below.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from holesched.callouts.normalise import Folded
from holesched.callouts.words import Word, word_at
from holesched.standards import threads
from holesched.standards.sizes import Size
from holesched.standards.threads.base import ThreadCall
from holesched.units import MM_PER_INCH, LengthUnit

_NUMBER = r"(?:[0-9]{1,7}(?:\.[0-9]{0,6})?|\.[0-9]{1,6})"
_END = r"(?![0-9A-Za-z.])"

PATTERNS = {
    name: re.compile(pattern)
    for name, pattern in {
        "break": r"[;,\n|]+[ ;,\n|]*",
        "slash": r"[/&+:-]",
        "Ø": r"Ø+",
        "x": r"x(?![a-wyz])",
        "(": r"[(\[]",
        ")": r"[)\]]",
        "fraction": r"(?:(?P<whole>[0-9]{1,3})[ -])?(?P<over>[0-9]{1,3})/(?P<under>[0-9]{1,3})(?![0-9.])",
        "decimal": _NUMBER,
        "mm": r"(?:mm|MM)(?![A-Za-z])",
        "inch": r"(?:\"|''|INCH(?:ES)?(?![A-Za-z])|(?:in|IN)(?![A-Za-z])\.?)",
        "limits": rf"/ ?(?={_NUMBER})|(?:(?<! )-|- )(?=[0-9]*\.[0-9]+(?![0-9x]))",
        "number drill": r"(?:#|(?:NO|No|no|NR|NUMBER)\.? ?)(?P<number>[0-9]{1,2})(?![0-9./]|-[0-9])",
        "letter drill": r"(?:LETTER |LTR\.? )?"
        r"(?P<letter>[A-Z])(?= ?(?:\([0-9.]+\) ?)?(?:DRILL|DRL)(?![A-Z])| ?\(\.[0-9]{3}\))"
        r"|LETTER (?P<named>[A-Z])(?![A-Z])",
        "hole zone": r"(?:JS|CD|EF|FG|Z[ABC]|[A-HJKNPRSTUVXYZ]|M(?=[5-9](?! ?x ?[0-9]))"
        r"|(?<=[0-9])M(?=[5-9] ?x ?(?:[5-9]|[1-9][0-9])))(?:1[0-6]|[5-9])(?![0-9.])|(?:JS|H)[34](?![0-9.])",
        "inch class": r"(?:RC|LC|LT|LN|FN) ?[0-9]{1,2}(?![0-9.])",
        "shaft zone": r"(?:js|cd|ef|fg|[a-hj-np-wyz])(?:1[0-6]|[5-9])(?![0-9.x])",
        "series": r"UN(?:J?(?:EF|C|F|S)?|R(?:EF|C|F|S)?)(?![A-Za-z])",
        "class": r"(?:[3-9][GHgheEfF](?:[3-9][GHgh])?|[123](?:AG?|B))" + _END,
        "signed": rf"(?P<sign>[+-]) ?(?P<value>{_NUMBER})|(?P<zero>0(?:\.0+)?)(?![0-9.])",
        "may count": r"\(|[0-9]{1,4}(?=[ x-]|Ø|[A-Za-z\u0400-\u04ff\u3000-\u9fff])",
        "times": r"(?P<count>[0-9]{1,4}) ?x(?![a-wyz])",
        "bracket count": r"\((?P<count>[0-9]{1,3})(?: ?x)?\)",
        "dash count": r"(?P<count>[0-9]{1,3}) ?(?:-|(?i:NOS?\b\.?)) ?(?=M ?[0-9]|Ø|⌴|[0-9.]+ ?[\u3005-\u9fff])",
        "whole number": r"(?P<count>[0-9]{1,3})(?![0-9./])",
        "bare count": r"(?P<count>[0-9]{1,3})(?:(?=Ø ?[0-9.])| "
        r"(?=M ?[0-9]|Ø ?[0-9.#]|#?[0-9]{1,2}-[0-9]|[0-9./]+-[0-9]+ UN))",
        "glued count": r"(?P<count>[0-9]{1,3})(?P<thread>M[0-9]+)",
        "tags": r"(?P<letters>[A-Z]{1,3})(?P<first>[0-9]{1,3}) ?(?:-|\.\.|TO|THRU) ?"
        r"(?P=letters)(?P<last>[0-9]{1,3})(?=[ :])",
        "norm": r"J1926(?:[/-]1)?(?![0-9])|"
        r"(?:PER )?(?:DIN|ISO|JIS|ANSI/ASME|ASME|ANSI|SAE|EN|MIL|NAS|NASM|MS|AS|BS|UNI|GB/T)[ -]"
        r"(?:EN |ISO |B ?|J ?){0,2}[0-9][0-9./-]*"
        r"(?: ?-[A-Z]?[0-9.]*)?(?: FORM [A-Zx])?",
        "diameters": r"[x-]? ?(?P<factor>[0-9](?:\.[0-9]+|[ -]1/2)?) ?x? ?[Dd](?:IA)?(?![A-Za-z0-9])",
        "chamfer c": rf"C(?={_NUMBER}(?![0-9A-Za-z-]))",
        "by 45": r" ?x ?45(?:\.0+)? ?(?:°|DEG(?![A-Z]))",
        "point": r"(?P<angle>1[1-4][0-9]|90)(?:°| ?DEG)",
    }.items()
}
"""Token name -> pattern. Numbers are held to seven digits: nothing longer is a size."""

# A shop's fractions are reduced: 12/16 is no size, but two numbers.
_DENOMINATORS = (2, 4, 8, 16, 32, 64, 128)
_PLAIN_NUMBER = re.compile(rf"{_NUMBER}(?![0-9.])(?!(?:[ -][0-9]{{1,3}})?/)(?! ?[\"'mMiI])")
"""A number that is surely neither part of a fraction nor marked with a unit: most are."""
_MAY_BE_THREAD = re.compile(r"[A-Za-z#]|\.?[0-9][0-9 ./\"'-]*(?:-[ ]?[0-9]|[A-WYZa-wyz°])")
"""What a designation begins with: letters, # or a number that a dash and a number, or letters, follow (but no x)."""
_REACH = re.compile(r"[^↧Ø⌴⌵;\n]*[↧Ø⌴⌵;\n]?")
"""As far as a designation's pattern looks: to the next sign that none can hold."""
_BRACKETED = re.compile(r"[(\[][^()\[\]]*[)\]]")
_LEADING_POINT = re.compile(r"\.(?<![0-9]\.)[0-9]")
_OF_A_NOTE = re.compile(
    r"(?:[⌖⏥⏤⌭○◯⭘⌯⟂⊥⏊∥⫽⫻◎⌾⌰↗⌓⌒∠⦟√▽∇|]|\b(?:POSN?|(?:TRUE )?POSITION|T\.?P\.?|PERP[A-Z]*|CYL[A-Z]*|CONC[A-Z]*"
    r"|(?:TOTAL )?RUNOUT|FLATNESS|PARALLEL[A-Z]*|WITHIN|R[az]))[ |:]*(?:S?Ø)?$"
)
"""What stands before a figure of a geometric tolerance or of surface texture."""
_LEG = re.compile(r"\.[0-9]+ ?x ?45")
_CHAMFER = re.compile(r"(?:CHAM(?:FER)?|CHFR|FASE|SMUSSO|CHANFREIN|CHAFL[AÁ]N)\.?$", re.IGNORECASE)
_METRIC_SIZE = re.compile(r"(?:Ø|M ?|^)[1-9](?![0-9]*(?: ?x|[/-]))")
_LETTERS = re.compile(r"[A-Za-z]+$")
_METRIC_PITCH = re.compile(r"M ?[0-9]+(?:\.[0-9]+)? ?x ?$")


class Number(NamedTuple):
    """A number as written: its value, whether it is in inches, its mm and its name in the trade, and its place."""

    value: float
    text: str
    inch: bool
    fraction: bool
    start: int
    end: int

    @property
    def marked(self) -> bool:
        """Whether its own unit is written."""
        return self.end - self.start > len(self.text)

    @property
    def mm(self) -> float:
        """The length in mm (inches rounded to the nanometre, so that equal sizes compare equal)."""
        return round(self.value * MM_PER_INCH, 6) if self.inch else self.value

    @property
    def size(self) -> Size:
        """The length as a size: 6.8, 1/4, .25 in."""
        if self.fraction:
            return Size(self.mm, self.text)
        tidy = f"{self.value:.6f}".rstrip("0").rstrip(".") or "0"
        return Size(self.mm, f"{tidy.removeprefix('0') or '0'} in" if self.inch else tidy)


class SyntaxProblem(Exception):
    """A callout that cannot be read: the problem in one sentence, its place, what to write instead, and a code."""

    def __init__(self, problem: str, start: int, end: int, suggestion: str = "", code: str = "CALLOUT-UNREADABLE") -> None:
        super().__init__(problem)
        self.problem, self.start, self.end, self.suggestion, self.code = problem, start, end, suggestion, code


class Tokens:
    """A folded callout and the place the reading has come to; blanks are skipped. What stands at a place is found once."""

    __slots__ = ("_numbers", "_threads", "_words", "end_of_last", "folded", "position", "text", "unit")

    def __init__(self, folded: Folded, unit: LengthUnit) -> None:
        self.folded = folded
        self.text = folded.text
        self.unit = unit
        self.end_of_last = 0
        self.position = self.skip_blanks(0)
        self._words: dict[int, Word | None] = {}
        self._threads: dict[int, tuple[ThreadCall, int] | None] = {}
        self._numbers: dict[int, Number | None] = {}

    def at_end(self) -> bool:
        """Whether nothing but blanks is left."""
        return self.position >= len(self.text)

    def skip_blanks(self, position: int) -> int:
        """The next place that is no blank."""
        text = self.text
        while text[position : position + 1] == " ":
            position += 1
        return position

    def move(self, end: int) -> None:
        """Goes on behind `end`."""
        self.end_of_last = end
        self.position = self.skip_blanks(end)

    def sign(self, position: int | None = None) -> str:
        """The character here, not consumed; empty at the end."""
        at = self.position if position is None else position
        return self.text[at : at + 1]

    def take(self, sign: str) -> bool:
        """Whether that one sign is here, consumed."""
        if self.text[self.position : self.position + 1] != sign:
            return False
        self.move(self.position + 1)
        return True

    def check(self, name: str, position: int | None = None) -> re.Match[str] | None:
        """The token of that name here, not consumed."""
        return PATTERNS[name].match(self.text, self.position if position is None else position)

    def consume(self, name: str) -> re.Match[str] | None:
        """The token of that name here, consumed; None: another one is here."""
        found = PATTERNS[name].match(self.text, self.position)
        if found is not None:
            self.move(found.end())
        return found

    def fail(
        self,
        problem: str,
        start: int | None = None,
        end: int | None = None,
        suggestion: str = "",
        code: str = "CALLOUT-UNREADABLE",
    ) -> SyntaxProblem:
        """The problem at a place (here, unless told), to be raised."""
        start = self.position if start is None else start
        if end is None:
            word = self.word(start)
            end = word.end if word else start + 1
        return SyntaxProblem(problem, start, end, suggestion, code)

    def word(self, position: int | None = None) -> Word | None:
        """The word or phrase here, not consumed. In inches the point of DP.50 is the number's, in millimetres the word's."""
        at = self.position if position is None else position
        if self.text[at : at + 1] < "A":
            return None
        try:
            return self._words[at]
        except KeyError:
            found = self._words[at] = self._word(at)
            return found

    def _word(self, at: int) -> Word | None:
        word = word_at(self.text, at)
        if word is not None and self.unit == "in" and word.text[-1] == "." and self.text[word.end : word.end + 1].isdigit():
            return Word(word.meaning, word.text[:-1], word.start, word.end - 1)
        return word

    def meaning(self, position: int | None = None) -> str | None:
        """What the word here means; None: no word, or one nobody knows."""
        word = self.word(position)
        return word.meaning if word else None

    def words(self, *meanings: str) -> Word | None:
        """The word here, consumed if it has one of the meanings."""
        word = self.word()
        if word is None or word.meaning not in meanings:
            return None
        self.move(word.end)
        return word

    def thread(self, position: int | None = None) -> tuple[ThreadCall, int] | None:
        """The thread designation here and where it ends, by the register of standards; not consumed."""
        at = self.position if position is None else position
        if at not in self._threads:
            self._threads[at] = thread_at(self.text, at, self.unit)
        return self._threads[at]

    def number_at(self, position: int) -> Number | None:
        """number := [whole] fraction | decimal, with an optional mark mm, in or \"; a fraction is always inches."""
        try:
            return self._numbers[position]
        except KeyError:
            found = self._numbers[position] = self._number(position)
            return found

    def _number(self, position: int) -> Number | None:
        plain = _PLAIN_NUMBER.match(self.text, position)
        if plain is not None:
            return Number(float(plain[0]), plain[0], self.unit == "in", False, position, plain.end())
        found = PATTERNS["decimal"].match(self.text, position)
        if found is None:
            return None
        fraction = PATTERNS["fraction"].match(self.text, position)
        if fraction and int(fraction["under"]) in _DENOMINATORS and int(fraction["over"]) % 2:
            value = int(fraction["whole"] or 0) + int(fraction["over"]) / int(fraction["under"])
            end = self._unit_end("inch", fraction.end())
            return Number(value, fraction[0].replace("-", " "), True, True, position, end)
        in_mm, in_inch = self._unit_end("mm", found.end()), self._unit_end("inch", found.end())
        inch = in_inch > found.end() or (self.unit == "in" and in_mm == found.end())
        return Number(float(found[0]), found[0], inch, False, position, max(in_mm, in_inch))

    def number(self) -> Number | None:
        """A number here, consumed."""
        found = self.number_at(self.position)
        if found is not None:
            self.move(found.end)
        return found

    def _unit_end(self, name: str, position: int) -> int:
        at = position + (self.text[position : position + 1] == " ")
        found = PATTERNS[name].match(self.text, at)
        if found is None:
            return position
        if found[0] in ("in", "IN"):
            behind = self.skip_blanks(found.end())
            following = None if self.check("hole zone", behind) else self.word(behind)
            unknown = following is not None and following.meaning is None and len(following.text) > 1
            if unknown or (following is not None and following.meaning == "filler"):
                return position
        return found.end()


def diameters(match: re.Match[str]) -> float:
    """The factor of a length in diameters: 1.5D, 1 1/2 D."""
    return float(re.sub("[ -]1/2", ".5", match["factor"]))


def thread_at(text: str, at: int, unit: LengthUnit) -> tuple[ThreadCall, int] | None:
    """The thread designation at a place of a folded text and where it ends, by the register of standards."""
    if _MAY_BE_THREAD.match(text, at) is None:
        return None
    before = text[at - 1 : at]
    begin = at if before == "x" or (before == "." and text[at].isalpha()) else max(0, at - 2)
    reach = _REACH.match(text, at)
    found = _designation(text[begin : reach.end() if reach else at], at - begin, unit)
    return (found[0], found[1] + begin) if found is not None else None


@lru_cache(maxsize=4096)
def _designation(text: str, position: int, unit: LengthUnit) -> tuple[ThreadCall, int] | None:
    """The thread that the register of standards finds; remembered, since a schedule has few threads."""
    return threads.recognise(text, position, unit)


def inch_habit(text: str) -> bool:
    """Whether a size or depth is written without a zero before its point, as inches are and millimetres are not.

    A deviation (+.005), a pitch (M8x.75), a tolerance in a frame, surface texture or a second dimension in brackets proves
    nothing; nor does a chamfer's leg (.5x45°) beside a size in whole millimetres.
    """
    if _LEADING_POINT.search(text) is None:
        return False
    text = _BRACKETED.sub(" ", text)
    for match in _LEADING_POINT.finditer(text):
        before = text[: match.start()].rstrip()
        glued = _LETTERS.search(text, 0, match.start())
        if before[-1:] in ("+", "-", "±", "/") or _METRIC_PITCH.search(before) or _OF_A_NOTE.search(before):
            continue
        if (_LEG.match(text, match.start()) or _CHAMFER.search(before)) and _METRIC_SIZE.search(text):
            continue
        if glued is None or glued[0] == "x":
            return True
    return False
