"""A workbook's archive, opened without trusting what it says of itself.

Every member is inflated once, counting, before any reader sees the file: a declared size may lie. Only the members that
the side readers need are kept.
"""

from __future__ import annotations

import io
import re
import struct
import zipfile
import zlib
from collections.abc import Callable, Iterator, Mapping

from holesched.errors import CannotRead
from holesched.schedule import limits

_PIECE, _CHUNK = 1 << 16, 1 << 20
_STORED, _DEFLATED = 0, 8
_ENCODING = re.compile(rb"<\?xml\b[^>]*?\bencoding\s*=\s*[\"']([^\"']*)")
_REMEDY = "Save the schedule again from the spreadsheet program as .xlsx or .csv."


def open_archive(data: bytes, name: str, wanted: Callable[[str], bool]) -> Mapping[str, bytes]:
    """The wanted members of a zip archive, inflated: member name -> bytes.

    Raises CannotRead for a damaged or encrypted archive, for one that inflates beyond limits.INFLATED_BYTES (holding one
    chunk more than what is kept), and for an XML member with a document type declaration: entities are never expanded.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            members = archive.infolist()
    except (zipfile.BadZipFile, ValueError, struct.error, EOFError, NotImplementedError) as problem:
        raise CannotRead("the workbook is damaged: its archive cannot be opened.", name, _REMEDY) from problem
    limits.check(len(members), limits.ARCHIVE_MEMBERS, "parts", name, _REMEDY)
    if len({member.filename.casefold() for member in members}) < len(members):
        raise CannotRead("the workbook is damaged: two parts of its archive have one name.", name, _REMEDY)
    kept: dict[str, bytes] = {}
    total = 0
    for member in members:
        chunks: list[bytes] = []
        size = 0
        for chunk in _inflated(data, member, name):
            size += len(chunk)
            _check_size(total + size, size, member.compress_size, name)
            if wanted(member.filename):
                chunks.append(chunk)
        total += size
        if wanted(member.filename):
            kept[member.filename] = b"".join(chunks)
            _refuse_foreign_xml(kept[member.filename], name)
    return kept


def _inflated(data: bytes, member: zipfile.ZipInfo, name: str) -> Iterator[bytes]:
    """The member's content in chunks of bounded size, from its local header on."""
    if member.flag_bits & 1:
        raise CannotRead("it is protected by a password.", name, "Save it without a password and try again.")
    header = data[member.header_offset : member.header_offset + 30]
    if len(header) < 30 or header[:4] != b"PK\x03\x04":
        raise CannotRead("the workbook is damaged: a part of its archive is missing.", name, _REMEDY)
    name_length, extra_length = struct.unpack("<HH", header[26:30])
    start = member.header_offset + 30 + name_length + extra_length
    packed = data[start : start + member.compress_size]
    if member.compress_type == _STORED:
        yield packed
        return
    if member.compress_type != _DEFLATED:
        raise CannotRead("its archive is packed in a way that workbooks do not use.", name, _REMEDY)
    inflater = zlib.decompressobj(-zlib.MAX_WBITS)
    try:
        for begin in range(0, len(packed), _PIECE):
            piece = packed[begin : begin + _PIECE]
            while piece and not inflater.eof:
                yield inflater.decompress(piece, _CHUNK)
                piece = inflater.unconsumed_tail
    except zlib.error as problem:
        raise CannotRead("the workbook is damaged: a part of it cannot be unpacked.", name, _REMEDY) from problem


def _check_size(total: int, size: int, packed: int, name: str) -> None:
    """Refuses an archive whose inflated size or ratio passes the limits."""
    if total > limits.INFLATED_BYTES:
        problem = f"unpacked it is larger than the {limits.INFLATED_BYTES // 1_000_000} MB that are read."
        raise CannotRead(problem, name, "Save the hole table alone in a new workbook.")
    if size > limits.RATIO_APPLIES_FROM and size > limits.INFLATION_RATIO * max(packed, 1):
        problem = f"a part of it unpacks to more than {limits.INFLATION_RATIO} times its size, as no schedule does."
        raise CannotRead(problem, name, "Do not open it; ask its sender for the table as .csv.")


def _refuse_foreign_xml(content: bytes, name: str) -> None:
    """No XML of a workbook declares a document type; one that does may define entities. (In text, "<" is always escaped.)
    Nor is it in another encoding than these, for which the parsers would ask Python."""
    encodings = ("ascii", "utf-16-le", "utf-16-be") if b"\0" in content else ("ascii",)
    if any("<!DOCTYPE".encode(encoding) in content for encoding in encodings):
        raise CannotRead("its XML declares a document type, as no workbook does.", name, _REMEDY)
    declared = _ENCODING.search(content[:1000].replace(b"\0", b""))
    if declared and declared[1].upper() not in (b"UTF-8", b"UTF-16", b"US-ASCII", b"ISO-8859-1"):
        raise CannotRead("its XML is in an encoding that workbooks do not use.", name, _REMEDY)
