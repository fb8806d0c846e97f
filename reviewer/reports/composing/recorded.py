"""What the report was made from: marks, clauses with their sources, fingerprints; cautions; who signs."""

from collections.abc import Iterator, Mapping
from typing import Any

from reviewer.reports.blocks import (
    Block,
    Column,
    Listed,
    Paragraph,
    Row,
    Run,
    Section,
    Signed,
    Table,
    Words,
    words,
)
from reviewer.reports.composing.view import NOTHING, View


def marks(view: View) -> Section:
    """Every mark of the routine."""
    say = view.say
    columns = (
        Column(say("Mark"), 2),
        Column(say("What"), 5),
        Column(say("Frame"), 2, True),
        Column(say("Time, s"), 2, True),
        Column(say("Belongs to"), 2),
        Column(say("Said of it"), 5),
    )
    rows = tuple(_mark(view, mark) for mark in view.finding["marks"])
    return Section("marks", say("The marks"), (Table(say("Every mark, in routine order"), columns, rows),))


def sources(view: View) -> Section:
    """The clauses that decided, as they were taken, and what each rests on."""
    say = view.say
    columns = (
        Column(say("Clause"), 4),
        Column(say("What it says"), 6),
        Column(say("Value"), 6),
        Column(say("Since"), 3),
        Column(say("Source"), 5),
    )
    rows = tuple(
        Row(
            (
                *(words(one[name]) for name in ("id", "title", "value", "since")),
                words(say.word(one["source"])),
            ),
            f"clause-{one['id']}",
        )
        for one in view.finding["clauses"]
    )
    return Section("sources", say("Sources"), (Table(say("Clauses that decided"), columns, rows),))


def fingerprints(view: View) -> Section:
    """What anyone can hold against their own copy."""
    say, finding = view.say, view.finding
    how = say(
        "Anyone with case.json and reviewer {version} derives these pages again with the commands below; the "
        "second decodes the stills again from the recording.",
        version=finding["version"],
    )
    commands = ("reviewer verify FOLDER", "reviewer verify FOLDER --recording FILE --pictures")
    columns = (Column(say("Of"), 2), Column(say("SHA-256"), 7))
    rows = tuple(Row((words(name), print_)) for name, print_ in _prints(view))
    blocks: tuple[Block, ...] = (
        Paragraph(words(how)),
        Listed(tuple(words(Run(one, "code")) for one in commands)),
        Table(say("Fingerprints"), columns, rows),
    )
    return Section("fingerprints", say("Fingerprints and version"), blocks)


def cautions(view: View) -> Section:
    """What every report says, and what the edition says of itself."""
    said = (*map(view.say.word, view.finding["cautions"]), *view.finding["rule_book"]["cautions"])
    return Section("cautions", view.say("Cautions"), (Listed(tuple(words(one) for one in said)),))


def signature(view: View) -> Section:
    """A place to sign, for whoever answers for the finding."""
    say = view.say
    case, book = view.finding["case"], view.finding["rule_book"]
    about = say(
        "The finding on athlete {athlete} by {book}.", athlete=case["athlete_code"], book=book["title"]
    )
    came_to = [] if "only" in view.score else [say("Final score {score}.", score=view.score["final_score"])]
    which = words(" ".join([about, *came_to, say("Case:")]), " ", Run(case["head"], "code"))
    lines = Signed((say("Place and date"), say("Signature of whoever answers for this finding")))
    return Section("signature", say("Signed"), (Paragraph(which), lines))


def _mark(view: View, mark: Mapping[str, Any]) -> Row:
    frame = words(NOTHING)
    if "frame" in mark:
        frame = view.frame(mark["frame"], mark.get("recording_number"))
    cells = (mark["id"], mark["name"], frame, mark.get("seconds", NOTHING), mark.get("element", ""))
    said = words("; ".join(_said(view, mark)))
    return Row((*(words(one) for one in cells), said), f"mark-{mark['id']}")


def _said(view: View, mark: Mapping[str, Any]) -> Iterator[str]:
    say = view.say
    yield from mark.get("roles", ())
    if mark.get("with"):
        yield say("with {what}", what=", ".join(mark["with"]))
    if "angle" in mark:
        angle = mark["angle"]
        size = f"{angle['deg']}°" if "deg" in angle else say.word(angle["verdict"])
        yield say("{angle} by {means}", angle=size, means=say.word(angle["by"]))
    if "seen" in mark:
        yield say("seen at {speed}", speed=say.word(mark["seen"]))
    if "judge" in mark:
        yield say("judge {judge}", judge=mark["judge"])
    if "counts" in mark:
        yield say("another attempt, does not count")


def _prints(view: View) -> Iterator[tuple[str, Words]]:
    say, finding = view.say, view.finding
    if view.several:
        for one in finding["recordings"]:
            name = say("Recording {number}", number=one["number"])
            yield name, words(*_of_recording(view, one), *_attempt(view, one))
    elif finding["recording"]:
        yield say("Recording"), words(*_of_recording(view, finding["recording"]))
    else:
        yield say("Recording"), words(say("none cited"))
    yield (
        say("Rule book"),
        words(Run(finding["rule_book"]["sha256"], "code"), f" {finding['rule_book']['id']}"),
    )
    events = say("{number} events", number=finding["case"]["events"])
    yield say("Case"), words(Run(finding["case"]["head"], "code"), f" {events}")
    for still in finding["stills"]:
        name = say("Frame {frame}", frame=view.frame_name(still["frame"], still.get("recording")))
        yield name, words(Run(still["picture_sha256"], "code"))


def _of_recording(view: View, one: Mapping[str, Any]) -> Iterator[Run | str]:
    yield Run(one["sha256"], "code")
    yield " " + view.say("{number} frames, ticks of {base} s", number=one["frames"], base=one["time_base"])


def _attempt(view: View, one: Mapping[str, Any]) -> Iterator[str]:
    say = view.say
    if one["counts"]:
        yield "; " + say("attempt {number}, which counts", number=one["attempt"])
    else:
        yield "; " + say("attempt {number}, which does not count", number=one["attempt"])
    if one["offset"]:
        offset = one["offset"]
        yield "; " + say(
            "{seconds} s added to its times give those of recording {other}, with standard uncertainty {u} s",
            seconds=offset["seconds"],
            other=offset["to"],
            u=offset["u_s"],
        )
