"""Text from a file is data everywhere: no markup, script, formula, address or path in it comes to life."""

from __future__ import annotations

import csv
import io
import json
import re
import subprocess
import sys
import zipfile
from html.parser import HTMLParser
from pathlib import Path

import pytest
from make_corpus import workbook
from pypdf import PdfReader
from pypdf.errors import PyPdfError
from pypdf.generic import IndirectObject

from holesched.cli import main

MARKUP = (
    "<script>alert(1)</script>",
    "<img src=https://example.invalid/x.png onerror=alert(1)>",
    '"><svg onload=alert(1)>',
    "</style><script>x</script>",
    "<link rel=stylesheet href=file:///etc/hostname>",
    "{{ 7 * 7 }}{% include 'head.html.j2' %}",
    "url(https://example.invalid/y.css)",
    "javascript:alert(1)",
    "\\\"}body{background:url('https://example.invalid/z.png')}",
    "&lt;b&gt; & <b>",
)
FORMULAS = (
    "=1+1",
    "+1+1",
    "-1+1",
    "@SUM(1)",
    "\t=1+1",
    "=cmd|' /C calc'!A0",
    '=HYPERLINK("https://example.invalid")',
    "\r=2",
)
PATHS = ("../../x", "/etc/x", "..\\x", "C:\\x", "~/x", "x\x00y")
HEADER = ("TAG", "X", "Y", "CALLOUT", "QTY", "NOTE", MARKUP[0])


def hostile_rows() -> list[tuple[object, ...]]:
    """A schedule whose every text tries something: part, revision, material, tags, callouts, notes, headings."""
    texts = [*MARKUP, *FORMULAS, *(path for path in PATHS if "\x00" not in path)]
    rows: list[tuple[object, ...]] = [
        ("Part number", "../../x<script>", None, "Drawing", "=1+1<b>"),
        ("Part name", MARKUP[1], None, "Rev", MARKUP[2]),
        ("Material", "EN AW-6082", None, "Thickness", "20 mm"),
        ("Units", "mm", None, "Finish", MARKUP[6]),
        (),
        HEADER,
    ]
    for number, text in enumerate(texts):
        rows.append((f"{text}", 20 * number, 20, "M6-6H ↧12", 1, text, text))
        rows.append((f"B{number}", 20 * number, 60, f"M8-6H THRU {text}", 1, "", text))
        rows.append((f"C{number}", 20 * number, 100, text, 1, "", ""))
    return rows


def as_texts(data: bytes) -> bytes:
    """The workbook with its formulas turned into texts: openpyxl takes what begins with = for one."""
    written = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(written, "w") as new:
        for name in old.namelist():
            content = old.read(name)
            if name.startswith("xl/worksheets/"):
                found = re.sub(
                    rb'(<c r="[A-Z]+\d+")[^>]*><f>([^<]*)</f><v ?/?>(?:</v>)?</c>',
                    rb'\1 t="inlineStr"><is><t>=\2</t></is></c>',
                    content,
                )
                assert b"<f>" not in found
                content = found
            new.writestr(name, content)
    return written.getvalue()


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with everything that is made from the hostile schedule, which lies in a folder of its own."""
    folder = tmp_path_factory.mktemp("hostile")
    path = folder / "in" / "plate.xlsx"
    path.parent.mkdir()
    path.write_bytes(as_texts(workbook({"<b>Holes": hostile_rows()})))
    out = folder / "a" / "b" / "out"
    assert main(["sheet", str(path), "--out", str(out)]) == 3
    assert main(["takeoff", str(path), "--lot", "3", "--out", str(out)]) == 3
    assert main(["check", str(path), "--marked", "--letter", "--out", str(out)]) == 3
    assert {entry.name for entry in folder.iterdir()} == {"in", "a"}
    assert {entry.name for entry in (folder / "a").rglob("*") if entry.is_dir()} == {"b", "out", "plate", "takeoff"}
    return out


class Elements(HTMLParser):
    """Every element with its attributes' names, every attribute that holds an address, and the styles."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.names: set[tuple[str, str]] = set()
        self.addresses: list[str] = []
        self.styles: list[str] = []
        self.text = ""
        self.inside = ""
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.inside = tag
        self.names |= {(tag, name) for name, _ in attrs} | {(tag, "")}
        self.addresses += [value or "" for name, value in attrs if name in ("href", "src", "xlink:href", "action", "data")]
        self.styles += [value or "" for name, value in attrs if name == "style"]

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)

    def handle_endtag(self, tag: str) -> None:
        self.inside = ""

    def handle_data(self, data: str) -> None:
        if self.inside == "style":
            self.styles.append(data)
        else:
            self.text += data


def pages(folder: Path) -> list[Path]:
    found = sorted(folder.rglob("*.html"))
    assert len(found) >= 3
    return found


def test_no_markup(hostile: Path) -> None:
    """No element or attribute that our templates do not write; every address is a place in the document itself."""
    for page in pages(hostile):
        elements = Elements(page.read_text(encoding="utf-8"))
        tags = {tag for tag, _ in elements.names}
        assert not tags & {"script", "img", "link", "iframe", "object", "embed", "form", "base", "input"}, page
        assert not [name for name in elements.names if name[1].startswith("on")], page
        assert all(address.startswith("#") for address in elements.addresses), page
        assert "<script>alert(1)</script>" in elements.text, page
    shown = [Elements(page.read_text(encoding="utf-8")).text for page in pages(hostile) if page.name != "takeoff.html"]
    assert all("{{ 7 * 7 }}" in text for text in shown)


def test_no_style(hostile: Path) -> None:
    """No address in a style sheet but the fonts' own data, nothing of the file's text outside a string."""
    for page in pages(hostile):
        for style in Elements(page.read_text(encoding="utf-8")).styles:
            assert "example.invalid" not in style
            assert all(address.startswith(('"data:font', "data:font")) for address in re.findall(r"url\(([^)]*)", style))


def test_no_formula_in_workbooks(hostile: Path) -> None:
    books = sorted(hostile.rglob("*.xlsx"))
    assert sorted(book.name for book in books) == ["plate_questions.xlsx", "takeoff.xlsx", "tool_list.xlsx"]
    for book in books:
        with zipfile.ZipFile(book) as archive:
            for name in archive.namelist():
                content = archive.read(name)
                assert not re.search(rb"<(?:f|hyperlink|externalReference|dataValidation|cfRule)\b", content), (
                    book.name,
                    name,
                )


def test_no_formula_in_separated_texts(hostile: Path) -> None:
    """A spreadsheet computes what begins with = + - @, a tab or a carriage return; a number alone is none."""
    found = list(hostile.rglob("*.csv"))
    assert found
    for path in found:
        for row in csv.reader(io.StringIO(path.read_text(encoding="utf-8-sig"), newline="")):
            for cell in row:
                number = re.fullmatch(r"[+-]?\d+(?:[.,]\d+)?", cell)
                assert not cell.lstrip(" ").startswith(("=", "+", "-", "@", "\t", "\r")) or number, (path.name, cell)


def test_no_action_in_pdfs(hostile: Path) -> None:
    """No link out, script, file or action in any object of a PDF."""
    found = sorted(hostile.rglob("*.pdf"))
    assert len(found) == 3
    for path in found:
        reader = PdfReader(path)
        objects = " ".join(repr(_object(reader, number)) for number in range(1, int(reader.trailer["/Size"])))
        assert "/Font" in objects
        for word in ("/URI", "/JavaScript", "/JS", "/Launch", "/EmbeddedFile", "/GoToR", "/SubmitForm", "/OpenAction"):
            assert word not in objects, (path.name, word)


def _object(reader: PdfReader, number: int) -> object:
    try:
        return reader.get_object(IndirectObject(number, 0, reader))
    except PyPdfError:  # a number that is not used
        return None


def test_sheet_json_holds_the_texts_as_they_are(hostile: Path) -> None:
    job = json.loads((hostile / "plate" / "sheet.json").read_text(encoding="utf-8"))
    assert "../../x<script>" in job["job"].values()


EXPECTED = r"\('(?:data:font/woff2;base64,|(?:[\w/]*/)?(?:ldconfig|gcc|cc|ld)')"
"""The fonts inside the document, and the question to the linker where the Pango library is."""
WATCHED = """
import os, sys
from pathlib import Path
seen = []
def watch(event, arguments):
    if event == "open":
        path, mode, flags = arguments
        writes = flags & (os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC) if isinstance(flags, int) else 0
        seen.append(("write" if writes else "read", str(path)))
    elif event.startswith(("socket.", "urllib.", "http.", "ftplib.", "subprocess.", "os.system", "os.exec", "os.posix")):
        seen.append((event, repr(arguments)))
    elif event in ("os.rename", "os.mkdir", "os.link", "os.symlink", "shutil.copyfile"):
        seen.append((event, str(arguments[1] if event != "os.mkdir" else arguments[0])))
sys.addaudithook(watch)
from holesched.cli import main
status = main(sys.argv[1:])
print("WATCHED", status)
for what, where in seen:
    print(what, where, sep="\\t")
"""


@pytest.mark.parametrize("command", [["sheet"], ["takeoff"], ["check", "--marked", "--letter"]], ids=lambda words: words[0])
def test_nothing_is_fetched_and_nothing_written_elsewhere(hostile: Path, tmp_path: Path, command: list[str]) -> None:
    """By Python's own audit events: no socket, no program, nothing written outside --out but temporary files."""
    source = hostile.parents[2] / "in" / "plate.xlsx"
    out, temporary = tmp_path / "out", tmp_path / "temporary"
    temporary.mkdir()
    arguments = [command[0], str(source), *command[1:], "--out", str(out)]
    run = subprocess.run(
        [sys.executable, "-B", "-c", WATCHED, *arguments],
        capture_output=True,
        text=True,
        check=False,
        env={"PATH": "", "TMPDIR": str(temporary), "HOME": str(tmp_path), "PYTHONPATH": ":".join(sys.path)},
    )
    assert "WATCHED 3" in run.stdout, run.stderr
    events = [line.split("\t", 1) for line in run.stdout.partition("WATCHED 3\n")[2].splitlines() if "\t" in line]
    reads = [where for what, where in events if what == "read"]
    assert any(where.endswith("plate.xlsx") for where in reads)
    assert not [where for where in reads if "hostname" in where or where.endswith(("/etc/x", "../x"))]
    for what, where in events:
        if what == "read" or re.match(rf"{what} {EXPECTED}", f"{what} {where}"):
            continue
        assert what in ("write", "os.rename", "os.mkdir", "os.link"), (what, where)
        inside = Path(where).resolve()
        assert inside.is_relative_to(out) or inside.is_relative_to(temporary) or where.isdigit() or where == "/dev/null", (
            where
        )
    assert list(temporary.iterdir()) == []
    assert {entry.name for entry in tmp_path.iterdir()} <= {"out", "temporary", ".cache"}
