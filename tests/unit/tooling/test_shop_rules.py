"""A shop's own rules: laid over the standard ones, read kindly, every mistake told with its line."""

from __future__ import annotations

from pathlib import Path

import pytest
from tooling_samples import material, one, plan, tap

from holesched import cli
from holesched.errors import BadTable
from holesched.notes import Standing
from holesched.shop.model import Preferences, Shop
from holesched.shop.read_toml import read_shop
from holesched.tooling.choose import plan_tools
from holesched.tooling.model import StepKind
from holesched.tooling.rules import standard_rules
from holesched.tooling.shop_rules import COLUMNS, laid_over, rules_of, standing_rules

BASE = standard_rules()


def problems(text: str) -> list[str]:
    with pytest.raises(BadTable) as caught:
        laid_over(text, "my_rules.csv", BASE)
    assert caught.value.where == "my_rules.csv"
    return [line.strip() for line in caught.value.problem.splitlines()[1:]]


def treatment(text: str, workpiece: str = "6061") -> str:
    resolved = plan(tap("M8x1.25-6H", 16)).resolved
    book = laid_over(text, "my_rules.csv", BASE)
    return one(plan_tools(resolved, material(workpiece), Shop(), book), StepKind.TAP).tool.treatment


def test_no_file_is_the_standard_book() -> None:
    assert rules_of(Shop()) is BASE


@pytest.mark.parametrize(
    "text",
    [
        "decides,verdict,material,because\ntap treatment,DLC,N1,we have only these\n",
        "\ufeffDecides;Verdict;Material\ntap treatment;DLC;N1\n;;\n".removeprefix("\ufeff"),
        "# our own\ndecides,verdict,effect\ntap treatment,DLC,choose\n",
        "id,decides,verdict,rank\nT19,tap treatment,DLC,20\n",
    ],
    ids=["few columns", "semicolons", "comment", "replaced by id"],
)
def test_a_row_needs_only_what_it_says(text: str) -> None:
    assert treatment(text) == "DLC"


def test_a_shops_row_says_that_it_is_the_shops_own() -> None:
    resolved = plan(tap("M8x1.25-6H", 16)).resolved
    book = laid_over("decides,verdict\ntap treatment,DLC\n", "my_rules.csv", BASE)
    tapped = one(plan_tools(resolved, material("6061"), Shop(), book), StepKind.TAP)
    (reason,) = [reason for reason in tapped.reasons if reason.decision.startswith("tap treatment")]
    assert (reason.rule, reason.because) == ("SHOP-2", "the shop's own rule")
    assert (reason.cites[0].standard, reason.cites[0].standing) == ("my_rules.csv", Standing.SHOP)
    assert any(lost.candidate == "bright" and "T19" in lost.because for lost in reason.rejected)


def test_a_standard_row_can_be_switched_off() -> None:
    """T46 keeps TiN away from aluminium; without it the shop's row stands."""
    asks = "id,decides,effect,verdict\n,tap treatment,choose,TiN\n"
    assert treatment(asks) == "bright"
    assert treatment(f"{asks}T46,tap treatment,off,TiN\n") == "TiN"


def test_rules_by_lot_torque_and_machine() -> None:
    text = "decides,verdict,lot,machine\nprocess,thread mill,..5,rigid\n"
    resolved = plan(tap("M8x1.25-6H", 16)).resolved
    book = laid_over(text, "my_rules.csv", BASE)
    kinds = [plan_tools(resolved, material("6061"), Shop(), book, lot=lot).steps[-1].kind for lot in (None, 2, 50)]
    assert kinds == [StepKind.TAP, StepKind.THREAD_MILL, StepKind.TAP]


def test_every_mistake_is_told_with_its_line() -> None:
    text = """id,decides,effect,verdict,rank,material,trait,hb,hole,given
S1,colour,,red,,,,,,
S2,process,prefer,cut,,,,,,
S3,chamfer,,plug X,,,,,,
S4,process,,cut,,4140,,,,
S5,process,,cut,,,sticky,,,
S6,process,,cut,,,,400,,
S7,process,,cut,,,,,sideways,
S8,process,,cut,high,,,,,
S9,process,,cut,,,,,,red
T99,process,off,cut,,,,,,
S1,process,,cut,,,,300..200,,
S10,process,,,,,,,,
"""
    found = problems(text)
    assert [line.partition(":")[0] for line in found] == [f"line {number}" for number in range(2, 14)]
    for line, words in zip(
        found,
        (
            "'colour' is nothing to decide",
            "'prefer' is no effect",
            "'plug X' is no chamfer. Write one of: plug D, plug C",
            "'4140' is no group of materials. Write one of: H, H1",
            "'sticky' is no trait",
            "'400' is no range; write a..b, a.. or ..b",
            "'sideways' is no hole. Write one of: blind, through, blocked.",
            "'high' is no rank; write a whole number",
            "'red' is no given",
            "there is no rule T99 to switch off",
            "'300..200' is no range",
            "'' is no process",
        ),
        strict=True,
    ):
        assert words in line, line


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "the table is empty"),
        ("# only a comment\n", "the table is empty"),
        ("decides,verdikt\nprocess,cut\n", "no column 'verdikt'. Perhaps verdict is meant."),
        ("decides,colour\nprocess,cut\n", "no column 'colour'"),
        ("verdict\ncut\n", "the header lacks decides"),
        ("decides,verdict\nprocess,cut,7\n", "line 2 has 3 cells, the header has 2."),
        ("id,decides,verdict\nS1,process,cut\nS1,process,cut\n", "a second row has the id S1"),
    ],
)
def test_a_table_that_cannot_be_read_says_why(text: str, says: str) -> None:
    with pytest.raises(BadTable, match=says) as caught:
        laid_over(text, "my_rules.csv", BASE)
    assert caught.value.where == "my_rules.csv"


def test_the_columns_are_those_of_the_standard_table() -> None:
    from holesched.tables import table

    assert set(COLUMNS) == set(table("tap_rules.csv").columns)


def test_the_file_lies_beside_the_shop_file(tmp_path: Path) -> None:
    (tmp_path / "my_rules.csv").write_text("decides,verdict\ntap treatment,DLC\n", encoding="utf-8-sig")
    (tmp_path / "shop.toml").write_text('[preferences]\nrules = "my_rules.csv"\n')
    shop = read_shop(tmp_path / "shop.toml")
    assert len(rules_of(shop).rules) == len(BASE.rules) + 1


def test_a_missing_or_damaged_file_is_told(tmp_path: Path) -> None:
    path = tmp_path / "my_rules.csv"
    shop = Shop(preferences=Preferences(rules=str(path)))
    with pytest.raises(BadTable, match=r"cannot be opened .*preferences.rules"):
        rules_of(shop)
    path.write_bytes(b"decides,verdict\nprocess,\xff\n")
    with pytest.raises(BadTable, match="no csv in UTF-8"):
        rules_of(shop)
    path.write_bytes(b"#" * 1_000_001)
    with pytest.raises(BadTable, match="too large"):
        rules_of(shop)


def test_rules_that_leave_no_process_say_for_what() -> None:
    text = "id,decides,effect,verdict\nP00,process,off,none\nX,process,never,cut\n"
    resolved = plan(tap("M8x1.25-6H", 16)).resolved
    with pytest.raises(BadTable, match=r"no rule leaves a process for a blind hole of 8 mm, 2.0 D deep in N1 of 92 HB"):
        plan_tools(resolved, material("6061"), Shop(), laid_over(text, "my_rules.csv", BASE))


def test_the_printed_rules_read_again_are_the_same() -> None:
    """A shop that keeps the whole table and changes nothing has changed nothing."""
    book = laid_over(standing_rules(), "my_rules.csv", BASE)
    assert book.rules == BASE.rules
    assert book.disarmed == ()


def warned(text: str, workpiece: str, depth_mm: float | None = 8.0) -> list[str]:
    resolved = plan(tap("M8x1.25-6H", depth_mm)).resolved
    made = plan_tools(resolved, material(workpiece), Shop(), laid_over(text, "my_rules.csv", BASE))
    return [note.message for note in made.notes if note.code == "SAFETY-RULE-OFF"]


@pytest.mark.parametrize(
    "text",
    [
        "id,effect,decides,verdict\nQ70,off,,\n",
        "id,decides,verdict,effect,material\nQ70,coolant,*emulsion*,never,N8\n",
    ],
    ids=["off", "replaced"],
)
def test_a_safety_rule_cannot_be_switched_off_in_silence(text: str) -> None:
    """No water on magnesium: TM 43-0106."""
    [told] = warned(text, "AZ91D")
    assert "Q70" in told
    assert "fire" in told
    assert warned(text, "6061") == []


def test_a_safety_rule_cannot_be_outvoted_in_silence() -> None:
    text = "decides,verdict,material\ncoolant,dry,N10\n"
    assert any("Q62" in told for told in warned(text, "GFK"))
    assert warned("decides,verdict,material\ncoolant,dry,N1\n", "6061") == []


def test_other_rules_may_be_changed_as_the_shop_likes() -> None:
    assert warned("id,effect,decides,verdict\nQ39,off,,\n", "6061") == []


def test_the_command_prints_them(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["shop-sample", "--rules"]) == 0
    assert capsys.readouterr().out == standing_rules()


def test_at_equal_rank_the_shops_row_stands_and_says_so() -> None:
    """T15 asks for TiCN in C45 with rank 18, T11 for TiN with 10."""
    resolved = plan(tap("M8x1.25-6H", 16)).resolved
    found = {}
    for rank in (17, 18):
        book = laid_over(f"id,decides,verdict,rank,material\nS01,tap treatment,bright,{rank},P3\n", "own.csv", BASE)
        tapped = one(plan_tools(resolved, material("C45"), Shop(), book), StepKind.TAP)
        (reason,) = [each for each in tapped.reasons if each.decision.startswith("tap treatment")]
        found[rank] = (tapped.tool.treatment, {lost.candidate: lost.because for lost in reason.rejected})
    assert found[17][0] == "TiCN"
    assert found[17][1]["bright"] == "S01, T10 ask for it (the shop's own rule), T15 ranks above"
    assert found[18][0] == "bright"
    assert found[18][1]["TiCN"].endswith("S01 of the same rank 18 is the shop's own")
    assert found[18][1]["TiN"].endswith("S01 ranks above")


@pytest.mark.parametrize(
    "rows",
    [
        "S01,TiN,99,P3,,,\nS02,TiCN,99,P3,,,\n",
        "S01,TiN,,P,,,\nS02,TiCN,,P3,150..,,\n",  # without a rank all have the same
        "S01,TiN,99,,,,HSS-E\nS02,TiCN,99,,,,spiral-point\n",
        "T15,TiN,18,P3,,,\nS02,bright,18,P3,,,\n",
    ],
)
def test_two_own_rows_that_contradict_are_refused_with_both_names(rows: str) -> None:
    text = "id,verdict,rank,material,hb,machine,given,decides\n" + rows.replace("\n", ",tap treatment\n")
    (told,) = problems(text)
    first = rows[:3]
    assert told.startswith(f"line 3: S02 contradicts {first} (line 2): for one hole they choose ")
    assert told.endswith("Give one of them the higher rank, or conditions that keep them apart.")


@pytest.mark.parametrize(
    "rows",
    [
        "S01,TiN,99,P3,,,\nS02,TiCN,98,P3,,,\n",
        "S01,TiN,99,P3,,,\nS02,TiN,99,P,,,\n",
        "S01,TiN,99,P3,,,\nS02,TiCN,99,M,,,\n",
        "S01,TiN,99,P,..200,,\nS02,TiCN,99,P,200..,,\n",
        "S01,TiN,99,,,rigid,\nS02,TiCN,99,,,float,\n",
        "S01,TiN,99,,,,spiral-point\nS02,TiCN,99,,,,spiral-flute\n",
    ],
)
def test_own_rows_that_agree_or_never_meet_are_taken(rows: str) -> None:
    text = "id,verdict,rank,material,hb,machine,given,decides\n" + rows.replace("\n", ",tap treatment\n")
    assert laid_over(text, "own.csv", BASE).own == {"S01", "S02"}


def test_a_row_that_stands_as_it_was_is_not_the_shops_own() -> None:
    assert laid_over(standing_rules(), "my_rules.csv", BASE).own == frozenset()
