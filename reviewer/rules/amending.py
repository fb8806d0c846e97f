"""A rule book copied and amended: the file is changed only where asked, and only to a sound book.

Each function reads the file, changes its text, checks the whole book again and only then puts it in place.
When anything is wrong nothing is written and RuleBookError carries every problem.
"""

import re
import textwrap
from collections.abc import Callable, Mapping
from pathlib import Path

import yaml

from reviewer.rules import splicing
from reviewer.rules.book import RuleBookError, load, parse, problems_in, read_text
from reviewer.rules.comparing import Comparison, compare
from reviewer.rules.placing import CLAUSES, find_clause, inserted, list_of_clauses, one_clause
from reviewer.rules.shelves import shipped
from reviewer.rules.splicing import Entry, NoPlaceError, Written
from reviewer.rules.writing import write_new, write_over
from reviewer.terms.messages import message
from reviewer.terms.problems import NOTHING_WRITTEN, Problem
from reviewer.terms.rulebook import RuleBook

_FIELD = re.compile(r"[A-Za-z0-9]+(?:[.-][A-Za-z0-9]+)*")
_OWN_BOOK = Path(__file__).parent / "own-book.yaml"


def new_book(path: Path) -> RuleBook:
    """Write the commented start of an own book to a file that is not there yet."""
    text = _OWN_BOOK.read_text(encoding="utf-8")
    book = parse(text, str(path))
    write_new(path, text)
    return book


def copy_book(original: Path, path: Path, *, id: str, title: str | None = None) -> Comparison:
    """Write a copy under an id of its own to a file that is not there yet."""
    before = load(original)
    if id == before.id or id in {edition.stem for edition in shipped()}:
        what = message(
            "A rule book of the id {book} is there already; two books must not share one.", book=repr(id)
        )
        raise RuleBookError(Problem("id-taken", str(path), what, message("Give the copy an id of its own.")))
    changes = {"id": id} if title is None else {"id": id, "title": title}
    after = _sound(_put_all(before.text, changes, str(path)), path)
    write_new(path, after.text)
    return compare(before, after)


def amend_clause(
    path: Path, clause: str, changes: Mapping[str, Written], *, since: str, source: str, keep: bool = True
) -> Comparison:
    """Let a clause say something else, from a date and by a source.

    ``changes``: field to its new text or list, empty to take the field out; a field inside another is named
    with dots, such as ``elements.glide.earns``. Without ``keep`` nothing is written.
    """
    dated = {**changes, "since": since, "source": source}
    touched = {clause, str(changes.get("id", clause))}
    return _amend(path, lambda text: _amended_clause(text, clause, dated, path), touched, keep)


def mend_clause(
    path: Path, clause: str, changes: Mapping[str, Written], *, since: str, source: str, keep: bool = True
) -> tuple[Problem, ...]:
    """The same in a book that is not sound yet: no problem may be added; returns those that are left."""
    dated = {**changes, "since": since, "source": source}
    return _mend(path, lambda text: _amended_clause(text, clause, dated, path), keep)


def add_clause(path: Path, clause: str, *, name: str = "the clause", after: str | None = None) -> Comparison:
    """Add a clause, written as in a rule-book file, after the clause ``after`` or the last of its kind.

    ``name`` stands for the clause's text in problems.
    """
    fields = one_clause(clause, name)
    added = str(getattr(fields.values.get("id"), "value", "")).strip()
    rule = str(getattr(fields.values.get("rule"), "value", "")).strip()
    return _amend(path, lambda text: inserted(text, clause, rule, after, path), {added})


def repeat_clause(path: Path, clause: str, id: str) -> Comparison:
    """Add a clause that says what one of the book says, after it, under an id of its own.

    Where the clause has a code of its own, such as a fault's, the last word of the id becomes that; examples
    stay with the first.
    """
    text = read_text(path)
    found = find_clause(splicing.entries(text, list_of_clauses(text)), clause, path)
    said = textwrap.dedent(_alone(text, found))
    fields = {one.name: one.value.value for one in splicing.entries(said, splicing.composed(said))}
    changes = {"id": id} | ({"examples": ""} if "examples" in fields else {})
    if fields["rule"] in fields:
        changes[str(fields["rule"])] = id.rpartition(".")[2]
    return add_clause(path, _put_all(said, changes, f"{path}: clause {id}"), after=clause)


def take_away_clause(path: Path, clause: str) -> Comparison:
    """Take a clause out of the book; what other clauses say of it must go first."""

    def change(text: str) -> str:
        clauses = list_of_clauses(text)
        find_clause(splicing.entries(text, clauses), clause, path)
        return splicing.take_out(text, clauses, clause)

    return _amend(path, change, {clause})


def amend_head(path: Path, changes: Mapping[str, Written], *, keep: bool = True) -> Comparison:
    """Let the head say something else: title, season, dates, cautions, names of roles and conditions."""
    _check_head(path, changes)
    return _amend(path, lambda text: _put_all(text, changes, f"{path}: head"), set(), keep)


def mend_head(path: Path, changes: Mapping[str, Written], *, keep: bool = True) -> tuple[Problem, ...]:
    """The same in a book that is not sound yet: no problem may be added; returns those that are left."""
    _check_head(path, changes)
    return _mend(path, lambda text: _put_all(text, changes, f"{path}: head"), keep)


def put_back(path: Path, text: str, *, instead_of: str) -> None:
    """Let a book's file hold a text it held before, unless somebody else has written to it since."""
    if read_text(path) != instead_of:
        what = message("The file was changed elsewhere since. It stays as it is.")
        raise RuleBookError(Problem("changed-elsewhere", str(path), what, message("Read it again.")))
    write_over(path, text)


def _check_head(path: Path, changes: Mapping[str, Written]) -> None:
    for field in changes:
        if field.partition(".")[0] in (CLAUSES, "format"):
            what = message("{field} is not amended as part of the head.", field=repr(field))
            raise RuleBookError(
                Problem("not-head", str(path), what, message("Amend, add or remove a clause by its id."))
            )


def _amended_clause(text: str, clause: str, changes: Mapping[str, Written], path: Path) -> str:
    where = f"{path}: clause {clause}"
    found = find_clause(splicing.entries(text, list_of_clauses(text)), clause, path)
    return _in_clause(text, found, lambda said: _put_all(said, changes, where))


def _amend(path: Path, change: Callable[[str], str], clauses: set[str], keep: bool = True) -> Comparison:
    before = load(path)
    _refuse_shipped(path)
    after = _sound(change(before.text), path)
    found = compare(before, after)
    _check_reach(found, clauses, path)
    if keep:
        write_over(path, after.text)
    return found


def _mend(path: Path, change: Callable[[str], str], keep: bool) -> tuple[Problem, ...]:
    _refuse_shipped(path)
    before = read_text(path)
    after = change(before)
    old = {(one.code, one.message) for one in problems_in(before, str(path))}
    left = problems_in(after, str(path))
    new = tuple(one for one in left if (one.code, one.message) not in old)
    if new:
        clauses = splicing.entries(after, list_of_clauses(after))
        raise RuleBookError(tuple(_placed(one, after, clauses, path) for one in new))
    if keep:
        write_over(path, after)
    return left


def _refuse_shipped(path: Path) -> None:
    if path.resolve() in {edition.resolve() for edition in shipped()}:
        what = message("This edition travels with the program and is never amended.")
        remedy = message(
            "Copy it and amend the copy: reviewer rules copy {book} my-book.yaml --id my-book.",
            book=path.stem,
        )
        raise RuleBookError(Problem("shipped", str(path), what, remedy))


def _sound(text: str, path: Path) -> RuleBook:
    """The amended book, or its problems, each placed at a clause: the line is of a file nobody sees."""
    try:
        return parse(text, str(path))
    except RuleBookError as error:
        try:
            clauses = splicing.entries(text, list_of_clauses(text))
        except yaml.YAMLError:
            clauses = ()
        found = (_placed(problem, text, clauses, path) for problem in error.problems)
        raise RuleBookError(tuple(found)) from None


def _placed(problem: Problem, text: str, clauses: tuple[Entry, ...], path: Path) -> Problem:
    line = problem.where.rpartition(":")[2]
    within = [one for one in clauses if line.isdigit() and text.count("\n", 0, one.start) < int(line)]
    head = f"{path}: head" if clauses else str(path)
    where = f"{path}: clause {within[-1].name or len(within)}" if within else head
    remedy = problem.remedy
    if problem.code == "unknown-field" and within:
        fields = (one.name for one in splicing.entries(text, within[-1].value))
        known = ", ".join(field for field in fields if repr(field) not in str(problem.message))
        remedy = message("{remedy} The clause has {fields}.", remedy=remedy, fields=known)
    return Problem(problem.code, where, message(NOTHING_WRITTEN, said=problem.message), remedy)


def _check_reach(found: Comparison, clauses: set[str], path: Path) -> None:
    """Refuse when anything but the named clauses changed: how the file is written leads the change astray."""
    touched = {one.id for one in (*found.added, *found.taken_away)} | {one.after.id for one in found.changed}
    if touched - clauses or (clauses and found.head) or found.moved:
        what = message(
            "The way this file is written would let the change reach other clauses. Nothing was written."
        )
        raise RuleBookError(
            Problem("astray", str(path), what, message("Make this change in the file itself."))
        )


def _put_all(text: str, changes: Mapping[str, Written], where: str) -> str:
    _check_writable(changes, where)
    for field, value in changes.items():
        try:
            text = splicing.put(text, field, value)
        except NoPlaceError as error:
            what = (
                message("There is no field {name} in {field}.", name=repr(error.name), field=repr(field))
                if error.name != field
                else message("There is no field {field}.", field=repr(field))
            )
            known = ", ".join(filter(None, error.known))
            has = message("It has {fields}.", fields=known) if known else message("It has no fields.")
            raise RuleBookError(Problem("unknown-field", where, what, has)) from None
    return text


def _check_writable(changes: Mapping[str, Written], where: str) -> None:
    problems = []
    for field, value in changes.items():
        if not _FIELD.fullmatch(field):
            what = message("{field} cannot be the name of a field.", field=repr(field))
            problems.append(Problem("bad-field", where, what, message("Write letters, digits, '-' and '.'.")))
        if any(map(splicing.unprintable, [value] if isinstance(value, str) else value)):
            what = message("{field} would hold a character that no text can.", field=repr(field))
            problems.append(
                Problem("not-text", where, what, message("Type it again without control characters."))
            )
    if problems:
        raise RuleBookError(problems)


def _in_clause(text: str, found: Entry, change: Callable[[str], str]) -> str:
    """The text with one clause changed; the clause is handed over alone, at its own margin."""
    start, column, end = _span(text, found)
    changed = change(_alone(text, found))
    return text[:start] + changed[column:] + text[end:]


def _alone(text: str, found: Entry) -> str:
    """The text of one clause at its own margin."""
    start, column, end = _span(text, found)
    return " " * column + text[start:end]


def _span(text: str, found: Entry) -> tuple[int, int, int]:
    """Where a clause begins, at which column, and where it ends."""
    node = found.value
    start, column = (node.start_mark.index, node.start_mark.column) if node.start_mark else (0, 0)
    end = found.end if splicing.in_brackets(node) else splicing.whole_lines(text, start, found.end)[1]
    return start, column, end
