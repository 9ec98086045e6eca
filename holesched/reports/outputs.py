"""Files put into a folder all together: whole and renamed into place, or none of them and the old ones untouched."""

from __future__ import annotations

import os
import shutil
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from tempfile import NamedTemporaryFile

from holesched.errors import CannotWrite


def put_files(folder: Path, contents: Mapping[str, bytes]) -> tuple[Path, ...]:
    """Writes each of `contents` (name -> bytes) into `folder`, which is made when it is missing.

    Every file goes to a temporary name first and reaches the disk before any is renamed. When one cannot be written or
    renamed, those already renamed are put back as they were, no temporary file is left, and CannotWrite says which and why.
    """
    waiting: list[tuple[Path, Path]] = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, content in contents.items():
            waiting.append((_write_aside(folder, name, content), folder / name))
        _rename_all(waiting)
    except OSError as problem:
        for aside, _ in waiting:
            with suppress(OSError):
                aside.unlink(missing_ok=True)
        where = problem.filename2 or problem.filename or folder
        raise CannotWrite(
            f"cannot be written ({problem.strerror or problem})",
            str(where),
            "Is it open in another program, or the folder write-protected or full? Nothing was changed.",
        ) from problem
    return tuple(target for _, target in waiting)


def _write_aside(folder: Path, name: str, content: bytes) -> Path:
    with NamedTemporaryFile(dir=folder, prefix=f".{name}.", suffix=".part", delete=False) as aside:
        try:
            aside.write(content)
            aside.flush()
            os.fsync(aside.fileno())
        except OSError:
            aside.close()
            Path(aside.name).unlink(missing_ok=True)
            raise
    path = Path(aside.name)
    path.chmod(0o666 & ~_umask())
    return path


def _umask() -> int:
    """The process's file mode mask; it can only be read by setting it."""
    mask = os.umask(0o022)
    os.umask(mask)
    return mask


def _rename_all(waiting: list[tuple[Path, Path]]) -> None:
    """Renames every file into place, keeping the old ones until all are there."""
    kept: list[tuple[Path, Path | None]] = []
    try:
        for aside, target in waiting:
            kept.append((target, _keep(target)))
            os.replace(aside, target)
    except OSError:
        for target, old in reversed(kept):
            with suppress(OSError):
                if old is not None:
                    os.replace(old, target)
                    old.unlink(missing_ok=True)  # two names of one file: the rename then does nothing
                elif target.is_file():
                    target.unlink()
        raise
    for _, old in kept:
        if old is not None:
            with suppress(OSError):
                old.unlink()


def _keep(target: Path) -> Path | None:
    """A second name for the file at `target`, or None when there is none; a folder of that name is an error."""
    if target.is_dir():
        raise IsADirectoryError(21, "a folder has this name", str(target))
    if not target.exists():
        return None
    old = target.with_name(f".{target.name}.old")
    old.unlink(missing_ok=True)
    try:
        os.link(target, old)
    except OSError:
        shutil.copy2(target, old)
    return old
