"""What the panel posted, part by part: against itself, and beside the marks."""

from collections.abc import Iterator, Mapping
from typing import Any

from reviewer.reports.blocks import Block, Column, Listed, Row, Section, Table, Words, joined, words
from reviewer.reports.composing.view import NOTHING, View
from reviewer.terms.messages import noted

_PARTS = {
    "start-value": noted("Start value"),
    "average": noted("Average"),
    "neutral": noted("Neutral deductions"),
    "final": noted("Final score"),
}


def posted(view: View) -> Section | None:
    """What the panel posted, where it was kept."""
    found = view.finding.get("posted_sheet")
    if found is None:
        return None
    blocks = (*_within(view, found), *_beside(view, found), *_explained(view, found), *_written(view, found))
    return Section("posted", view.say("What the panel posted"), blocks) if blocks else None


def _part(view: View, one: Mapping[str, Any]) -> str:
    if one["part"] == "judge":
        return view.say("Judge {judge}", judge=one["judge"])
    return view.say(_PARTS[one["part"]])


def _within(view: View, found: Mapping[str, Any]) -> Iterator[Block]:
    """Whether the parts agree with each other."""
    say, checks = view.say, found["within_itself"]
    if checks:
        columns = (
            Column(say("Part"), 2), Column(say("Posted"), 1, True),
            Column(say("By the other parts"), 1, True), Column(say("Agrees"), 1), Column(say("Why"), 4),
        )  # fmt: skip
        yield Table(say("The posted parts against each other"), columns, tuple(_checks(view, checks)))


def _checks(view: View, checks: list[Mapping[str, Any]]) -> Iterator[Row]:
    say = view.say
    answers = {True: say("yes"), False: say("no"), None: say("cannot be told")}
    for one in checks:
        said = (_part(view, one), one["said"], one["derived"], answers[one["stands"]], one["why"])
        yield Row(tuple(words(cell) for cell in said))


def _beside(view: View, found: Mapping[str, Any]) -> Iterator[Block]:
    """What the marks come to, beside what was posted."""
    say, parts = view.say, found["against_marks"]
    if parts:
        columns = (
            Column(say("Part"), 2), Column(say("Posted"), 1, True), Column(say("By the marks"), 1, True),
            Column(say("Differs by"), 1, True),
        )  # fmt: skip
        cells = [(_part(view, one), one["posted"], one["marked"], one["differs"]) for one in parts]
        rows = tuple(Row(tuple(words(cell) for cell in row)) for row in cells)
        yield Table(say("What was posted, and what the marks come to"), columns, rows)


def _explained(view: View, found: Mapping[str, Any]) -> Iterator[Block]:
    """What would explain a start value that was posted otherwise: one point for each possibility."""
    for one in found["against_marks"]:
        ways = one.get("explained_by", ())
        if ways:
            yield Listed(tuple(_way(view, number, way) for number, way in enumerate(ways)))


def _way(view: View, number: int, way: list[Mapping[str, Any]]) -> Words:
    lead = view.say("or by") if number else view.say("The start value would be explained by")
    return words(f"{lead} ", joined((_step(view, one) for one in way), f"; {view.say('and')} "))


def _step(view: View, one: Mapping[str, Any]) -> Words:
    times = f"{one['times']} × " if one["times"] > 1 else ""
    return words(f"{times}{view.say.word(one['points'])}, ", view.clause(one["clause"]), f": {one['why']}")


def _written(view: View, found: Mapping[str, Any]) -> Iterator[Block]:
    """What the judges wrote down, each beside the mark of the same fault."""
    say = view.say
    if found["written"]:
        columns = (
            Column(say("Judge"), 1), Column(say("Element"), 1), Column(say("Fault"), 2),
            Column(say("Written"), 1, True), Column(say("Marked"), 1, True), Column(say("Mark"), 1),
        )  # fmt: skip
        rows = tuple(_deduction(view, one) for one in found["written"])
        yield Table(say("What the judges of the panel wrote down"), columns, rows)


def _deduction(view: View, one: Mapping[str, Any]) -> Row:
    mark = view.marks([one["mark"]]) if one["mark"] else words(NOTHING)
    said = (one["judge"], one.get("element", NOTHING), one["name"], one["amount"], one["marked"] or NOTHING)
    return Row((*(words(cell) for cell in said), mark))
