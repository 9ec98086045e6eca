"""The trade's rules as rows of a table, and the small engine that lets every candidate meet every row.

A row that *chooses* speaks for its verdict, a row that says *never* strikes its verdict whatever its rank, and of the
verdicts still standing the one with the highest rank wins, at equal rank a shop's own. The losers keep the row that beat
them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

from holesched.errors import BadTable
from holesched.notes import Note, Reason, Rejected, Severity
from holesched.standards.materials import Material
from holesched.tables import Table, table
from holesched.tooling.case import HoleCase
from holesched.tooling.rule_rows import WATCH, Range, Ranges, Rule, read_rule, within

CONTESTED = ("process", "flute form", "tap material", "tap treatment", "drill material")
"""Decisions whose ranks measure how strongly a row speaks, so that a close runner-up is worth a word."""
CLOSE = 4
"""A runner-up within so many ranks stood close."""
QUIET = ("coolant", "coolant supply")
"""Decisions of which only those verdicts are kept that some row asked for: the others would be a list of all fluids."""
NOT_ASKED = "no row asks for it here"
RECKONED = ("torque", "breaking")
"""The columns that are known only after a first plan."""


SAID = ("hole", "wall", "chip", "thread", "trait", "machine", "later", "given")
"""The columns of words, in the order in which they are looked up."""


@dataclass(frozen=True, slots=True)
class Struck:
    """A verdict that a row of higher rank than the winner's asked for, and the row that struck it."""

    asked: Rule
    by: Rule


@dataclass(frozen=True, slots=True)
class Verdict:
    """What was decided and the reason to print.

    `possible` are all verdicts that no row strikes, asked for or not; `struck` those that would have won.
    """

    value: str
    reason: Reason
    possible: tuple[str, ...]
    struck: tuple[Struck, ...] = ()


@dataclass(frozen=True, eq=False)
class RuleBook:
    """All rows, by what they decide. Compared by identity: one book is read once and used for every hole."""

    rules: tuple[Rule, ...]
    by_id: Mapping[str, Rule]
    by_decision: Mapping[str, tuple[Rule, ...]]
    verdicts: Mapping[str, tuple[str, ...]]
    own: frozenset[str] = frozenset()
    """The ids of a shop's rows: those that the standard rules do not have, or have otherwise."""
    disarmed: tuple[Rule, ...] = ()
    """Safety rules that a shop's own rows have taken away or replaced."""
    reckoned: tuple[tuple[str, Range, Rule], ...] = ()
    """The rows that hang on what a tap takes, as (torque or breaking, range, row)."""

    def asks_for(self, column: str, share: float, process: str, material: Material, decides: str = "") -> bool:
        """Whether a row for the material, of those that `decides` names or of all, fires at what a tap takes (torque: of the
        spindle's; breaking: of what breaks it). A row that strikes another process than the tap's changes nothing."""
        return any(
            of == column
            and span.holds(share)
            and decides in ("", rule.decides)
            and (rule.effect != "never" or rule.strikes(process))
            and rule.speaks_of(material.subgroup, material.group)
            for of, span, rule in self.reckoned
        )

    def values(self, decides: str) -> tuple[str, ...]:
        """Every verdict that some row speaks for, in the table's order; not those of last resort (rank below 0)."""
        return self.verdicts.get(decides, ())


def decide(decides: str, case: HoleCase, given: frozenset[str], book: RuleBook) -> Verdict:
    """The verdict on one decision, with everything that lost. Raises BadTable when no row leaves a verdict standing."""
    verdict = _verdict(decides, _fired(decides, case, given, book), book)
    if verdict is None:
        raise BadTable(f"no rule leaves a {decides} for {case.told()}", "rules", "Add a row that chooses one, of rank 0.")
    return verdict


def _fired(decides: str, case: HoleCase, given: frozenset[str], book: RuleBook) -> tuple[str, ...]:
    """The ids of the rows that fire, in the table's order."""
    still_open, ranged = _still_open(
        book,
        decides,
        case.group,
        case.subgroup,
        case.hardness_hb,
        case.lot,
        case.torque is None and case.breaking is None,
        (case.hole, case.wall, case.chip, case.thread, case.traits, case.machine, case.later, given),
    )
    shut = [rule_id for rule_id, ranges in ranged if not within(ranges, case)]
    return tuple([rule_id for rule_id in still_open if rule_id not in shut]) if shut else still_open


@lru_cache(maxsize=8192)
def _still_open(
    book: RuleBook,
    decides: str,
    group: str,
    subgroup: str,
    hardness_hb: float,
    lot: int | None,
    unreckoned: bool,
    said: tuple[str | frozenset[str], ...],
) -> tuple[tuple[str, ...], tuple[tuple[str, Ranges], ...]]:
    """The ids of the rows that workpiece, lot and words leave open, and the ranges that are left of some: the holes of a job
    differ in size and depth, hardly ever in what is said of them. `said` are the words of the columns of SAID; most holes
    are `unreckoned`."""
    words = {of: frozenset((word,)) if isinstance(word, str) else word for of, word in zip(SAID, said, strict=True)}
    counts: dict[str, float | None] = {"hb": hardness_hb, "lot": lot, **(dict.fromkeys(RECKONED) if unreckoned else {})}
    rows = [
        rule
        for rule in book.by_decision.get(decides, ())
        if rule.speaks_of(subgroup, group)
        if all(not wanted.isdisjoint(words[column]) for column, wanted in rule.words)
        if all(column not in counts or span.holds(counts[column]) for column, span in rule.ranges)
    ]
    left = ((rule.id, tuple(each for each in rule.ranges if each[0] not in counts)) for rule in rows)
    return tuple(rule.id for rule in rows), tuple((rule_id, ranges) for rule_id, ranges in left if ranges)


@lru_cache(maxsize=8192)
def _verdict(decides: str, fired: tuple[str, ...], book: RuleBook) -> Verdict | None:
    """What follows from the rows that fired, by their ids; None when no verdict is left standing."""
    rows = [book.by_id[rule_id] for rule_id in fired]
    never = [rule for rule in rows if rule.effect == "never"]
    asking = [rule for rule in rows if rule.effect == "choose"]
    asking.sort(key=lambda rule: (-rule.rank, rule.id not in book.own))
    standing = [rule for rule in asking if not _striking(never, rule.verdict)] if never else asking
    if not standing:
        return None
    winner = standing[0]
    values = book.values(decides) if decides not in QUIET else dict.fromkeys(rule.verdict for rule in asking)
    rejected = [_loser(value, winner, _striking(never, value), asking) for value in values if value != winner.verdict]
    better = asking[: asking.index(winner)]
    struck = [Struck(rule, by[0]) for rule in better if (by := _striking(never, rule.verdict))]
    reason = Reason(f"{decides}: {winner.verdict}", _why(winner, standing), winner.id, (winner.cite,), tuple(rejected))
    possible = tuple(value for value in values if not never or not _striking(never, value))
    return Verdict(winner.verdict, reason, possible, tuple(struck))


def _striking(never: Sequence[Rule], verdict: str) -> list[Rule]:
    """The rows that strike a verdict, the last of the table first: it is the most particular one."""
    return [rule for rule in reversed(never) if rule.strikes(verdict)] if never else []


def _why(winner: Rule, standing: Sequence[Rule]) -> str:
    """The winner's sentence, the other rows that ask for the same, and a runner-up that stood close."""
    because = winner.because
    same = [rule.id for rule in standing[1:] if rule.verdict == winner.verdict and rule.rank > 0]
    if same:
        because = f"{because} ({', '.join(same)} too)"
    second = next((rule for rule in standing if rule.verdict != winner.verdict), None)
    if winner.decides in CONTESTED and second is not None and second.rank > 0 and winner.rank - second.rank <= CLOSE:
        because = f"{because}; close behind: {second.verdict}"
    return because


def _loser(value: str, winner: Rule, striking: Sequence[Rule], asking: Iterable[Rule]) -> Rejected:
    asked = [rule for rule in asking if rule.verdict == value and rule.rank >= 0]
    if not asked and not striking:
        return _not_asked(value, winner.id)
    ids = ", ".join(rule.id for rule in asked)
    asks = f"{ids} {'asks' if len(asked) == 1 else 'ask'} for it"
    if striking:
        others = ", ".join(rule.id for rule in striking[1:])
        because = f"{striking[0].because} ({others} too)" if others else striking[0].because
        return Rejected(value, striking[0].id, f"{because}; {asks}" if asked else because)
    above = "ranks above" if winner.rank > asked[0].rank else f"of the same rank {winner.rank} is the shop's own"
    return Rejected(value, winner.id, f"{asks} ({asked[0].because}), {winner.id} {above}")


@lru_cache(maxsize=4096)
def _not_asked(value: str, winner: str) -> Rejected:
    return Rejected(value, winner, NOT_ASKED)


def watches(case: HoleCase, given: frozenset[str], book: RuleBook) -> tuple[Rule, ...]:
    """The rows that leave a note for the shop, in the table's order."""
    return tuple([book.by_id[rule_id] for rule_id in _fired(WATCH, case, given, book)])


def watch_note(rule: Rule, names: str) -> Note:
    """What a row says to the shop of the features that are named."""
    return Note(rule.verdict, Severity.WATCH, f"{names}: {rule.because}.", cite=rule.cite, rule=rule.id)


@cache
def standard_rules() -> RuleBook:
    """The rules that ship with the package."""
    return rule_book(table("tap_rules.csv"))


def rule_book(source: Table, base: RuleBook | None = None) -> RuleBook:
    """A table's rows as a book; over a `base`, a row replaces the base's row of the same id or is added to it.

    Raises BadTable, naming the row, for a word, range or effect the table does not know.
    """
    own: dict[str, Rule] = {}
    for row in source.rows:
        rule = read_rule(row, f"{source.name}, row {row['id']}")
        if rule.id in own:
            raise BadTable(f"two rows have the id {rule.id}", source.name, "Give each row its own.")
        own[rule.id] = rule
    return book_of(own.values(), base)


def book_of(rules: Iterable[Rule], base: RuleBook | None = None, off: Iterable[str] = ()) -> RuleBook:
    """Rules as a book, over a base of which the ids in `off` are left out."""
    rules = tuple(rules)
    rows = {rule.id: rule for rule in base.rules} if base is not None else {}
    changed = frozenset(rule.id for rule in rules if rows.get(rule.id) != rule) if base is not None else frozenset[str]()
    own = changed if base is None else base.own | changed
    for rule_id in off:
        del rows[rule_id]
    rows |= {rule.id: rule for rule in rules}
    by_decision: dict[str, list[Rule]] = {}
    for rule in rows.values():
        by_decision.setdefault(rule.decides, []).append(rule)
    verdicts = {
        what: tuple(dict.fromkeys(rule.verdict for rule in found if rule.effect == "choose" and rule.rank >= 0))
        for what, found in by_decision.items()
    }
    safety = [rule for rule in base.rules if rule.guards] if base is not None else []
    disarmed = tuple(rule for rule in safety if rows.get(rule.id) != rule)
    reckoned = tuple((of, span, rule) for rule in rows.values() for of, span in rule.ranges if of in RECKONED)
    found_by = {what: tuple(found) for what, found in by_decision.items()}
    return RuleBook(tuple(rows.values()), rows, found_by, verdicts, own, disarmed, reckoned)
