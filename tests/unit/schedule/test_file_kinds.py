"""Files that are no schedules: each is named with what it is and what is read instead, and costs the others nothing."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import pytest
from written_files import read, text_file

from holesched.cli import main
from holesched.errors import CannotRead

TABLE = "Material,6061-T6\nUnits,mm\nTAG,CALLOUT\nA,M6-6H THRU\n"
MANIFEST = b"<manifest><file-entry full-path='content.xml'><encryption-data/></file-entry></manifest>"


def archive(**parts: bytes) -> bytes:
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w") as packed:
        for name, data in parts.items():
            packed.writestr(name.replace("__", "/").replace("_dot_", "."), data)
    return written.getvalue()


FOREIGN = {
    "shop.toml": (b"[machine]\nname = 'TAG, CALLOUT'\n", "a .toml file is no schedule. Give a workbook .* with --shop."),
    "data.json": (b'[{"TAG": "A", "CALLOUT": "M6"}]', "a .json file is no schedule. Give a workbook"),
    "notes.md": (b"TAG | CALLOUT\nA | M6\n", "a .md file is no schedule. Give a workbook"),
    "part.dxf": (b"  0\nSECTION\n", "a .dxf file is no schedule. Give a workbook"),
    "drawing.csv": (b"%PDF-1.7\n", "it is a PDF document, not a schedule. Give a workbook"),
    "scan.xlsx": (b"II*\0", "it is a picture, not a schedule. Give a workbook"),
    "all.rar": (b"Rar!\x1a\x07", "it is a packed file, not a schedule. Give a workbook"),
    "all.zip": (archive(a_dot_csv=b"x"), "it is a packed file, not a workbook. Unpack it"),
    "table.docx": (archive(word__document_dot_xml=b"<a/>"), "it is a text document, not a schedule. Give a workbook"),
    "table.numbers": (archive(Index__Document_dot_iwa=b"x"), r"it is a .numbers document, .* Export it as .xlsx or .csv"),
    "table.xlsb": (archive(xl__workbook_dot_bin=b"x"), r"a binary workbook \(.xlsb\), .* Save it as .xlsx"),
    "letter.odt": (archive(content_dot_xml=b"<office:text/>"), "it is an OpenDocument file, but no workbook. Give a"),
    "secret.ods": (archive(content_dot_xml=b"\1\2", **{"META-INF__manifest_dot_xml": MANIFEST}), "protected by a password"),
    "sealed.ods": (archive(**{"encrypted-package": b"\1\2"}), "protected by a password"),
    "empty.csv": (b"", "it is empty. Give a workbook"),
}


@pytest.mark.parametrize("name", FOREIGN)
def test_foreign_files(tmp_path: Path, name: str) -> None:
    data, says = FOREIGN[name]
    (tmp_path / name).write_bytes(data)
    with pytest.raises(CannotRead, match=f"^{name}: .*{says}"):
        read(tmp_path / name)


@pytest.mark.parametrize("name", ["table.txt", "table.TAB", "table", "table.xls", "table.prn"])
def test_names_under_which_separated_texts_are_exported(tmp_path: Path, name: str) -> None:
    schedule, _ = read(text_file(tmp_path, TABLE.replace(",", "\t"), name=name))
    assert [row.callout for row in schedule.rows] == ["M6-6H THRU"]


def test_the_others_are_done(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A picture, a shop file, a folder without schedules and a missing file among two schedules."""
    first, last = text_file(tmp_path, TABLE, name="a.csv"), text_file(tmp_path, TABLE, name="z.csv")
    (tmp_path / "picture.png").write_bytes(b"\x89PNG\r\n")
    (tmp_path / "shop.toml").write_bytes(b"")
    (tmp_path / "empty").mkdir()
    given = [first, tmp_path / "picture.png", tmp_path / "shop.toml", tmp_path / "empty", tmp_path / "gone.csv", last]
    out = tmp_path / "out"
    assert main(["sheet", *map(str, given), "--format", "json", "--out", str(out)]) == 2
    said = capsys.readouterr().err.splitlines()
    assert [line.split(": ")[1] for line in said] == ["picture.png", "shop.toml", "empty", str(tmp_path / "gone.csv")]
    assert sorted(path.name for path in out.iterdir()) == ["a", "z"]
    assert main(["check", *map(str, given)]) == 2


def test_nothing_read_is_nothing_more_to_say(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(tmp_path / "gone.csv")]) == 2
    assert capsys.readouterr().out == ""
