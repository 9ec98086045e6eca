"""The parts of an .xlsx archive around its sheets: their list, their number formats and fonts, their raised strings."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from html import unescape
from xml.etree import ElementTree

from holesched.errors import CannotRead
from holesched.schedule import limits
from holesched.schedule.damage import Damaged, joined_runs
from holesched.schedule.number_formats import adds_meaning

STYLES = "xl/styles.xml"
STRINGS = "xl/sharedStrings.xml"
WORKBOOK = "xl/workbook.xml"
RELATIONS = "xl/_rels/workbook.xml.rels"
_BUILT_IN = {9: "0%", 10: "0.00%", 12: "# ?/?", 13: "# ??/??", 14: "m/d/yyyy", 15: "d-mmm-yy", 16: "d-mmm", 17: "mmm-yy",
             22: "m/d/yyyy h:mm"}  # fmt: skip
"""Number formats whose code the file leaves out: ISO/IEC 29500-1, 18.8.30 (from memory)."""
_RUN = re.compile(rb"<r\b[^>]*>(.*?)</r>", re.S)
_RUN_TEXT = re.compile(rb"<t\b[^>]*>([^<]*)</t>")
_STRUCK_RUN = re.compile(rb"<strike(?:\s+val=\"(?:1|true)\")?\s*/>")


@dataclass(frozen=True, slots=True)
class Part:
    """A sheet of the workbook: its name, the archive's member that holds it, and whether it is hidden."""

    name: str
    member: str
    hidden: bool


@dataclass(frozen=True, slots=True)
class Style:
    """A cell style that matters: a struck-through font, or a number format that adds signs or shows a date."""

    struck: bool
    code: str


def is_wanted(member: str) -> bool:
    """Whether the side reader needs this member of the archive."""
    in_sheets = member.startswith("xl/worksheets/") and member.endswith(".xml")
    return in_sheets or member in (STYLES, STRINGS, WORKBOOK, RELATIONS)


def sheet_parts(parts: Mapping[str, bytes], file: str) -> tuple[Part, ...]:
    """The workbook's sheets in its order. Raises CannotRead when their list is damaged."""
    try:
        relations = ElementTree.fromstring(parts.get(RELATIONS, b"<none/>"))
        workbook = ElementTree.fromstring(parts[WORKBOOK])
    except (ElementTree.ParseError, KeyError) as problem:
        raise CannotRead("the workbook is damaged: its list of sheets cannot be read.", file, "Save it again.") from problem
    members = {entry.get("Id"): posixpath.normpath(posixpath.join("/xl", entry.get("Target", ""))) for entry in relations}
    found = []
    for entry in workbook.iter():
        if entry.tag.rpartition("}")[2] == "sheet":
            relation = next((value for attribute, value in entry.items() if attribute.endswith("}id")), None)
            hidden = entry.get("state", "visible") != "visible"
            found.append(Part(entry.get("name", ""), members.get(relation, "").lstrip("/"), hidden))
    return tuple(found)


def counts_from_1904(workbook: bytes) -> bool:
    """Whether the workbook counts its days from 1 January 1904."""
    return bool(re.search(rb"<(?:\w+:)?workbookPr\b[^>]*\bdate1904=[\"'](?:1|true)[\"']", workbook))


def special_styles(parts: Mapping[str, bytes]) -> Mapping[int, Style]:
    """The styles that change what a cell means, by their number in the file."""
    try:
        root = ElementTree.fromstring(parts.get(STYLES, b"<none/>"))
    except ElementTree.ParseError:
        return {}
    codes = dict(_BUILT_IN)
    struck: list[bool] = []
    found: dict[int, Style] = {}
    for group in root:
        kind = group.tag.rpartition("}")[2]
        if kind == "numFmts":
            codes.update({int(entry.get("numFmtId", "-1")): entry.get("formatCode", "") for entry in group})
        elif kind == "fonts":
            struck = [_is_struck(font) for font in group]
        elif kind == "cellXfs":
            for number, entry in enumerate(group):
                code, font = codes.get(int(entry.get("numFmtId", "0")), ""), int(entry.get("fontId", "0"))
                style = Style(font < len(struck) and struck[font], code if adds_meaning(code) else "")
                if style.struck or style.code:
                    found[number] = style
    return found


def _is_struck(font: ElementTree.Element) -> bool:
    return any(entry.tag.rpartition("}")[2] == "strike" and entry.get("val", "1") in ("1", "true") for entry in font)


def check_repeats(strings: bytes, sheet: bytes, file: str) -> None:
    """Refuses a sheet whose cells may refer so often to long shared texts that writing them out would fill the memory."""
    if len(sheet) // len(b"<v>0</v>") * len(strings) <= limits.REPEATED_CHARACTERS:
        return
    references = sheet.count(b"<v") + sheet.count(b":v")
    if references * len(strings) <= limits.REPEATED_CHARACTERS:
        return
    longest = max(map(len, re.split(rb"<(?:\w+:)?si\b", strings)))
    remedy = "Save the hole table alone in a new workbook."
    limits.check(references * longest, limits.REPEATED_CHARACTERS, "characters of text", file, remedy)


def raised_strings(strings: bytes) -> Mapping[int, Damaged]:
    """Shared strings with raised, lowered or struck runs, by their number."""
    if b"vertAlign" not in strings and b"strike" not in strings:
        return {}
    items = re.split(rb"<si\b[^>]*>", strings)[1:]
    found = ((number, raised_text(item)) for number, item in enumerate(items))
    return {number: damaged for number, damaged in found if damaged is not None}


def raised_text(item: bytes) -> Damaged | None:
    """The damage of one rich text, if its runs differ in height or are struck through."""
    return joined_runs(_runs(item)) if b"vertAlign" in item or b"strike" in item else None


def _runs(item: bytes) -> Iterator[tuple[str, str]]:
    """Each run's text with its height ("", "superscript", "subscript") or "struck"."""
    for run in _RUN.findall(item):
        text = "".join(unescape(part.decode("utf-8", "replace")) for part in _RUN_TEXT.findall(run))
        height = next((word for word in ("superscript", "subscript") if word.encode() in run), "")
        yield text, "struck" if _STRUCK_RUN.search(run) else height
