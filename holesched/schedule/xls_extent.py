"""How large the sheets of an .xls workbook are, before the quick reader lays them out: a walk over its records only.

[MS-CFB] for the container and [MS-XLS] for the records (record numbers from memory).
"""

from __future__ import annotations

import struct

from holesched.errors import CannotRead
from holesched.schedule import limits

_END = 0xFFFFFFFE
_SMALL = 64
"""Block of the container's own small streams."""
_BEGIN_SHEET = 0x0809
_CELL_RECORDS = frozenset((0x0006, 0x00BD, 0x00D6, 0x00FD, 0x0203, 0x0204, 0x0205, 0x0206, 0x027E))
"""FORMULA, MULRK, RSTRING, LABELSST, NUMBER, LABEL, BOOLERR, FORMULA of BIFF3, RK. Row and column lead their data."""
_REMEDY = "Save it as .xlsx and try again."


def check_plain_extent(data: bytes, file: str) -> None:
    """Refuses an .xls whose filled cells span more than can be held. Raises CannotRead, also for a damaged container."""
    try:
        stream = _workbook_stream(data)
    except (struct.error, IndexError) as problem:
        raise CannotRead("the workbook is damaged and cannot be read.", file, _REMEDY) from problem
    last = wide = position = 0
    while position + 4 <= len(stream):
        record, size = struct.unpack_from("<HH", stream, position)
        if record == _BEGIN_SHEET:
            last = wide = 0
        elif record in _CELL_RECORDS and size >= 6:
            row, column = struct.unpack_from("<HH", stream, position + 4)
            if record == 0x00BD:
                (column,) = struct.unpack_from("<H", stream, position + 2 + size)
            last, wide = max(last, row + 1), max(wide, column + 1)
            if last * wide > limits.GRID_CELLS:
                limits.check(last * wide, limits.GRID_CELLS, "cells", file, _REMEDY)
        position += 4 + size


def _workbook_stream(data: bytes) -> bytes:
    """The stream named Workbook (or Book) of the compound file; empty when there is none (the reader will say so)."""
    sector = 1 << struct.unpack_from("<H", data, 30)[0]
    if sector not in (512, 4096):
        return b""
    table: list[int] = []
    for number in _fat_sectors(data, sector):
        table += struct.unpack_from(f"<{sector // 4}I", data, (number + 1) * sector)
    directory = _chain(data, struct.unpack_from("<I", data, 48)[0], table, sector, sector)
    for position in range(0, len(directory), 128):
        name = directory[position : position + 64].decode("utf-16-le", "replace").rstrip("\0")
        if name in ("Workbook", "Book"):
            start, size = struct.unpack_from("<II", directory, position + 116)
            if size >= struct.unpack_from("<I", data, 56)[0]:
                return _chain(data, start, table, sector, sector)[:size]
            small = _chain(data, struct.unpack_from("<I", directory, 116)[0], table, sector, sector)
            links = _chain(data, struct.unpack_from("<I", data, 60)[0], table, sector, sector)
            return _chain(small, start, list(struct.unpack(f"<{len(links) // 4}I", links)), _SMALL, 0)[:size]
    return b""


def _fat_sectors(data: bytes, sector: int) -> list[int]:
    """The sectors that hold the allocation table: 109 in the header, more in a chain."""
    numbers = [number for number in struct.unpack_from("<109I", data, 76) if number < _END]
    following, left = struct.unpack_from("<II", data, 68)
    while left and following < _END and len(numbers) < len(data) // sector:
        entries = struct.unpack_from(f"<{sector // 4}I", data, (following + 1) * sector)
        numbers += [number for number in entries[:-1] if number < _END]
        following, left = entries[-1], left - 1
    return numbers


def _chain(data: bytes, start: int, table: list[int], size: int, offset: int) -> bytes:
    """A stream's blocks of `size` joined, block 0 at `offset`; a ring in the table ends the chain."""
    found: list[bytes] = []
    while start < _END and len(found) <= len(table):
        found.append(data[offset + start * size : offset + (start + 1) * size])
        start = table[start]
    return b"".join(found)
