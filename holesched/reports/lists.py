"""The lists behind the cards: tools and gauges."""

from __future__ import annotations

from dataclasses import dataclass

from holesched.reports.naming import tool_name
from holesched.reports.operations import running_text
from holesched.reports.overloads import stamp
from holesched.reports.show import NOT_KNOWN, Show, count
from holesched.reports.source_list import SourceList
from holesched.sequence.model import JobPlan, LoadedTool, Target

TYPES_SHOWN = 8
"""More hole types than this stand at their operations only."""
GAUGES_BESIDE = 4
"""So many gauges of one set stand beside each other."""


@dataclass(frozen=True, slots=True)
class ToolRow:
    """One tool of the job. The stamps say that all, or some, of its hole types wait or are too much for the machine."""

    number: int
    tool: str
    pot: str
    in_pot: bool
    stamps: tuple[str, ...]
    title: str
    detail: str
    left_hand: bool
    holder: str
    stick_out: str
    speed: str
    feed: str
    operations: str
    types: str
    holes: int
    life: str


@dataclass(frozen=True, slots=True)
class GaugeRow:
    """One gauge: what it is, the size it checks and its own limits ("" where they are not known)."""

    kind: str
    size: str
    own_limits: str


@dataclass(frozen=True, slots=True)
class GaugeSet:
    """All gauges that prove one thread or one fit."""

    designation: str
    types: str
    gauges: tuple[GaugeRow, ...]

    @property
    def rows(self) -> tuple[tuple[GaugeRow, ...], ...]:
        """The gauges as they stand beside each other, row by row."""
        starts = range(0, len(self.gauges), GAUGES_BESIDE)
        return tuple(self.gauges[start : start + GAUGES_BESIDE] for start in starts)


@dataclass(frozen=True, slots=True)
class GaugeUse:
    """How gauges of one kind are used: said once; `sets` names them where the same kind is used in several ways."""

    kind: str
    sets: str
    how: str
    source: str


def tool_rows(job: JobPlan, show: Show) -> tuple[ToolRow, ...]:
    """All tools by number."""
    held_rows = {hole.type.letter: len(hole.held_rows) for hole in job.holes if hole.held_rows}
    return tuple(_tool_row(loaded, job, show, held_rows) for loaded in job.loading)


def _tool_row(loaded: LoadedTool, job: JobPlan, show: Show, held_rows: dict[str, int]) -> ToolRow:
    name = tool_name(loaded.tool, show)
    targets = [
        target for operation in job.operations if operation.tool_number == loaded.number for target in operation.targets
    ]
    running = [running_text(target.cut, show) for target in sorted(targets, key=lambda target: target.cut.spindle_rpm)]
    by_feed = [running_text(target.cut, show) for target in sorted(targets, key=lambda target: target.cut.feed_mm_per_min)]
    return ToolRow(
        loaded.number,
        f"T{loaded.number}",
        str(loaded.pot) if loaded.pot is not None else "bench" if loaded.tool.by_hand else "none",
        loaded.pot is not None or loaded.tool.by_hand,
        tuple(each for each in (_tool_hold(targets, held_rows), stamp(targets)) if each),
        name.title,
        name.detail,
        name.left_hand,
        loaded.holder,
        show.length(loaded.stick_out_mm),
        _range([rpm for _, rpm, _, _ in running]),
        _range([feed for _, _, _, feed in by_feed]),
        ", ".join(str(number) for number in loaded.operations),
        _types(loaded.letters),
        loaded.holes,
        _life(loaded.life_holes, show),
    )


def _tool_hold(targets: list[Target], held_rows: dict[str, int]) -> str:
    """HOLD when all its hole types wait, HOLD E when some do, HOLD A 1 row for single rows; "" when it may run."""
    waiting = list(dict.fromkeys(target.letter for target in targets if target.on_hold))
    if targets and all(target.on_hold for target in targets):
        return "HOLD"
    free = dict.fromkeys(target.letter for target in targets if not target.on_hold)
    single = [f"{letter} {count(held_rows[letter], 'row')}" for letter in free if letter in held_rows]
    return f"HOLD {', '.join([*waiting, *single])}" if waiting or single else ""


def _types(letters: tuple[str, ...]) -> str:
    """The hole types of a tool; of a long list the first, for its operations name them all."""
    shown = letters if len(letters) <= TYPES_SHOWN else letters[: TYPES_SHOWN - 2]
    more = f" and {len(letters) - len(shown)} more" if len(letters) > len(shown) else ""
    return f"{', '.join(shown)}{more}"


def _range(texts: list[str]) -> str:
    if not texts:
        return NOT_KNOWN
    return texts[0] if texts[0] == texts[-1] else f"{texts[0]} to {texts[-1]}"


def _life(life: tuple[float, float] | None, show: Show) -> str:
    return " to ".join(map(show.lasting, life)) if life is not None else NOT_KNOWN


def gauge_sets(job: JobPlan, show: Show) -> tuple[GaugeSet, ...]:
    """Gauges by what they prove, in the order in which the hole types need them."""
    sets: dict[tuple[str, tuple[str, ...]], list[GaugeRow]] = {}
    for need in job.gauges:
        gauge = need.gauge
        own = " to ".join(map(show.exact, gauge.tolerance_mm)) if gauge.tolerance_mm is not None else ""
        row = GaugeRow(gauge.kind, show.fine(gauge.size_mm), own)
        sets.setdefault((gauge.designation, need.letters), []).append(row)
    return tuple(GaugeSet(name, ", ".join(letters), tuple(rows)) for (name, letters), rows in sets.items())


def gauge_uses(job: JobPlan, show: Show, listed: SourceList | None = None) -> tuple[GaugeUse, ...]:
    """How each kind of gauge is used, each sentence once; sources by number where there is a list."""
    uses: dict[tuple[str, str], dict[str, None]] = {}
    cites: dict[tuple[str, str], dict[str, str]] = {}
    for need in job.gauges:
        gauge = need.gauge
        key = (gauge.kind, gauge.how)
        uses.setdefault(key, {})[gauge.designation] = None
        source = listed.mark((gauge.cite,)).strip() if listed is not None else str(gauge.cite)
        cites.setdefault(key, {})[source] = source
    ways = [kind for kind, _ in uses]
    widest = {kind: max(len(sets) for (other, _), sets in uses.items() if other == kind) for kind in ways}
    found = []
    for (kind, how), sets in uses.items():
        others = len(sets) == widest[kind] > 1
        named = "" if ways.count(kind) == 1 else "all others" if others else ", ".join(sets)
        found.append((ways.index(kind), others, GaugeUse(kind, named, show.running(how, sets), "; ".join(cites[kind, how]))))
    return tuple(use for _, _, use in sorted(found, key=lambda each: each[:2]))
