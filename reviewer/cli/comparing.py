"""``reviewer compare``: sheets of one routine held against each other, a line a thing."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, PointsText, json_option
from reviewer.cli.sheets import verdict
from reviewer.terms.exact import Points
from reviewer.terms.problems import DONE, NO, UNDECIDED

_STATES = {"agreed": "agreed ", "differs": "differs"}
_FOLLOWING = {"points", "scored"}
"""What is no view that could be taken: it follows from other things, or from the edition."""


class SecondsText(click.ParamType[int]):
    """Seconds as decimal text, such as 0.200, as whole milliseconds."""

    name = "seconds"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> int:
        """Milliseconds from what was typed; a usage fault otherwise."""
        try:
            found = value if isinstance(value, int) else Points.parse(value).thousandths
        except ValueError as fault:
            self.fail(f"{fault}; write seconds such as 0.200", param, ctx)
        return found if found >= 0 else self.fail("a time cannot be less than nothing", param, ctx)


@click.command(epilog="Example: reviewer compare routine.case second-judge.json --posted 8.900")
@click.argument("sheets", metavar="CASE|MARKS.json...", nargs=-1, required=True, type=FILE)
@click.option(
    "--rule-book",
    "rule_books",
    multiple=True,
    help="The first sheet by this edition, too, as one more sheet.",
)
@click.option("--posted", type=PointsText(), help="The posted score, where no sheet keeps it.")
@click.option(
    "--within",
    type=SecondsText(),
    default="0.200",
    show_default=True,
    help="Seconds within which times count as the same.",
)
@click.option("--although-other-recording", is_flag=True, help="Compare sheets of different recordings.")
@json_option
def compare(
    sheets: tuple[Path, ...],
    rule_books: tuple[str, ...],
    posted: Points | None,
    within: int,
    although_other_recording: bool,
    as_json: bool,
) -> int:
    """Hold two or more sheets of one routine against each other; exit 1 where they differ.

    Exit 3 where an edition cannot take marks of its sheet: what they would do there nobody can tell.

    The first sheet is held against each of the others: elements by time and kind, faults by element, kind and
    time. Where the times of both cannot be held together, the order of the elements counts. Each thing is
    agreed, differs, or stands in one sheet only; beside it stands how far each final score would move if the
    other sheet's view of it were taken.
    """
    found = actions.compare_sheets(
        sheets,
        rule_books=rule_books,
        posted=posted,
        within_ms=within,
        although_other_recording=although_other_recording,
    )
    if as_json:
        say.document(found)
    else:
        for line in _told(found):
            click.echo(line)
    if found["unscored"]:
        return UNDECIDED
    return DONE if found["same"] else NO


def _told(found: dict[str, Any]) -> Iterator[str]:
    yield from _unscored(found["unscored"])
    for one in found["sides"]:
        yield from _side(one, any(mark["side"] == one["side"] for mark in found["unscored"]))
    for one in found["comparisons"]:
        yield ""
        yield from _comparison(one, any(mark["side"] in one["sides"] for mark in found["unscored"]))
    yield ""
    yield from found["cautions"]
    named = {f"{one['file']}: {one['mark']}" for one in found["unscored"]}
    for problem in [one for one in found.get("warnings", ()) if one["where"] not in named]:
        yield f"Mind: {problem['where']}: {problem['message']}"


def _unscored(found: list[dict[str, Any]]) -> Iterator[str]:
    """What cannot be compared; the rest is, without it."""
    if not found:
        return
    yield "These marks cannot be compared, and the rest is compared without them:"
    for one in found:
        yield f"  sheet {one['side']}, by {one['rule_book']}: {one['mark']}: {one['message']} {one['remedy']}"
    yield ""


def _side(one: dict[str, Any], partly: bool) -> Iterator[str]:
    judges = ", ".join(f"{own['judge']} {own['score']}" for own in one["judges"])
    sure = ", of the marks that could be scored" if partly else ""
    yield f"Sheet {one['side']}: {one['file']}, by {one['rule_book']['id']}"
    yield f"  start value {one['start_value']} · judges {judges} · final score {one['final_score']}{sure}"
    if one["full_speed"] != one["final_score"]:
        yield f"  of what could be seen at full speed: {one['full_speed']}"
    if one["posted"] is not None:
        yield f"  {_posted(one['posted'], partly)}"
    for when, scores in one["panel"].items():
        own = ", ".join(f"{judge} {score}" for judge, score in scores.items())
        yield f"  the panel's own scores {when} a conference: {own}"


def _posted(one: dict[str, Any], partly: bool) -> str:
    apart = f"{_signed(one['apart'])} from this sheet, {_signed(one['full_speed_apart'])} at full speed"
    seen = one.get("full_speed")
    fast = "" if seen is None else f"; of what could be seen at full speed {verdict(seen, partly)}"
    return f"posted {one['score']}: {verdict(one, partly, ' on these marks')}{fast}; {apart}"


def _comparison(one: dict[str, Any], partly: bool) -> Iterator[str]:
    first, second = one["sides"]
    yield f"Sheet {first} and sheet {second}, matched by {one['matched_by']}"
    if not one["same_edition"]:
        yield "  Mind: they are scored by different editions, or readings of one."
    yield from _start_value(one["start_value"])
    slowed = [thing for thing in one["things"] if thing["only_slowed"]]
    for thing in one["things"]:
        if not thing["only_slowed"]:
            yield f"  {_thing(thing, one['sides'])}"
    if slowed:
        yield "  What only slow motion shows:"
    for thing in slowed:
        yield f"    {_thing(thing, one['sides'])}"
    final, alone = one["final_score"], one["final_score"]["one_by_one"]
    sure = ", of the marks that could be scored" if partly else ""
    yield f"  Final scores: sheet {second} lies {_signed(final['apart'])} from sheet {first}{sure}."
    if alone["first"] != final["apart"]:
        moved = f"One by one, the things above would move sheet {first} by {_signed(alone['first'])}"
        yield f"  {moved}; the rest comes of several together, or of the edition."


def _start_value(one: dict[str, Any]) -> Iterator[str]:
    if one["same"]:
        yield "  Start values agree."
        return
    yield f"  Start values differ by {_signed(one['apart'])}:"
    for line in one["lines"]:
        yield f"    only sheet {line['side']}: {line['points']} {line['why']} (clause {line['clause']})"


def _thing(one: dict[str, Any], sides: list[int]) -> str:
    mark = one["first"] or one["second"]
    place = f"{one['element']:>2}." if one["kind"] == "element" else "   "
    state = _STATES.get(one["state"], f"only {one['side']} ")
    said = [f"{own['what']} {own['first']} | {own['second']}" for own in one["differs"]]
    if one["state"] == "only-in-one" and "amount" in mark:
        said.append(mark["amount"])
    if one["state"] != "agreed" and not {own["what"] for own in one["differs"]} & _FOLLOWING:
        said.append(_costs(one["moves"], sides))
    return f"{state} {place} {mark['code']}" + (f": {'; '.join(filter(None, said))}" if said else "")


def _costs(moves: dict[str, Any], sides: list[int]) -> str:
    """How far each sheet would move with the other's view, and how much of that is start value."""
    told = []
    for side, name in zip(sides, ("first", "second"), strict=True):
        moved = moves[name]
        if moved is None:
            told.append(f"sheet {side} cannot score it")
        elif moved["final_score"] != "0.000" or moved["start_value"] != "0.000":
            start = moved["start_value"]
            also = f" (start value {_signed(start)})" if start != "0.000" else ""
            told.append(f"sheet {side} would move {_signed(moved['final_score'])}{also}")
    return ", ".join(told) or "moves no points"


def _signed(points: str) -> str:
    return points if points.startswith("-") or points == "0.000" else f"+{points}"
