"""The rule table as a whole: every row can fire, nothing is left without a verdict, no two equal ranks contradict."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, product
from random import Random

import pytest

from holesched.cutting.lookup import tap_surface
from holesched.cutting.speeds import tap_speeds
from holesched.errors import BadTable
from holesched.notes import COMMON_PRACTICE, Standing
from holesched.standards.materials import Material, all_materials
from holesched.tables import read_table, table
from holesched.tooling.before_thread import CLOSE_TO_LIMIT, DRILLED_TO_FORM, TOO_NARROW_TO_FORM
from holesched.tooling.case import HOLES, LATER, MACHINES, WALLS, HoleCase
from holesched.tooling.coolant import SAID
from holesched.tooling.hole_bottom import FLAT_FITS, TOO_THIN
from holesched.tooling.model import StepKind, Tool
from holesched.tooling.opening import NO_DRILL_FITS, POINT_TOO_DEEP, TOO_HEAVY
from holesched.tooling.rule_rows import DECISIONS, WATCH, Range, Rule, is_of
from holesched.tooling.rules import QUIET, Verdict, decide, rule_book, standard_rules, watches
from holesched.tooling.step_drill import NO_TIME_SAVED, OTHER_SIDE, PECKED
from holesched.tooling.tap import NONE, chamfers
from holesched.tooling.tapping import LARGER_DRILL, TOO_MUCH_TO_FORM
from holesched.tooling.thread_mill import THREAD_MILL

BOOK = standard_rules()
MACHINE_SETS = [
    frozenset(words) - {""}
    for words in product(
        ("rigid", "float"),
        ("", "through-tool coolant", "coolant by hand", "no coolant"),
        ("", "forming wanted"),
        ("", "by hand"),
        ("", "no thread milling"),
    )
]
WALL_SETS = [*(frozenset((wall,)) for wall in ("whole", *WALLS)), frozenset(WALLS[1:])]
THREAD_SETS = [
    frozenset(words)
    for words in (
        ("parallel",),
        ("taper",),
        ("trapezoidal",),
        ("insert",),
        ("parallel", "left-hand"),
        ("parallel", "no largest minor"),
    )
]
OPERATIONS = frozenset(("cutting", "tapping", "reaming"))
BY_TAP_ONLY = ("flute form", "helix", "chamfer", "tap material", "tap treatment", "tap limit")
SIZES = (0.8, 1.6, 3.0, 8.0, 24.0, 36.0)
DEPTHS = (None, 0.3, 1.0, 2.0, 2.7, 3.5)
ROOMS = (None, 0.5, 2.2, 2.7, 4.0, 6.0)
TORQUES = (None, 0.8, 1.3)
BREAKINGS = (None, 0.6, 0.9, 1.1)
LOTS = (None, 1, 50, 300, 5000)
LATERS = [frozenset[str](), frozenset(("coating",)), frozenset(LATER)]
CASES = 5_000


def case_of(material: Material, **changes: object) -> HoleCase:
    low, high = material.hardness_hb
    values: dict[str, object] = {
        "hole": "through",
        "wall": frozenset(("whole",)),
        "thread": frozenset(("parallel",)),
        "size_mm": 8.0,
        "depth_d": 1.0,
        "room_p": None,
        "group": material.group,
        "subgroup": material.subgroup,
        "chip": material.chip,
        "traits": material.traits,
        "hardness_hb": (low + high) / 2,
        "machine": frozenset(("rigid",)),
    }
    return HoleCase(**(values | changes))  # type: ignore[arg-type]


def every_case() -> list[HoleCase]:
    """Combinations of hole, material and machine, drawn with a fixed seed: many more than there are values, so that every
    value of every column meets every other; then ordinary ones, a whole wall and a parallel thread on a rigid machine."""
    drawn = Random(19)
    found = [
        case_of(
            drawn.choice(all_materials()),
            hole=drawn.choice(HOLES),
            wall=drawn.choice(WALL_SETS),
            thread=drawn.choice(THREAD_SETS),
            size_mm=drawn.choice(SIZES),
            depth_d=drawn.choice(DEPTHS),
            room_p=drawn.choice(ROOMS),
            machine=drawn.choice(MACHINE_SETS),
            torque=drawn.choice(TORQUES),
            breaking=drawn.choice(BREAKINGS),
            lot=drawn.choice(LOTS),
            later=drawn.choice(LATERS),
        )
        for _ in range(CASES)
    ]
    return found + [
        case_of(
            material,
            hole=drawn.choice(HOLES),
            size_mm=drawn.choice(SIZES),
            depth_d=drawn.choice(DEPTHS),
            machine=frozenset(("rigid", *extra)),
            lot=lot,
        )
        for lot in LOTS
        for material in all_materials()
        for extra in ((), ("through-tool coolant",), ("forming wanted",))
    ]


def givens(rule: Rule) -> frozenset[str]:
    return next((words for column, words in rule.words if column == "given"), frozenset())


def holds_for(rule: Rule, material: Material) -> bool:
    """Whether the conditions on the workpiece hold for a real material."""
    low, high = material.hardness_hb
    words = dict(rule.words)
    return (
        (not rule.materials or any(is_of(material.subgroup, material.group, entry) for entry in rule.materials))
        and ("chip" not in words or material.chip in words["chip"])
        and ("trait" not in words or not words["trait"].isdisjoint(material.traits))
        and all(span.holds((low + high) / 2) for column, span in rule.ranges if column == "hb")
    )


def inside(span: Range) -> float:
    return span.low if span.low != float("-inf") else span.high - 0.1


@pytest.mark.parametrize("rule", BOOK.rules, ids=lambda rule: rule.id)
def test_every_rule_can_fire(rule: Rule) -> None:
    """For a real material of the table, and with only such earlier decisions as the table can give."""
    material = next((material for material in all_materials() if holds_for(rule, material)), None)
    assert material is not None, f"{rule.id} is for a material that does not exist"
    changes: dict[str, object] = {column: inside(span) for column, span in rule.ranges if column != "hb"}
    for column, words in rule.words:
        if column == "hole":
            changes[column] = sorted(words)[0]
        elif column in ("wall", "thread", "machine", "later"):
            changes[column] = frozenset(words)
    assert rule.fires(case_of(material, **changes), givens(rule))
    order = [*DECISIONS, WATCH]
    earlier = {value for what in order[: order.index(rule.decides)] for value in BOOK.values(what)}
    assert givens(rule) <= earlier | {"HSS", *SAID}


def test_each_row_decides_what_it_says() -> None:
    """A chamfer row names a chamfer of the chamfer table, a watch row a code, a striking row a verdict that exists."""
    for rule in BOOK.rules:
        if rule.decides == "chamfer":
            assert rule.verdict in chamfers()
        if rule.effect == "never":
            assert any(rule.strikes(value) for value in BOOK.values(rule.decides))
        if rule.decides == WATCH:
            assert rule.verdict == rule.verdict.upper()
        assert rule.because
        assert not rule.because.endswith(".")


def apart(one: Rule, two: Rule) -> bool:
    """Whether two rows can never fire for the same hole."""
    ones, twos = dict(one.words), dict(two.words)
    for column in ("hole", "chip", "wall"):
        if column in ones and column in twos and ones[column].isdisjoint(twos[column]):
            return True
    mine, its = givens(one), givens(two)
    if mine and its and mine | its <= OPERATIONS and mine.isdisjoint(its):
        return True
    spans, others = dict(one.ranges), dict(two.ranges)
    for column in spans.keys() & others.keys():
        if spans[column].high <= others[column].low or others[column].high <= spans[column].low:
            return True
    return not any(holds_for(one, material) and holds_for(two, material) for material in all_materials())


def test_no_two_equal_ranks_contradict() -> None:
    for what in DECISIONS:
        rows = [rule for rule in BOOK.by_decision[what] if rule.effect == "choose"]
        for one, two in combinations(rows, 2):
            if one.rank == two.rank and one.verdict != two.verdict:
                assert apart(one, two), f"{one.id} and {two.id} may fire together with rank {one.rank}"


def said_beside(what: str) -> list[frozenset[str]]:
    """What the planning says beside earlier verdicts, each in turn."""
    if what == "coolant":
        return [frozenset((word,)) for word in OPERATIONS]
    if what == "opening":
        return [frozenset((word,)) for word in (TOO_HEAVY, NO_DRILL_FITS, POINT_TOO_DEEP)] + [frozenset()]
    if what == "stepped hole":
        words = (PECKED, OTHER_SIDE, TOO_THIN, TOO_HEAVY, NO_TIME_SAVED)
        return [frozenset((word,)) for word in words] + [frozenset()]
    if what == "process":
        words = (TOO_THIN, LARGER_DRILL, TOO_MUCH_TO_FORM, TOO_NARROW_TO_FORM, DRILLED_TO_FORM)
        return [frozenset((word,)) for word in words] + [frozenset()]
    if what == "coolant supply":
        return [frozenset(words) for words in product(("emulsion", "no emulsion"), ("carbide drill", "steel drill", "form"))]
    if what == "drill material":
        return [frozenset((CLOSE_TO_LIMIT,)), frozenset()]
    beside = {
        "hole bottom": FLAT_FITS,
        "room under a tool": TOO_THIN,
    }.get(what)
    return [frozenset((beside,)), frozenset()] if beside else [frozenset()]


def walked(case: HoleCase) -> Iterator[tuple[str, frozenset[str], Verdict]]:
    """Every decision on a case in its order, with what was given to it: the verdicts before it, as the planning has them."""
    given: frozenset[str] = frozenset()
    for what in DECISIONS:
        if what == "helix" and "spiral-flute" not in given:
            continue
        if what in BY_TAP_ONLY and not given.isdisjoint((THREAD_MILL, NONE)):
            continue
        for beside in said_beside(what):
            verdict = decide(what, case, given | beside, BOOK)
            yield what, given | beside, verdict
        if what not in QUIET:
            given |= {verdict.value}
    yield WATCH, given, verdict
    yield WATCH, OPERATIONS | {"drilling"}, verdict


def test_no_hole_is_left_without_a_verdict_and_no_row_is_idle() -> None:
    """Every decision of every combination, each with the verdicts before it: none raises, all reasons are complete, and each
    row fires for some hole on the way; one that chooses also where its verdict is the one that stands."""
    cases = every_case()
    assert {case.hole for case in cases} == set(HOLES)
    assert {wall for case in cases for wall in case.wall} == set(WALLS)
    assert {word for case in cases for word in case.machine} == set(MACHINES)
    idle = {rule.id: rule for rule in BOOK.rules}
    for case in cases:
        for what, given, verdict in walked(case):
            for rule in [rule for rule in idle.values() if rule.decides == what and rule.fires(case, given)]:
                if rule.effect != "choose" or rule.verdict == verdict.value:
                    del idle[rule.id]
            if what == WATCH:
                assert all(rule.fires(case, given) for rule in watches(case, given, BOOK))
                continue
            assert verdict.reason.cites
            losers = [rejected.candidate for rejected in verdict.reason.rejected]
            assert len(losers) == len(set(losers))
            if what not in QUIET:
                assert sorted({verdict.value, *losers} - {NONE}) == sorted(BOOK.values(what)), (
                    "every candidate is named once"
                )
    assert list(idle) == []


def test_what_is_struck_never_wins_and_says_who_struck_it() -> None:
    gummy = next(material for material in all_materials() if material.subgroup == "N1")
    reason = decide("flute form", case_of(gummy, hole="blind"), frozenset(("cut",)), BOOK).reason
    assert reason.decision == "flute form: spiral-flute"
    (struck,) = [rejected for rejected in reason.rejected if rejected.candidate == "spiral-point"]
    assert struck.rule == "F40"


def test_an_outranked_row_is_kept_with_its_sentence() -> None:
    grey = next(material for material in all_materials() if material.key == "EN-GJL-250")
    reason = decide("tap treatment", case_of(grey, hole="blind"), frozenset(("straight-flute",)), BOOK).reason
    assert reason.rule == "T17"
    assert any(lost.candidate == "TiCN" and "T14 asks for it" in lost.because for lost in reason.rejected)


@pytest.mark.parametrize("workpiece", all_materials(), ids=lambda workpiece: workpiece.key)
def test_the_treatment_that_wins_does_not_look_the_worst_on_the_sheet(workpiece: Material) -> None:
    """Start speed times the factor on holes, of the treatments that a row asks for on the same tap: a winner that the
    numbers call the worst of them would be taken for a mistake."""
    for hole in ("through", "blind"):
        for what, given, verdict in walked(case_of(workpiece, hole=hole)):
            made = next(iter({"HSS-E-PM", "HSS-E", "HSS"} & given), "")
            if what != "tap treatment" or not made or "forming" in given:
                continue
            lost = {each.candidate for each in verdict.reason.rejected if "ranks above" in each.because}
            worth = {each: holes_a_minute(made, each, workpiece.subgroup) for each in (verdict.value, *lost)}
            assert worth[verdict.value] > min(worth.values()) or len(set(worth.values())) == 1, worth


def holes_a_minute(made: str, treatment: str, subgroup: str) -> float:
    """What a tap's treatment is worth by the numbers that a sheet gives: start speed times the factor on its holes."""
    tool = Tool(StepKind.TAP, 8.0, "M8x1.25", made, treatment)
    return tap_speeds(tool, subgroup).start * tap_surface(treatment, subgroup).life


def test_a_group_entry_takes_all_its_subgroups_and_a_subgroup_only_its_own_kind() -> None:
    assert is_of("P4", "P", "P")
    assert is_of("P4+", "P", "P4")
    assert is_of("S3a", "S", "S3")
    assert not is_of("N10", "N", "N1")
    assert not is_of("N1", "N", "N10")


def test_unknown_numbers_fire_no_range() -> None:
    assert not Range(0, 5).holds(None)
    assert Range(0, 5).holds(0)
    assert not Range(0, 5).holds(5)


SHOP = """# source: our own
# standing: shop's own
# keyed: by the foreman
id,decides,effect,verdict,rank,hole,chip,material,trait,hb,size_mm,depth_d,room_p,thread,wall,machine,given,because,source,standing
"""


def test_a_shop_adds_rows_and_overrides_them_by_id() -> None:
    own = SHOP + "S1,tap treatment,choose,TiCN,90,,,N1,,,,,,,,,,we have only these,,shop's own\n"
    own += "T48,tap treatment,never,CrN,,,,N1,,,,,,,,,,none in the crib,,shop's own\n"
    book = rule_book(read_table(own, "shop rules"), BOOK)
    aluminium = next(material for material in all_materials() if material.subgroup == "N1")
    verdict = decide("tap treatment", case_of(aluminium), frozenset(("spiral-point", "HSS-E")), book)
    assert verdict.value == "TiCN"
    assert verdict.reason.cites[0].standing is Standing.SHOP
    assert len(book.rules) == len(BOOK.rules) + 1


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ("S1,colour,choose,red,1,,,,,,,,,,,,,because,,shop's own", "nothing to decide"),
        ("S1,process,prefer,cut,1,,,,,,,,,,,,,because,,shop's own", "no effect"),
        ("S1,process,choose,cut,1,sideways,,,,,,,,,,,,because,,shop's own", "is no hole"),
        ("S1,process,choose,cut,1,,,,,400,,,,,,,,because,,shop's own", "no range"),
        ("S1,process,choose,cut,high,,,,,,,,,,,,,because,,shop's own", "high"),
        ("S1,process,choose,cut,1,,,,,,,,,,,,,because,,hearsay", "'hearsay' is no standing. Write one of: published;"),
        ("S1,process,choose,cut,1,,,,,,,,,,,,,a,,shop's own\nS1,process,choose,cut,1,,,,,,,,,,,,,b,,shop's own", "S1"),
    ],
)
def test_a_bad_row_is_named(row: str, says: str) -> None:
    with pytest.raises(BadTable, match=says):
        rule_book(read_table(SHOP + row + "\n", "shop rules"), BOOK)


def test_a_table_that_decides_nothing_says_so() -> None:
    empty = rule_book(read_table(SHOP + "S1,process,choose,cut,1,,,,,,,,,,,,,because,,shop's own\n", "shop rules"))
    with pytest.raises(BadTable, match="flute form"):
        decide("flute form", case_of(all_materials()[0]), frozenset(), empty)


def test_rows_say_where_they_come_from() -> None:
    for rule in BOOK.rules:
        assert rule.cite.standard or rule.cite == COMMON_PRACTICE


def test_chamfers_hold_under_both_names() -> None:
    """The threads we plan with lie in the range of the DIN form and of the US name, so any tap sold as either fits."""
    for row in table("tap_chamfers.csv").rows:
        assert float(row["din_from"]) <= float(row["threads"]) <= float(row["din_to"])
        assert float(row["us_from"]) <= float(row["threads"]) <= float(row["us_to"])
