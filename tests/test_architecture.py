"""The house rules that a machine can check."""

from __future__ import annotations

import ast
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "holesched"
MODULES = sorted(PACKAGE.rglob("*.py"))
LONGEST = 350


def test_layers_hold() -> None:
    """The one-way flow of pyproject.toml; a package that nobody listed is an error too."""
    command = [sys.executable, "-c", "from importlinter.cli import lint_imports; raise SystemExit(lint_imports())"]
    run = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stdout + run.stderr


@pytest.mark.parametrize("command", [["mypy"], ["ruff", "check", "."], ["ruff", "format", "--check", "."]], ids=" ".join)
def test_types_and_lint(command: list[str]) -> None:
    run = subprocess.run([sys.executable, "-m", *command], cwd=ROOT, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stdout + run.stderr


@pytest.mark.parametrize("module", MODULES, ids=lambda path: str(path.relative_to(ROOT)))
def test_modules_can_be_read_in_one_sitting(module: Path) -> None:
    text = module.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= LONGEST
    assert ast.get_docstring(ast.parse(text)), "a module says what it is for"


def test_public_functions_have_docstrings() -> None:
    bare = [
        f"{module.relative_to(ROOT)}:{node.lineno} {node.name}"
        for module in MODULES
        for node in ast.parse(module.read_text(encoding="utf-8")).body
        if isinstance(node, ast.FunctionDef | ast.ClassDef)
        and not node.name.startswith("_")
        and ast.get_docstring(node) is None
    ]
    assert bare == []


def test_packages_are_listed_by_hand_and_all_there() -> None:
    """A package that is missing from the list is dropped from the wheel without a word."""
    listed = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["setuptools"]["packages"]
    found = {".".join(("holesched", *path.parent.relative_to(PACKAGE).parts)) for path in PACKAGE.rglob("__init__.py")}
    assert sorted(listed) == sorted(found | {"holesched.templates"})


def test_nothing_vague() -> None:
    """A thing without a name of the trade has not been understood yet."""
    vague = {"utils", "util", "helpers", "helper", "manager", "common", "misc"}
    assert [module for module in MODULES if vague & set(module.stem.split("_"))] == []


def test_standards_load_quickly_and_alone() -> None:
    """holesched.standards is for other people's programs too: no pandas, no pint, no reports behind it."""
    code = (
        "import sys, holesched.standards, holesched.standards.threads;"
        "heavy = {'pandas', 'numpy', 'pint', 'openpyxl', 'weasyprint', 'jinja2'} & set(sys.modules);"
        "assert not heavy, heavy"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


def test_help_loads_nothing_heavy() -> None:
    code = (
        "import sys, holesched.cli as cli\n"
        "try: cli.main(['--help'])\n"
        "except SystemExit: pass\n"
        "heavy = {'pandas', 'numpy', 'pint', 'openpyxl', 'weasyprint', 'jinja2', 'python_calamine'} & set(sys.modules)\n"
        "assert not heavy, heavy"
    )
    subprocess.run([sys.executable, "-c", code], check=True, capture_output=True)
