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
from reviewer.reports.composing.findings import findings
from reviewer.reports.composing.standing import open_lines
from reviewer.reports.composing.view import NOTHING, View, signed
from reviewer.terms.intervals import degrees_told, seconds_told
from reviewer.terms.messages import noted
from reviewer.words import Saying


def marks(view: View) -> Section:
    """Every mark of the routine."""
    say = view.say
    columns = (
        Column(say("Mark"), 2),
        Column(say("What was marked"), 5),
        Column(say("Frame"), 2, True),
        Column(say("Time, s"), 2, True),
        Column(say("On element"), 2),
        Column(say("Remarks"), 5),
    )
    rows = tuple(_mark(view, mark) for mark in view.finding["marks"])
    return Section("marks", say("The marks"), (Table(say("Every mark, in routine order"), columns, rows),))


def sources(view: View) -> Section:
    """The clauses that decided, as they were taken, and what each rests on."""
    say = view.say
    columns = (
        Column(say("Clause"), 4),
        Column(say("What it says"), 9),
        Column(say("In force since"), 3),
        Column(say("Source"), 5),
    )
    rows = tuple(_clause(view, one) for one in view.finding["clauses"])
    return Section("sources", say("Sources"), (Table(say("Clauses that decided"), columns, rows),))


def _clause(view: View, one: Mapping[str, Any]) -> Row:
    say = view.say
    says = words(Run(f"{one['title'].rstrip('.')}.", "strong"), f" {one['says']}")
    if "read_as" in one:
        says = words(*says, " ", Run(say("The judge reads it so: {what}", what=one["read_as"]), "strong"))
    cells = (words(one["id"]), says, words(one["since"]), words(say.retold(one["source"])))
    return Row(cells, f"clause-{one['id']}")


def fingerprints(view: View) -> Section:
    """What anyone can hold against their own copy."""
    say, finding = view.say, view.finding
    how = say(
        "Anyone with case.json and reviewer {version} derives these pages again with the commands below; the "
        "second decodes the stills again from the recording.",
        version=finding["version"],
    )
    commands = ("reviewer verify FOLDER", "reviewer verify FOLDER --recording FILE --pictures")
    columns = (Column(say("What"), 2), Column(say("SHA-256"), 7))
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
    came_to = [*findings(view), *_by_the_marks(view)]
    which = words(
        " ".join([about, *came_to, say("Fingerprint of the case:")]), " ", Run(case["head"], "code")
    )
    left = open_lines(view)
    if left:
        unsigned = say("There is no place to sign before every line is settled.")
        return Section(
            "signature", say("Not to be signed"), (Paragraph(words(left, " ", unsigned), warns=True),)
        )
    lines = Signed((say("Place and date"), say("Signature of whoever answers for this finding")))
    return Section("signature", say("Signed"), (Paragraph(which), lines))


def _by_the_marks(view: View) -> Iterator[str]:
    """The score of the marks; beside a finding it is called so."""
    if "only" not in view.score:
        name = noted("Score by the marks {score}.") if any(findings(view)) else noted("Final score {score}.")
        yield view.say(name, score=view.score["final_score"])


def _mark(view: View, mark: Mapping[str, Any]) -> Row:
    frame = words(NOTHING)
    if "frame" in mark:
        frame = view.frame(mark["frame"], mark.get("recording_number"))
    cells = (
        mark["id"],
        view.say.numbers(mark["name"]),
        frame,
        mark.get("seconds", NOTHING),
        mark.get("element", ""),
    )
    said = words("; ".join(_said(view, mark)))
    return Row((*(words(one) for one in cells), said), f"mark-{mark['id']}")


def _said(view: View, mark: Mapping[str, Any]) -> Iterator[str]:
    say = view.say
    yield from (plain_word(say, role) for role in mark.get("roles", ()))
    if mark.get("with"):
        yield say("with {what}", what=", ".join(plain_word(say, one) for one in mark["with"]))
    if "angle" in mark:
        size, means = angle_told(say, mark["angle"]), say.word(mark["angle"]["by"])
        yield say("{angle} by {means}", angle=size, means=means)
        if mark["angle"].get("at_full_speed"):
            yield say("called {angle} at full speed", angle=angle_told(say, mark["angle"]["at_full_speed"]))
    if "seen" in mark:
        yield say("seen at {speed}", speed=say.word(mark["seen"]))
    if "judge" in mark:
        yield say("judge {judge}", judge=mark["judge"])
    if "counts" in mark:
        yield say("another attempt, does not count")


def plain_word(say: Saying, code: str) -> str:
    """A role or a condition as people say it; a book's own code with its words apart."""
    told = say.word(code)
    return code.replace("-", " ") if told == code else told


def angle_told(say: Saying, angle: Mapping[str, Any]) -> str:
    """What a mark says of a cast: the angle as far as it is known, else the verdict."""
    if "deg" not in angle:
        return say.word(angle["verdict"])
    if angle.get("u_deg"):
        return degrees_told({"value_deg": angle["deg"], "u_deg": angle["u_deg"]})
    return f"{signed(angle['deg'])}°"


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
        stamp = say("time stamp {stamp}", stamp=still["pts"])
        yield name, words(Run(still["picture_sha256"], "code"), " ", stamp)


def _of_recording(view: View, one: Mapping[str, Any]) -> Iterator[Run | str]:
    yield Run(one["sha256"], "code")
    yield " " + view.say(
        "{number} frames, time stamps in steps of {base} s", number=one["frames"], base=one["time_base"]
    )


def _attempt(view: View, one: Mapping[str, Any]) -> Iterator[str]:
    say = view.say
    if one["counts"]:
        yield "; " + say("attempt {number}, which counts", number=one["attempt"])
    else:
        yield "; " + say("attempt {number}, which does not count", number=one["attempt"])
    if one["offset"]:
        size = seconds_told(one["offset"]["seconds"], one["offset"]["u_s"])
        other = one["offset"]["to"]
        yield "; " + say("{size} added to its times gives those of recording {other}", size=size, other=other)
