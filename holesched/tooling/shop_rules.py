"""A shop's own rules: its csv file read kindly, all mistakes told at once, and laid over the standard rules.

The file needs a header row and only the columns it uses. A row with the id of a standard row replaces it; the effect "off"
takes that row away; any other row is added. A row without a rank ranks above every standard row, and one of equal rank
before it.
"""

from __future__ import annotations

import csv
import difflib
from collections.abc import Iterable, Mapping
from pathlib import Path

from holesched.errors import BadTable
from holesched.notes import Standing
from holesched.resources import table_text
from holesched.shop.model import Shop
from holesched.standards.materials import all_materials
from holesched.tooling.contradictions import contradict
from holesched.tooling.coolant import SAID
from holesched.tooling.rule_rows import DECISIONS, FIGURES, RANGES, WATCH, WORDS, Rule, is_of, read_rule
from holesched.tooling.rules import RuleBook, book_of, standard_rules

COLUMNS = (
    *("id", "decides", "effect", "verdict", "rank", *WORDS, *RANGES),
    *("material", "because", "source", "standing", "guards"),
)
NEEDED = ("decides", "verdict")
OFF = "off"
OWN_RANK = "500"
"""Above every standard row."""
FREE_WORDS = ("tap treatment", "drill treatment", "drill point", "thread mill treatment", "coolant", WATCH, *FIGURES)
"""Decisions whose verdict may be any text or number of the shop's; all others must be one that the planning knows."""
_LARGEST_BYTES = 1_000_000


def rules_of(shop: Shop) -> RuleBook:
    """The rules that hold in a shop. Raises BadTable, which lists every row that is wrong."""
    if not shop.preferences.rules:
        return standard_rules()
    path = Path(shop.preferences.rules)
    try:
        if path.stat().st_size > _LARGEST_BYTES:
            raise BadTable("it is too large for a table of rules.", path.name)
        text = path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as problem:
        raise BadTable("it is no csv in UTF-8.", path.name, "Save it as 'CSV UTF-8'.") from problem
    except OSError as problem:
        reason = problem.strerror or str(problem)
        raise BadTable(
            f"it cannot be opened ({reason}).", str(path), "Check preferences.rules in the shop file."
        ) from problem
    return laid_over(text, path.name, standard_rules())


def standing_rules() -> str:
    """The standard rules as the csv text they are kept in, to be edited and named in the shop file."""
    return table_text("tap_rules.csv")


def laid_over(text: str, name: str, base: RuleBook) -> RuleBook:
    """The rows of a csv text over a base. Raises BadTable with all problems, each with its line."""
    problems: list[str] = []
    rules: dict[str, Rule] = {}
    lines: dict[str, int] = {}
    off: list[str] = []
    for line, row in _rows(text, name):
        where = f"line {line}"
        try:
            if row["effect"] == OFF:
                off.append(_off(row["id"], base))
                continue
            rule = read_rule(row, "")
            _check(rule, base)
            if rule.id in rules:
                raise BadTable(f"a second row has the id {rule.id}")
            against = next((other for other in rules.values() if contradict(rule, other, base)), None)
            if against is not None:
                raise _contradiction(rule, against, lines[against.id])
            rules[rule.id], lines[rule.id] = rule, line
        except BadTable as problem:
            problems.append(f"{where}: {problem}")
    if problems:
        count = f"{len(problems)} rows are" if len(problems) > 1 else "1 row is"
        raise BadTable(f"{count} wrong:" + "".join(f"\n  {problem}" for problem in problems), name)
    return book_of(rules.values(), base, [rule_id for rule_id in off if rule_id not in rules])


def _contradiction(rule: Rule, against: Rule, line: int) -> BadTable:
    """Which of them decided would hang on nothing that the shop has written."""
    return BadTable(
        f"{rule.id} contradicts {against.id} (line {line}): for one hole they choose '{rule.verdict}' and "
        f"'{against.verdict}', both with rank {rule.rank}",
        remedy="Give one of them the higher rank, or conditions that keep them apart.",
    )


def _rows(text: str, name: str) -> Iterable[tuple[int, dict[str, str]]]:
    """(line, row) of every row with its gaps filled. Comma or semicolon, as the header has it; # begins a comment."""
    lines = [(number, line) for number, line in enumerate(text.splitlines(), start=1)]
    lines = [(number, line) for number, line in lines if line.strip(" ;,\t") and not line.lstrip().startswith("#")]
    if not lines:
        raise BadTable("the table is empty.", name, f"Its first row names the columns: {', '.join(COLUMNS)}.")
    header = lines[0][1]
    delimiter = ";" if header.count(";") > header.count(",") else ","
    columns = [cell.strip().lower() for cell in next(csv.reader([header], delimiter=delimiter))]
    _check_columns(columns, name)
    for number, line in lines[1:]:
        cells = [cell.strip() for cell in next(csv.reader([line], delimiter=delimiter))]
        if len(cells) > len(columns) and any(cells[len(columns) :]):
            raise BadTable(f"line {number} has {len(cells)} cells, the header has {len(columns)}.", name)
        yield number, _filled(dict(zip(columns, cells, strict=False)), number, name)


def _check_columns(columns: list[str], name: str) -> None:
    unknown = [column for column in columns if column and column not in COLUMNS]
    if unknown:
        near = difflib.get_close_matches(unknown[0], COLUMNS, n=1, cutoff=0.4)
        hint = f"Perhaps {near[0]} is meant." if near else f"Columns are: {', '.join(COLUMNS)}."
        raise BadTable(f"there is no column '{unknown[0]}'.", name, hint)
    missing = [column for column in NEEDED if column not in columns]
    if missing:
        raise BadTable(f"the header lacks {' and '.join(missing)}.", name, f"Columns are: {', '.join(COLUMNS)}.")


def _filled(row: dict[str, str], line: int, name: str) -> dict[str, str]:
    """The row with what the shop may leave out."""
    given = {column: row.get(column, "") for column in COLUMNS}
    effect = given["effect"] or (WATCH if given["decides"] == WATCH else "choose")
    return given | {
        "id": given["id"] or f"SHOP-{line}",
        "effect": effect,
        "rank": given["rank"] or OWN_RANK,
        "because": given["because"].rstrip(".") or "the shop's own rule",
        "source": given["source"] or ("" if given["standing"] else name),
        "standing": given["standing"] or Standing.SHOP.value,
    }


def _off(rule_id: str, base: RuleBook) -> str:
    if all(rule.id != rule_id for rule in base.rules):
        raise BadTable(f"there is no rule {rule_id} to switch off", remedy="'explain' prints the id of each rule.")
    return rule_id


def _check(rule: Rule, base: RuleBook) -> None:
    """A row that could never do anything is a slip: it would be ignored in silence."""
    known_verdicts = {row.verdict for row in base.by_decision.get(rule.decides, ()) if row.effect == "choose"}
    if rule.decides not in FREE_WORDS and rule.verdict not in known_verdicts:
        raise BadTable(
            f"'{rule.verdict}' is no {rule.decides}", remedy=f"Write one of: {', '.join(base.values(rule.decides))}."
        )
    if not rule.verdict:
        raise BadTable("the verdict is empty")
    materials = all_materials()
    for entry in rule.materials:
        if not any(is_of(material.subgroup, material.group, entry) for material in materials):
            groups = sorted({material.group for material in materials} | {material.subgroup for material in materials})
            raise BadTable(f"'{entry}' is no group of materials", remedy=f"Write one of: {', '.join(groups)}.")
    words = dict(rule.words)
    known: Mapping[str, set[str]] = {
        "trait": {trait for material in materials for trait in material.traits},
        "given": {value for what in DECISIONS for value in base.values(what)} | set(SAID),
    }
    for column, words_known in known.items():
        unknown = words.get(column, frozenset()) - words_known
        if unknown and not (column == "given" and "treatment" in rule.decides):
            raise BadTable(
                f"'{sorted(unknown)[0]}' is no {column}", remedy=f"Write one of: {', '.join(sorted(words_known))}."
            )
