"""The letter that answers an inquiry: plain words, a pure function of the finding."""

from collections.abc import Mapping
from importlib import resources
from textwrap import fill, wrap
from typing import Any

from jinja2 import Environment, StrictUndefined

from reviewer.reports.excerpts import excerpt
from reviewer.reports.notices import notice
from reviewer.reports.plain import visible
from reviewer.terms.intervals import degrees_told, millimetres_told
from reviewer.words import Saying, saying

WIDTH = 78
"""Letters a line; what is longer than that by itself stays whole."""


def letter(finding: Mapping[str, Any], asked: Mapping[str, Any]) -> str:
    """The answer to one of a finding's inquiries, as text in the finding's language."""
    say = saying(finding.get("language", "en"))
    room = Environment(undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True, autoescape=False)
    text = resources.files("reviewer.reports").joinpath("templates", "letter.txt").read_text(encoding="utf-8")
    marks = {mark["id"]: mark for mark in finding["marks"]}
    answer, put = asked["answer"] or {}, asked["words"] or ""
    question, cut = excerpt(put)
    rests = [marks[name] for name in answer.get("marks", ()) if name in marks]
    said = room.from_string(text).render(
        finding=finding, asked=asked, answer=answer, marks=[_mark(one, say) for one in rests],
        readings=_readings(finding, answer, say), question=question,
        whole_question=_quoted(put) if cut else [], say=say, notice=notice(say),
        proposed=_proposed(asked["proposed"], say), changed=_changed(answer, say),
    )  # fmt: skip
    return "\n".join(_wrapped(line) for line in visible(said).split("\n")).rstrip() + "\n"


def _quoted(words: str) -> list[str]:
    """Somebody's words as lines that cannot be taken for the letter's own."""
    lines = (wrap(visible(line), WIDTH - 2) or [""] for line in words.splitlines())
    return [f"> {piece}".rstrip() for pieces in lines for piece in pieces]


def _proposed(found: Mapping[str, Any], say: Saying) -> str:
    """What the marks by themselves say."""
    said = say.word(found["finding"])
    return say("{what} to {score}", what=said, score=found["score"]) if found["score"] else said


def _changed(answer: Mapping[str, Any], say: Saying) -> str:
    """The marks that are otherwise than when it was answered."""
    return ", ".join(f"{one['mark']} ({say.word(one['how'])})" for one in answer.get("changed_since") or ())


def _mark(mark: Mapping[str, Any], say: Saying) -> str:
    """A mark as a line: what, and where it is seen."""
    where = say("without a time")
    if "frame" in mark:
        where = say("frame {frame}, {seconds} s", frame=mark["frame"], seconds=mark["seconds"])
    return f"{say.numbers(mark['name'])} ({mark['id']}): {where}"


def _readings(finding: Mapping[str, Any], answer: Mapping[str, Any], say: Saying) -> list[str]:
    """The readings a finding rests on, each with its doubt."""
    kept = {one["id"]: one for kind in ("readings", "pools") for one in finding.get(kind, ())}
    tops = {one["id"]: one["top"] for one in finding.get("tracks", ()) if one["top"]}
    lengths = {one["id"]: one for one in finding.get("lengths", ())}
    lines = []
    for name in answer.get("readings", ()):
        angle = kept.get(name) or tops.get(name)
        if angle is not None:
            lines.append(f"{name}: {say.word(degrees_told(angle))}")
        elif name in lengths:
            one = lengths[name]
            lines.append(f"{name}: {say.word(one['line'])}, {say.word(millimetres_told(one))}")
    return lines


def _wrapped(line: str) -> str:
    indent = " " * (len(line) - len(line.lstrip(" -")))
    return fill(line, WIDTH, subsequent_indent=indent, break_long_words=False, break_on_hyphens=False)
