"""What kind of row a text shows: a hole, a total, a note, a title, a deleted row, a ditto. Words: table row_words.csv."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence
from functools import cache, lru_cache

from holesched.schedule.columns import key, unit_word
from holesched.tables import table

_DITTO = frozenset(('"', "''", "”", "〃", "々", "ditto", "do", "do.", "dto", "dto.", "idem", "id.", "same", "same as above",
                    "as above", "wie oben", "s.o.", "dito", "come sopra", "igual", "同上", "同"))  # fmt: skip
_DASH = frozenset(("-", "--", "---", "–", "—", "n/a", "na", "none", "tbd", "?", "x"))
_STARRED = re.compile(r"[*※]|\d{1,2}[.)]\s+\D{3,}\s+\D{2,}\s")
"""A footnote's star, or a numbered sentence: "1. BREAK ALL EDGES"."""
SPEAKS_OF_HOLES = re.compile(
    r"\d|[Ø⌀⌴⌵↧]|\b(?:thru|through|durch|tap|tapped|deep|blind|ream|csk|cbore|c'bore|drill|both)\b|通", re.I
)
"""Digits, symbols or words of holes: what a text that says how a hole is made has at least one of."""
_SIZE = r"(?:[Ø⌀φ]\s*\.?\d|M\d|#\d+-\d|\d[\d/.]*\s*-\s*\d+\s*UN|\d[\d/]*\s*NPT)"
ASKS_FOR_HOLE = re.compile(rf"\b\d+\s*[xX×]\s*{_SIZE}|{_SIZE}\S*\s*(?:thru|through|durch|↧|deep|tief|x\s*\d)", re.I)
"""A size with a count before it or a depth behind it."""
_START = re.compile(r"[^\W\d_]+")
_LONGEST = 60
"""More of a text than the longest words that show its kind."""
_REFERS = re.compile(
    r"\W*|\W+(?:holes?|rev|see|per|by|at|in|on|ec[no]|siehe|lt|gem|voir|ver|vedi)\b.*|\W*[(\d].*", re.I | re.S
)
"""What may follow "deleted": nothing, or where that is said. "Removed burrs" deletes no hole."""


@cache
def _patterns() -> Mapping[str, re.Pattern[str]]:
    """Kind -> pattern of the first words that show it, to be matched with a text's key."""
    words: dict[str, list[str]] = {}
    for row in table("row_words.csv").rows:
        words.setdefault(row["kind"], []).extend(key(word) for word in row["words"].split("|"))
    longest_first = {kind: sorted(set(found), key=len, reverse=True) for kind, found in words.items()}
    return {kind: re.compile("(?:" + "|".join(map(_bounded, found)) + ")") for kind, found in longest_first.items()}


@cache
def _first_words() -> frozenset[str]:
    """What texts with such words begin with; most callouts begin otherwise and need no closer look."""
    return frozenset(key(word).split()[0] for row in table("row_words.csv").rows for word in row["words"].split("|"))


def _bounded(word: str) -> str:
    """A word as a pattern; words of an alphabet end where a letter or digit does not follow."""
    return re.escape(word) + (r"(?!\w)" if word[-1].isascii() or len(word) == 1 else "")


@lru_cache(maxsize=8192)
def kind_of(text: str) -> str:
    """The kind of row that a text shows: "blank", "ditto", "dash", "total", "deleted", "note", "title", "origin", or ""
    for an ordinary text."""
    text = unicodedata.normalize("NFKC", text).strip(" \t\r\n\u200b\ufeff")
    if not text:
        return "blank"
    if text.casefold() in _DITTO:
        return "ditto"
    if text.casefold() in _DASH:
        return "dash"
    if _STARRED.match(text):
        return "note"
    start = _START.match(text)
    if start is None or (start[0].isascii() and start[0].casefold() not in _first_words()):
        return ""
    words = key(text[:_LONGEST])
    for kind, pattern in _patterns().items():
        match = pattern.match(words)
        if match and (kind != "deleted" or _REFERS.fullmatch(text[match.end() :])):
            return kind
    return ""


def is_units_row(texts: Sequence[str]) -> bool:
    """Whether all filled cells of a row are units, "mm", "(in)", or dashes for columns without one."""
    return any(map(unit_word, texts)) and all(unit_word(text) or kind_of(text) == "dash" for text in texts)


def looks_like_tag(text: str) -> bool:
    """Whether a text may be a hole's tag: short, one word or a list, with a digit or of one or two letters."""
    return len(text) <= 24 and (len(text) <= 2 or any(c.isdigit() for c in text)) and len(text.split()) <= 4
