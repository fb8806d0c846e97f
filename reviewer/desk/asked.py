"""One inquiry as a page to read: what was asked, whether it is admitted, what the marks say, the answer."""

from collections.abc import Iterator
from html import escape
from typing import Any

from reviewer import actions
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


def _asked(one: dict[str, Any], say: Saying) -> str:
    by, about = say.word(one["asked_by"]), say.word(one["about"])
    return say("The {who} asks about {what}", who=by, what=about)


def _admitted(one: dict[str, Any], say: Saying) -> Iterator[str]:
    for refused in one["refused_by"]:
        why, clause = escape(refused["why"]), escape(refused["clause"])
        yield f"<p>{say('Not admitted: {why} ({clause})', why=why, clause=clause)}</p>"
    if not one["refused_by"]:
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
