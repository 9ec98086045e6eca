"""The files that ship inside the package: tables, templates, style sheets, fonts. The only user of importlib.resources."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable


def table_text(name: str) -> str:
    """The text of a table in holesched/data, by file name."""
    return _file("holesched.data", name).read_text(encoding="utf-8")


def template_text(name: str) -> str:
    """The text of a template or style sheet in templates/, by file name."""
    return _file("holesched.templates", name).read_text(encoding="utf-8")


def template_bytes(name: str) -> bytes:
    """The bytes of a font in templates/, by file name."""
    return _file("holesched.templates", name).read_bytes()


def _file(package: str, name: str) -> Traversable:
    from importlib.resources import files  # here, because importing it costs a sixth of loading the standards

    return files(package).joinpath(name)
