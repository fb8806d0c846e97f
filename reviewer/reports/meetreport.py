"""The report of an audited meet: what the lot says of all its routines, each figure leading to its cases."""

from collections.abc import Iterator
from typing import Any

from reviewer.reports.blocks import (
    Block,
    Column,
    Listed,
    Page,
    Paragraph,
    Row,
    Run,
    Section,
    Table,
    Words,
    words,
)
from reviewer.reports.composing.view import NOTHING
from reviewer.reports.meetagreement import agreement_sections
from reviewer.reports.meetspoken import key_figures, spoken_sections
from reviewer.reports.notices import notice
from reviewer.terms.messages import noted
from reviewer.words import Saying, saying

Document = dict[str, Any]
_TRIGGERS = {
    "spread": noted("judges too far apart"),
    "start-value": noted("another start value posted than requested"),
    "inquiry": noted("inquiry filed"),
    "short": noted("short exercise"),
    "contradiction": noted("posted figures contradict each other"),
    "outside": noted("a final score that cannot be given"),
}


def meet_page(found: Document) -> Page:
    """The page of a ``reviewer.meet-report/1`` document, in the language the document names."""
    say = saying(found["language"])
    sections = (
        _sample(found, say),
        *(spoken_sections(found, say) if found["by_lot"] else ()),
        *_others(found, say),
        *agreement_sections(found, say),
        _routines(found, say),
        *_problems(found, say),
        Section(
            "cautions",
            say("To be minded"),
            (Listed(tuple(words(say.word(one)) for one in found["cautions"])),),
        ),
    )
    return Page(
        language=say.language,
        title=say("A meet, audited"),
        headline=say(
            "{audited} of {of} routines audited",
            audited=found["meet"]["audited"],
            of=found["meet"]["routines"],
        ),
        notice=notice(say),
        opening=tuple(_opening(found, say)),
        sections=sections,
    )


def _opening(found: Document, say: Saying) -> Iterator[Block]:
    book, called = found["rule_book"], found["meet"]["title"]
    if called:
        yield Paragraph(words(Run(called, "strong")))
    yield Paragraph(words(say("Rule book: {title} ({id}).", title=book["title"], id=book["id"])))
    yield Paragraph(
        words(
            say(
                "Judges and auditors are letters and athletes are codes. Nobody is ranked here, and nothing "
                "here says who is the better judge."
            )
        )
    )


def _sample(found: Document, say: Saying) -> Section:
    return Section("sample", say("What was audited, and how it was chosen"), tuple(_of_sample(found, say)))


def _of_sample(found: Document, say: Saying) -> Iterator[Block]:
    lot, choices = found["lot"], found["meet"]["choices"]
    if choices:
        yield Listed(tuple(words(_choice(one, say)) for one in choices))
    if lot is None:
        told = say("No routine was drawn by lot, so nothing here speaks of the meet as a whole.")
        yield Paragraph(words(told), warns=True)
    else:
        yield from _of_lot(found, lot, say)
    if found["unsettled"]:
        told = say(
            "Audited by two auditors and not settled yet: {names}. Until then the sheet of the auditor named "
            "here counts, by lot.",
            names=", ".join(f"{one['start']} ({one['auditor']})" for one in found["unsettled"]),
        )
        yield Paragraph(words(told), warns=True)


def _of_lot(found: Document, lot: Document, say: Saying) -> Iterator[Block]:
    told = say(
        "{number} routines were drawn by lot with the seed {seed}: whoever draws with it again draws these.",
        number=lot["number"],
        seed=lot["seed"],
    )
    yield Paragraph(words(told))
    if lot["by"]:
        yield _strata(found, say)
    for one in lot["remarks"]:
        yield Paragraph(words(one), warns=True)
    if lot["waiting"]:
        yield Paragraph(words(say("Not audited yet: "), ", ".join(lot["waiting"])))


def _choice(one: Document, say: Saying) -> str:
    how = say.word(one["how"])
    if one.get("triggers"):
        return say(
            "{count} of {of} routines chosen {how}: {triggers}",
            count=one["starts"],
            of=one["of"],
            how=how,
            triggers=", ".join(say.word(_TRIGGERS.get(name, name)) for name in one["triggers"]),
        )
    return say("{count} of {of} routines chosen {how}", count=one["starts"], of=one["of"], how=how)


def _strata(found: Document, say: Saying) -> Table:
    columns = (
        Column(say("Drawn from"), 4),
        Column(say("Routines"), 2, True),
        Column(say("Audited"), 2, True),
    )
    strata = (found["by_lot"] or {"strata": []})["strata"]
    rows = tuple(
        Row((words(one["name"] or say("(without)")), words(str(one["of"])), words(str(one["audited"]))))
        for one in strata
    )
    return Table(say("The parts of the meet that the lot drew from"), columns, rows, narrow=True)


def _others(found: Document, say: Saying) -> Iterator[Section]:
    """Routines that were not drawn by lot."""
    figures = found["others"]
    if figures is None:
        return
    told = say(
        "Chosen for a reason or by hand: these figures describe the routines themselves, and no others."
    )
    yield Section(
        "others", say("Audited, and not drawn by lot"), (Paragraph(words(told)), key_figures(figures, say))
    )


def _routines(found: Document, say: Saying) -> Section:
    columns = (
        Column(say("Routine"), 3),
        Column(say("Start value posted"), 3, True),
        Column(say("audited"), 3, True),
        Column(say("Final score posted"), 3, True),
        Column(say("audited"), 3, True),
        Column(say("at full speed"), 3, True),
        Column(say("Allowed"), 3),
        Column(say("Chosen"), 3),
        Column(say("Case"), 6),
    )
    rows = tuple(
        Row(tuple(_routine_cells(one, say)), anchor=f"routine-{one['start']}") for one in found["routines"]
    )
    if not rows:
        told: Block = Paragraph(words(say("No routine is audited yet.")))
    else:
        told = Table(say("Every routine that was audited, in the order of the meet"), columns, rows)
    return Section("routines", say("The routines"), (told,))


def _routine_cells(one: Document, say: Saying) -> Iterator[Words]:
    allowed = {True: say("yes"), False: say("no"), None: NOTHING}
    yield words(one["start"])
    for name in ("start_value", "final"):
        yield words(say.numbers(one[name]["posted"] or NOTHING))
        yield words(say.numbers(one[name]["audited"]))
    yield words(say.numbers(one["final_at_full_speed"]))
    yield words(allowed[one["reachable"]])
    yield words(say("by lot") if one["by_lot"] else say("otherwise"))
    yield words(Run(one["case"], "code"))


def _problems(found: Document, say: Saying) -> Iterator[Section]:
    """Cases that could not be read."""
    if found["problems"]:
        points = tuple(
            words(f"{say.place(one['where'])}: {one['message']} {one['remedy']}") for one in found["problems"]
        )
        yield Section(
            "problems", say("Left out, since they could not be read"), (Listed(points, warns=True),)
        )
