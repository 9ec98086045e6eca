"""Holes for fasteners: clearance holes, counterbores for socket heads, countersinks for flat heads, and their names.

A callout such as CLEARANCE FOR M8 SHCS states no size; the tables here supply it: ISO 273 and ASME B18.2.8 (clearance),
DIN 974-1 and ASME B18.3 (counterbore), ISO 15065, DIN 74-F, ASME B18.3 and B18.6.3 (countersink).
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Literal, get_args

from holesched.errors import HoleschedError
from holesched.notes import Cite, Standing
from holesched.standards.drill_sizes import by_label, inch_value
from holesched.standards.sizes import Size
from holesched.tables import Table, table
from holesched.units import MM_PER_INCH

Fit = Literal["close", "medium", "loose"]
Head = Literal["socket cap", "low socket cap", "flat socket", "flat"]
FITS: tuple[Fit, ...] = get_args(Fit)


class UnknownFastener(HoleschedError, KeyError):
    """No table lists that fastener's hole; the message says which sizes there are."""

    __str__ = HoleschedError.__str__


@dataclass(frozen=True, slots=True)
class FastenerHole:
    """The hole a fastener needs.

    `nominal` is the screw ("M8", "#10", "1/4"), `head` "" for a hole without room for a head; `head_named` tells a hexagon
    or button head from none. `counterbore` is diameter and depth (mm), `countersink` diameter and included angle (degrees).
    `fit_written` is False when medium was supplied. `questions` are (code, problem, suggestion): FASTENER-SIZE-UNKNOWN,
    FASTENER-HEAD-UNCLEAR.
    """

    nominal: Size
    fit: Fit
    fit_written: bool
    clearance: Size | None
    head: Head | Literal[""] = ""
    counterbore: tuple[Size, float] | None = None
    countersink: tuple[Size, float] | None = None
    cites: tuple[Cite, ...] = ()
    questions: tuple[tuple[str, str, str], ...] = ()
    head_named: bool = False

    @property
    def seat(self) -> str:
        """The seat of the head as a callout has it, in its own unit: CBORE Ø15 ↧8.6, CSK Ø12.6 x 90°; empty: none."""
        if self.counterbore is not None:
            size, depth_mm = self.counterbore
            inch = size.label[0] in "#." or "/" in size.label or size.label.endswith("in")
            return f"CBORE Ø{size.label} ↧{depth_mm / MM_PER_INCH if inch else depth_mm:.4g}"
        return f"CSK Ø{self.countersink[0].label} x {self.countersink[1]:g}°" if self.countersink is not None else ""


def _row(source: Table, size: str, what: str) -> dict[str, str]:
    for row in source.rows:
        if row["size"] == size:
            return dict(row)
    known = ", ".join(row["size"] for row in source.rows)
    raise UnknownFastener(f"{source.provenance['source']} lists no {what} for {size}.", remedy=f"It lists {known}.")


def _size(text: str) -> Size:
    """A table's inch cell, a drill name or a fraction, as a Size."""
    found = by_label(text)
    if found is None:
        raise UnknownFastener(f"'{text}' in a fastener table is no drill size.")
    return found


def _inch(size: str) -> bool:
    return not size.startswith("M")


def _metric_size(mm: float) -> Size:
    return Size(mm, f"{mm:g}")


def _inch_size(inch: float) -> Size:
    return Size(round(inch * MM_PER_INCH, 6), f"{inch:.3f} in".removeprefix("0"))


def clearance(size: str, fit: Fit = "medium") -> tuple[Size, Cite]:
    """The clearance hole of a screw ("M8", "#10", "1/4"): its size and the source.

    ISO 273 fine, medium, coarse for metric, ASME B18.2.8 close, normal, loose for inch screws (there the size is the
    nominal drill). Raises UnknownFastener, a KeyError, when the standard does not list the screw.
    """
    if fit not in FITS:
        raise UnknownFastener(f"'{fit}' is no fit of a clearance hole.", remedy="Write close, medium or loose.")
    if _inch(size):
        source = table("head_clearance_inch.csv")
        return _size(_row(source, size, "clearance hole")[fit]), source.cite()
    source = table("head_clearance_metric.csv")
    return _metric_size(float(_row(source, size, "clearance hole")[f"{fit}_mm"])), source.cite()


def cleared_by(hole_mm: float) -> tuple[str, ...]:
    """The metric screws that ISO 273 gives a hole of this diameter in mm in one of its series, smallest first."""
    rows = table("head_clearance_metric.csv").rows
    return tuple(row["size"] for row in rows if any(float(row[f"{fit}_mm"]) == hole_mm for fit in FITS))


def counterbore(size: str, head: Head = "socket cap") -> tuple[Size, float, Cite]:
    """The counterbore of a socket head: diameter, depth in mm and source.

    Metric: DIN 974-1 row 1, depth = head height + the standard's addition (the head lies below the face). Inch: ASME B18.3
    appendix, depth = head height (level with the face). Raises UnknownFastener.
    """
    if head not in ("socket cap", "low socket cap") or (_inch(size) and head != "socket cap"):
        raise UnknownFastener(f"No counterbore is tabulated for a {head} head of {size}.")
    if _inch(size):
        source = table("head_counterbore_inch.csv")
        row = _row(source, size, "counterbore")
        return _size(row["diameter"]), round(float(row["depth_in"]) * MM_PER_INCH, 6), source.cite()
    source = table("head_counterbore_metric.csv")
    row = _row(source, size, "counterbore")
    if head == "socket cap":
        depth_mm = round(float(row["head_mm"]) + float(row["added_depth_mm"]), 6)
    elif row["low_head_depth_mm"]:
        depth_mm = float(row["low_head_depth_mm"])
    else:
        raise UnknownFastener(f"No low head is tabulated for {size}.")
    return _metric_size(float(row["diameter_mm"])), depth_mm, source.cite()


def countersink(size: str, head: Head = "flat") -> tuple[Size, float, Cite]:
    """The countersink of a flat head: diameter, included angle in degrees and source.

    Metric, 90 degrees: "flat" is the slotted or cross-recessed head (ISO 15065, smallest diameter), "flat socket" the
    hexagon socket head (DIN 74-F for ISO 10642). Inch, 82 degrees: ASME B18.6.3 and B18.3, theoretical sharp head
    diameter. Raises UnknownFastener.
    """
    if head not in ("flat", "flat socket"):
        raise UnknownFastener(f"A {head} head takes no countersink.")
    if _inch(size):
        source = table("head_countersink_inch_socket.csv" if head == "flat socket" else "head_countersink_inch_machine.csv")
        return _inch_size(float(_row(source, size, "countersink")["diameter_in"])), 82.0, source.cite()
    name, column = ("socket", "diameter_mm") if head == "flat socket" else ("slotted", "low_mm")
    source = table(f"head_countersink_{name}.csv")
    row = _row(source, size, "countersink")
    return _metric_size(float(row[column])), 90.0, source.cite()._replace(standing=Standing(row["standing"]))


def _words(pattern: str) -> re.Pattern[str]:
    return re.compile(rf"(?<![A-Z0-9])(?:{pattern})(?![A-Z0-9])")


# Tried in this order, each over the whole text; a word that none of them takes leaves the text uninterpreted.
_HEAD_WORDS: tuple[tuple[re.Pattern[str], Head | Literal[""]], ...] = (
    (
        _words(r"FLAT SOCKET|SOCKET FLAT HEAD|FLAT HEAD SOCKET(?: HEAD)?|S?FHCS|FSHCS|FHSCS|ISO 10642|DIN 7991"),
        "flat socket",
    ),
    (_words(r"LOW HEAD(?: SOCKET)?(?: HEAD)?|LHCS|DIN 7984"), "low socket cap"),
    (_words(r"SOCKET HEAD|SOC(?:KET)? H(?:EA)?D|SOCKET(?: CAP)?|SHCS|CAP HEAD|CAP(?= SCR)|ISO 4762|DIN 912"), "socket cap"),
    (_words(r"FLAT HEAD|FLAT HD|FH|FHMS|COUNTERSUNK(?: HEAD)?|CSK HEAD|ISO 2009|ISO 7046|DIN 96[35]"), "flat"),
    (_words(r"HEX(?:AGON)?(?: HEAD)?|HHCS|STUD|BUTTON(?: HEAD)?|BHCS|PAN HEAD|ISO 7380"), ""),
)
_SURELY_FLAT = _words(r"FHMS|MACHINE|SLOTTED|CROSS[- ]RECESSED|ISO 2009|ISO 7046|DIN 96[35]")
_FIT_WORDS: dict[str, Fit] = {
    "CLOSE": "close",
    "FINE": "close",
    "MEDIUM": "medium",
    "NORMAL": "medium",
    "STANDARD": "medium",
    "LOOSE": "loose",
    "FREE": "loose",
    "COARSE": "loose",
}
_PLAIN_WORDS = re.compile(
    r"(?<![A-Z])(?:CLEARANCE|CLEAR|CLR|FOR|TO SUIT|SUIT|FIT|HOLES?|A|CAP|HEAD|SCREWS?|SCR|BOLTS?|FASTENERS?"
    r"|MACHINE|SLOTTED|CROSS[- ]RECESSED)(?![A-Z])"
)
_METRIC_SIZE = re.compile(r"(?<![A-Z])M ?(\d+(?:[.,]\d+)?)(?: ?[X×] ?\d+(?:[.,]\d+)?)?(?![\d.,])")
_NUMBER_SIZE = re.compile(
    r"(?:#|NO\.? ?)(1[02]|[0-68])(?:-\d{2})?(?!\d)|(?<![\d/.-])(1[02]|[0-68])-(?:80|72|64|56|48|44|40|36|32|28|24)(?!\d)"
)
_FRACTION_SIZE = re.compile(
    r"(?<![\d/.])((?:\d[ -])?\d{1,2}/\d{1,2}|[1-4](?=-\d|\"| ?IN))(?:-\d{1,2})?(?: ?(?:\"|IN\.?|UNC|UNF|INCH))*(?![\d/])"
)


def _read_size(text: str) -> tuple[str, Size, str] | None:
    """The screw's size in the text: its name in the tables, its nominal size, and the text without it."""
    if found := _METRIC_SIZE.search(text):
        mm = float(found[1].replace(",", "."))
        name, nominal = f"M{mm:g}", Size(mm, f"M{mm:g}")
    elif found := _NUMBER_SIZE.search(text):
        number = int(found[1] or found[2])
        name, nominal = f"#{number}", Size(round((0.060 + 0.013 * number) * MM_PER_INCH, 6), f"#{number}")
    elif found := _FRACTION_SIZE.search(text):
        try:
            inch = inch_value(found[1])
        except ZeroDivisionError:
            return None
        name = found[1].replace("-", " ")
        nominal = Size(round(float(inch) * MM_PER_INCH, 6), name if "/" in name else f"{name} in")
    else:
        return None
    return name, nominal, text[: found.start()] + " " + text[found.end() :]


def fastener_hole(text: str) -> FastenerHole | None:
    """What a fastener's name asks for: "M8", "M8 SHCS", "1/4-20 SHCS", "#10 flat head", "clearance for M6, close fit".

    None when the text names no screw, or holds a word that is not understood ("M8 dowel"). A screw the tables do not list,
    and a flat head that may be slotted or socket, come with a question; nothing is guessed.
    """
    upper = re.sub(r"\s+", " ", text.upper().replace("'", "").replace(",", " , ")).strip()
    upper = re.sub(r"(?<=\d) , (?=\d)", ",", upper)
    upper = re.sub(r"\b(?:CBORE|C/BORE|COUNTERBORED?|COUNTERSINK|CSINK|CSK(?! HEAD))\b", " ", upper)
    head: Head | Literal[""] = ""
    sure = bool(_SURELY_FLAT.search(upper))
    named = False
    for words, kind in _HEAD_WORDS:
        upper, times = words.subn(" ", upper)
        named = named or times > 0
        head = head or (kind if times else "")
    read = _read_size(upper)
    if read is None:
        return None
    size, nominal, rest = read
    fits = [fit for word, fit in _FIT_WORDS.items() if re.search(rf"\b{word}\b", rest)]
    rest = re.sub(rf"\b(?:{'|'.join(_FIT_WORDS)})\b", " ", rest)
    if _PLAIN_WORDS.sub(" ", rest).strip(" ,.-:;()") or len(fits) > 1:
        return None
    hole = replace(_assemble(size, nominal, fits[0] if fits else None, head), head_named=named)
    if head == "flat" and not sure and hole.countersink:
        return replace(hole, questions=(*hole.questions, _which_flat_head(size, hole.countersink[0])))
    return hole


def _assemble(size: str, nominal: Size, written: Fit | None, head: Head | Literal[""]) -> FastenerHole:
    fit: Fit = written or "medium"
    hole, bored, sunk = None, None, None
    cites: list[Cite] = []
    questions: list[tuple[str, str, str]] = []
    try:
        hole, source = clearance(size, fit)
        cites.append(source)
        if head in ("socket cap", "low socket cap"):
            diameter, depth_mm, source = counterbore(size, head)
            bored = (diameter, depth_mm)
            cites.append(source)
        elif head:
            diameter, angle_deg, source = countersink(size, head)
            sunk = (diameter, angle_deg)
            cites.append(source)
    except UnknownFastener as unknown:
        questions.append(("FASTENER-SIZE-UNKNOWN", unknown.problem, "State the diameters and depths on the drawing."))
    return FastenerHole(nominal, fit, written is not None, hole, head, bored, sunk, tuple(cites), tuple(questions))


def _which_flat_head(size: str, machine: Size) -> tuple[str, str, str]:
    """The question between a slotted or cross-recessed head and a hexagon socket head: their countersinks differ."""
    try:
        other = f"countersink {countersink(size, 'flat socket')[0].label}"
    except UnknownFastener:
        other = "not tabulated in that size"
    standards = "B18.6.3 or B18.3" if _inch(size) else "ISO 7046 or ISO 10642"
    return (
        "FASTENER-HEAD-UNCLEAR",
        f"A flat head of {size} may be slotted or cross-recessed (countersink {machine.label}) "
        f"or have a hexagon socket ({other}).",
        f"Name the screw or its standard, such as {standards}.",
    )
