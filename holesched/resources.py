"""The files that ship inside the package: tables, templates, style sheets, fonts. The only user of importlib.resources."""

from __future__ import annotations

from importlib.resources import files


def table_text(name: str) -> str:
    """The text of a table in holesched/data, by file name."""
    return files("holesched.data").joinpath(name).read_text(encoding="utf-8")


def template_text(name: str) -> str:
    """The text of a template or style sheet in templates/, by file name."""
    return files("holesched.templates").joinpath(name).read_text(encoding="utf-8")


def template_bytes(name: str) -> bytes:
    """The bytes of a font in templates/, by file name."""
    return files("holesched.templates").joinpath(name).read_bytes()
