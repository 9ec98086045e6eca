"""Whether two rows of a shop contradict each other: both can hold for one hole, with one rank, and choose otherwise."""

from __future__ import annotations

from holesched.standards.materials import Material, all_materials
from holesched.tooling.case import HOLES, WALLS
from holesched.tooling.rule_rows import CHIPS, DECISIONS, Rule
from holesched.tooling.rules import RuleBook

_ONE_OF = {
    "hole": (HOLES,),
    "wall": (WALLS,),
    "chip": (CHIPS,),
    "thread": (("parallel", "taper", "trapezoidal", "insert"),),
    "machine": (("rigid", "float"), ("coolant by hand", "no coolant")),
}
"""Words of a column of which only one holds for a hole."""
_OPERATIONS = ("cutting", "tapping", "reaming")


def contradict(one: Rule, two: Rule, base: RuleBook) -> bool:
    """Whether both choose, with one rank, another verdict of the same decision, and nothing keeps them apart. Rows that
    stand as they are in the `base` are the base's affair."""
    if one.decides != two.decides or one.rank != two.rank or one.verdict == two.verdict:
        return False
    if one.effect != "choose" or two.effect != "choose" or any(base.by_id.get(rule.id) == rule for rule in (one, two)):
        return False
    return not (_by_words(one, two, base) or _by_ranges(one, two) or _by_material(one, two))


def _by_words(one: Rule, two: Rule, base: RuleBook) -> bool:
    """Whether their words never hold together: different words of which a hole has only one."""
    ones, twos = dict(one.words), dict(two.words)
    either = {column: (*sets,) for column, sets in _ONE_OF.items()}
    either["given"] = (_OPERATIONS, *(base.values(what) for what in DECISIONS))
    return any(
        ones[column].isdisjoint(twos[column]) and (ones[column] | twos[column]) <= frozenset(words)
        for column in ones.keys() & twos.keys()
        for words in either.get(column, ())
    )


def _by_ranges(one: Rule, two: Rule) -> bool:
    """Whether some number cannot lie in both rows' ranges."""
    ones, twos = dict(one.ranges), dict(two.ranges)
    spans = [(ones[column], twos[column]) for column in ones.keys() & twos.keys()]
    return any(first.high <= second.low or second.high <= first.low for first, second in spans)


def _by_material(one: Rule, two: Rule) -> bool:
    """Whether no material is of both, with its hardness and traits."""
    return not any(_holds(one, material) and _holds(two, material) for material in all_materials())


def _holds(rule: Rule, material: Material) -> bool:
    words = dict(rule.words)
    return (
        rule.speaks_of(material.subgroup, material.group)
        and ("chip" not in words or material.chip in words["chip"])
        and ("trait" not in words or not words["trait"].isdisjoint(material.traits))
        and all(span.holds(material.middle_hb) for column, span in rule.ranges if column == "hb")
    )
