"""Lays out pages: one log, or an index of many. No script, no network, nothing that a name could break."""

from collections.abc import Iterable, Sequence
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from engine.inert import inert
from engine.review.audit import WORDS, Audit
from engine.review.page.circuit import sign
from engine.review.page.photos import Photo
from engine.review.page.sheet import sheet_of
from engine.review.row import LogRow

if TYPE_CHECKING:
    from jinja2 import Environment, Template


def page(audit: Audit, photos: Sequence[Photo] = ()) -> str:
    """Return the page of one audited log: one HTML file that stands alone.

    Args:
        audit: The audit.
        photos: Its files, from ``photos_of``.
    """
    return template("log.html.j2").render(sheet=_marked(audit, tuple(photos)), title=audit.name)


def index(rows: Iterable[LogRow], hrefs: Sequence[str] = ()) -> str:
    """Return an index page of many logs, in the order given; ``hrefs`` are the names of their pages beside it."""
    listed = list(rows)
    links = [quote(href) for href in hrefs] or [""] * len(listed)
    return template("index.html.j2").render(
        logs=list(zip(listed, links, strict=True)), title="Session logs"
    )  # fmt: skip


def template(name: str) -> "Template":
    """Return a template of a page by its file's name."""
    return _environment().get_template(name)


def _marked(audit: Audit, photos: tuple[Photo, ...]) -> Any:  # noqa: ANN401 - a sheet whose pictures are markup
    from dataclasses import replace

    from markupsafe import Markup  # local: comes with the template library

    sheet = sheet_of(audit, photos)
    return replace(sheet, drawing=Markup(sheet.drawing), ladder=Markup(sheet.ladder))


@cache
def _environment() -> "Environment":
    from jinja2 import Environment, FileSystemLoader, StrictUndefined  # local: only pages need the template library

    made = Environment(
        loader=FileSystemLoader(Path(__file__).parent),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_plain,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["sign"] = sign
    made.globals["words"] = WORDS
    return made


def _plain(value: object) -> object:
    """Return a text without anything that could turn or hide it; markup of our own stays."""
    return inert(value) if type(value) is str else value
