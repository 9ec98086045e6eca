"""Files written together: whole, or not at all."""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path

import pytest

from holesched.errors import CannotWrite
from holesched.reports import outputs
from holesched.reports.base import RunStamp
from holesched.reports.outputs import put_files
from holesched.reports.write import write_reports
from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop

ALL = {"process_sheet.html", "process_sheet.pdf", "setup_sheet.pdf", "tool_list.xlsx", "sheet.json"}


def names(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


def test_all_documents(job: JobPlan, shop: Shop, stamp: RunStamp, tmp_path: Path) -> None:
    folder = tmp_path / "out" / "valve_block"
    written, notes = write_reports(job, shop, folder, frozenset({"html", "pdf", "xlsx", "json"}), stamp)
    assert {path.name for path in written} == names(folder) == ALL
    assert notes == ()
    assert (folder / "process_sheet.pdf").read_bytes().startswith(b"%PDF-")
    assert json.loads((folder / "sheet.json").read_text(encoding="utf-8"))["ledger"]["holes"]["read"] == 45


def test_only_the_formats_asked_for(job: JobPlan, shop: Shop, stamp: RunStamp, tmp_path: Path) -> None:
    written, _ = write_reports(job, shop, tmp_path, frozenset({"html", "json"}), stamp)
    assert {path.name for path in written} == {"process_sheet.html", "sheet.json"}


def test_without_pango_the_rest_is_written(
    job: JobPlan, shop: Shop, stamp: RunStamp, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The set-up sheet then comes as HTML: the person at the machine still gets it."""
    monkeypatch.setitem(sys.modules, "weasyprint", None)
    written, notes = write_reports(job, shop, tmp_path, frozenset({"html", "pdf", "xlsx", "json"}), stamp)
    assert {path.name for path in written} == {"process_sheet.html", "setup_sheet.html", "tool_list.xlsx", "sheet.json"}
    assert [note.code for note in notes] == ["REPORT-PDF-UNAVAILABLE"]
    assert "libpango-1.0-0" in notes[0].suggestion


def test_documents_of_an_earlier_run_are_named(job: JobPlan, shop: Shop, stamp: RunStamp, tmp_path: Path) -> None:
    (tmp_path / "process_sheet.pdf").write_bytes(b"revision A")
    _, notes = write_reports(job, shop, tmp_path, frozenset({"html"}), stamp)
    assert [note.code for note in notes] == ["REPORT-OLD-FILE"]
    assert notes[0].message.startswith("process_sheet.pdf in this folder")
    assert (tmp_path / "process_sheet.pdf").read_bytes() == b"revision A"


def test_equal_jobs_give_equal_files(job: JobPlan, shop: Shop, stamp: RunStamp, tmp_path: Path) -> None:
    formats = frozenset({"html", "pdf", "xlsx", "json"})
    for folder in ("one", "two"):
        write_reports(job, shop, tmp_path / folder, formats, stamp)
    for name in ALL:
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes(), name


def test_a_folder_in_the_way_changes_nothing(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_text("old a")
    (tmp_path / "b.txt").mkdir()
    with pytest.raises(CannotWrite) as caught:
        put_files(tmp_path, {"a.txt": b"new a", "b.txt": b"new b"})
    assert "b.txt" in str(caught.value)
    assert (tmp_path / "a.txt").read_text() == "old a"
    assert names(tmp_path) == {"a.txt", "b.txt"}


def test_a_rename_that_fails_puts_the_others_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As where a PDF is open in a viewer that locks it: two files, the second cannot be replaced."""
    (tmp_path / "a.txt").write_text("old a")
    (tmp_path / "c.txt").write_text("old c")
    replace = os.replace

    def locked(source: Path, target: Path) -> None:
        if target.name == "c.txt" and source.suffix == ".part":
            raise PermissionError(13, "locked", str(target))
        replace(source, target)

    monkeypatch.setattr(outputs.os, "replace", locked)
    with pytest.raises(CannotWrite, match="locked"):
        put_files(tmp_path, {"a.txt": b"new a", "b.txt": b"new b", "c.txt": b"new c"})
    assert (tmp_path / "a.txt").read_text() == "old a"
    assert (tmp_path / "c.txt").read_text() == "old c"
    assert names(tmp_path) == {"a.txt", "c.txt"}


def test_a_full_disk_changes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "a.txt").write_text("old a")

    def full(descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(outputs.os, "fsync", full)
    with pytest.raises(CannotWrite, match="No space left"):
        put_files(tmp_path, {"a.txt": b"new a"})
    assert (tmp_path / "a.txt").read_text() == "old a"
    assert names(tmp_path) == {"a.txt"}


def test_a_file_where_the_folder_should_be(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("")
    with pytest.raises(CannotWrite):
        put_files(tmp_path / "out" / "job", {"a.txt": b""})


def test_files_can_be_read_by_others(tmp_path: Path) -> None:
    """As any new file may, by the process's mask: temporary files are private otherwise."""
    (path,) = put_files(tmp_path, {"a.txt": b"a"})
    plain = tmp_path / "plain"
    plain.write_text("")
    assert path.stat().st_mode == plain.stat().st_mode
