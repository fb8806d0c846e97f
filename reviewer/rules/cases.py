"""Rule cases from YAML: in files of their own, or as examples in the clauses of a book."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path

from reviewer.rules.book import RuleBookError, read_text
from reviewer.rules.casemarks import read_marks
from reviewer.rules.record import Record
from reviewer.rules.tree import Fields, Items, Text, Tree, read_tree
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.measures import Measure
from reviewer.terms.messages import message
from reviewer.terms.posted import PostedRow
from reviewer.terms.problems import Problem
from reviewer.terms.rulebook import OTHER, RuleBook
from reviewer.terms.rulecases import Expected, InquiryAsked, PanelAsked, RuleCase

_FORMAT = "reviewer.rule-cases/1"
_NOUGHT = Points(0)
_ASKS = ("panel", "inquiry", "rows")


def read_cases(path: Path, book: RuleBook) -> tuple[RuleCase, ...]:
    """The cases of a file, for this book; RuleBookError with every problem."""
    problems: list[Problem] = []
    tree = read_tree(read_text(path), str(path), problems)
    if not isinstance(tree, Fields):
        problems.append(
            Problem(
                "no-fields",
                f"{path}:1",
                message("These are no rule cases."),
                message("Begin with 'format:'."),
            )
        )
        raise RuleBookError(problems)
    record = Record(str(path), tree, problems)
    record.choice("format", (_FORMAT,))
    if record.text("rule-book") not in ("", book.id):
        said = message("These are cases of another book, not of {book}.", book=repr(book.id))
        record.wrong("other-book", said, message("Name the book they belong to."), record.line("rule-book"))
    routines = _routines(record)
    cases = tuple(_case(one, book, routines) for one in record.records("cases"))
    record.finish()
    return _sound(cases, problems)


def examples(book: RuleBook, name: str) -> tuple[RuleCase, ...]:
    """The examples in a book's clauses, each about its clause; ``name`` stands for the file in problems."""
    problems: list[Problem] = []
    tree = read_tree(book.text, name, problems)
    record = Record(name, tree if isinstance(tree, Fields) else Fields({}, {}, 1), problems)
    routines = _routines(record)
    found = []
    for clause in record.records("clauses"):
        for one in clause.records("examples") if clause.has("examples") else ():
            found.append(replace(_case(one, book, routines), about=(clause.text("id"),)))
    return _sound(tuple(found), problems)


def _sound(cases: tuple[RuleCase, ...], problems: list[Problem]) -> tuple[RuleCase, ...]:
    if problems:
        raise RuleBookError(problems)
    return cases


def _routines(record: Record) -> Mapping[str, tuple[Fields, ...]]:
    if not record.has("routines"):
        return {}
    inner = record.inner("routines")
    return {name: tuple(one.fields for one in inner.records(name)) for name in inner.fields.values}


def _case(record: Record, book: RuleBook, routines: Mapping[str, tuple[Fields, ...]]) -> RuleCase:
    name, about = record.text("name"), record.codes("about", needed=False)
    for clause in about:
        if all(clause != one.id for one in book.clauses):
            record.wrong(
                "unknown-clause",
                message("The book has no clause {clause}.", clause=repr(clause)),
                message("Mend the id."),
                record.line("about"),
            )
    chosen = tuple(_chosen(record, book)) if record.has("choose") else ()
    asked = [key for key in _ASKS if record.has(key)]
    marks = () if asked else _marks(record, book, routines)
    case = RuleCase(
        name=name,
        where=f"{record.name}:{record.fields.line}",
        about=about,
        chosen=chosen,
        marks=marks,
        panel=_panel(record.inner("panel")) if "panel" in asked else None,
        inquiry=_inquiry(record.inner("inquiry")) if "inquiry" in asked else None,
        rows=tuple(_row(one) for one in record.records("rows")) if "rows" in asked else None,
        expected={key: _plain(value) for key, value in record.inner("expect").fields.values.items()},
    )
    if len(asked) > 1 or not case.expected:
        record.wrong(
            "bad-value", message("A case asks one thing and expects something."), message("Keep one of them.")
        )
    record.finish()
    return case


def _chosen(record: Record, book: RuleBook) -> Iterator[str]:
    open_ = {one.clause for one in book.interpretations}
    inner = record.inner("choose")
    for clause in inner.fields.values:
        if clause not in open_:
            inner.wrong(
                "not-open",
                message("{clause} leaves nothing open.", clause=repr(clause)),
                message("Choose among those that do."),
            )
        elif inner.choice(clause, ("stated", OTHER)) == OTHER:
            yield clause


def _marks(record: Record, book: RuleBook, routines: Mapping[str, tuple[Fields, ...]]) -> tuple[Mark, ...]:
    begun: tuple[Fields, ...] = ()
    if record.has("routine"):
        name = record.text("routine")
        begun = routines.get(name, ())
        if name not in routines:
            record.wrong(
                "unknown-routine",
                message("No routine is called {name}.", name=repr(name)),
                message("Mend the name."),
            )
    gone = record.codes("leave-out", needed=False)
    added = tuple(one.fields for one in record.records("marks")) if record.has("marks") else ()
    changes = record.inner("change").fields if record.has("change") else Fields({}, {}, record.fields.line)
    return read_marks(record, (*begun, *added), gone, changes, book)


def _panel(record: Record) -> PanelAsked:
    inner = record.inner("scores")
    scores = {judge: _points(inner, judge) for judge in inner.fields.values}
    asked = PanelAsked(
        scores=scores,
        neutral=_points(record, "neutral") if record.has("neutral") else _NOUGHT,
        difficulty=_points(record, "difficulty") if record.has("difficulty") else _NOUGHT,
        reference=_points(record, "reference") if record.has("reference") else None,
    )
    record.finish()
    return asked


def _inquiry(record: Record) -> InquiryAsked:
    asked = InquiryAsked(
        asked_by=record.text("asked-by"),
        about=record.text("about"),
        after=record.measure("after", Measure.time, "64 seconds"),
        recording=record.flag("recording", "yes", "no"),
        result=record.text("result") if record.has("result") else None,
    )
    record.finish()
    return asked


def _row(record: Record) -> PostedRow:
    row = PostedRow(
        difficulty=_points(record, "difficulty") if record.has("difficulty") else _NOUGHT,
        marks=(),
        execution=_points(record, "execution"),
        penalty=_points(record, "penalty") if record.has("penalty") else _NOUGHT,
    )
    record.finish()
    return row


def _points(record: Record, key: str) -> Points:
    """Points without their unit, as a judge writes them in a case."""
    text = record.text(key)
    try:
        return Points.parse(text)
    except ValueError:
        record.wrong(
            "bad-value",
            message("{key}: {text} is no amount.", key=repr(key), text=repr(text)),
            message("Write such as 0.100."),
            record.line(key),
        )
        return _NOUGHT


def _plain(tree: Tree) -> Expected:
    if isinstance(tree, Text):
        return tree.value.strip()
    if isinstance(tree, Items):
        return tuple(_plain(one) for one in tree.values)
    return {key: _plain(value) for key, value in tree.values.items()}
