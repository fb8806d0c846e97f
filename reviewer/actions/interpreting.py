"""Choosing how a rule is read where its edition leaves that open, and by which edition a case is scored."""

from collections.abc import Iterable

from reviewer import rules
from reviewer.actions.audit import Audit, AuditError, others_in
from reviewer.actions.marking import Change
from reviewer.actions.opening import chosen_book
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem
from reviewer.terms.rulebook import OTHER, STATED, RuleBook
from reviewer.terms.sheets import ScoreSheet

_SHEET = frozenset({"sheet"})


def choose_interpretation(audit: Audit, clause: str, reading: str) -> Change:
    """Read a clause that leaves a reading open as ``stated`` or the ``other`` way: one event."""
    refuse_not_open(audit, [clause])
    if reading not in (STATED, OTHER):
        raise AuditError(no_reading(clause, reading))
    audit.case.append("interpretation-chosen", {"clause": clause, "reading": reading})
    return Change(_SHEET)


def choose_edition(audit: Audit, rule_book: str) -> Change:
    """Score the case by another edition from here on; its text is kept in the case."""
    book = rules.load(rules.find(rule_book))
    audit.case.keep_book(book.text)
    audit.case.append("rule-book-chosen", chosen_book(book))
    return Change(_SHEET | {"case"})


def scored_by_edition(audit: Audit, book: RuleBook) -> ScoreSheet:
    """What `choose_edition` would make of the score, with the readings that were chosen."""
    return audit.scored_by(book.read_as(others_in(book, audit.state.interpretations)))


def refuse_not_open(audit: Audit, clauses: Iterable[str]) -> None:
    """An AuditError for every clause that leaves no reading open in the case's edition."""
    problems = all_not_open(clauses, audit.book)
    if problems:
        raise AuditError(problems)


def all_not_open(clauses: Iterable[str], book: RuleBook) -> list[Problem]:
    """A problem for each of these clauses that leaves no reading open in an edition."""
    open_ = {one.clause for one in book.interpretations}
    return [not_open(clause, book) for clause in clauses if clause not in open_]


def no_reading(clause: str, said: str) -> Problem:
    """The problem of a word that is none of the two readings."""
    return Problem(
        "no-reading",
        clause,
        message("{typed} is no reading.", typed=repr(said)),
        message("Say {stated} or {other}.", stated=STATED, other=OTHER),
    )


def not_open(clause: str, book: RuleBook) -> Problem:
    """The problem of a reading chosen for a clause that leaves none open."""
    known = ", ".join(one.clause for one in book.interpretations)
    remedy = message("Those that do: {known}.", known=known) if known else message("It leaves none open.")
    said = message(
        "The edition {edition} leaves no reading open in a clause {clause}.",
        edition=book.id,
        clause=repr(clause),
    )
    return Problem("not-open", clause, said, remedy)
