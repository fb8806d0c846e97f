"""A score sheet on the terminal: the ledger, what was not earned or taken, remarks, what was reachable."""

from collections.abc import Iterator
from typing import Any

import click

from reviewer.terms.intervals import degrees_told

_MOST_SCORES = 12


def tell_sheet(score: dict[str, Any]) -> None:
    """A ``reviewer.score/1`` document as text."""
    told = _part(score) if "only" in score else (*_result(score), *_reachable(score), *_posted(score))
    for line in (*_first(score), *_ledger(score), *_beside(score), *told):
        click.echo(line)


def _first(score: dict[str, Any]) -> Iterator[str]:
    """What takes the score its weight: said before it."""
    if "open_lines" in score:
        yield f"{still_open(len(score['open_lines']))} ({', '.join(score['open_lines'])})"


def still_open(lines: int) -> str:
    """That a settlement with open lines has no score yet."""
    many = "1 line is" if lines == 1 else f"{lines} lines are"
    return f"{many} still open: this is no settled score."


def _ledger(score: dict[str, Any]) -> Iterator[str]:
    parts = score["value_parts"]
    credited = "" if parts is None else f"; value parts credited: {parts}"
    yield f"Rule book {score['rule_book']['id']}{credited}."
    for one in score["interpretations"]:
        yield f"Read otherwise than the edition states: {one['clause']}: {one['says']}. {one['question']}"
    for line in score["lines"]:
        who = f" {line['judge']}" if line["judge"] else ""
        yield f"{line['points']:>8}  {line['stage']}{who}  {line['why']}"
        marks, frames = ", ".join(line["marks"]) or "-", _frames(line)
        yield f"          clause {line['clause']} · marks {marks} · frames {frames} · {line['source']}"


def _beside(score: dict[str, Any]) -> Iterator[str]:
    for one in score["not_earned"]:
        yield f"          not earned: {one['why']} ({', '.join(one['marks'])}: {one['reason']})"
    for one in score["casts"]:
        yield f"          cast {one['mark']} counted as {one['counted_as']}: {_resting(one['angle'])}"
    for one in score["not_taken"]:
        yield f"          not taken: {one['why']} ({', '.join(one['marks'])}: clause {one['clause']})"
    for one in score["notes"]:
        marks = f" ({', '.join(one['marks'])})" if one["marks"] else ""
        yield f"          mind: {one['why']}{marks}"


def _resting(angle: dict[str, Any] | None) -> str:
    """What the decision on a cast rests on."""
    if angle is None:
        return "nothing was said of its height"
    if angle.get("verdict"):
        return f"a verdict by {angle['by']}, {angle['verdict']}"
    spread = angle.get("u_deg")
    size = degrees_told({"value_deg": angle["deg"], "u_deg": spread}) if spread else f"{angle['deg']}°"
    return f"{size} by {angle['by']}"


def _part(score: dict[str, Any]) -> Iterator[str]:
    """What an audit of some parts came to."""
    yield f"Audited only: {', '.join(score['only'])}; nothing else was looked at."
    if "start-value" in score["only"]:
        yield f"Start value {score['start_value']}"
    for one in score.get("deductions", ()):
        yield f"Judge {one['judge']} takes {one['points']}"
    if "neutral" in score:
        yield f"Neutral deductions take {score['neutral']}"
    if score["panel_average"] is not None:
        yield f"Average {score['panel_average']}"


def _result(score: dict[str, Any]) -> Iterator[str]:
    judges = ", ".join(f"{one['judge']} {one['score']}" for one in score["judges"])
    yield f"Start value {score['start_value']} · judges {judges} · average {score['panel_average']}"
    sure = " of the lines settled so far" if "open_lines" in score else ""
    sure = " of the marks that could be scored" if score["problems"] else sure
    yield f"Final score{sure} {score['final_score']}"
    seen = score["full_speed"]
    if seen is not None:
        without = ", ".join(seen["left_out"])
        left_out = f"(without what slow motion showed of {without})"
        yield f"Of what could be seen at full speed: {seen['final_score']} {left_out}"
        yield f"          reachable then: {_range(seen['reachable'])}"
    if score["spread"] is not None:
        yield f"The judges lie {_apart(score['spread'])}"
    for when, one in score.get("panel", {}).items():
        judges = ", ".join(f"{own['judge']} {own['score']}" for own in one["judges"])
        said = f" · {_apart(one['spread'])}" if one["spread"] is not None else ""
        yield f"The panel's own scores {when} a conference: {judges} · {one['final_score']}{said}"
    rests = score["rests_on"]
    if rests["deductions"]:
        yield (
            f"{rests['unread_points']} of the {rests['points']} taken rest on clauses that nobody read "
            "in a published rule book."
        )


def _reachable(score: dict[str, Any]) -> Iterator[str]:
    found, apart = score["reachable"], score["reachable_apart"]
    yield f"Reachable on these marks: {_range(found)}"
    for one in found["decisions"]:
        yield f"          {one['kind']}: {one['why']} ({', '.join(one['marks'])})"
    if found["decisions"]:
        yield f"  what can be asked alone: {_range(apart['facts'])}"
        yield f"  judgement of execution alone: {_range(apart['judgement'])}"
    others = apart["with_other_readings"]
    for one in others["open"] if others else ():
        yield f"          left open by the rule ({one['clause']}): {one['why']}"


def _posted(score: dict[str, Any]) -> Iterator[str]:
    posted, towards = score["posted"], score["towards_posted"]
    if posted is None:
        return
    partly, away = bool(score["problems"]), f", {towards['away']} away"
    yield f"Posted {posted['score']}: {verdict(posted, partly, ' on these marks', away)}"
    if "as_panel" in posted:
        panel = posted["as_panel"]
        yield f"          as the average of {panel['judges']} judges: {verdict(panel, partly)}"
    if "full_speed" in posted:
        yield f"          of what could be seen at full speed: {verdict(posted['full_speed'], partly)}"
    if towards["takes"]:
        yield f"          {posted['nearest']} would take: {' and '.join(map(_change, towards['takes']))}"
    others = towards["with_other_readings"]
    if others is not None and not posted["reachable"] and others["reachable"]:
        yield "          With another reading of what the rules leave open it would be."


def verdict(found: dict[str, Any], partly: bool, which: str = "", away: str = "") -> str:
    """Whether a posted score can be reached; ``partly``: marks were left out that cannot be scored."""
    if found["reachable"]:
        return f"reachable{which}"
    if found["reachable"] is not None:
        return f"not reachable{which}; nearest {found['nearest']}{away}"
    if partly:
        return "cannot be decided: marks were left out that cannot be scored"
    return f"between the bounds of what is reachable{which}; whether it is cannot be told"


def _change(one: dict[str, str]) -> str:
    return f"{one['mark']} cast {one['cast']}" if "cast" in one else f"{one['mark']} {one['amount']}"


def _apart(spread: dict[str, Any]) -> str:
    """How far judges lie apart, and how far they may."""
    word = "within" if spread["within"] else "more than"
    return f"{spread['spread']} apart, {word} the {spread['allowed']} allowed (clause {spread['clause']})"


def _range(found: dict[str, Any]) -> str:
    """The scores where they are few, else the ends; bounds say that they are bounds."""
    if found["low"] == found["high"]:
        return str(found["low"])
    if not found["exact"]:
        return f"between {found['low']} and {found['high']} (bounds: not every score between)"
    scores = found["scores"]
    if len(scores) <= _MOST_SCORES:
        return ", ".join(scores)
    return f"{found['low']} to {found['high']}, number of scores {len(scores)}"


def _frames(line: dict[str, Any]) -> str:
    return ", ".join(str(one["frame"]) for one in line["frames"] or []) or "-"
