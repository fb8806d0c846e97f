"""Readers of the clauses on the cast's angle, the panel, ties and inquiries."""

import re
from collections.abc import Iterator

from reviewer.rules.deducting import EDGES
from reviewer.rules.record import Record
from reviewer.terms.bodylines import LINES, LOWEST, SHOULDER_OPEN
from reviewer.terms.exact import Degrees
from reviewer.terms.measures import Measure
from reviewer.terms.messages import message
from reviewer.terms.provisions import (
    CastLimit,
    CastLine,
    CastTolerance,
    GuardBand,
    InquiryRule,
    PanelRule,
    PanelSize,
    ReferenceBand,
    Spread,
    Ties,
)
from reviewer.terms.vocabulary import (
    CAST_SCOPES,
    QUESTIONS,
    RECORDINGS,
    RESULTS,
    ROUNDINGS,
    TIE_STEPS,
)

_ON = ("best cast", "any cast")
_MIDDLE = re.compile(r"middle ([1-9]) scores?")


def cast_line(record: Record, clause: str) -> Iterator[CastLine]:
    """The body line whose angle is taken."""
    yield CastLine(record.choice("line", (*LINES, *LOWEST)), _shoulders_open(record), clause)


def _shoulders_open(record: Record) -> Degrees:
    """The shoulder angle up to which the line goes from the hands, where the book says one."""
    return record.degrees("shoulders-open-to") if record.has("shoulders-open-to") else SHOULDER_OPEN


def cast_limit(record: Record, clause: str) -> Iterator[CastLimit]:
    """The elevation that meets the requirement."""
    yield CastLimit(record.degrees("at-least"), _edge(record), clause)


def cast_tolerance(record: Record, clause: str) -> Iterator[CastTolerance]:
    """How far below the limit credit is still given."""
    spared = record.codes("not-on-top-of-it", needed=False)
    below, takes = record.degrees("below-limit"), record.points("takes")
    if below < Degrees(0):
        record.wrong(
            "bad-value", message("A tolerance is not negative."), message("Write such as '10 degrees'.")
        )
    scope, on_best = record.choice("scope", CAST_SCOPES), record.flag("on", *_ON)
    yield CastTolerance(below, _edge(record), takes, scope, spared, not on_best, clause)


def guard_band(record: Record, clause: str) -> Iterator[GuardBand]:
    """How clear of a limit a measured angle must be to be decided."""
    yield GuardBand(record.number("clear-by", "thousandths of the standard uncertainty"), clause)


def panel(record: Record, clause: str) -> Iterator[PanelRule]:
    """How an average is brought to thousandths, and from how many judges the extremes are left out."""
    key = "drop-extremes-from"
    drop_from = record.number(key, "judges") if record.has(key) else None
    if drop_from is not None and drop_from < 3:
        record.wrong(
            "bad-value", message("Extremes drop from three judges on."), message("Write '3 judges' or more.")
        )
    yield PanelRule(record.choice("rounding", ROUNDINGS), drop_from, clause)


def panel_size(record: Record, clause: str) -> Iterator[PanelSize]:
    """How many middle scores of so many judges are averaged."""
    judges, text = record.number("judges", "judges"), record.text("counting")
    found = _MIDDLE.fullmatch(text)
    middle = int(found[1]) if found else None
    if text and text != "all" and not found:
        record.wrong(
            "bad-value",
            message("{text} is not known here.", text=repr(text)),
            message("Write 'all' or 'middle 2 scores'."),
        )
    if middle is not None and (middle > judges or (judges - middle) % 2):
        said = message("{count} judges have no middle {middle} scores.", count=judges, middle=middle)
        record.wrong("bad-value", said, message("Leave out as many at the top as at the bottom."))
    yield PanelSize(judges, middle, clause)


def spread(record: Record, clause: str) -> Iterator[Spread]:
    """How far apart the counting judges' scores may lie."""
    yield Spread(record.points("average-from"), record.points("allowed"), clause)


def reference(record: Record, clause: str) -> Iterator[ReferenceBand]:
    """How far the panel may lie from a reference score."""
    yield ReferenceBand(record.points("reference-from"), record.points("allowed"), clause)


def ties(record: Record, clause: str) -> Iterator[Ties]:
    """What decides between equal totals."""
    steps = record.codes("higher")
    for step in steps:
        if step not in TIE_STEPS:
            record.wrong(
                "bad-value",
                message("{step} decides no tie.", step=repr(step)),
                message("Write one of {words}.", words=", ".join(TIE_STEPS)),
            )
    yield Ties(steps, clause)


def inquiry(record: Record, clause: str) -> Iterator[InquiryRule]:
    """One thing that is settled about inquiries."""
    said = [key for key in QUESTIONS if record.has(key)]
    if len(said) != 1:
        record.wrong(
            "test",
            message("An inquiry clause settles one thing."),
            message("Write one of {words}.", words=", ".join(QUESTIONS)),
        )
        return
    settles, edge_included, within = said[0], True, None
    if settles == "within":
        record.text("counted-from")
        edge_included, within = _edge(record), record.measure("within", Measure.time, "60 seconds")
    yield InquiryRule(settles, _allowed(record, settles), within, edge_included, clause)


def _allowed(record: Record, settles: str) -> tuple[str, ...]:
    match settles:
        case "recording":
            return (record.choice("recording", RECORDINGS),)
        case "fee":
            return (record.text("fee"),)
        case "within":
            return ()
    words = record.codes(settles)
    for word in words if settles == "result" else ():
        if word not in RESULTS:
            record.wrong(
                "bad-value",
                message("{word} is no result.", word=repr(word)),
                message("Write some of {words}.", words=", ".join(RESULTS)),
            )
    return words


def _edge(record: Record) -> bool:
    return record.flag("edge", *EDGES)
