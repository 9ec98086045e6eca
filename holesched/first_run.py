"""Makes a fresh machine ready, then runs `holesched`, or the tests for the word `tests`.

    python3 -m holesched.first_run sheet example_inputs/manifold_block.xlsx
    python3 -m holesched.first_run tests

Needs python3 with venv and nothing else. It makes `.venv` beside pyproject.toml, installs the package and what it needs,
and, where the system's package manager is apt and may be used, the Pango library that writes PDFs (and Chromium for the
browser tests). Where Pango cannot be had everything but the PDF is still made.
"""

from __future__ import annotations

import ctypes.util
import hashlib
import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

CHECKOUT = Path(__file__).resolve().parent.parent
ENVIRONMENT = CHECKOUT / ".venv"
PANGO_PACKAGES = ("libpango-1.0-0", "libpangoft2-1.0-0")
BROWSER_PACKAGES = ("chromium", "libatomic1")
"""The browser, and the library that the driver of the browser tests is linked with."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Makes ready and hands over to holesched, or to pytest for the word `tests`."""
    arguments = list(sys.argv[1:] if arguments is None else arguments)
    testing = arguments[:1] == ["tests"]
    python = make_environment(testing)
    get_pango()
    if testing:
        get_browser()
        return subprocess.call([str(python), "-m", "pytest", *arguments[1:]], cwd=CHECKOUT)
    return subprocess.call([str(python), "-m", "holesched", *arguments])


def make_environment(testing: bool) -> Path:
    """The Python of `.venv`, with the package installed; installed anew only when pyproject.toml has changed."""
    python = ENVIRONMENT / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    wanted = hashlib.sha256((CHECKOUT / "pyproject.toml").read_bytes() + str(testing).encode()).hexdigest()
    mark = ENVIRONMENT / "installed"
    if python.exists() and mark.exists() and mark.read_text().split()[:1] == [wanted]:
        return python
    print("first run: making .venv and installing what holesched needs ...", file=sys.stderr, flush=True)
    subprocess.check_call([sys.executable, "-m", "venv", str(ENVIRONMENT)])
    target = f"{CHECKOUT}[test]" if testing else str(CHECKOUT)
    subprocess.check_call([str(python), "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "-e", target])
    mark.write_text(wanted)
    return python


def get_pango() -> None:
    """Installs Pango by apt where it is missing and that is possible; says what to do where it is not."""
    if ctypes.util.find_library("pango-1.0") and ctypes.util.find_library("pangoft2-1.0"):
        return
    if os.name == "posix" and sys.platform.startswith("linux"):
        _apt_install(PANGO_PACKAGES)


def get_browser() -> None:
    """Installs Chromium by apt, for the browser tests, where it is missing and that is possible."""
    if not (shutil.which("chromium") and ctypes.util.find_library("atomic")):
        _apt_install(BROWSER_PACKAGES)


def _apt_install(packages: Sequence[str]) -> None:
    """Installs Debian packages, as root or through a sudo that asks nothing; otherwise prints the line to run."""
    command = ["apt-get", "install", "--yes", "--no-install-recommends", *packages]
    if shutil.which("apt-get"):
        prefix = [] if os.geteuid() == 0 else ["sudo", "--non-interactive"]
        if not prefix or shutil.which("sudo"):
            print(f"first run: installing {', '.join(packages)} ...", file=sys.stderr, flush=True)
            environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
            subprocess.run([*prefix, "apt-get", "update"], capture_output=True, env=environment, check=False)
            done = subprocess.run([*prefix, *command], capture_output=True, text=True, env=environment, check=False)
            if done.returncode == 0:
                return
            print(done.stderr.strip(), file=sys.stderr)
    print(f"first run: to have PDFs and browser tests install: {' '.join(packages)}", file=sys.stderr, flush=True)


if __name__ == "__main__":
    sys.exit(main())
