"""Files put into a folder all together: whole and renamed into place, or none of them and the old ones untouched."""

from __future__ import annotations

import os
import shutil
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from holesched.errors import CannotWrite


@dataclass(frozen=True, slots=True)
class _Output:
    """One file on its way: written at `aside`, an older one kept at `old`, at last at `target`."""

    target: Path
    aside: Path
    old: Path


def put_files(folder: Path, contents: Mapping[str, bytes]) -> tuple[Path, ...]:
    """Writes each of `contents` (name -> bytes) into `folder`, which is made when it is missing.

    Every file goes to a temporary name first and reaches the disk before any is renamed. When one cannot be written or
    renamed, those already renamed are put back as they were, nothing temporary is left, and CannotWrite says which and why.
    An interrupt does the same and goes on as an interrupt.
    """
    outputs = [_output(folder, name, number) for number, name in enumerate(contents)]
    made = _missing_folders(folder)
    renamed: list[_Output] = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for output, content in zip(outputs, contents.values(), strict=True):
            _write(output.aside, content)
        for output in outputs:
            _keep(output)
        for output in outputs:
            renamed.append(output)  # before the renaming itself: an interrupt may fall between the two
            os.replace(output.aside, output.target)
    except BaseException as problem:
        stuck = _put_back(renamed)
        _tidy(outputs, made, stuck)
        if isinstance(problem, OSError):
            raise _cannot_write(problem, folder, stuck) from problem
        raise
    _tidy(outputs, (), ())
    return tuple(output.target for output in outputs)


def _output(folder: Path, name: str, number: int) -> _Output:
    mark = f".holesched-{os.getpid()}-{number}"
    return _Output(folder / name, folder / f"{mark}.part", folder / f"{mark}.old")


def _missing_folders(folder: Path) -> list[Path]:
    """The folders that must be made for this one, outermost first."""
    missing: list[Path] = []
    while not os.path.lexists(folder):
        missing.append(folder)
        folder = folder.parent
    return missing[::-1]


def _write(path: Path, content: bytes) -> None:
    """The content on the disk under a name that is not there yet."""
    path.unlink(missing_ok=True)
    with path.open("xb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _keep(output: _Output) -> None:
    """A second name for the file that is there already, if one is; a folder of that name is an error."""
    output.old.unlink(missing_ok=True)
    if output.target.is_dir():
        raise IsADirectoryError(21, "a folder has this name", str(output.target))
    if output.target.exists():
        try:
            os.link(output.target, output.old)
        except OSError:
            output.old.unlink(missing_ok=True)
            shutil.copy2(output.target, output.old)


def _put_back(renamed: Sequence[_Output]) -> list[_Output]:
    """Brings back the old files, or none where there was none; returns those that could not be brought back."""
    stuck = []
    for output in reversed(renamed):
        if output.old.exists():
            try:
                os.replace(output.old, output.target)  # does nothing where both are names of one file
            except OSError:
                stuck.append(output)
        elif not output.aside.exists():
            with suppress(OSError):
                output.target.unlink()
    return stuck


def _tidy(outputs: Sequence[_Output], made: Sequence[Path], stuck: Sequence[_Output]) -> None:
    """Removes what is temporary, and the empty folders made; an old file that is stuck is all there is of it, and stays."""
    for output in outputs:
        with suppress(OSError):
            output.aside.unlink(missing_ok=True)
        if output not in stuck:
            with suppress(OSError):
                output.old.unlink(missing_ok=True)
    for folder in reversed(made):
        with suppress(OSError):
            folder.rmdir()


def _cannot_write(problem: OSError, folder: Path, stuck: Sequence[_Output]) -> CannotWrite:
    where = Path(problem.filename2 or problem.filename or folder)
    if where.suffix in (".part", ".old") and where.name.startswith(".holesched-"):
        where = folder
    remedy = "Is it open in another program, or the folder write-protected or full?"
    kept = "; ".join(f"the former {output.target.name} is now {output.old.name}" for output in stuck)
    return CannotWrite(
        f"cannot be written ({problem.strerror or problem}).", str(where), f"{remedy} {kept or 'Nothing was changed'}."
    )
