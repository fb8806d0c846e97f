"""Two sheets settled line by line: what each judge had, and whose view was taken."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from reviewer.reports.blocks import Block, Column, Listed, Paragraph, Row, Section, Table, words
from reviewer.reports.composing.view import NOTHING, View
from reviewer.terms.messages import noted

_TAKEN = {
    "both": noted("both agree"),
    "first": noted("the first judge's"),
    "second": noted("the second judge's"),
    "neither": noted("neither's"),
    None: noted("open"),
}


def settled(view: View) -> Section | None:
    """The settlement, in a case that is one."""
    found = view.finding.get("settlement")
    if found is None:
        return None
    say, judges = view.say, [one["judge"] for one in found["sheets"]]
    columns = (
        Column(say("Line"), 1),
        *(Column(say("Judge {judge}", judge=judge), 4) for judge in judges),
        Column(say("Taken"), 2),
    )
    table = Table(
        say("Two sealed sheets, line by line"), columns, tuple(_row(view, one) for one in found["lines"])
    )
    opened = (
        say("Lines still open: {count}.", count=found["open"])
        if found["open"]
        else say("Every line is settled.")
    )
    kept = say(
        "Both sheets were sealed before either judge saw the other's, and are kept whole in this case."
    )
    blocks = (Paragraph(words(opened, " ", kept)), table, *_reopened(view, found["lines"]))
    return Section("settlement", say("Settlement of two sheets"), blocks)


def _reopened(view: View, lines: Sequence[Mapping[str, Any]]) -> Iterator[Block]:
    """Why lines were opened again that were settled or agreed on."""
    again = [(one["line"], told) for one in lines for told in one.get("reopened", ())]
    if again:
        yield Paragraph(words(view.say("Lines that were settled and opened again:")))
        yield Listed(tuple(words(_why(view, line, told)) for line, told in again))


def _why(view: View, line: str, told: Mapping[str, Any]) -> str:
    why = told["because"] or view.say("(the words were left out or erased)")
    return view.say("{line}, by judge {judge}: {why}", line=line, judge=told["by"], why=why)


def _row(view: View, one: Mapping[str, Any]) -> Row:
    cells = (one["line"], _mark(one["first"]), _mark(one["second"]), view.say(_TAKEN[one["taken"]]))
    return Row(tuple(words(cell) for cell in cells))


def _mark(mark: Mapping[str, Any] | None) -> str:
    """A mark as a judge had it, in the edition's own codes."""
    if mark is None:
        return NOTHING
    angle = mark.get("angle") or {}
    seen = f"{angle['deg']}°" if "deg" in angle else angle.get("verdict")
    parts = (mark["code"], mark.get("amount"), *mark.get("roles", ()), *mark.get("with", ()), seen)
    return " ".join(str(part) for part in parts if part)
