"""A rule-book file to a checked `RuleBook`, or every problem it has, each with file and line."""

import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path

from reviewer.rules.arranging import open_readings
from reviewer.rules.clauses import NEEDED, ONCE, READERS
from reviewer.rules.contradictions import check_contradictions
from reviewer.rules.record import Record
from reviewer.rules.references import check_references
from reviewer.rules.tree import MOST_BYTES, Fields, Items, Text, Tree, read_tree
from reviewer.rules.upgrading import FORMATS, upgrade
from reviewer.terms.messages import Message, message, reason
from reviewer.terms.problems import Problem, ReviewerError
from reviewer.terms.rulebook import Clause, Interpretation, Named, Provision, RuleBook

_COMMON = ("id", "title", "rule", "since", "source", "left-open", "examples")
MOST_OPEN = 12
"""Clauses of one book that may leave a reading open: more could not be reckoned through."""


class RuleBookError(ReviewerError):
    """A rule-book file that cannot be used; carries all of its problems."""


def load(path: Path) -> RuleBook:
    """The checked book of a file, read anew where its text changed; RuleBookError with every problem."""
    return parse(read_text(path), str(path))


def read_text(path: Path) -> str:
    """A rule-book file's text; RuleBookError where it cannot be read as such."""
    try:
        with path.open("rb") as file:
            return file.read(MOST_BYTES + 1).decode("utf-8")
    except OSError as error:
        raise RuleBookError(
            Problem(
                "unreadable",
                str(path),
                message("The file cannot be read: {reason}.", reason=reason(error)),
                message("Name a rule-book file."),
            )
        ) from None
    except UnicodeDecodeError:
        raise RuleBookError(
            Problem(
                "not-text", str(path), message("The file is not UTF-8 text."), message("Save it as UTF-8.")
            )
        ) from None


def check(path: Path) -> tuple[Problem, ...]:
    """Every problem of a file; empty when it is sound."""
    try:
        text = read_text(path)
    except RuleBookError as error:
        return error.problems
    return problems_in(text, str(path))


def problems_in(text: str, name: str) -> tuple[Problem, ...]:
    """Every problem of a file's text; empty when it is sound."""
    try:
        parse(text, name)
    except RuleBookError as error:
        return error.problems
    return ()


def parse(text: str, name: str) -> RuleBook:
    """The checked book of a file's text, `name` standing for the file in problems; else RuleBookError.

    Many cases hold one edition, and a book cannot change: those that were sound are kept.
    """
    known = _kept.get(text)
    if known is None:
        known = parse_anew(text, name)
        if len(_kept) >= _MOST:
            _kept.clear()
        _kept[text] = known
    return known


_MOST = 16
_kept: dict[str, RuleBook] = {}
"""Books by their text."""


def parse_anew(text: str, name: str) -> RuleBook:
    """The same, whatever was read before."""
    problems: list[Problem] = []
    tree = read_tree(text, name, problems)
    if tree is not None and not isinstance(tree, Fields):
        problems.append(
            Problem(
                "no-fields", f"{name}:1", message("This is no rule book."), message("Begin with 'format:'.")
            )
        )
    if not isinstance(tree, Fields):
        raise RuleBookError(problems)
    return from_tree(tree, text, name, problems)


def from_tree(tree: Fields, text: str, name: str, problems: list[Problem]) -> RuleBook:
    """The checked book of a file already read; else RuleBookError with these problems and its own."""
    book = _book(Record(name, upgrade(tree), problems), _plain_clauses(tree), text)
    if problems or book is None:
        raise RuleBookError(sorted(dict.fromkeys(problems), key=_line))
    return book


def _line(problem: Problem) -> int:
    line = problem.where.rpartition(":")[2]
    return int(line) if line.isdigit() else 0


@dataclass(frozen=True, slots=True)
class _Said:
    """One clause as read: what it is, what it provides, and what it leaves open."""

    clause: Clause
    provides: tuple[Provision, ...]
    left_open: tuple[Interpretation, ...]


def _book(record: Record, plain: Sequence[object], text: str) -> RuleBook | None:
    record.choice("format", FORMATS)
    title, division = record.text("title"), record.text("division")
    apparatus, season = record.text("apparatus"), record.text("season")
    code, cautions, effective = record.code("id"), record.texts("cautions"), _effective(record)
    roles = tuple(Named(code, name) for code, name in record.names("roles"))
    conditions = tuple(Named(code, name) for code, name in record.names("conditions"))
    read = tuple(_said(*one) for one in zip(record.records("clauses"), plain, strict=False))
    record.has("routines")
    record.finish()
    book = RuleBook(
        id=code,
        sha256=sha256(text.encode()).hexdigest(),
        text=text,
        effective=effective,
        cautions=cautions,
        roles=roles,
        conditions=conditions,
        clauses=tuple(one.clause for one in read),
        as_stated=tuple(part for one in read for part in one.provides),
        interpretations=tuple(one for said in read for one in said.left_open),
        title=title,
        division=division,
        apparatus=apparatus,
        season=season,
    )
    _check_counts(record, book)
    _check_dates(record, book)
    check_references(record, book)
    check_contradictions(record, book)
    return None if record.problems else replace(book, interpretations=open_readings(book))


def _effective(record: Record) -> tuple[str, str | None]:
    inner = record.inner("effective")
    first = inner.day("from") if inner.fields.values else ""
    last = inner.day("until") if inner.has("until") else None
    inner.finish()
    if last is not None and last < first:
        inner.wrong(
            "bad-value", message("The book ends before it begins."), message("Mend 'from' or 'until'.")
        )
    return first, last


def _said(record: Record, plain: object) -> _Said:
    rule = record.choice("rule", tuple(READERS))
    clause = Clause(
        id=record.code("id"),
        title=record.text("title"),
        rule=rule,
        value=words(record.fields, _COMMON),
        since=record.day("since"),
        source=record.source(),
        line=record.fields.line,
        data=json.dumps(plain, sort_keys=True, ensure_ascii=False, separators=(",", ":")),
    )
    known = record.fields.values.get("rule")
    if not isinstance(known, Text) or known.value.strip() not in READERS:
        return _Said(clause, (), ())
    open_ = record.inner("left-open") if record.has("left-open") else None
    record.has("examples")
    provides = tuple(READERS[rule](record, clause.id))
    record.finish()
    return _Said(clause, provides, () if open_ is None else _interpretation(record, open_, clause))


def _interpretation(record: Record, open_: Record, clause: Clause) -> tuple[Interpretation, ...]:
    """What a clause provides in its other reading: its own fields, replaced by those left open."""
    question = open_.text("question")
    other = {key: value for key, value in open_.fields.values.items() if key != "question"}
    if not other:
        open_.wrong(
            "missing-field",
            message("The other reading says nothing."),
            message("Write the field that would differ."),
        )
    for key in set(other) & set(_COMMON):
        open_.wrong(
            "bad-value",
            message("{key} is not open to reading.", key=repr(key)),
            message("Take it out."),
            open_.line(key),
        )
    fields = Fields(record.fields.values | other, record.fields.lines | open_.fields.lines, open_.fields.line)
    again = Record(record.name, fields, record.problems)
    for key in _COMMON:
        again.has(key)
    provides = tuple(READERS[clause.rule](again, clause.id))
    again.finish()
    return (
        Interpretation(
            clause=clause.id,
            question=question,
            stated=Message(""),
            other=Message(""),
            provides=provides,
        ),
    )


def _check_counts(record: Record, book: RuleBook) -> None:
    for rule, kind in ONCE.items():
        found = book.all(kind)
        if not found and rule in NEEDED:
            remedy, line = message("Add one."), record.line("clauses")
            record.wrong(
                "missing-rule", message("No clause states the rule {rule}.", rule=repr(rule)), remedy, line
            )
        for second in found[1:]:
            said = message(
                "The rule {rule} is stated again by {clause}: two answers to one question.",
                rule=repr(rule),
                clause=repr(second.clause),
            )
            record.wrong("stated-twice", said, message("Keep one of the two."), record.line("clauses"))


def _check_dates(record: Record, book: RuleBook) -> None:
    last = book.effective[1]
    for one in book.clauses if last else ():
        if one.since > (last or ""):
            said = message(
                "{clause} holds from {since}, after the book's last day {last}.",
                clause=repr(one.id),
                since=one.since,
                last=last,
            )
            record.wrong("bad-value", said, message("Mend 'since' or 'until'."), one.line)
    if len(book.interpretations) > MOST_OPEN:
        said = message(
            "{count} clauses leave a reading open; {most} can be followed up.",
            count=len(book.interpretations),
            most=MOST_OPEN,
        )
        record.wrong("too-many-open", said, message("Settle some of them."), record.line("clauses"))


def _plain_clauses(tree: Fields) -> tuple[object, ...]:
    """The clauses as the file says them, whatever its version."""
    clauses = tree.values.get("clauses")
    values = clauses.values if isinstance(clauses, Items) else ()
    return tuple(_plain(one) for one in values if isinstance(one, Fields))


def _plain(tree: Tree) -> object:
    if isinstance(tree, Text):
        return tree.value
    if isinstance(tree, Items):
        return [_plain(item) for item in tree.values]
    return {key: _plain(value) for key, value in tree.values.items()}


def words(fields: Fields, without: Sequence[str]) -> str:
    """What fields say, for people: ``takes 0.500 points; role mount``."""
    said = (f"{key} {_said_in(value)}" for key, value in fields.values.items() if key not in without)
    return "; ".join(said)


def _said_in(tree: Tree) -> str:
    if isinstance(tree, Text):
        return tree.value
    if isinstance(tree, Items):
        return ", ".join(_said_in(item) for item in tree.values) or "none"
    return _said_in(tree.values["code"]) if "code" in tree.values else words(tree, ())
