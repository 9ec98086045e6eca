"""The words of drawings in eleven languages, from callout_words.csv: what a word or phrase at a place in a callout means."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator
from difflib import get_close_matches
from functools import cache, lru_cache
from typing import NamedTuple

from holesched.callouts.normalise import LOOKALIKES, fold
from holesched.tables import table

_LETTER = "[A-Za-zÀ-ÖÙ-öù-ɏЀ-ӿ]"  # not Ø, which is the diameter sign
_LATIN = re.compile(rf"{_LETTER}+(?:['/.-]?{_LETTER}+)*\.?")
_SINGLE = re.compile(rf"{_LETTER}+\.?")
_RUN = re.compile(rf"{_LETTER}(?:[0-9]|(?:{_LETTER}|[ '/.-])*)")
"""Everything that decides which word or phrase begins here."""
LONGEST = 64
"""More characters than the longest phrase has: beyond, a run of words decides nothing."""
_BLANK = re.compile(r"[ ]*")
_EAST = re.compile(r"[\u3005-\u30ff\u3400-\u9fff]+")
_LONGEST_EAST = 9


class Word(NamedTuple):
    """A word or phrase: its meaning (None: unknown) and the folded text's characters [start, end)."""

    meaning: str | None
    text: str
    start: int
    end: int


def spelling(text: str) -> str:
    """A word as the table spells it: capitals, no accents, no full stops or apostrophes ("c'bore" is CBORE)."""
    if not text.isascii():
        text = "".join(c for c in unicodedata.normalize("NFD", text) if not "\u0300" <= c <= "\u036f")
        text = unicodedata.normalize("NFC", text).upper().translate(LOOKALIKES)
    return text.upper().replace(".", "").replace("'", "")


@cache
def _phrases() -> dict[str, tuple[tuple[tuple[str, ...], str], ...]]:
    """First word -> the phrases that begin with it, longest first, each with its meaning."""
    found: dict[str, list[tuple[tuple[str, ...], str]]] = {}
    for row in table("callout_words.csv").rows:
        words = tuple(spelling(word) for word in fold(row["word"]).text.replace("-", " ").split())
        found.setdefault(words[0], []).append((words, row["meaning"]))
    return {first: tuple(sorted(phrases, key=lambda phrase: -len(phrase[0]))) for first, phrases in found.items()}


def word_at(text: str, position: int) -> Word | None:
    """The word or phrase that starts at a place in folded text, the longest the table knows; None: no letter is there."""
    run = _RUN.match(text, position, position + LONGEST)
    if run is None:
        return _east(text, position)
    meaning, length = _first_of(run[0])
    if length == LONGEST and (whole := _LATIN.match(text, position)) is not None:
        meaning, length = None, len(whole[0])
    return Word(meaning, text[position : position + length], position, position + length)


@lru_cache(maxsize=4096)
def _first_of(run: str) -> tuple[str | None, int]:
    """What the first word or phrase of a run of words means, and its length; remembered, since callouts have few words."""
    found = _LATIN.match(run)
    if found is None or (found.end() == 1 and run[1:2].isdigit()):
        return None, 1
    whole = _phrase(run, 0, found)
    if whole is None and (single := _SINGLE.match(run)) is not None and single.end() < found.end():
        whole = _phrase(run, 0, single)
    return (whole.meaning, whole.end) if whole is not None else (None, found.end())


def _phrase(text: str, position: int, first: re.Match[str]) -> Word | None:
    key = spelling(first[0])
    parts = key.split("-")
    for words, meaning in _phrases().get(parts[0], ()):
        end, have = first.end(), list(parts)
        while len(have) < len(words):
            blank = _BLANK.match(text, end + 1 if text[end : end + 1] == "-" else end)
            following = _LATIN.match(text, blank.end()) if blank else None
            if following is None:
                break
            have += spelling(following[0]).split("-")
            end = following.end()
        if tuple(have) == words:
            return Word(meaning, text[position:end], position, end)
    glued = "".join(parts)
    for words, meaning in _phrases().get(glued, ()) if len(parts) > 1 else ():
        if len(words) == 1:
            return Word(meaning, first[0], position, first.end())
    return None


def _east(text: str, position: int) -> Word | None:
    """A Japanese word: there are no blanks to end it, so the longest that the table knows."""
    if text[position : position + 1] < "\u3005":
        return None
    run = _EAST.match(text, position)
    if run is None:
        return None
    for length in range(min(len(run[0]), _LONGEST_EAST), 0, -1):
        known = _phrases().get(run[0][:length])
        if known:
            return Word(known[0][1], run[0][:length], position, position + length)
    return Word(None, run[0], position, run.end())


def words_in(text: str, skipped: Callable[[int], int] = int) -> Iterator[tuple[int, Word | None]]:
    """The words of a folded text and the signs between them, each with its place; `skipped`: a place, and where to go on."""
    place = 0
    while place < len(text):
        if (end := skipped(place)) > place:
            place = end
            continue
        word = word_at(text, place)
        yield place, word
        place = max(word.end if word is not None else 0, place + 1)


def meanings_in(text: str) -> frozenset[str]:
    """What the words and phrases of a folded text mean, wherever they stand; those behind NO, NOT and the like left out."""
    found: set[str] = set()
    denied = False
    for _, word in words_in(text):
        if word is None:
            continue
        if word.meaning is not None and not denied:
            found.add(word.meaning)
        denied = word.meaning == "negation" or spelling(word.text) == "NO"
    return frozenset(found)


@lru_cache(maxsize=1024)
def near_words(text: str) -> tuple[str, ...]:
    """Known words that a misspelt one may have meant, nearest first; none for a known word in the wrong place."""
    written = spelling(text)
    return () if written in _meaningful() else tuple(get_close_matches(written, _meaningful(), n=2, cutoff=0.75))


@cache
def _meaningful() -> tuple[str, ...]:
    return tuple(row["word"] for row in table("callout_words.csv").rows if row["meaning"] != "filler")
