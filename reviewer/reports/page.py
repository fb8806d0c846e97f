"""The report as one self-contained HTML file: a pure function of the finding and its pictures."""

import base64
import re
from collections.abc import Mapping
from importlib import resources
from typing import Any

from jinja2 import Environment, FunctionLoader, StrictUndefined
from markupsafe import Markup

STAGE_NAMES = {
    "start-value": "Start value",
    "execution": "Execution",
    "neutral": "Neutral deductions",
    "courtesy": "Courtesy score",
}
_ID = r"(?:recording-\d+-)?frame-\d+"
_PICTURE = re.compile(rf'id="({_ID})-picture" href="data:image/jpeg;base64,([A-Za-z0-9+/=]*)"')


def page(finding: Mapping[str, Any], pictures: Mapping[str, bytes]) -> str:
    """The report page. ``pictures`` maps a still's id to its JPEG bytes."""
    room = Environment(
        loader=FunctionLoader(_template),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    stills = [
        {
            **still,
            "data": base64.b64encode(pictures.get(still["id"], b"")).decode("ascii"),
            "shapes": Markup(still["overlay"]),  # drawn by us; its words are escaped there
        }
        for still in finding["stills"]
    ]
    shown = {(still.get("recording", 1), still["frame"]): still["id"] for still in finding["stills"]}
    return room.get_template("report.html").render(
        finding=finding,
        score=finding["score"],
        stills=stills,
        readings=[one | {"figure": _residuals(one["residuals_drawn"])} for one in finding["readings"]],
        tracks=[one | {"figure": Markup(one.get("curve", ""))} for one in finding.get("tracks", [])],
        shown=shown,
        stage_names=STAGE_NAMES,
        several="recordings" in finding,
    )


def _residuals(drawn: Mapping[str, Any] | None) -> dict[str, Any] | None:
    return {"part": drawn["part"], "shapes": Markup(drawn["svg"])} if drawn else None


def pictures_in(html: str) -> dict[str, bytes]:
    """The pictures a page carries, by still id; what is not base64 comes back empty."""
    return {name: _decoded(data) for name, data in _PICTURE.findall(html)}


def _decoded(data: str) -> bytes:
    try:
        return base64.b64decode(data, validate=True)
    except ValueError:
        return b""


def _template(name: str) -> str:
    return resources.files("reviewer.reports").joinpath("templates", name).read_text(encoding="utf-8")
