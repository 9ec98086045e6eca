"""Values to HTML: one environment, strict about names, escaping everything; a document carries its style and its fonts."""

from __future__ import annotations

import re
from base64 import b64encode
from dataclasses import fields
from functools import cache

from jinja2 import Environment, FunctionLoader, StrictUndefined
from markupsafe import Markup, escape

from holesched.reports.base import RunStamp
from holesched.reports.sketch.ruler import BLANK
from holesched.reports.sketch.svg import FONT
from holesched.resources import template_bytes, template_text

FONTS = (("sheet-regular.woff2", 400), ("sheet-bold.woff2", 700))


@cache
def environment() -> Environment:
    """The one template environment: StrictUndefined, autoescape, no globals."""
    made = Environment(
        loader=FunctionLoader(template_text),
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    made.globals.clear()
    made.filters["drawing"] = Markup
    made.filters["css_text"] = css_text
    made.filters["unbroken"] = unbroken
    made.filters["with_box"] = with_box
    return made


def unbroken(text: str) -> str:
    """A tool's title, whose figures keep their units on their line."""
    return re.sub(r"(?<=\d) (?=(?:mm|in)\b)", "\N{NO-BREAK SPACE}", text)


def with_box(text: str) -> Markup:
    """A sentence with an empty box where something is to be measured and written in."""
    return escape(text).replace(BLANK, Markup('<span class="blank"></span>'))


def css_text(text: str) -> Markup:
    """Text inside a string of the style sheet: everything but letters, figures, dots and dashes as an escape."""
    return Markup(
        "".join(char if (char.isalnum() and char.isascii()) or char in "._-" else f"\\{ord(char):06x}" for char in text)
    )


@cache
def style() -> Markup:
    """The style sheet with the fonts inside, so that the document needs no other file and no network."""
    faces = [
        f'@font-face {{ font-family: "{FONT}"; font-weight: {weight}; '
        f'src: url("data:font/woff2;base64,{b64encode(template_bytes(name)).decode("ascii")}") format("woff2"); }}'
        for name, weight in FONTS
    ]
    return Markup("\n".join([*faces, template_text("sheet.css")]))


def render(template: str, view: object, stamp: RunStamp) -> str:
    """A view value through its template. The view's fields are the template's only names, with `style` and `date`."""
    values = {field.name: getattr(view, field.name) for field in fields(view)}  # type: ignore[arg-type]
    return environment().get_template(template).render(style=style(), date=stamp.date.isoformat(), **values)
