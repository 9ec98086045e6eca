"""Every write, flush and rename made to fail in turn: the old files untouched, nothing temporary left, a clear message."""

from __future__ import annotations

import errno
import io
import os
import shutil
import signal
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from make_example_inputs import FOLDER

from holesched.cli import main
from holesched.errors import CannotWrite
from holesched.reports import outputs
from holesched.reports.outputs import put_files

OLD = {"a.txt": b"old a", "c.txt": b"old c"}
NEW = {"a.txt": b"new a", "b.txt": b"new b", "c.txt": b"new c"}
FULL = OSError(errno.ENOSPC, "No space left on device")
DENIED = PermissionError(errno.EACCES, "Permission denied")
TROUBLES = (FULL, DENIED, OSError(errno.EIO, "Input/output error"), KeyboardInterrupt(), MemoryError())
every_trouble = pytest.mark.parametrize(
    "trouble", TROUBLES, ids=lambda problem: type(problem).__name__ + str(problem.args[:1])
)


class Calls:
    """Counts calls of a function and fails at the one asked for, before or after doing its work."""

    def __init__(self, real: Callable[..., Any], fails_at: int, trouble: BaseException, after: bool = False) -> None:
        self.real, self.left, self.trouble, self.after, self.failed = real, fails_at, trouble, after, False

    def __call__(self, *arguments: Any, **named: Any) -> Any:
        self.left -= 1
        if self.left == 0:
            self.failed = True
            if self.after:
                self.real(*arguments, **named)
            raise self.trouble
        return self.real(*arguments, **named)


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def put(folder: Path, trouble: BaseException) -> None:
    """put_files, which must fail with a CannotWrite for what the disk does, and with anything else as it came."""
    expected = CannotWrite if isinstance(trouble, OSError) else type(trouble)
    with pytest.raises(expected) as caught:
        put_files(folder, NEW)
    if isinstance(trouble, OSError):
        assert str(trouble.strerror) in str(caught.value)
        assert "Nothing was changed." in str(caught.value)
        assert ".holesched-" not in str(caught.value)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name, data in OLD.items():
        (tmp_path / name).write_bytes(data)
    return tmp_path


@every_trouble
@pytest.mark.parametrize("number", [1, 2, 3])
@pytest.mark.parametrize("after", [False, True], ids=["before", "after"])
@pytest.mark.parametrize("name", ["fsync", "replace", "link"])
def test_each_call_of_the_system(
    folder: Path, monkeypatch: pytest.MonkeyPatch, name: str, number: int, trouble: BaseException, after: bool
) -> None:
    """Also an interrupt that falls between a rename and the next line."""
    calls = Calls(getattr(os, name), number, trouble, after)
    monkeypatch.setattr(outputs.os, name, calls)
    if name == "link" and (number == 3 or isinstance(trouble, OSError)):
        put_files(folder, NEW)  # two old files have two second names; where there are no links, copies do
        assert contents(folder) == NEW
        return
    put(folder, trouble)
    assert calls.failed
    assert contents(folder) == OLD


class FailingFile(io.FileIO):
    """A file whose write, flush or close fails."""

    step = ""
    trouble: BaseException = FULL

    def write(self, data: Any) -> int:
        if self.step == "write":
            super().write(data[:2])
            raise self.trouble
        return super().write(data)

    def flush(self) -> None:
        if self.step == "flush" and not self.closed:
            raise self.trouble
        super().flush()

    def close(self) -> None:
        was_open = not self.closed
        super().close()
        if self.step == "close" and was_open:
            raise self.trouble


@every_trouble
@pytest.mark.parametrize("step", ["open", "write", "flush", "close"])
@pytest.mark.parametrize("number", [1, 2, 3])
def test_each_file(folder: Path, monkeypatch: pytest.MonkeyPatch, step: str, number: int, trouble: BaseException) -> None:
    opened = 0
    real = Path.open

    def opening(path: Path, mode: str = "r", *arguments: Any, **named: Any) -> Any:
        nonlocal opened
        if "x" not in mode:
            return real(path, mode, *arguments, **named)
        opened += 1
        if opened != number:
            return real(path, mode, *arguments, **named)
        if step == "open":
            raise trouble
        file = FailingFile(path, mode)
        file.step, file.trouble = step, trouble
        return file

    monkeypatch.setattr(Path, "open", opening)
    put(folder, trouble)
    assert opened >= number
    assert contents(folder) == OLD


@every_trouble
def test_the_folder_itself(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, trouble: BaseException) -> None:
    monkeypatch.setattr(Path, "mkdir", Calls(Path.mkdir, 1, trouble))
    put(tmp_path / "out" / "job", trouble)
    assert list(tmp_path.iterdir()) == []


@every_trouble
def test_folders_made_for_nothing_are_taken_away_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, trouble: BaseException
) -> None:
    monkeypatch.setattr(outputs.os, "fsync", Calls(os.fsync, 2, trouble))
    put(tmp_path / "out" / "job", trouble)
    assert list(tmp_path.iterdir()) == []


@every_trouble
@pytest.mark.parametrize("number", [1, 2])
def test_copies_where_there_are_no_links(
    folder: Path, monkeypatch: pytest.MonkeyPatch, number: int, trouble: BaseException
) -> None:
    """A copy that breaks off half way is not taken for the old file."""

    def no_link(*_: Any) -> None:
        raise OSError(errno.EPERM, "Operation not permitted")

    def half(source: Path, target: Path) -> None:
        target.write_bytes(source.read_bytes()[:2])
        raise trouble

    calls = 0
    real = shutil.copy2

    def copy(source: Path, target: Path) -> None:
        nonlocal calls
        calls += 1
        half(source, target) if calls == number else real(source, target)

    monkeypatch.setattr(outputs.os, "link", no_link)
    monkeypatch.setattr(outputs.shutil, "copy2", copy)
    put(folder, trouble)
    assert contents(folder) == OLD
    monkeypatch.setattr(outputs.shutil, "copy2", real)
    monkeypatch.setattr(outputs.os, "replace", Calls(os.replace, 3, trouble))
    put(folder, trouble)
    assert contents(folder) == OLD


def test_an_old_file_that_cannot_go_back_is_named(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Two faults at once, on a file system without links: the old file is kept, and the message says where."""

    def no_link(*_: Any) -> None:
        raise OSError(errno.EPERM, "Operation not permitted")

    real, count = os.replace, 0

    def replace(source: Path, target: Path) -> None:
        nonlocal count
        count += 1
        if count > 1:
            raise DENIED
        real(source, target)

    monkeypatch.setattr(outputs.os, "link", no_link)
    monkeypatch.setattr(outputs.os, "replace", replace)
    with pytest.raises(CannotWrite, match=r"the former a\.txt is now \.holesched-\d+-0\.old\.$"):
        put_files(folder, NEW)
    kept = [path for path in folder.iterdir() if path.suffix == ".old"]
    assert [path.read_bytes() for path in kept] == [b"old a"]
    assert (folder / "c.txt").read_bytes() == b"old c"


def test_leftovers_of_a_crash_are_no_trouble(folder: Path) -> None:
    for number in range(3):
        (folder / f".holesched-{os.getpid()}-{number}.part").write_bytes(b"half")
    put_files(folder, NEW)
    assert contents(folder) == NEW


@pytest.mark.parametrize("command", ["sheet", "takeoff", "check"])
@pytest.mark.parametrize("trouble", TROUBLES[:4], ids=("full", "denied", "faulty", "interrupt"))
def test_commands(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    command: str,
    trouble: BaseException,
) -> None:
    """Exit status 2, one sentence, the outputs of the run before untouched."""
    choice = ["--letter"] if command == "check" else ["--format", "html"]
    arguments = [command, str(FOLDER / "bearing_housing.xlsx"), "--out", str(tmp_path / "out"), *choice]
    assert main(arguments) == 3
    before = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    assert before
    capsys.readouterr()
    monkeypatch.setattr(outputs.os, "replace", Calls(os.replace, 1, trouble))
    assert main(arguments) == 2
    printed = capsys.readouterr()
    assert printed.err.startswith("holesched: ")
    assert printed.err.count("\n") == 1
    assert {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()} == before


@pytest.mark.skipif(os.geteuid() == 0, reason="nothing is write-protected for root")
def test_a_write_protected_folder(tmp_path: Path) -> None:
    tmp_path.chmod(0o555)
    try:
        with pytest.raises(CannotWrite, match="Permission denied"):
            put_files(tmp_path / "out", NEW)
    finally:
        tmp_path.chmod(0o755)


@pytest.mark.parametrize("name", ["SIGINT", "SIGTERM", "SIGHUP"])
def test_signals_tidy_up_as_an_interrupt_does(
    request: pytest.FixtureRequest,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    name: str,
) -> None:
    """Ctrl-C, a kill and a closed terminal while a file is renamed into place; a test run in the background ignores some."""
    if not hasattr(signal, name):
        pytest.skip("no such signal on this system")
    request.addfinalizer(partial(signal.signal, getattr(signal, name), signal.getsignal(getattr(signal, name))))
    signal.signal(getattr(signal, name), signal.default_int_handler)
    arguments = ["sheet", str(FOLDER / "bearing_housing.xlsx"), "--out", str(tmp_path / "out"), "--format", "json"]
    real = os.replace

    def killed(*paths: Any) -> None:
        real(*paths)
        os.kill(os.getpid(), getattr(signal, name))
        time.sleep(1)

    monkeypatch.setattr(outputs.os, "replace", killed)
    assert main(arguments) == 2
    assert capsys.readouterr().err == "holesched: interrupted; outputs already written are whole.\n"
    assert list(tmp_path.iterdir()) == []


def test_a_full_folder_for_temporary_files(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The writer of workbooks has a temporary file of its own, somewhere else."""

    def full(*_: object) -> bytes:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr("holesched.reports.workbook.workbook", full)
    arguments = ["sheet", str(FOLDER / "bearing_housing.xlsx"), "--out", str(tmp_path / "out"), "--format", "xlsx"]
    assert main(arguments) == 2
    said = "holesched: a temporary file: No space left on device. Outputs already written are whole.\n"
    assert capsys.readouterr().err == said
    assert list(tmp_path.iterdir()) == []
