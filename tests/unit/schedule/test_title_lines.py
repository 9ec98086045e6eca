"""Title blocks as offices write them: a label and its value in one cell without a colon, lines without a label.
Expectations: common practice, no source."""

from pathlib import Path

import pytest

from holesched.schedule.model import ReadOptions
from holesched.schedule.read_workbook import read_schedule
from holesched.schedule.title_words import label_and_value
from tests.unit.schedule.written_files import codes, read, text_file

TABLE = "TAG,CALLOUT,QTY\nA,M6,2\n"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Losgröße 25", ("Losgröße", "25")),
        ("LOT 40", ("LOT", "40")),
        ("QTY 6 PCS", ("QTY", "6 PCS")),
        ("THK .875", ("THK", ".875")),
        ("Dicke 22 mm", ("Dicke", "22 mm")),
        ("Material thickness 5 mm", ("Material thickness", "5 mm")),
        ("Mat. 17-4PH H900", ("Mat.", "17-4PH H900")),
        ("Part No. VB-88", ("Part No.", "VB-88")),
        ("REV C", ("REV", "C")),
        ("QTY 22", None),  # as likely a number of holes
        ("Material certificate EN 10204 3.1", None),
        ("Thickness after machining 5", None),
        ("REV IEW", None),
        ("Part 2 of 4", None),
    ],
)
def test_label_and_value_without_a_colon(text: str, expected: tuple[str, str] | None) -> None:
    assert label_and_value(text) == expected


def test_a_title_block_without_colons_is_read(tmp_path: Path) -> None:
    title = "Part No. VB-88,,REV C\nMat. 17-4PH H900,THK 20,Lot 12\nALL DIMENSIONS MM\n"
    schedule, notes = read(text_file(tmp_path, title + TABLE))
    header = schedule.header
    assert (header.part_number, header.revision, header.material, header.thickness_mm, header.lot) == (
        "VB-88", "C", "17-4PH H900", 20.0, 12,
    )  # fmt: skip
    assert header.unit == "mm"
    assert header.unit_stated
    assert codes(notes) == []


def test_a_label_takes_no_neighbour_that_is_a_label_with_its_value(tmp_path: Path) -> None:
    schedule, _ = read(text_file(tmp_path, "REV,THK 20,\nC,,\n" + TABLE))
    assert (schedule.header.revision, schedule.header.thickness_mm) == ("C", 20.0)


def test_a_first_line_without_a_label_stands_for_the_name_and_says_so(tmp_path: Path) -> None:
    title = "Ventilträger VT-4410 Rev. B,,Losgröße 25\nAllgemeintoleranzen ISO 2768-mK\nBreak all edges 0.3\nHOLE TABLE\n"
    schedule, _ = read(text_file(tmp_path, title + TABLE))
    assert schedule.header.part_name == "Ventilträger VT-4410 Rev. B (not labelled)"
    assert schedule.header.lot == 25
    assert schedule.header.other == (
        ("Not labelled", "Allgemeintoleranzen ISO 2768-mK"),
        ("Not labelled", "Break all edges 0.3"),
    )


def test_a_labelled_name_leaves_the_line_beside_it_among_the_others(tmp_path: Path) -> None:
    schedule, _ = read(text_file(tmp_path, "Prototype only\nPart name,Cover\n" + TABLE))
    assert schedule.header.part_name == "Cover"
    assert schedule.header.other == (("Not labelled", "Prototype only"),)


def test_pieces_behind_a_lot(tmp_path: Path) -> None:
    schedule, _ = read(text_file(tmp_path, "Stückzahl,3 Stk\n" + TABLE))
    assert schedule.header.lot == 3


@pytest.mark.parametrize("lot", ["0", "-5", "2.5", "0 pcs", "1,000"])
def test_a_lot_that_is_no_number_of_parts_is_asked(tmp_path: Path, lot: str) -> None:
    schedule, notes = read(text_file(tmp_path, f'LOT,"{lot}"\n' + TABLE))
    (asked,) = [note for note in notes if note.code == "SCHEDULE-LOT-UNREADABLE"]
    assert asked.is_question
    assert (str(asked.ref), asked.text) == ("table.csv!table!B1", lot)
    assert asked.suggestion
    assert asked.assumed
    assert schedule.header.lot is None
    assert ("Lot", lot) in schedule.header.other


@pytest.mark.parametrize("lot", ["25", "L-2024-7", "proto"])
def test_a_lot_or_its_name_is_not_asked(tmp_path: Path, lot: str) -> None:
    _, notes = read(text_file(tmp_path, f"LOT,{lot}\n" + TABLE))
    assert "SCHEDULE-LOT-UNREADABLE" not in codes(notes)


def test_the_callers_lot_answers_for_one_that_cannot_be_read(tmp_path: Path) -> None:
    path = text_file(tmp_path, "LOT,0\n" + TABLE)
    schedule, notes = read_schedule(path, ReadOptions("mm", lot=12))
    assert schedule.header.lot == 12
    assert "SCHEDULE-LOT-UNREADABLE" not in codes(notes)


@pytest.mark.parametrize("head", ["Anz.", "Anz", "NOS", "PCS"])
def test_short_words_for_the_number_of_holes(tmp_path: Path, head: str) -> None:
    schedule, _ = read(text_file(tmp_path, f"Nr.,{head},Bohrung\n1,6,M6\n"))
    assert [row.quantity for row in schedule.rows] == [6]


def test_an_unread_column_of_whole_numbers_may_be_the_number_of_holes(tmp_path: Path) -> None:
    _, notes = read(text_file(tmp_path, "TAG,Zz,CALLOUT\nA,6,M6\nB,2,M8\n"))
    asked = [note for note in notes if note.code == "SCHEDULE-COLUMN-OF-NUMBERS"]
    assert [str(note.ref) for note in asked] == ["table.csv!table!B1"]
    assert asked[0].is_question
    _, notes = read(text_file(tmp_path, "TAG,Zz,CALLOUT,QTY\nA,6,M6,1\nB,2,M8,1\n"))
    assert "SCHEDULE-COLUMN-OF-NUMBERS" not in codes(notes)
