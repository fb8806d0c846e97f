"""What if: a decision otherwise, another amount, credit given or withheld, another reading or edition.

Only the differences are told, and nothing is written unless the judge says so.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path
from typing import Any

from reviewer import rules, scoring
from reviewer.actions.audit import Audit, others_in
from reviewer.actions.documents import read_marks
from reviewer.actions.interpreting import (
    all_not_open,
    choose_edition,
    choose_interpretation,
    no_reading,
)
from reviewer.actions.marking import change_mark, withdraw_mark
from reviewer.actions.opening import open_case
from reviewer.actions.scores import book_for
from reviewer.actions.sheetdocument import (
    line_document,
    no_frames,
    not_earned_document,
    not_taken_document,
    note_document,
)
from reviewer.casefile import is_case
from reviewer.scoring.differences import Differences, differences
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import CastAngle, Mark
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem
from reviewer.terms.rulebook import OTHER, STATED, RuleBook
from reviewer.terms.sheets import ScoreSheet

_Change = Callable[[Mark], Mark]


@dataclass(frozen=True, slots=True)
class Supposed:
    """What shall be otherwise; each by the id of its mark, or of its clause.

    Attributes:
        amounts: what a fault costs.
        angles: of a cast, taken as exact.
        verdicts: on a cast, by eye.
        said, unsaid: a condition that holds of an element, or does not.
        credits: ``given`` or ``withheld``.
        left_out: marks as if they had never been placed.
        readings: ``stated`` or ``other``, by clause.
        rule_book: another edition.
    """

    amounts: Mapping[str, Points] = field(default_factory=dict)
    angles: Mapping[str, Degrees] = field(default_factory=dict)
    verdicts: Mapping[str, str] = field(default_factory=dict)
    said: tuple[tuple[str, str], ...] = ()
    unsaid: tuple[tuple[str, str], ...] = ()
    credits: Mapping[str, str] = field(default_factory=dict)
    left_out: tuple[str, ...] = ()
    readings: Mapping[str, str] = field(default_factory=dict)
    rule_book: str | None = None


def what_if(path: Path, supposed: Supposed, *, author: str | None = None) -> dict[str, Any]:
    """``reviewer.what-if/1``: what would differ; with an author, the case is changed to say so."""
    if not is_case(path):
        if author is not None:
            said, remedy = (
                message("Only a case keeps what was supposed."),
                message("Leave --keep out, or name a case."),
            )
            raise DocumentError(Problem("no-case", path.name, said, remedy))
        read = read_marks(path)
        book = book_for(read, None)
        return _told(read.marks, book, supposed, kept=False, judges=read.judges, where=path.name)
    with open_case(path, author=author) as audit:
        marks = audit.counting_marks
        kept, judges = author is not None, audit.judges_of(marks)
        found = _told(marks, audit.book, supposed, kept=kept, judges=judges, where=path.name)
        if author is not None:
            _keep(audit, supposed)
        return found


def _told(
    marks: tuple[Mark, ...],
    book: RuleBook,
    supposed: Supposed,
    *,
    kept: bool,
    judges: Sequence[str],
    where: str,
) -> dict[str, Any]:
    try:
        sheets = _sheets(marks, book, supposed, kept=kept, judges=judges)
    except DocumentError as fault:
        raise DocumentError(replace(one, where=f"{where}: {one.where}") for one in fault.problems) from None
    return _document(differences(*sheets), kept)


def supposed_sheet(audit: Audit, supposed: Supposed) -> ScoreSheet:
    """The whole sheet as it would be; a DocumentError names what cannot be supposed. Nothing is written."""
    marks = audit.counting_marks
    return _sheets(marks, audit.book, supposed, kept=False, judges=audit.judges_of(marks))[1]


def _sheets(
    marks: tuple[Mark, ...],
    book: RuleBook,
    supposed: Supposed,
    *,
    kept: bool,
    judges: Sequence[str] = (),
) -> tuple[ScoreSheet, ScoreSheet]:
    """The sheet as it is and as it would be. A judge whose last fault goes still scores."""
    other = _book(book, supposed)
    changed = dict(_changed(marks, supposed))
    after = tuple(changed.get(one.id, one) for one in marks if one.id not in supposed.left_out)
    judges = [one.judge for one in scoring.score(marks, book, judges).judges]
    sheets = scoring.score(marks, book, judges), scoring.score(after, other, judges)
    unknown = list(_unknown_words(supposed, other))
    known = [one for one in sheets[0].problems if not (kept and one.where in changed)]
    problems = [*unknown, *(one for one in sheets[1].problems if one not in known)]
    if problems:
        raise DocumentError(problems)
    return sheets


def _unknown_words(supposed: Supposed, book: RuleBook) -> Iterator[Problem]:
    """Conditions that shall not hold and that the edition does not know: no sheet would name them."""
    known = [one.code for one in book.conditions]
    for name, condition in supposed.unsaid:
        if condition not in known:
            use = message("Use: {known}.", known=", ".join(known))
            yield Problem(
                "unknown-word",
                name,
                message("{condition} says nothing here.", condition=repr(condition)),
                use,
            )


def _changed(marks: tuple[Mark, ...], supposed: Supposed) -> Iterator[tuple[str, Mark]]:
    """The marks that are otherwise, by id; a DocumentError names every id that is no mark's."""
    changes = list(_changes(supposed))
    known = {one.id: one for one in marks}
    unknown = [name for name, _ in changes if name not in known]
    unknown += [name for name in supposed.left_out if name not in known]
    if unknown:
        said, remedy = (
            message("There is no mark of that id here."),
            message("Look it up with `reviewer marks list`."),
        )
        raise DocumentError([Problem("unknown-mark", name, said, remedy) for name in dict.fromkeys(unknown)])
    for name, change in changes:
        known[name] = change(known[name])
        yield name, known[name]


def _changes(supposed: Supposed) -> Iterator[tuple[str, _Change]]:
    for name, points in supposed.amounts.items():
        yield name, _to(amount=points)
    for name, degrees in supposed.angles.items():
        yield name, partial(_cast, angle=CastAngle("eye", degrees))
    for name, word in supposed.verdicts.items():
        yield name, partial(_cast, angle=CastAngle("eye", verdict=word))
    for name, condition in supposed.said:
        yield name, partial(_with, condition=condition)
    for name, condition in supposed.unsaid:
        yield name, partial(_without, condition=condition)
    for name, credit in supposed.credits.items():
        yield name, _to(credit=credit)


def _to(**said: Any) -> _Change:
    """A change that lets a mark say something else."""
    return lambda mark: replace(mark, **said)


def _cast(mark: Mark, angle: CastAngle) -> Mark:
    """What was called at full speed of a cast that was measured afterwards stays as it was."""
    called = mark.angle.at_full_speed if mark.angle is not None else None
    return replace(mark, angle=replace(angle, at_full_speed=called))


def _with(mark: Mark, condition: str) -> Mark:
    return replace(mark, conditions=tuple(dict.fromkeys((*mark.conditions, condition))))


def _without(mark: Mark, condition: str) -> Mark:
    return replace(mark, conditions=tuple(one for one in mark.conditions if one != condition))


def _book(book: RuleBook, supposed: Supposed) -> RuleBook:
    base = rules.load(rules.find(supposed.rule_book)) if supposed.rule_book else book
    problems = [*all_not_open(supposed.readings, base), *_no_readings(supposed.readings)]
    if problems:
        raise DocumentError(problems)
    kept = dict.fromkeys(book.chosen, OTHER)
    return base.read_as(others_in(base, kept | dict(supposed.readings)))


def _no_readings(readings: Mapping[str, str]) -> list[Problem]:
    return [no_reading(clause, said) for clause, said in readings.items() if said not in (STATED, OTHER)]


def _keep(audit: Audit, supposed: Supposed) -> None:
    """Write what was supposed into the case, each change an event of its own.

    All of it was checked before; marks are withdrawn first, so that each changed one then stands as checked.
    """
    if supposed.rule_book:
        choose_edition(audit, supposed.rule_book)
    for clause, reading in supposed.readings.items():
        choose_interpretation(audit, clause, reading)
    changed = dict(_changed(audit.marks, supposed))
    for name in dict.fromkeys(supposed.left_out):
        withdraw_mark(audit, name)
    for name, mark in changed.items():
        if name not in supposed.left_out:
            change_mark(audit, mark)


def _document(found: Differences, kept: bool) -> dict[str, Any]:
    return {
        "format": "reviewer.what-if/1",
        "same": found.none,
        "kept": kept,
        "figures": [{"what": one.what, "before": one.before, "after": one.after} for one in found.figures],
        "gone": {
            "lines": [line_document(one, no_frames) for one in found.lines_gone],
            "not_earned": [not_earned_document(one) for one in found.refused_gone],
            "not_taken": [not_taken_document(one) for one in found.untaken_gone],
            "notes": [note_document(one, no_frames) for one in found.notes_gone],
        },
        "new": {
            "lines": [line_document(one, no_frames) for one in found.lines_new],
            "not_earned": [not_earned_document(one) for one in found.refused_new],
            "not_taken": [not_taken_document(one) for one in found.untaken_new],
            "notes": [note_document(one, no_frames) for one in found.notes_new],
        },
    }
