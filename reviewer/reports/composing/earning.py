"""The ledger, and what was marked without moving a point: credit not earned, faults not taken."""

from collections.abc import Iterator, Mapping
from typing import Any

from reviewer.reports.blocks import Block, Column, Listed, Paragraph, Row, Run, Section, Table, Words, words
from reviewer.reports.composing.standing import final_name
from reviewer.reports.composing.view import View, signed
from reviewer.terms.messages import noted

STAGES = {
    "start-value": noted("Start value"),
    "execution": noted("Execution"),
    "neutral": noted("Neutral deductions"),
    "courtesy": noted("Courtesy score"),
}

_MISSING = "requirement-missing"


def ledger(view: View) -> Section:
    """Every movement of points, from the start value to the final score."""
    say = view.say
    columns = (
        Column(say("Part"), 3),
        Column(say("Points"), 2, True),
        Column(say("Why"), 6),
        Column(say("Clause"), 4),
        Column(say("Frames"), 2),
        Column(say("Source"), 5),
    )
    rows = [_line(view, number, line) for number, line in enumerate(view.score["lines"], start=1)]
    if not rows:
        rows = [Row((words(say("Nothing was taken.")), *_empty(5)))]
    if "only" not in view.score:
        total = (words(final_name(view)), words(view.score["final_score"]), *_empty(4))
        rows.append(Row(total, None, True))
    table = Table(say("Each line with its clause, its frames and its source"), columns, tuple(rows))
    return Section("ledger", say("The ledger"), (table, *_doubts(view)))


def not_earned(view: View) -> Section | None:
    """Requirements and credit that were not earned, faults that were not taken, and what to mind."""
    say = view.say
    audited = view.score["value_parts"] is not None
    blocks = [*_requirements(view), *_withheld(view)] if audited else []
    blocks += [*_not_taken(view), *_notes(view)]
    if not blocks:
        return None
    return Section("not-earned", say("Requirements, and what was not earned"), tuple(blocks))


def _line(view: View, number: int, line: Mapping[str, Any]) -> Row:
    part = view.say.word(STAGES[line["stage"]])
    if line["judge"]:
        part = view.say("{part}, judge {judge}", part=part, judge=line["judge"])
    why = words(line["why"], " (", view.marks(line["marks"]), ")")
    cells = (part, signed(line["points"]), why, view.clause(line["clause"]), view.frames(line["frames"]))
    return Row((*(words(one) for one in cells), words(view.say.retold(line["source"]))), f"line-{number}")


def _empty(number: int) -> tuple[Words, ...]:
    return ((),) * number


def _doubts(view: View) -> Iterator[Block]:
    """What is doubtful about the marks."""
    for one in view.score.get("warnings", ()):
        yield Paragraph(words(f"{one['where']}: {one['message']}"), warns=True)


def _requirements(view: View) -> Iterator[Block]:
    """Missing requirements and value parts: lines that the start value lost, or gains that it did not get."""
    lost = [line for line in view.score["lines"] if line["stage"] == "start-value"]
    parts = view.say("Value parts credited: {number}.", number=view.score["value_parts"])
    ungained = [one for one in view.score["notes"] if one["code"] == _MISSING]
    if ungained:
        yield Paragraph(words(view.say("Missing, so that the start value gains nothing for it:"), " ", parts))
        yield Listed(tuple(words(one["why"], " (", view.clause(one["clause"]), ")") for one in ungained))
    if not lost and not ungained:
        yield Paragraph(words(view.say("No requirement is missing."), " ", parts))
    if not lost:
        return
    yield Paragraph(words(view.say("Missing, and taken from the start value:"), " ", parts))
    yield Listed(
        tuple(
            words(f"{signed(one['points'])} ", one["why"], " (", view.clause(one["clause"]), ")")
            for one in lost
        )
    )


def _withheld(view: View) -> Iterator[Block]:
    say, withheld = view.say, view.score["not_earned"]
    if not withheld:
        yield Paragraph(words(say("No credit was withheld.")))
        return
    columns = (
        Column(say("Marks"), 2),
        Column(say("Why"), 6),
        Column(say("Clause"), 4),
    )
    rows = (
        (view.marks(one["marks"]), words(one["why"]), words(view.clause(one["clause"]))) for one in withheld
    )
    yield Table(say("Credit that was withheld"), columns, tuple(Row(cells) for cells in rows))


def _not_taken(view: View) -> Iterator[Block]:
    say, found = view.say, view.score["not_taken"]
    if found:
        yield Paragraph(words(say("Marked, and costing nothing or less than marked:")))
        yield Listed(tuple(words(one["why"], " (", *_cited(view, one), ")") for one in found))


def _cited(view: View, one: Mapping[str, Any]) -> Iterator[Words | str | Run]:
    yield view.marks(one["marks"])
    if one.get("judge"):
        yield view.say(", judge {judge}", judge=one["judge"])
    yield "; "
    yield view.clause(one["clause"])


def _notes(view: View) -> Iterator[Block]:
    found = [one for one in view.score["notes"] if one["code"] != _MISSING]
    if found:
        yield Paragraph(words(view.say("To mind:")))
        yield Listed(tuple(_note(view, one) for one in found))


def _note(view: View, one: Mapping[str, Any]) -> Words:
    return words(one["why"], " (", view.marks(one["marks"]), ")") if one["marks"] else words(one["why"])
