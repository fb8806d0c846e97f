"""Which routines of a meet give a reason to look again: by what was posted, and by the marks of cases."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from reviewer import casefile, scoring
from reviewer.actions.audit import Audit
from reviewer.actions.books import load_book
from reviewer.actions.meetholding import meet_case
from reviewer.actions.panelposted import within_itself
from reviewer.exchange.meets import read_meet
from reviewer.scoring.panel import spreading
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.meets import TRIGGERS, Meet, Start
from reviewer.terms.messages import Message, message, noted
from reviewer.terms.problems import DocumentError, Problem
from reviewer.terms.provisions import Few, Spread, ValueParts
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import ScoreSheet

_NOUGHT = Points(0)
ALL = "all"
"""What stands for every trigger there is."""


@dataclass(frozen=True, slots=True)
class Told:
    """Whether a trigger holds, None where that cannot be told; and why, in figures."""

    holds: bool | None
    why: Message


_QUIET = Told(False, message("Nothing speaks for it."))


@dataclass(frozen=True, slots=True)
class _Marked:
    """What the case of a routine says; ``sheet`` is None while nothing is marked, or not all is audited.

    ``book``: by which edition; ``_Marked`` of no case has none.
    """

    inquiries: int
    marks: tuple[Mark, ...]
    sheet: ScoreSheet | None
    book: RuleBook | None = None


def meet_triggers(folder: Path, only: Sequence[str] = ()) -> dict[str, Any]:
    """``reviewer.meet-triggers/1``: the routines that have a trigger, each with its reason in figures."""
    meet, wanted = read_meet(folder), triggers_named(only)
    book = load_book(meet.rule_book)
    found = [(one, dict(told_of(one, folder, book, wanted))) for one in meet.starts]
    return {
        "format": "reviewer.meet-triggers/1",
        "rule_book": {"id": book.id, "sha256": book.sha256},
        "asked": list(wanted),
        "of": len(found),
        "starts": [one for start, told in found if (one := _start(start, told))["triggers"]],
        "cannot_be_told": _untold(found),
    }


def triggered(folder: Path, meet: Meet, wanted: Sequence[str]) -> tuple[str, ...]:
    """Names of the routines that have any of these triggers, in the order of the meet."""
    book = load_book(meet.rule_book)
    told = {one.name: dict(told_of(one, folder, book, wanted)).values() for one in meet.starts}
    return tuple(name for name, some in told.items() if any(one.holds for one in some))


def triggers_named(names: Sequence[str]) -> tuple[str, ...]:
    """The triggers of these names, every one where none or `ALL` is named; a DocumentError for others."""
    unknown = [name for name in names if name not in (*TRIGGERS, ALL)]
    if unknown:
        said = message("There is no such trigger.")
        remedy = message("Name one of: {columns}.", columns=", ".join((*TRIGGERS, ALL)))
        raise DocumentError(Problem("unknown-trigger", repr(name), said, remedy) for name in unknown)
    return tuple(one for one in TRIGGERS if not names or ALL in names or one in names)


def told_of(start: Start, folder: Path, book: RuleBook, wanted: Sequence[str]) -> Iterator[tuple[str, Told]]:
    """What is to be told of each trigger of one routine."""
    marked = _marked(meet_case(folder, start.name))
    for one in wanted:
        match one:
            case "spread":
                yield one, _spread(start, book)
            case "start-value":
                yield one, _start_value(start)
            case "inquiry":
                yield one, _inquiry(start, marked)
            case "short":
                yield one, _short(start, marked, book)
            case "contradiction":
                yield one, _contradiction(start, book)
            case "outside":
                yield one, _outside(start, marked, book)


def _marked(path: Path) -> _Marked:
    """What the marks of a case come to; its recording, which may be large, is not looked for."""
    if not path.exists():
        return _Marked(0, (), None)
    with Audit(casefile.open_case(path, None)) as audit:
        marks, inquiries = audit.counting_marks, len(audit.state.inquiries)
        if not marks or audit.state.limited_to:
            return _Marked(inquiries, (), None)
        return _Marked(inquiries, marks, audit.sheet, audit.book)


def _spread(start: Start, book: RuleBook) -> Told:
    scores = [score for _, score in start.posted.judges]
    if len(scores) < 2:
        return Told(None, message("Scores of fewer than two judges were posted."))
    if not book.all(Spread):
        return Told(None, message("The edition {edition} sets no limit to a spread.", edition=book.id))
    found = spreading(scores, book)
    if found is None:
        return Told(None, message("Of so many scores the edition sets no limit to the spread."))
    why = message(
        "The counting scores lie {spread} apart, with an average of {average}; {allowed} is allowed.",
        spread=found.spread,
        average=scoring.panel_score(
            dict(start.posted.judges), book, neutral=_NOUGHT, difficulty=_NOUGHT
        ).average,
        allowed=found.allowed,
    )
    return Told(not found.within, why)


def _start_value(start: Start) -> Told:
    posted, requested = start.posted.start_value, start.requested
    if posted is None:
        return Told(None, message("No start value was posted."))
    if requested is None:
        return Told(None, message("Nobody said which start value was requested."))
    why = message("Requested {requested}, posted {posted}.", requested=requested, posted=posted)
    return Told(posted != requested, why)


def _inquiry(start: Start, marked: _Marked) -> Told:
    if marked.inquiries:
        return Told(True, message("Inquiries kept in its case: {count}.", count=marked.inquiries))
    return Told(True, message("An inquiry was filed.")) if start.inquiry else _QUIET


def _short(start: Start, marked: _Marked, book: RuleBook) -> Told:
    if start.short:
        return Told(True, message("The exercise was called short."))
    if marked.sheet is not None and not marked.sheet.problems:
        return _short_of(marked.sheet, book)
    if start.short is None:
        return Told(None, message("Nobody said whether the exercise was short, and its case says nothing."))
    return _QUIET


def _short_of(sheet: ScoreSheet, book: RuleBook) -> Told:
    """What the marks say: of few elements, or of fewer value parts than a routine needs."""
    clauses, needed = {few.clause for few in book.all(Few)}, book.one(ValueParts)
    few = next((line for line in sheet.lines if line.clause in clauses), None)
    if few is not None:
        return Told(True, message("By the marks of its case: {said}", said=few.why))
    if needed is not None and sheet.value_parts < needed.number:
        said = message(
            "By the marks of its case {number} value parts are credited, and {needed} are needed.",
            number=sheet.value_parts,
            needed=needed.number,
        )
        return Told(True, said)
    return _QUIET


def _contradiction(start: Start, book: RuleBook) -> Told:
    checks = within_itself(start.posted, dict(start.posted.judges), book)
    if not checks:
        return Told(None, message("Too little was posted to hold one figure against another."))
    wrong = [one for one in checks if one["stands"] is False]
    open_ = [one for one in checks if one["stands"] is None]
    if wrong:
        return Told(True, _otherwise(wrong[0]))
    return Told(None, open_[0]["why"]) if open_ else _QUIET


_OTHERWISE = {
    "average": noted("Posted average {said}; the judges' scores come to {derived}. {why}"),
    "final": noted("Posted final score {said}; the other figures come to {derived}. {why}"),
    "judge": noted("Score of judge {judge} {said}; what was written down comes to {derived}. {why}"),
}


def _otherwise(check: Mapping[str, Any]) -> Message:
    return message(_OTHERWISE[check["part"]], **{"judge": "", **check})


def _outside(start: Start, marked: _Marked, book: RuleBook) -> Told:
    final = start.posted.final
    if final is None:
        return Told(None, message("No final score was posted."))
    most = _most(start, book)
    if final > most:
        said = message("Posted final score {final}; at most {most} can be given.", final=final, most=most)
        return Told(True, said)
    if not scoring.is_final(final, book):
        said = message(
            "Posted final score {final}; no judges' scores come to it in this edition.", final=final
        )
        return Told(True, said)
    if marked.sheet is None or marked.book is None:
        return _QUIET
    panel = len(start.posted.judges)
    reached, nearest = scoring.held_against_panel(marked.sheet, marked.marks, marked.book, panel, final)
    return _unreached(final, reached, nearest, len(marked.marks))


def _most(start: Start, book: RuleBook) -> Points:
    """The greatest final score: by the edition, and by the start value where one was posted."""
    most, begins = scoring.most_final(book), start.posted.start_value
    if begins is None:
        return most
    added = _NOUGHT if book.execution_from is None else book.execution_from.points
    least = book.courtesy.points if book.courtesy is not None else _NOUGHT
    return min(most, max(begins + added, least))


def _unreached(final: Points, reached: bool | None, nearest: Points, marks: int) -> Told:
    if reached is None:
        said = message("The marks of its case leave open whether {final} is reached.", final=final)
        return Told(None, said)
    why = message(
        "Posted final score {final}; the marks of its case ({marks}) allow {nearest} as the nearest score.",
        final=final,
        marks=marks,
        nearest=nearest,
    )
    return Told(not reached, why)


def _start(start: Start, told: Mapping[str, Told]) -> dict[str, Any]:
    held = {name: one.why.words() for name, one in told.items() if one.holds}
    triggers = [{"trigger": name, "why": why} for name, why in held.items()]
    return {"start": start.name, "line": start.line, "triggers": triggers}


def _untold(found: Sequence[tuple[Start, Mapping[str, Told]]]) -> list[dict[str, Any]]:
    """What cannot be told, each reason once, with the routines it is so of."""
    starts: dict[tuple[str, str], list[str]] = {}
    for start, told in found:
        for name, one in told.items():
            if one.holds is None:
                starts.setdefault((name, one.why.words()), []).append(start.name)
    return [{"trigger": name, "why": why, "starts": own} for (name, why), own in starts.items()]
