"""Rows: holes, or set aside with why; quantities, tags and places; callouts spread over columns."""

from __future__ import annotations

from pathlib import Path

import pytest
from written_files import HEADER, callouts, codes, read, text_file, xlsx_file

from holesched.notes import Severity
from holesched.schedule.row_kinds import is_units_row, kind_of, looks_like_tag

TABLE = "Units,mm\nTAG,X,Y,CALLOUT,QTY,NOTE\n"


@pytest.mark.parametrize(
    ("line", "why"),
    [
        (",,,,,", "blank"), (" , ,\u00a0,,,", "blank"), ("-,-,-,-,-,-", "blank"), (",mm,mm,,,", "units"),
        ("TAG,X,Y,CALLOUT,QTY,NOTE", "header"), ("TOTAL,,,,2,", "total"), (",,,TOTAL HOLES: 2,,", "total"),
        ("Summe,,,,2,", "total"), ("合計,,,,2,", "total"), ("A9,5,5,DELETED,1,", "deleted"),
        ("A9,5,5,M6,1,deleted", "deleted"),
        ("A9,entfallen,,,,", "deleted"), ("NOTE 1: BREAK ALL EDGES,,,,,", "note"),
        (",,,UNLESS OTHERWISE STATED ±0.1,,", "note"),
        ("1. DEBURR ALL HOLES INSIDE,,,,,", "note"), ("* as drawn,,,,,", "note"), (",,,,,checked by nobody", "note"),
        ("HOLE TABLE CONT'D,,,,,", "title"), ("VIEW B,,,,,", "title"), ("Rev: C,,,,,", "title"), ("DATUM A,0,0,,,", "note"),
        ("Drawn by,A. Body,Date,2024-01-01,,", "note"), ("Tolerances as agreed with the customer,,,,,", "note"),
    ],
)  # fmt: skip
def test_rows_that_name_no_hole(tmp_path: Path, line: str, why: str) -> None:
    """Words of totals, notes and deleted rows: common practice, no source."""
    schedule, notes = read(text_file(tmp_path, f"{TABLE}A1,1,2,M6,1,\n{line}\nA2,1,3,M6,1,\n"))
    assert [row.tag for row in schedule.rows] == ["A1", "A2"]
    assert [(entry.why, entry.ref.row) for entry in schedule.set_aside] == [(why, 4)]
    assert schedule.rows_read == 3
    expected = ["SCHEDULE-ROW-DELETED D4"] if why == "deleted" else []
    assert codes(notes) == expected


@pytest.mark.parametrize(
    ("line", "callout", "code"),
    [
        ("A9,5,5,,1,", "", "SCHEDULE-CALLOUT-EMPTY D4"), ("A9,,,,,", "", "SCHEDULE-CALLOUT-EMPTY D4"),
        ("A9,5,5,ditto,1,", "ditto", ""), ("A9,5,5,-,1,", "-", ""), ("A9,5,5,〃,1,", "〃", ""), ("A9,5,5,TYP,1,", "TYP", ""),
        ("A9,5,5,M6,1,removed burrs", "M6", ""), ("A9,5,5,M6,1,VOID OF BURRS INSIDE THE BORE OF IT", "M6", ""),
        ("VIEW,5,5,M6,1,", "M6", ""), (",5,5,TOTAL LENGTH 5,1,", "TOTAL LENGTH 5", ""),
        ("A9,5,5,Oct-32,1,", "", "SCHEDULE-CALLOUT-DATE D4"), ("A9,5,5,#NAME?,1,", "", "SCHEDULE-CALLOUT-ERROR D4"),
        ("A9,5,5,11963,1,", "11963", ""), (",,,M8 THRU,,", "M8 THRU", "SCHEDULE-ROW-CONTINUES D4"),
        ("A9,abc,5,M6,1,", "M6", "SCHEDULE-PLACE-UNREADABLE B4"), ("A9,5,,M6,1,", "M6", "SCHEDULE-PLACE-INCOMPLETE D4"),
        ("A9,5,5,M6,2.5,", "M6", "SCHEDULE-QUANTITY-UNREADABLE E4"),
        ("A9,5,5,M6,some,", "M6", "SCHEDULE-QUANTITY-UNREADABLE E4"),
        ("A9,5,5,M6,0,", "M6", "SCHEDULE-QUANTITY-UNREADABLE E4"), ('A9,5,5,"M6\nTHRU",1,', "M6\nTHRU", ""),
    ],
)  # fmt: skip
def test_rows_that_name_a_hole_with_something_to_ask(tmp_path: Path, line: str, callout: str, code: str) -> None:
    """Dittos, dashes and TYP are the callout's business: they are handed on as written."""
    schedule, notes = read(text_file(tmp_path, f"{TABLE}A1,1,2,M6,1,\n{line}\nA2,1,3,M6,1,\n"))
    assert callouts(schedule) == ["M6", callout, "M6"]
    assert codes(notes) == ([code] if code else [])
    for note in notes[1:]:
        assert note.severity is (Severity.REFUSED if "-CALLOUT-" in note.code else Severity.ASK)
        assert note.message.endswith((".", "?"))
        assert note.suggestion
        if note.severity is Severity.REFUSED:
            assert note.ref == schedule.rows[1].ref


def test_an_empty_callout_proposes_the_one_above(tmp_path: Path) -> None:
    _, notes = read(text_file(tmp_path, f"{TABLE}A1,1,2,M6-6H ↧12,1,\nA2,1,3,,1,\nA3,1,4,,1,\n"))
    assert [note.suggestion for note in notes[1:]] == ["If it is the same as above ('M6-6H ↧12'), write it there."] * 2


def test_rows_of_callouts_alone_are_holes(tmp_path: Path) -> None:
    schedule, notes = read(text_file(tmp_path, "CALLOUT\nM6-6H THRU\n\nØ8 H7 ↧12\n"))
    assert callouts(schedule) == ["M6-6H THRU", "Ø8 H7 ↧12"]
    assert codes(notes) == ["SCHEDULE-UNIT-UNSTATED A1"]


@pytest.mark.parametrize(
    ("tag", "stated", "quantity", "code"),
    [
        ("A1-A12", "", 12, ""), ('"B1, B3"', "", 2, ""), ("A1-A4", "4", 4, ""), ("A1-A4", "5", 5, ""), ("A1", "", None, ""),
        ("A1-8", "", 8, "SCHEDULE-TAG-RANGE A3"), ("1-4", "", 4, "SCHEDULE-TAG-RANGE A3"), ("1-4", "1", 1, ""),
        ("A", "4X", 4, ""),
    ],
)  # fmt: skip
def test_quantities_of_tags(tmp_path: Path, tag: str, stated: str, quantity: int | None, code: str) -> None:
    schedule, notes = read(text_file(tmp_path, f"{TABLE}{tag},,,M6,{stated},\n"))
    assert schedule.rows[0].quantity == quantity
    assert codes(notes) == ([code] if code else [])


def test_a_groups_count_in_each_of_its_rows_is_asked(tmp_path: Path) -> None:
    lines = "".join(f"A{n},{n},2,M6,3,\n" for n in (1, 2, 3)) + "B1,9,9,M8,2,\nB2,8,8,M8,2,\nC1,7,7,M5,4,\n"
    schedule, notes = read(text_file(tmp_path, TABLE + lines))
    assert [row.quantity for row in schedule.rows] == [1, 1, 1, 1, 1, 4]
    assert codes(notes) == [f"SCHEDULE-QUANTITY-ROWS E{row}" for row in (3, 4, 5, 6, 7)]


@pytest.mark.parametrize(
    ("lines", "asked"),
    [
        ("A,,,M6,4,\nB,,,M8,2,\nTOTAL,,,,6,\n", False), ("A,,,M6,4,\nB,,,M8,2,\nTOTAL,,,,7,\n", True),
        ("A1,1,1,M6,,\nA2,2,2,M6,,\n,,,TOTAL 3,,\n", True), ("A,,,4X M6,,\nTOTAL,,,,4,\n", False),
        ("A,,,M6,4,\nTOTAL,,,,,\n", False),
    ],
)  # fmt: skip
def test_totals(tmp_path: Path, lines: str, asked: bool) -> None:
    """A total is compared where the rows themselves say how many holes they are."""
    _, notes = read(text_file(tmp_path, TABLE + lines))
    assert [note.code for note in notes[1:]] == (["SCHEDULE-TOTAL-DISAGREES"] if asked else [])


def test_decimal_commas_are_settled_by_the_table(tmp_path: Path) -> None:
    text = 'Units,mm\nTAG,X,Y,CALLOUT\nA1,"1,250",5,M6\nA2,{},5,M6\n'
    schedule, notes = read(text_file(tmp_path, text.format('"12,5"')))
    assert [row.x_mm for row in schedule.rows] == [1.25, 12.5]
    assert codes(notes) == []
    schedule, notes = read(text_file(tmp_path, text.format("12.5")))
    assert [row.x_mm for row in schedule.rows] == [1250.0, 12.5]
    schedule, notes = read(text_file(tmp_path, text.format("12")))
    assert [row.x_mm for row in schedule.rows] == [None, 12.0]
    assert codes(notes) == ["SCHEDULE-PLACE-UNREADABLE B3"]


def test_rows_own_material_thickness_and_remarks(tmp_path: Path) -> None:
    rows = "A,M6,316L,0.5,a,1.5,b\nB,M6,,12 mm,,,\nC,M6,,thin,,,\n"
    text = f"Material,6061\nUnits,inch\nTAG,CALLOUT,MATL,THK,NOTE,Z,NOTES\n{rows}"
    schedule, notes = read(text_file(tmp_path, text))
    assert [(row.material, row.thickness_mm, row.note) for row in schedule.rows] == [
        ("316L", 12.7, "a; Z: 1.5; b"), ("", 12.0, ""), ("", None, "")
    ]  # fmt: skip
    assert codes(notes) == ["SCHEDULE-THICKNESS-UNREADABLE D6"]


@pytest.mark.parametrize(
    ("header", "line", "callout"),
    [
        ("DIA,DEPTH,THREAD,DEPTH", "6.8,20,M8x1.25-6H,15", "Ø6.8 ↧20 M8x1.25-6H ↧15"),
        ("DIA,DEPTH,THREAD,THREAD DEPTH", "6.8,20,M8x1.25-6H,15", "Ø6.8 ↧20 M8x1.25-6H ↧15"),
        ("THREAD,DRILL,THREAD DEPTH,DRILL DEPTH", "M8,6.8,15,20", "M8 ↧15 Ø6.8 ↧20"),
        ("DIA,DEPTH,CBORE DIA,CBORE DEPTH", "6.6,THRU,11,6.5", "Ø6.6 THRU ⌴ Ø11 ↧6.5"),
        ("DIA,FIT,DEPTH", "8,H7,16", "Ø8 H7 ↧16"),
        ("DIA,DEPTH,CSK DIA,CSK ANGLE", "Ø5.5,THRU,10.4,90", "Ø5.5 THRU ⌵ Ø10.4 x 90°"),
        ("DIA,DEPTH,CSK", "5.5,THRU,-", "Ø5.5 THRU"),
        ("DIA,CBORE", "6.6,Ø11 ↧6.5", "Ø6.6 ⌴ Ø11 ↧6.5"),
        ("SIZE,DEPTH", "M6,12", "M6 ↧12"),
        ("SIZE,DEPTH", "M6,THRU", "M6 THRU"),
        ("SIZE,DEPTH", "M6 ↧12,12", "M6 ↧12"),
        ("SIZE,SIDE", "M6 THRU,FAR SIDE", "M6 THRU FAR SIDE"),
        ("SIZE,SIDE", "M6 THRU,A", "M6 THRU"),
        ("SIZE,DESCRIPTION", "M6,TAP 15 DEEP", "M6 TAP 15 DEEP"),
        ("SIZE,DESCRIPTION", "M6 THRU,cover", "M6 THRU"),
        ("CALLOUT,DESCRIPTION", "M6 THRU,for M6 screws", "M6 THRU"),
        ("Gewinde,Tiefe", "M6,12", "M6 ↧12"),
        ("Ø,Tiefe", '"8,5",12', "Ø8,5 ↧12"),
        ("DIA,DEPTH (in)", "8,0.5", "Ø8 ↧0.5 in"),
        ("DRILL DIA", "1/4", "Ø1/4"),
        ("DIA", "8 H7", "Ø8 H7"),
        ("DIA", "#7", "#7 DRILL"),
        ("Drill,Drill depth", "F,1.00", "F DRILL ↧1.00"),
        ("Drill,Drill depth", "No. 29,.62", "#29 DRILL ↧.62"),
    ],
)
def test_callouts_over_several_columns(tmp_path: Path, header: str, line: str, callout: str) -> None:
    schedule, notes = read(text_file(tmp_path, f"Units,mm\nTAG,QTY,{header}\nA,4,{line}\n"))
    assert callouts(schedule) == [callout]
    assert schedule.rows[0].ref.cell == "C3"
    assert not [code for code in codes(notes) if "UNIT" not in code]


def test_numbers_in_parts_are_no_dates(tmp_path: Path) -> None:
    schedule, _ = read(xlsx_file(tmp_path, [("Units", "mm"), ("TAG", "DIA", "DEPTH"), ("A", 8.5, 12)]))
    assert callouts(schedule) == ["Ø8.5 ↧12"]


def test_a_depth_column_that_contradicts_the_callout(tmp_path: Path) -> None:
    schedule, notes = read(text_file(tmp_path, "Units,mm\nTAG,CALLOUT,DEPTH\nA,M6 ↧12,15\nB,M6 THRU,15\n"))
    assert callouts(schedule) == ["M6 ↧12", "M6 THRU"]
    assert codes(notes) == ["SCHEDULE-DEPTH-DISAGREES B3", "SCHEDULE-DEPTH-DISAGREES B4"]


def test_a_damaged_part_refuses_the_row(tmp_path: Path) -> None:
    schedule, notes = read(text_file(tmp_path, "Units,mm\nTAG,DIA,THREAD\nA,6.8,Oct-32\n"))
    assert callouts(schedule) == [""]
    assert codes(notes) == ["SCHEDULE-CALLOUT-DATE C3"]
    assert schedule.rows[0].ref.cell == "C3"


def test_a_drawing_systems_own_codes_are_replaced(tmp_path: Path) -> None:
    symbols = (("<DIA>", "Ø"), ("<DEPTH>", "↧"))
    schedule, _ = read(text_file(tmp_path, f"{TABLE}A,1,2,<DIA>8 <DEPTH>12,1,\nB1-B2,1,2,<DIA>8,,\n"), symbols=symbols)
    assert callouts(schedule) == ["Ø8 ↧12", "Ø8"]


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("", "blank"), ("\u200b", "blank"), ("-", "dash"), ("n/a", "dash"), ('"', "ditto"), ("DO.", "ditto"),
        ("TOTAL 64", "total"),
        ("計", "total"), ("計測", ""), ("Deleted - see note 4", "deleted"), ("DELETED (REV C)", "deleted"),
        ("Removed burrs", ""),
        ("NOTES", "note"), ("1. BREAK ALL EDGES", "note"), ("4. M6", ""), ("VIEW A-A", "title"), ("M6x1", ""), ("Ø8", ""),
        ("END MILL", "note"), ("Ende", "note"), ("Origin", "origin"), ("A1", ""), ("Gesamt: 4", "total"),
    ],
)  # fmt: skip
def test_kinds(text: str, kind: str) -> None:
    assert kind_of(text) == kind


def test_units_rows_and_tags() -> None:
    assert is_units_row(["mm", "(mm)"])
    assert not is_units_row(["mm", "M6"])
    assert not is_units_row([])
    assert looks_like_tag("A12")
    assert looks_like_tag("A1, A2, A3")
    assert not looks_like_tag("Tolerances as agreed")


def test_a_tag_stored_as_a_number(tmp_path: Path) -> None:
    schedule, _ = read(xlsx_file(tmp_path, [("Units", "mm"), HEADER, (1, 1, 2, "M6", 1, None), (2.5, 1, 3, "M6", 1, 7)]))
    assert [(row.tag, row.note) for row in schedule.rows] == [("1", ""), ("2.5", "7")]


def test_a_total_is_that_of_its_group_or_of_all_rows(tmp_path: Path) -> None:
    text = "Units,mm\nTAG,CALLOUT,QTY\nA,M6,4\nSUBTOTAL,,{}\nB,M8,2\nSUBTOTAL,,{}\nTOTAL,,{}\n"
    _, notes = read(text_file(tmp_path, text.format(4, 2, 6)))
    assert codes(notes) == []
    _, notes = read(text_file(tmp_path, text.format(4, 6, 6)))
    assert codes(notes) == []
    _, notes = read(text_file(tmp_path, text.format(5, 2, 2)))
    assert codes(notes) == ["SCHEDULE-TOTAL-DISAGREES C4", "SCHEDULE-TOTAL-DISAGREES C7"]


def test_a_tag_with_two_callouts_is_asked_once_a_row(tmp_path: Path) -> None:
    text = "Units,mm\nTAG,CALLOUT\nA1-A4,M6\nA3-A6,M8\nA5,m8\nB,M5\nB,M4\n1-4,M3\nC1,M3\nC1,ditto\n"
    _, notes = read(text_file(tmp_path, text))
    assert codes(notes) == ["SCHEDULE-TAG-RANGE A8", "SCHEDULE-TAG-TWICE A4"]
    assert "'A3' has another callout in B3 ('M6')" in notes[-1].message


def test_notes_that_ask_for_a_hole_are_named(tmp_path: Path) -> None:
    said = ("4X M8 FROM FAR SIDE", "Ø8 THRU ALL", "BREAK EDGES 0.3 X 45", "CLASS 6H")
    text = "Units,mm\nTAG,CALLOUT\nA,M6\n" + "".join(f"NOTE: {note}\n" for note in said)
    schedule, notes = read(text_file(tmp_path, text))
    assert [entry.why for entry in schedule.set_aside] == ["note"] * 4
    assert codes(notes) == ["SCHEDULE-NOTE-SPEAKS-OF-HOLES B4", "SCHEDULE-NOTE-SPEAKS-OF-HOLES B5"]


@pytest.mark.parametrize("title", ["Units,cm", "ALL DIMENSIONS ARE IN CENTIMETERS", "Units: feet", "単位：センチ"])
def test_a_unit_that_is_not_read_is_asked_about(tmp_path: Path, title: str) -> None:
    _, notes = read(text_file(tmp_path, f"{title}\nTAG,CALLOUT\nA,M6\n"))
    assert "SCHEDULE-UNIT-UNREADABLE" in " ".join(codes(notes))
    _, notes = read(text_file(tmp_path, f"{title}\nTAG,CALLOUT\nA,M6\n"), unit="mm")
    assert codes(notes) == []


def test_columns_on_both_sides_of_the_known_ones_are_named(tmp_path: Path) -> None:
    _, notes = read(text_file(tmp_path, "Units,mm\nCUSTOM,TAG,CALLOUT,CLASH,ZONE\nfoo,A,M6,bar,B4\n"))
    assert notes[0].message.endswith("Not read: CUSTOM, CLASH, ZONE.")


def test_texts_in_a_column_without_a_heading_are_named(tmp_path: Path) -> None:
    text = "Units,mm\nTAG,CALLOUT,,QTY,\nA,M6,SEE SKETCH,2,\nB,M8,,1,REAM Ø9\n"
    _, notes = read(text_file(tmp_path, text))
    assert codes(notes) == ["SCHEDULE-COLUMN-UNHEADED C3", "SCHEDULE-COLUMN-UNHEADED E4"]
    assert [note.severity for note in notes[1:]] == [Severity.WATCH, Severity.ASK]
    assert "'REAM Ø9'" in notes[2].message


@pytest.mark.parametrize("tag", ["NB", "VIEW", "NOTE", "Detail", "Nota"])
def test_a_row_with_a_hole_and_a_number_of_holes_is_no_note(tag: str, tmp_path: Path) -> None:
    path = tmp_path / "holes.csv"
    path.write_text(f"TAG,CALLOUT,QTY\nNA,M8 THRU,2\n{tag},M8 THRU,2\nNC,M6 THRU,2\n", encoding="utf-8")
    schedule, _ = read(path)
    assert [row.quantity for row in schedule.rows] == [2, 2, 2]


def test_the_tag_nb_names_a_hole_where_no_number_stands(tmp_path: Path) -> None:
    path = tmp_path / "holes.csv"
    path.write_text("TAG,CALLOUT,REMARK\nNA,M8 THRU,\nNB,M8 THRU,\nNB,see the drawing,\n", encoding="utf-8")
    schedule, _ = read(path)
    assert [row.tag for row in schedule.rows] == ["NA", "NB"]
