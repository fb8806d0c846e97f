"""What the lot says of a meet: figures of the whole, by clause, by judge, and by the level of the routine."""

from collections.abc import Iterator
from typing import Any

from reviewer.reports.blocks import (
    Block,
    Column,
    Figure,
    Listed,
    Paragraph,
    Row,
    Run,
    Section,
    Table,
    Words,
    joined,
    words,
)
from reviewer.reports.meetwords import (
    Told,
    in_hundredths,
    interval_words,
    led_words,
    plain_words,
    share_words,
)
from reviewer.terms.messages import noted
from reviewer.words import Saying

Document = dict[str, Any]
_WIDE = 504
"""Points that a chart is wide."""
_FAIR = noted(
    "The panel saw each routine once, at full speed, from one seat: what only slow motion shows stands apart."
)
_ALLOWED = noted(
    "The marks allow a posted score where a panel of as many judges can average to it, each with a score "
    "that the rule book permits on what the auditor marked."
)
_AGAINST = {
    "audited": noted("all that the auditor saw"),
    "audited at full speed": noted("what was seen at full speed"),
    "median of the panel": noted("the median of the panel"),
}


def spoken_sections(found: Document, say: Saying) -> Iterator[Section]:
    """What the lot says of the meet."""
    figures = found["by_lot"]
    remarks = tuple(Paragraph(words(one), warns=True) for one in figures["remarks"])
    chart = _chart(found, "differences", say("How far posted final scores lie from the audited ones"))
    yield Section(
        "meet", say("What this says of the meet"), (*remarks, key_figures(figures, say), *_fair(say), *chart)
    )
    yield Section("clauses", say("By clause"), tuple(_clauses(found, figures, say)))
    yield Section("judges", say("By judge"), tuple(_judges(found, figures, say)))
    yield Section("levels", say("Errors by the level of the routine"), tuple(_levels(figures, say)))


def _fair(say: Saying) -> tuple[Paragraph, ...]:
    return tuple(Paragraph(words(say.word(one))) for one in (_ALLOWED, _FAIR))


def key_figures(figures: Document, say: Saying) -> Table:
    """Shares and differences; with intervals where they speak of the meet, else of the routines alone."""
    by_lot = figures["by_lot"]
    columns = (
        Column(say("Figure"), 5),
        Column(say("Value"), 2, True),
        *((Column(say("Interval of 95 %"), 3, True),) if by_lot else ()),
        Column(say("Routines"), 2, True),
        Column(say("Leads to"), 5),
    )
    shares = (
        (say("Wrong start value"), figures["wrong_start"]),
        (say("Posted score that the marks do not allow"), figures["unreachable"]),
    )
    points = (
        (say("Posted less audited final score, mean"), figures["final"]["mean"]),
        (say("The same, spread from routine to routine"), figures["final"]["spread"]),
        (say("Posted less what was seen at full speed, mean"), figures["final_at_full_speed"]["mean"]),
        (say("The same, spread from routine to routine"), figures["final_at_full_speed"]["spread"]),
        (say("Posted less audited start value, mean"), figures["start"]["mean"]),
    )
    rows = (
        *(Row(tuple(_cells(name, led, share_words, by_lot, say))) for name, led in shares),
        *(Row(tuple(_cells(name, led, plain_words, by_lot, say))) for name, led in points),
    )
    whole, alone = (
        say("Shares of routines, and points, of the whole meet"),
        say("Shares of these routines, and points"),
    )
    return Table(whole if by_lot else alone, columns, rows)


def _cells(name: str, led: Document, told: Told, by_lot: bool, say: Saying) -> Iterator[Words]:
    yield words(name)
    yield words(told(led["value"], say))
    if by_lot:
        yield words(interval_words(led, told, say))
    yield words(str(led["number"]))
    yield led_words(led["routines"], say)


def _clauses(found: Document, figures: Document, say: Saying) -> Iterator[Block]:
    if not figures["clauses"]:
        yield Paragraph(words(say("No clause explains a posted start value or neutral deduction otherwise.")))
        return
    certain = say(
        "Certainly: every way in which the posted figure can have come about takes it. Possibly: some way "
        "does; nobody who knows a posted number alone can tell which it was."
    )
    yield Paragraph(words(certain))
    yield from _chart(found, "clauses", say("Share of routines in which a clause was misapplied, at most"))
    columns = (
        Column(say("Clause"), 5),
        Column(say("Certainly"), 2, True),
        Column(say("Interval of 95 %"), 3, True),
        Column(say("Possibly too"), 2, True),
        Column(say("Interval of 95 %"), 3, True),
        Column(say("Leads to"), 4),
    )
    rows = tuple(Row(tuple(_clause_cells(one, say))) for one in figures["clauses"])
    yield Table(say("How often a clause was misapplied, by its id"), columns, rows)


def _clause_cells(one: Document, say: Saying) -> Iterator[Words]:
    yield words(Run(one["clause"], "code"))
    for led in (one["certain"], one["possible"]):
        yield words(share_words(led["value"], say))
        yield words(interval_words(led, share_words, say))
    yield led_words(one["possible"]["routines"], say)


def _judges(found: Document, figures: Document, say: Saying) -> Iterator[Block]:
    if not figures["judges"]:
        yield Paragraph(words(say("No scores of single judges were posted.")))
        return
    for one in figures["cautions"]:
        yield Paragraph(words(one), warns=True)
    yield from _chart(found, "judges", say("Each judge’s score less the audited one, mean"))
    seen = say("Each judge’s score less what all that the auditor saw comes to, points")
    yield _against("audited", figures, seen, say)
    at_full_speed = say("Each judge’s score less what was seen at full speed comes to, points")
    yield _against("at_full_speed", figures, at_full_speed, say)
    few = tuple(words(one["says"]) for one in figures["judges"] if not one["enough"])
    if few:
        yield Listed(few, warns=True)
    else:
        told = say("The figures describe these scores at this meet, no closer than within their intervals.")
        yield Paragraph(words(told))


def _against(kind: str, figures: Document, caption: str, say: Saying) -> Table:
    columns = (
        Column(say("Judge"), 3),
        Column(say("Routines"), 2, True),
        Column(say("Mean"), 2, True),
        Column(say("Interval of 95 %"), 4, True),
        Column(say("Spread of scores"), 3, True),
        Column(say("Interval of 95 %"), 4, True),
    )
    rows = tuple(Row(tuple(_judge_cells(one, kind, say))) for one in figures["judges"])
    return Table(caption, columns, rows)


def _judge_cells(one: Document, kind: str, say: Saying) -> Iterator[Words]:
    yield words(one["judge"])
    yield words(str(one["number"]))
    for led in (one[kind]["mean"], one[kind]["spread"]):
        yield words(plain_words(led["value"], say))
        yield words(interval_words(led, plain_words, say))


def _levels(figures: Document, say: Saying) -> Iterator[Block]:
    told = say(
        "Judges err less on some levels than on others. A curve says how far they usually lie from a control "
        "score at each level, and each judge’s errors are told as multiples of it: 0 is without error, 1 is "
        "what is usual here."
    )
    yield Paragraph(words(told))
    for one in figures["error_curves"]:
        against = say.word(_AGAINST[one["against"]])
        if one["why"]:
            yield Paragraph(words(say("Against {against}: {why}", against=against, why=one["why"])))
        else:
            yield _usual(one, against, say)
            yield _relative(one, against, say)


def _usual(one: Document, against: str, say: Saying) -> Table:
    columns = (Column(say("Level"), 2, True), Column(say("Usual error"), 2, True))
    rows = tuple(
        Row((words(say.numbers(each["level"])), words(plain_words(each["error"], say))))
        for each in one["points"]
    )
    caption = say("Usual error against {against}, of {count} routines", against=against, count=one["number"])
    return Table(caption, columns, rows, narrow=True)


def _relative(one: Document, against: str, say: Saying) -> Table:
    columns = (
        Column(say("Judge"), 2),
        Column(say("Error as a multiple of the usual one"), 4, True),
        Column(say("Tendency, in the same measure"), 4, True),
    )
    rows = tuple(
        Row(
            (
                words(each["judge"]),
                *(in_hundredths(led, say) for led in (each["relative_error"], each["tendency"])),
            )
        )
        for each in one["judges"]
    )
    return Table(say("Each judge against {against}", against=against), columns, rows)


def _chart(found: Document, name: str, said: str) -> Iterator[Figure]:
    drawn = found["charts"].get(name)
    if drawn is not None:
        part = (0, 0, _WIDE, drawn["high"])
        yield Figure(f"chart-{name}", "curve", part, None, drawn["svg"], said, joined((said, "."), by=""))
