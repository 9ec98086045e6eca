"""Glyphs and shop spellings folded to one alphabet, with the way back to the text as it was written.

The alphabet: Ø diameter, ⌴ counterbore, ⌵ countersink, ↧ depth, ° degrees, ± tolerance, x "by" or "times", - . / ' " and
plain spaces; a line break is kept, it separates steps. Case is kept: 6g and 6H are not the same. A glyph or spelling is
added by one line in GLYPHS or SPELLINGS.
"""

from __future__ import annotations

import html
import re
import unicodedata
from bisect import bisect_right
from collections.abc import Iterable
from typing import NamedTuple

from holesched.callouts.model import Span

GLYPHS = {
    "Ø": "ØøΦφϕ⌀∅⦰",
    "⌴": "⌴",
    "⌵": "⌵",
    "↧": "↧↓⤓",
    "°": "°º˚",
    "±": "±",
    "x": "×✕✖⨯хХχΧ",
    "-": "‐‑‒–—―−﹣－",
    '"': "“”„‟″＂″〞",
    "'": "‘’‚‛′´`",
    " ": "\t\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000",
    "\n": "\r\v\f\u2028\u2029\x85",
    "/": "⁄∕／",
    ";": "、",
    "": "\u200b\u200c\u200d\u2060\ufeff\u00ad\u200e\u200f",
    "⌖": "⌖⊕⌖",
}
"""Our glyph and the characters read as it. х Х χ Χ are the Cyrillic and Greek letters that look like x."""

LOOKALIKES = str.maketrans("АВЕКМНОРСТаеорсΑΒΕΖΗΙΚΜΝΟΡΤ", "ABEKMHOPCTaeopcABEZHIKMNOPT")
"""Cyrillic and Greek letters no eye can tell from Latin ones, without those read as x."""

RAISED = frozenset("⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉")
"""Raised and lowered figures are marks or deviations, never digits of the number before them: Ø8² is not Ø82."""
CIRCLED = frozenset("ⒶⒷⒸⒹⒺⒻⒼⒽⒾⒿⓀⓁⓂⓃⓄⓅⓆⓇⓈⓉⓊⓋⓌⓍⓎⓏ①②③④⑤⑥⑦⑧⑨⑩⑪⑫⑬⑭⑮⑯⑰⑱⑲⑳")
"""Letters in circles modify a geometric tolerance, figures in them refer to a note: neither belongs to a size."""
SPELLINGS = {
    "%%c": "Ø",
    "%%d": "°",
    "%%p": "±",
    "+/-": "±",
    "+-": "±",
    "<br>": "\n",
    "\\P": "\n",
    "\\p": "\n",
}
"""Control codes and typewriter spellings, and what they stand for."""

_FOLD = {ord(character): glyph for glyph, characters in GLYPHS.items() for character in characters} | LOOKALIKES
_SPECIAL = re.compile(
    r"""
    (?P<lead>(?!.[¹²³]+[⁄∕/])[\u00c2-\u00ef][\u0080-\u00ff\u0152-\u0178\u0192\u02c6\u02dc\u2013-\u203a\u20ac\u2122]{1,2})
  | (?P<code>%%[cdpCDP] | \+/-(?=\s*[\d.]) | \+-(?=\s*[\d.]) | <br\s*/?> | \\[Pp](?![a-z]))
  | (?P<unicode>\\U\+[0-9A-Fa-f]{4})
  | (?P<stack>\\S[^;\\]*;?)
  | (?P<format>\\[ACHQTWfF][^;\\{}]*; | \\[LlOoKk](?![A-Za-z]) | [{}])
  | (?P<entity>&(?:\#\d{1,6}|\#x[0-9A-Fa-f]{1,5}|[A-Za-z]{2,10});)
  | (?P<blank>[ \t\u00a0\u3000]{2,} | \r\n)
  | (?P<built>[⁰¹²³⁴-⁹]+[⁄∕/][₀-₉]+)
  | (?P<vulgar>(?<=\d)[¼½¾⅐-⅞])
  | (?P<other>[^\x20-\x7e])
    """,
    re.VERBOSE,
)
_TIDY = re.compile(r"[ -$'-;=-\[\]-z|~\nØ⌴⌵↧°±]*")
"""Texts that need no folding, but for X, * and comma: our own alphabet, nothing that may begin a code but +- and +/-."""
_LETTER_X = re.compile(
    r"""X(?:(?<=[0-9)°'"]X)|(?<=[0-9)°'"][ ]X))(?![A-Za-z])                   # behind a number it is always "by" or "times"
      | X(?<![A-Za-z]X)(?<!LETTER[ ]X)(?![A-Za-z])(?![ ]?DR[IL])            # alone, but not the letter drill X
      | X(?:(?<=[0-9]X)|(?<=[0-9][ ]X))(?=M[0-9]|Ø)""",
    re.VERBOSE,
)
_STAR = re.compile(r"(?<=[0-9])\*(?=[ ]?[0-9.ØM])")
COMMA_IN_NUMBER = re.compile(r",(?<=[0-9Ø↧],)[0-9]")
_DECIMAL_COMMA = re.compile(
    r"(?<![0-9,])(?<![^A-Za-zÀ-ɏ]\.)([0-9]+),(?=[0-9]+(?![0-9.]*,?[0-9]))(?![0-9]+\.)|(?<=[Ø↧]),(?=[0-9])"
)


class Folded(NamedTuple):
    """A callout in our alphabet. `anchors` are (place here, place in `raw`) wherever the two get out of step."""

    raw: str
    text: str
    anchors: tuple[tuple[int, int], ...] = ((0, 0),)

    def place(self, position: int) -> int:
        """The place in the raw text of a place in the folded one."""
        here, there = self.anchors[bisect_right(self.anchors, (position, len(self.raw))) - 1]
        return min(there + position - here, len(self.raw))

    def without(self, places: Iterable[tuple[int, int]]) -> Folded:
        """The text without some of its places, which are in order, and the blank before each; it keeps no anchors."""
        pieces, end = [], 0
        for start, stop in places:
            pieces.append(self.text[end:start].rstrip(" "))
            end = stop
        return Folded(self.raw, "".join((*pieces, self.text[end:])).strip())

    def span(self, start: int, end: int) -> Span:
        """The raw text's characters that [start, end) of the folded text came from."""
        if len(self.anchors) == 1 and start < end <= len(self.raw):
            return Span(start, end)
        first = self.place(start)
        return Span(first, max(first, self.place(end - 1) + 1 if end > start else first))


def fold(raw: str) -> Folded:
    """The callout in our alphabet. Never raises; a character that means nothing here is kept as it is."""
    if _TIDY.fullmatch(raw) and "  " not in raw and "+-" not in raw and "+/" not in raw:
        return Folded(raw, _in_place(raw))
    pieces: list[str] = []
    anchors = [(0, 0)]
    length = end = 0
    for match in _SPECIAL.finditer(raw):
        before = raw[end : match.start()]
        length += len(before)
        pieces.append(before)
        length -= len(pieces[-1])
        shown = _shown(match, pieces)
        length += len(pieces[-1])
        anchors += [(length + i, min(match.start() + i, match.end() - 1)) for i in range(len(shown))]
        pieces.append(shown)
        length += len(shown)
        end = match.end()
        if len(shown) != len(match[0]):
            anchors.append((length, end))
    pieces.append(raw[end:])
    return Folded(raw, _in_place("".join(pieces)), tuple(anchors))


def _shown(match: re.Match[str], before: list[str]) -> str:
    """What one special piece of text stands for."""
    piece = match[0]
    if match["lead"]:
        return _unmangled(piece)
    if match["code"]:
        return SPELLINGS.get(piece.lower().replace(" ", "").replace("/>", ">"), SPELLINGS.get(piece, piece))
    if match["unicode"]:
        return _folded_character(chr(int(piece[3:], 16)), before)
    if match["stack"]:
        return piece[2:].rstrip(";").replace("^", "/").replace("#", "/").replace(" ", "")
    if match["format"]:
        return ""
    if match["entity"]:
        return "".join(_folded_character(character, before) for character in html.unescape(piece))
    if match["blank"]:
        return "\n" if piece == "\r\n" else " "
    if match["built"]:
        fraction = unicodedata.normalize("NFKC", piece).replace("⁄", "/").replace("∕", "/")
        return f" {fraction}" if before and before[-1][-1:].isdigit() else fraction
    if match["vulgar"]:
        return " " + unicodedata.normalize("NFKC", piece).replace("⁄", "/")
    return _folded_character(piece, before)


def _folded_character(character: str, before: list[str]) -> str:
    """One character outside plain ASCII in our alphabet: by the tables, else by Unicode's compatibility forms."""
    if character in RAISED or character in CIRCLED:
        return character
    known = _FOLD.get(ord(character))
    if known is not None:
        return chr(known) if isinstance(known, int) else known
    if character.isdigit() and character.isdecimal():
        return str(unicodedata.digit(character))
    if unicodedata.combining(character) or "\uff9e" <= character <= "\uff9f":
        return _composed(character, before)
    folded = unicodedata.normalize("NFKC", character).translate(_FOLD)
    if not folded:
        return ""
    if not folded.isascii() and folded[0] >= "\u3000" and before and before[-1][-1:].isascii() and before[-1][-1:].isalnum():
        return " " + folded
    return folded


def _composed(mark: str, before: list[str]) -> str:
    """Joins a combining mark to the letter before it (half-width Japanese, decomposed accents)."""
    mark = unicodedata.normalize("NFKC", mark).strip()
    for index in range(len(before) - 1, -1, -1):
        if before[index]:
            joined = unicodedata.normalize("NFC", before[index][-1] + mark)
            if len(joined) == 1:
                before[index] = before[index][:-1] + joined
                return ""
            return mark
    return mark


def _unmangled(piece: str) -> str:
    """Repairs UTF-8 that was read as Windows text ("Ã˜" is Ø); otherwise folds the characters one by one."""
    for length in (len(piece), 2):
        bytes_ = b"".join(_windows_byte(character) for character in piece[:length])
        try:
            character = bytes_.decode("utf-8")
        except UnicodeDecodeError:
            continue
        if len(character) == 1 and (
            ord(character) in _FOLD or (character.isalpha() and not "\u0180" <= character < "\u3000")
        ):
            rest = "".join(_folded_character(each, []) for each in piece[length:])
            return _folded_character(character, []) + rest
    return "".join(_folded_character(each, []) for each in piece)


def _windows_byte(character: str) -> bytes:
    try:
        return character.encode("cp1252")
    except UnicodeEncodeError:
        return bytes((ord(character),)) if ord(character) < 256 else b"?"


def _in_place(text: str) -> str:
    """The two foldings that need their neighbours, character for character: X as "by", comma as decimal point."""
    if "X" in text:
        text = _LETTER_X.sub("x", text)
    if "*" in text:
        text = _STAR.sub("x", text)
    if "," in text and COMMA_IN_NUMBER.search(text):
        text = _DECIMAL_COMMA.sub(lambda match: f"{match[1] or ''}.", text)
    return text
