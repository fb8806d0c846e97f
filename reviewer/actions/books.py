"""Rule books: which there are, what one says, what changed or is wrong, and amending one's own."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from reviewer import rules, scoring
from reviewer.actions.examples import run_cases
from reviewer.rules import amending, arranging, comparing
from reviewer.rules.arranging import sentences as sentences
from reviewer.rules.comparing import Change, Comparison
from reviewer.rules.pages import Chapter, Page, Row, Said, Table, open_words
from reviewer.rules.splicing import Written
from reviewer.terms.measures import TYPED_TIMES, Measure
from reviewer.terms.messages import message, spoken
from reviewer.terms.problems import DocumentError, Problem
from reviewer.terms.rulebook import Clause, RuleBook
from reviewer.terms.rulecases import InquiryAsked

__all__ = [
    "Change",
    "Chapter",
    "Comparison",
    "Page",
    "Row",
    "Said",
    "Table",
    "Written",
    "open_words",
]


def shipped_books() -> tuple[RuleBook, ...]:
    """The editions that travel with the program."""
    return tuple(rules.load(path) for path in rules.shipped())


def load_book(name: str) -> RuleBook:
    """A shipped edition by its id, or a file."""
    return rules.load(_file(name))


@dataclass(frozen=True, slots=True)
class Checked:
    """What a check of a rule-book file found.

    Attributes:
        problems: of the file; empty when it is sound.
        cases: how many examples and cases were run, none of a file that is not sound.
        differing: those that do not come out as written.
    """

    problems: tuple[Problem, ...]
    cases: int
    differing: tuple[Problem, ...]


def check_book(name: str, cases: tuple[Path, ...] = ()) -> Checked:
    """Every problem of a rule-book file, and every example or case that does not come out as written."""
    path = _file(name)
    problems = rules.check(path)
    if problems:
        return Checked(problems, 0, ())
    return Checked((), *run_cases(rules.load(path), str(path), cases))


def ask_inquiry(name: str, *, by: str, about: str, after: str, recording: bool) -> dict[str, Any]:
    """``reviewer.inquiry-asked/1``: whether an inquiry may be filed, and which clauses refuse it."""
    book = load_book(name)
    try:
        time = Measure.typed_time(after)
    except ValueError:
        said, remedy = (
            message("{after} is no time.", after=repr(after)),
            message("Write it as {forms}.", forms=spoken(TYPED_TIMES)),
        )
        raise DocumentError(Problem("no-time", "--after", said, remedy)) from None
    refused = scoring.refused_by(InquiryAsked(by, about, time, recording), book)
    return {
        "format": "reviewer.inquiry-asked/1",
        "rule_book": {"id": book.id, "sha256": book.sha256},
        "admissible": not refused,
        "refused_by": [
            {"clause": clause, "why": why.words(), "source": book.source(clause)} for clause, why in refused
        ],
    }


def book_page(name: str) -> Page:
    """A rule book arranged as a judge reads it."""
    return arranging.page(load_book(name))


def compare_books(before: str, after: str) -> Comparison:
    """What a later edition says that an earlier did not, and the reverse."""
    return comparing.compare(load_book(before), load_book(after))


def new_book(path: Path) -> RuleBook:
    """Write the commented start of an own book to a file that is not there yet."""
    return amending.new_book(path)


def copy_book(book: str, path: Path, *, id: str, title: str | None = None) -> Comparison:
    """Write a copy of a book, under an id of its own, to a file that is not there yet."""
    return amending.copy_book(_file(book), path, id=id, title=title)


def amend_clause(
    path: Path, clause: str, changes: Mapping[str, Written], *, since: str, source: str
) -> Comparison:
    """Let a clause of an own book say something else; returns what changed. Empty text takes a field out."""
    return amending.amend_clause(_file(str(path)), clause, changes, since=since, source=source)


def add_clause(path: Path, clause: str, *, name: str = "the clause", after: str | None = None) -> Comparison:
    """Add a clause, written as in a rule-book file, to an own book; returns what changed."""
    return amending.add_clause(_file(str(path)), clause, name=name, after=after)


def add_clause_file(path: Path, clause: Path, *, after: str | None = None) -> Comparison:
    """Add the clause that stands in a file of its own to an own book; returns what changed."""
    return add_clause(path, rules.read_text(clause), name=str(clause), after=after)


def take_away_clause(path: Path, clause: str) -> Comparison:
    """Take a clause out of an own book; returns what changed."""
    return amending.take_away_clause(_file(str(path)), clause)


def amend_head(path: Path, changes: Mapping[str, Written]) -> Comparison:
    """Let the head of an own book say something else, such as its title or dates; returns what changed."""
    return amending.amend_head(_file(str(path)), changes)


def book_document(book: RuleBook) -> dict[str, Any]:
    """``reviewer.rules/1``: the edition's clauses with value, date and source."""
    page = arranging.page(book)
    return {
        "format": "reviewer.rules/1",
        "id": book.id,
        "sha256": book.sha256,
        "title": book.title,
        "division": book.division,
        "apparatus": book.apparatus,
        "season": book.season,
        "effective": {"from": book.effective[0], "until": book.effective[1]},
        "cautions": list(book.cautions),
        "rests_on": page.rests_on,
        "chapters": [{"title": chapter.title, "clauses": list(chapter.clauses)} for chapter in page.chapters],
        "clauses": [_said(one) for one in page.clauses],
        "elements": [
            {"code": one.code, "name": one.name, "status": one.status, "clause": one.clause}
            for one in book.elements
        ],
        "faults": [
            {
                "code": one.code,
                "name": one.name,
                "amounts": [str(amount) for amount in one.amounts],
                "scope": one.scope,
                "clause": one.clause,
            }
            for one in book.faults
        ],
    }


def _said(said: Said) -> dict[str, Any]:
    one, open_ = said.clause, said.reading
    return {
        "id": one.id,
        "title": one.title,
        "rule": one.rule,
        "value": one.value,
        "words": list(said.words),
        "since": one.since,
        "source": str(one.source),
        "left_open": open_ and {"question": open_.question, "stated": open_.stated, "other": open_.other},
        "examples": list(said.examples),
    }


def comparison_document(found: Comparison) -> dict[str, Any]:
    """``reviewer.rules-compare/1``: head, clauses added, taken away and changed, each field old and new."""
    return {
        "format": "reviewer.rules-compare/1",
        "before": {"id": found.before.id, "sha256": found.before.sha256},
        "after": {"id": found.after.id, "sha256": found.after.sha256},
        "same": found.same,
        "head": [_change(one) for one in found.head],
        "added": [_clause(one) for one in found.added],
        "taken_away": [_clause(one) for one in found.taken_away],
        "changed": [
            {
                "id": one.after.id,
                "title": one.after.title,
                "values_changed": one.values,
                "changes": [_change(change) for change in one.changes],
            }
            for one in found.changed
        ],
        "moved": list(found.moved),
    }


def _change(one: Change) -> dict[str, Any]:
    return {"field": one.field, "before": one.before, "after": one.after, "kind": one.kind}


def _clause(one: Clause) -> dict[str, Any]:
    return {
        "id": one.id,
        "title": one.title,
        "value": one.value,
        "since": one.since,
        "source": str(one.source),
    }


def _file(name: str) -> Path:
    if Path(name).is_dir():
        what = message("This is a folder, not a rule-book file.")
        raise rules.RuleBookError(Problem("folder", name, what, message("Name the file in it.")))
    return rules.find(name)
