"""Two sheets settled line by line: what each judge had, and whose view was taken."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from reviewer.reports.blocks import Block, Column, Listed, Paragraph, Row, Section, Table, words
from reviewer.reports.composing.recorded import angle_told, plain_word
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
    seen = (_mark(view, one[side]) for side in ("first", "second"))
    cells = (one["line"], *seen, view.say(_TAKEN[one["taken"]]))
    return Row(tuple(words(cell) for cell in cells))


def _mark(view: View, mark: Mapping[str, Any] | None) -> str:
    """A mark as a judge had it, by the edition's names."""
    if mark is None:
        return NOTHING
    say, names = view.say, view.finding["settlement"].get("names", {})
    told = [names.get(mark["code"], mark["code"])]
    told += [say.word(mark["amount"])] if mark.get("amount") else []
    more = [plain_word(say, one) for one in (*mark.get("roles", ()), *mark.get("with", ()))]
    more += [say.word(angle_told(say, mark["angle"]))] if mark.get("angle") else []
    return ", ".join([" ".join(told), *more])
