"""What was found: the answers to inquiries in words, and the final score they leave."""

from collections.abc import Iterator, Mapping
from typing import Any

from reviewer.reports.composing.view import View
from reviewer.terms.messages import noted


def findings(view: View) -> Iterator[str]:
    """Each answer in a sentence of its own, as it is signed."""
    for one in _asked(view):
        answer, name = one["answer"], one["id"]
        if answer is not None and not answer["changed_since"]:
            said = view.say(
                "Finding on {inquiry}: {finding}.", inquiry=name, finding=found(view, one, answer)
            )
            yield f"{said} {answer['final']['said']}" if "final" in answer else said
        else:
            yield view.say("Inquiry {inquiry} is not answered as the marks are now.", inquiry=name)


def final_found(view: View) -> str | None:
    """The final score that the answers leave, where all that name one name the same."""
    standing = [one for one in _asked(view) if one["answer"] and not one["answer"]["changed_since"]]
    named = {score for one in standing if (score := _final(one)) is not None}
    return named.pop() if len(named) == 1 else None


def _asked(view: View) -> tuple[Mapping[str, Any], ...]:
    return tuple((view.finding.get("inquiry") or {}).get("asked", ()))


def _final(one: Mapping[str, Any]) -> str | None:
    """The final score that an answer to an inquiry leaves, if it says so."""
    answer = one["answer"]
    if "final" in answer:
        return None if answer["final"]["score"] is None else str(answer["final"]["score"])
    if one["of"] != "score" or answer["finding"] == "cannot be decided":
        return None
    score = answer.get("score") if answer["finding"] == "changes" else one["posted"]
    return None if score is None else str(score)


def found(view: View, one: Mapping[str, Any], answer: Mapping[str, Any]) -> str:
    """An answer in words."""
    say, score, of, posted = view.say, answer.get("score"), one["of"], one["posted"]
    if answer["finding"] == "stands" and posted is not None:
        stands = noted("the posted score of {score} stands")
        if of == "start value":
            stands = noted("the posted start value of {score} stands")
        return say(stands, score=posted)
    if answer["finding"] == "changes" and score is not None:
        by, start = answer.get("by"), of == "start value"
        if by is None:
            words = noted("the start value becomes {score}") if start else noted("the score becomes {score}")
            return say(words, score=score)
        if start:
            return say("the start value becomes {score}, a change of {by}", score=score, by=by)
        return say("the score becomes {score}, a change of {by}", score=score, by=by)
    return say.word(answer["finding"])
