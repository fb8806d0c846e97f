"""A page to practise judging with: one self-contained file, its key locked by a pass phrase."""

import base64
import json
from collections.abc import Mapping, Sequence
from functools import cache
from hashlib import sha256
from importlib import resources
from typing import Any

from jinja2 import Environment, StrictUndefined
from markupsafe import Markup

from reviewer.reports.notices import notice
from reviewer.reports.practicewords import practice_words
from reviewer.words import Saying, saying


def practice_page(
    asked: Mapping[str, Any], key: Mapping[str, Any], clips: Sequence[tuple[Mapping[str, Any], bytes]]
) -> str:
    """The page of a ``reviewer.practice/1`` document.

    ``key``: the locked ``reviewer.practice-key/1``, as `reviewer.exchange.locking` writes it. ``clips``: of
    each its id, its name, the seconds of a frame and whether it is a whole routine; and the bytes of its MP4.
    """
    say = saying(asked["language"])
    told = dict(asked) | {
        "clips": [dict(one) for one, _ in clips],
        "key": dict(key),
        "words": practice_words(say),
        "decimal": "." if say.writes_points else ",",
        "id": sha256(b"".join(sha256(film).digest() for _, film in clips)).hexdigest()[:16],
    }
    script = _part("practice.js")
    return (
        _room()
        .from_string(_part("practice.html"))
        .render(
            page=_shown(asked, say) | {"words": told["words"]},
            style=Markup(_part("practice.css")),
            script=Markup(script),
            script_hash=base64.b64encode(sha256(script.encode()).digest()).decode("ascii"),
            data=Markup(_as_data(told)),
            clips=[{"id": one["id"], "data": base64.b64encode(film).decode("ascii")} for one, film in clips],
        )
    )


def _shown(asked: Mapping[str, Any], say: Saying) -> dict[str, Any]:
    book = asked["rule_book"]
    scored = say("Judged by {book}, {season}.", book=book["title"], season=book["season"])
    about = say(
        "Look at a clip, call what you saw, and hold it against the key once whoever leads the exercise "
        "opens it."
    )
    return {
        "language": say.language,
        "title": say("Practice in judging, uneven bars"),
        "lead": (scored, about),
        "notice": notice(say),
        "cautions": [say.word(one) for one in asked["cautions"]],
    }


def _as_data(told: Mapping[str, Any]) -> str:
    """JSON that no word in it can end early: HTML Living Standard, 4.12.1.3, restrictions on scripts."""
    written = json.dumps(told, ensure_ascii=False, sort_keys=True)
    return written.replace("<", "\\u003c").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")


def _room() -> Environment:
    return Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)


@cache
def _part(name: str) -> str:
    return resources.files("reviewer.reports").joinpath("templates", name).read_text(encoding="utf-8")
