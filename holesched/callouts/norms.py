"""Rules of the grammar about standards: of openings for heads, of screws named before, and others, kept as remarks."""

from __future__ import annotations

import re

from holesched.callouts.draft import Reading
from holesched.callouts.model import Kind
from holesched.callouts.screws import HEADS, head_of_norm, size_at
from holesched.standards import heads

_PORT = re.compile(r"J1926|SAE ?- ?[0-9]{1,2}$")
"""A port's standard and its size in sixteenths of an inch."""
_DIN_74 = re.compile(
    r"(?:PER |NACH )?DIN 74(?:-[1-3])?(?![0-9])(?:[ -]*(?:(?i:FORM) )?(?P<form>[A-KR-U])(?![A-Za-z]{2}) ?[fmg]?"
    r"(?: ?(?P<size>[0-9.]+))?)?"
)
"""DIN 74 with its form, the row of its table and its size: DIN 74-Hm8, DIN 74 Form F 8."""
_FORM = re.compile(r"FORM (?P<form>[A-KR-U])(?![A-Za-z])", re.IGNORECASE)
_HELD_FORM = "F"
"""The form of DIN 74 that is held: for ISO 10642, 90 degrees."""
_OTHER_FORMS = {
    "ABCD": (("FHMS", "ISO 2009 or ISO 7046"), ("FHCS", "ISO 10642")),
    "HJK": (("SHCS", "ISO 4762"), ("LHCS", "DIN 7984")),
}
"""Forms of DIN 74 that are not held, and the heads whose openings may be meant; what a form is for changed with the editions
(from memory). E is for steel structures, 75 or 60 degrees; R to U are for hexagon heads."""
_HEXAGON = re.compile(r"(?:PER )?DIN 974-2")
"""Openings for hexagon heads: as wide as the spanner needs."""
_PARTS = re.compile(
    r"(?:DIN|ISO|EN|UNI) (?:1|7|1481|6325|7343|7344|7346|913|914|915|916|2338|2339|8733|8734|8735|8748|8750|8751|8752|13337"
    r"|4026|4027|4028|4029|6364|6873|5923|5925|5927|5929)(?![0-9])"
)
"""Pins and set screws: their standards ask nothing of a hole that has its size or thread (from memory)."""
_OF_THREADS = {
    "iso-metric": r"DIN 13|ISO (?:261|262|68|724|965|5855)|B ?1\.13|BS 3643|B 020[579]|GB/T (?:193|196|197)",
    "unified": r"B ?1\.(?:1|15)(?![0-9])|BS 1580|ISO (?:263|725|5864)|B 020[68]",
    "wire-insert": r"DIN 8140|B ?18\.29",
    "npt": r"B ?1\.20\.[13]",
    "nps": r"B ?1\.20\.[13]",
    "iso-228": r"ISO 228|BS 2779|DIN 259|B 0202",
    "iso-7": r"ISO 7|EN 10226|DIN 2999|BS 21|B 0203",
    "trapezoidal": r"DIN 103|ISO 290[1-4]|B 0216",
    "acme": r"B ?1\.5",
    "stub-acme": r"B ?1\.8",
    "whitworth": r"BS 84",
    "ba": r"BS 93",
}
"""Standards of the threads themselves (from memory): they say of a thread what its designation says already."""
_GENERAL = re.compile(r"(?:PER |NACH )?(?:DIN |EN )*ISO (?:2768|22081)(?:-[12])?(?: ?- ?[fmcv][HKL]?(?![A-Za-z]))?")
"""General tolerances: of the sizes that have none, as the title block says too."""
_ROW = re.compile(r",? ?(?i:REIHE|ROW|R) ?(?P<row>[1-6])(?![0-9.])")
_OPENINGS = (
    (re.compile(r"(?:PER )?DIN 974"), Kind.COUNTERBORE, "SHCS"),
    (re.compile(r"(?:PER )?(?:DIN )?(?:EN )?ISO 15065"), Kind.COUNTERSINK, "FHMS"),
)
"""Standards of openings for heads, what they make and for which head: DIN 974-1 for ISO 4762, ISO 15065 for ISO 2009 and
ISO 7046."""


def standard(r: Reading, start: int) -> bool:
    """standard := DIN 974-1 [M8], ISO 15065 [M6]: the opening for a screw's head; of another standard a remark is kept."""
    t = r.tokens
    if _din_74(r, start):
        return True
    norm = t.check("norm")
    if norm is None:
        return False
    text = norm[0].strip()
    if "6411" in text:
        problem = "a centre hole (ISO 6411) is not planned here"
        raise t.fail(problem, start, norm.end(), "Plan it at turning or grinding.", "HOLE-CENTRE")
    general = _GENERAL.match(t.text, start)
    t.move(general.end() if general is not None else start + len(norm[0].rstrip(" -")))
    if general is not None:
        r.remarks.append(general[0].strip())
        return True
    if _HEXAGON.match(text):
        problem = f"{text} is for hexagon heads: its diameters are not in the tables here"
        hint = "Write the diameter, and the depth or SF; DIN 974-1 is for cylinder heads."
        raise t.fail(problem, start, norm.end(), hint, "FASTENER-UNKNOWN")
    _row_one(r, text, start)
    if r.current is not None and (_PARTS.search(text) or _is_of_thread(r, text)):
        r.remarks.append(text)
        return True
    opening = next(((kind, head) for pattern, kind, head in _OPENINGS if pattern.match(text)), None)
    if opening is not None and _opening(r, *opening, start):
        return True
    if (head := head_of_norm(text)) is not None and _head_behind(r, head):
        return True
    r.remarks.append(text)
    if head is not None and any(each.has_head for each in r.drafts):
        return True  # DIN 974-1 FOR M6 DIN 912: its opening has been read
    if _PORT.match(text) and "PORT" in t.text.upper():
        return True  # the port is asked about, whole
    if opening is not None:
        _of_hole(r, text, *opening, start)
    elif r.current is not None:
        problem = f"{text} is not in the tables here: what it asks for beyond the written sizes is not planned."
        hint = "Write out spotface, chamfer and depths."
        r.ask("CALLOUT-STANDARD", problem, start, norm.end(), hint, "the written sizes only")
    return True


def _is_of_thread(r: Reading, text: str) -> bool:
    """Whether a standard is that of the thread just read."""
    call = r.current.thread if r.current is not None else None
    own = _OF_THREADS.get(call.standard) if call is not None else None
    return own is not None and re.search(rf"(?:{own})(?![0-9])", text) is not None


def _row_one(r: Reading, text: str, start: int) -> None:
    """DIN 974-1 Reihe 1 is the row that is held; the others leave room for washers."""
    t = r.tokens
    row = _ROW.match(t.text, t.position) if text.endswith("974-1") else None
    if row is None:
        return
    if row["row"] != "1":
        problem = f"{text} {row[0].strip()} is for heads with washers: its diameters are not in the tables here"
        raise t.fail(problem, start, row.end(), "Write the diameter and depth.", "FASTENER-UNKNOWN")
    t.move(row.end())


def _head_behind(r: Reading, head: str) -> bool:
    """CLEARANCE FOR M6, CSK FOR ISO 10642: the head of the screw named before."""
    bare = [each for each in r.drafts if each.fastener is not None and not each.has_head]
    for draft in bare:
        size, _, fit = (draft.fastener or "").partition(" ")
        draft.fastener = f"{size} {head} {fit}".strip()
        r.touch(draft)
    return bool(bare)


def _opening(r: Reading, kind: Kind, head: str, start: int) -> bool:
    """The opening a standard gives a screw: of the size behind it, else of the screw already named."""
    t = r.tokens
    draft = r.current
    at = t.position
    while (word := t.word(at)) is not None and word.meaning in ("for", "filler", *HEADS) and size_at(t, at) is None:
        at = t.skip_blanks(word.end)
    size = size_at(t, at)
    donor = next((each.fastener for each in r.drafts if each.fastener is not None), None)
    if size is None and donor is None:
        return False
    if draft is not None and draft.kind is kind and not draft.unsized:
        return False
    if size is not None:
        t.move(size[3])
        if size[2] is not None and size[2].length_mm is not None:
            r.remarks.append(t.text[at : size[3]])  # the screw's length, kept as written
    _sink(r, kind, f"{size[0] if size is not None else (donor or '').split(' ')[0]} {head}", start)
    return True


def _din_74(r: Reading, start: int) -> bool:
    """DIN 74 form size: form F is that of ISO 10642; the other forms are not held, and a form must be named."""
    t = r.tokens
    found = _DIN_74.match(t.text, start)
    if found is None:
        return False
    apart = _FORM.search(t.text)
    form = found["form"] or (apart["form"] if apart is not None else None)
    if form != _HELD_FORM:
        problem = f"{found[0].strip()}: form {form} of DIN 74 is not in the tables here"
        if form is None:
            problem = f"{found[0].strip()}: which form, and for which screw?"
        hint = _instead(r, form or "", found)
        raise t.fail(problem, start, found.end(), hint, "FASTENER-UNKNOWN")
    r.unknown = [place for place in r.unknown if apart is None or not apart.start() <= place[0] < apart.end()]
    t.move(found.end())
    if found["size"] is not None:
        _sink(r, Kind.COUNTERSINK, f"M{found['size']} FHCS", start)
    elif not _opening(r, Kind.COUNTERSINK, "FHCS", start):
        raise t.fail("expected the screw's size behind DIN 74", start, found.end(), "Write DIN 74-F8.", "SIZE-MISSING")
    return True


def _sink(r: Reading, kind: Kind, screw: str, start: int) -> None:
    """The opening for a screw's head: of the step that waits for its size, or a step of its own."""
    draft = r.current
    sunk = draft if draft is not None and draft.unsized and draft.is_opening else None
    sunk = sunk or r.begin(start, kind, stated=True)
    sunk.kind, sunk.sink = kind, ""
    sunk.fastener = screw
    r.touch(sunk, "size")
    r.fresh = False


def _instead(r: Reading, form: str, found: re.Match[str]) -> str:
    """What to write for a form that is not held: the openings of the heads it may be for, if the screw's size is known."""
    t = r.tokens
    behind = size_at(t, t.skip_blanks(found.end()))
    named = next((each.fastener.split(" ")[0] for each in r.drafts if each.fastener is not None), "")
    size = f"M{found['size']}" if found["size"] else behind[0] if behind is not None else named
    size = size or next((word[0] for place in range(found.end(), len(t.text)) if (word := size_at(t, place))), "")
    if form == "E":
        return "Write the diameter and the angle: 75° or 60°, by size."
    if form in tuple("RSTU"):
        return "Write the diameter, and the depth or SF."
    meant = next((meant for forms, meant in _OTHER_FORMS.items() if form and form in forms), ())
    seats = [f"{seat} for {norm}" for head, norm in meant if (seat := _seat(size, head))]
    other = (
        "diameter and angle" if form in tuple("ABCD") else "diameter and depth" if form else "diameter and depth or angle"
    )
    return f"Write {', or '.join(seats)}; else {other}." if seats else f"Write the {other}."


def _of_hole(r: Reading, text: str, kind: Kind, head: str, start: int) -> None:
    """Ø9, Senkung DIN 974-1: the opening for the only screw that the hole is the clearance of; asked.

    Behind an opening that is written out the standard is a remark.
    """
    t = r.tokens
    if any(each.is_opening and not each.unsized and (each.depth or each.angle_deg) for each in r.drafts):
        return
    end = t.end_of_last
    holes = {each.diameter.mm for each in r.drafts if each.diameter is not None and not each.is_opening}
    screws = heads.cleared_by(holes.pop()) if len(holes) == 1 else ()
    seat = _seat(screws[0], head) if len(screws) == 1 else ""
    if not seat or any(each.is_opening and not each.unsized for each in r.drafts):
        r.ask(
            "CALLOUT-STANDARD", f"{text}: for which screw?", start, end, f"Write it as {text} M8.", "the written sizes only"
        )
        return
    sentence = f"{text}: for which screw? The hole is the clearance of {screws[0]}."
    _sink(r, kind, f"{screws[0]} {head}", start)
    r.ask("CALLOUT-STANDARD", sentence, start, end, f"Write {text} {screws[0]}, or {seat}.", seat)


def _seat(size: str, head: str) -> str:
    """The opening for a screw's head as a callout has it; empty: the tables have none."""
    found = heads.fastener_hole(f"{size} {head}") if size else None
    return found.seat if found is not None else ""
