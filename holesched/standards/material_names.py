"""Spellings of material names: what does not count, what is a condition, what is a hardness. Strings only, no table of
materials; the order of the readings goes from the text as it stands to the text with more set aside."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from holesched.tables import table

_HARDNESS = re.compile(
    r"\(?\b(?:(?P<scale1>HRC|RC|HBW?|BHN)\s*)?(?P<low>\d{2,3})(?:\s*(?:-|–|to|\.\.\.|/)\s*(?P<high>\d{2,3})|\s*±\s*(?P<plus>\d{1,2}))?"
    r"\s*(?P<scale2>HRC|RC|HBW?|BHN)?\b\)?",
    re.IGNORECASE,
)
_TEMPER = re.compile(r"(?<=\d)[\s-]*(T\d{1,4}|H\d{2,3}|F|O)\s*$|[\s,-]+(T\d{1,4}|H\d{2,3})\b", re.IGNORECASE)
_TREATED = re.compile(
    r"\s*(\+\s*QT|\bQT\b|\bQ\s*[&+]\s*T\b|\bV\b|\bPH\b|\bHT\b|\bpre-?hard(?:ened)?\b|\bvergütet\b|\bbonificato\b|\bbonificado\b|調質材?)"
    r"[\s)）]*$",
    re.IGNORECASE,
)
_DELIVERY = re.compile(
    r"\s*\+\s*(AR|N|C|SH|M|U|CR|TC|A|AT|P|S)\b|\b(?:annealed|(?:weich)?geglüht|ricotto|recuit|recocido)\b|焼入れ?前|焼な?まし|生材",
    re.IGNORECASE,
)
_SPECIFICATION = re.compile(
    r"\b(?:per|acc\.?(?:\s*to)?|to|nach|selon)?\s*\b(?:AMS(?:-QQ)?|ASTM|ASME|QQ|MIL|DIN(?:\s*EN)?|EN(?:\s*ISO)?|BS(?:\s*EN)?|ISO|JIS)"
    r"[\s-]+(?!A[WC]\b)(?:[A-Z]{1,2}[\s-]?)?\d{2,6}(?:[/-]\d{1,4})*[A-Z]?\b(?!\.)",
    re.IGNORECASE,
)
# Product forms and initials of standards name no alloy; metals' names are set aside only beside a grade.
_FORM_WORDS = """plate bar round flat billet block sheet extrusion extruded forging forged rod casting die pressure
    hrs crs hr cr cf cd hot cold rolled drawn finished tgp material matl mat"""
_INITIAL_WORDS = """aisi sae astm uns en din jis iso w.-nr w.nr wnr w-nr nr no werkstoff werkstoffnummer type typ grade gr
    alloy steel stahl stainless ss sst cres aluminium aluminum alum alu al aw ac en-aw en-ac brass bronze gray grey cast iron
    ductile copper plastic magnesium a48 a536 b209 b211 b221 a108 a276 a240 a582"""
_FORMS = frozenset(_FORM_WORDS.split())
_INITIALS = frozenset(_INITIAL_WORDS.split())


@dataclass(frozen=True, slots=True)
class Stated:
    """A hardness as a drawing states it: its text ("28-32 HRC") and its range in HB."""

    text: str
    hb: tuple[float, float]


def squash(text: str) -> str:
    """The letters and digits of a name in capitals: "EN AW-6061" and "en aw 6061" are one."""
    plain = unicodedata.normalize("NFKC", text).upper()
    return "".join(character for character in plain if character.isalnum())


def readings(text: str) -> tuple[str, ...]:
    """The squashed text, then with less and less beside the grade: specification, condition, initials and product forms.

    Empty when nothing but such words is there.
    """
    forms: dict[str, None] = {}
    for start in (text, _no_specification(text)):
        reading = start
        for step in (str, _no_condition, without_forms, _no_initials):
            reading = step(reading)
            forms[squash(reading)] = None
    bare = squash(reading)
    return tuple(form for form in forms if form) if bare else ()


def parts(text: str) -> tuple[str, ...]:
    """The parts of a text that names a material more than once: "EN AW-6061 (AlMg1SiCu)", "1.4404 / 316L"."""
    return tuple(part.strip() for part in re.split(r"[()\[\]/;|=]|,(?!\d)|\s-\s", text) if part.strip())


def condition_said(text: str) -> str:
    """Which condition the text states: "temper", "quenched and tempered", "delivery", or ""."""
    if _TREATED.search(text):
        return "quenched and tempered"
    if _DELIVERY.search(text):
        return "delivery"
    return "temper" if _TEMPER.search(text) else ""


def stated_hardness(text: str) -> tuple[str, Stated | None]:
    """The text without its hardness, and the hardness ("28-32 HRC", "HB 180-220"); None when there is none."""
    for match in _HARDNESS.finditer(text):
        scale = (match["scale1"] or match["scale2"] or "").upper()
        if not scale:
            continue
        spread = float(match["plus"] or 0)
        low = float(match["low"]) - spread
        high = float(match["high"] or match["low"]) + spread
        shown = f"{low:.0f}" if low == high else f"{low:.0f}-{high:.0f}"
        rockwell = scale in ("HRC", "RC")
        hb = (brinell(low), brinell(high)) if rockwell else (low, high)
        rest = f"{text[: match.start()]} {text[match.end() :]}".strip(" ,;/-")
        return rest, Stated(f"{shown} {'HRC' if rockwell else 'HB'}", (min(hb), max(hb)))
    return text, None


def brinell(hrc: float) -> float:
    """Brinell hardness for a Rockwell C number of steel, between the rows of ASTM E140 by a straight line,
    held at its ends."""
    rows = sorted(_conversion().items())
    below = max((row for row in rows if row[0] <= hrc), default=rows[0])
    above = min((row for row in rows if row[0] >= hrc), default=rows[-1])
    if above[0] == below[0]:
        return below[1]
    return below[1] + (above[1] - below[1]) * (hrc - below[0]) / (above[0] - below[0])


@cache
def _conversion() -> Mapping[float, float]:
    return {float(row["hrc"]): float(row["hb"]) for row in table("hardness_conversion.csv").rows}


def _no_specification(text: str) -> str:
    return _SPECIFICATION.sub(" ", text)


def _no_condition(text: str) -> str:
    return _TEMPER.sub(" ", _TREATED.sub(" ", _DELIVERY.sub(" ", text)))


def without_forms(text: str) -> str:
    """The text without product forms: "aluminium plate" is aluminium."""
    return _without(text, _FORMS)


def _no_initials(text: str) -> str:
    return _without(text, _INITIALS)


def _without(text: str, words: frozenset[str]) -> str:
    return " ".join(word for word in re.split(r"[\s,]+|-(?=\d)", text) if word.strip(".:").lower() not in words)
