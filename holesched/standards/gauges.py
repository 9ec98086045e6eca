"""Gauges that prove a hole: which plugs, their limit sizes, and how each is used.

Thread plugs check the pitch diameter; a go thread plug never shows the minor diameter, so plain plugs stand beside it.
The gauge's own limits are given where a table of ours has them; otherwise None, said on the gauge.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from holesched.notes import COMMON_PRACTICE, Cite, Standing
from holesched.standards.sizes import Limits
from holesched.standards.threads import npt
from holesched.standards.threads.base import ThreadGeometry, without_j
from holesched.tables import table
from holesched.units import MM_PER_INCH

GO_THREAD = "go thread plug"
NOT_GO_THREAD = "not-go thread plug"
GO_PLAIN = "go plain plug"
NOT_GO_PLAIN = "not-go plain plug"
TAPER_THREAD = "taper thread plug"


@dataclass(frozen=True, slots=True)
class Gauge:
    """One gauge: `kind` ("go thread plug", "not-go thread plug", "go plain plug", "not-go plain plug", "taper thread plug"),
    what it is for ("M8x1.25-6H"), and the size it checks in mm (pitch diameter for thread plugs, diameter for plain ones).
    """

    kind: str
    designation: str
    size_mm: float
    cite: Cite
    tolerance_mm: tuple[float, float] | None = None
    """Smallest and largest size of the gauge itself, where a standard gives them."""
    how: str = ""
    """How it is used, in one sentence."""
    worn_mm: float | None = None
    """Size below which a used gauge is taken out of use, where a standard gives it."""


@dataclass(frozen=True, slots=True)
class _Rule:
    """How one family's thread gauges are used, and the standard that says so."""

    cite: Cite
    go: str
    not_go: str
    plugs: str = ""
    """Table of the plugs' own tolerances by that of the thread, if there is one."""


def _two_turns(standard: str, edition: str = "", plugs: str = "") -> _Rule:
    return _Rule(
        Cite(standard, edition, "limit gauges", Standing.FROM_MEMORY),
        "must screw in by hand over the whole length of thread",
        "must not enter by more than two turns",
        plugs,
    )


_ISO_RULE = _Rule(
    Cite("ISO 1502", "1996", "use of go and not-go thread plugs", Standing.FROM_MEMORY),
    "must screw in by hand, without force, over the whole length of thread",
    "must not enter by more than two turns from either end",
    "gauge_thread_iso1502.csv",
)
_B12_RULE = _Rule(
    Cite("ASME B1.2", "1983", "use of GO and NOT GO (HI) thread plugs", Standing.FROM_MEMORY),
    "must screw in freely by hand over the whole length of thread",
    "may enter by up to three turns at either end, and must be tight by the third",
)
_RULES = {
    **dict.fromkeys(("M", "MF", "MJ", "STI-M"), _ISO_RULE),
    "G": _two_turns("ISO 228-2", "1987"),
    "Tr": _two_turns("DIN 103-9", "1985", "gauge_thread_trapezoidal.csv"),
    "ACME": _two_turns("ASME B1.5", "1997"),
    "STUB ACME": _two_turns("ASME B1.8", "1988"),
    **dict.fromkeys(("NPSM", "NPSL"), _two_turns("ASME B1.20.1", "1983")),
    "NPSH": _two_turns("ASME B1.20.7", "1991"),
    **dict.fromkeys(("BSW", "BSF", "BA"), _two_turns("BS 919-2", "1971")),
}
"""The rule by series; the Unified series have ASME B1.2."""
_UNIFIED_PREFIXES = ("UN", "STI-UN")
_DRYSEAL_PLUG = Cite(
    "ASME B1.20.5", "1991", "L1 taper thread plug; how far it enters follows from the pitch diameter", Standing.FROM_MEMORY
)
_PIPE_RULES = {
    "NPT": (
        Cite("ASME B1.20.1", "2013", "L1 taper thread plug", Standing.FROM_MEMORY),
        "L1 plug, screwed in by hand: its gauging notch stands level with the face, one turn either way",
    ),
    npt.ANPT: (
        npt.ANPT_CITE,
        "L1 plug by hand, notch level with the face within one turn; L3 plug and plain taper plug must agree with it",
    ),
    "NPTF": (
        Cite("ASME B1.20.5", "1991", "L1 and L3 taper thread plugs, plain crest-check plug", Standing.FROM_MEMORY),
        "L1 plug by hand, notch level with the face within one turn; L3 plug and crest-check plug must agree with it",
    ),
    npt.SHORT: (
        npt.SHORT_CITE,
        "L1 plug of NPTF by hand, notch a turn above the face, within one turn; L3 and crest-check plugs must agree with it",
    ),
    "Rc": (
        Cite("ISO 7-2", "2000", "taper thread plug gauge", Standing.FROM_MEMORY),
        "taper plug, screwed in by hand: the face lies between the gauge's two steps",
    ),
    "Rp": (
        Cite("ISO 7-2", "2000", "taper thread plug gauge, for parallel internal threads too", Standing.FROM_MEMORY),
        "taper plug, screwed in by hand: the face lies between the gauge's two steps; the plugs of G do not prove it",
    ),
    "NPSC": (
        Cite("ASME B1.20.1", "1983", "L1 taper thread plug, for the straight thread of couplings too", Standing.FROM_MEMORY),
        "L1 plug of NPT, screwed in by hand: its gauging notch stands level with the face, 1 1/2 turns either way",
    ),
    "NPSF": (
        _DRYSEAL_PLUG,
        "L1 plug of NPTF, screwed in by hand: its gauging notch stands 3/8 to 1 7/8 turns above the face",
    ),
    "NPSI": (
        _DRYSEAL_PLUG,
        "L1 plug of NPTF, screwed in by hand: its gauging notch stands from 7/8 turn above the face to 5/8 turn below it",
    ),
}
_BY_TAPER_PLUG = ("Rp", "NPSC", "NPSF", "NPSI")
"""Parallel threads that take a taper external one, and so are proved by its gauge."""


def _rule(series: str) -> _Rule:
    """Raises KeyError for a series without a rule: a new standard names its gauges here."""
    return _B12_RULE if series.startswith(_UNIFIED_PREFIXES) else _RULES[series]


@dataclass(frozen=True, slots=True)
class _Own:
    """A thread plug's own limits and worn size, mm."""

    limits: tuple[float, float]
    worn: float | None = None


_Pair = tuple[_Own | None, _Own | None]
"""Of the go and the not-go plug; None where no table here has them."""


def _plugs_by_tolerance(name: str, pitch: Limits, starts: int) -> _Pair:
    """Go and not-go plug of the table `name`, by the thread's tolerance TD2 on its pitch diameter; (None, None) outside it.

    Go: D2 min + Z_PL +- T_PL / 2, worn at D2 min + Z_PL - W_GO. Not-go: D2 max + T_PL / 2 +- T_PL / 2, worn at
    D2 max + T_PL / 2 - W_NG (ISO 1502:1996, clause 13.3; GOST 24997-81 and 10071-89 alike).
    """
    if pitch.max_mm is None:
        return None, None
    width_um = round((pitch.max_mm - pitch.min_mm) * 1000, 3)
    for row in table(name).rows:
        if int(row.get("starts_to", starts)) >= starts and float(row["over_um"]) < width_um <= float(row["up_to_um"]):
            half, shift, go, not_go = (float(row[key]) / 1000 for key in ("t_pl_um", "z_pl_um", "w_go_um", "w_ng_um"))
            half /= 2
            return _own(pitch.min_mm + shift, half, go), _own(pitch.max_mm + half, half, not_go)
    return None, None


def _own(middle: float, half: float, wear: float) -> _Own:
    return _Own((round(middle - half, 6), round(middle + half, 6)), round(middle - wear, 6))


def _plugs_by_pitch(geometry: ThreadGeometry) -> _Pair:
    """ASME B1.2, class X: inward at both limits; (None, None) outside the table."""
    width = _b12_thread_tolerance_mm(geometry.spec.tpi, geometry.basic_major_mm)
    if width is None:
        return None, None
    least, most = geometry.pitch.min_mm, geometry.pitch.max_mm
    go = _Own((least, round(least + width, 6)))
    return go, None if most is None else _Own((round(most - width, 6), most))


_B12_COLUMNS = (("to_1_5_in", 1.5), ("to_4_in", 4.0), ("to_8_in", 8.0))
"""Column of the table and the largest major diameter it holds for, inches."""


def _b12_thread_tolerance_mm(tpi: float | None, major_mm: float) -> float | None:
    """ASME B1.2 X tolerance on the pitch diameter in mm; None outside the table."""
    major_in = major_mm / MM_PER_INCH
    column = next((name for name, most in _B12_COLUMNS if major_in <= most), None)
    for row in table("gauge_thread_b12.csv").rows:
        if column is not None and tpi is not None and float(row["tpi"]) == tpi:
            return float(row[column]) * MM_PER_INCH if row[column] else None
    return None


def _class_z(limits: Limits) -> _Pair:
    """ASME B89.1.5, class Z: inward at both limits; None outside the table or without a limit."""

    def inward(size_mm: float | None, sign: int) -> _Own | None:
        if size_mm is None:
            return None
        for row in table("gauge_plain_z.csv").rows:
            if float(row["over_in"]) < size_mm / MM_PER_INCH <= float(row["up_to_in"]):
                edge = round(size_mm + sign * float(row["tolerance_in"]) * MM_PER_INCH, 6)
                return _Own((min(size_mm, edge), max(size_mm, edge)))
        return None

    return inward(limits.min_mm, 1), inward(limits.max_mm, -1)


def _within(limits: Limits, nominal_mm: float) -> _Pair:
    """GB/T 1957, Table 3, by the coarsest grade that is not wider than the hole's tolerance; (None, None) outside the table.

    Go: D min + Z1 +- T1 / 2, worn at D min. Not-go: D max - T1 to D max. So no hole outside its limits is ever passed.
    """
    if limits.max_mm is None:
        return None, None
    width_um = round((limits.max_mm - limits.min_mm) * 1000, 3)
    fitting = [
        row
        for row in table("gauge_plain_gb1957.csv").rows
        if float(row["over_mm"]) < nominal_mm <= float(row["up_to_mm"]) and float(row["tolerance_um"]) <= width_um
    ]
    if not fitting:
        return None, None
    own, shift = float(fitting[-1]["t1_um"]) / 1000, float(fitting[-1]["z1_um"]) / 1000
    return _own(limits.min_mm + shift, own / 2, shift), _Own((round(limits.max_mm - own, 6), limits.max_mm))


def _unheld(standard: str) -> str:
    """What is said of a gauge whose own tolerance no table here has."""
    return f"; own tolerance by {standard}, not held here"


def _plug(kind: str, designation: str, size_mm: float, cite: Cite, how: str, own: _Own | None) -> Gauge:
    limits, worn = (own.limits, own.worn) if own else (None, None)
    return Gauge(kind, designation, size_mm, cite, limits, how, worn)


def _plain_pair(
    limits: Limits, designation: str, what: str, source: Cite, own: _Pair, held: str, unheld: str = ""
) -> tuple[Gauge, ...]:
    """Go and not-go plain plugs for a diameter with their own limits; `held` is said of those, `unheld` of the others."""

    def plug(kind: str, size_mm: float, how: str, own: _Own | None) -> Gauge:
        return _plug(kind, designation, size_mm, source, how + (held if own else unheld), own)

    go = plug(GO_PLAIN, limits.min_mm, f"must go through the {what} by hand", own[0])
    if limits.max_mm is None:
        return (go,)
    return go, plug(NOT_GO_PLAIN, limits.max_mm, f"must not enter the {what}", own[1])


def _taper_gauges(geometry: ThreadGeometry) -> tuple[Gauge, ...]:
    """The plug of a jointing pipe thread; its depth, not a diameter, is what is judged."""
    source, how = _PIPE_RULES[geometry.spec.series]
    size_mm = geometry.basic_pitch_mm
    return (Gauge(TAPER_THREAD, geometry.spec.designation, size_mm, source, None, how + _hand(geometry)),)


def _hand(geometry: ThreadGeometry) -> str:
    return "; left-hand gauge" if geometry.spec.left_hand else ""


def _source_of(rule: _Rule) -> str:
    """Where the plugs' own limits come from, if not from the standard that the rule names."""
    source = table(rule.plugs).provenance["source"] if rule.plugs else rule.cite.standard
    return "" if source == rule.cite.standard else f"; own limits by {source}"


@cache
def gauges_for(geometry: ThreadGeometry) -> tuple[Gauge, ...]:
    """The gauges that prove a thread: go and not-go thread plugs and plain plugs for the minor diameter; for a taper pipe
    thread, and for Rp and NPSC, the taper plug alone.

    Sizes in mm. Not-go use follows ASME B1.2 (may enter up to three turns) or ISO 1502 (not more than two), each stated on
    the gauge, both from memory. An insert's tapped hole (series STI-...) has its own gauges, named so. A gauge whose own
    tolerance is not held here says which standard has it.
    """
    if geometry.taper or geometry.spec.series in _BY_TAPER_PLUG:
        return _taper_gauges(geometry)
    spec, rule = geometry.spec, _rule(geometry.spec.series)
    insert = "; gauge of the tapped hole for the insert, not of the screw" if spec.series.startswith("STI-") else ""
    end = insert + _hand(geometry)
    own: _Pair = (None, None)
    if rule.plugs:
        own = _plugs_by_tolerance(rule.plugs, geometry.pitch, spec.starts)
    elif rule is _B12_RULE:
        own = _plugs_by_pitch(geometry)
    unheld = _unheld(rule.cite.standard)
    end += unheld if own == (None, None) else _source_of(rule)
    thread = without_j(spec.designation)
    gauges = [_plug(GO_THREAD, thread, geometry.pitch.min_mm, rule.cite, rule.go + end, own[0])]
    if geometry.pitch.max_mm is not None:
        most = geometry.pitch.max_mm
        gauges.append(_plug(NOT_GO_THREAD, thread, most, rule.cite, rule.not_go + end, own[1]))
    own_plain = _class_z(geometry.minor) if rule is _B12_RULE else (None, None)
    plain = _plain_pair(
        geometry.minor, spec.designation, "minor diameter", geometry.cites[0], own_plain, "; gauge of class Z", unheld
    )
    return (*gauges, *plain)


def gauges_for_plain(
    limits: Limits, designation: str, source: Cite = COMMON_PRACTICE, nominal_mm: float | None = None
) -> tuple[Gauge, ...]:
    """Go and not-go plain plugs for a reamed or bored hole of those limits (mm); `designation` is what the drawing says
    ("10 H7"), `source` where the limits come from.

    With the nominal size of a fit, in mm, the plugs have their own limits by GB/T 1957; without it, and for a tolerance
    finer than IT6, those are left to the gauge's maker: None.
    """
    own: _Pair = (None, None) if nominal_mm is None else _within(limits, nominal_mm)
    return _plain_pair(limits, designation, "hole", source, own, "; own limits by GB/T 1957")
