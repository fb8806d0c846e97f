"""The coach's page of one athlete over many routines."""

from collections.abc import Iterator
from typing import Any

from reviewer.reports.blocks import (
    Block,
    Column,
    Figure,
    Listed,
    Page,
    Paragraph,
    Row,
    Section,
    Table,
    Words,
    words,
)
from reviewer.reports.coaching import COUNTED, Document, angle_words, moment_words
from reviewer.reports.composing.view import NOTHING
from reviewer.reports.notices import notice
from reviewer.words import Saying, saying

_CHART = (0, 0, 504, 245)


def coach_history_page(found: Document) -> Page:
    """The page of a ``reviewer.coach-history/1`` document, in the language the document names."""
    say = saying(found["language"])
    sections = (_scores(found, say), _requirements(found, say), _kinds(found, say), _casts(found, say))
    cautions = Listed(tuple(words(say.word(one)) for one in found["cautions"]))
    return Page(
        language=say.language,
        title=say("One athlete's routines, for her coach"),
        headline=found["case"]["athlete_code"],
        notice=notice(say),
        opening=tuple(_opening(found, say)),
        sections=(*sections, Section("cautions", say("To be minded"), (cautions,))),
    )


def _opening(found: Document, say: Saying) -> Iterator[Block]:
    routines = found["routines"]
    told = say(
        "Athlete {athlete}, {count} routines.", athlete=found["case"]["athlete_code"], count=len(routines)
    )
    yield Paragraph(words(told))
    decides = say(
        "What to train, and when, a qualified coach decides. This page only says where points went."
    )
    yield Paragraph(words(decides))
    few = say(
        "A few routines are no trend: judges, days and editions differ, and measured angles have the doubt "
        "that stands beside them."
    )
    yield Paragraph(words(few))


def _scores(found: Document, say: Saying) -> Section:
    columns = (
        Column(say("Routine"), 2, True),
        Column(say("Case begun"), 3),
        Column(say("Division"), 3),
        Column(say("Start value"), 3, True),
        Column(say("Lost of it"), 3, True),
        Column(say("Other deductions"), 3, True),
        Column(say("Final score"), 3, True),
        Column(say("Value parts"), 4),
    )
    rows = tuple(Row(tuple(_score_cells(one, say))) for one in found["routines"])
    return Section(
        "scores", say("The scores"), (Table(say("Every routine, the earliest first"), columns, rows),)
    )


def _score_cells(one: Document, say: Saying) -> Iterator[Words]:
    yield words(str(one["number"]))
    yield words(one["begun"])
    yield words(f"{one['division']}, {one['season']}")
    for name in ("start_value", "lost_at_start", "neutral", "final_score"):
        yield words(say.word(one[name]))
    parts = one["value_parts"]
    if parts["needed"] is None:
        yield words(NOTHING)
    else:
        yield words(say("{earned} credited, {needed} needed", earned=parts["earned"], needed=parts["needed"]))


def _requirements(found: Document, say: Saying) -> Section:
    title = say("Requirements")
    met = {True: say("met"), False: say("missing"), None: NOTHING}
    rows = tuple(
        Row((words(one["name"]), *(words(met[each]) for each in one["met"]))) for one in found["requirements"]
    )
    if not rows:
        return Section("requirements", title, (Paragraph(words(say("These editions ask for none."))),))
    caption = say("Which requirement each routine met")
    return Section(
        "requirements", title, (Table(caption, _by_routine(say("Requirement"), found, False), rows),)
    )


def _kinds(found: Document, say: Saying) -> Section:
    title = say("Deductions by kind")
    if not found["kinds"]:
        return Section("kinds", title, (Paragraph(words(say("Nothing was taken for execution."))),))
    rows = tuple(
        Row((words(one["name"]), *(words(say.word(each)) for each in one["points"])))
        for one in found["kinds"]
    )
    caption = say("What each kind cost, the most that any judge took; the largest first")
    table = Table(caption, _by_routine(say("Kind"), found, True), rows)
    drawn = say("The kinds that cost most, over the routines; all of them stand in the table")
    return Section("kinds", title, (*_chart(found, "kinds", drawn), table))


def _casts(found: Document, say: Saying) -> Section:
    title = say("Casts")
    rows = tuple(_cast_row(routine, one, say) for routine in found["routines"] for one in routine["casts"])
    if not rows:
        return Section("casts", title, (Paragraph(words(say("No cast decided anything."))),))
    columns = (
        Column(say("Routine"), 2, True),
        Column(say("Cast"), 3),
        Column(say("Seen at"), 3),
        Column(say("Angle"), 5),
        Column(say("Counted"), 5),
    )
    caption = say("Each cast that decides something; 0° is level, below it is negative")
    drawn = say("Angles of the casts with their intervals of 95 %; the dashed line is the limit")
    return Section("casts", title, (*_chart(found, "casts", drawn), Table(caption, columns, rows)))


def _cast_row(routine: Document, one: Document, say: Saying) -> Row:
    name = one["element"] or NOTHING
    counted = say.word(COUNTED[one["counted"]])
    seen = (str(routine["number"]), name, moment_words(one, say), angle_words(one, say), counted)
    return Row(tuple(words(each) for each in seen))


def _by_routine(first: str, found: Document, number: bool) -> tuple[Column, ...]:
    return (Column(first, 5), *(Column(str(one["number"]), 2, number) for one in found["routines"]))


def _chart(found: Document, name: str, said: str) -> Iterator[Figure]:
    svg: Any = found["charts"].get(name)
    if svg is not None:
        yield Figure(f"chart-{name}", "curve", _CHART, None, svg, said, words(f"{said}."))
