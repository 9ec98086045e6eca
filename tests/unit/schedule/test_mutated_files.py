"""Sound files with bytes changed at random: read or refused with a sentence, never anything else. The seeds are fixed."""

from __future__ import annotations

import random
import struct
from dataclasses import replace
from pathlib import Path

import pytest
from make_example_inputs import FOLDER
from written_files import members_of, read, zipped

from holesched.errors import CannotRead, HoleschedError
from holesched.schedule.xls_container import container, workbook_stream

HERE = Path(__file__).parent
SOURCES = (FOLDER / "manifold_block.xlsx", FOLDER / "sensor_plate.ods", HERE / "small.xls")
PIECES = (
    b'"', b"<", b">", b'<c r="A1"', b't="e"', b"<f>", b"</f>", b"<v></v>", b'repeated="9"', b'hidden="1"', b"99999999",
    b"-1", b"", b"\x00", b"&#x0;", b"&lt;", b"nan", b"1e999", b'<row r="5"/>', b' s="99"', b'<mergeCell ref="A1:D9"/>',
    b"\xff\xff\xff\xff",
)  # fmt: skip


def mutated(data: bytes, chance: random.Random) -> bytes:
    changed = bytearray(data or b"x")
    for _ in range(chance.randint(1, 6)):
        at, kind = chance.randrange(len(changed) or 1), chance.random()
        if kind < 0.3:
            changed[at : at + 1] = bytes([chance.randrange(256)])
        elif kind < 0.7:
            changed[at : at + chance.randint(0, 8)] = chance.choice(PIECES)
        elif kind < 0.85:
            del changed[at : at + chance.randint(1, 40)]
        else:
            other = chance.randrange(len(changed) or 1)
            changed[at:at] = changed[other : other + chance.randint(1, 60)]
    return bytes(changed)


@pytest.mark.parametrize("source", SOURCES, ids=lambda path: path.name)
def test_mutated_workbooks(tmp_path: Path, source: Path) -> None:
    chance = random.Random(source.name)
    path = tmp_path / source.name
    read_well = 0
    for _ in range(150):
        if source.suffix == ".xls":
            path.write_bytes(mutated(source.read_bytes(), chance))
        else:
            members = members_of(source)
            name = chance.choice([name for name in members if name.endswith((".xml", ".rels"))])
            members[name] = mutated(members[name], chance)
            path.write_bytes(zipped(members))
        try:
            schedule, _ = read(path)
        except HoleschedError:
            continue
        read_well += 1
        assert schedule.rows_read == len(schedule.rows) + len(schedule.set_aside)
    assert read_well > 5


def changed_xls(find: bytes, at: int, new: bytes) -> bytes:
    data = bytearray((HERE / "small.xls").read_bytes())
    start = data.index(find)
    data[start + at : start + at + len(new)] = new
    return bytes(data)


def test_xls_that_announces_more_than_it_holds() -> None:
    """Records of BIFF8: SST (00FC) with its count of strings, DIMENSIONS (0200) with the sheet's size."""
    many = changed_xls(struct.pack("<H", 0x00FC), 8, struct.pack("<I", 0x7FFFFFFF))
    with pytest.raises(CannotRead, match="damaged"):
        workbook_stream(many, "a.xls")
    large = changed_xls(struct.pack("<HH", 0x0200, 14), 8, struct.pack("<I", 0x7FFFFFFF))
    with pytest.raises(CannotRead, match="damaged"):
        workbook_stream(large, "a.xls")


@pytest.mark.parametrize(("at", "number"), [(4, 9), (12, 200)])
def test_xls_whose_sheet_ends_before_it_begins(tmp_path: Path, at: int, number: int) -> None:
    """Found by the fuzzer: the quick reader reserved room for what is left below nothing. First row, first column."""
    data = bytearray((HERE / "small.xls").read_bytes())
    start = data.index(struct.pack("<HH", 0x0200, 14)) + at
    struct.pack_into("<H", data, start, number)
    (tmp_path / "a.xls").write_bytes(data)
    with pytest.raises(CannotRead, match="damaged"):
        read(tmp_path / "a.xls")


def test_xls_whose_container_leads_in_a_ring() -> None:
    data = bytearray((HERE / "small.xls").read_bytes())
    (table,) = struct.unpack_from("<I", data, 76)
    (directory,) = struct.unpack_from("<I", data, 48)
    struct.pack_into("<I", data, (table + 1) * 512 + 4 * directory, directory)
    with pytest.raises(CannotRead, match="damaged"):
        workbook_stream(bytes(data), "a.xls")


def test_protected_and_foreign_containers() -> None:
    name = "Workbook".encode("utf-16-le")
    with pytest.raises(CannotRead, match="holds no workbook"):
        workbook_stream(changed_xls(name, 0, "Document".encode("utf-16-le")), "a.doc")
    protected = bytearray((HERE / "small.xls").read_bytes())
    start = protected.index(name)
    protected[start : start + 36] = "EncryptedPackage".encode("utf-16-le").ljust(36, b"\0")
    with pytest.raises(CannotRead, match="protected by a password"):
        workbook_stream(bytes(protected), "a.xlsx")


def test_a_clean_container_is_itself_clean() -> None:
    once = container(workbook_stream((HERE / "small.xls").read_bytes(), "a.xls"))
    assert container(workbook_stream(once, "a.xls")) == once


def test_an_xls_with_a_password() -> None:
    """FILEPASS (002F) follows the first record of a workbook whose records are encrypted (MS-XLS, from memory)."""
    stream = workbook_stream((HERE / "small.xls").read_bytes(), "a.xls")
    end = 4 + struct.unpack_from("<H", stream.content, 2)[0]
    locked = stream.content[:end] + struct.pack("<HH", 0x002F, 6) + bytes(6) + stream.content[end:]
    with pytest.raises(CannotRead, match="protected by a password"):
        workbook_stream(container(replace(stream, content=locked)), "a.xls")
