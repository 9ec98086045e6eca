"""Tables wherever they stand, headers in eleven languages, title blocks in any order, units stated or asked."""

from __future__ import annotations

from pathlib import Path

import pytest
from written_files import callouts, codes, read, text_file, xlsx_file

from holesched.errors import CannotRead
from holesched.notes import Severity
from holesched.schedule.columns import heading, key, unit_word
from holesched.schedule.model import Schedule
from holesched.tables import table


def holes(schedule: Schedule) -> list[tuple[object, ...]]:
    return [(row.ref.cell, row.tag, row.callout, row.quantity, row.x_mm, row.y_mm) for row in schedule.rows]


@pytest.mark.parametrize(
    "header",
    [
        "TAG,X,Y,CALLOUT,QTY,REMARKS",
        "Hole No.,X LOC,Y LOC,Hole Size,No. Req'd,Comments",
        "SYM,X-DIM,Y-DIM,SPEC,QUAN,NOTE",
        "LABEL,XLOC,YLOC,DESCRIPTION,NO OFF,NOTES",
        "Pos.,X-Maß,Y-Maß,Bohrung,Anzahl,Bemerkung",
        "Bez.,X,Y,Maß,Stk.,Hinweis",
        "Rep.,Cote X,Cote Y,Désignation,Qté,Remarques",
        "N°,X,Y,Perçage,Nb,Observations",
        "Pos.,Coordenada X,Coordenada Y,Descripción,Cant.,Observaciones",
        "Sigla,Quota X,Quota Y,Foro,Q.tà,Note",
        "記号,X座標,Y座標,加工,個数,備考",
        "番号,X,Y,寸法,数量,注記",
        "Furo,Coordenada X,Coordenada Y,Descrição,Qtde,Observações",
        "Hål,X,Y,Beskrivning,Antal,Anmärkning",
        "Nr otworu,X,Y,Opis,Ilość,Uwagi",
        "Обозначение,X,Y,Размер,Кол-во,Примечание",
        "孔号,X坐标,Y坐标,规格,数量,备注",
    ],
)
def test_header_words(tmp_path: Path, header: str) -> None:
    """Header words of eleven languages: common practice, no source."""
    schedule, _ = read(text_file(tmp_path, f"{header}\nA1,10,20,M6-6H THRU,2,abc\n"), unit="mm")
    assert holes(schedule) == [("D2", "A1", "M6-6H THRU", 2, 10.0, 20.0)]
    assert schedule.rows[0].note == "abc"


@pytest.mark.parametrize("word", ["Total geral", "Summa", "Razem", "Итого", "合计", "总数"])
def test_a_row_of_the_total_is_no_hole(tmp_path: Path, word: str) -> None:
    """Words for a total: common practice, no source."""
    schedule, _ = read(text_file(tmp_path, f"Tag,X,Y,Callout,Qty\nA1,10,20,M6-6H THRU,1\n{word},,,,1\n"), unit="mm")
    assert [row.tag for row in schedule.rows] == ["A1"]
    assert len(schedule.set_aside) == 1


def test_every_word_of_the_table_is_understood() -> None:
    for row in table("header_words.csv").rows:
        for word in row["words"].split("|"):
            found = heading(word)
            assert found is not None, word
            assert row["field"] in [field for _, field in found.choices]
            with_unit = heading(f"{word} (in)")
            assert with_unit is not None
            assert with_unit.unit == "in"
    assert not any(c.isdigit() for row in table("header_words.csv").rows for c in row["words"])


def test_words_of_one_table_name_no_field_twice() -> None:
    for name in ("header_words.csv", "title_words.csv", "row_words.csv"):
        rows = table(name).rows
        first = next(iter(rows[0]))
        for row in rows:
            words = [key(word) for word in row["words"].split("|")]
            assert all(words), row
            assert len(set(words)) == len(words), row
            assert row[first]


@pytest.mark.parametrize(
    ("text", "unit"),
    [("mm", "mm"), ("(in)", "in"), ("[mm]", "mm"), ("Inches", "in"), ('"', "in"), ("cm", None), ("min", None)],
)
def test_unit_words(text: str, unit: str | None) -> None:
    assert unit_word(text) == unit


def test_own_header_words_go_first(tmp_path: Path) -> None:
    text = "K1,POSX,POSY,FEATURE SPEC 2,COUNT3,TAG\nA1,10,20,M6-6H THRU,2,red\n"
    own = (
        ("K1", "tag"),
        ("posx", "x"),
        ("POSY", "y"),
        ("Feature spec 2", "callout"),
        ("count3", "quantity"),
        ("TAG", "note"),
    )
    schedule, _ = read(text_file(tmp_path, text), columns=own, unit="mm")
    assert holes(schedule) == [("D2", "A1", "M6-6H THRU", 2, 10.0, 20.0)]
    assert schedule.rows[0].note == "red"


def test_columns_that_are_not_read_are_named(tmp_path: Path) -> None:
    _, notes = read(text_file(tmp_path, "TAG,ZONE,X,Y,CALLOUT,CLASH\nA1,B4,1,2,M6,none\n"), unit="mm")
    assert notes[0].severity is Severity.WATCH
    assert notes[0].message.endswith("Not read: ZONE, CLASH.")


TITLES = {
    "label and value beside it": "Part No,INV-7,,Rev,B\nMaterial,6061-T6,,Thickness,40\nUnits,mm,,Lot size,25\n",
    "label: value in one cell": "Part No: INV-7,,REV: B\nMATERIAL: 6061-T6,THICKNESS: 40 mm\nUNITS: mm,Lot = 25\n",
    "values below": "Part No,Rev,Material,Thickness,Units,Lot\nINV-7,B,6061-T6,40 mm,mm,25\n\n",
    "German": "Teile-Nr.,INV-7,,Index,B\nWerkstoff,6061-T6,,Dicke,40 mm\nEinheit,mm,,Losgröße,25\n",
    "French": "Référence pièce,INV-7,,Indice,B\nMatière,6061-T6,,Épaisseur,40 mm\nUnité,mm,,Quantité,25\n",
    "Spanish": "N.º pieza,INV-7,,Revisión,B\nMaterial,6061-T6,,Espesor,40 mm\nUnidades,mm,,Lote,25\n",
    "Italian": "Codice,INV-7,,Revisione,B\nMateriale,6061-T6,,Spessore,40 mm\nUnità,mm,,Lotto,25\n",
    "Japanese": "品番,INV-7,,改訂,B\n材質,6061-T6,,板厚,40 mm\n単位,mm,,ロット,25\n",
    "gaps and another order": "Units,,,mm\n,,Rev,,B\nLot,,25,Thickness,,40\nMaterial,,6061-T6,Part No,,INV-7\n",
}


@pytest.mark.parametrize("title", TITLES.values(), ids=TITLES)
def test_title_blocks(tmp_path: Path, title: str) -> None:
    schedule, notes = read(text_file(tmp_path, f"{title}\nTAG,X,Y,CALLOUT\nA1,1,2,M6\n"))
    header = schedule.header
    assert (header.part_number, header.revision, header.material, header.thickness_mm, header.unit, header.lot) == (
        "INV-7", "B", "6061-T6", 40.0, "mm", 25,
    )  # fmt: skip
    assert header.unit_stated
    assert codes(notes) == []
    assert schedule.rows_read == 1


def test_title_block_below_and_beside_the_table(tmp_path: Path) -> None:
    text = (
        "TAG,X,Y,CALLOUT,,Part No,INV-7\nA1,1,2,M6,,Rev,B\nA2,1,3,M6,,Units,inch\n,,,,,,\n"
        "Material: 6061-T6,,,\nThickness,1 1/4,,\nDrawn by: A. Body,,,\n"
    )
    schedule, notes = read(text_file(tmp_path, text))
    header = schedule.header
    assert (header.part_number, header.revision, header.material, header.thickness_mm) == ("INV-7", "B", "6061-T6", 31.75)
    assert str(header.material_ref) == "table.csv!table!A5"
    assert str(header.thickness_ref) == "table.csv!table!B6"
    assert [row.tag for row in schedule.rows] == ["A1", "A2"]
    assert [entry.why for entry in schedule.set_aside] == ["blank", "title", "title", "note"]
    assert codes(notes) == []


def test_further_entries_are_kept_as_written(tmp_path: Path) -> None:
    schedule, _ = read(
        text_file(tmp_path, "Customer: An invented one,Heat treatment: none\nLot: some\nTAG,CALLOUT\nA,M6\n"), unit="mm"
    )
    assert schedule.header.other == (("Customer", "An invented one"), ("Heat treatment", "none"), ("Lot", "some"))


def test_what_the_caller_knows_better(tmp_path: Path) -> None:
    text = "Material,6061-T6,,Thickness,40\nUnits,inch\nTAG,X,Y,CALLOUT\nA1,1,2,M6\n"
    schedule, notes = read(text_file(tmp_path, text), unit="mm", material="316L", thickness_mm=12.0)
    header = schedule.header
    assert (header.material, header.thickness_mm, header.unit, header.unit_stated) == ("316L", 12.0, "mm", True)
    assert (header.material_ref, header.thickness_ref) == (None, None)
    assert schedule.rows[0].x_mm == 1.0
    assert codes(notes) == [
        "SCHEDULE-UNIT-OVERRIDDEN D3",
        "SCHEDULE-MATERIAL-OVERRIDDEN B1",
        "SCHEDULE-THICKNESS-OVERRIDDEN E1",
    ]
    assert {note.severity for note in notes[1:]} == {Severity.WATCH}


def test_thickness_that_cannot_be_read(tmp_path: Path) -> None:
    schedule, notes = read(text_file(tmp_path, "Thickness,see model\nUnits,mm\nTAG,CALLOUT\nA,M6\n"))
    assert schedule.header.thickness_mm is None
    assert codes(notes) == ["SCHEDULE-THICKNESS-UNREADABLE B1"]


@pytest.mark.parametrize(
    ("text", "x_mm", "unit"),
    [
        ("TAG,X (in),Y (in),CALLOUT\nA,1,2,M6", 25.4, "in"),
        ("TAG,X [mm],Y [mm],CALLOUT\nA,1,2,M6", 1.0, "mm"),
        ("TAG,X in inches,Y in inches,CALLOUT\nA,1,2,M6", 25.4, "in"),
        ("TAG,X,Y,CALLOUT\n,mm,mm,\nA,1,2,M6", 1.0, "mm"),
        ("TAG,X,Y,CALLOUT\n,(in),(in),\nA,1,2,M6", 25.4, "in"),
        ("UNLESS OTHERWISE SPECIFIED DIMENSIONS ARE IN INCHES\nTAG,X,Y,CALLOUT\nA,1,2,M6", 25.4, "in"),
        ("Alle Maße in mm\nTAG,X,Y,CALLOUT\nA,1,2,M6", 1.0, "mm"),
        ("単位：mm\nTAG,X,Y,CALLOUT\nA,1,2,M6", 1.0, "mm"),
        ("TAG,X,Y,CALLOUT\nA,1 in,2 in,M6\nUnits: mm", 25.4, "mm"),
    ],
)
def test_stated_units(tmp_path: Path, text: str, x_mm: float, unit: str) -> None:
    schedule, notes = read(text_file(tmp_path, text + "\n"))
    assert schedule.rows[0].x_mm == x_mm
    assert schedule.rows[0].unit == unit
    assert schedule.header.unit_stated
    assert codes(notes) == []


@pytest.mark.parametrize(
    ("sizes", "unit", "severity"),
    [
        (["M6", "Ø8 H7"], "mm", Severity.WATCH),
        (["Ø10,2 THRU"], "mm", Severity.WATCH),
        (["1/4-20 UNC-2B", "Ø.250 THRU"], "in", Severity.WATCH),
        (["#10-32", "Ø3/8"], "in", Severity.WATCH),
        (["10-32"], "in", Severity.WATCH),
        (["Ø8 THRU"], "mm", Severity.ASK),
        (["G 1/4", "Ø8"], "mm", Severity.ASK),
        (["M6", "1/4-20 UNC", "1/4 NPT"], "mm", Severity.ASK),
        (["M6", "1/4-20 UNC", "#10-32"], "in", Severity.ASK),
    ],
)
def test_unstated_units(tmp_path: Path, sizes: list[str], unit: str, severity: Severity) -> None:
    lines = "".join(f'A{n};1;2;"{size}"\n' for n, size in enumerate(sizes))
    schedule, notes = read(text_file(tmp_path, "TAG;X;Y;CALLOUT\n" + lines))
    assert (schedule.header.unit, schedule.header.unit_stated) == (unit, False)
    assert codes(notes) == ["SCHEDULE-UNIT-UNSTATED D1"]
    assert notes[1].severity is severity


def test_units_that_disagree(tmp_path: Path) -> None:
    schedule, notes = read(text_file(tmp_path, "Units,mm\nTAG,X (in),Y (in),CALLOUT\nA,1,2,M6\n"))
    assert schedule.rows[0].x_mm == 25.4
    assert schedule.rows[0].unit == "mm"
    assert codes(notes) == ["SCHEDULE-UNIT-DISAGREES D2"]


def test_two_tables_side_by_side(tmp_path: Path) -> None:
    text = "Units,mm\nTAG,X,Y,SIZE,,TAG,X,Y,SIZE\nA1,1,2,M6,,B1,3,4,M8\nA2,1,3,M6,,,,,\nA3,1,4,M6,,B2,3,5,M8\n"
    schedule, notes = read(text_file(tmp_path, text))
    assert holes(schedule) == [
        ("D3", "A1", "M6", None, 1.0, 2.0), ("D4", "A2", "M6", None, 1.0, 3.0), ("D5", "A3", "M6", None, 1.0, 4.0),
        ("I3", "B1", "M8", None, 3.0, 4.0), ("I5", "B2", "M8", None, 3.0, 5.0),
    ]  # fmt: skip
    assert [entry.ref.cell for entry in schedule.set_aside] == ["I4"]
    assert schedule.rows_read == 6
    assert codes(notes) == []


def test_two_tables_one_below_the_other(tmp_path: Path) -> None:
    text = "Units,mm\nHOLE TABLE - VIEW A\nTAG,X,Y,SIZE\nA1,1,2,M6\n\nHOLE TABLE - VIEW B\nTAG,SIZE,QTY\nB,M8,4\n"
    schedule, notes = read(text_file(tmp_path, text))
    assert holes(schedule) == [("D4", "A1", "M6", None, 1.0, 2.0), ("B8", "B", "M8", 4, None, None)]
    assert [entry.why for entry in schedule.set_aside] == ["blank", "title"]
    assert codes(notes) == []


def test_a_second_table_to_the_right_that_starts_lower(tmp_path: Path) -> None:
    text = "Units,mm\nTAG,X,Y,SIZE\nA1,1,2,M6\nA2,1,3,M6,,TAG,QTY,SIZE\nA3,1,4,M6,,B,4,M8\nA4,1,5,M6\n"
    schedule, _ = read(text_file(tmp_path, text))
    assert [row.tag for row in schedule.rows] == ["A1", "A2", "A3", "A4", "B"]
    assert schedule.rows[-1].quantity == 4


def test_repeated_header(tmp_path: Path) -> None:
    text = "Units,mm\nTAG,X,Y,SIZE\nA1,1,2,M6\nTAG,X,Y,SIZE\nA2,1,3,M6\n"
    schedule, notes = read(text_file(tmp_path, text))
    assert [row.tag for row in schedule.rows] == ["A1", "A2"]
    assert [(entry.why, entry.ref.cell) for entry in schedule.set_aside] == [("header", "D4")]
    assert codes(notes) == []


@pytest.mark.parametrize(
    ("upper", "lower"),
    [
        ("HOLE,LOCATION,,HOLE,", "NO.,X,Y,SIZE,QTY"),
        ("HOLE,X,Y,HOLE,NO.", "NO.,LOC,LOC,SIZE,REQ'D"),
        ("TAG,X,Y,SIZE,QTY", ",mm,mm,,"),
    ],
)
def test_headers_in_two_rows(tmp_path: Path, upper: str, lower: str) -> None:
    schedule, _ = read(text_file(tmp_path, f"Hole table\n{upper}\n{lower}\nA1,1,2,M6,3\n"), unit="mm")
    assert holes(schedule) == [("D4", "A1", "M6", 3, 1.0, 2.0)]


def test_merged_header_over_its_parts(tmp_path: Path) -> None:
    rows = [
        ("TAG", "DRILL", None, "THREAD", None, "QTY"), (None, "DIA", "DEPTH", "SIZE", "DEPTH", None),
        ("A", 6.8, 20, "M8x1.25-6H", 15, 4),
    ]  # fmt: skip
    path = xlsx_file(tmp_path, rows, lambda sheet: (sheet.merge_cells("B1:C1"), sheet.merge_cells("D1:E1")))
    schedule, _ = read(path, unit="mm")
    assert callouts(schedule) == ["Ø6.8 ↧20 M8x1.25-6H ↧15"]
    assert schedule.rows[0].quantity == 4


def test_header_at_the_foot_is_read_upwards(tmp_path: Path) -> None:
    schedule, _ = read(text_file(tmp_path, "A1,1,2,M6\nA2,3,4,M8\nTAG,X,Y,SIZE\n"), unit="mm")
    assert holes(schedule) == [("D2", "A2", "M8", None, 3.0, 4.0), ("D1", "A1", "M6", None, 1.0, 2.0)]


def test_table_on_its_side(tmp_path: Path) -> None:
    text = "Material,6061-T6\nTAG,A1,A2,TOTAL\nX,10,20\nY,5,oops\nSIZE,M6,\nQTY,1,2,3\n"
    schedule, notes = read(text_file(tmp_path, text), unit="mm")
    assert holes(schedule) == [("B5", "A1", "M6", 1, 10.0, 5.0), ("C5", "A2", "", 2, None, None)]
    assert schedule.header.material == "6061-T6"
    assert str(schedule.header.material_ref) == "table.csv!table!B1"
    assert codes(notes) == ["SCHEDULE-CALLOUT-EMPTY C5", "SCHEDULE-PLACE-UNREADABLE C4"]
    assert [(entry.why, entry.ref.cell) for entry in schedule.set_aside] == [("total", "D5")]


def test_places_here_and_sizes_in_a_legend(tmp_path: Path) -> None:
    text = "Units,mm\nTAG,X,Y\nA1,1,2\nA2,3,4\nB1,5,6\nC1,7,8\n\nTAG,SIZE,QTY\nA,M6 THRU,3\nB,M8 THRU,1\nD,M10,2\n"
    schedule, notes = read(text_file(tmp_path, text))
    assert [(row.tag, row.callout) for row in schedule.rows] == [
        ("A1", "M6 THRU"), ("A2", "M6 THRU"), ("B1", "M8 THRU"), ("C1", ""), ("D", "M10")
    ]  # fmt: skip
    assert [(entry.why, entry.text) for entry in schedule.set_aside] == [
        ("note", "A: M6 THRU"), ("note", "B: M8 THRU")
    ]  # fmt: skip
    assert codes(notes) == ["SCHEDULE-CALLOUT-EMPTY A6", "SCHEDULE-LEGEND-COUNT A3"]
    assert schedule.rows_read == 7


def test_polar_places(tmp_path: Path) -> None:
    text = "TAG,RADIUS (in),ANGLE,SIZE\nA1,1,90°,M6\nA2,1,180,M6\n"
    schedule, _ = read(text_file(tmp_path, text))
    assert [(row.x_mm, row.y_mm) for row in schedule.rows] == [(0.0, 25.4), (-25.4, 0.0)]


def test_the_sheet_with_the_fullest_table_is_read_and_the_others_named(tmp_path: Path) -> None:
    def change(sheet: object) -> None:
        book = sheet.parent  # type: ignore[attr-defined]
        book.create_sheet("Cover").append(["Material", "6061"])
        other = book.create_sheet("View B")
        other.append(["TAG", "CALLOUT"])
        other.append(["B", "M8"])

    path = xlsx_file(tmp_path, [("Units", "mm"), ("TAG", "X", "Y", "CALLOUT"), ("A", 1, 2, "M6")], change)
    schedule, notes = read(path)
    assert schedule.sheet == "Holes"
    assert codes(notes) == ["SCHEDULE-SHEET-NOT-READ -", "SCHEDULE-OTHER-TABLE B1"]
    assert "'Cover'" in notes[0].message
    assert notes[1].severity is Severity.ASK
    schedule, _ = read(path, sheet="View B", unit="mm")
    assert callouts(schedule) == ["M8"]
    with pytest.raises(CannotRead, match=r"no sheet 'View C'\. Its sheets are: 'Holes', 'Cover', 'View B'"):
        read(path, sheet="View C")


def test_title_rows_that_look_like_a_header(tmp_path: Path) -> None:
    text = (
        "Part No,Description,Material,Qty\nINV-7,Bracket,6061-T6,25\nUnits,mm\n\nTAG,X,Y,DESCRIPTION,QTY\nA1,1,2,M6 THRU,1\n"
    )
    schedule, notes = read(text_file(tmp_path, text))
    assert holes(schedule) == [("D6", "A1", "M6 THRU", 1, 1.0, 2.0)]
    assert (schedule.header.part_name, schedule.header.material, schedule.header.lot) == ("Bracket", "6061-T6", 25)
    assert codes(notes) == []
