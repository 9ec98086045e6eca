"""Which kinds of file are read, and what to call one that is none of them: by its first bytes, its parts, its name."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import PurePath

from holesched.errors import CannotRead

SCHEDULE_ENDINGS = (".xlsx", ".xlsm", ".xls", ".ods", ".csv", ".tsv")
"""Files of a folder that are taken for schedules."""
KINDS = "Give a workbook (.xlsx, .xlsm, .xls, .ods) or a separated text (.csv, .tsv)."
_TEXT_ENDINGS = frozenset((*SCHEDULE_ENDINGS, "", ".txt", ".tab", ".psv", ".prn", ".asc", ".dat"))
"""Names under which a separated text is exported; one that is called a workbook often is."""
_STARTS = {
    b"%PDF": "a PDF document",
    b"{\\rtf": "a text document",
    b"<": "a web page or XML file",
    **dict.fromkeys((b"\x89PNG", b"\xff\xd8\xff", b"GIF8", b"II*\0", b"MM\0*"), "a picture"),
    **dict.fromkeys((b"\x1f\x8b", b"7z\xbc\xaf", b"Rar!", b"BZh", b"\xfd7zXZ"), "a packed file"),
}
_PARTS = {
    "xl/workbook.bin": ("a binary workbook (.xlsb), which is not read", "Save it as .xlsx and try again."),
    "Index/Document.iwa": ("a .numbers document, which is not read", "Export it as .xlsx or .csv and try again."),
    "Index.zip": ("a .numbers document, which is not read", "Export it as .xlsx or .csv and try again."),
    "word/document.xml": ("a text document, not a schedule", KINDS),
    "ppt/presentation.xml": ("a presentation, not a schedule", KINDS),
    "content.xml": ("an OpenDocument file, but no workbook", KINDS),
}
"""Parts by which an archive is known that holds no workbook."""
_MANIFEST, _ENCRYPTED = "META-INF/manifest.xml", "encrypted-package"
TELLING_PARTS = frozenset((*_PARTS, _MANIFEST, _ENCRYPTED))


def refuse_foreign(data: bytes, path: PurePath) -> None:
    """Raises CannotRead for a file that begins as another kind does, or whose name says that its text is another."""
    start = data.lstrip()
    for mark, what in _STARTS.items():
        if start.startswith(mark):
            raise CannotRead(f"it is {what}, not a schedule.", path.name, KINDS)
    ending = path.suffix.lower()
    if ending not in _TEXT_ENDINGS:
        shop = " A shop file is given with --shop." if ending == ".toml" else ""
        raise CannotRead(f"it is no workbook, and a {ending} file is no schedule.", path.name, KINDS + shop)


def foreign_archive(parts: Mapping[str, bytes], name: str) -> CannotRead:
    """What to say of an archive that holds no workbook that is read, by those of its TELLING_PARTS that it has."""
    if b"encryption-data" in parts.get(_MANIFEST, b"") or _ENCRYPTED in parts:
        return CannotRead("it is protected by a password.", name, "Save it without a password and try again.")
    for part, (what, remedy) in _PARTS.items():
        if part in parts:
            return CannotRead(f"it is {what}.", name, remedy)
    return CannotRead("it is a packed file, not a workbook.", name, "Unpack it and give the schedule that is inside.")
