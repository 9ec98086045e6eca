"""An .xls workbook made safe for the quick reader: its one stream taken out, measured, and put into a clean container.

The container ([MS-CFB]) of a hostile file may lead in rings, its records ([MS-XLS], numbers from memory) may announce more
than there is. The reader behind this trusts both; so both are looked at first, record by record.
"""

from __future__ import annotations

import struct
from dataclasses import dataclass, replace

from holesched.errors import CannotRead
from holesched.schedule import limits

_FREE, _END, _FAT_SECTOR = 0xFFFFFFFF, 0xFFFFFFFE, 0xFFFFFFFD
_SMALL, _CLEAN = 64, 4096
"""Blocks of the small streams of any container, and of the clean one, whose header names 109 blocks of its table."""
_MAGIC = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_BEGIN_SHEET, _DIMENSIONS, _STRINGS, _MANY_NUMBERS = 0x0809, 0x0200, 0x00FC, 0x00BD
_CELL_RECORDS = frozenset((0x0006, _MANY_NUMBERS, 0x00D6, 0x00FD, 0x0203, 0x0204, 0x0205, 0x0206, 0x027E))
"""FORMULA, MULRK, RSTRING, LABELSST, NUMBER, LABEL, BOOLERR, FORMULA of BIFF3, RK. Row and column lead their data."""
_REFERENCE, _PASSWORD = 0x00FD, 0x002F
_LARGEST_SHEET = 65_536 * 256
_REMEDY = "Save it as .xlsx and try again."


@dataclass(frozen=True, slots=True)
class Stream:
    """What holds a workbook in its container: its name there, its records, and how many of them refer to a shared text."""

    name: str
    content: bytes
    references: int = 0


def workbook_stream(data: bytes, file: str) -> Stream:
    """The workbook's records, looked at one by one.

    Raises CannotRead when the container or a record is damaged, when the workbook is protected, and when its filled cells
    span more than can be held.
    """
    try:
        stream = _found_stream(data)
        stream = replace(stream, references=_check_records(stream.content, file))
    except (struct.error, IndexError, ValueError) as problem:
        raise CannotRead("the workbook is damaged and cannot be read.", file, _REMEDY) from problem
    if stream.name == "EncryptedPackage":
        raise _protected(file)
    if not stream.name:
        raise CannotRead("it holds no workbook.", file, _REMEDY)
    return stream


def _protected(file: str) -> CannotRead:
    return CannotRead("it is protected by a password.", file, "Save it without a password and try again.")


def _check_records(stream: bytes, file: str) -> int:
    """Refuses what the reader would reserve or lay out without asking, and counts the cells that refer to a shared text.

    Raises ValueError for what no workbook announces.
    """
    last = wide = position = references = 0
    while position + 4 <= len(stream):
        record, size = struct.unpack_from("<HH", stream, position)
        body = position + 4
        if record == _PASSWORD:
            raise _protected(file)
        if record == _BEGIN_SHEET:
            last = wide = 0
        elif record == _STRINGS and struct.unpack_from("<I", stream, body + 4)[0] > len(stream):
            raise ValueError("more strings than bytes")
        elif record == _DIMENSIONS and size >= 8:
            layout = "<IIHH" if size >= 14 else "<HHHH"
            first_row, end_row, first_column, end_column = struct.unpack_from(layout, stream, body)
            if end_row < first_row or end_column < first_column:
                raise ValueError("a sheet that ends before it begins")
            if (end_row - first_row + 1) * (end_column - first_column + 1) > _LARGEST_SHEET + 65_536 + 256 + 1:
                raise ValueError("a sheet larger than any")
        elif record in _CELL_RECORDS and size >= 6:
            row, column = struct.unpack_from("<HH", stream, body)
            if record == _MANY_NUMBERS:
                (column,) = struct.unpack_from("<H", stream, body + size - 2)
            references += record == _REFERENCE
            last, wide = max(last, row + 1), max(wide, column + 1)
            if last * wide > limits.GRID_CELLS:
                limits.check(last * wide, limits.GRID_CELLS, "cells", file, _REMEDY)
        position = body + size
    return references


def _found_stream(data: bytes) -> Stream:
    """The stream with the workbook; empty when there is none."""
    (shift,) = struct.unpack_from("<H", data, 30)
    if shift not in (9, 12):
        raise ValueError("no such block size")
    sector = 1 << shift
    table: list[int] = []
    for number in _table_sectors(data, sector):
        table += struct.unpack_from(f"<{sector // 4}I", data, (number + 1) * sector)
    directory = _chain(data, struct.unpack_from("<I", data, 48)[0], table, sector, sector)
    for position in range(0, len(directory) - 127, 128):
        name = directory[position : position + 64].decode("utf-16-le", "replace").rstrip("\0")
        if name not in ("Workbook", "Book", "EncryptedPackage"):
            continue
        start, size = struct.unpack_from("<II", directory, position + 116)
        if size >= struct.unpack_from("<I", data, 56)[0]:
            return Stream(name, _chain(data, start, table, sector, sector)[:size])
        small = _chain(data, struct.unpack_from("<I", directory, 116)[0], table, sector, sector)
        links = _chain(data, struct.unpack_from("<I", data, 60)[0], table, sector, sector)
        return Stream(name, _chain(small, start, list(struct.unpack(f"<{len(links) // 4}I", links)), _SMALL, 0)[:size])
    return Stream("", b"")


def _table_sectors(data: bytes, sector: int) -> list[int]:
    """The blocks that hold the allocation table: 109 are named in the header, more in a chain."""
    numbers = [number for number in struct.unpack_from("<109I", data, 76) if number < _FAT_SECTOR]
    following, left = struct.unpack_from("<II", data, 68)
    while left and following < _FAT_SECTOR:
        entries = struct.unpack_from(f"<{sector // 4}I", data, (following + 1) * sector)
        numbers += [number for number in entries[:-1] if number < _FAT_SECTOR]
        following, left = entries[-1], left - 1
        if len(numbers) > len(data) // sector:
            raise ValueError("more blocks than bytes")
    return numbers


def _chain(data: bytes, start: int, table: list[int], size: int, offset: int) -> bytes:
    """A stream's blocks of `size` joined, block 0 at `offset`. Raises ValueError for a ring."""
    found: list[bytes] = []
    while start < _FAT_SECTOR:
        found.append(data[offset + start * size : offset + (start + 1) * size])
        if len(found) > len(table):
            raise ValueError("a stream leads in a ring")
        start = table[start]
    return b"".join(found)


def container(stream: Stream) -> bytes:
    """The workbook in a container of its own.

    A compound file of version 4: header, allocation table, directory, the stream, and the block of small streams that some
    readers insist on.
    """
    blocks = max(1, -(-len(stream.content) // _CLEAN))
    a_table = _CLEAN // 4
    tables = 1
    while tables * a_table < tables + 2 + blocks:
        tables += 1
    first = tables + 1
    links = [_FAT_SECTOR] * tables + [_END, *range(first + 1, first + blocks), _END, _END]
    links += [_FREE] * (tables * a_table - len(links))
    fields = (1, tables, tables, 0, _CLEAN, _END, 0, _END, 0)
    header = _MAGIC + bytes(16) + struct.pack("<HHHHH6x9I", 0x3E, 4, 0xFFFE, 12, 6, *fields)
    header += struct.pack("<109I", *range(tables), *[_FREE] * (109 - tables))
    root = _entry("Root Entry", 5, 1, first + blocks, _SMALL)
    directory = root + _entry(stream.name, 2, _FREE, first, max(len(stream.content), _CLEAN))
    parts = (header, struct.pack(f"<{len(links)}I", *links), directory, stream.content, b"\0")
    return b"".join(part.ljust(-(-len(part) // _CLEAN) * _CLEAN, b"\0") for part in parts)


def _entry(name: str, kind: int, child: int, start: int, size: int) -> bytes:
    """A directory entry of the container: a root (5) or a stream (2)."""
    text = name.encode("utf-16-le") + b"\0\0"
    return text.ljust(64, b"\0") + struct.pack("<HBBIII36xIQ", len(text), kind, 1, _FREE, _FREE, child, start, size)
