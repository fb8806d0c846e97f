"""A page as one self-contained HTML file: a pure function of what it says and its pictures."""

import base64
import re
from collections.abc import Iterable, Mapping
from functools import cache
from importlib import resources
from typing import Any

from jinja2 import Environment, FunctionLoader, StrictUndefined, Template
from markupsafe import Markup

from reviewer.reports.blocks import Film, Page
from reviewer.reports.composing import compose
from reviewer.reports.plain import bound, visible

_ID = r"(?:recording-\d+-)?frame-\d+"
_PICTURE = re.compile(rf'id="({_ID})-picture" href="data:image/jpeg;base64,([A-Za-z0-9+/=]*)"')


def page(finding: Mapping[str, Any], pictures: Mapping[str, bytes]) -> str:
    """The report page. ``pictures`` maps a still's id to its JPEG bytes."""
    return as_html(compose(finding), finding["stills"], pictures)


def as_html(said: Page, shown: Iterable[Mapping[str, Any]], pictures: Mapping[str, bytes]) -> str:
    """Any page with the stills it shows; ``pictures`` by still's id."""
    stills = {
        still["id"]: {
            "size": still["size"],
            "data": base64.b64encode(pictures.get(still["id"], b"")).decode("ascii"),
        }
        for still in shown
    }
    films = any(isinstance(block, Film) for section in said.sections for block in section.blocks)
    return _template().render(page=said, stills=stills, films=films)


def pictures_in(html: str) -> dict[str, bytes]:
    """The pictures a page carries, by still id; what is not base64 comes back empty."""
    return {name: _decoded(data) for name, data in _PICTURE.findall(html)}


def _decoded(data: str) -> bytes:
    try:
        return base64.b64decode(data, validate=True)
    except ValueError:
        return b""


@cache
def _template() -> Template:
    room = Environment(
        loader=FunctionLoader(_source),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        finalize=_shown,
    )
    room.filters["drawn"] = Markup  # drawn by us; its words are escaped there
    room.filters["kind"] = lambda block: type(block).__name__
    return room.get_template("report.html")


def _shown(value: Any) -> Any:
    """What cannot be seen is shown by its number; what is already HTML stays."""
    return bound(visible(value)) if isinstance(value, str) and not isinstance(value, Markup) else value


def _source(name: str) -> str:
    return resources.files("reviewer.reports").joinpath("templates", name).read_text(encoding="utf-8")
