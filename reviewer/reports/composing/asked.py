"""The question and the finding: what was asked, what the recording shows, whether it changes a result."""

from collections.abc import Iterator, Mapping
from typing import Any

from reviewer.reports.blocks import Block, Listed, Paragraph, Run, Section, Words, joined, words
from reviewer.reports.composing.findings import found
from reviewer.reports.composing.view import View
from reviewer.reports.excerpts import excerpt


def question(view: View) -> Section:
    """What was asked and found; without an inquiry, what was looked into at all."""
    inquiry = view.finding.get("inquiry") or {"effect": "informational", "asked": []}
    blocks = [_effect(view, inquiry["effect"])]
    for one in inquiry["asked"]:
        blocks += [*_asked(view, one), *_answered(view, one), *_worded(view, one), *_admitted(view, one)]
    if not inquiry["asked"]:
        said = view.say("No inquiry was filed: the whole routine was looked through.")
        if "only" in view.score:
            said = view.say("No inquiry was filed: a part of the score was looked through.")
        blocks.append(Paragraph(words(said)))
    blocks += _posted(view)
    return Section("finding", view.say("The question and the finding"), tuple(blocks))


def _effect(view: View, effect: str) -> Block:
    if effect == "informational":
        return Paragraph(words(Run(view.say("Informational: this report changes no result."), "strong")))
    return Paragraph(words(Run(view.say("This report may change the result."), "strong")))


def _asked(view: View, one: Mapping[str, Any]) -> Iterator[Block]:
    yield Paragraph(words(Run(one["id"], "strong"), *_put(view, one)), anchor=f"inquiry-{one['id']}")


def _worded(view: View, one: Mapping[str, Any]) -> Iterator[Block]:
    """The question as it was put, in short where it is long."""
    if one.get("words_left_out"):
        yield Paragraph(
            words(view.say("The words of the question are not at hand here: they were left out or erased."))
        )
    if not one["words"]:
        return
    said, cut = excerpt(one["words"])
    asked = view.say("Asked in these words:")
    if not cut:
        yield Paragraph(words(asked, " ", said))
        return
    whole = Run(view.say("It is longer: all of it stands at the end of this report."), to=_whole(one))
    yield Paragraph(words(asked, " ", said, " ", whole))


def _whole(one: Mapping[str, Any]) -> str:
    return f"question-{one['id']}"


def long_questions(view: View) -> Section | None:
    """All of each question that stands in short beside its answer."""
    asked = (view.finding.get("inquiry") or {}).get("asked", ())
    blocks = [
        Paragraph(words(Run(one["id"], "strong"), " ", one["words"]), anchor=_whole(one))
        for one in asked
        if one["words"] and excerpt(one["words"])[1]
    ]
    if not blocks:
        return None
    return Section("questions", view.say("The whole question, as it was put"), tuple(blocks))


def _admitted(view: View, one: Mapping[str, Any]) -> Iterator[Block]:
    if one["refused_by"]:
        yield Paragraph(words(view.say("The edition does not admit it:")), warns=True)
        refused = tuple(words(view.clause(why["clause"]), ": ", why["why"]) for why in one["refused_by"])
        yield Listed(refused, warns=True)
    else:
        yield Paragraph(words(view.say("The edition admits it.")))
        if one["in_time"] == "not said":
            yield Paragraph(words(view.say("Whether it was filed in time was not said.")), warns=True)


def _put(view: View, one: Mapping[str, Any]) -> Iterator[str | Words]:
    """Who asked what, when, about which marks and clauses."""
    say = view.say
    yield " " + say(
        "Asked by {who} about {what}.", who=say.word(one["asked_by"]), what=say.word(one["about"])
    )
    if "after" in one:
        yield " " + say("Asked {time} after the score was shown.", time=one["after"])
    if one["marks"]:
        yield words(" ", say("Marks:"), " ", view.marks(one["marks"]), ".")
    if one["clauses"]:
        yield words(" ", say("Clauses:"), " ", joined(view.clause(name) for name in one["clauses"]), ".")


def _answered(view: View, one: Mapping[str, Any]) -> Iterator[Block]:
    say, answer, proposed = view.say, one["answer"], one["proposed"]
    if answer is None:
        yield Paragraph(words(Run(say("It is not yet answered."), "strong")), warns=True)
    else:
        told = say("Finding: {finding}.", finding=found(view, one, answer))
        final = f" {answer['final']['said']}" if "final" in answer else ""
        yield Paragraph(words(Run(told + final, "strong"), *_rests(view, answer)))
        yield from _since(view, answer)
        if answer.get("words"):
            yield Paragraph(words(answer["words"]))
        if answer.get("words_left_out"):
            yield Paragraph(
                words(say("The words of the answer are not at hand here: they were left out or erased."))
            )
    if answer is not None and not answer["changed_since"] and _otherwise_than(proposed, answer):
        yield Paragraph(words(Run(say("The judge found otherwise than the marks say."), "strong")))
    if proposed["why"]:
        yield Paragraph(words(say("What the marks say to it:")))
        yield Listed(tuple(words(why) for why in proposed["why"]))


def _since(view: View, answer: Mapping[str, Any]) -> Iterator[Block]:
    """The marks that are otherwise than when the answer was given."""
    since = answer["changed_since"]
    if since:
        named = ", ".join(f"{one['mark']} ({view.say.word(one['how'])})" for one in since)
        said = view.say("Marks are otherwise than when this was answered: {marks}.", marks=named)
        yield Paragraph(words(Run(said, "strong"), " ", view.say("It must be answered again.")), warns=True)


def _otherwise_than(proposed: Mapping[str, Any], answer: Mapping[str, Any]) -> bool:
    """Whether an answer is another one than the marks give."""
    return (proposed["finding"], proposed["score"]) != (answer["finding"], answer.get("score"))


def _rests(view: View, answer: Mapping[str, Any]) -> Iterator[Words]:
    """The marks and readings that the finding refers to."""
    if answer["marks"]:
        yield words(" ", view.say("It rests on marks:"), " ", view.marks(answer["marks"]), ".")
    if answer.get("readings"):
        cited = (view.evidence(name) for name in answer["readings"])
        yield words(" ", view.say("It rests on readings:"), " ", joined(cited), ".")


def _posted(view: View) -> Iterator[Block]:
    posted, towards = view.score["posted"], view.score["towards_posted"]
    if not posted:
        return
    say, nearest = view.say, posted["nearest"]
    panel = posted.get("as_panel")
    if posted["reachable"]:
        told = say("The posted score {score} can be reached on these marks.", score=posted["score"])
    elif panel and panel["reachable"]:
        told = say(
            "The posted score {score} is the average of {count} judges, and on these marks such a panel may "
            "come to it.",
            score=posted["score"],
            count=panel["judges"],
        )
        yield Paragraph(words(told))
        return
    elif view.score["problems"]:
        told = say(
            "Whether the posted score {score} can be reached cannot be decided: marks were left out that "
            "cannot be scored.",
            score=posted["score"],
        )
    elif posted["reachable"] is None:
        told = say(
            "The posted score {score} lies between the bounds of what can be reached; whether it can be "
            "reached is not told.",
            score=posted["score"],
        )
    else:
        told = say(
            "The posted score {score} cannot be reached on these marks; the nearest score that can is "
            "{nearest}, {away} away.",
            score=posted["score"],
            nearest=nearest,
            away=towards["away"],
        )
    beside = (*_at_full_speed(view), *_takes(view, nearest, towards), *_otherwise(view, posted, towards))
    yield Paragraph(words(told, *beside))


def _at_full_speed(view: View) -> Iterator[str]:
    """Whether a panel that saw it once, at full speed, could have come to the posted score."""
    seen = view.score["posted"].get("full_speed")
    if seen is not None and seen["reachable"]:
        yield " " + view.say("Of what could be seen at full speed it can be reached.")
    elif seen is not None and seen["reachable"] is False and "as_panel" not in view.score["posted"]:
        yield " " + view.say(
            "Of what could be seen at full speed it cannot be reached; the nearest is {nearest}.",
            nearest=seen["nearest"],
        )


def _takes(view: View, nearest: str, towards: Mapping[str, Any]) -> Iterator[str]:
    if towards["takes"]:
        ways = view.say(" and ").join(_way(view, one) for one in towards["takes"])
        yield " " + view.say("{score} would take: {changes}.", score=nearest, changes=ways)


def _way(view: View, one: Mapping[str, str]) -> str:
    if "amount" in one:
        return f"{one['mark']} {view.say.word(one['amount'])}"
    return view.say("{mark} cast {state}", mark=one["mark"], state=view.say.word(one["cast"]))


def _otherwise(view: View, posted: Mapping[str, Any], towards: Mapping[str, Any]) -> Iterator[str]:
    other = towards["with_other_readings"]
    if not posted["reachable"] and other and other["reachable"]:
        yield " " + view.say("With another reading of what the rules leave open it could be reached.")
