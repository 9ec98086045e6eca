"""Cautions stand on a sheet only when something on it calls for them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
import sample_job

from holesched.cutting.model import CutStep
from holesched.pipeline import explain, plan_file, read_options
from holesched.reports.cautions import CAUTIONS, cautions
from holesched.sequence.model import JobPlan
from holesched.shop.model import Preferences, Shop
from holesched.tooling.model import StepKind


def said(job: JobPlan, word: str) -> bool:
    return any(word in text for text in cautions(job))


def planned(callout: str, material: str, shop: Shop | None = None) -> JobPlan:
    shop = shop or Shop()
    return explain(callout, shop, read_options(shop, material=material, thickness_mm=40.0))


@pytest.mark.parametrize(
    "word", ["The drawing governs", "licensed practice", "reduced override", "Eye protection", "gloves"]
)
def test_always(job: JobPlan, inch_job: JobPlan, word: str) -> None:
    assert said(job, word)
    assert said(inch_job, word)


def test_left_hand_only_with_a_left_hand_tap(job: JobPlan, inch_job: JobPlan) -> None:
    assert said(job, "Left-hand taps")
    assert not said(inch_job, "Left-hand taps")


@pytest.mark.parametrize(
    ("material", "there", "not_there"),
    [
        ("AZ31B", "Magnesium burns: no water", "Chips of this material can burn"),
        ("Ti-6Al-4V", "Chips of this material can burn", "Magnesium"),
        ("CuBe2", "Dust of this material", "can burn:"),
        ("CFRP", "Dust of this material", "can burn:"),
        ("C45", "Eye protection", "Dust"),
    ],
)
def test_fire_and_dust_by_the_material(material: str, there: str, not_there: str) -> None:
    job = planned("⌀8 THRU", material)
    assert said(job, there)
    assert not said(job, not_there)


def test_taps_holes_and_tools(job: JobPlan) -> None:
    plain = planned("⌀8 THRU", "C45")
    assert said(plain, "Through holes")
    assert not said(plain, "Taps reverse")
    assert not said(plain, "Blind")
    assert not said(plain, "Long drills")
    assert not said(plain, "Carbide")
    blind = planned("M8 ↧16", "C45")
    assert said(blind, "Taps reverse by themselves")
    assert said(blind, "lock the machine out")
    assert said(blind, "Blind holes: cover them")
    assert said(blind, "air at low pressure only")
    assert said(blind, "Blind threads: no fluid")
    assert not said(blind, "Through holes")
    assert said(planned("⌀3 ↧30", "C45"), "Long drills")
    assert said(planned("⌀8 ↧10", "C45", Shop(preferences=Preferences(drill_material="carbide"))), "Carbide breaks")


def test_a_hand_set_does_not_reverse_by_itself() -> None:
    by_hand = planned("M8 ↧16", "C45", Shop(preferences=Preferences(tap_by_hand=True)))
    assert not said(by_hand, "Taps reverse")
    assert said(by_hand, "Blind threads")


def test_cutting_oil_by_the_coolant(job: JobPlan) -> None:
    assert not said(job, "Cutting oil")

    def oiled(cut: CutStep) -> CutStep:
        return replace(cut, coolant="cutting oil") if cut.step.kind is StepKind.TAP else cut

    operations = tuple(
        replace(each, targets=tuple(replace(target, cut=oiled(target.cut)) for target in each.targets))
        for each in job.operations
    )
    assert said(replace(job, operations=operations), "Cutting oil smokes")


def test_hold_and_second_face(job: JobPlan) -> None:
    assert said(job, "HOLD: do not cut")
    assert not said(replace(job, notes=()), "HOLD")
    assert not said(job, "Two faces")
    turned = replace(job, operations=(*job.operations[:-1], replace(job.operations[-1], set_up=2)))
    assert said(turned, "Two faces")


def test_each_is_short(job: JobPlan) -> None:
    assert all(len(caution.text) < 160 for caution in CAUTIONS)
    assert len(cautions(sample_job.sample_job())) <= len(CAUTIONS) - 3


def mixed(folder: Path, rows: str) -> JobPlan:
    """A job in grey iron whose rows have materials of their own."""
    table = folder / "mixed.csv"
    head = "Material,GG25,Thickness,30 mm\nUnits,mm,Lot,1\n\nTAG,MATERIAL,CALLOUT,QTY\n"
    table.write_text(head + rows, encoding="utf-8")
    return plan_file(table, Shop(), read_options(Shop()))


def test_a_rows_own_material_calls_for_its_caution(tmp_path: Path) -> None:
    """The title block says grey iron; one row is magnesium, one titanium, and a wet one stands beside them."""
    job = mixed(tmp_path, "A,C45,⌀8 THRU,1\nB,AZ91D,⌀8 THRU,1\nC,Ti-6Al-4V,⌀8 THRU,1\n")
    assert said(job, "Magnesium burns")
    assert said(job, "Magnesium and wet coolant")
    assert said(job, "Chips of this material can burn")
    assert not said(planned("⌀8 THRU", "AZ91D"), "Magnesium and wet coolant")


def test_a_row_material_nobody_knows_is_asked_in_its_own_row(tmp_path: Path) -> None:
    notes = mixed(tmp_path, "A,C45,⌀8 THRU,1\nB,UNOBTAINIUM,⌀8 THRU,1\nC,UNOBTAINIUM,⌀6 THRU,1\n").notes
    assert [note.ref.cell for note in notes if note.code == "MATERIAL-UNKNOWN" and note.ref] == ["C6"]
