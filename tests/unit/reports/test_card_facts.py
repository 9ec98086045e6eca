"""Figures on a card that are followed with a gauge or a program in the hand."""

from __future__ import annotations

import pytest

from holesched.pipeline import explain, read_options
from holesched.reports import process_sheet
from holesched.reports.base import RunStamp
from holesched.reports.card_facts import card_facts
from holesched.reports.show import Show
from holesched.reports.source_list import SourceList
from holesched.shop.model import Shop


def facts(callout: str) -> dict[str, str]:
    shop = Shop()
    job = explain(callout, shop, read_options(shop, material="42CrMo4", thickness_mm=45.0))
    return dict(card_facts(job.holes[0], Show("mm"), SourceList()))


@pytest.mark.parametrize(
    ("callout", "turns"),
    [
        # ISO 7-1:1994, Table 1: gauge length 6.0 mm, P 1.337 mm, internal tolerance 1 1/4 turns (from memory)
        ("Rc1/4", "4.5 turns by hand, give or take 1.27"),
        # Rp 3/8: gauge length 6.4 mm, the same pitch and tolerance (from memory)
        ("Rp3/8 ↧14", "4.8 turns by hand, give or take 1.27"),
        ("Rp3/8 THRU", "4.8 turns by hand, give or take 1.27"),
        # ASME B1.20.1, Table 2: L1 of 1/4-18 NPT is 0.2278 in, 4.10 threads; one turn either way (clause 8)
        ("1/4-18 NPT", "4.1 turns by hand, give or take 1"),
    ],
)
def test_a_taper_plug_is_counted_to_its_gauge_plane_never_to_the_full_thread(callout: str, turns: str) -> None:
    found = facts(callout)
    assert found["Taper plug"] == f"enters {turns}: not to the end of the full thread"
    assert "Go gauge" not in found


@pytest.mark.parametrize(("callout", "turns"), [("G1/4 ↧13.37", "10.0"), ("M8 ↧16", "12.8")])
def test_a_go_plug_is_counted_to_the_full_thread(callout: str, turns: str) -> None:
    """Length over pitch: 13.37 / 1.337 (ISO 228-1, 19 threads an inch) and 16 / 1.25."""
    found = facts(callout)
    assert found["Go gauge"] == f"enters {turns} turns to the full thread"
    assert "Taper plug" not in found


def test_every_step_names_the_operation_that_it_is_part_of(stamp: RunStamp) -> None:
    """Both ends of a hole with the same tools: two operations a tool; both stood in every line."""
    shop = Shop()
    job = explain("M8x1.25-6H ↧20 BOTH SIDES", shop, read_options(shop, material="C45", thickness_mm=60.0))
    sheet = process_sheet.build(job, shop, stamp)
    (card,) = sheet.cards
    numbers = [int(step.operation) for step in card.steps]
    assert sorted(numbers) == [row.number for row in sheet.operations]
    for row in sheet.operations:
        (step,) = [step for step in card.steps if int(step.operation) == row.number]
        assert (step.tool, step.title) == (row.tool, row.title)


def test_what_both_ends_of_a_hole_or_all_taps_of_a_set_say_alike_stands_once(stamp: RunStamp) -> None:
    shop = Shop()
    job = explain("M8x1.25-6H ↧20 BOTH SIDES", shop, read_options(shop, material="C45", thickness_mm=60.0))
    (card,) = process_sheet.build(job, shop, stamp).cards
    assert len(card.facts) == len(set(card.facts)) > 2
    assert len(card.rulers) == 1
