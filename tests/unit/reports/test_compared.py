"""The processes for one thread side by side, on a terminal."""

from __future__ import annotations

import pytest

from holesched.cli import main
from holesched.pipeline import compare, explain
from holesched.reports.compared import compared
from holesched.schedule.model import ReadOptions
from holesched.shop.model import Price, ReportStyle, Shop

PRICES = (
    Price("drill", 4.0),
    Price("cutting tap", 20.0),
    Price("cutting tap", 30.0, "M8x1.25", "HSS-E-PM"),
    Price("thread mill", 130.0),
)


def text(callout: str = "M8x1.25-6H ↧16", workpiece: str = "42CrMo4", shop: Shop | None = None) -> str:
    used = shop or Shop()
    job = explain(callout, used, ReadOptions(None, workpiece, 40.0))
    return compared(job, compare(job, used), used)


def row(shown: str, label: str) -> list[str]:
    """A row's cells, its further lines joined to the first."""
    lines = shown.splitlines()
    at = next(number for number, line in enumerate(lines) if line.startswith(label.ljust(16)))
    mine = [lines[at]]
    for line in lines[at + 1 :]:
        if not line.startswith(" " * 16):
            break
        mine.append(line)
    cells = [[line[16 + 26 * k : 42 + 26 * k].strip() for line in mine] for k in range(4)]
    return [" ".join(part for part in cell if part) for cell in cells]


def test_four_ways_side_by_side() -> None:
    shown = text()
    assert "cutting tap (chosen)" in shown
    assert row(shown, "drill")[0] == "6.8 HSS-Co, makes 6.85 mm: 71 % of thread"
    assert row(shown, "drill")[1].startswith("7.4 HSS-Co")
    assert row(shown, "drilled depth") == ["21.00 mm", "21.00 mm", "18.50 mm", "19.75 mm"]
    assert row(shown, "speed")[3] == "by hand"
    assert "centre" in row(shown, "speed")[2]
    assert row(shown, "risk")[2] == "no tap to break; a broken mill lifts out"
    assert all("of what breaks the tap" in row(shown, "risk")[column] for column in (0, 1, 3))
    assert max(len(line) for line in shown.splitlines() if line.startswith(("drill", "tool", "speed"))) <= 120


def test_times_are_those_of_the_plan() -> None:
    job = explain("M8x1.25-6H ↧16", Shop(), ReadOptions(None, "42CrMo4", 40.0))
    shown = compared(job, compare(job, Shop()), Shop())
    cuts = job.holes[0].cut_plan.cuts if job.holes[0].cut_plan else ()
    assert row(shown, "time, thread")[0] == f"{60 * cuts[-1].time_min:.1f} s"
    assert row(shown, "time, hole")[0] == f"{60 * sum(cut.time_min for cut in cuts):.1f} s"


def test_an_unknown_time_makes_the_whole_unknown() -> None:
    """Without a thickness only the spot has a depth; its seconds alone would make a tap look quicker than it is."""
    job = explain("M8 THRU", Shop(), ReadOptions(None, "C45"))
    shown = compared(job, compare(job, Shop()), Shop())
    assert any(cut.time_min > 0 for hole in job.holes for cut in hole.cuts)
    for label in ("time, thread", "time, hole"):
        assert set(row(shown, label)) <= {"unknown: no depth", ""}


@pytest.mark.parametrize("callout", ["M8 THRU, Ø6 H7 THRU", "M8 ↧20 BOTH SIDES", "Ø6.6 THRU ⌴ Ø11", "M8 ↧16"])
def test_the_command_says_why_it_is_open(callout: str, capsys: pytest.CaptureFixture[str]) -> None:
    status = main(["explain", callout, "--material", "C45", "--thickness", "30", "--compare"])
    shown = capsys.readouterr().out
    job = explain(callout, Shop(), ReadOptions(None, "C45", 30.0))
    questions = [note.code for note in job.notes if note.is_question]
    assert (status == 3) == bool(questions) == ("\nopen: " in shown)
    assert all(f"[{code}" in shown for code in questions)


def test_what_is_not_possible_says_why() -> None:
    shown = text("M8x1.25-6H THRU", "EN-GJL-250")
    assert "forming tap: not possible: " in shown
    assert "hand taps: possible, but no rule asks for it" in shown
    assert row(shown, "drilled depth")[0] == "through"


def test_only_what_differs_is_to_be_looked_at() -> None:
    shown = text()
    assert "forming tap: M8x1.25-6H: a formed thread has a seam" in shown
    assert "MATERIAL-CONDITION-UNSTATED" not in shown


def test_cost_is_price_over_holes_where_the_shop_gives_prices() -> None:
    """Tap 30 over 210 to 630 holes, drill 4 over 60 to 190: 0.05 + 0.02 to 0.14 + 0.07. Calculated."""
    shown = text(shop=Shop(report=ReportStyle(currency="EUR"), prices=PRICES))
    cut, form, mill, hand = row(shown, "tool cost a hole")
    assert cut == "0.07 to 0.21 EUR"
    assert form.endswith("without the forming tap: no price")
    assert mill.endswith("EUR")
    assert "without the hand set" in hand
    assert "tool cost" in text()
    assert "Tools have no prices" in text()


def test_without_a_planned_thread_there_is_nothing_to_compare() -> None:
    assert "no planned thread to compare" in text("Ø9 THRU")
    assert "no planned thread to compare" in text("M8x1.25-6H", workpiece="")


def test_the_command(capsys: pytest.CaptureFixture[str]) -> None:
    main(["explain", "M8x1.25-6H ↧16", "--material", "42CrMo4", "--thickness", "40", "--compare"])
    assert "cutting tap (chosen)" in capsys.readouterr().out
    with pytest.raises(SystemExit):
        main(["explain", "M8", "--compare", "--json"])


def test_of_a_set_the_heaviest_tap_is_compared() -> None:
    """Tr20x4: the first of three taps, which takes half of the chip (common practice, no source)."""
    shown = text("Tr20x4 THRU")
    (hand, tap, *_), (risk, *_) = row(shown, "torque"), row(shown, "risk")
    assert hand == "133 N·m"
    assert tap.startswith("267 N·m")  # the whole of it
    assert risk == "0.48 of what breaks the tap: watch"
