"""How far auditors agree who worked blind on the same routines of a meet, and what may be concluded of it."""

from collections.abc import Iterator
from typing import Any

from reviewer.reports.blocks import Block, Column, Listed, Paragraph, Row, Section, Table, Words, words
from reviewer.reports.meetwords import in_hundredths
from reviewer.terms.messages import noted
from reviewer.words import Saying

Document = dict[str, Any]
_QUANTITIES = {
    "start_value": noted("Start value"),
    "score": noted("Score"),
    "final_score": noted("Final score"),
}
_SAME, _ICC = "same", "icc_2_1"


def agreement_sections(found: Document, say: Saying) -> Iterator[Section]:
    """The section, where two auditors at least had the same routines."""
    if found["agreement"] is not None:
        title = say("How far the auditors agree")
        yield Section("agreement", title, tuple(_blocks(found["agreement"], say)))


def _blocks(agreed: Document, say: Saying) -> Iterator[Block]:
    told = say(
        "Two auditors worked blind of each other on the same routines. What the audit itself is worth shows "
        "here: a panel cannot be held to more than auditors agree on."
    )
    yield Paragraph(words(told))
    columns = (
        Column(say("What was given"), 3),
        Column(say("Routines"), 2, True),
        Column(say("All the same"), 4, True),
        Column("ICC(2,1)", 4, True),
    )
    rows = tuple(Row(tuple(_cells(one, say))) for one in agreed["quantities"])
    caption = say("Auditors {letters} beside each other", letters=", ".join(agreed["judges"]))
    yield Table(caption, columns, rows)
    wanting = tuple(words(one) for each in agreed["quantities"] for one in _wanting(each, say))
    if wanting:
        yield Listed(wanting, warns=True)


def _cells(one: Document, say: Saying) -> Iterator[Words]:
    yield words(_name(one, say))
    yield words(str(one["routines"]))
    for figure in (one[_SAME], one[_ICC]):
        yield in_hundredths(figure, say)


def _wanting(one: Document, say: Saying) -> Iterator[str]:
    """What is too unsure for anything to be concluded from it."""
    for figure, name in ((one[_SAME], say("All the same")), (one[_ICC], "ICC(2,1)")):
        if figure["enough"]:
            continue
        about = f"{_name(one, say)}, {name}"
        if figure["least"] is None:
            yield say("{about}: nothing can be concluded.", about=about)
        else:
            yield say(
                "{about}: nothing can be concluded from fewer than {least} routines, and there are {number}.",
                about=about,
                least=figure["least"],
                number=figure["routines"],
            )


def _name(one: Document, say: Saying) -> str:
    return say.word(_QUANTITIES[one["quantity"]])
