"""The score, what else could be reached on the same marks, and the panel's own scores beside it."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from reviewer.reports.blocks import Amounts, Block, Column, Listed, Paragraph, Row, Run, Section, Table, words
from reviewer.reports.composing.findings import final_found
from reviewer.reports.composing.standing import final_name
from reviewer.reports.composing.view import NOTHING, View
from reviewer.terms.messages import noted

_PARTS = {
    "start-value": noted("Start value"),
    "execution": noted("Execution"),
    "neutral": noted("Neutral deductions"),
}


def score(view: View) -> Section:
    """The score of the marks, and the scores that were reachable."""
    say, found = view.say, view.score
    if "only" in found:
        return Section("score", say("The part that was audited"), tuple(_part(view, found["only"])))
    as_found = final_found(view)
    amounts = [] if as_found is None else [(say("Final score as found"), as_found)]
    amounts += [(final_name(view), found["final_score"]), (say("Start value"), found["start_value"])]
    amounts += [(say("Judge {judge}", judge=one["judge"]), one["score"]) for one in found["judges"]]
    amounts.append((say("Panel average"), found["panel_average"]))
    if found["posted"]:
        amounts.append((say("Posted by the panel"), found["posted"]["score"]))
    blocks = [Amounts(tuple(amounts)), *_attempts(view), *_reachable(view)]
    return Section("score", say("Score and reachable scores"), tuple(blocks))


def _part(view: View, only: Sequence[str]) -> Iterator[Block]:
    """What an audit of some parts of the score came to; nothing else is a finding."""
    say = view.say
    parts = ", ".join(say(_PARTS[part]) for part in only)
    said = say("Only this was audited: {parts}. Nothing else of the score was looked at.", parts=parts)
    yield Paragraph(words(said), warns=True)
    found = view.score
    amounts = [(say("Start value"), found["start_value"])]
    amounts += [
        (say("Deductions of judge {judge}", judge=one["judge"]), one["points"])
        for one in found.get("deductions", ())
    ]
    amounts.append((say("Neutral deductions"), found.get("neutral")))
    amounts.append((say("Panel average"), found["panel_average"]))
    known = tuple((name, amount) for name, amount in amounts if amount is not None)
    if known:
        yield Amounts(known)
    yield from _attempts(view)


def panel(view: View) -> Section | None:
    """The comparison with the panel: what it could see at full speed, and its own scores."""
    blocks = (*_full_speed(view), *_panel(view))
    return Section("panel", view.say("Comparison with the panel"), blocks) if blocks else None


def _attempts(view: View) -> Iterator[Block]:
    aside = view.score.get("set_aside")
    if view.several and aside:
        said = view.say(
            "The exercise was begun more than once: attempt {attempt} counts. Marks of other attempts are "
            "kept and count nothing:",
            attempt=view.score["attempt"],
        )
        yield Paragraph(words(said, " ", view.marks(aside), "."))


def _reachable(view: View) -> Iterator[Block]:
    say, reachable = view.say, view.score["reachable"]
    low, high = reachable["low"], reachable["high"]
    if low == high:
        yield Paragraph(words(say("On these marks the rule book allows only {score}.", score=low)))
    else:
        said = say("On these marks the rule book allows scores from {low} to {high}.", low=low, high=high)
        bounds = (
            ""
            if reachable["exact"]
            else " " + say("These are bounds; not every score between them need be reachable.")
        )
        yield Paragraph(words(said + bounds))
    if reachable["decisions"]:
        yield Listed(tuple(_decision(view, one) for one in reachable["decisions"]))
    if len(reachable["decisions"]) > 1:
        yield Paragraph(words(_apart(view)))


def _decision(view: View, one: Mapping[str, Any]) -> tuple[Run, ...]:
    kind = view.say("may be asked") if one["kind"] == "fact" else view.say("judgement of execution")
    return words(one["why"], " (", view.marks(one["marks"]), "; ", Run(kind, "soft"), ")")


def _apart(view: View) -> str:
    say, apart = view.say, view.score["reachable_apart"]
    facts, judged = apart["facts"], apart["judgement"]
    if facts["low"] == facts["high"]:
        return say("All of this is judgement of execution; none of it is a fact to be asked about.")
    if judged["low"] == judged["high"]:
        return say("All of this is fact, which may be asked about; none of it is judgement of execution.")
    asked = say("The facts that may be asked about allow {low} to {high} by themselves.", **_ends(facts))
    judgement = say("Judgement of execution allows {low} to {high} by itself.", **_ends(judged))
    return f"{asked} {judgement}"


def _ends(span: Mapping[str, Any]) -> dict[str, Any]:
    return {name: span[name] for name in ("low", "high")}


def _full_speed(view: View) -> Iterator[Block]:
    seen = view.score["full_speed"]
    if seen:
        said = view.say(
            "The panel sees a routine once, at full speed, from one seat. Of what could be seen at full "
            "speed the score is {score}.",
            score=seen["final_score"],
        )
        only = view.say("It leaves out what slow motion showed of these marks:")
        allows = view.say("On what is left the rule book allows {low} to {high}.", **_ends(seen["reachable"]))
        yield Paragraph(words(said, " ", only, " ", view.marks(seen["left_out"]), ". ", allows))


def _panel(view: View) -> Iterator[Block]:
    say, kept = view.say, view.score.get("panel", {})
    titles = {
        "before": say("The panel's own scores before a conference"),
        "after": say("The panel's own scores after a conference"),
    }
    for when in [when for when in titles if when in kept]:
        one = kept[when]
        own = "; ".join(f"{judge['judge']} {say.word(judge['score'])}" for judge in one["judges"])
        yield Paragraph(words(f"{titles[when]}: {own}. ", *_spread(view, one)))
    if kept and "only" not in view.score:
        yield Table(say("The panel and this sheet"), _columns(view), tuple(_panel_rows(view, kept)))


def _spread(view: View, one: Mapping[str, Any]) -> Iterator[str]:
    spread = one["spread"]
    if spread:
        said = noted("They lie {spread} apart, more than the {allowed} allowed.")
        if spread["within"]:
            said = noted("They lie {spread} apart, within the {allowed} allowed.")
        yield view.say(said, spread=spread["spread"], allowed=spread["allowed"])


def _columns(view: View) -> tuple[Column, ...]:
    say = view.say
    return (Column(say("Scores of"), 3), Column(say("Average"), 1, True), Column(say("Final score"), 1, True))


def _panel_rows(view: View, kept: Mapping[str, Any]) -> Iterator[Row]:
    say, own = view.say, view.score
    names = {"before": say("The panel before"), "after": say("The panel after")}
    for when, name in names.items():
        if when in kept:
            one = kept[when]
            yield _row(name, one["panel_average"], one["final_score"])
    if own["posted"]:
        yield _row(say("Posted"), NOTHING, own["posted"]["score"])
    yield _row(say("This sheet"), own["panel_average"], own["final_score"])


def _row(name: str, average: str, final: str) -> Row:
    return Row((words(name), words(average), words(final)))
