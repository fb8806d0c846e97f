"""One inquiry as a page to read: what was asked, whether it is admitted, what the marks say, the answer."""

from collections.abc import Iterator
from html import escape
from typing import Any

from reviewer import actions
from reviewer.terms.inquiries import CHANGES
from reviewer.words import Saying


def told(one: dict[str, Any], say: Saying) -> str:
    """An inquiry of ``reviewer.inquiries``, its sentences said in the language already, as HTML."""
    parts = [f"<p><b>{escape(_asked(one, say))}</b></p>"]
    if one["words"]:
        parts.append(f"<p>“{escape(actions.excerpt(one['words'])[0])}”</p>")
    parts += list(_admitted(one, say))
    proposed, answer = one["proposed"], one["answer"]
    why = "".join(f"<li>{escape(said)}</li>" for said in proposed["why"])
    parts.append(f"<p>{say('The marks say: {finding}', finding=_found(proposed, say))}</p><ul>{why}</ul>")
    given = say("not answered yet") if answer is None else _found(answer, say)
    parts.append(f"<p>{say('Answer: {finding}', finding=given)}</p>")
    parts += [f"<p>{escape(line)}</p>" for line in _beside(answer, say)] if answer else []
    if answer is not None and answer["words"]:
        parts.append(f"<p>{escape(answer['words'])}</p>")
    return "".join(parts)


def listed_as(one: dict[str, Any], say: Saying) -> str:
    """An inquiry in a line of a list: its id, who asks about what, and when."""
    by, about = say.word(one["asked_by"]), say.word(one["about"])
    return f"{one['id']}: {by}, {about}, {_when(one, say)}"


def _when(one: dict[str, Any], say: Saying) -> str:
    if "after" not in one:
        return say("time not said")
    return say("{time} after the score was shown", time=one["after"])


def _asked(one: dict[str, Any], say: Saying) -> str:
    by, about = say.word(one["asked_by"]), say.word(one["about"])
    asked = say("The {who} asks about {what}", who=by, what=about)
    about_marks = [say("about marks {marks}", marks=", ".join(one["marks"]))] if one.get("marks") else []
    return ", ".join((asked, _when(one, say), *about_marks))


def _admitted(one: dict[str, Any], say: Saying) -> Iterator[str]:
    for refused in one["refused_by"]:
        why, clause = escape(refused["why"]), escape(refused["clause"])
        yield f"<p>{say('Not admitted: {why} ({clause})', why=why, clause=clause)}</p>"
    answer = one["answer"]
    if one["refused_by"]:
        return
    if answer is not None and answer["finding"] != CHANGES:
        yield f"<p>{say('The edition admits it; the answer leaves the result as it is.')}</p>"
    else:
        yield f"<p>{say('The edition admits it; a report may change the result.')}</p>"


def _found(said: dict[str, Any], say: Saying) -> str:
    finding = f"<b>{escape(say.word(said['finding']))}</b>"
    if said.get("score") is None:
        return finding
    if not said.get("by"):
        return say("{finding} to {score}", finding=finding, score=said["score"])
    return say("{finding} to {score}, by {by}", finding=finding, score=said["score"], by=said["by"])


def _beside(answer: dict[str, Any], say: Saying) -> Iterator[str]:
    """What an answer leads to, and whether it still rests on the marks as they are."""
    if "final" in answer:
        yield answer["final"]["said"]
    if answer["changed_since"]:
        named = ", ".join(f"{one['mark']} ({say.word(one['how'])})" for one in answer["changed_since"])
        yield say("Marks are otherwise than when this was answered: {marks}. Answer it again.", marks=named)
