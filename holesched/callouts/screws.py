"""The words that name a screw and the hole for it, in whatever order they stand: size, head, standard, fit, clearance."""

from __future__ import annotations

import re
from dataclasses import dataclass

from holesched.callouts.tokens import Tokens
from holesched.callouts.words import Word, spelling
from holesched.standards.threads.base import ThreadCall
from holesched.units import MM_PER_INCH

HEADS = {
    "screw": "",
    "socket head": "SHCS",
    "low socket head": "LHCS",
    "flat socket head": "FHCS",
    "flat head": "FLAT HEAD",
    "machine flat head": "FHMS",
    "hex head": "HEX HEAD",
    "other head": "BHCS",
}
"""Meanings of the words for screws, and the head as the tables of fasteners name it; a screw alone tells no head."""
FITS = {
    "close fit": "CLOSE",
    "medium fit": "MEDIUM",
    "loose fit": "LOOSE",
    "close": "CLOSE",
    "medium": "MEDIUM",
    "loose": "LOOSE",
}
WRITTEN_FITS = ("close fit", "medium fit", "loose fit")
NORMS = (
    (re.compile(r"ISO 4762|DIN(?: EN)?(?: ISO)? (?:4762|912)(?![0-9])|UNI 5931|GB/T 70\.1"), "SHCS"),
    (re.compile(r"DIN (?:7984|6912)(?![0-9])"), "LHCS"),
    (re.compile(r"ISO 10642|DIN(?: EN)?(?: ISO)? (?:10642|7991)(?![0-9])|UNI 5933|GB/T 70\.3"), "FHCS"),
    (re.compile(r"ISO (?:2009|7046)|DIN(?: EN)?(?: ISO)? (?:2009|7046|963|965)(?![0-9])"), "FHMS"),
    (re.compile(r"ISO (?:4014|4017)|DIN(?: EN)?(?: ISO)? (?:4014|4017|931|933)(?![0-9])"), "HEX HEAD"),
    (re.compile(r"ISO 7380"), "BHCS"),
)
"""Standards of screws, and their heads."""
CLEARANCE_NORM = re.compile(r"ISO 273(?![0-9])|(?:DIN )?EN 20273|ASME B18\.2\.8")
_SIZE = re.compile(r"#[0-9]{1,2}(?![0-9-])|(?:[1-4][ -])?[0-9]{1,2}/(?:2|4|8|16)(?![0-9]| ?-)")
"""A screw by its size alone: #10, 1/4."""
_EXTERNAL = re.compile(r"[0-9]+[a-h]|[123]A")
_JOINS = "(),;:-\n"


@dataclass(slots=True)
class Screw:
    """A screw as named: `size` for the tables ("M8", "#10", "1/4"), and where the words of it end.

    `call` is the thread's designation, None for a size alone. `clear`: a word for a clearance hole stands with it; `noun`: a
    word for a hole that goes through, which may be one or not; `after_for`: FOR stands with it; `named`: a word or standard
    for a screw. `doubtful`: FINE or COARSE, which may be the screw's thread; `body`: BODY FIT; `through`: THRU.
    """

    size: str = ""
    nominal_mm: float = 0.0
    call: ThreadCall | None = None
    size_at: int = 0
    end: int = 0
    head: str = ""
    fit: str = ""
    fit_written: bool = False
    zone: str = ""
    clear: bool = False
    noun: bool = False
    after_for: bool = False
    named: bool = False
    through: bool = False
    doubtful: bool = False
    body: bool = False

    @property
    def name(self) -> str:
        """The screw for the tables: size, head, fit."""
        return " ".join(word for word in (self.size, self.head, f"{self.fit} FIT" if self.fit else "") if word)

    @property
    def tapped(self) -> bool:
        """Whether its thread has the class of a tapped hole (6H, 2B), which no screw has."""
        named = self.call.thread_class if self.call is not None else None
        return named is not None and _EXTERNAL.fullmatch(named) is None

    @property
    def telling(self) -> bool:
        """Whether anything but a thread is named: FINE alone may be the thread's."""
        return self.clear or self.noun or self.named or self.after_for or (bool(self.fit) and self.fit_written)


def screw_at(t: Tokens, position: int) -> Screw | None:
    """screw := { CLEARANCE | size | head | norm | fit | zone | THRU | FOR | , | ( | ) } with one size; None: no screw.

    A thread alone, or with words that only go with a thread, is no screw.
    """
    words = _Words(t, position)
    while _sign(words) or _size(words) or _norm(words) or _word(words):
        pass
    screw = words.screw
    return screw if screw.size and screw.telling else None


class _Words:
    """The place the reading of a screw has come to, and the screw so far."""

    __slots__ = ("at", "open", "screw", "t")

    def __init__(self, t: Tokens, at: int) -> None:
        self.t = t
        self.at = at
        self.open = False
        self.screw = Screw()

    def keep(self, end: int) -> Screw:
        """The words up to there belong to the screw."""
        self.at = self.screw.end = end
        return self.screw


def _sign(words: _Words) -> bool:
    """Brackets, commas and the like inside the words; a bracket that was opened is closed."""
    at = words.t.skip_blanks(words.at)
    sign = words.t.sign(at)
    if not sign or sign not in _JOINS or (sign == ")" and not words.open):
        return False
    words.at = at + 1
    words.open = sign == "(" or (words.open and sign != ")")
    if sign == ")" and words.screw.end:
        words.screw.end = at + 1
    return True


def _size(words: _Words) -> bool:
    at = words.t.skip_blanks(words.at)
    size = size_at(words.t, at) if not words.screw.size else None
    if size is None:
        return False
    screw = words.keep(size[3])
    screw.size, screw.nominal_mm, screw.call, _ = size
    screw.size_at = at
    return True


def size_at(t: Tokens, at: int) -> tuple[str, float, ThreadCall | None, int] | None:
    """A screw's size: its name, nominal diameter in mm, its designation if it has one, and where it ends."""
    found = t.thread(at)
    if found is not None:
        call, end = found
        label = call.nominal.label.removesuffix(" in")
        return (label, call.nominal.mm, call, end) if call.standard in ("iso-metric", "unified") else None
    match = _SIZE.match(t.text, at)
    if match is None:
        return None
    name = match[0].replace("-", " ")
    if name[0] == "#":
        return name, round((0.060 + 0.013 * int(name[1:])) * MM_PER_INCH, 6), None, match.end()
    number = t.number_at(at)
    return (name, number.mm, None, number.end) if number is not None and number.fraction else None


def _norm(words: _Words) -> bool:
    """ISO 4762, ISO 273."""
    t = words.t
    at = t.skip_blanks(words.at)
    norm = t.check("norm", at) if t.sign(at).isalpha() else None
    if norm is None:
        return False
    text, end = norm[0].removeprefix("PER "), at + len(norm[0].rstrip(" -"))
    if CLEARANCE_NORM.match(text):
        words.keep(end).clear = True
        return True
    head = head_of_norm(text)
    if head is None or (words.screw.size and _another_size(t, end)):
        return False
    screw = words.keep(end)
    screw.head, screw.named = head, True
    return True


def head_of_norm(text: str) -> str | None:
    """The head of the screws of a standard; None: not one of screws."""
    return next((head for pattern, head in NORMS if pattern.match(text)), None)


def _word(words: _Words) -> bool:
    t = words.t
    screw = words.screw
    at = t.skip_blanks(words.at)
    zone = t.check("hole zone", at) if t.sign(at) == "H" and screw.clear and not screw.size else None
    if zone is not None:
        words.keep(zone.end()).zone = zone[0]
        return True
    word = t.word(at)
    meaning = word.meaning if word is not None else None
    if word is None or meaning is None:
        return False
    if meaning in ("for", "filler"):
        words.at = word.end
        if word.text == "用" and screw.size:
            words.keep(word.end)
        screw.after_for = screw.after_for or (is_for(word) and (word.text == "用" or not screw.size))
        return True
    if meaning in ("through", "through all"):
        return _through(words, word)
    if meaning in FITS:
        return _fit(words, word, meaning)
    if meaning == "fit word":
        words.at = word.end
        screw.fit_written = True
        screw.end = word.end if screw.fit else screw.end
        return True
    return _telling(words, word, meaning)


def is_for(word: Word) -> bool:
    """FOR and its like; PER is a filler in English and FOR in Italian."""
    return word.meaning == "for" or spelling(word.text) == "PER"


def _telling(words: _Words, word: Word, meaning: str) -> bool:
    """Words that make a screw of a size, unless they belong to the next one."""
    screw = words.screw
    if meaning not in ("clearance", "body fit", "through hole", *HEADS) or (screw.size and _another_size(words.t, word.end)):
        return False
    words.keep(word.end)
    if meaning in HEADS:
        screw.named, screw.head = True, HEADS[meaning] or screw.head
    elif meaning == "through hole":
        screw.noun = True
    else:
        screw.clear, screw.body = True, screw.body or meaning == "body fit"
    return True


def _through(words: _Words, word: Word) -> bool:
    """THRU among the words; behind the size only where a word for its clearance or its head follows."""
    t = words.t
    at = t.skip_blanks(word.end)
    following = t.meaning(at)
    if words.screw.size and (following not in ("clearance", "body fit", *HEADS) or _another_size(t, at)):
        return False
    words.at = word.end
    words.screw.through = True
    return True


def _fit(words: _Words, word: Word, meaning: str) -> bool:
    """CLOSE FIT, FINE; two that differ are left to be asked about."""
    fit = FITS[meaning]
    if words.screw.fit not in ("", fit):
        return False
    screw = words.keep(word.end)
    screw.fit = fit
    screw.fit_written = screw.fit_written or meaning in WRITTEN_FITS
    screw.doubtful = spelling(word.text) in ("FINE", "COARSE") and screw.call is not None
    return True


def _another_size(t: Tokens, position: int) -> bool:
    """Whether the words that follow belong to another screw: CLEARANCE FOR M6 behind M8 THRU."""
    at = t.skip_blanks(position)
    while (word := t.word(at)) is not None and (word.meaning in ("for", "filler", "through") or word.meaning in HEADS):
        if size_at(t, at) is not None:
            return True
        at = t.skip_blanks(word.end)
    return size_at(t, at) is not None
