"""The coach's page of one routine: what comes back for certain, what may, and what little holds the rest."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from reviewer.reports.blocks import (
    Amounts,
    Block,
    Column,
    Figure,
    Film,
    Listed,
    Page,
    Paragraph,
    Row,
    Run,
    Section,
    Table,
    Words,
    joined,
    words,
)
from reviewer.reports.composing.view import NOTHING, clock
from reviewer.reports.notices import notice
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.intervals import tenths
from reviewer.terms.messages import noted
from reviewer.words import Saying, saying

Document = Mapping[str, Any]
"""A document, or a part of one."""
COUNTED = {
    "met": noted("it reaches the limit"),
    "within": noted("it lies within the tolerance"),
    "short": noted("it is short of the tolerance"),
    "not seen": noted("nobody could see it"),
}
"""How a cast was counted, in words."""


def coach_page(found: Document) -> Page:
    """The page of a ``reviewer.coach/1`` document, in the language the document names."""
    say = saying(found["language"])
    sections = (
        _certain(found, say),
        _holding(found, say),
        _possible(found, say),
        _neutral(found, say),
        _casts(found, say),
        _cautions(found, say),
    )
    return Page(
        language=say.language,
        title=say("What this routine cost, for its coach"),
        headline=str(found["final_score"]),
        notice=notice(say),
        opening=tuple(_opening(found, say)),
        sections=tuple(one for one in sections if one is not None),
    )


def _opening(found: Document, say: Saying) -> Iterator[Block]:
    for one in found["problems"]:
        said = f"{one['where']}: {one['message']} {one['remedy']}"
        yield Paragraph(words(said), warns=True)
    book, athlete = found["rule_book"], found["case"]["athlete_code"]
    told = say(
        "Athlete {athlete}. Scored by {book}, {season}.",
        athlete=athlete,
        book=book["title"],
        season=book["season"],
    )
    yield Paragraph(words(told))
    yield Paragraph(
        words(
            say("What to train, and when, a qualified coach decides. This page only says where points went.")
        )
    )
    back = sum((Points.parse(one["points"]) for one in found["certain"]), Points(0))
    named = [(say("Final score"), found["final_score"]), (say("Start value"), found["start_value"])]
    if back:
        named.append(
            (say("Start value with all of it mended"), str(Points.parse(found["start_value"]) + back))
        )
    yield Amounts(tuple((name, say.numbers(str(size))) for name, size in named))


def _certain(found: Document, say: Saying) -> Section:
    title = say("Comes back for certain: the start value")
    if not found["certain"]:
        return Section(
            "certain",
            title,
            (Paragraph(words(say("Nothing of the start value was lost."))), *_margin(found, say)),
        )
    lead = say(
        "Each of these is decided before anybody judges how well it was done. Mended, it comes back in full."
    )
    blocks: list[Block] = [
        Paragraph(words(lead)),
        _table(found, found["certain"], say("What the start value lost, the largest first"), say),
    ]
    blocks += _uncredited(found, say)
    return Section("certain", title, (*blocks, *_margin(found, say), *_stills(found, found["certain"], say)))


def _uncredited(found: Document, say: Saying) -> Iterator[Block]:
    """Which elements got no credit, where value parts are missing."""
    spare = found["value_parts"]["spare"]
    if spare is not None and spare < 0 and found["not_credited"]:
        yield Paragraph(words(say("Shown, and not credited:")))
        yield Listed(tuple(_told(one, say) for one in found["not_credited"]))


def _margin(found: Document, say: Saying) -> Iterator[Block]:
    """How many value parts may be missed."""
    parts, cost = found["value_parts"], found["one_value_part"]
    if parts["needed"] is None:
        return
    numbers = {"earned": parts["earned"], "needed": parts["needed"], "cost": cost or "0.000"}
    if parts["spare"] == 0:
        said = say(
            "{earned} value parts were credited and {needed} are needed: one that is missed costs {cost}.",
            **numbers,
        )
    elif parts["spare"] < 0:
        said = say(
            "{earned} value parts were credited and {needed} are needed: each that is missing costs {cost}.",
            **numbers,
        )
    elif parts["spare"] == 1:
        said = say(
            "{earned} value parts were credited and {needed} are needed: one may be missed before each costs "
            "{cost}.",
            **numbers,
        )
    else:
        said = say(
            "{earned} value parts were credited and {needed} are needed: {spare} may be missed before each "
            "costs {cost}.",
            spare=parts["spare"],
            **numbers,
        )
    yield Paragraph(words(said), warns=parts["spare"] <= 0)


def _holding(found: Document, say: Saying) -> Section | None:
    if not found["holding"]:
        return None
    lead = say("The start value rests on each of these alone: were it missing, it would be lower by so much.")
    columns = (Column(say("Element"), 6), Column(say("Points"), 2, True), Column(say("Seen at"), 3))
    rows = tuple(
        Row(
            (
                words(one["element"] or NOTHING),
                words(say.numbers(one["points"])),
                words(moment_words(one, say)),
            )
        )
        for one in found["holding"]
    )
    return Section(
        "holding",
        say("What holds the start value"),
        (Paragraph(words(lead)), Table(say("Elements that nothing stands in for"), columns, rows)),
    )


def _possible(found: Document, say: Saying) -> Section:
    title = say("May come back: execution")
    if not found["possible"]:
        return Section("possible", title, (Paragraph(words(say("Nothing was taken for execution."))),))
    lead = say("Done better, these cost less or nothing. How much is for the judges of that day.")
    table = _table(found, found["possible"], say("What was taken for execution, the largest first"), say)
    return Section(
        "possible", title, (Paragraph(words(lead)), table, *_stills(found, found["possible"], say))
    )


def _neutral(found: Document, say: Saying) -> Section | None:
    if not found["neutral"]:
        return None
    lead = say("Taken from the average for what is not execution; once it is seen to, it comes back in full.")
    table = _table(found, found["neutral"], say("Other deductions"), say)
    return Section(
        "neutral",
        say("Other deductions"),
        (Paragraph(words(lead)), table, *_stills(found, found["neutral"], say)),
    )


def _casts(found: Document, say: Saying) -> Section | None:
    if not found["casts"]:
        return None
    columns = (
        Column(say("Cast"), 3),
        Column(say("Angle"), 5),
        Column(say("Counted"), 5),
        Column(say("Seen at"), 3),
    )
    rows = tuple(
        Row(
            (
                words(one["element"] or NOTHING),
                words(angle_words(one, say)),
                words(say.word(COUNTED[one["counted"]])),
                words(moment_words(one, say)),
            )
        )
        for one in found["casts"]
    )
    return Section(
        "casts",
        say("Casts"),
        (Table(say("Each cast that decides something; 0° is level, below it is negative"), columns, rows),),
    )


def angle_words(one: Document, say: Saying) -> str:
    """A cast's angle with its doubt, or how it was judged."""
    if "told" in one:
        return say.word(one["told"])
    return (
        say("{degrees}° by eye", degrees=say.numbers(tenths(Degrees.parse(one["value_deg"]))))
        if "value_deg" in one
        else say("by eye")
    )


def _cautions(found: Document, say: Saying) -> Section:
    return Section(
        "cautions", say("To be minded"), (Listed(tuple(words(say.word(one)) for one in found["cautions"])),)
    )


def _table(found: Document, costs: Sequence[Document], caption: str, say: Saying) -> Table:
    alone = all(one.get("judges", 0) < 2 for one in costs)  # else words stand with the points, and break
    columns = (
        Column(say("Points"), 3, alone),
        Column(say("What"), 6),
        Column(say("Element"), 4),
        Column(say("Seen at"), 3),
        Column(say("What the rule says"), 7),
    )
    return Table(caption, columns, tuple(_row(found, one, say) for one in costs))


def _row(found: Document, one: Document, say: Saying) -> Row:
    named = tuple(dict.fromkeys(mark["element"] for mark in one["marks"] if mark["element"]))
    places = dict.fromkeys(_seen(found, mark, say) for mark in one["marks"] if "frame" in mark)
    seen = joined(places)
    cells = (
        words(_points(one, say)),
        words(one["why"]),
        words(", ".join(named) or NOTHING),
        seen or words(NOTHING),
    )
    return Row((*cells, words(one["says"])))


def _points(one: Document, say: Saying) -> str:
    """One amount, or from the least to the most that judges took, and how many of them."""
    if one.get("judges", 0) < 2:
        return say.numbers(one["points"])
    least, most = say.numbers(one["least"]), say.numbers(one["most"])
    size = most if least == most else say("{least} to {most}", least=least, most=most)
    return say("{size}, by {some} of {all} judges", size=size, some=one["taken_by"], all=one["judges"])


def _told(one: Document, say: Saying) -> Words:
    seen = ", ".join(moment_words(mark, say) for mark in one["marks"] if "frame" in mark)
    return words(f"{one['why']} ", f"({seen})") if seen else words(one["why"])


def _seen(found: Document, mark: Document, say: Saying) -> Words:
    still = _still_of(found, mark)
    return words(Run(moment_words(mark, say), to=still["id"] if still is not None else None))


def moment_words(mark: Document, say: Saying) -> str:
    """When something is seen in its recording."""
    return say.numbers(clock(mark["seconds"])) if "seconds" in mark else NOTHING


def _still_of(found: Document, mark: Document) -> Document | None:
    place = (mark["frame"], mark["recording"])
    return next((one for one in found["stills"] if (one["frame"], one.get("recording", 1)) == place), None)


def _stills(found: Document, costs: Iterable[Document], say: Saying) -> Iterator[Figure | Film]:
    """The picture of each cost and its clip, in the order of the table; each picture once."""
    shown: set[str] = set()
    for cost in costs:
        for mark in cost["marks"]:
            still = _still_of(found, mark) if "frame" in mark else None
            if still is not None and still["id"] not in shown:
                shown.add(still["id"])
                yield _figure(cost, mark, still, say)
            if "clip" in mark:
                yield _film(cost, mark, say)


def _film(cost: Document, mark: Document, say: Saying) -> Film:
    label = say("Clip: {what}", what=_what(cost, mark))
    return Film(mark["clip"], label, words(label, f" ({moment_words(mark, say)})"))


def _what(cost: Document, mark: Document) -> str:
    return f"{mark['element']}: {cost['why']}" if mark["element"] else str(cost["why"])


def _figure(cost: Document, mark: Document, still: Document, say: Saying) -> Figure:
    what = _what(cost, mark)
    alt = say("Frame {frame}: {what}", frame=still["frame"], what=what)
    caption = words(Run(f"{_points(cost, say)} ", "strong"), what, f" ({moment_words(mark, say)})")
    measured = "".join(f" {one}." for one in still["measured"])
    part = (0, 0, still["size"][0], still["size"][1])
    return Figure(still["id"], "still", part, still["id"], still["overlay"], alt, words(caption, measured))
